"""The search index cut into slices, so that a page of a large library loads only what a query looks at.

A slice is a classic script of its own, since browsers refuse to fetch from ``file://``.  A small index is one slice
that comes with the head.  What is found is the same as in the whole index: ``templates/scripts/src/search.js``
searches, ``templates/scripts/src/found.js`` loads.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import groupby

from handouts.site.search_index import SearchIndex
from handouts.templating.templates import safe_json

SLICE_CHARACTERS = 24_000
"""Most characters of a slice of several words: about 5 kB on the way to the browser."""
SUMMED = "*"
"""Behind the beginning of words whose hits are added up in the index: no slice is read for more than one beginning.
Sorts before every letter and digit."""
WHOLE_WORD = 2
"""A whole word counts this many times what its beginning counts; the same in ``search.js``."""

Hits = Mapping[int, int]
"""The weight of each exercise that holds a word."""
Row = tuple[str, Hits]
"""A word, or a beginning with ``SUMMED``, and its hits."""
Sized = tuple[int, Row]
"""A row with the characters that it takes in its script."""


@dataclass(frozen=True, slots=True)
class SearchSlice:
    """Some neighbouring words."""

    start: str
    """Where it begins: a word that is not before it, and before the next one's start, is looked for here."""
    rows: tuple[Row, ...]

    def as_script(self) -> str:
        """The classic script that hands the slice to the page."""
        value = {"terms": [term for term, _ in self.rows], "hits": [pack_hits(hits) for _, hits in self.rows]}
        return f"(globalThis.handoutsSlices ??= {{}})[{safe_json(self.start)}] = {safe_json(value)};\n"


def pack_hits(hits: Hits) -> list[int]:
    """Each weight as a negative number, behind it its exercises: the first, then the step to each next one."""
    packed = []
    for weight in sorted(set(hits.values()), reverse=True):
        packed.append(-weight)
        before = 0
        for exercise in sorted(each for each, own in hits.items() if own == weight):
            packed.append(exercise - before)
            before = exercise
    return packed


def cut_index(index: SearchIndex, most: int = SLICE_CHARACTERS) -> tuple[SearchSlice, ...]:
    """The index in slices of at most ``most`` characters where words can be parted; one, from ``""`` on, for all of a small one."""
    rows = [(term, dict(zip(hits[::2], hits[1::2], strict=True))) for term, hits in zip(index.terms, index.hits, strict=True)]
    sized = [(_size(row), row) for row in rows]
    slices, room = list[SearchSlice](), 0
    for start, sized_unit in _units("", sized, most):
        size, unit = sum(each for each, _ in sized_unit), [row for _, row in sized_unit]
        if slices and size <= room:
            slices[-1] = SearchSlice(slices[-1].start, (*slices[-1].rows, *unit))
            room -= size
        else:
            slices.append(SearchSlice(start, tuple(unit)))
            room = most - size
    return tuple(slices)


def _units(start: str, rows: Sequence[Sized], most: int) -> Iterator[tuple[str, Sequence[Sized]]]:
    """What must stand in one slice, by where it begins: all words of a beginning, or their sum where they are too many."""
    if len(rows) == 1 or sum(size for size, _ in rows) <= most:
        yield start, rows
        return
    if start:
        total = (start + SUMMED, _add_up(start, (row for _, row in rows)))
        yield start, [(_size(total), total)]
    longer = (each for each in rows if each[1][0] != start)
    for next_start, inside in groupby(longer, key=lambda each: each[1][0][: len(start) + 1]):
        yield from _units(next_start, list(inside), most)


def _add_up(start: str, rows: Iterable[Row]) -> Hits:
    """What the beginning of a word finds: of each exercise the best word, the whole word for twice its weight."""
    best: dict[int, int] = {}
    for term, hits in rows:
        times = WHOLE_WORD if term == start else 1
        for exercise, weight in hits.items():
            best[exercise] = max(best.get(exercise, 0), weight * times)
    return best


def _size(row: Row) -> int:
    """Characters of a row in its script."""
    packed = pack_hits(row[1])
    return len(row[0]) + 4 + len(str(packed)) - max(0, len(packed) - 1)


def words_script(index: SearchIndex) -> str:
    """The classic script that hands over every word: loaded where a word that is typed finds nothing, for words like it."""
    return f"globalThis.handoutsTerms = {safe_json(' '.join(index.terms))}.split(\" \");\n"


def head_script(index: SearchIndex, slices: Sequence[SearchSlice], files: Sequence[str], words: str = "") -> str:
    """The classic script that every page with a search loads: where each slice begins and its path; an only slice itself.

    ``words`` is the path of all words, where they are in several slices.
    """
    value = {
        "languages": index.languages,
        "passed": index.passed,
        "signs": index.signs,
        "starts": [each.start for each in slices],
        "files": list(files),
        "words": words,
    }
    only = "" if files else "".join(each.as_script() for each in slices)
    return f"globalThis.handoutsIndex = {safe_json(value)};\n{only}"

"""The search index of one language: which word stands in which exercise, and how much it counts there.

An exercise is its place in the order of the page.  ``search_slices.py`` writes it for the browser; the searching
itself is ``templates/scripts/src/search.js``.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from handouts.calling import Call, call_now
from handouts.markup import plain_text
from handouts.model import Exercise, Library
from handouts.site.folding import forms_of, split_words

TITLE, ALSO_CALLED, SOURCE_TITLE, REGION, PLACED, TOLD = 12, 9, 6, 5, 3, 1
"""What a word counts by where it stands: in the title, in another name, in the name in the library's own
language, as a region, as position, purpose, equipment, tier or programme, in the texts."""


@dataclass(frozen=True, slots=True)
class SearchIndex:
    """Sorted words, and for each the exercises that hold it."""

    languages: tuple[str, ...]
    """Of the words in it: the page's own, and the library's where it is another one."""
    terms: tuple[str, ...]
    """Sorted by UTF-16 code unit, as JavaScript compares."""
    hits: tuple[tuple[int, ...], ...]
    """For each term: exercise, weight, exercise, weight …, an exercise as its place in the order of the page."""


def build_search_index(
    library: Library, exercises: Sequence[Exercise], source: Library, call: Call = call_now
) -> SearchIndex:
    """The index over ``exercises`` in their order; ``source`` is the library in its own language.

    A clinician who gives a sheet in another language still finds it by the name that they know.  ``call`` finds the
    words of each exercise.
    """
    found: dict[str, dict[int, int]] = {}
    for at, exercise in enumerate(exercises):
        for form, weight in call(find_words, tuple(_texts(library, exercise, source))).items():
            found.setdefault(form, {})[at] = weight
    terms = tuple(sorted(found, key=lambda term: term.encode("utf-16-be")))
    hits = tuple(tuple(number for pair in sorted(found[term].items()) for number in pair) for term in terms)
    return SearchIndex(
        tuple(dict.fromkeys((library.language, source.language))),
        terms,
        hits,
    )


def find_words(texts: tuple[tuple[int, str, str], ...]) -> dict[str, int]:
    """Every word that finds an exercise with the most that it counts."""
    found: dict[str, int] = {}
    for weight, language, text in texts:
        for word in split_words(plain_text(text)):
            for form in forms_of(word, language):
                found[form] = max(weight, found.get(form, 0))
    return found


def _texts(library: Library, exercise: Exercise, source: Library) -> Iterable[tuple[int, str, str]]:
    """Every searchable text of an exercise, with its weight and its language."""
    own = library.language
    yield TITLE, own, exercise.title.text
    yield from ((ALSO_CALLED, own, words.text) for words in exercise.also_called)
    yield from _closed_lists(library, exercise)
    yield from ((TOLD, own, words.text) for words in (exercise.why, *exercise.cues))
    yield TOLD, own, exercise.code
    original = source.exercise.get(exercise.slug)
    if original is not None and source.language != own:
        names = (original.title, *original.also_called)
        yield from ((SOURCE_TITLE, source.language, words.text) for words in names)
        yield from _closed_lists(source, original)


def _closed_lists(library: Library, exercise: Exercise) -> Iterable[tuple[int, str, str]]:
    """The names of region, position, purpose, tier, equipment and programmes in one language."""
    language, term = library.language, library.term
    yield from ((REGION, language, term["regions"][ref.slug].name.text) for ref in exercise.regions)
    yield PLACED, language, library.position[exercise.position.slug].name.text
    yield PLACED, language, term["purposes"][exercise.purpose.slug].name.text
    yield PLACED, language, library.tier[exercise.tier.slug].name.text
    yield from ((PLACED, language, term["equipment"][ref.slug].name.text) for ref in exercise.equipment)
    yield from ((PLACED, language, each.title.text) for each in library.programmes_of.get(exercise.slug, ()))

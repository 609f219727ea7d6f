"""Searching: the index that the build makes, whole or in slices, searched by the script that the page runs."""

from __future__ import annotations

import json
import random
from collections.abc import Iterable, Sequence
from dataclasses import replace
from functools import cache
from typing import Any

import pytest

from handouts.library.read import read_library
from handouts.model import Library
from handouts.site.context import Edition
from handouts.site.folding import forms_of, split_words
from handouts.site.search_index import SearchIndex, build_search_index
from handouts.site.search_slices import SLICE_CHARACTERS, SearchSlice, cut_index, head_script, pack_hits, words_script
from handouts.source.files import read_folder
from handouts.words.wording import Wording
from tests.bench.library import make_library
from tests.builders import a_library, an_exercise, pseudo_library, words
from tests.scripts.node import ask_script
from tests.site.making import ROOT, Drawings, asset_sources, lay_out_site


def search_whole(index: SearchIndex, slices: Sequence[SearchSlice], queries: Iterable[str]) -> list[dict[str, Any] | None]:
    """All that each query finds with no other slices than it asks for; None where it has no word."""
    head = head_script(index, slices, [f"{at}.js" for at in range(len(slices))], "words.js" if len(slices) > 1 else "")
    scripts = [each.as_script() for each in slices]
    found: list[dict[str, Any] | None] = ask_script("found", {"head": head, "words": words_script(index), "scripts": scripts, "queries": list(queries)})
    return found


def search_in(index: SearchIndex, slices: Sequence[SearchSlice], queries: Iterable[str]) -> list[list[int] | None]:
    """The exercises that fit each query; None where it has no word."""
    return [None if each is None else each["fitting"] for each in search_whole(index, slices, queries)]


def found(library: Library, *queries: str, source: Library | None = None, among: str = "fitting") -> list[list[str] | None]:
    """The slugs that each query finds, best first; None where a query has no word."""
    index = build_search_index(library, library.exercises, source or library)
    items = (*library.exercises, *library.programmes, *library.bundles, *library.all_standalones)
    return [each if each is None else [items[at].slug for at in each[among]] for each in search_whole(index, cut_index(index), queries)]


def distance(one: str, other: str) -> int:
    """Letters that differ: one more, one less, another one, or two neighbours that changed places (optimal alignment)."""
    rows = [[max(row, column) if 0 in (row, column) else 0 for column in range(len(other) + 1)] for row in range(len(one) + 1)]
    for row in range(1, len(one) + 1):
        for column in range(1, len(other) + 1):
            same = one[row - 1] == other[column - 1]
            rows[row][column] = min(rows[row - 1][column] + 1, rows[row][column - 1] + 1, rows[row - 1][column - 1] + (not same))
            if row > 1 and column > 1 and one[row - 1] == other[column - 2] and one[row - 2] == other[column - 1]:
                rows[row][column] = min(rows[row][column], rows[row - 2][column - 2] + 1)
    return rows[-1][-1]


def whole_search(index: SearchIndex, query: str) -> list[int] | None:
    """The exercises that fit, as ``search_all`` says."""
    all_ = search_all(index, query)
    return None if all_ is None else all_[0]


def search_all(index: SearchIndex, query: str) -> tuple[list[int], list[int], list[str], list[str]] | None:
    """What the whole index says, word after word, without any slice: what every cut must say too.

    What fits, else what is close; the words that find nothing, and those for which others were taken.
    """
    words = list(dict.fromkeys(split_words(query[:200], for_query=True)))
    asked = [word for word in words if word not in index.passed] or words
    totals: list[dict[int, int]] = []
    unknown, replaced = [], []
    for word in asked:
        forms = list(dict.fromkeys(form for language in index.languages for form in forms_of(word, language)))
        scores = _scores(index, forms)
        scores = {exercise: score + as_typed.get(exercise, 0) / 128 for exercise, score in scores.items()} if (as_typed := _scores(index, [word])) else scores
        if not scores:
            alike = next((some for form in forms if len(form) >= 4 and (some := [term for term in index.terms if abs(len(term) - len(form)) < 2 and distance(term, form) == 1])), [])
            scores = _scores(index, alike)
            (replaced if scores else unknown).append(word)
        totals.append(scores)
    if not totals:
        return None
    held = {exercise: [total[exercise] for total in totals if exercise in total] for total in totals for exercise in total}
    ranked = sorted(held, key=lambda exercise: (-len(held[exercise]), -sum(held[exercise]), exercise))
    fitting = [exercise for exercise in ranked if len(held[exercise]) == len(totals)]
    return fitting, [] if fitting else ranked, unknown, replaced


def _scores(index: SearchIndex, beginnings: Iterable[str]) -> dict[int, int]:
    best: dict[int, int] = {}
    for term, hits in zip(index.terms, index.hits, strict=True):
        if factor := max((2 if term == each else 1 for each in beginnings if term.startswith(each)), default=0):
            for exercise, weight in zip(hits[::2], hits[1::2], strict=True):
                best[exercise] = max(best.get(exercise, 0), weight * factor)
    return best


Answer = tuple[list[int], list[int], list[str], list[str]]


def same(query: str, got: dict[str, Any] | None, expected: Answer | None) -> None:
    """The script says of a query what the whole index says."""
    assert (got is None) is (expected is None), query
    if got is not None:
        assert (got["fitting"], got["close"], got["unknown"], got["replaced"]) == expected, query


def test_steps_finds_the_step_up_first() -> None:
    """A plural finds the singular; titles come before other places."""
    assert found(a_library(), "steps")[0] == ["step-up", "step-down"]


@pytest.mark.parametrize(
    ("query", "expected"),
    [
        ("STEP up", ["step-up"]),
        ("up step", ["step-up"]),
        ("ste do", ["step-down"]),
        ("hip lift", ["bridge"]),
        ("ankles", ["heel-raise"]),
        ("mat", ["bridge"]),
        ("step nothing-like-it", []),
        ("  - ", None),
        ("constructor", []),
        ("__proto__", []),
        ("x" * 5_000, []),
    ],
)
def test_queries(query: str, expected: list[str] | None) -> None:
    """Every word must begin a word of the exercise, in any order."""
    assert found(a_library(), query)[0] == expected


def test_title_counts_more_than_another_name() -> None:
    """The same word ranks by where it stands."""
    library = a_library(an_exercise("first", also_called=("squat",)), an_exercise("second", title="Squat"),
                        an_exercise("third", why="A squat in daily life."))
    assert found(library, "squat")[0] == ["second", "first", "third"]


def test_other_language_also_finds_the_source_title() -> None:
    """A clinician finds the Spanish sheet by its English name, and by Spanish words without accents."""
    source = a_library(an_exercise("step-up"))
    spanish = a_library(replace(source.exercises[0], title=words("Subir un escalón")), language="es")
    assert found(spanish, "escalon", "steps", "SUBIR", "knees subir", source=source) == [["step-up"]] * 4


@cache
def generated() -> Library:
    """A generated library in the demo's own language."""
    library, _ = read_library(make_library(120, 1), "library")
    assert library is not None
    return library


def demo(language: str) -> tuple[Library, Library]:
    """The demo in a language made up of its own words, or as it is; and as it is."""
    files, _ = read_folder(ROOT / "content", "content")
    library, _ = read_library(files, "content")
    assert library is not None
    other = pseudo_library(library, language) if language != library.language else library
    assert other is not None
    return other, library


def queries_of(index: SearchIndex) -> list[str]:
    """Every beginning of every word that stands in many exercises, of some others, and words side by side."""
    rng = random.Random(7)
    often = [term for term, hits in zip(index.terms, index.hits, strict=True) if len(hits) > 40]
    picked = {*often, *rng.sample(index.terms, min(40, len(index.terms)))}
    beginnings = sorted({term[:end] for term in picked for end in range(1, len(term) + 1)})
    pairs = [f"{rng.choice(beginnings)} {rng.choice(beginnings)}" for _ in range(80)]
    beyond = [f"{term}{rng.choice('aesz9')}" for term in rng.sample(beginnings, 60)]
    return [*beginnings, *pairs, *beyond, "", " - ", "0", "zzz", "*", "s*", "\U0002f801"]


def test_slices_find_what_the_whole_index_finds() -> None:
    """Every query finds the same in the same order, however small the slices are."""
    library = generated()
    index = build_search_index(library, library.exercises, library)
    answers = {query: search_all(index, query) for query in queries_of(index)}
    for most in (60, 5_000, SLICE_CHARACTERS):
        slices = cut_index(index, most)
        assert len(slices) > 1
        for (query, expected), got in zip(answers.items(), search_whole(index, slices, answers), strict=True):
            same(query, got, expected)


@pytest.mark.parametrize("language", ["en", "ar-XB"])
def test_slices_of_the_demo(language: str) -> None:
    """The demo in one slice, as it is built, and in many find the same; other languages hold the source's names too."""
    library, source = demo(language)
    index = build_search_index(library, library.exercises, source)
    answers = {query: search_all(index, query) for query in queries_of(index)}
    for slices in (cut_index(index), cut_index(index, 700)):
        for (query, expected), got in zip(answers.items(), search_whole(index, slices, answers), strict=True):
            same(query, got, expected)


def test_scripts_without_spaces_are_cut_too() -> None:
    """Pairs of characters, those of two code units among them, are found in any cut."""
    exercises = [an_exercise(f"e{at}", title=title, also_called=("𠀋𠀌脚",)) for at, title in enumerate(("抬脚跟", "抬起脚", "𠀋抬", "弓步"))]
    library = replace(a_library(*exercises, language="zh-Hans"), language="zh-Hans")
    index = build_search_index(library, library.exercises, library)
    queries = ["抬", "抬脚", "脚", "脚跟", "𠀋", "𠀋𠀌", "𠀌", "步", "弓步", "跟 抬", "𠀋抬 脚"]
    got = search_in(index, cut_index(index, 40), queries)
    assert got == [whole_search(index, query) for query in queries]
    assert got[0] == [2, 0, 1]  # alone it is a word of its own


def test_a_slice_is_small_where_words_can_be_parted() -> None:
    """No slice is larger than what is allowed but one of a single row; a query of one word asks for two at most."""
    library = generated()
    index = build_search_index(library, library.exercises, library)
    for slice_ in cut_index(index, 2_000):
        assert len(slice_.rows) == 1 or len(slice_.as_script()) < 2_200
    starts = [each.start for each in cut_index(index, 2_000)]
    assert starts == sorted(set(starts), key=lambda start: start.encode("utf-16-be"))


def test_hits_are_packed_by_weight_as_steps() -> None:
    """The weights from the highest; behind each the first exercise and the steps to the next."""
    assert pack_hits({7: 1, 3: 12, 4: 12, 9: 12, 0: 1}) == [-12, 3, 1, 5, -1, 0, 7]


def test_a_site_names_its_slices() -> None:
    """The head of a large index names every slice that is in the site; a small index is the head alone."""
    for library, is_small in ((a_library(), True), (generated(), False)):
        wordings = {library.language: Wording(library.language)}
        files = lay_out_site([library], wordings, Drawings(), asset_sources(), Edition(version="v1"))
        heads = [data.decode() for path, data in files.items() if path.startswith("assets/search.en.")]
        index = json.loads(heads[0].split("\n")[0].removeprefix("globalThis.handoutsIndex = ").rstrip(";"))
        assert len(heads) == 1
        assert index["files"] == [path for path in files if path.startswith("assets/search-slice.en.")]
        assert ("handoutsSlices" in heads[0]) is is_small is not bool(index["files"])


def test_script_holds_no_closing_tag_and_no_line_separator() -> None:
    """Texts that would end a script or a line in old readers are written as escapes, and come back whole."""
    index = SearchIndex(("en",), ("</script>\u2028",), ((0, 12),))
    slices = cut_index(index)
    for script in (slices[0].as_script(), head_script(index, [replace(slices[0], start="\u2029<")], [])):
        assert "<" not in script and "\u2028" not in script and "\u2029" not in script
    assert json.loads(slices[0].as_script().split(" = ", 1)[1].rstrip(";\n"))["terms"] == ["</script>\u2028"]

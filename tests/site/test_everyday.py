"""What people type finds what they mean: sixty everyday queries of the demo, and what a search says beside what it finds."""

from __future__ import annotations

from functools import cache
from typing import Any

import pytest

from handouts.model import Library
from handouts.site.list_pages import order_exercises
from handouts.site.search_index import SearchIndex, build_search_index
from handouts.site.search_slices import cut_index
from tests.site.everyday import AMONG, EVERYDAY
from tests.site.test_search import search_whole
from tests.site.test_views import a_setting
from tests.words.demo import libraries


@cache
def indexed(language: str) -> tuple[SearchIndex, tuple[str, ...]]:
    """The index of the demo in a language, and the slugs of what it counts."""
    library, source = libraries()[language], libraries()["en"]
    exercises = [each for _, inside in order_exercises(a_setting(library, (source, library))) for each in inside]
    slugs = tuple(item.slug for item in (*exercises, *library.programmes, *library.bundles, *library.all_standalones))
    return build_search_index(library, exercises, source), slugs


def ask(language: str, *queries: str) -> list[dict[str, Any]]:
    """What each query finds, with slugs in place of places."""
    index, slugs = indexed(language)
    found = []
    for each in search_whole(index, cut_index(index), queries):
        assert each is not None
        found.append(each | {name: [slugs[at] for at in each[name]] for name in ("fitting", "close")})
    return found


def regions(library: Library, slug: str) -> set[str]:
    """The parts of the body of an exercise."""
    return {ref.slug for ref in library.exercise[slug].regions}


@pytest.mark.parametrize("language", EVERYDAY)
def test_everyday_queries(language: str) -> None:
    """Each finds its exercise among the first three; twenty in each language."""
    queries = EVERYDAY[language]
    assert len(queries) == len(set(queries)) == 20
    got = ask(language, *(query for query, _ in queries))
    missed = {query: found["fitting"][:AMONG] for (query, slug), found in zip(queries, got, strict=True) if slug not in found["fitting"][:AMONG]}
    assert missed == {}


@pytest.mark.parametrize(("language", "query", "slug"), [
    ("en", "flare", "when-it-flares-up"), ("en", "sleep", "sleep-with-a-sore-shoulder"), ("en", "chair stand", "chair-stand"), ("en", "teach bridge", "teach-the-bridge"),
    ("es", "dormir", "sleep-with-a-sore-shoulder"), ("es", "sleep", "sleep-with-a-sore-shoulder"), ("ar", "النوم", "sleep-with-a-sore-shoulder"),
])  # fmt: skip
def test_what_holds_no_exercise_is_found(language: str, query: str, slug: str) -> None:
    """Advice, tests and lessons are found by their names, in the page's language and in the library's own."""
    assert slug in ask(language, query)[0]["fitting"]


@pytest.mark.parametrize(("query", "slug"), [("running", "walk-and-run"), ("jog", "walk-and-run"), ("jump", "soft-landing"), ("hop", "one-leg-hop-on-the-spot"), ("core", "side-plank")])
def test_running_and_hopping(query: str, slug: str) -> None:
    """The words of people who want to run find where it begins."""
    assert slug in ask("en", query)[0]["fitting"][:AMONG]


@pytest.mark.parametrize(("language", "query", "region"), [
    ("en", "knee", "knee"), ("en", "knees", "knee"), ("en", "shoulder", "shoulder"), ("en", "calf", "calf"),
    ("es", "rodilla", "knee"), ("es", "hombro", "shoulder"), ("ar", "الركبة", "knee"), ("ar", "كتف", "shoulder"),
])  # fmt: skip
def test_a_body_part_comes_before_a_word_in_a_title(language: str, query: str, region: str) -> None:
    """No exercise for another part of the body stands before one for this part, whatever their titles say."""
    library = libraries()[language]
    [found] = ask(language, query)
    is_for = [any(each.startswith(region) for each in regions(library, slug)) for slug in found["fitting"] if slug in library.exercise]
    assert any(is_for) and is_for == sorted(is_for, reverse=True)


def test_one_wrong_letter_is_forgiven_and_told() -> None:
    """One more, one less, another one, two that changed places; not two letters, and not a word of three."""
    for wrong in ("brigde", "bidge", "brridge", "bridfe", "nridge"):
        [found] = ask("en", wrong)
        assert (found["fitting"][0], found["replaced"], found["unknown"]) == ("bridge", [wrong], []), wrong
    for wrong in ("brgde", "xax"):
        [found] = ask("en", wrong)
        assert (found["fitting"], found["unknown"]) == ([], [wrong]), wrong


def test_close_matches_only_where_nothing_fits() -> None:
    """A word that nothing has leaves the others; those with the most words come first; what fits has no close matches."""
    fits, lost, none = ask("en", "calf stretch", "calf stretch xyzzy", "xyzzy")
    assert (fits["close"], lost["fitting"], lost["unknown"]) == ([], [], ["xyzzy"])
    assert lost["close"][: len(fits["fitting"])] == fits["fitting"]
    assert len(lost["close"]) > len(fits["fitting"])
    assert (none["fitting"], none["close"]) == ([], [])


def test_words_that_say_nothing_are_passed_over() -> None:
    """They narrow nothing beside others; alone they are words like any other."""
    plain, with_others, alone = ask("en", "hip", "my hip is sore and it hurts", "pain")
    assert with_others["fitting"] == plain["fitting"]
    assert with_others["unknown"] == []
    assert alone["fitting"] != plain["fitting"]


@pytest.mark.parametrize(("language", "query", "is_sign"), [
    ("en", "chest pain", True), ("en", "pain in my chest", True), ("en", "dizzy", True), ("en", "chest", False), ("en", "knee pain", False),
    ("es", "dolor en el pecho", True), ("es", "dolor de pecho", True), ("es", "mareos", True), ("es", "dolor de rodilla", False),
    ("ar", "ألم في الصدر", True), ("ar", "دوخة", True), ("ar", "ألم الركبة", False),
])  # fmt: skip
def test_a_sign_at_which_to_stop_is_known(language: str, query: str, is_sign: bool) -> None:
    """All words of a sign, in any order and form, among others."""
    assert ask(language, query)[0]["isSign"] is is_sign


def test_programmes_and_bundles_are_found() -> None:
    """By title and by whom they are for, behind no exercise that is asked for by its name."""
    [title] = ask("en", "steady on stairs")
    [people] = ask("en", "weak knees over 60")
    assert "steady-on-stairs" in title["fitting"]
    assert people["fitting"] == ["steady-on-stairs", "stairs-first-two-weeks"]

"""The gates: what is not whole in a language is not published in it, and is named."""

from __future__ import annotations

import pytest

from handouts.model import Library
from handouts.problems import Place, show_problem
from handouts.words.catalogue import Catalogue
from handouts.words.gates import Gates
from handouts.words.messages import collect_messages
from handouts.words.reviews import Reviews
from handouts.words.state import LanguageState
from handouts.words.translate import Translation, source_translation, translate_library
from tests.builders import pseudo_library
from tests.small_library import TEXTS, small_library, texts_with
from tests.words.sample import STOP, change_one, reviewed, translated, turn

SHOW = ("grace days: 90}", "grace days: 90, unreviewed translations: show}")


def shown_library(*edits: tuple[str, str]) -> Library:
    """The small library of a clinic that shows unreviewed translations."""
    return small_library(texts_with("clinic.yaml", SHOW, *edits))


def translation(catalogue: Catalogue | None = None, library: Library | None = None, reviews: Reviews | None = None) -> Translation:
    """The small library in Spanish."""
    source = library or shown_library()
    return translate_library(source, catalogue or translated(source), reviews)


def published(made: Translation) -> dict[str, list[str]]:
    """The slugs that are published."""
    assert made.library is not None
    library = made.library
    return {
        "exercises": [item.slug for item in library.exercises],
        "programmes": [item.slug for item in library.programmes],
        "bundles": [item.slug for item in library.bundles],
    }


EVERYTHING = {"exercises": ["foot-lift", "leg-lift"], "programmes": ["stand-up"], "bundles": ["first-days"]}


def test_whole_library() -> None:
    """Every text is another one, and nothing is missing."""
    made = translation()
    assert made.library is not None
    assert (made.library.language, published(made), made.gaps, made.problems) == ("es", EVERYTHING, (), ())
    source = [message.text for message in collect_messages(shown_library())]
    assert [message.text for message in collect_messages(made.library)] == [turn(text).replace("sTOP", STOP["es"]) for text in source]


def test_translated_text_knows_its_catalogue() -> None:
    """A problem in a translated text points into the catalogue."""
    made = translation(change_one(translated(shown_library()), "exercise/A222/title", place=replace_place()))
    assert made.library is not None
    assert str(made.library.exercise["foot-lift"].title.place) == "content/words/es.po:42:1"


def replace_place() -> Place:
    """A place in a catalogue."""
    return Place("content/words/es.po", 42, 1)


@pytest.mark.parametrize(
    ("context", "changes", "reason"),
    [
        ("exercise/A222/mend", {"text": ""}, "exercise/A222: 1 missing"),
        ("exercise/A222/cue", {"fuzzy": True}, "exercise/A222: 1 fuzzy"),
        ("exercise/A222/cue", {"fuzzy": True, "previous": "Sit up."}, "exercise/A222: 1 stale"),
        ("exercise/A222/ready-when", {"text": "3 series de 15."}, "exercise/A222: 1 faulty"),
    ],
)
def test_exercise_with_a_gap(context: str, changes: dict[str, object], reason: str) -> None:
    """One unusable text: the exercise is not published, its programme and bundle say what they lack."""
    made = translation(change_one(translated(shown_library()), context, **changes))  # type: ignore[arg-type]
    assert published(made) == {**EVERYTHING, "exercises": ["leg-lift"]}
    assert made.library is not None
    assert made.left_out == {"programmes/stand-up": ("foot-lift",), "bundles/first-days": ("foot-lift",)}
    assert [(gap.kind, gap.slug, gap.because) for gap in made.gaps] == [
        ("exercise", "foot-lift", (reason,)),
        ("programme", "stand-up", ("left out: foot-lift",)),
        ("bundle", "first-days", ("left out: foot-lift",)),
    ]
    # nothing points at what is not there
    assert made.library.exercise["leg-lift"].after == ()
    assert [ref.slug for tier in made.library.programmes[0].tiers for ref in tier.exercises] == ["leg-lift"]
    assert [pick.exercise.slug for pick in made.library.bundles[0].picks] == ["leg-lift"]


def test_caution_never_falls_back() -> None:
    """A stop rule that is not translated takes every exercise with it."""
    made = translation(change_one(translated(shown_library()), "caution/stop-pain/do", ""))
    assert published(made) == {"exercises": [], "programmes": [], "bundles": []}
    assert [show_problem(problem) for problem in made.problems if "Foot lift" in problem.what] == [
        "content/exercises/foot-lift.md:2:1: notice: the exercise 'Foot lift' is not published in 'es' "
        "(caution/stop-pain: 1 missing). Collect, then translate and review it in words/es.po. [not-in-language]"
    ]


def test_word_of_a_list() -> None:
    """An exercise whose position has no word in the language is not published; the others are."""
    library = small_library({**texts_with("clinic.yaml", SHOW), "exercises/leg-lift.md": TEXTS["exercises/leg-lift.md"].replace("position: sitting", "position: standing")})
    made = translation(change_one(translated(library), "positions/standing/name", ""), library)
    assert published(made)["exercises"] == ["foot-lift"]
    assert made.library is not None
    assert [item.slug for item in made.library.vocabulary.positions] == ["sitting"]


@pytest.mark.parametrize("context", ["clinic/emergency", "clinic/pain-rule", "tier/live/name"])
def test_no_language_without_its_frame(context: str) -> None:
    """Without the clinic's own texts or the tiers nothing is published in the language."""
    made = translation(change_one(translated(shown_library()), context, ""))
    assert made.library is None
    assert [(gap.kind, gap.slug) for gap in made.gaps] == [("language", "es")]


def test_programme_without_its_own_text() -> None:
    """A programme is not published without its own texts; its exercises are."""
    made = translation(change_one(translated(shown_library()), "programme/P222/goal", ""))
    assert published(made) == {**EVERYTHING, "programmes": []}


def test_unreviewed_is_held_back() -> None:
    """Where the clinic holds back, only what was reviewed is published."""
    library = small_library()
    catalogue = translated(library)
    assert translate_library(library, catalogue).library is None
    reviews = reviewed(library, catalogue)
    assert published(translate_library(library, catalogue, reviews)) == EVERYTHING
    without = {owner: item for owner, item in reviews.items() if owner != "exercise/A222"}
    made = translate_library(library, catalogue, without)
    assert published(made)["exercises"] == ["leg-lift"]
    assert made.gaps[0].because == ("exercise/A222: not reviewed",)


def test_unreviewed_is_marked() -> None:
    """Where the clinic shows, the pages that nobody reviewed are named; a review takes the mark away."""
    library = shown_library()
    catalogue = translated(library)
    assert translate_library(library, catalogue).unreviewed == {
        "exercises/foot-lift", "exercises/leg-lift", "programmes/stand-up", "bundles/first-days",
    }
    reviews = reviewed(library, catalogue)
    assert translate_library(library, catalogue, reviews).unreviewed == frozenset()
    without = {owner: item for owner, item in reviews.items() if owner != "exercise/B222"}
    assert translate_library(library, catalogue, without).unreviewed == {
        "exercises/leg-lift", "programmes/stand-up", "bundles/first-days",
    }


def test_stop_rules_need_a_reviewer() -> None:
    """A real clinic may show unreviewed texts, but never an unreviewed caution or emergency text."""
    library = shown_library(("invented: yes\n", ""))
    catalogue = translated(library)
    assert translate_library(library, catalogue).library is None
    safe = {owner: item for owner, item in reviewed(library, catalogue).items() if owner in ("clinic", "caution/stop-pain")}
    made = translate_library(library, catalogue, safe)
    assert published(made)["exercises"] == ["foot-lift", "leg-lift"]
    assert made.unreviewed >= {"exercises/foot-lift"}
    assert [gap.slug for gap in made.gaps] == ["go-slow"]


def test_change_of_the_source_reopens_the_review() -> None:
    """A changed translation or source is no longer what was reviewed."""
    library = small_library()
    catalogue = translated(library)
    reviews = reviewed(library, catalogue)
    changed = change_one(catalogue, "exercise/A222/cue", "Otra cosa.")
    made = translate_library(library, changed, reviews)
    assert [gap.because for gap in made.gaps if gap.kind == "exercise"] == [("exercise/A222: review reopened",)]


def test_source_language_is_whole() -> None:
    """The source language passes unchanged."""
    library = small_library()
    assert source_translation(library) == Translation(library)


def test_pseudo_languages() -> None:
    """Every text is changed, numbers are not, and the library still holds together."""
    for language in ("en-XA", "ar-XB"):
        made = pseudo_library(small_library(), language)
        assert made.language == language
        before = collect_messages(small_library())
        after = collect_messages(made)
        assert all(old.text != new.text for old, new in zip(before, after, strict=True))
        pain = str(made.clinic.pain_rule)
        assert "3" in pain
        assert "10" in pain


def test_what_nobody_looked_at_is_not_published() -> None:
    """Texts of which no state is known are held back, never taken as whole."""
    library = small_library()
    gates = Gates(library, LanguageState("es", {}))
    assert gates.reasons(("cautions/no-such",)) == ("cautions/no-such: unknown",)
    assert not gates.has("cautions/no-such")
    assert {slug for slug, reasons in gates.exercise_reasons.items() if not reasons} == set()

"""The lines of a programme's steps: names, conditions, and the label over ``ready when``."""

from __future__ import annotations

from dataclasses import replace

import pytest

from handouts.dose.progression import build_progression
from handouts.model import Bundle, Library, Pick, Programme, ProgrammeTier, Ref
from handouts.publication.steps import (
    alone,
    cautions_of_bundle,
    find_steps,
    in_bundle,
    in_programme,
    join_cues,
    label_ready,
    make_conditions,
    name_step,
    name_step_alone,
    name_step_in,
)
from handouts.words.wording import Wording
from tests.builders import PLACE, a_library, a_programme, a_review, an_exercise, refs, words

NEXT = {"en": "You are ready for the next exercise when", "es": "Puede pasar al siguiente ejercicio cuando"}
GOAL = {"en": "You have reached your goal when", "es": "Ha llegado a su meta cuando"}
DONE = {"en": "You do this exercise well when", "es": "Hace bien este ejercicio cuando"}


def stairs() -> Programme:
    """Three steps, each with a condition of its own."""
    rows = [("wake", "bridge"), ("build", "sit-to-stand"), ("live", "step-up")]
    tiers = (
        ProgrammeTier(place=PLACE, tier=Ref(tier, PLACE), enter_when=words(f"Condition of {tier}."), exercises=refs(slug))
        for tier, slug in rows
    )
    return replace(a_programme("stairs", []), tiers=tuple(tiers), goal=words("You climb stairs again."))


def a_bundle(*slugs: str, programme: str = "", tier: str = "", cautions: tuple[str, ...] = ()) -> Bundle:
    """A bundle of the library's own doses."""
    return Bundle(
        place=PLACE, slug="first", title=words("First"), suits=words("You."), weeks=2, review=a_review(),
        picks=tuple(Pick(place=PLACE, exercise=Ref(slug, PLACE)) for slug in slugs),
        programme=Ref(programme, PLACE) if programme else None, tier=Ref(tier, PLACE) if tier else None,
        cautions=refs(*cautions),
    )  # fmt: skip


def shown(language: str, rank: int) -> list[tuple[str, str]]:
    """The conditions of a step as labels and texts."""
    return [(each.label, each.words.text) for each in make_conditions(Wording(language), stairs(), rank)]


@pytest.mark.parametrize(
    ("language", "start", "second", "third", "goal"),
    [
        ("en", "Start this step when", "Go on to step 2 when", "Go on to step 3 when", "The goal of this program"),
        ("es", "Empiece este paso cuando", "Siga con el paso 2 cuando", "Siga con el paso 3 cuando", "La meta de este programa"),
        ("ar", "ابدأ هذه المرحلة عندما", "انتقل إلى المرحلة 2 عندما", "انتقل إلى المرحلة 3 عندما", "هدف هذا البرنامج"),
    ],
)  # fmt: skip
def test_every_step_has_its_own_condition_and_the_next_one_s(language: str, start: str, second: str, third: str, goal: str) -> None:
    """A step starts with its own condition; one goes on with that of the next, and from the last to the goal."""
    assert shown(language, 0) == [(start, "Condition of wake."), (second, "Condition of build.")]
    assert shown(language, 1) == [(start, "Condition of build."), (third, "Condition of live.")]
    assert shown(language, 2) == [(start, "Condition of live."), (goal, "You climb stairs again.")]


def test_a_step_is_named_with_its_number_in_the_programme() -> None:
    """The number counts from 1 in the programme shown, whatever the tier's place in the clinic's list."""
    library, wording = a_library(), Wording("en")
    short = a_programme("short", [("build", ["heel-raise"]), ("live", ["step-up"])])
    assert name_step(wording, library, stairs(), 1) == "Step 2: Build"
    assert name_step(wording, library, short, 0) == "Step 1: Build"
    assert name_step_in(wording, library, short, 1, "Short") == "Short, step 2: Live"
    assert name_step(Wording("fr"), library, short, 0) == "Étape 1 : Build"


def test_outside_a_programme_a_number_stands_only_where_all_programmes_agree() -> None:
    """One number, or none: an exercise may stand in several programmes, or in none."""
    wording = Wording("en")
    library = a_library(programmes=(stairs(),))
    exercise = library.exercise
    assert name_step_alone(wording, library, exercise["sit-to-stand"]) == "Step 2: Build"
    assert name_step_alone(wording, library, exercise["heel-raise"]) == ""  # in no programme
    short = a_programme("short", [("build", ["sit-to-stand"]), ("live", ["step-up"])])
    both = a_library(programmes=(stairs(), short))
    assert name_step_alone(wording, both, exercise["sit-to-stand"]) == ""  # step 2 of one, step 1 of the other
    again = a_library(programmes=(stairs(), replace(stairs(), slug="again")))
    assert name_step_alone(wording, again, exercise["sit-to-stand"]) == "Step 2: Build"
    names = [name for _, _, name in find_steps(wording, both)]
    assert names == ["Step 1: Wake", "Step 1: Build", "Step 2: Build", "Step 2: Live", "Step 3: Live"]


def label(library: Library, slug: str, where: str, language: str = "en", *, bundle: Bundle | None = None) -> str:
    """The label over an exercise's condition on its own page, in the programme or in a bundle."""
    around = {"alone": lambda known: alone(known, build_progression(known).opens[slug]), "programme": lambda known: in_programme(known, known.programmes[0])}
    found = in_bundle(library, bundle) if bundle else around[where](library)
    return label_ready(Wording(language), library.exercise[slug], found, build_progression(library).needs)


@pytest.mark.parametrize("language", ["en", "es"])
def test_ready_promises_only_what_is_there(language: str) -> None:
    """The next exercise where one builds on it; the goal only on the last step; else that it is done well."""
    library = a_library(programmes=(stairs(),))
    assert label(library, "bridge", "alone", language) == NEXT[language]
    assert label(library, "step-down", "alone", language) == DONE[language]  # nothing is after it, no programme is shown
    assert label(library, "bridge", "programme", language) == NEXT[language]
    assert label(library, "step-up", "programme", language) == GOAL[language]  # step-down is not in the programme
    early = a_programme("early", [("wake", ["bridge"]), ("build", ["heel-raise"]), ("live", ["step-down"])])
    lonely = a_library(*[replace(each, after=()) if each.slug == "step-down" else each for each in library.exercises], programmes=(early,))
    assert label(lonely, "heel-raise", "programme", language) == DONE[language]  # step 2 of 3, and nothing is after it here


def test_ready_in_the_last_step_with_an_exercise_after_it() -> None:
    """In the last step too an exercise of the programme may come after another one."""
    programme = a_programme("p", [("wake", ["bridge"]), ("live", ["step-up", "step-down"])])
    library = a_library(programmes=(programme,))
    assert label(library, "step-up", "programme") == NEXT["en"]
    assert label(library, "step-down", "programme") == GOAL["en"]


def test_ready_in_a_bundle() -> None:
    """A bundle without a programme knows its own exercises only; with one, those of the programme."""
    library = a_library(programmes=(stairs(),))
    free, bound = a_bundle("bridge", "step-up"), a_bundle("bridge", "step-up", programme="stairs")
    assert label(library, "bridge", "", bundle=free) == DONE["en"]
    assert label(library, "bridge", "", bundle=a_bundle("bridge", "sit-to-stand")) == NEXT["en"]
    assert label(library, "step-up", "", bundle=free) == DONE["en"]
    assert label(library, "bridge", "", bundle=bound) == NEXT["en"]
    assert label(library, "step-up", "", bundle=bound) == GOAL["en"]


def test_cautions_of_a_bundle() -> None:
    """Its own first, then its programme's of every kind, each once."""
    library = a_library(programmes=(replace(stairs(), cautions=refs("sharp-pain", "new-hip", "tired")),))
    bundle = a_bundle("bridge", programme="stairs", cautions=("faint", "new-hip"))
    assert [ref.slug for ref in cautions_of_bundle(library, bundle)] == ["faint", "new-hip", "sharp-pain", "tired"]
    assert cautions_of_bundle(library, a_bundle("bridge")) == ()


def test_a_condition_is_shown_also_where_the_step_has_no_exercise_left() -> None:
    """A tier that lost its exercises keeps its number and its condition."""
    programme = stairs()
    empty = replace(programme, tiers=(programme.tiers[0], replace(programme.tiers[1], exercises=()), programme.tiers[2]))
    library = a_library(an_exercise("bridge", tier="wake"), programmes=(empty,))
    assert [each.words.text for each in make_conditions(Wording("en"), empty, 0)] == ["Condition of wake.", "Condition of build."]
    assert name_step(Wording("en"), library, empty, 2) == "Step 3: Live"


def test_a_cue_of_the_programme_stands_once() -> None:
    """The exercise's own cues first; one that it has already is not said twice."""
    exercise = an_exercise("bridge", cues=("Push.", "Breathe out."))
    assert [cue.text for cue in join_cues(exercise, (words("Breathe out."), words("Look ahead.")))] == ["Push.", "Breathe out.", "Look ahead."]

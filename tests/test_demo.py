"""The demo library: what it promises, and facts of the trade that hold in it."""

from __future__ import annotations

import itertools
import re
from collections.abc import Mapping
from datetime import date
from functools import cache
from math import radians, sin
from pathlib import Path

import pytest

from handouts.dose.arithmetic import add_up, change_dose
from handouts.dose.progression import build_progression
from handouts.dose.stages import growths, stage_doses
from handouts.figure import compute_figure, joint_angles, read_figure
from handouts.ledger.read import read_ledger
from handouts.library.read import read_library
from handouts.library.texts import patient_sentences
from handouts.model import Exercise, Library, Side
from handouts.publication.scales import own_scale
from handouts.readability import score
from handouts.source.files import read_folder
from handouts.text.markup import plain_text

ROOT = Path(__file__).parents[1]


@cache
def demo() -> Library:
    """The demo library in English."""
    library, problems = read_library(read_folder(ROOT / "content", "content")[0])
    assert library is not None and problems == []
    return library


def test_size() -> None:
    """Four programmes of four tiers and, with hops and runs, of seven; at least 36 exercises, nine ready-made bundles, three locations."""
    library = demo()
    assert len(library.exercises) >= 36
    assert len(library.bundles) == 9
    assert len(library.clinic.locations) == 3
    assert [len(programme.tiers) for programme in library.programmes] == [4, 4, 7, 4]


def test_invented() -> None:
    """It is marked as invented, and its phone numbers are of the range kept for fiction (555-0100 to 555-0199)."""
    clinic = demo().clinic
    assert clinic.invented
    assert all(re.fullmatch(r"555-01\d\d", location.phone) for location in clinic.locations)
    assert clinic.site.split("/")[2].endswith(".example")  # RFC 2606


def test_english_reads_at_grade_six_or_lower() -> None:
    """Each exercise by the Flesch-Kincaid grade (Kincaid et al. 1975, Navy Research Branch Report 8-75)."""
    for exercise in demo().exercises:
        level = score("en", [plain_text(text.text) for text in patient_sentences(exercise)])
        assert level is not None and level.formula.startswith("Flesch-Kincaid")
        assert level.value <= 6, (exercise.slug, level.value)


def test_side_lying_strength_dose() -> None:
    """Three sets of 15 a side as a side-lying strength dose are 90 repetitions (common practice, no source)."""
    dose = demo().exercise["side-lying-leg-lift"].dose
    assert (dose.sets, dose.reps, dose.side) == (3, 15, Side.ONE_SIDE_FIRST)


def test_alternating_repetitions() -> None:
    """Ten alternating repetitions are five a side (common practice, no source)."""
    dose = demo().exercise["opposite-arm-and-leg-reach"].dose
    assert (dose.reps, dose.side) == (10, Side.ALTERNATING)


def test_two_legs_before_one_before_unstable() -> None:
    """The two-leg version comes before the one-leg version, and that before the same on an unstable surface (common practice, no source)."""
    before = build_progression(demo()).before
    assert "bridge" in before("one-leg-bridge")
    assert "one-leg-bridge" in before("one-leg-bridge-on-a-pillow")


def test_two_feet_before_one_and_hops_before_runs() -> None:
    """A landing comes before hops, two legs before one, hops before runs, flat ground before a hill (common practice, no source; the last: Trials 2023, table 1 of a protocol)."""
    before = build_progression(demo()).before
    ladder = ("soft-landing", "two-leg-hop", "one-leg-hop-on-the-spot", "walk-and-run", "hill-run")
    for first, then in itertools.pairwise(ladder):
        assert first in before(then)


def test_a_first_session_of_hops() -> None:
    """At most 100 landings (80 to 100 for beginners: texts on jump training, as others pass them on), never on two days in a row."""
    library = demo()
    (step,) = (tier for tier in library.programme["run-the-hill-path"].tiers if tier.tier.slug == "land")
    doses = [library.exercise[ref.slug].dose for ref in step.exercises]
    landings = [dose.sets * (dose.reps or 0) * (2 if dose.side is Side.BOTH else 1) for dose in doses]
    assert all(landings) and sum(landings) <= 100
    assert all(dose.rest_days >= 1 for dose in doses)


def test_runs_grow_by_a_quarter_a_week_at_most() -> None:
    """From 6 minutes of running in a session to 20 in eight weeks (clinic's choice: at most 25 % a week)."""
    library = demo()
    (bundle,) = (each for each in library.bundles if each.slug == "run-walk-and-run")
    (pick,) = bundle.picks
    doses = stage_doses(library.exercise["walk-and-run"].dose, pick.stages)
    minutes = [dose.sets * (dose.time_seconds or 0) / 60 for dose in doses]
    assert [each.week for each in pick.stages] == [2, 3, 4, 5, 6, 7, 8]
    assert (minutes[0], minutes[-1]) == (6, 20)
    assert all(1 < then / now <= 1.25 for now, then in itertools.pairwise(minutes))


def test_lifting_grows_by_a_quarter_a_week_at_most() -> None:
    """From 1 kg to 2 kg, and from 2 kg to 3 kg, in ten weeks (clinic's choice: at most 25 % a week); the weight grows only where repetitions fall; a day of rest between; pain the day after is asked for."""
    library = demo()
    (bundle,) = (each for each in library.bundles if each.slug == "shoulder-lift-and-carry")
    for pick, weights in zip(bundle.picks, ((1, 2), (2, 3)), strict=True):
        exercise = library.exercise[pick.exercise.slug]
        first = change_dose(exercise.dose, pick.change) if pick.change else exercise.dose
        doses = stage_doses(first, pick.stages)
        assert (doses[0].weight_kg, doses[-1].weight_kg) == weights
        assert all(growth <= 25 for growth in growths(first, pick.stages))
        for now, then in itertools.pairwise(doses):
            assert (then.reps or 0) < (now.reps or 0) if then.weight_kg != now.weight_kg else (then.reps or 0) > (now.reps or 0)
        assert first.rest_days == 1
        assert exercise.ready_measures is not None
        assert exercise.ready_measures.pain_next_day == 1


def test_effort_is_asked_on_the_scale_of_the_clinic() -> None:
    """The clinic names its own scale of effort with both its ends."""
    assert own_scale(demo().clinic) == "Effort scale: 0 is rest, 10 is all you have."


def test_floor_before_standing() -> None:
    """In the leg programme the first tier is done without standing, the last one standing only (common practice, no source)."""
    library = demo()
    (programme,) = (item for item in library.programmes if item.slug == "steady-on-stairs")
    levels = [
        {library.position[library.exercise[ref.slug].position.slug].level for ref in tier.exercises} for tier in programme.tiers
    ]
    assert "standing" not in levels[0]
    assert levels[-1] == {"standing"}


STATURE = 1.70
THIGH, SHANK = 0.245 * STATURE, 0.246 * STATURE
"""Metres: Winter 2009, figure 4.1."""


def angles_at_the_end(slug: str) -> Mapping[str, float]:
    """The joint angles of the second picture, degrees."""
    node = demo().exercise[slug].figure
    assert node is not None
    spec, problems = read_figure(node)
    assert spec is not None, problems
    return joint_angles(compute_figure(spec).motion)[-1]


def test_straight_leg_raise_height() -> None:
    """A straight-leg raise stops at the height of the other knee (common practice, no source): in its text and in its picture."""
    steps = " ".join(step.text for step in demo().exercise["straight-leg-raise"].steps)
    assert "as high as the other knee" in steps
    angles = angles_at_the_end("straight-leg-raise")
    heel = (THIGH + SHANK) * sin(radians(angles["hip.r.flex"]))
    knee = THIGH * sin(radians(angles["hip.l.flex"]))
    assert angles["knee.r.flex"] == pytest.approx(0, abs=5)
    assert heel == pytest.approx(knee, abs=0.08)  # the width of a hand


def test_side_lying_leg_lift_height() -> None:
    """The foot stays below a chair seat of 45 cm (common practice, no source): in its text and in its picture.

    The upper hip lies half the width between the hips (0.191 of stature at the outside) and half that between their centres over the mat.
    """
    steps = " ".join(step.text for step in demo().exercise["side-lying-leg-lift"].steps)
    assert "just below the height of a chair seat" in steps
    angles = angles_at_the_end("side-lying-leg-lift")
    hip = (0.191 / 2 + 0.052) * STATURE
    assert 0.35 < hip + (THIGH + SHANK) * sin(radians(angles["hip.r.abd"])) < 0.45


def test_hill_walk() -> None:
    """Half a mile is 804.7 m (a mile is 1,609.344 m: international yard and pound, 1959), and 30 minutes are a walk of a falls programme (Otago, at least twice a week)."""
    exercise = demo().exercise["hill-walk"]
    dose = exercise.dose
    assert "Half a mile is about 800 meters" in " ".join(item.text for section in exercise.sections for block in section.blocks for item in block.items)
    assert dose.distance_metres == pytest.approx(1609.344 / 2, rel=0.01)
    assert dose.days is not None and dose.days >= 2
    seconds = add_up(dose).seconds
    assert seconds is not None and seconds <= 30 * 60


def ready_to_go_on() -> list[Exercise]:
    """The exercises that say when a patient is ready for the next."""
    return [exercise for exercise in demo().exercises if exercise.ready_when]


@pytest.mark.parametrize("exercise", ready_to_go_on(), ids=lambda exercise: exercise.slug)
def test_readiness_is_more_than_the_dose(exercise: Exercise) -> None:
    """More than the target on two days: one or two repetitions over it (Progression models in resistance training, position stand, 2009, from memory); a hold alike (common practice, no source)."""
    assert exercise.ready_when is not None
    told, dose = re.sub(r"\d+ out of 10", "", exercise.ready_when.text), exercise.dose
    assert re.search(r"\btwo days in a row\b", told), told
    sets = [(int(count), int(reps)) for count, reps in re.findall(r"(\d+) sets of (\d+)", told)]
    if dose.reps:
        assert all(count == dose.sets and dose.reps < reps for count, reps in sets), told
        assert sets or str(dose.reps) not in re.findall(r"\d+", told), told  # or a measure of its own
    else:
        ((reached, unit),) = re.findall(r"(\d+) (second|minute)s?", told)
        assert int(reached) * {"second": 1, "minute": 60}[unit] > (dose.hold_seconds or dose.time_seconds or 0), told


def test_without_the_floor_needs_no_floor() -> None:
    """Whoever cannot get down to the floor needs nothing on it first: neither the bundle nor what its exercises build on."""
    library, progression = demo(), build_progression(demo())
    (bundle,) = (item for item in library.bundles if item.slug == "stairs-without-the-floor")
    needed = {slug for pick in bundle.picks for slug in (pick.exercise.slug, *progression.before(pick.exercise.slug))}
    assert {library.position[library.exercise[slug].position.slug].level for slug in needed} <= {"chair", "standing"}


def test_ledger_has_something_to_show() -> None:
    """Changed doses, a rename, a replacement and a withdrawal, all before today, the reason in every language of the demo."""
    ledger, problems = read_ledger((ROOT / "content/ledger.yaml").read_bytes(), "content/ledger.yaml")
    assert ledger is not None, problems
    assert sum("dose" in version.changed for entry in ledger.entries for version in entry.versions) >= 3
    assert any(len(entry.slugs) > 1 for entry in ledger.entries)
    assert {entry.kind for entry in ledger.entries if entry.replaced_by} == {"exercise", "bundle"}
    (gone,) = [entry for entry in ledger.entries if entry.withdrawn]
    assert gone.withdrawn is not None
    assert set(gone.withdrawn.translated) == set(gone.titles) == set(demo().clinic.languages.also)
    assert max(version.on for entry in ledger.entries for version in entry.versions) <= date.today()


def test_everything_has_a_true_easier_way() -> None:
    """Each exercise has a sentence or an exercise that asks for less; counted here without the rules of the program."""
    library = demo()
    progression = build_progression(library)
    ranks = {position.slug: position.rank for position in library.vocabulary.positions}
    assert None not in ranks.values()
    pairs = 0
    for exercise in library.exercises:
        assert progression.easier[exercise.slug], exercise.slug
        for option in progression.easier[exercise.slug]:
            assert option.change is not None, (exercise.slug, option)
            if not option.slug:
                continue
            pairs += 1
            easy = library.exercise[option.slug]
            assert easy.dose.effort and exercise.dose.effort, option
            assert easy.dose.effort.low <= exercise.dose.effort.low, option
            assert easy.dose.effort.low + easy.dose.effort.high < exercise.dose.effort.low + exercise.dose.effort.high, option
            assert (easy.dose.weight_kg or 0) <= (exercise.dose.weight_kg or 0), option
            assert ranks[easy.position.slug] <= ranks[exercise.position.slug], option  # type: ignore[operator]
            assert {ref.slug for ref in easy.equipment} <= {ref.slug for ref in exercise.equipment}, option
            assert easy.regions[0] in exercise.regions, option
    assert pairs == 11


def test_what_must_be_mastered_first_is_no_easier_one() -> None:
    """Pairs in which the program once offered the second as easier than the first, though it asks for as much or more."""
    easier = build_progression(demo()).easier
    for slug, other in (("hill-walk", "step-edge-heel-raise"), ("heel-to-toe-stand", "opposite-arm-and-leg-reach"), ("heel-to-toe-stand", "sit-to-stand"),
                        ("one-leg-stand", "counter-heel-raise"), ("step-down", "one-leg-bridge-on-a-pillow"), ("step-up", "standing-side-leg-lift")):
        assert other not in {option.slug for option in easier[slug]}

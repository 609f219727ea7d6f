"""An exercise carries the cautions that its movement asks for; one that lacks one is named, with both numbers."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import pytest

from handouts.limits import Finding, ShownMotion, check_limit_cautions, find_all
from handouts.model import Exercise, Library, Limit
from handouts.problems import Grade, show_problem
from tests.builders import PLACE, a_dose, a_library
from tests.limits.making import an_exercise, demo, demo_figures, motion, the_limit


def lacking(exercise: Exercise, shown: ShownMotion | None, *limits: Limit, library: Library | None = None) -> list[str]:
    """What an exercise lacks, as it is printed."""
    library = library or replace(a_library(exercise), limits=limits, vocabulary=demo().vocabulary)
    figures = {exercise.slug: shown} if shown else {}
    return [show_problem(each) for each in check_limit_cautions(library, figures, find_all(library, figures))]


def test_an_angle_with_both_numbers() -> None:
    """The limit, the angle that the figure reaches, the bound, the caution."""
    deep = an_exercise(slug="deep")
    (said,) = lacking(deep, motion({}, {"hip.r.flex": 105.2}), the_limit("hip-posterior"))
    assert said == (
        f"{deep.at('cautions')}: error: 'deep' may exceed the limit 'hip-posterior' (hip flexion of 105, at most 90 degrees) "
        "and lacks its caution 'new-hip'. Add 'new-hip' to its cautions, or mend the figure. [limit-caution]"
    )


@pytest.mark.parametrize(
    ("exercise", "shown", "limit", "what"),
    [
        (an_exercise(position="lying"), motion({}), "pregnancy-lying-16", "position 'lying'"),
        (an_exercise(("head-turn",)), motion({}), "vertigo", "demand 'head-turn'"),
        (an_exercise(dose=a_dose(weight_kg=6.0)), motion({}), "lumbar-fusion", "weight of 6, at most 4.5 kg"),
        (an_exercise(("open-chain-knee-extension",)), motion({"knee.r.flex": 20.0, "knee.l.flex": 60.0}), "acl-open-chain-fixed",
         "knee flexion of 20, at least 45 degrees"),
        (an_exercise(), motion({"trunk.flex": 30.0}), "thin-bones", None),
    ],
)  # fmt: skip
def test_other_kinds(exercise: Exercise, shown: ShownMotion, limit: str, what: str | None) -> None:
    """Positions, demands and weights; of an angle that counts with a demand only the angle is told."""
    found = lacking(exercise, shown, replace(the_limit(limit), default=True))
    assert [f"({what})" in line for line in found] == ([True] if what else [])


def test_what_asks_for_nothing() -> None:
    """The caution is there; the excess is slight; there is no figure; the limit is not in use, or names no caution."""
    limit, deep = the_limit("hip-posterior"), motion({}, {"hip.r.flex": 105.0})
    assert lacking(an_exercise(cautions=("stop-pain", "new-hip")), deep, limit) == []
    assert lacking(an_exercise(), motion({}, {"hip.r.flex": 95.0}), limit) == []
    assert lacking(an_exercise(), motion({}, {"hip.r.flex": 96.0}), limit) != []
    assert lacking(an_exercise(), None, limit) == []
    assert lacking(an_exercise(), deep, replace(limit, default=False)) == []
    assert lacking(an_exercise(), deep, replace(limit, caution=None)) == []


def test_one_caution_is_asked_for_once() -> None:
    """Two limits with the same caution: one problem, by the first."""
    shown = motion({"hip.l.flex": -20.0}, {"hip.r.flex": 105.0})
    found = lacking(an_exercise(), shown, the_limit("hip-posterior"), the_limit("hip-anterior"))
    assert len(found) == 1 and "'hip-posterior'" in found[0]


def test_demands_bring_cautions() -> None:
    """Whether the figure tells them or the author declares them."""
    stands = motion({}, {}, end_contacts=("foot.r floor",))
    (derived,) = lacking(an_exercise(slug="stork"), stands)
    assert derived == (
        f"{PLACE}: error: the demand 'whole-weight-on-leg' brings the caution 'hold-on', and 'stork' lacks it. "
        "Add 'hold-on' to its cautions, or take it from 'whole-weight-on-leg' in vocabulary.yaml. [brought-caution]"
    ).replace(f"{PLACE}:", f"{an_exercise().at('cautions')}:")
    assert "the demand 'bare-feet' brings the caution 'numb-feet'" in lacking(an_exercise(("bare-feet",)), None)[0]
    assert lacking(an_exercise(cautions=("stop-pain", "hold-on")), stands) == []


@cache
def findings() -> dict[str, tuple[Finding, ...]]:
    """What they may exceed."""
    return dict(find_all(demo(), demo_figures()))


def test_the_demo_lacks_none() -> None:
    """Every exercise of the demo carries the cautions of the limits that it may exceed and of its demands."""
    assert check_limit_cautions(demo(), demo_figures(), findings()) == ()


# Pairs that a reviewer found without their caution: an exercise that exceeds a limit by more than five degrees.
FOUND = {
    "new-hip": ("band-ankle-turn-out", "table-slide", "forward-lunge", "half-kneeling-ankle-rock", "heel-to-toe-stand", "heel-to-toe-walk",
                "hill-walk", "wall-calf-stretch", "wall-push-up", "face-down-arm-lift"),
    "pregnant": ("ankle-pump", "stick-arm-raise", "stick-turn-out"),
    "room-spins": ("ankle-pump", "arm-swing", "bridge", "face-down-arm-lift", "one-leg-bridge-on-a-pillow", "one-leg-bridge", "stick-arm-raise",
                   "stick-turn-out", "straight-leg-raise", "sword-draw", "two-hand-ball-lift"),
    "new-knee": ("one-leg-reach", "opposite-arm-and-leg-reach"),
    "back-surgery": ("arm-swing", "two-hand-ball-lift"),
    "shoulder-surgery": ("opposite-arm-and-leg-reach", "band-ankle-turn-out", "sit-to-stand", "hill-walk", "towel-calf-stretch"),
}  # fmt: skip


@pytest.mark.parametrize(("caution", "slug"), [(caution, slug) for caution, slugs in FOUND.items() for slug in slugs])
def test_each_pair_is_asked_for(caution: str, slug: str) -> None:
    """Without its caution the exercise is a problem that names it: an error, so that nothing is published."""
    exercise = demo().exercise[slug]
    assert caution in {ref.slug for ref in exercise.cautions}
    without = replace(exercise, cautions=tuple(ref for ref in exercise.cautions if ref.slug != caution))
    library = replace(demo(), exercises=(without,))
    (problem,) = check_limit_cautions(library, demo_figures(), findings())
    assert f"'{caution}'" in problem.what and problem.grade is Grade.ERROR


@pytest.mark.parametrize("slug", ["counter-heel-raise", "one-leg-heel-raise", "step-down", "one-leg-stand", "heel-to-toe-walk", "wall-calf-stretch"])
def test_a_hand_that_rests_or_balances_is_no_shoulder_exercise(slug: str) -> None:
    """Holding on to a counter, or arms held out for balance, ask nothing of a repaired shoulder (common practice, no source)."""
    assert not [found for found in findings()[slug] if found.limit == "cuff-repair"]


# Leaning on the hands, and crossing the arm over the body (from memory), after a repair of the rotator cuff.
@pytest.mark.parametrize(
    ("slug", "limit", "demand"),
    [
        ("kneeling-ball-roll", "cuff-repair", "weight-on-arms"),
        ("band-ankle-turn-out", "cuff-repair", "weight-on-arms"),
        ("cross-body-stretch", "cuff-repair-across", "arm-across-body"),
        ("sword-draw", "cuff-repair-across", "arm-across-body"),
    ],
)
def test_a_repaired_cuff_is_guarded(slug: str, limit: str, demand: str) -> None:
    """Each is found in the weeks of its limit."""
    assert demand in {part.name for found in findings()[slug] if found.limit == limit for part in found.parts}

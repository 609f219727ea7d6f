"""Findings and bounds as clinicians read them."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest

from handouts.limits import MOTIONS, find_conflicts
from handouts.limits.find import combinations
from handouts.model import Exercise, Side
from handouts.words.limits import limits_are_whole, motion_name, say_bounds, say_finding, say_findings, say_status
from handouts.words.phrases.limits import PHRASES
from handouts.words.wording import Wording
from tests.builders import a_dose, refs
from tests.limits.making import an_exercise, demo, motion, the_limit

EN = Wording("en")


def said(limit: str, exercise: Exercise, *frames: dict[str, float]) -> list[str]:
    """Every finding of one limit in English."""
    shown = motion(*frames) if frames else None
    return [say_finding(found, demo(), EN) for found in find_conflicts(exercise, shown, [the_limit(limit)])]


def test_an_angle_past_its_bound() -> None:
    """Angle, excess, bound, moment and side."""
    once = an_exercise(dose=a_dose(side=Side.TOGETHER))
    assert said("hip-posterior", once, {"hip.r.flex": 96.3, "hip.l.flex": 96.3}, {}) == [
        "Hip flexion to about 96°; the limit is 90° (at the start, both sides)"
    ]
    assert said("hip-posterior", an_exercise(), {}, {"hip.r.abd": -7.0}) == ["Hip adduction to about 7° past neutral; the limit is neutral (at the end, each side in turn)"]
    assert said("lumbar-fusion", an_exercise(), {"trunk.side": -20.0}) == ["Trunk side bend to about 20°; the limit is 15° (as held)"]


def test_a_side_that_is_named() -> None:
    """What an exercise does on each side in turn is said of one: of the side that exercises, of the other, or of both."""
    for frame, named in (({"hip.r.flex": 96.0}, "the side that exercises"), ({"hip.l.flex": 96.0}, "the other side"), ({"hip.r.flex": 96.0, "hip.l.flex": 96.0}, "both sides")):
        found = find_conflicts(an_exercise(), motion(frame, {}), [the_limit("hip-posterior")])
        assert [say_findings(found, demo(), EN, named=of_one) for of_one in (False, True)] == [
            f"Hip flexion to about 96°; the limit is 90° (at the start, {whose})" for whose in ("each side in turn", named)
        ]
    once = find_conflicts(an_exercise(dose=a_dose(side=Side.TOGETHER)), motion({"hip.r.flex": 96.0}, {}), [the_limit("hip-posterior")])
    assert say_findings(once, demo(), EN) == say_findings(once, demo(), EN, named=True)


def test_a_combination() -> None:
    """All its parts in one line."""
    assert said("hip-posterior-pose", an_exercise(), {"hip.r.flex": 95.0, "hip.r.abd": -3.0, "hip.r.ir": 8.0}, {}) == [
        "Hip flexion to about 95°; the limit is 90°; at once Hip adduction to about 3° past neutral; the limit is neutral; at once "
        "Hip internal rotation to about 8° past neutral; the limit is neutral (at the start, each side in turn)"
    ]


def test_position_demand_weight_and_what_is_unknown() -> None:
    """The other kinds of finding."""
    assert said("pregnancy-lying-16", an_exercise(position="lying"), {}) == ["Position: lying on your back"]
    assert said("breath-holding", an_exercise(("breath-hold-risk",)), {}) == ["An effort in which people hold their breath"]
    assert said("lumbar-fusion", an_exercise(dose=a_dose(weight_kg=6.0)), {}) == ["Weight up to 6 kg; the limit is 4.5 kg"]
    assert said("hip-posterior", an_exercise()) == ["Could not be checked: this exercise has no figure."]


def test_several_findings_in_one_line() -> None:
    """One sentence after the other; equal ones once."""
    found = find_conflicts(an_exercise(("head-turn", "eyes-closed")), motion({}), [the_limit("vertigo")])
    assert say_findings((*found, *found), demo(), EN) == "Turning the head. Balance with the eyes closed"


@pytest.mark.parametrize(
    ("limit", "expected"),
    [
        ("hip-posterior-pose", ["Only what passes all of these at once: Hip flexion up to 90°, Hip adduction up to 0°, and Hip internal rotation up to 0°"]),
        ("no-weight", ["Not: the leg carries weight"]),
        ("pregnancy-lying-16", ["Not: lying on your back"]),
    ],
)
def test_bounds(limit: str, expected: list[str]) -> None:
    """The bounds of a phase in words."""
    bounds = the_limit(limit).phases[0].bounds
    assert [say_bounds(each, demo(), EN) for each in combinations(bounds)] == expected


def test_bound_with_a_demand() -> None:
    """A range of angles that counts only with a demand, and where it comes from."""
    graft = the_limit("acl-open-chain")
    assert say_bounds(graft.phases[1].bounds[:1], demo(), EN) == "With “the knee straightens with the foot free”: Knee flexion from 45° to 90°"
    assert say_bounds(graft.phases[1].bounds[1:], demo(), EN) == "With “the knee straightens with the foot free”: Weight up to 0 kg"


@pytest.mark.parametrize(
    ("status", "words"),
    [
        ("confirmed", "Read in the source"),
        ("read in a summary", "Read in a summary, not in the source itself"),
        ("from memory", "From memory: look it up before you rely on it"),
        ("clinic's choice", "The numbers are this clinic's own"),
    ],
)
def test_statuses(status: str, words: str) -> None:
    """Whether the numbers were read in their source, in words."""
    assert say_status(status, EN) == words


def test_a_band_is_said() -> None:
    """A band where no weight is allowed."""
    exercise = an_exercise(("open-chain-knee-extension",), dose=a_dose(side=Side.TOGETHER, band=refs("light")[0]))
    lines = said("acl-open-chain-fixed", exercise, {"knee.r.flex": 60.0, "knee.l.flex": 60.0})
    assert lines[-1] == "The knee straightens with the foot free; at once A band: no load is allowed (both sides)"


@pytest.mark.parametrize("language", ["en", "es"])
def test_every_motion_has_a_name(language: str) -> None:
    """Every motion of the figure engine can be said, each by a name of its own."""
    wording = Wording(language)
    names = [motion_name(name, wording) for name in MOTIONS]
    assert len(set(names)) == len(MOTIONS) == 56


def test_nothing_is_called_safe() -> None:
    """No phrase of limits, and no text of the demo's limits, says that a movement is safe."""
    texts = [phrase.english for phrase in PHRASES.values()]  # type: ignore[union-attr]
    texts += [text for limit in demo().limits for text in (limit.name.text, limit.says.text, *(phase.name.text for phase in limit.phases))]
    assert not [text for text in texts if re.search(r"\b(un)?safe", text, re.IGNORECASE)]


def test_half_a_list_is_not_whole() -> None:
    """A language that lacks one limit, one demand or one position lacks the limits."""
    library = demo()
    assert limits_are_whole(library, library)
    assert not limits_are_whole(replace(library, limits=library.limits[1:]), library)
    for name in ("demands", "positions"):
        fewer = replace(library.vocabulary, **{name: getattr(library.vocabulary, name)[1:]})
        assert not limits_are_whole(replace(library, vocabulary=fewer), library)

"""Solved poses against geometry and the facts of the trade."""

from __future__ import annotations

from math import cos, radians, sin

import numpy as np
import pytest

from handouts.figure import Figure, extremes
from handouts.figure.body.body import SHANK, THIGH, make_body
from handouts.figure.body.joints import INDEX
from handouts.figure.pose.motion import solve_motion
from handouts.figure.pose.surroundings import SEAT_HEIGHT

from .conftest import figure_of, spec_nodes, spec_of

BODY = make_body()


@pytest.mark.parametrize("name", sorted(spec_nodes()))
def test_figures_have_no_problem(name: str, figures: dict[str, Figure]) -> None:
    """Every pose of the test sheet is in range, in contact, in balance and well seen."""
    assert figures[name].problems == ()


@pytest.mark.parametrize("name", sorted(spec_nodes()))
def test_contacts_hold_all_the_way(name: str, figures: dict[str, Figure]) -> None:
    """In every frame every contact is met within 10 mm."""
    for missed in figures[name].motion.misses(BODY):
        assert all(miss <= 0.010 for _, miss in missed), missed


def test_straight_leg_raise_height() -> None:
    """A straight leg at 45 degrees has its ankle sin 45 of leg length above the hip, and cos 45 in front of it."""
    motion = solve_motion(spec_of("base: supine\nend: {hip.r: flex 45, knee.r: 0}\nend-contacts: [back mat, heel.l mat]"), BODY)
    placed = motion.frames[-1].placed
    hip, ankle = placed.origins[BODY.numbers["thigh.r"]], placed.origins[BODY.numbers["foot.r"]]
    leg = (THIGH + SHANK) * BODY.stature
    assert ankle[1] - hip[1] == pytest.approx(leg * sin(radians(45)), abs=0.025)
    assert ankle[0] - hip[0] == pytest.approx(leg * cos(radians(45)), abs=0.025)


def test_thigh_is_vertical_on_all_fours(figures: dict[str, Figure]) -> None:
    """On all fours the knees are under the hips: the thigh is within 5 degrees of the vertical."""
    placed = figures["bird-dog"].motion.frames[0].placed
    for side in "rl":
        thigh = placed.origins[BODY.numbers[f"thigh.{side}"]] - placed.origins[BODY.numbers[f"shank.{side}"]]
        assert np.degrees(np.arccos(thigh[1] / np.linalg.norm(thigh))) < 5


def test_seat_height_bends_the_knee_to_a_right_angle(figures: dict[str, Figure]) -> None:
    """A 45 cm seat suits a stature of 1.70 m: knee height 0.285 H less half a thigh; the knee is within 7 of 90 degrees."""
    assert pytest.approx(0.285 * 1.70 - 0.035, abs=0.03) == SEAT_HEIGHT
    angles = figures["seated-knee-extension"].motion.frames[0].state.angles
    assert angles[INDEX["knee.l.flex"]] == pytest.approx(90, abs=7)


def test_sides_mirror_each_other() -> None:
    """The figure typed for the left is the mirror image of the one typed for the right, within 3 mm."""
    text = "base: all-fours\nend: {{hip.{a}: ext 2, knee.{a}: 4, shoulder.{b}: flex 160}}\nend-contacts: [shin.{b} mat, palm.{a} mat]"
    right, left = (solve_motion(spec_of(text.format(a=a, b=b)), BODY).frames[-1].centres for a, b in (("r", "l"), ("l", "r")))
    swap = [BODY.lumps[name[:-1] + {"r": "l", "l": "r"}[name[-1]]] if name[-2] == "." else number
            for number, name in enumerate(BODY.names)]  # fmt: skip
    assert np.abs(right - left[swap] * [1, 1, -1]).max() < 0.003


def test_feet_stay_where_they_stand(figures: dict[str, Figure]) -> None:
    """In a squat the feet do not slide: each ball of the foot stays within 5 mm."""
    frames = figures["squat-to-chair"].motion.frames
    for side in "rl":
        ball = BODY.lumps[f"soleb.{side}"]
        assert max(np.linalg.norm(frame.centres[ball] - frames[0].centres[ball]) for frame in frames) < 0.005


def test_a_stepping_foot_is_lifted(figures: dict[str, Figure]) -> None:
    """The foot that steps into a lunge rises on its way and lands."""
    heights = [frame.centres[BODY.lumps["soleh.r"]][1] for frame in figures["deep-lunge"].motion.frames]
    assert max(heights) > heights[0] + 0.04
    assert heights[-1] == pytest.approx(heights[0], abs=0.01)


def test_extremes_name_the_largest_angle() -> None:
    """The largest angle of a motion comes with its side and phase; 90 degrees typed is 90 degrees reached."""
    found = extremes(figure_of(spec_of("base: standing\nend: {hip.l: flex 90, knee.l: 90}\nend-contacts: [foot.r floor]\narrow: knee.l")))
    assert found["hip flexion"].side == "l"
    assert found["hip flexion"].phase == "end"
    assert found["hip flexion"].degrees == pytest.approx(90, abs=1)


def test_a_rolling_ball_takes_the_hands_along() -> None:
    """Two places of a ball are its start and its end; the palms stay on it."""
    motion = solve_motion(spec_of(
        "base: kneeling\nprops: {exercise-ball: 0.52 0.80}\ncontacts: [shin mat, palm ball]\n"
        "start: {hip: flex 34, knee: 90, shoulder: flex 62, elbow: 40}\n"
        "end: {hip: flex 70, knee: 100, shoulder: flex 145, elbow: 6}"), BODY)  # fmt: skip
    first, last = motion.worlds[0].surfaces["ball"], motion.worlds[-1].surfaces["ball"]
    assert last.centre[0] - first.centre[0] == pytest.approx(0.28)
    assert max(miss for _, miss in motion.misses(BODY)[-1]) < 0.01

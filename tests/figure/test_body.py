"""The body against published lengths and masses."""

from __future__ import annotations

import numpy as np
import pytest

from handouts.figure.body import body as body_module
from handouts.figure.body.angles import angles_of
from handouts.figure.body.body import (
    ANKLE_HEIGHT,
    FOOT,
    FOREARM,
    HAND,
    HEAD,
    NECK,
    SEGMENT_MASSES,
    SHANK,
    THIGH,
    TRUNK,
    UPPER_ARM,
    make_body,
    mass_points,
)
from handouts.figure.body.joints import VARIABLES
from handouts.figure.body.kinematics import centre_of_mass, ellipsoids, place, point_motion, rotation_of, vector_of
from handouts.figure.pose.bases import BASES


def test_lengths_make_one_stature() -> None:
    """Winter 2009 figure 4.1: ankle height to crown adds up to 1.000 H; arm and hand to 0.440 H."""
    assert pytest.approx(1.0) == ANKLE_HEIGHT + SHANK + THIGH + TRUNK + NECK + HEAD
    assert pytest.approx(0.440) == UPPER_ARM + FOREARM + HAND
    assert pytest.approx(0.285) == ANKLE_HEIGHT + SHANK
    assert pytest.approx(0.530) == ANKLE_HEIGHT + SHANK + THIGH


# Winter 2009, figure 4.1 (Drillis and Contini 1966): lengths as fractions of stature.
@pytest.mark.parametrize(("length", "published"), [
    (ANKLE_HEIGHT, 0.039), (SHANK, 0.246), (THIGH, 0.245), (TRUNK, 0.288), (UPPER_ARM, 0.186), (FOREARM, 0.146), (HAND, 0.108),
    (FOOT, 0.152), (NECK, 0.870 - 0.818), (HEAD, 1 - 0.870),
])  # fmt: skip
def test_each_length_is_the_published_one(length: float, published: float) -> None:
    """Each by itself: a sum stays the same where one takes from another.  Neck and head: from shoulder to chin (0.870) to crown."""
    assert length == pytest.approx(published, abs=1e-9)


# Winter 2009, figure 4.1: heights of 0.285, 0.530 and 0.818 H; the drawn joints stand as high, and reach as far.
@pytest.mark.parametrize(("upper", "lower", "published"), [
    ("thigh.r", "shank.r", 0.245), ("shank.r", "foot.r", 0.246), ("uarm.r", "farm.r", 0.186), ("farm.r", "hand.r", 0.146),
])  # fmt: skip
def test_each_limb_is_as_long_as_published(upper: str, lower: str, published: float) -> None:
    """From joint to joint of the placed body, so that no length is known and not used."""
    body = make_body()
    placed = place(body, angles_of(BASES["standing"].pose), np.eye(3), np.zeros(3))
    ends = [placed.origins[body.numbers[name]] for name in (upper, lower)]
    assert float(np.linalg.norm(ends[0] - ends[1])) / body.stature == pytest.approx(published, abs=1e-6)


# Winter 2009, table 4.1 (Dempster): mass of each segment as a fraction of the body's.
WINTER_MASSES = {"hand": 0.006, "forearm": 0.016, "upper arm": 0.028, "foot": 0.0145, "shank": 0.0465, "thigh": 0.100, "trunk": 0.497, "head": 0.081}


def test_each_mass_is_the_published_one() -> None:
    """Each by itself; pelvis 0.142, abdomen 0.139 and thorax 0.216 make the trunk."""
    assert SEGMENT_MASSES == WINTER_MASSES
    numbers = make_body().numbers
    shares = {point.segment: point.share for point in mass_points()}
    assert (shares[numbers["sp1"]], shares[numbers["sp4"]], shares[numbers["sp6"]]) == (0.142, 0.139, 0.216)
    assert pytest.approx(WINTER_MASSES["trunk"]) == 0.142 + 0.139 + 0.216


@pytest.mark.parametrize(("segment", "published"), [("thigh", 0.433 * 0.245), ("shank", 0.433 * 0.246), ("uarm", 0.436 * 0.186), ("farm", 0.430 * 0.146)])
def test_each_centre_of_mass_is_the_published_one(segment: str, published: float) -> None:
    """Winter 2009, table 4.1: from the upper joint as a fraction of the segment's length, on both sides."""
    numbers = make_body().numbers
    for side in ("r", "l"):
        (point,) = (each for each in mass_points() if each.segment == numbers[f"{segment}.{side}"])
        assert -point.offset[1] == pytest.approx(published, abs=1e-6)


def test_masses_lie_on_the_axis_of_their_segment() -> None:
    """Winter's centres of mass are fractions along the segment: none lies in front of it or beside it, but for the foot's."""
    for point in mass_points():
        assert point.offset[2] == 0 and (point.offset[0] == 0 or point.offset[0] == 0.036)
    spine = [point for point in mass_points() if point.share in (0.139, 0.216)]
    assert [point.offset for point in spine] == [(0, 0, 0)] * 2


@pytest.mark.parametrize(("variable", "axis"), [("trunk.flex", 2), ("trunk.side", 0), ("trunk.turn", 1)])
def test_a_bend_of_the_trunk_is_the_angle_that_was_written(variable: str, axis: int) -> None:
    """Spread over its sections, the motions add up to the clinical angle between pelvis and the top of the trunk."""
    body, angles = make_body(), np.zeros(len(VARIABLES))
    angles[VARIABLES.index(variable)] = 30.0
    placed = place(body, angles, np.eye(3), np.zeros(3))
    turn = placed.rotations[body.numbers["sp1"]].T @ placed.rotations[body.numbers["sp9"]]
    assert np.degrees(np.linalg.norm(vector_of(turn))) == pytest.approx(30.0, abs=1e-6)
    assert abs(vector_of(turn)[axis]) == pytest.approx(np.radians(30.0), abs=1e-6)
    assert sum(body_module._FLEX_SHARE) == pytest.approx(1.0) == sum(body_module._TURN_SHARE)


def test_masses_make_one_body() -> None:
    """Winter 2009 table 4.1: the fractions of all segments add up to 1."""
    double = ("hand", "forearm", "upper arm", "foot", "shank", "thigh")
    assert sum(mass * (2 if name in double else 1) for name, mass in SEGMENT_MASSES.items()) == pytest.approx(1.0)
    assert sum(point.share for point in mass_points()) == pytest.approx(1.0)


def test_standing_centre_of_mass() -> None:
    """Whole-body texts give 0.55 to 0.57 of stature, Winter's four segments 0.5835: 0.53 to 0.60 is accepted."""
    body, base = make_body(), BASES["standing"]
    placed = place(body, angles_of(base.pose), np.array(base.turn), np.array([0.0, 0.53 * body.stature, 0.0]))
    centres, axes = ellipsoids(body, placed)
    lowest = float((centres[:, 1] - np.linalg.norm(axes[:, 1, :], axis=1)).min())
    assert 0.53 < (centre_of_mass(body, placed)[1] - lowest) / body.stature < 0.60


def test_hip_height_over_the_floor() -> None:
    """Winter 2009 figure 4.1: the hip is 0.530 H over the floor; the shoe sole may add a little."""
    body, base = make_body(), BASES["standing"]
    placed = place(body, angles_of(base.pose), np.array(base.turn), np.zeros(3))
    centres, axes = ellipsoids(body, placed)
    lowest = float((centres[:, 1] - np.linalg.norm(axes[:, 1, :], axis=1)).min())
    assert -lowest / body.stature == pytest.approx(0.530, abs=0.005)


def test_top_of_the_head_is_one_stature() -> None:
    """The drawn body is as tall as its stature, within 2 %."""
    body, base = make_body(), BASES["standing"]
    placed = place(body, angles_of(base.pose), np.array(base.turn), np.zeros(3))
    centres, axes = ellipsoids(body, placed)
    reach = np.linalg.norm(axes[:, 1, :], axis=1)
    assert float((centres[:, 1] + reach).max() - (centres[:, 1] - reach).min()) / body.stature == pytest.approx(1, abs=0.02)


@pytest.mark.parametrize("side", ["r", "l"])
def test_toes_turn_with_the_sole(side: str) -> None:
    """In eversion the toes point outward, in inversion inward: 42 degrees of rise of the axis (Inman 1976, from memory)."""
    body = make_body()
    out = {"r": 1, "l": -1}[side]
    for degrees, way in ((-10.0, out), (10.0, -out)):
        angles = np.zeros(len(VARIABLES))
        angles[VARIABLES.index(f"ankle.{side}.inv")] = degrees
        foot = place(body, angles, np.eye(3), np.zeros(3)).rotations[body.numbers[f"foot.{side}"]]
        toes, sole = foot @ np.array([1.0, 0, 0]), foot @ np.array([0, -1.0, 0])
        assert np.degrees(np.arctan2(toes[2] * way, toes[0])) == pytest.approx(9, abs=0.2)
        assert np.degrees(np.arctan2(sole[2] * way, -sole[1])) == pytest.approx(10, abs=0.2)


def test_point_motion_is_the_derivative() -> None:
    """The analytic derivative of a toe point equals the difference quotient for every variable."""
    body, chance = make_body(), np.random.default_rng(7)
    angles, turn, at = chance.normal(0, 20, len(VARIABLES)), rotation_of(np.array([0.3, 0.2, 0.1])), np.array([0, 0.9, 0])
    segment = body.numbers["toes.l"]

    def point(values: np.ndarray) -> np.ndarray:
        placed = place(body, values, turn, at)
        return placed.origins[segment] + placed.rotations[segment] @ np.array([0.05, 0, 0])

    here, direction = point(angles), np.array([0.3, -0.8, 0.5])
    _, by_angle = point_motion(place(body, angles, turn, at), here[None], np.array([segment]), direction[None])
    for index in range(len(VARIABLES)):
        moved = angles.copy()
        moved[index] += 1e-4
        assert by_angle[0, index] == pytest.approx((point(moved) - here) @ direction / np.radians(1e-4), abs=1e-4)


def test_rotation_vector_round_trip() -> None:
    """A rotation vector comes back from its matrix."""
    vector = np.array([0.4, -1.1, 0.7])
    assert vector_of(rotation_of(vector)) == pytest.approx(vector)
    assert vector_of(np.eye(3)) == pytest.approx(np.zeros(3))

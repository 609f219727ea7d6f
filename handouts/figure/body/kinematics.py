"""Forward kinematics: from joint angles to frames, ellipsoids, centre of mass, and how points move with each angle.

Rotation matrices turn segment coordinates into world coordinates.  Pure; never solves.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from typing import Any

import numpy as np
from numpy.typing import NDArray

from handouts.figure.body.angles import Angles
from handouts.figure.body.body import Body, mass_points, skeleton
from handouts.figure.body.joints import VARIABLES

Array = NDArray[np.floating[Any]]

# Rise of the shoulder joint as the arm goes up (scapulohumeral rhythm), fractions of stature at full elevation.
_RISE, _INWARD, _FORWARD = 0.030, 0.016, 0.018


@dataclass(frozen=True, slots=True)
class Placed:
    """A placed body: ``rotations`` (s, 3, 3) and ``origins`` (s, 3) of the segments in metres,
    and for each elementary turn its world axis ``axes`` (e, 3) and pivot ``pivots`` (e, 3)."""

    rotations: Array
    origins: Array
    axes: Array
    pivots: Array


@cache
def _turn_tables() -> tuple[NDArray[np.int64], Array, Array, NDArray[np.int64], tuple[tuple[int, ...], ...]]:
    """Variable, factor, fixed part and axis of each elementary turn; the turns of each segment."""
    turns = [turn for segment in skeleton()[0] for turn in segment.turns]
    numbers = iter(range(len(turns)))
    owned = tuple(tuple(next(numbers) for _ in segment.turns) for segment in skeleton()[0])
    return (
        np.array([turn.variable for turn in turns]),
        np.array([turn.factor for turn in turns]),
        np.array([turn.fixed for turn in turns]),
        np.array([turn.axis for turn in turns]),
        owned,
    )


@cache
def turn_reach() -> tuple[Array, Array]:
    """``reach`` (s, e): 1 where a turn moves a segment; ``spread`` (e, v): turn per unit of each variable."""
    segments, _ = skeleton()
    variables, factors, _, _, owned = _turn_tables()
    reach = np.zeros((len(segments), len(variables)))
    for number, segment in enumerate(segments):
        if segment.parent >= 0:
            reach[number] = reach[segment.parent]
        for turn in owned[number]:
            reach[number, turn] = 1.0
    spread = np.zeros((len(variables), len(VARIABLES)))
    spread[np.arange(len(variables)), variables] = factors
    return reach, spread


def axis_rotations(degrees: Array, axes: NDArray[np.int64]) -> Array:
    """Rotation matrices (n, 3, 3) about coordinate axes."""
    angle = np.radians(degrees)
    cos, sin = np.cos(angle), np.sin(angle)
    found = np.zeros((len(angle), 3, 3))
    rows = np.arange(len(angle))
    second, third = (axes + 1) % 3, (axes + 2) % 3
    found[rows, axes, axes] = 1.0
    found[rows, second, second] = found[rows, third, third] = cos
    found[rows, second, third] = -sin
    found[rows, third, second] = sin
    return found


def rotation_about(axis: int, degrees: float) -> Array:
    """One rotation matrix about a coordinate axis."""
    made: Array = axis_rotations(np.array([degrees]), np.array([axis]))[0]
    return made


def rotation_of(vector: Array) -> Array:
    """The rotation matrix of a rotation vector in radians (Rodrigues)."""
    angle = float(np.linalg.norm(vector))
    if angle < 1e-12:
        return np.eye(3)
    x, y, z = vector / angle
    cross = np.array([[0, -z, y], [z, 0, -x], [-y, x, 0]])
    made: Array = np.eye(3) + np.sin(angle) * cross + (1 - np.cos(angle)) * cross @ cross
    return made


def vector_of(rotation: Array) -> Array:
    """The rotation vector in radians of a rotation matrix, for turns below half a circle."""
    vector = np.array(
        [rotation[2, 1] - rotation[1, 2], rotation[0, 2] - rotation[2, 0], rotation[1, 0] - rotation[0, 1]]
    )
    sin = float(np.linalg.norm(vector)) / 2
    if sin < 1e-9:
        return np.zeros(3)
    made: Array = vector / (2 * sin) * np.arctan2(sin, (np.trace(rotation) - 1) / 2)
    return made


def _shoulder_shift(local: Array, side: float, stature: float) -> Array:
    """How the shoulder joint moves on the trunk for an arm turned by ``local``."""
    along = -local[:, 1]
    raised = max(0.0, (along[1] + 1) / 2)
    return np.array([_FORWARD * along[0] * min(1.0, 2 * raised), _RISE * raised, -_INWARD * raised * side]) * stature


@cache
def _steps() -> tuple[tuple[int, Array, tuple[int, ...], float], ...]:
    """For each segment: parent, offset, turns, and 1 or -1 for an upper arm (0 for others)."""
    owned = _turn_tables()[4]
    return tuple(
        (
            segment.parent,
            np.array(segment.offset),
            owned[number],
            {"uarm.r": 1.0, "uarm.l": -1.0}.get(segment.name, 0.0),
        )
        for number, segment in enumerate(skeleton()[0])
    )


def place(body: Body, angles: Angles, rotation: Array, position: Array) -> Placed:
    """Place the body: ``angles`` (v,) in degrees, pelvis ``rotation`` (3, 3) and ``position`` (3,) in metres."""
    variables, factors, fixed, axes, _ = _turn_tables()
    spins = axis_rotations(angles[variables] * factors + fixed, axes)
    steps = _steps()
    rotations, origins = np.empty((len(steps), 3, 3)), np.empty((len(steps), 3))
    frames, pivots = np.empty((len(variables), 3, 3)), np.empty((len(variables), 3))
    for number, (parent, offset, turns, arm) in enumerate(steps):
        if parent < 0:
            turned, origin = rotation, position
        else:
            turned = rotations[parent]
            origin = origins[parent] + turned @ offset * body.stature
        if arm:
            local = spins[turns[0]] @ spins[turns[1]] @ spins[turns[2]]
            origin = origin + turned @ _shoulder_shift(local, arm, body.stature)
            origins[parent] = origin
        for turn in turns:
            frames[turn], pivots[turn] = turned, origin
            turned = turned @ spins[turn]
        rotations[number], origins[number] = turned, origin
    world_axes = frames[np.arange(len(variables)), :, axes]
    return Placed(rotations, origins, world_axes, pivots)


def ellipsoids(body: Body, placed: Placed) -> tuple[Array, Array]:
    """World centres (n, 3) and axes (n, 3, 3; columns are half axes) of all ellipsoids, metres."""
    turned = placed.rotations[body.owner]
    centres = np.einsum("nij,nj->ni", turned, body.centres) + placed.origins[body.owner]
    return centres, turned * body.radii[:, None, :]


def point_motion(placed: Placed, points: Array, segments: NDArray[np.int64], directions: Array) -> tuple[Array, Array]:
    """How far points move along directions: per radian of pelvis turn (m, 3) and per radian of each variable (m, v).

    ``points`` (m, 3) ride on ``segments`` (m,); the pelvis turns about its own origin.
    """
    reach, spread = turn_reach()
    moment = np.cross(points, directions)
    by_turn = moment @ placed.axes.T - directions @ np.cross(placed.axes, placed.pivots).T
    by_root = moment - np.cross(placed.origins[0], directions)
    return by_root, (by_turn * reach[segments]) @ spread


@cache
def _mass_tables() -> tuple[Array, NDArray[np.int64], Array]:
    points = mass_points()
    return (
        np.array([point.share for point in points]),
        np.array([point.segment for point in points]),
        np.array([point.offset for point in points]),
    )


def mass_places(body: Body, placed: Placed) -> tuple[Array, NDArray[np.int64], Array]:
    """Shares (k,), segments (k,) and world points (k, 3) of the body's mass; shares sum to 1."""
    shares, segments, offsets = _mass_tables()
    if body.gone:
        there = shares * ~np.isin(segments, body.gone)
        shares = there / there.sum()
    points = np.einsum("nij,nj->ni", placed.rotations[segments], offsets * body.stature) + placed.origins[segments]
    return shares, segments, points


def centre_of_mass(body: Body, placed: Placed) -> Array:
    """World position (3,) of the whole-body centre of mass, metres."""
    shares, _, points = mass_places(body, placed)
    centre: Array = shares @ points
    return centre


def local_point(body: Body, placed: Placed, segment: str, offset: tuple[float, float, float]) -> Array:
    """World position (3,) of a point of a segment given in fractions of stature."""
    number = body.numbers[segment]
    point: Array = placed.origins[number] + placed.rotations[number] @ (np.array(offset) * body.stature)
    return point

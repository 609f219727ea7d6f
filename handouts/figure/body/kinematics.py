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
from handouts.figure.body.linear import cross

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


Columns = list[list[float]]
"""A rotation by its three columns: plain floats, since turns of three numbers cost an array more than the sums in them."""


def _turned(frame: Columns, axis: int, cos: float, sin: float) -> Columns:
    """A frame after a turn about one of its own axes."""
    one, two = (axis + 1) % 3, (axis + 2) % 3
    (ax, ay, az), (bx, by, bz) = frame[one], frame[two]
    found = frame.copy()
    found[one] = [cos * ax + sin * bx, cos * ay + sin * by, cos * az + sin * bz]
    found[two] = [cos * bx - sin * ax, cos * by - sin * ay, cos * bz - sin * az]
    return found


def _moved(origin: list[float], frame: Columns, offset: tuple[float, float, float]) -> list[float]:
    """A place moved by an offset in a frame."""
    (ax, ay, az), (bx, by, bz), (cx, cy, cz) = frame
    x, y, z = offset
    return [origin[0] + ax * x + bx * y + cx * z, origin[1] + ay * x + by * y + cy * z, origin[2] + az * x + bz * y + cz * z]


def _shoulder_shift(hanging: list[float], side: float, stature: float) -> tuple[float, float, float]:
    """How the shoulder joint moves on the trunk for an arm whose own upward axis is ``hanging`` in the trunk's frame."""
    ahead, up = -hanging[0], -hanging[1]
    raised = max(0.0, (up + 1) / 2)
    return _FORWARD * ahead * min(1.0, 2 * raised) * stature, _RISE * raised * stature, -_INWARD * raised * side * stature


@cache
def _steps(stature: float) -> tuple[tuple[int, tuple[float, float, float], tuple[tuple[int, int], ...], float], ...]:
    """For each segment: parent, offset in metres, turns with their axes, and 1 or -1 for an upper arm (0 for others)."""
    _, _, _, axes, owned = _turn_tables()
    return tuple(
        (
            segment.parent,
            (segment.offset[0] * stature, segment.offset[1] * stature, segment.offset[2] * stature),
            tuple((turn, int(axes[turn])) for turn in owned[number]),
            {"uarm.r": 1.0, "uarm.l": -1.0}.get(segment.name, 0.0),
        )
        for number, segment in enumerate(skeleton()[0])
    )


_WORLD = [[1.0, 0.0, 0.0], [0.0, 1.0, 0.0], [0.0, 0.0, 1.0]]


def place(body: Body, angles: Angles, rotation: Array, position: Array) -> Placed:
    """Place the body: ``angles`` (v,) in degrees, pelvis ``rotation`` (3, 3) and ``position`` (3,) in metres."""
    variables, factors, fixed, _, _ = _turn_tables()
    spin = np.radians(angles[variables] * factors + fixed)
    cosines, sines = np.cos(spin).tolist(), np.sin(spin).tolist()
    frames: list[Columns] = []
    origins: list[list[float]] = []
    axes: list[list[float]] = []
    pivots: list[list[float]] = []
    for parent, offset, turns, arm in _steps(body.stature):
        if parent < 0:
            frame, origin = rotation.T.tolist(), position.tolist()
        else:
            frame = frames[parent]
            origin = _moved(origins[parent], frame, offset)
        if arm:
            local = _WORLD
            for turn, axis in turns[:3]:
                local = _turned(local, axis, cosines[turn], sines[turn])
            origin = _moved(origin, frame, _shoulder_shift(local[1], arm, body.stature))
            origins[parent] = origin
        for turn, axis in turns:
            axes.append(frame[axis])
            pivots.append(origin)
            frame = _turned(frame, axis, cosines[turn], sines[turn])
        frames.append(frame)
        origins.append(origin)
    return Placed(np.array(frames).transpose(0, 2, 1), np.array(origins), np.array(axes), np.array(pivots))


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
    moment = cross(points, directions)
    by_turn = moment @ placed.axes.T - directions @ cross(placed.axes, placed.pivots).T
    by_root = moment - cross(placed.origins[0], directions)
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

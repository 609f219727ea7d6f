"""What a pose must satisfy, as weighted residuals with their derivatives.

Hard conditions (contacts, grips, pins) are divided by a small tolerance; soft ones (the authored angles,
the tilt of the pelvis) by how far they may give.  Pure; the solver (``handouts.figure.pose.solver``) minimises them.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import cache
from typing import Any

import numpy as np
from numpy.typing import NDArray
from shapely.geometry import MultiPoint, Point
from shapely.ops import nearest_points

from handouts.figure.body.angles import HIGH, LOW, Angles
from handouts.figure.body.body import Body
from handouts.figure.body.gaps import gaps
from handouts.figure.body.joints import VARIABLES
from handouts.figure.body.kinematics import Placed, ellipsoids, mass_places, point_motion, vector_of
from handouts.figure.body.sites import Surface

Array = NDArray[np.floating[Any]]
Ints = NDArray[np.int64]

# How far each condition may miss before it counts 1.
CONTACT, GRIP, PIN, KEEP_OUT, COLLISION, SPAN = 0.0015, 0.003, 0.003, 0.004, 0.008, 0.004
"""Metres."""
BEYOND_RANGE = 0.2
"""Degrees past a joint's normal range."""


@dataclass(frozen=True, slots=True)
class Touch:
    """The lowest of some ellipsoids touches a surface."""

    label: str
    lumps: tuple[int, ...]
    surface: Surface
    within: tuple[int, ...] = ()
    """Ellipsoids whose middles stay within the edges."""
    edges: tuple[float, float, float, float] | None = None
    """Least and largest x, least and largest z of a surface that ends, metres."""
    beside: bool = False
    """Whether it steadies the body and does not carry it: a hand on a top that stands at one side."""


@dataclass(frozen=True, slots=True)
class Grip:
    """A point of a segment is at a world point, or at a point of another segment."""

    label: str
    segment: int
    offset: tuple[float, float, float]
    target: tuple[float, float, float]
    target_segment: int = -1


@dataclass(frozen=True, slots=True)
class Pin:
    """An ellipsoid's centre keeps its place along some directions."""

    lump: int
    point: tuple[float, float, float]
    directions: tuple[tuple[float, float, float], ...]
    tolerance: float = PIN


@dataclass(frozen=True, slots=True)
class Meet:
    """The nearest of some ellipsoids and of some others touch."""

    label: str
    first: tuple[int, ...]
    second: tuple[int, ...]

    @property
    def pairs(self) -> Ints:
        """All pairs (p, 2)."""
        return np.array([(one, two) for one in self.first for two in self.second])


@dataclass(frozen=True, slots=True)
class PointDistance:
    """Two points of segments are a distance apart (metres)."""

    first: int
    first_offset: tuple[float, float, float]
    second: int
    second_offset: tuple[float, float, float]
    distance: float


@dataclass(frozen=True, slots=True)
class FrameTask:
    """All conditions of one frame.  Angles and softness in degrees, lengths in metres."""

    angles: Angles
    softness: Angles
    turn: Array
    position: Array
    turn_softness: tuple[float, float, float]
    position_softness: tuple[float, float, float]
    touches: tuple[Touch, ...]
    grips: tuple[Grip, ...]
    pins: tuple[Pin, ...]
    spans: tuple[PointDistance, ...]
    keep_out: tuple[Surface, ...]
    balance: float
    """How far in metres the centre of mass may be from the middle of its support; 0 asks for nothing."""
    inside: bool
    """Whether the centre of mass must be over the support, as where the body stands free."""
    apart: tuple[tuple[int, int], ...]
    """Pairs of ellipsoids that must not meet."""
    highest: Angles = field(default_factory=lambda: HIGH)
    """The upper end of the range of each angle."""
    meets: tuple[Meet, ...] = ()


@dataclass(frozen=True, slots=True)
class State:
    """A pose: pelvis turn and position, angles in degrees."""

    turn: Array
    position: Array
    angles: Angles


class Rows:
    """Collects conditions on material points until they are evaluated together."""

    def __init__(self) -> None:
        self.values: list[float] = []
        self.rows: list[int] = []
        self.points: list[Array] = []
        self.segments: list[int] = []
        self.directions: list[Array] = []

    def new(self, value: float) -> int:
        """A new row with its value."""
        self.values.append(value)
        return len(self.values) - 1

    def part(self, row: int, point: Array, segment: int, direction: Array) -> None:
        """The row grows as the point moves along the direction."""
        self.parts(row, point[None], [segment], direction[None])

    def parts(self, row: int, points: Array, segments: list[int], directions: Array) -> None:
        """The row grows as the points (n, 3) on segments (n,) move along the directions (n, 3)."""
        self.rows += [row] * len(segments)
        self.points.append(points)
        self.segments += segments
        self.directions.append(directions)

    def single(self, value: float, point: Array, segment: int, direction: Array) -> None:
        """A row that depends on one point."""
        self.part(self.new(value), point, segment, direction)

    def jacobian(self, placed: Placed) -> tuple[Array, Array]:
        """Values (m,) and derivatives (m, 3 + 3 + v): by metre, by radian of the pelvis, by degree of each variable."""
        values = np.array(self.values)
        jacobian = np.zeros((len(values), 6 + len(VARIABLES)))
        if self.rows:
            directions = np.concatenate(self.directions)
            by_root, by_angle = point_motion(placed, np.concatenate(self.points), np.array(self.segments), directions)
            np.add.at(jacobian, np.array(self.rows), np.hstack([directions, by_root, by_angle * (np.pi / 180)]))
        return values, jacobian


def _at(body: Body, placed: Placed, segment: int, offset: tuple[float, float, float]) -> Array:
    point: Array = placed.origins[segment] + placed.rotations[segment] @ (np.array(offset) * body.stature)
    return point


def support_lumps(task: FrameTask) -> list[int]:
    """Numbers of the ellipsoids that carry the body: the contacts on level surfaces, but for a hand on a top at its side."""
    return [
        lump
        for touch in task.touches
        for lump in touch.lumps
        if getattr(touch.surface, "normal", (0, 1, 0))[1] > 0.9 and not touch.beside
    ]


def _balance_rows(body: Body, task: FrameTask, placed: Placed, centres: Array, rows: Rows) -> None:
    lumps = support_lumps(task)
    if not task.balance or not lumps:
        return
    shares, segments, points = mass_places(body, placed)
    centre = shares @ points
    support = centres[lumps]
    inside = nearest_points(MultiPoint(support[:, [0, 2]]).convex_hull, Point(centre[0], centre[2]))[0]
    middle = support.mean(axis=0)
    # The centre of mass moves with the masses, its aim with the feet.
    moving = np.vstack([points, support])
    owners = [*segments.tolist(), *body.owner[lumps].tolist()]
    weight = np.concatenate([shares, np.full(len(lumps), -1 / len(lumps))])
    for axis, edge in ((0, inside.x), (2, inside.y)):
        direction = np.eye(3)[axis]
        aims = ((centre[axis] - middle[axis], task.balance), (centre[axis] - edge, 0.006))
        for value, tolerance in aims[: 1 + task.inside]:
            if value:
                rows.parts(rows.new(value / tolerance), moving, owners, weight[:, None] * direction / tolerance)


def _edge_rows(body: Body, touch: Touch, centres: Array, rows: Rows) -> None:
    """What rests on a surface that ends is drawn back over it."""
    if touch.edges is None:
        return
    for lump in touch.within:
        for axis, low, high in ((0, touch.edges[0], touch.edges[1]), (2, touch.edges[2], touch.edges[3])):
            at = float(centres[lump][axis])
            past = max(0.0, at - high) - max(0.0, low - at)
            if past:
                rows.single(past / KEEP_OUT, centres[lump], int(body.owner[lump]), np.eye(3)[axis] / KEEP_OUT)


def _touch_rows(body: Body, task: FrameTask, centres: Array, axes: Array, rows: Rows) -> None:
    known = {surface: gaps(surface, centres, axes) for surface in dict.fromkeys((*(touch.surface for touch in task.touches), *task.keep_out))}
    for surface in dict.fromkeys(touch.surface for touch in task.touches):
        gap, nearest, normals = known[surface]
        for touch in task.touches:
            if touch.surface == surface:
                lump = min(touch.lumps, key=lambda number: float(gap[number]))
                rows.single(gap[lump] / CONTACT, nearest[lump], int(body.owner[lump]), normals[lump] / CONTACT)
                _edge_rows(body, touch, centres, rows)
    for surface in task.keep_out:
        gap, nearest, normals = known[surface]
        for lump in np.flatnonzero(gap < -0.001).tolist():
            rows.single((gap[lump] + 0.001) / KEEP_OUT, nearest[lump], int(body.owner[lump]), normals[lump] / KEEP_OUT)


def _hold_rows(body: Body, task: FrameTask, placed: Placed, centres: Array, rows: Rows) -> None:
    for grip in task.grips:
        point = _at(body, placed, grip.segment, grip.offset)
        target = (
            np.array(grip.target) if grip.target_segment < 0 else _at(body, placed, grip.target_segment, grip.target)
        )
        for direction in np.eye(3) / GRIP:
            row = rows.new(float((point - target) @ direction))
            rows.part(row, point, grip.segment, direction)
            if grip.target_segment >= 0:
                rows.part(row, target, grip.target_segment, -direction)
    for pin in task.pins:
        for way in pin.directions:
            direction = np.array(way) / pin.tolerance
            rows.single(
                float((centres[pin.lump] - np.array(pin.point)) @ direction),
                centres[pin.lump],
                int(body.owner[pin.lump]),
                direction,
            )
    for span in task.spans:
        first = _at(body, placed, span.first, span.first_offset)
        second = _at(body, placed, span.second, span.second_offset)
        length = float(np.linalg.norm(first - second)) or 1e-9
        direction = (first - second) / length / SPAN
        row = rows.new((length - span.distance) / SPAN)
        rows.part(row, first, span.first, direction)
        rows.part(row, second, span.second, -direction)


def pair_gaps(pairs: Ints, centres: Array, axes: Array) -> tuple[Array, Array]:
    """Gaps (p,) between pairs (p, 2) of ellipsoids along their centre lines, and unit directions (p, 3), metres."""
    between = centres[pairs[:, 0]] - centres[pairs[:, 1]]
    length = np.linalg.norm(between, axis=1) + 1e-9
    away = between / length[:, None]
    reach = [np.linalg.norm(np.einsum("nji,nj->ni", axes[pairs[:, k]], away), axis=1) for k in (0, 1)]
    return length - reach[0] - reach[1], away


@cache
def _as_array(pairs: tuple[tuple[int, int], ...]) -> Ints:
    return np.array(pairs)


@cache
def _eye() -> Array:
    """The derivatives of the pelvis and of each angle by itself."""
    return np.eye(6 + len(VARIABLES))


def _apart_rows(body: Body, task: FrameTask, centres: Array, axes: Array, rows: Rows) -> None:
    if not task.apart:
        return
    pairs = _as_array(task.apart)
    gap, away = pair_gaps(pairs, centres, axes)
    for number in np.flatnonzero(gap < 0):
        first, second = pairs[number]
        row = rows.new(gap[number] / COLLISION)
        rows.part(row, centres[first], int(body.owner[first]), away[number] / COLLISION)
        rows.part(row, centres[second], int(body.owner[second]), -away[number] / COLLISION)


def _meet_rows(body: Body, task: FrameTask, centres: Array, axes: Array, rows: Rows) -> None:
    for meet in task.meets:
        pairs = meet.pairs
        gap, away = pair_gaps(pairs, centres, axes)
        nearest = int(gap.argmin())
        first, second = pairs[nearest]
        row = rows.new(gap[nearest] / GRIP)
        rows.part(row, centres[first], int(body.owner[first]), away[nearest] / GRIP)
        rows.part(row, centres[second], int(body.owner[second]), -away[nearest] / GRIP)


def residuals(body: Body, task: FrameTask, state: State, placed: Placed) -> tuple[Array, Array]:
    """All residuals (m,) and their derivatives (m, 6 + v) by metre, radian of the pelvis and degree."""
    centres, axes = ellipsoids(body, placed)
    rows = Rows()
    _touch_rows(body, task, centres, axes, rows)
    _hold_rows(body, task, placed, centres, rows)
    _balance_rows(body, task, placed, centres, rows)
    _apart_rows(body, task, centres, axes, rows)
    _meet_rows(body, task, centres, axes, rows)
    values, jacobian = rows.jacobian(placed)
    firm = np.concatenate([1 / np.array(task.position_softness), 180 / np.pi / np.array(task.turn_softness), 1 / task.softness])
    root_values = np.concatenate(
        [
            (state.position - task.position) / np.array(task.position_softness),
            np.degrees(vector_of(state.turn @ task.turn.T)) / np.array(task.turn_softness),
        ]
    )
    over = np.maximum(0, state.angles - task.highest) - np.maximum(0, LOW - state.angles)
    beyond = np.flatnonzero(over)
    return (
        np.concatenate([values, root_values, (state.angles - task.angles) / task.softness, over[beyond] / BEYOND_RANGE]),
        np.vstack([jacobian, _eye() * firm[:, None], _eye()[6 + beyond] / BEYOND_RANGE]),
    )

"""From a solved frame to flat parts: outline, depth and tone of every part of the body as the camera sees it.

Polygons are in drawing units (``handouts.figure.draw.camera``).  Never orders or paints.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry import Point, Polygon
from shapely.geometry.base import BaseGeometry

from handouts.figure.body.body import Body
from handouts.figure.body.joints import SIDES
from handouts.figure.body.linear import inverse
from handouts.figure.body.people import without_parts
from handouts.figure.draw.camera import CM, UNITS_PER_METRE, outline_rings
from handouts.figure.draw.hand import SeenHand, see_hand
from handouts.figure.draw.parts import CUFFS, PartPlan, joins, part_plans
from handouts.figure.draw.rounding import outer, smooth
from handouts.figure.draw.settle import SettledFrame
from handouts.figure.pose.solver import Solved

Array = NDArray[np.floating[Any]]
_FAR = -0.45
"""How far away from the viewer (share of the distance between the sides) a limb must be to be shaded."""


@dataclass(frozen=True, eq=False, slots=True)
class PropFace:
    """A flat face of a prop: corners (n, 2), depth plane (a, b, c: depth = a x + b y + c), tone."""

    corners: Array
    plane: tuple[float, float, float]
    tone: str


@dataclass(frozen=True, eq=False, slots=True)
class PartOutline:
    """One part as seen: ``centres`` (m, 3) and ``inverses`` (m, 3, 3) of its ellipsoids in view space give depth."""

    name: str
    polygon: Polygon
    tone: str
    side: str = ""
    far: bool = False
    centres: Array | None = None
    inverses: Array | None = None
    faces: tuple[PropFace, ...] = ()
    lines: BaseGeometry | None = None
    """Fine lines on the part, such as those between fingers."""
    layer: int = 0
    """Parts of a lower layer always lie under parts of a higher one."""
    room: tuple[tuple[float, float, float], tuple[float, float, float]] | None = None
    """Of a box with edges along the axes: its middle and its half sizes in the world, metres."""
    use: str = ""
    """The prop that it is a part of, as an author types it."""
    held: str = ""
    """Sides of the hands that hold it: a fist encloses it, so it is covered by that hand from every side."""

    @property
    def is_body(self) -> bool:
        """Whether the part belongs to the body."""
        return not self.faces and self.layer == 0 and not self.name.startswith("prop")


@dataclass(frozen=True, eq=False, slots=True)
class Seen:
    """A body as the camera sees it: parts, joints (x, y, radius) by the pair of parts they join."""

    parts: tuple[PartOutline, ...]
    joints: dict[tuple[str, str], tuple[float, float, float]]
    view: Array


def _with_cuffs(body: Body, centres: Array, axes: Array) -> tuple[Array, Array, dict[str, int]]:
    numbers = dict(body.lumps)
    more_centres: list[Array] = []
    more_axes: list[Array] = []
    for side in SIDES:
        for number, (first, share, second, wider) in enumerate(CUFFS):
            one, two = body.lumps[f"{first}.{side}"], body.lumps[f"{second}.{side}"]
            numbers[f"cuff{number}.{side}"] = len(centres) + len(more_centres)
            more_centres.append(centres[one] * (1 - share) + centres[two] * share)
            more_axes.append((axes[one] * (1 - share) + axes[two] * share) * wider)
    return np.vstack([centres, more_centres]), np.concatenate([axes, more_axes]), numbers


def _between(plan: PartPlan, numbers: dict[str, int], centres: Array, axes: Array) -> tuple[Array, Array]:
    """Ellipsoids along a part's chains, with more between them, as centres and inverse axes."""
    first, second, share = [], [], []
    for hull in plan.hulls:
        for place, (one, two) in enumerate(zip(hull, hull[1:], strict=False)):
            parts = (0.0, 0.33, 0.67, 1.0) if one.startswith("sec") and two.startswith("sec") else (0.0, 0.5, 1.0)
            for part in parts if place == 0 else parts[1:]:  # the first is the last of the pair before
                first.append(numbers[one])
                second.append(numbers[two])
                share.append(part)
    weights = np.array(share)
    middle = centres[first] * (1 - weights[:, None]) + centres[second] * weights[:, None]
    spread = axes[first] * (1 - weights[:, None, None]) + axes[second] * weights[:, None, None]
    return middle, inverse(spread)


_FINE = 0.5
"""How far an outline may miss, drawing units (1 mm of the body): fewer points make all that follows sooner."""


def _outlines(plans: tuple[PartPlan, ...], rings: Array, numbers: dict[str, int]) -> list[Polygon]:
    """The outline of each part: hulls of its chains, united and smoothed."""
    clouds, owners = [], []
    for number, plan in enumerate(plans):
        for hull in plan.hulls:
            clouds.append(shapely.multipoints(rings[[numbers[name] for name in hull]].reshape(-1, 2)))
            owners.append(number)
    hulls = shapely.convex_hull(np.array(clouds))
    found = []
    for number, plan in enumerate(plans):
        shape = shapely.union_all(hulls[np.array(owners) == number])
        found.append(outer(smooth(shape, plan.closing * CM, plan.opening * CM).simplify(_FINE)))
    return found


def _is_far(body: Body, solved: Solved, view: Array, name: str, side: str) -> bool:
    if not side:
        return False
    root = "thigh" if name.split(".", 1)[0] in ("thigh", "shank", "shoe", "sole") else "uarm"
    other = "l" if side == "r" else "r"
    between = (
        solved.placed.origins[body.numbers[f"{root}.{side}"]] - solved.placed.origins[body.numbers[f"{root}.{other}"]]
    )
    return float(view[2] @ between) / (UNITS_PER_METRE * float(np.linalg.norm(between))) < _FAR


def _sole_side(body: Body, solved: Solved, view: Array, sole: PartOutline) -> PartOutline:
    """A sole lies over the shoe where it faces the viewer and under it elsewhere: its depth is shifted."""
    down = -solved.placed.rotations[body.numbers[f"foot.{sole.side}"]][:, 1]
    assert sole.centres is not None
    shift = 40.0 if float(view[2] @ down) / UNITS_PER_METRE > 0.12 else -30.0
    return replace(sole, centres=sole.centres + np.array([0.0, 0.0, shift]))


_HEM_BELOW = 0.42
"""Cosine between thigh and trunk up to which the shirt's hem lies over the thigh: a hip bent less than about 65 degrees."""
_HEM_ROOM = 0.075
"""How far from the hip the hem may cover a thigh, fractions of stature."""


def _hemmed(thigh: PartOutline, shirt: Polygon, body: Body, solved: Solved, view: Array) -> PartOutline:
    """The shirt's hem lies over the top of a thigh, unless the hip is bent as in sitting."""
    number = body.numbers[thigh.name]
    if float(solved.placed.rotations[number][:, 1] @ solved.placed.rotations[body.numbers["sp1"]][:, 1]) <= _HEM_BELOW:
        return thigh
    x, y, _ = view @ solved.placed.origins[number]
    top = Point(float(x), float(y)).buffer(_HEM_ROOM * body.stature * UNITS_PER_METRE)
    return replace(thigh, polygon=outer(thigh.polygon.difference(shirt.intersection(top))))


def _hand(part: PartOutline, seen: SeenHand) -> PartOutline:
    """A hand in its grip in place of its ellipsoids, which only the solver needs."""
    inverses = np.eye(3)[None] / seen.radii[:, None, None]
    return replace(part, polygon=seen.outline, lines=seen.lines, centres=seen.centres, inverses=inverses)


def see_body(body: Body, settled: SettledFrame, view: Array) -> Seen:
    """The body's parts under a camera matrix."""
    solved = settled.frame
    centres: Array = solved.centres @ view.T
    axes: Array = np.einsum("ij,njk->nik", view, solved.axes)
    centres, axes, numbers = _with_cuffs(body, centres, axes)
    rings = outline_rings(centres, axes)
    gone = without_parts(body.without)
    plans = tuple(plan for plan in part_plans() if plan.name not in gone)
    parts = []
    for plan, outline in zip(plans, _outlines(plans, rings, numbers), strict=True):
        middle, inverse = _between(plan, numbers, centres, axes)
        parts.append(
            PartOutline(
                plan.name,
                outline,
                plan.tone,
                plan.side,
                _is_far(body, solved, view, plan.name, plan.side),
                middle,
                inverse,
            )
        )
    parts = [_sole_side(body, solved, view, part) if part.tone == "sole" else part for part in parts]
    hands = {f"hand.{side}": see_hand(settled.grasps[side], view, body.stature) for side in SIDES if f"hand.{side}" not in gone}
    parts = [_hand(part, hands[part.name]) if part.name in hands else part for part in parts]
    shirt = next(part.polygon for part in parts if part.name == "shirt")
    parts = [_hemmed(part, shirt, body, solved, view) if part.name.startswith("thigh.") else part for part in parts]
    joints = {}
    for join in joins():
        x, y, _ = view @ solved.placed.origins[body.numbers[join.segment]]
        joints[(join.first, join.second)] = (float(x), float(y), join.radius * body.stature * UNITS_PER_METRE)
    return Seen(tuple(parts), joints, view)

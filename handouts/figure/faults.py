"""The picture of a mistake: one pose, a ring round what goes wrong, and a cross that says: not like this.

The cross is a shape, not a colour, so that it says the same in grey and on a photocopy.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any

import numpy as np
from numpy.typing import NDArray
from shapely.geometry import Point
from shapely.ops import unary_union

from handouts.figure.checks.check_input import CheckInput
from handouts.figure.checks.picture_checks import SAME_POSE, check_figure
from handouts.figure.draw.camera import CM, UNITS_PER_METRE, camera
from handouts.figure.draw.style import DrawnPath, FigureStyle
from handouts.figure.panels import Panel, make_panel
from handouts.figure.pose.faults import in_fault, read_fault
from handouts.figure.pose.motion import SolvedMotion, point_places, solve_motion
from handouts.figure.pose.read import read_figure
from handouts.figure.pose.spec import FigureSpec
from handouts.figure.scene import make_scene, see
from handouts.problems import Problem
from handouts.source.nodes import Mapping

Array = NDArray[np.floating[Any]]
RING = 13 * CM
"""How far a ring stands round its point."""
SIGN_SHARE, LEAST_SIGN = 0.066, 7.5 * CM
"""Radius of the sign: its share of the longer side of the picture, and the least."""
_BETWEEN = 1
"""Frames solved between start and end: nothing is shown of the way."""
_EXCUSED = ("figure-same-pose", "figure-beyond", "figure-hovers")
"""Rules that say nothing of one picture of a mistake."""
_SMALL_THING = (30 * CM) ** 2
"""A thing that looks smaller, such as a towel or a weight, is not hidden by the sign, as the body is not."""
_DIRECTIONS = np.radians(np.arange(-90, 270, 15))


@dataclass(frozen=True, eq=False, slots=True)
class FaultPicture:
    """The picture of a mistake as one panel, and the pose that it shows."""

    panel: Panel
    spec: FigureSpec
    motion: SolvedMotion


def draw_fault(own: Mapping, fault: Mapping, style: FigureStyle) -> tuple[FaultPicture | None, list[Problem]]:
    """The picture of a mistake from the exercise's figure and what differs from it; None where either cannot be read."""
    spec, marks, found = read_fault(own, fault)
    usual, _ = read_figure(own)
    if spec is None or usual is None:
        return None, found
    style = replace(style, person=spec.person or style.person, without=spec.without, smiles=False)
    body = style.body
    motion = solve_motion(spec, body, _BETWEEN)
    right = solve_motion(usual, body, _BETWEEN)
    scene = make_scene(spec, body, motion, style)
    seen = see(scene, scene.frames[-1], {})
    panel = make_panel(scene, 0, (seen,))
    furniture = ((len(motion.frames) - 1, tuple(part for part in seen.ordered if part.room)),)
    case = CheckInput(spec, body, motion, frozenset(), furniture, frozenset(part.use for part in seen.ordered))
    problems = [one for one in check_figure(case) if one.rule not in _EXCUSED]
    problems += _check_differs(spec, motion, right, fault)
    shown = replace(scene.motion, frames=scene.motion.frames[-1:])
    places = [point_places(body, shown.frames, point)[0] @ scene.view.T for point in marks]
    return FaultPicture(_crossed(panel, places), spec, motion), in_fault(problems, fault)


def _check_differs(spec: FigureSpec, motion: SolvedMotion, right: SolvedMotion, fault: Mapping) -> list[Problem]:
    """The mistake is seen: some part lies elsewhere than where the exercise has it."""
    view = camera(spec.view)[:2] / UNITS_PER_METRE
    usual = right.frames[-1 if spec.moves else 0].centres
    shift = float(np.linalg.norm((motion.frames[-1].centres - usual) @ view.T, axis=1).max())
    if shift >= SAME_POSE:
        return []
    what = f"the picture looks like the right one: no part lies 2 cm elsewhere in this view ({shift * 1000:.0f} mm)"
    return [Problem(fault.place, "figure-same-pose", what, "Make the mistake larger, or turn the view toward it.")]


def _crossed(panel: Panel, places: list[Array]) -> Panel:
    """The panel with rings round places (x, y, depth), or what is shown larger; the sign on the first ring, or in a corner."""
    x0, y0, x1, y1 = panel.bounds
    size = max(LEAST_SIGN, SIGN_SHARE * max(x1 - x0, y1 - y0))
    rings = [panel.inset] if panel.inset is not None else _rings(places)
    middle = _free_place(panel, rings, size)
    circles = [_circle((x, y), radius) for x, y, radius in rings]
    marks = [*(DrawnPath("ring-halo", each) for each in circles), *(DrawnPath("ring", each) for each in circles)]
    arm = 0.42 * size
    x, y = (round(float(value)) for value in middle)
    cross = f"M{x - round(arm)} {y - round(arm)}l{2 * round(arm)} {2 * round(arm)}m0{-2 * round(arm)}l{-2 * round(arm)} {2 * round(arm)}"
    marks += [DrawnPath("sign", _circle(middle, size)), DrawnPath("cross", cross)]
    area = unary_union([panel.covered, *(Point(x, y).buffer(radius + CM) for x, y, radius in rings), Point(middle).buffer(size + CM)])
    return replace(panel, marks=(*panel.marks, *marks), bounds=area.bounds, covered=area)


def _rings(places: list[Array]) -> list[tuple[float, float, float]]:
    """Middle and radius of each ring; one ring round two places that are near each other, such as both knees."""
    if len(places) == 2:
        apart = float(np.hypot(*(places[0] - places[1])[:2]))
        if apart < 2 * RING:
            x, y = ((places[0] + places[1]) / 2)[:2]
            return [(float(x), float(y), max(RING, apart / 2 + 0.75 * RING))]
    return [(float(place[0]), float(place[1]), RING) for place in places]


def _free_place(panel: Panel, rings: list[tuple[float, float, float]], size: float) -> tuple[float, float]:
    """The middle of the sign: on the first ring where it hides least of the picture, else in the freest upper corner."""
    x0, y0, x1, y1 = panel.bounds
    if rings:
        at = [
            (x + float(np.cos(turn)) * (radius + share * size), y + float(np.sin(turn)) * (radius + share * size))
            for share in (0.6, 1.0)
            for x, y, radius in rings
            for turn in _DIRECTIONS
        ]
    else:
        at = [(x1 - size, y0 + size), (x0 + size, y0 + size)]
    pieces = unary_union([piece.shape for piece in panel.pieces if not piece.names[0].startswith("prop") or piece.shape.area < _SMALL_THING])

    def cost(one: tuple[float, float]) -> float:
        sign = Point(one).buffer(size)
        outside = max(x0 - one[0] + size, one[0] + size - x1, 0) + max(y0 - one[1] + size, one[1] + size - y1, 0)
        hides = sum(sign.intersection(Point(x, y).buffer(radius)).area for x, y, radius in rings)
        return float((sign.intersection(pieces).area + 0.5 * hides) / sign.area + 0.3 * outside / size)

    return min(at, key=cost)


def _circle(middle: tuple[float, float], radius: float) -> str:
    """A circle as path text."""
    x, y, r = round(float(middle[0])), round(float(middle[1])), round(radius)
    return f"M{x - r} {y}a{r} {r} 0 1 0 {2 * r} 0a{r} {r} 0 1 0 {-2 * r} 0z"

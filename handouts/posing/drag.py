"""A hand, foot, elbow, knee or the head dragged to where it should be: the angles that bring it there.

The fewest joints that reach the place are turned, so that few angles are to be written; a limb that is lifted off what it
touched lets go of it, one that is moved along it slides.  Pure.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from handouts.figure.body.angles import LOW, Angles
from handouts.figure.body.body import Body
from handouts.figure.body.gaps import gaps
from handouts.figure.body.joints import INDEX
from handouts.figure.body.kinematics import Placed, ellipsoids, local_point, place, point_motion
from handouts.figure.body.linear import solve_positive
from handouts.figure.body.people import without_points
from handouts.figure.body.sites import ARM_SITES, LEG_SITES, LIMB_SITES, POINTS
from handouts.figure.draw.camera import UNITS_PER_METRE, camera
from handouts.figure.pose.joint_limits import highest_of
from handouts.figure.pose.motion import SolvedMotion
from handouts.figure.pose.names import KEYS
from handouts.figure.pose.solver import Solved
from handouts.figure.pose.spec import FigureSpec
from handouts.posing.edits import contacts_of, set_angles, set_contacts
from handouts.posing.yaml_edits import set_items

Array = NDArray[np.floating[Any]]
HANDLES: dict[str, tuple[tuple[str, ...], ...]] = {
    "hand": (("shoulder.flex", "elbow.flex"), ("shoulder.abd", "elbow.flex"), ("shoulder.flex", "shoulder.abd", "elbow.flex")),
    "elbow": (("shoulder.flex",), ("shoulder.abd",), ("shoulder.flex", "shoulder.abd")),
    "foot": (("hip.flex", "knee.flex"), ("hip.abd",), ("hip.flex", "hip.abd", "knee.flex")),
    "knee": (("hip.flex",), ("hip.abd",), ("hip.flex", "hip.abd")),
    "head": (("neck.flex",), ("neck.side",), ("neck.flex", "neck.side")),
}
"""What can be dragged, and the joints that are turned for it: the first row that reaches is taken."""
_LIMB = {"hand": ARM_SITES, "elbow": ARM_SITES, "foot": LEG_SITES, "knee": LEG_SITES, "head": frozenset(("head",))}
_REACHED = {1: 0.06, 2: 0.035, 3: 0.0}
"""Metres from the pointer at which a place counts as reached, by the number of joints that are turned: a single joint moves
its point on an arc, and a hand that drags strays from it."""
_STEPS = 14
_HINGES = ("elbow.flex", "knee.flex")
_BENT = (0.0, 40.0)
"""Degrees by which a hinge is bent for each first guess, the joint above it by half: from straight no small turn shortens a limb."""
_LEAST_TURN = 2.0
"""Degrees by which a joint must turn to be written, where it is not written yet."""
_TOUCHES = 0.06
"""Metres above what it touched at which a part that was dragged still rests on it."""
_SLID = 0.03
"""Metres along what it touches from which a part has slid."""


@dataclass(frozen=True, slots=True)
class Drag:
    """A point of the body and where it should be in a picture: 1 or 2, and drawing units of that picture."""

    picture: int
    point: str
    side: str
    x: float
    y: float


def handle_places(spec: FigureSpec, body: Body, frame: Solved) -> dict[str, tuple[float, float, float]]:
    """Where each handle is: in the picture and toward the viewer, drawing units; those of limbs that are there."""
    view = camera(spec.view)
    found = {}
    for name in HANDLES:
        for side in ("r", "l") if POINTS[name][0].endswith(".") else ("",):
            if (name, side or "r") not in without_points(spec.without):
                x, y, near = view @ _point(body, frame.placed, name, side)
                found[f"{name}.{side}" if side else name] = (float(x), float(y), float(near))
    return found


def _point(body: Body, placed: Placed, name: str, side: str) -> Array:
    segment, offset = POINTS[name]
    z = -1 if side == "l" else 1
    return local_point(body, placed, segment + side if segment.endswith(".") else segment, (offset[0], offset[1], offset[2] * z))


def _variable(name: str, side: str) -> int:
    joint, axis = name.split(".")
    return INDEX[f"{joint}.{side}.{axis}" if side else name]


def _turn(spec: FigureSpec, body: Body, frame: Solved, drag: Drag, names: tuple[str, ...], bent: float) -> tuple[float, Angles]:
    """How far from the place the point ends, metres, and the angles (v,), turning some joints only, from a first guess that is ``bent``."""
    view = camera(spec.view)[:2] / UNITS_PER_METRE
    goal = np.array([drag.x, drag.y]) / UNITS_PER_METRE
    free = np.array([_variable(name, drag.side) for name in names])
    highest = highest_of(spec)
    name = POINTS[drag.point][0]
    segment = body.numbers[name + drag.side if name.endswith(".") else name]

    def point_at(angles: Angles) -> tuple[Placed, Array, float]:
        placed = place(body, angles, frame.state.turn, frame.state.position)
        point = _point(body, placed, drag.point, drag.side)
        miss = view @ point - goal
        return placed, point, float(miss @ miss)

    angles = frame.state.angles.copy()
    angles[free] = np.clip(angles[free] + [bent if name in _HINGES else bent / 2 for name in names], LOW[free], highest[free])
    placed, point, cost = point_at(angles)
    damping = 1e-3
    for _ in range(_STEPS):
        _, by_angle = point_motion(placed, np.stack([point, point]), np.array([segment, segment]), view)
        slope = by_angle[:, free] * (np.pi / 180)
        matrix = slope.T @ slope + np.eye(len(free)) * damping * (np.pi / 180) ** 2
        step = solve_positive(matrix, slope.T @ (view @ point - goal))
        trial = angles.copy()
        trial[free] = np.clip(angles[free] - np.clip(step, -25, 25), LOW[free], highest[free])
        tried = point_at(trial)
        if tried[2] < cost:
            angles, (placed, point, cost), damping = trial, tried, damping * 0.3
        else:
            damping *= 6
    found = frame.state.angles.copy()
    found[free] = np.round(angles[free])
    return float(np.sqrt(cost)), found


def drag_angles(spec: FigureSpec, body: Body, frame: Solved, drag: Drag) -> tuple[dict[str, float], Solved]:
    """The angles that bring a point to its place, whole degrees by variable, and the frame with them, not solved again."""
    best: tuple[float, Angles, tuple[str, ...]] | None = None
    for names in HANDLES[drag.point]:
        tried = [_turn(spec, body, frame, drag, names, bent) for bent in _BENT]
        away, angles = min(tried, key=lambda one: one[0])
        if best is None or away < best[0] - 0.01:
            best = (away, angles, names)
        if away <= _REACHED[len(names)]:
            break
    assert best is not None
    _, angles, names = best
    placed = place(body, angles, frame.state.turn, frame.state.position)
    centres, axes = ellipsoids(body, placed)
    turned = {name: float(angles[_variable(name, drag.side)]) for name in names}
    said = {(f"{name.split('.')[0]}.{drag.side}.{name.split('.')[1]}" if drag.side else name): degrees for name, degrees in turned.items()}
    return said, Solved(frame.state, placed, centres, axes, 0.0)


def _gap(body: Body, motion: SolvedMotion, frame: Solved, site: str, target: str, number: int) -> tuple[float, Array]:
    """How far a site is above what it touches, metres, and where it is."""
    name, _, side = site.rpartition(".") if site.rpartition(".")[2] in ("r", "l") else (site, "", "")
    surface = motion.worlds[number].surfaces.get(target)
    groups = LIMB_SITES.get(name)
    if surface is None or groups is None:
        return np.inf, np.zeros(3)
    lumps = [body.lumps[f"{lump}.{side}"] for group in groups for lump in group]
    found = gaps(surface, frame.centres, frame.axes)[0][lumps]
    return float(found.min()), np.asarray(frame.centres[lumps].mean(axis=0))


def apply_drag(text: str, spec: FigureSpec, body: Body, motion: SolvedMotion, drag: Drag) -> str:
    """The figure's text with the angles of a drag, and what its limb touches after it."""
    number = 0 if drag.picture == 1 else len(motion.frames) - 1
    frame = motion.frames[number]
    angles, turned = drag_angles(spec, body, frame, drag)
    before, after = contacts_of(text, drag.picture), []
    slid: list[str] = []
    for site, target in before:
        name, _, side = site.rpartition(".")
        if (name or site) not in _LIMB[drag.point] or (side and side != drag.side):
            after.append((site, target))
            continue
        gap, there = _gap(body, motion, turned, site, target, number)
        if abs(gap) <= _TOUCHES:
            after.append((site, target))
            if float(np.linalg.norm(there - _gap(body, motion, motion.frames[0], site, target, 0)[1])) > _SLID:
                slid.append(site)
    later = contacts_of(text, 2) if drag.picture == 1 and spec.moves else None
    typed = {angle.variable for angle in ((*spec.start, *spec.end) if drag.picture == 2 else spec.start)}
    kept = {name: degrees for name, degrees in angles.items() if name in typed or abs(degrees - frame.state.angles[INDEX[name]]) >= _LEAST_TURN}
    text = set_angles(text, drag.picture, kept)
    if sorted(after) != sorted(before):
        text = set_contacts(text, drag.picture, after)
        if later is not None:
            text = set_contacts(text, 2, later)
    known = [str(one) for one in spec.slide]
    more = [site for site in slid if site not in known and site.rpartition(".")[0] not in known]
    return set_items(text, "slide", (*known, *more), KEYS) if more and drag.picture == 2 else text

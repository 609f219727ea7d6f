"""Which points have an arrow, and where the arrows stand: beside the paths, free of body, props and muscles.

Paths are those of the settled frames, so that an arrow goes with what is drawn.
"""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry
from shapely.ops import unary_union

from handouts.figure.body.joints import INDEX
from handouts.figure.body.sites import POINTS
from handouts.figure.draw.arrows import WEIGHTS, Arrow, arrow_of, cost_map
from handouts.figure.draw.camera import CM
from handouts.figure.draw.silhouette import PartOutline
from handouts.figure.pose.motion import point_places
from handouts.figure.pose.spec import Named
from handouts.figure.scene import Scene, View

Array = NDArray[np.floating[Any]]
_LEG = frozenset({"thigh.", "shank.", "foot.", "toes."})
_JOINTS = {True: ("hip", "knee", "ankle", "toes"), False: ("shoulder", "elbow")}
"""Joints of a leg, and of an arm."""
_IN_BOTH_HANDS = frozenset({"stick", "weighted-ball", "towel", "exercise-ball"})
_ALIKE, _MOVES = 8.0, 8.0
"""Degrees within which two limbs do the same, and from which a joint moves."""
_AS_FAR, _ELSEWHERE = 0.6, 11 * CM
"""A second arrow: its point moves this share of the first one's way, and ends this far from it."""
_TWIN_OVER, _TWIN_ASIDE = 1.0, 17 * CM
"""A second arrow that would lie on something, or far from its limb, is left out."""
_SHORTEST = 0.06
"""Metres: of three pictures and more each has the arrow of the point that moves most, where it moves so far."""
_KINDS = {"head": "head", "hair": "head", "hand": "hand", "shoe": "shoe", "sole": "shoe"}


def _kind(part: PartOutline) -> str:
    """What a part is to an arrow: a key of ``WEIGHTS``."""
    if not part.is_body:
        return "band" if part.tone in ("band", "stick") else "thing"
    return _KINDS.get(part.name.split(".")[0], "body")


def _both_do_it(scene: Scene, way: slice, leg: bool) -> bool:
    """Whether both legs, or both arms, do the same on a way."""
    tasks = scene.motion.tasks[way]
    change = tasks[-1].angles - tasks[0].angles
    pairs = [
        (float(change[number]), float(change[INDEX[name.replace(".r.", ".l.")]]))
        for name, number in INDEX.items()
        if ".r." in name and name.split(".")[0] in _JOINTS[leg]
    ]
    return all(abs(one - two) < _ALIKE for one, two in pairs) and any(abs(one) > _MOVES for one, _ in pairs)


def _twin(scene: Scene, way: slice, point: Named) -> Named | None:
    """The same point of the other side, if that does the same and has no arrow of its own."""
    segment = POINTS[point.name][0]
    if not segment.endswith("."):
        return None
    other = Named(point.name, "l" if (point.side or "r") == "r" else "r")
    leg = segment in _LEG
    shared = not leg and any(use.name in _IN_BOTH_HANDS for use in scene.spec.props)
    return None if shared or other in scene.spec.arrow or not _both_do_it(scene, way, leg) else other


def _paths(scene: Scene, way: slice) -> list[tuple[Array, bool]]:
    """The flat path of each arrow on a way between two pictures, and whether it is a second one, which may be left out."""
    frames, points = scene.motion.frames[way], scene.spec.arrow
    if len(scene.motion.pictures) > 2:
        length = {point: float(np.linalg.norm(np.diff(point_places(scene.body, frames, point), axis=0), axis=1).sum()) for point in points}
        points = tuple(point for point in points if length[point] >= max(_SHORTEST, 0.999 * max(length.values())))
    flat = scene.view[:2].T
    found: list[tuple[Array, bool]] = []
    for point in points:
        path: Array = point_places(scene.body, frames, point) @ flat
        found.append((path, False))
        other = _twin(scene, way, point)
        if other is not None:
            twin: Array = point_places(scene.body, frames, other) @ flat
            moved, moves = (float(np.linalg.norm(one[-1] - one[0])) for one in (path, twin))
            if moves > _AS_FAR * moved and np.linalg.norm(path[-1] - twin[-1]) > _ELSEWHERE:
                found.append((twin, True))
    return found


def arrows_of(
    scene: Scene, number: int, seen: View, muscles: list[BaseGeometry], picture: BaseGeometry, ghost: BaseGeometry | None
) -> list[Arrow]:
    """The arrows of a panel, from the picture before: ``muscles`` and ``ghost`` are drawn there too, ``picture`` is all of it."""
    way = slice(scene.motion.pictures[number - 1], scene.motion.pictures[number] + 1)
    groups: dict[str, list[BaseGeometry]] = {"hatch": muscles, "ghost": [ghost] if ghost is not None else []}
    for part in seen.ordered:
        if part.name != "prop mat":
            groups.setdefault(_kind(part), []).append(part.polygon)
    costs = cost_map(picture.bounds, [(unary_union(shapes), WEIGHTS[kind]) for kind, shapes in groups.items() if shapes])
    found: list[Arrow] = []
    for path, second in _paths(scene, way):
        arrow = arrow_of(path, costs)
        if arrow is None or (second and (arrow.over > _TWIN_OVER or arrow.aside > _TWIN_ASIDE)):
            continue
        costs.add(arrow.room, WEIGHTS["arrow"])
        found.append(arrow)
    return found

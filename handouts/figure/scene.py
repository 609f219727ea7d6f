"""What is drawn, and a frame of it as the camera sees it: parts of the body and of the props in the order of painting."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any

import numpy as np
from numpy.typing import NDArray
from shapely.geometry import Polygon

from handouts.figure.body.body import Body
from handouts.figure.draw.camera import camera
from handouts.figure.draw.depth import Hints, painting_order
from handouts.figure.draw.head import hair_part
from handouts.figure.draw.settle import SettledFrame, settle_all
from handouts.figure.draw.silhouette import PartOutline, Seen, see_body
from handouts.figure.draw.style import FigureStyle
from handouts.figure.pose.motion import SolvedMotion
from handouts.figure.pose.solver import Solved
from handouts.figure.pose.spec import FigureSpec
from handouts.figure.props.props import prop_parts
from handouts.figure.props.scene import PropScene

Array = NDArray[np.floating[Any]]


@dataclass(frozen=True, eq=False, slots=True)
class Scene:
    """What is drawn: the figure's spec, the body, its settled frames and their motion, the camera matrix and the style."""

    spec: FigureSpec
    body: Body
    frames: tuple[SettledFrame, ...]
    motion: SolvedMotion
    view: Array
    style: FigureStyle

    def at(self, settled: SettledFrame) -> FigureSpec:
        """The figure as it stands in a frame: on the base of the picture that it leads to."""
        number = next((n for n, one in enumerate(self.frames) if one is settled), 0)
        stations = self.spec.stations[: -(-number // self.motion.step) + 1]
        base = next((one.base for one in reversed(stations) if one.base), self.spec.base)
        return self.spec if base == self.spec.base else replace(self.spec, base=base)


@dataclass(frozen=True, eq=False, slots=True)
class View:
    """A frame as seen: the frame itself, ordered parts, joints, body outline by part name."""

    frame: Solved
    ordered: tuple[PartOutline, ...]
    joints: dict[tuple[str, str], tuple[float, float, float]]
    outlines: dict[str, Polygon]
    over: Hints


def make_scene(spec: FigureSpec, body: Body, motion: SolvedMotion, style: FigureStyle) -> Scene:
    """The scene of a solved motion: each of its frames settled for drawing."""
    view = camera(spec.view)
    frames = settle_all(spec, body, motion, view)
    return Scene(spec, body, frames, replace(motion, frames=tuple(one.frame for one in frames)), view, style)


def parts_of(scene: Scene, settled: SettledFrame) -> tuple[Seen, list[PartOutline]]:
    """The body as seen in a frame, and all parts: body, hair and props."""
    seen = see_body(scene.body, settled, scene.view)
    hair = hair_part(scene.body, settled.frame, scene.view, scene.style)
    props = prop_parts(PropScene(scene.at(settled), scene.body, scene.motion, settled.frame, scene.view))
    return seen, [*seen.parts, *([hair] if hair else []), *props]


def see(scene: Scene, settled: SettledFrame, hints: Hints) -> View:
    """All parts of a frame in the order of painting; ``hints`` from a frame seen before."""
    seen, parts = parts_of(scene, settled)
    outlines = {part.name: part.polygon for part in parts if part.is_body}
    ordered, over = painting_order(tuple(part for part in parts if not part.polygon.is_empty), hints)
    return View(settled.frame, ordered, seen.joints, outlines, over)

"""Each solved frame of a movement as a figure of one panel, all in one box: to look at the motion while posing.

Only for authors; pages show the movement from ``animation``.
"""

from __future__ import annotations

from dataclasses import replace

from handouts.figure.body.body import make_body
from handouts.figure.compute import Figure
from handouts.figure.draw.camera import camera
from handouts.figure.draw.depth import Hints
from handouts.figure.panels import Panel, Scene, lay_out, make_panel, see


def frame_figures(figure: Figure) -> tuple[Figure, ...]:
    """One figure a frame, from the start pose to the end pose, drawn in the same box."""
    body = make_body(figure.style.stature, figure.style.build)
    view = camera(figure.spec.view)
    panels: list[Panel] = []
    hints: Hints = {}
    for frame in figure.motion.frames:
        scene = Scene(figure.spec, body, figure.motion, view, figure.style)
        seen = see(scene, frame, hints)
        hints = seen.over
        alone = replace(scene, motion=replace(figure.motion, frames=(frame,)))
        panels.append(make_panel(alone, 0, (seen,)))
    bounds = [panel.bounds for panel in panels]
    box = (
        min(item[0] for item in bounds), min(item[1] for item in bounds),
        max(item[2] for item in bounds), max(item[3] for item in bounds),
    )  # fmt: skip
    boxed = [replace(panel, bounds=box) for panel in panels]
    return tuple(
        replace(figure, panels=(panel,), layout=lay_out((panel,)), problems=()) for panel in boxed
    )

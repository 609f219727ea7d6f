"""Each solved frame of a movement as a figure of one panel, all in one box: to look at the motion while posing.

Only for authors; pages show the movement from ``animation``.
"""

from __future__ import annotations

from dataclasses import replace

from handouts.figure.compute import Figure
from handouts.figure.draw.depth import Hints
from handouts.figure.panels import Panel, lay_out, make_panel
from handouts.figure.scene import make_scene, see


def frame_figures(figure: Figure) -> tuple[Figure, ...]:
    """One figure a frame, from the start pose to the end pose, drawn in the same box."""
    scene = make_scene(figure.spec, figure.style.body, figure.motion, figure.style)
    panels: list[Panel] = []
    hints: Hints = {}
    for frame in scene.frames:
        seen = see(scene, frame, hints)
        hints = seen.over
        panels.append(make_panel(scene, 0, (seen,)))
    bounds = [panel.bounds for panel in panels]
    box = (
        min(item[0] for item in bounds), min(item[1] for item in bounds),
        max(item[2] for item in bounds), max(item[3] for item in bounds),
    )  # fmt: skip
    boxed = [replace(panel, bounds=box) for panel in panels]
    return tuple(
        replace(figure, panels=(panel,), layout=lay_out((panel,), figure.spec.base), problems=()) for panel in boxed
    )

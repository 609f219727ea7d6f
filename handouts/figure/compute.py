"""From a spec to a figure: solved frames, largest angles, facts, problems and the drawing.

Pure and deterministic: the same spec and style give the same bytes.
"""

from __future__ import annotations

from dataclasses import dataclass

from handouts.figure.body import make_body
from handouts.figure.camera import camera
from handouts.figure.motion import Motion, solve_motion
from handouts.figure.panels import Layout, Panel, lay_out, make_panel, see
from handouts.figure.spec import FigureSpec
from handouts.figure.style import FigureStyle
from handouts.problems import Problem


@dataclass(frozen=True, eq=False, slots=True)
class Figure:
    """A computed figure."""

    spec: FigureSpec
    style: FigureStyle
    motion: Motion
    panels: tuple[Panel, ...]
    layout: Layout
    problems: tuple[Problem, ...]


def compute_figure(spec: FigureSpec, style: FigureStyle = FigureStyle()) -> Figure:
    """Compute a figure."""
    body = make_body(style.stature, style.build)
    motion = solve_motion(spec, body)
    view = camera(spec.view)
    shown = (motion.frames[0], motion.frames[-1]) if spec.moves else (motion.frames[0],)
    views = tuple(see(spec, body, motion, frame, view, style) for frame in shown)
    panels = tuple(make_panel(spec, body, motion, number, views, view) for number in range(len(shown)))
    return Figure(spec, style, motion, panels, lay_out(panels), ())

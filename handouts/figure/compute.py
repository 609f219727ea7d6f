"""From a spec to a figure: solved frames, largest angles, facts, problems and the drawing.

Pure and deterministic: the same spec and style give the same bytes.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from handouts.figure.checks.check_input import CheckInput
from handouts.figure.checks.picture_checks import check_figure
from handouts.figure.draw.style import FigureStyle
from handouts.figure.panels import Panel, PanelLayout, lay_out, make_panel
from handouts.figure.pose.fact_values import Extreme, Facts
from handouts.figure.pose.facts import largest_angles, make_facts
from handouts.figure.pose.motion import SolvedMotion, solve_motion
from handouts.figure.pose.spec import FigureSpec
from handouts.figure.scene import View, make_scene, see
from handouts.problems import Problem


@dataclass(frozen=True, eq=False, slots=True)
class Figure:
    """A computed figure: its motion, its panels with their layout, its facts, and what is wrong with it."""

    spec: FigureSpec
    style: FigureStyle
    motion: SolvedMotion
    panels: tuple[Panel, ...]
    layout: PanelLayout
    facts: Facts
    problems: tuple[Problem, ...]


_USUAL_STYLE = FigureStyle()


def compute_figure(spec: FigureSpec, style: FigureStyle = _USUAL_STYLE) -> Figure:
    """Compute a figure: solve its frames, draw its panels, check it; what is drawn is settled, what is checked is not."""
    style = replace(style, person=spec.person or style.person, without=spec.without)
    body = style.body
    motion = solve_motion(spec, body)
    scene = make_scene(spec, body, motion, style)
    numbers = motion.pictures
    shown = tuple(scene.frames[number] for number in numbers)
    views: tuple[View, ...] = ()
    for frame in shown:
        views += (see(scene, frame, views[-1].over if views else {}),)
    panels = tuple(make_panel(scene, number, views) for number in range(len(shown)))
    muscles = frozenset(mark.muscle for mark in panels[-1].marks if mark.muscle)
    furniture = tuple(
        (number, tuple(part for part in seen.ordered if part.room))
        for number, seen in zip(numbers, views, strict=False)
    )
    drawn = frozenset(part.use for seen in views for part in seen.ordered)
    problems = check_figure(CheckInput(spec, body, motion, muscles, furniture, drawn))
    return Figure(spec, style, motion, panels, lay_out(panels, spec.base), make_facts(spec, motion), problems)


def extremes(figure: Figure) -> Mapping[str, Extreme]:
    """For each clinical motion ('hip flexion', ...) the largest angle over the solved motion, its side and phase."""
    return largest_angles(figure.motion)


def facts(figure: Figure) -> Facts:
    """The facts from which a text is composed."""
    return figure.facts

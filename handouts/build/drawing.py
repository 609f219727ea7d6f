"""One figure, read, solved and drawn: a pure task for any process."""

from __future__ import annotations

import re

from handouts.build.drawn import DESCRIPTION, IDENT, TITLE, Drawing, FaultDrawing
from handouts.figure import (
    FigureStyle,
    compute_figure,
    extremes,
    facts,
    joint_angles,
    motion_data,
    panel_sums,
    panel_svg,
    presentation_svg,
    read_figure,
    svg_of,
)
from handouts.figure.faults import draw_fault
from handouts.figure.file_style import style_for
from handouts.figure.half import HALF, halve_picture
from handouts.figure.svg import one_panel_svg
from handouts.limits.demands import trained_side
from handouts.limits.shown import keep_moved
from handouts.model import Side
from handouts.problems import Problem
from handouts.source.nodes import Mapping

# A booklet shows a figure twice, and a PDF takes its words from title and desc without ids.
_IDS = re.compile(r' (?:id|aria-labelledby)="[^"]*"')


_SHOWN = {"l": Side.LEFT, "r": Side.RIGHT, "": Side.TOGETHER}


def _bare(panel: str) -> tuple[str, str]:
    """A small picture before and after the place of its style sheet, without words: the page that shows it says them."""
    head, tail = _IDS.sub("", panel).split("<title", 1)
    return head.replace(' role="img"', ""), tail.partition("</desc>")[2]


def draw_one(written: Mapping, css: str, person: str = "") -> tuple[Drawing | None, tuple[Problem, ...]]:
    """The figure that an author wrote, with the ``person`` whom the clinic shows; None where it cannot be read."""
    spec, found = read_figure(written)
    if spec is None:
        return None, tuple(found)
    figure = compute_figure(spec, FigureStyle(person=person))
    panel = panel_svg(figure, -1, TITLE, DESCRIPTION, IDENT)
    head, tail = _bare(halve_picture(panel))
    drawing = Drawing(
        screen=svg_of(figure, TITLE, DESCRIPTION, IDENT),
        paper=_IDS.sub("", presentation_svg(figure, TITLE, DESCRIPTION, IDENT, css)),
        screen_from_right=svg_of(figure, TITLE, DESCRIPTION, IDENT, from_right=True),
        paper_from_right=_IDS.sub("", presentation_svg(figure, TITLE, DESCRIPTION, IDENT, css, from_right=True)),
        panel=f"{head}<style>{style_for(css, panel, HALF)}</style>{tail}",
        extremes=extremes(figure),
        facts=facts(figure),
        angles=keep_moved(joint_angles(figure.motion)),
        motion=motion_data(figure),
        shows=_SHOWN[trained_side(facts(figure))],
        sums=panel_sums(figure),
    )
    return drawing, (*found, *figure.problems)


def draw_mistake(written: tuple[Mapping, Mapping], css: str, person: str = "") -> tuple[FaultDrawing | None, tuple[Problem, ...]]:
    """The picture of a mistake from the exercise's figure and what differs from it; None where it cannot be drawn."""
    picture, found = draw_fault(*written, FigureStyle(person=person))
    if picture is None:
        return None, tuple(found)
    screen, paper = (one_panel_svg(picture.panel, TITLE, DESCRIPTION, IDENT, style) for style in ("", css))
    x0, _, x1, _ = picture.panel.bounds
    return FaultDrawing(screen, _IDS.sub("", paper), (round(x0 + x1),)), tuple(found)

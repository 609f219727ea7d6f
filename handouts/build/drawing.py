"""One figure, drawn: a pure task for any process.

A drawing has blanks for title, description and ident, so that one serves every page and language.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from handouts.figure import (
    Extreme,
    Facts,
    FigureSpec,
    compute_figure,
    extremes,
    facts,
    joint_angles,
    motion_data,
    panel_svg,
    presentation_svg,
    svg_of,
)
from handouts.figure.file_style import style_for
from handouts.figure.half import HALF, halve_picture
from handouts.limits.motions import Frame
from handouts.limits.shown import keep_moved
from handouts.problems import Problem

TITLE, DESCRIPTION, IDENT = "BLANKTITLE", "BLANKDESCRIPTION", "BLANKIDENT"
"""Blanks in a kept drawing; no path or class holds these letters."""
# A booklet shows a figure twice, and a PDF takes its words from title and desc without ids.
_IDS = re.compile(r' (?:id|aria-labelledby)="[^"]*"')


@dataclass(frozen=True, slots=True)
class Drawing:
    """One exercise's figure as texts with blanks, and what was computed with it."""

    screen: str
    """Inline SVG coloured by classes."""
    paper: str
    """Inline SVG coloured by attributes: the PDF writer applies no style sheet inside a picture."""
    screen_from_right: str
    paper_from_right: str
    """The same with the panels in the order of a text read from the right; what they show is not mirrored."""
    panel: str
    """The end pose alone, as a file with its style sheet inside."""
    extremes: Mapping[str, Extreme]
    facts: Facts
    angles: tuple[Frame, ...]
    """The joint angles of every frame, for movement limits."""
    motion: Mapping[str, Any]
    """How the end picture moves, for the phone (``handouts.figure.motion_data``)."""


def _bare(panel: str) -> tuple[str, str]:
    """A small picture before and after the place of its style sheet, without words: the page that shows it says them."""
    head, tail = _IDS.sub("", panel).split("<title", 1)
    return head.replace(' role="img"', ""), tail.partition("</desc>")[2]


def draw_one(spec: FigureSpec, css: str) -> tuple[Drawing, tuple[Problem, ...]]:
    """One figure, solved and drawn; for any process."""
    figure = compute_figure(spec)
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
    )
    return drawing, tuple(figure.problems)

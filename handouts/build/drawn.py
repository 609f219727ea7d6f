"""One exercise's figure as values: its SVG for pages and paper, and the facts and angles that others ask for.

A drawing has blanks for title, description and ident, so that one serves every page and language.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from handouts.figure.pose.fact_values import Extreme, Facts
from handouts.limits.motions import Frame
from handouts.model import Side

TITLE, DESCRIPTION, IDENT = "BLANKTITLE", "BLANKDESCRIPTION", "BLANKIDENT"
"""Blanks in a kept drawing; no path or class holds these letters."""


@dataclass(frozen=True, slots=True)
class PreparedPicture:
    """The clinic's own picture as inline SVG with blanks, and small as a file of its own."""

    shown: str
    panel: str


@dataclass(frozen=True, slots=True)
class FaultDrawing:
    """The picture of a mistake as inline SVG with blanks: coloured by classes, by attributes for paper; and its sum as ``Drawing.sums``."""

    screen: str
    paper: str
    sums: tuple[int, ...]


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
    shows: Side
    """``LEFT`` or ``RIGHT``, which the picture shows trained; ``TOGETHER`` where it does not tell."""
    sums: tuple[int, ...]
    """For the mirrored picture (``handouts.figure.mirror_svg``)."""

"""One picture for a link that is shared: a pure task for any process."""

from __future__ import annotations

from handouts.paper.picture import svg_png
from handouts.problems import Problem
from handouts.tasks.calling import File


def draw_one(svg: str, width: int) -> tuple[File, tuple[Problem, ...]]:
    """One picture, so many pixels wide."""
    png, problems = svg_png(svg, width)
    return File(png), problems

"""One picture for a link that is shared: a pure task for any process."""

from __future__ import annotations

from handouts.paper.picture import svg_png
from handouts.paper.previews import WIDTH
from handouts.problems import Problem


def draw_one(svg: str) -> tuple[bytes, tuple[Problem, ...]]:
    """One picture."""
    return svg_png(svg, WIDTH)

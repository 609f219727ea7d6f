"""Outlines of drawings, written once: the same figure stands on every paper, in every size and language, and in books.

The writer reads the numbers of a path and writes them in its own way, which depends on nothing but the path.  Knows
the writer's function by what it does, never its modules.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

MOST = 4_000
"""Outlines that are kept, of 2 kB each at most in the demo; at more all are dropped.  A figure has about 40."""


def keep_outlines(draw: Callable[[Any, Any, float], None]) -> Callable[[Any, Any, float], None]:
    """The writer's function that draws a path, with what it wrote kept where the drawing's fetcher ``shares``."""
    kept: dict[str, tuple[bytes, tuple[Any, ...]]] = {}

    def draw_kept(svg: Any, node: Any, font_size: float) -> None:
        path = node.get("d", "")
        if not getattr(svg.url_fetcher, "shares", False):
            draw(svg, node, font_size)
        elif path in kept:
            written, corners = kept[path]
            svg.stream.stream.append(written)
            node.vertices.extend(corners)
        else:
            before = len(svg.stream.stream)
            draw(svg, node, font_size)
            if len(kept) >= MOST:
                kept.clear()
            kept[path] = b"\n".join(svg.stream.stream[before:]), tuple(node.vertices)

    return draw_kept

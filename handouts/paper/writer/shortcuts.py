"""What the writer works out for each box and page anew, though it is the same for all of a style, or nothing here asks for it.

Knows the writer's functions by what they do, never its modules.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Any

_LENGTHS = (
    *(f"{kind}_{side}" for kind in ("margin", "padding") for side in ("left", "right", "top", "bottom")),
    *(f"{bound}{side}" for bound in ("", "min_", "max_") for side in ("width", "height")),
)
"""Lengths of a box that may be a part of the box around it."""
_SET = (*_LENGTHS, *(f"border_{side}_width" for side in ("left", "right", "top", "bottom")))


def keep_lengths(resolve: Callable[[Any, Any], None]) -> Callable[[Any, Any], None]:
    """The writer's function that gives a box the lengths of its style, with these kept where none is a part of the box around it."""

    def resolve_kept(box: Any, containing_block: Any) -> None:
        known = box.style.__dict__.get("lengths")
        if known:
            box.__dict__.update(known)
            return
        resolve(box, containing_block)
        if known is None:
            box.style.lengths = {name: box.__dict__[name] for name in _SET} if _is_fixed(box.style) else {}

    return resolve_kept


def _is_fixed(style: Any) -> bool:
    lengths = (style[name] for name in _LENGTHS)
    return style["border_collapse"] != "collapse" and all(each in ("auto", None) or getattr(each, "unit", None) == "px" for each in lengths)


_MARGINS = (
    *(f"@{edge}-{part}" for edge in ("top", "bottom") for part in ("left-corner", "left", "center", "right", "right-corner")),
    *(f"@{edge}-{part}" for edge in ("left", "right") for part in ("top", "middle", "bottom")),
)
"""Names of the sixteen boxes in the margins of a page (CSS Paged Media 3, 4.2)."""


def skip_margins(make: Callable[[Any, Any, Any], Iterator[Any]]) -> Callable[[Any, Any, Any], Iterator[Any]]:
    """The writer's function that makes the boxes in the margins of a page, not asked where no rule fills one."""

    def make_filled(context: Any, page: Any, state: Any) -> Iterator[Any]:
        filled = any(context.style_for(page.page_type, name) is not None for name in _MARGINS)
        return make(context, page, state) if filled else iter(())

    return make_filled

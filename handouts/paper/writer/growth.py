"""A figure that grows after its page was laid out: what stands below it moves down, nothing is laid out again.

Holds for the pages of exercises, whose styles are ours: the figure is a block of its own, a column is a float,
and what follows the columns clears them.  The pages must be those of a layout with the higher figure, to the
pixel; ``tests/paper/test_growth.py`` compares them.  Knows the writer's boxes by what they have, never its modules.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Any

Background = Callable[..., None]
"""The writer's function that places the background of a box."""


def grow_figure(page: Any, anchor: str, more: float, lay_background: Background) -> None:
    """Makes the figure below an element higher by so many CSS pixels; ValueError where the page has none."""
    way = _way_to(page, anchor, found=False)
    if not way:
        raise ValueError(f"no figure in '{anchor}'")
    figure = way[-1]
    figure.height += more
    for box in _inside(figure):
        if box.is_absolutely_positioned():
            box.height += more
    for inner, outer in zip(way[:0:-1], way[-2:0:-1], strict=False):
        below = outer.children[outer.children.index(inner) + 1 :]
        if inner.is_floated():
            # what stands beside a column stays, what clears it moves; the other column may be longer
            foot = inner.position_y + inner.margin_height()
            more = max(0.0, foot - outer.content_box_y() - outer.height)
            below = [box for box in below if not box.is_floated()]
        for box in below:
            _move(page, box, more, lay_background)
        outer.height += more


def _way_to(box: Any, anchor: str, *, found: bool) -> list[Any]:
    """The boxes from one down to the figure inside the element with an id; empty where there is none."""
    element = getattr(box, "element", None)
    found = found or (element is not None and _says(element, "id", anchor))
    if found and element is not None and _says(element, "class", "figure") and box.element_tag == "div":
        return [box]
    for child in getattr(box, "children", ()):
        if way := _way_to(child, anchor, found=found):
            return [box, *way]
    return []


def _says(element: Any, name: str, value: str) -> bool:
    return hasattr(element, "get") and element.get(name) == value


def _inside(box: Any) -> Iterator[Any]:
    """All boxes below one."""
    for child in getattr(box, "children", ()):
        yield child
        yield from _inside(child)


def _move(page: Any, box: Any, down: float, lay_background: Background) -> None:
    box.translate(0, down)
    for each in (box, *_inside(box)):
        if getattr(each, "background", None):
            lay_background(page, each, None, layout_children=False)

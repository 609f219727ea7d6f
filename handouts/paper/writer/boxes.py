"""Questions about the writer's boxes, which are known by what they have."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any


def is_block(box: Any) -> bool:
    """Whether a box is a block whose children stand one below the other; one with a table in it is not."""
    return type(box).__name__ == "BlockBox" and not any("Table" in type(child).__name__ for child in box.children)


def is_line(box: Any) -> bool:
    """Whether a box is a line."""
    return type(box).__name__ == "LineBox"


def children_of(box: Any) -> Sequence[Any]:
    """The children of a block."""
    return box.children if is_block(box) else ()


def flowing_in(box: Any) -> Iterator[Any]:
    """The children of a block that are neither floated nor taken out of the flow."""
    return (child for child in children_of(box) if not child.is_absolutely_positioned() and not child.is_floated())


def class_of(box: Any) -> str:
    """The first class of a box's element; empty where it has none or the box is beside the element's own."""
    element = getattr(box, "element", None)
    if element is None or not hasattr(element, "get") or "::" in str(box.element_tag):
        return ""
    return str(element.get("class") or "").partition(" ")[0]


def way_to(box: Any, anchor: str) -> list[Any]:
    """The boxes from one down to that of the element with an id; empty where there is none."""
    element = getattr(box, "element", None)
    if element is not None and hasattr(element, "get") and element.get("id") == anchor and is_block(box):
        return [box]
    for child in getattr(box, "children", ()):
        if way := way_to(child, anchor):
            return [box, *way]
    return []


def boxes_in(box: Any) -> Iterator[Any]:
    """All boxes below one."""
    for child in getattr(box, "children", ()):
        yield child
        yield from boxes_in(child)

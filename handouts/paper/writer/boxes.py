"""Questions about the writer's boxes, which are known by what they have."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import ceil
from typing import Any

RAGGED = 1.03
"""How much more room the words of lines take where they break anew than their widths say; measured on the demo's steps."""


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


def row_in(wrapper: Any) -> list[Any]:
    """The boxes of a table of one row, from the table down to the row; ``wrapper`` holds the table."""
    found = [wrapper]
    while type(found[-1]).__name__ != "TableRowBox":
        found.append(found[-1].children[0])
    return found[1:]


def has_class(box: Any, name: str) -> bool:
    """Whether a class is one of those of a box's element."""
    return bool(class_of(box)) and name in box.element.get("class").split()


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


def items_in(box: Any) -> list[Any]:
    """The items of lists below a box, without what the writer puts into them."""
    found = list[Any]()
    for each in boxes_in(box):
        if each.element_tag == "li" and is_block(each) and not (found and found[-1].element is each.element):
            found.append(each)
    return found


def count_lines(box: Any, more: float) -> float:
    """How many lines, each by the size of its letters in CSS pixels, the text below a box has more where it is ``more`` pixels wider."""
    lines = [child for child in getattr(box, "children", ()) if is_line(child)]
    if lines:
        wide = sum(part.margin_width() for line in lines for part in line.children if not part.is_absolutely_positioned())
        return float(box.style["font_size"] * (max(1, ceil(RAGGED * wide / (box.width + more))) - len(lines)))
    return sum(count_lines(child, more) for child in getattr(box, "children", ()))


def cut_before(box: Any, target: Any) -> tuple[Any, Any]:
    """A block as two, the second of which begins with a box in it; both have its border and padding, what stands between has none."""
    cut, end = target.position_y, box.content_box_y() + box.height
    ahead, behind = list[Any](), list[Any]()
    for child in box.children:
        if child is target or behind:
            behind.append(child)
        elif target in boxes_in(child):
            first, second = cut_before(child, target)
            second.margin_top = 0
            second.position_y = cut
            ahead.append(first)
            behind.append(second)
        else:
            ahead.append(child)
    one, other = box.copy_with_children(ahead), box.copy_with_children(behind)
    one.height, other.height = cut - box.content_box_y(), end - cut
    one.margin_bottom = 0
    other.position_y = cut - (box.content_box_y() - box.position_y)
    other.style = box.style.copy()
    other.style["anchor"] = None  # the first has its id
    return one, other

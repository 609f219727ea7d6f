"""The back of a standard sheet with many words: what stands on it, and where its front ends; the last page of one in two languages."""

from __future__ import annotations

from handouts.paper.cage import Layout

BACKS = {
    "notes": "{0} .behind {{ break-before: page; }} {0} .said {{ display: none; }}",
    "safety": "{0} .safety {{ break-before: page; }}",
}
"""What moves to the back, the least first, and the rules for it: boxes and notes; with more words also the cautions, as in
large print.  In a booklet, whose front has boxes and notes, there is no back for these."""
APART = "apart"
"""In two languages: the cautions have one page more to themselves, behind the boxes to tick."""
_ENDS = ("end", "front", "columns")
"""Anchors at the end of an article, before its notes, and before its cautions."""
_NOWHERE = (1, 0.0)


def back_rules(back: str, name: str) -> str:
    """The style rules of an article, which a selector names, with that back."""
    if back == APART:
        return f"{name} .safety {{ break-before: page; }}"
    boxes = f"{name} .boxes-behind {{ display: block; }} {name} .boxes {{ display: none; }}"
    return f"{BACKS[back].format(name)} {boxes}"


def keeps_to_pages(anchor: str, pages: int, layout: Layout, back: str) -> bool:
    """Whether an article keeps to its pages, 0 for any; with a back to one more, where what belongs on the front is there."""
    if not back:
        return not pages or layout.pages <= pages
    if back == APART:
        return layout.pages <= pages + 1
    front = _ENDS[1 + list(BACKS).index(back)]
    return layout.pages <= pages + 1 and layout.anchors.get(f"{anchor}--{front}", _NOWHERE)[0] == 0


def end_of_front(anchor: str, layout: Layout) -> tuple[int, float]:
    """Where what stands with the figure ends: its page, counted from 0, and how far down in CSS pixels."""
    ends = [layout.anchors.get(f"{anchor}--{name}", _NOWHERE) for name in _ENDS]
    return next((end for end in ends if end[0] == 0), ends[0])

"""The last page of a sheet in two languages, and whether an article keeps to its pages."""

from __future__ import annotations

from handouts.paper.contained_writer import Layout

APART = "apart"
"""In two languages: the cautions have one page more to themselves, behind the boxes to tick."""


def back_rules(back: str, name: str) -> str:
    """The style rules of an article, which a selector names, with that back."""
    if back != APART:
        raise ValueError(f"no back '{back}'")
    return f"{name} .safety {{ break-before: page; }}"


def keeps_to_pages(pages: int, layout: Layout, back: str) -> bool:
    """Whether an article keeps to its pages, 0 for any; with a back to one more."""
    return not pages or layout.pages <= pages + (back == APART)

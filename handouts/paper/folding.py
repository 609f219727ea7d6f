"""Where the pages of a booklet stand on sheets that are printed on both sides, put together and folded once."""

from __future__ import annotations

from handouts.paper.assembly import MM_TO_PT, Leaf
from handouts.paper.geometry import FOLD_SCALE, PAPERS

RIGHT = "right"
"""Where a booklet is bound whose script runs from right to left."""


def sheet_size(paper: str) -> tuple[float, float]:
    """Width and height in points of a sheet on its side, by the name of its half."""
    width, height = PAPERS[paper.removesuffix("-folded")]
    return height * MM_TO_PT, width * MM_TO_PT


def fold(pages: int, paper: str, bound: str) -> tuple[Leaf, ...]:
    """The side of a sheet on which each page stands, and in which half; the number of pages is a multiple of 4.

    The outermost sheet comes first, its outside before its inside.  Bound at the left, uneven pages are right-hand ones.
    """
    if pages % 4:
        raise ValueError(f"{pages} pages make no whole sheets")
    half, _ = sheet_size(paper)
    return tuple(
        Leaf(min(page, pages - 1 - page), FOLD_SCALE, half / 2 if (page % 2 == 0) != (bound == RIGHT) else 0.0) for page in range(pages)
    )

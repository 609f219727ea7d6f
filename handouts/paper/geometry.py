"""The measures of a page in millimetres: paper, margins, columns, the least height of a figure."""

from __future__ import annotations

from collections.abc import Sequence

LARGE = "large"
"""The type size in which an exercise takes two pages."""

PAPERS = {"letter": (215.9, 279.4), "a4": (210.0, 297.0)}
"""Width and height (ISO 216; US Letter is 8.5 x 11 inches)."""
TOP, SIDE, BOTTOM = 14.0, 10.5, 15.5
"""Margins of every page with one line of standard type in head and foot, which stand in them."""
FOOT_LINE = {"standard": 5.1, LARGE: 6.8}
"""Height of one line of the foot, by type size: 12 and 16 points at 1.2."""
HEAD_LETTERS = {("standard", "letter"): 92, ("standard", "a4"): 89, (LARGE, "letter"): 69, (LARGE, "a4"): 66}
"""Letters in one line of head or foot; measured on English text."""
WIDE_FACE, WIDE_FACE_LANGUAGES = 1.14, ("ar", "ru", "uk", "vi", "zh")
"""How much wider Noto Sans runs than Atkinson Hyperlegible, and the languages that tokens.css sets in it."""
HEAD_GAP = 3
"""Letters that a gap in head or foot is as wide as."""
BETWEEN = 7.0
"""Gap between the two columns."""
EVEN, NARROWEST, WIDEST = 0.5, 0.42, 0.6
"""What the left column has of the width of both: at first, at least, at most."""
FIGURE = {"standard": (56.0, 52.0, 48.0, 45.0, 36.0), LARGE: (80.0, 70.0, 60.0, 50.0, 50.0)}
"""Least height of a figure in each fit, by type size."""
MODULE_MM = 0.42
"""Side of one module of a QR code; at least 0.396 (GS1 General Specifications 5.12.3.1)."""
PX_IN_MM = 96 / 25.4
"""CSS pixels in a millimetre (CSS Values and Units 3, 5.2)."""


def inner_width(paper: str) -> float:
    """Width of the text of a page."""
    return PAPERS[paper][0] - 2 * SIDE


def left_width(paper: str, share: float) -> float:
    """Width of the left column."""
    return (inner_width(paper) - BETWEEN) * share


def page_rules(paper: str, top: float, bottom: float) -> str:
    """The style rule that sets paper and margins, in millimetres."""
    width, height = PAPERS[paper]
    return f"@page {{ size: {width}mm {height}mm; margin: {top}mm {SIDE}mm {bottom}mm; }}"


def column_rules(article: str, paper: str, share: float) -> str:
    """The style rules for the two columns of an article, which a selector names."""
    left = left_width(paper, share)
    right = inner_width(paper) - BETWEEN - left
    return f"{article} .left {{ width: {left:.2f}mm; }} {article} .right {{ width: {right:.2f}mm; }}"


def balance(share: float, figure: float, left: float, right: float) -> float:
    """The share of the left column at which both columns are equally high.

    ``left`` and ``right`` are their heights at ``share``, ``figure`` that of the picture in the left
    one, all in millimetres; the area of a text is taken to stay the same.
    """
    left_area, right_area = (left - figure) * share, right * (1 - share)
    low, high = NARROWEST, WIDEST
    for _ in range(30):
        middle = (low + high) / 2
        if figure + left_area / middle > right_area / (1 - middle):
            low = middle
        else:
            high = middle
    return (low + high) / 2


def top_margin(size: str, letters: int, paper: str) -> float:
    """The top margin in millimetres: more where the words of the head, with their gaps, take a second line."""
    lines = max(1, -(-letters // HEAD_LETTERS[size, paper]))
    return TOP + (FOOT_LINE[size] - FOOT_LINE["standard"]) + (lines - 1) * FOOT_LINE[size]


def bottom_margin(size: str, marks: Sequence[int], page: int, paper: str) -> float:
    """The bottom margin in millimetres: more for each further line of the foot.

    ``marks`` are the letters of its marks, none of which is broken, ``page`` those of the page's number, which stands at
    the end of the first line.
    """
    lines = _count_lines(marks, page, HEAD_LETTERS[size, paper])
    return BOTTOM + (FOOT_LINE[size] - FOOT_LINE["standard"]) + (lines - 1) * FOOT_LINE[size]


def _count_lines(marks: Sequence[int], page: int, width: int) -> int:
    lines, room = 1, width - page
    for letters in marks:
        if room < letters + HEAD_GAP and room < (width if lines > 1 else width - page):
            lines, room = lines + 1, width
        room -= letters + HEAD_GAP
    return lines


def bottom_px(paper: str, margin: float) -> float:
    """Where the room of a page ends, in CSS pixels from its top; ``margin`` below it in millimetres."""
    return (PAPERS[paper][1] - margin) * PX_IN_MM

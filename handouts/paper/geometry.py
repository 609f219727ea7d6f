"""The measures of a page in millimetres: paper, margins, columns, the least height of a figure."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

LARGE = "large"
"""The type size in which an exercise takes two pages."""

PAPERS = {"letter": (215.9, 279.4), "a4": (210.0, 297.0)}
"""Width and height (ISO 216; US Letter is 8.5 x 11 inches)."""
FOLD_SCALE = 0.75
"""How a page in large type is scaled where two stand side by side on a sheet that is folded: 16 points become the 12 of standard type."""
FOLD_EDGE = 2.4
"""What head and foot stand further from the edge there, so that they are 6 mm from it when they are scaled."""
FOLDED = {f"{paper}-folded": (height / 2 / FOLD_SCALE, width / FOLD_SCALE) for paper, (width, height) in PAPERS.items()}
"""Width and height of half a sheet, on its side, before it is scaled."""
TOP, SIDE, BOTTOM = 14.0, 10.5, 15.5
"""Margins of every page with one line of standard type in head and foot, which stand in them."""
FOOT_LINE = {"standard": 5.1, LARGE: 6.8}
"""Height of one line of the foot, by type size: 12 and 16 points at 1.2."""
HEAD_LETTERS = {
    ("standard", "letter"): 92, ("standard", "a4"): 89, (LARGE, "letter"): 69, (LARGE, "a4"): 66,
    (LARGE, "letter-folded"): 57, (LARGE, "a4-folded"): 61,
}  # fmt: skip
"""Letters in one line of head or foot; measured on English text, on half a sheet by its width."""
WIDE_FACE, WIDE_FACE_LANGUAGES = 1.14, ("ar", "ru", "uk", "vi", "zh")
"""How much wider Noto Sans runs than Atkinson Hyperlegible, and the languages that tokens.css sets in it."""
HEAD_GAP = 3
"""Letters that a gap in head or foot is as wide as."""
TICKS = {"standard": (6.6, 5.3), LARGE: (8.4, 6.65)}
"""Height of a table of boxes to tick without its rows, gap included, and of a row, by type size."""
BETWEEN = 7.0
"""Gap between the two columns."""
NARROWEST, WIDEST = 0.36, 0.575
"""What the column of a figure has of the width of both, at least and at most: at most 55 hundredths of the page and a little."""
FIGURE_AIM, FIGURE_TIGHT = 100.0, 44.0
"""Height in millimetres for which the column of a figure is made wide enough: at first, and where that spares a page."""
FIGURE_AIM_ALONE = 80.0
"""The same where the stop rules stand elsewhere in the document, and leave more room."""
WIDE_FIGURE = 0.55
"""What a figure should have of the width of the page, where its column is so wide: text gives way for it."""
LITTLE = 0.94
"""What a figure may be lower than it could be, so that text stays."""
FIGURE, FIGURE_LEAST = {"standard": 45.0, LARGE: 60.0}, {"standard": 36.0, LARGE: 45.0}
"""Least height of a figure, by type size, and what it gives up where the page would not do otherwise: in large type never less than in standard."""
FIGURE_HALVES = (48.0, 40.0)
"""The same on half a sheet, before it is scaled: 36 and 30 mm on paper."""
PAIR_FIGURES = (54.0, 45.0, 36.0)
"""Heights of the figure on a sheet in two languages: at first, and where its pages would not do otherwise."""
LINES, LINES_WIDE = {"standard": (1.11, 1.33), LARGE: (1.2, 1.38)}, {"standard": (1.11, 1.5), LARGE: (1.2, 1.5)}
"""Height of a line by that of its letters, in the tightest and in the calmest spacing; for scripts with tall letters or without spaces."""
WIDE_LINES = ("ar", "zh")
"""Their languages."""
GAPS_MM = {"standard": (1.0, 2.8), LARGE: (2.4, 4.5)}
"""Gap between parts of a page, in the tightest and in the calmest spacing."""
ROW_SHARE = (0.4, 0.42)
"""What the column of a figure has of the width where several exercises stand on a page: for the tallest figures, for the widest."""
ROW_CALMS = {"standard": (0.4, 0.3, 0.2, 0.1, 0.0), LARGE: (0.4, 0.2, 0.0, -0.2, -0.4)}
"""Spacings that are tried there, the calmest first, 0 and 1 being those of a page: what room is left stands between the exercises."""
ROW_FIGURE, ROW_FIGURE_LEAST = 50.0, 42.0
"""Height of a figure there, as far as its column is wide enough: where there is room, and at least."""
ROW_AIM = {"standard": 66.0, LARGE: 110.0}
"""Height of an exercise there that is not passed where it need not be, by type size: three or two on a page, and one beside a short front."""
ROW_MOST = {"standard": 80.0, LARGE: 111.0}
"""Height above which it gives up its fault, if that brings it below: a third or half of a page."""
ROW_GAP_MM, ROW_GAP_MOST_MM = 2.0, 9.0
"""Gap between two exercises there, at least and at most."""
BELOW_ANOTHER_MM = 6.0
"""Gap between an article and the one that stands below it on its last page."""
NOTE_LINES = 15
"""Lines to write on, on a page of a folded booklet that no exercise takes."""
SPARE_MM = 1.0
"""Room that is left at the foot of a page."""
MODULE_MM, MODULE_AIM = 0.6, 0.68
"""Side of one module of a QR code: at least (0.396 in GS1 General Specifications 5.12.3.1), and where the code has room.

zbar reads 0.68 mm from the photograph of ``tests/clinician``, blurred by 0.17 mm, as it is; 0.6 only where the picture is enlarged.
"""
CODE_MM = (22.2, 24.6)
"""Width of a QR code without its quiet zone, as far as its modules allow."""
PX_IN_MM = 96 / 25.4
"""CSS pixels in a millimetre (CSS Values and Units 3, 5.2)."""


def lines_of(size: str, language: str) -> tuple[float, float]:
    """The height of a line in the tightest and in the calmest spacing."""
    return (LINES_WIDE if language.partition("-")[0] in WIDE_LINES else LINES)[size]


@dataclass(frozen=True, slots=True)
class Area:
    """Where articles stand on a page, in millimetres: as wide and high on every paper, below ``top`` on this one."""

    width: float
    height: float
    left: float
    top: float
    paper_width: float
    paper_height: float


def paper_size(paper: str) -> tuple[float, float]:
    """Width and height of a paper, or of half a folded one."""
    return PAPERS[paper] if paper in PAPERS else FOLDED[paper]


def live_area(paper: str, papers: Iterable[str], top: float, bottom: float) -> Area:
    """The area on a paper that every one of ``papers`` has room for, ``top`` and ``bottom`` being the least for head and foot.

    What a paper has more is shared out above and below.
    """
    own_width, own_height = paper_size(paper)
    sizes = [paper_size(each) for each in {paper, *papers}]
    width = min(each for each, _ in sizes) - 2 * SIDE
    height = min(each for _, each in sizes) - top - bottom
    spare = own_height - top - bottom - height
    return Area(round(width, 2), round(height, 2), (own_width - width) / 2, top + spare / 2, own_width, own_height)


def narrowest(papers: Iterable[str]) -> str:
    """The paper with the least width."""
    return min(papers, key=lambda paper: paper_size(paper)[0])


def figure_width(width: float, share: float) -> float:
    """Width of the column of the figure on a page whose text is so wide."""
    return (width - BETWEEN) * share


def module_of(side: int) -> float:
    """Side in millimetres of a module of a code that is so many modules wide, without its quiet zone."""
    low, high = CODE_MM
    return max(MODULE_MM, min(high, max(low, MODULE_AIM * side)) / side)


def wide_height(width: float, shape: float) -> float:
    """Height in millimetres at which a figure is as wide as it should be."""
    return width * WIDE_FIGURE / shape


def page_rules(width: float, height: float, last: float) -> str:
    """The style rule of an article's pages, in millimetres: no margins, but for what its ``last`` page leaves free at its foot."""
    return f"@page {{ size: {width:g}mm {height:g}mm; margin: 0 0 {last:g}mm; }}"


def column_rules(article: str, width: float, share: float) -> str:
    """The style rules for the columns of an article, which a selector names: figure and steps, and what stands in two columns below."""
    left = figure_width(width, share)
    right, half = width - BETWEEN - left, (width - BETWEEN) / 2
    widths = {".left": left, ".right": right, ".columns > *": half}
    return " ".join(f"{article} {each} {{ width: {width:.2f}mm; }}" for each, width in widths.items())


def figure_share(shape: float, width: float, height: float) -> float:
    """What the column of a figure has of the width, so that the figure is about as high as is said and neither column is too narrow."""
    return round(min(WIDEST, max(NARROWEST, height * shape / (width - BETWEEN))), 3)


def top_margin(size: str, letters: int, paper: str) -> float:
    """The top margin in millimetres: more where the words of the head, with their gaps, take a second line."""
    lines = max(1, -(-letters // HEAD_LETTERS[size, paper]))
    return TOP + (FOOT_LINE[size] - FOOT_LINE["standard"]) + (lines - 1) * FOOT_LINE[size]


def bottom_margin(size: str, marks: Sequence[int], page: int, paper: str, *, above: int = 0) -> float:
    """The bottom margin in millimetres: more for each further line of the foot.

    ``marks`` are the letters of its marks, none of which is broken, ``page`` those of the page's number, which stands at
    the end of the first line; ``above`` are the lines above them.
    """
    lines = above + _count_lines(marks, page, HEAD_LETTERS[size, paper])
    return BOTTOM + (FOOT_LINE[size] - FOOT_LINE["standard"]) + (lines - 1) * FOOT_LINE[size]


def _count_lines(marks: Sequence[int], page: int, width: int) -> int:
    lines, room = 1, width - page
    for letters in marks:
        if room < letters + HEAD_GAP and room < (width if lines > 1 else width - page):
            lines, room = lines + 1, width
        room -= letters + HEAD_GAP
    return lines


def ticks_height(size: str, rows: int) -> float:
    """What a table of boxes to tick takes at the foot of an article's last page, with the gap above it; none without rows."""
    head, row = TICKS[size]
    return head + row * rows if rows else 0.0

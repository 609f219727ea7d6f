"""What stands beside the figure of an exercise, below its steps: told from the lengths of its texts, before anything is laid out.

It follows from texts, figure and type size alone, not from a dose or a programme, so that the browser's sheets have it as the PDFs have.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from math import ceil

from markupsafe import Markup

from handouts.paper.geometry import BETWEEN, FIGURE_AIM, WIDE_FACE, WIDE_FACE_LANGUAGES, figure_share, figure_width
from handouts.paper.text_width import text_width
from handouts.publication.views import SectionView

_SHAPE = re.compile(r'viewBox="\S+ \S+ (?P<width>[\d.]+) (?P<height>[\d.]+)"|data-width="(?P<wide>[\d.]+)" data-height="(?P<high>[\d.]+)"')
_BESIDE = re.compile(
    r'(?P<blocks>(?:<section class="(?:cues|feel|mistakes)\b[^>]*>(?:(?!</section>).)*</section>\s*)+)'
    r'(?P<dose></div>\s*</div>\s*<section class="dose">.*?</section>\s*<div class="columns">\s*)', re.DOTALL,
)  # fmt: skip
USUAL_SHAPE = 4 / 3
"""Of a picture that says none."""
LETTER_MM, LINE_MM, INDENT_MM = 2.12, 5.1, 7.5
"""Width of a letter and height of a line in standard type, and what numbers and bullets take of a line; measured on the demo's."""
OVER = 0.4
"""What a block may stand below the end of the figure, by its height: in the columns it takes about half its height."""


def shape_of(picture: str) -> float:
    """Width of a picture by its height, from its viewBox or what it says."""
    found = _SHAPE.search(picture)
    return float(found["width"] or found["wide"]) / float(found["height"] or found["high"]) if found else USUAL_SHAPE


def count_beside(sections: Sequence[SectionView], blocks: Sequence[Sequence[Markup]], shape: float, width: float, language: str) -> int:
    """How many of the blocks, each a heading and paragraphs, have room below the steps; ``width`` of the page in millimetres."""
    left = figure_width(width, figure_share(shape, width, FIGURE_AIM))
    letter = LETTER_MM * (WIDE_FACE if language.partition("-")[0] in WIDE_FACE_LANGUAGES else 1.0)
    letters = (width - BETWEEN - left - INDENT_MM) / letter
    end = min(FIGURE_AIM, left / shape)
    high = sum(_height((section.heading, *(item for block in section.blocks for item in block.items)), letters) for section in sections)
    for count, block in enumerate(blocks):
        own = _height(block, letters)
        if high + own > end + OVER * own:
            return count
        high += own
    return len(blocks)


def move_below(html: str) -> str:
    """The HTML of an exercise with the steps alone beside its figure: what stood below them comes first in the columns."""
    return _BESIDE.sub(r"\g<dose>\g<blocks>", html, count=1)


def _height(paragraphs: Iterable[Markup], letters: float) -> float:
    return LINE_MM * sum(ceil(text_width(each) / letters) for each in paragraphs)

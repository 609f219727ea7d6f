"""How much room the words of an exercise need, estimated, so that its page is seldom laid out twice.

Counts lines from lengths of texts; the true lines come from the layout, which corrects a wrong guess.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from functools import lru_cache
from math import ceil

from markupsafe import Markup

from handouts.paper.document import FITS
from handouts.paper.views import ExerciseView, SafetyView, SectionView

COLUMN, WIDTH = 44, 92
"""Letters in a line of a column and of the full width, in standard type; measured on English text."""
FIGURE = 10
"""Lines that the smallest figure takes."""
HEADING, GAP = 1.1, 0.5
"""Lines that a heading and the gap before it take."""
LOPSIDED = 4
"""Lines that the left column may be longer than the right before what comes ahead of the steps stands above both."""
ROOM = {"letter": (31.5, 34.5, 39.0), "a4": (35.0, 38.0, 42.5)}
"""Lines that a page has in each fit but the tightest; measured on the demo library."""
WIDE_LETTERS = 0x2E80
"""From here on a letter is twice as wide as a Latin one (CJK)."""


@dataclass(frozen=True, slots=True)
class Lines:
    """Lines of the left column, the right column and what stands above and below both."""

    left: float
    right: float
    below: float

def fit_view(view: ExerciseView, paper: str) -> ExerciseView:
    """The view with the fit to begin with; where the left column is long, its first sections stand above both."""
    lines = count_lines(view)
    if not view.two_pages and lines.left - lines.right > LOPSIDED:
        ahead = tuple(section for section in view.sections if not _has_steps(section))
        view = replace(view, ahead=ahead, sections=tuple(section for section in view.sections if _has_steps(section)))
        lines = count_lines(view)
    total = (lines.left + lines.right) / 2 + lines.below
    return replace(view, fit=FITS[0 if view.two_pages else sum(total > room for room in ROOM[paper])])


def _has_steps(section: SectionView) -> bool:
    return any(block.kind == "steps" for block in section.blocks)


def count_lines(view: ExerciseView) -> Lines:
    """The lines of an exercise's page in standard type."""
    left = FIGURE + sum(
        HEADING + sum(_lines(block.items, COLUMN - (4 if block.kind != "paragraph" else 0)) for block in section.blocks)
        for section in view.sections
    )
    right = (
        (HEADING + GAP) * 3
        + _lines(view.cues, COLUMN - 3)
        + _lines([view.feel], COLUMN)
        + _lines([pair.see + " " + pair.do for pair in view.mistakes], COLUMN - 5)
    )
    if view.ready:
        right += HEADING + GAP + _lines([view.ready], COLUMN)
    right += sum(HEADING + GAP + 2 * len(table.rows) for table in view.ticks)
    ahead = sum(_lines([" ".join(block.items)], WIDTH - 20) for section in view.ahead for block in section.blocks)
    return Lines(left, right, ahead + _safety_lines(view.safety) + _lines([view.why + " " + view.needs], 66))


def _safety_lines(safety: SafetyView) -> float:
    rows = sum(_lines([pair.see + " " + pair.do for pair in group.rows], WIDTH - 6) for group in safety.groups)
    return 1 + rows + _lines([safety.pain], WIDTH - 8) + GAP * len(safety.groups)


def _lines(texts: Iterable[Markup | str], letters: int) -> int:
    return sum(ceil(text_width(text) / letters) for text in texts if text)


def text_width(text: Markup | str) -> int:
    """Letters of a text, a wide one counted twice; its markup is not counted."""
    return _width(str(text))


@lru_cache(maxsize=65_536)
def _width(text: str) -> int:
    plain = str(Markup(text).striptags())
    return len(plain) + (0 if plain.isascii() else sum(ord(letter) >= WIDE_LETTERS for letter in plain))

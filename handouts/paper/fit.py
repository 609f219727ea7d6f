"""How much room the words of an exercise need, estimated, so that its page is seldom laid out twice.

Counts lines from lengths of texts; the true lines come from the layout, which corrects a wrong guess.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from math import ceil

from markupsafe import Markup

from handouts.paper.document import FITS
from handouts.paper.views import ExerciseView, SafetyView

COLUMN, WIDTH = 44, 92
"""Letters in a line of a column and of the full width, in standard type; measured on English text."""
FIGURE = 10
"""Lines that the smallest figure takes."""
HEADING, GAP = 1.1, 0.5
"""Lines that a heading and the gap before it take."""
LOPSIDED = 4
"""Difference of the columns, in lines, from which the longer one is made wider."""
ROOM = {"letter": (33.0, 37.5, 43.0), "a4": (36.0, 41.0, 47.0)}
"""Lines that a page has for columns and safety block in each fit but the tightest; measured, see ``tests/paper``."""
WIDE_LETTERS = 0x2E80
"""From here on a letter is twice as wide as a Latin one (CJK)."""


@dataclass(frozen=True, slots=True)
class Lines:
    """Lines of the left column, the right column and what stands below both."""

    left: float
    right: float
    below: float

    @property
    def total(self) -> float:
        """Lines of the page."""
        return max(self.left, self.right) + self.below


def fit_view(view: ExerciseView, paper: str) -> ExerciseView:
    """The view with the fit to begin with, and the columns that suit its texts."""
    lines = count_lines(view)
    difference = lines.left - lines.right
    columns = "wide-left" if difference > LOPSIDED else "wide-right" if difference < -LOPSIDED else "even"
    even = Lines((lines.left + lines.right) / 2, (lines.left + lines.right) / 2, lines.below)
    total = max(even.total, lines.total - abs(difference) / 3) if columns != "even" else lines.total
    level = sum(total > room for room in ROOM[paper]) if not view.two_pages else 0
    return replace(view, fit=FITS[level], columns=columns)


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
    return Lines(left, right, _safety_lines(view.safety) + _lines([view.why + " " + view.needs], 66))


def _safety_lines(safety: SafetyView) -> float:
    rows = sum(_lines([pair.see + " " + pair.do for pair in group.rows], WIDTH - 6) for group in safety.groups)
    return 1 + rows + _lines([safety.pain], WIDTH - 8) + GAP * len(safety.groups)


def _lines(texts: Iterable[Markup | str], letters: int) -> int:
    return sum(ceil(_width(text) / letters) for text in texts if text)


def _width(text: Markup | str) -> int:
    plain = str(Markup(text).striptags())
    return len(plain) + sum(ord(letter) >= WIDE_LETTERS for letter in plain)

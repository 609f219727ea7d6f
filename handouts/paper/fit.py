"""How much room the words of an exercise need, estimated, so that its page is seldom laid out twice.

Counts lines from lengths of texts; the true lines come from the layout, which corrects a wrong guess.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from functools import lru_cache
from math import ceil

from markupsafe import Markup

from handouts.paper.articles import FITS
from handouts.paper.views import ExerciseView, SafetyView
from handouts.publication.views import SectionView

COLUMN, WIDTH = 44, 92
"""Letters in a line of a column and of the full width, in standard type; measured on English text."""
NOTE_LETTERS = 52
"""Letters in a line of a note in a column, in standard type."""
FIGURE = 10
"""Lines that the smallest figure takes."""
HEADING, GAP = 1.1, 0.5
"""Lines that a heading and the gap before it take."""
LOPSIDED = 4
"""Lines that the left column may be longer than the right before what comes ahead of the steps stands above both."""
ROOM = {"letter": (31.5, 34.5, 39.0), "a4": (35.0, 38.0, 42.5)}
"""Lines that a page has in each fit but the tightest; measured on the demo library."""
LARGE_WIDTH, BESIDE_CODE = 72, 47
"""Letters in a line of large type, over the full width and beside the QR code."""
LARGE_FRONT = {"letter": (13.7, 16.4, 20.4, 21.9), "a4": (16.0, 18.8, 23.0, 24.5)}
LARGE_BACK = {"letter": (21.0, 23.4, 26.7, 26.7), "a4": (23.3, 25.8, 29.3, 29.3)}
"""Lines for which the first and the second page of large type have room in each fit; measured on 46 sheets of the
demo library, where 4 of 5 estimates are right to a line and a half.  A smaller figure gives the second page no room."""
LONG_BY = 0.85
"""Lines beyond the tightest fit from which large type is taken to be long: on that library, right in 49 cases of 50."""
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
    if view.two_pages:
        return _fit_large(view, paper)
    lines = count_lines(view)
    if lines.left - lines.right > LOPSIDED:
        ahead = tuple(section for section in view.sections if not _has_steps(section))
        view = replace(view, ahead=ahead, sections=tuple(section for section in view.sections if _has_steps(section)))
        lines = count_lines(view)
    total = (lines.left + lines.right) / 2 + lines.below
    return replace(view, fit=FITS[sum(total > room for room in ROOM[paper])])


def _fit_large(view: ExerciseView, paper: str) -> ExerciseView:
    """The view in large type; where clearly not even the tightest fit will do, it is taken to be long."""
    front, back = count_large_lines(view)
    over = [max(front - room, back - behind) for room, behind in zip(LARGE_FRONT[paper], LARGE_BACK[paper], strict=True)]
    fit = sum(lines > 0 for lines in over)
    return replace(view, fit=FITS[min(fit, len(over) - 2)], long=over[-1] > LONG_BY)


def _has_steps(section: SectionView) -> bool:
    return any(block.kind == "steps" for block in section.blocks)


def count_lines(view: ExerciseView) -> Lines:
    """The lines of an exercise's page in standard type."""
    left = FIGURE + _lines(view.figure_note, NOTE_LETTERS) + sum(
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
    right += sum(_lines([f"{way.heading}  {way.text}"], COLUMN) for way in view.ways)
    return Lines(left, right, ahead + _safety_lines(view.safety) + _lines([view.why + " " + view.needs], 66))


def count_large_lines(view: ExerciseView) -> tuple[float, float]:
    """The lines of the first and of the second page in large type, without what every sheet has."""
    blocks = [block for section in view.sections for block in section.blocks]
    title = 1 + 1.5 * _lines([view.title], BESIDE_CODE // 2) + _lines([view.why + " " + view.needs], BESIDE_CODE)
    front = max(3.0, title) + _lines([" ".join(view.under_dose)], LARGE_WIDTH) + HEADING * len(view.sections)
    front += _lines(view.figure_note, LARGE_WIDTH)
    front += sum(_lines(block.items, LARGE_WIDTH - (4 if block.kind == "steps" else 2)) for block in blocks)
    back: float = _lines((*view.cues, *(pair.see + " " + pair.do for pair in view.mistakes)), LARGE_WIDTH - 2)
    back += _lines([f"{view.labels.feel}  {view.feel}"], LARGE_WIDTH)
    back += _lines([f"{view.labels.ready}  {view.ready}"], LARGE_WIDTH) + 0.15 if view.ready else 0
    back += sum(_lines([f"{way.heading}  {way.text}"], LARGE_WIDTH) + 0.15 for way in view.ways)
    back += 0.85 * sum(len(table.rows) for table in view.ticks)
    back += 0.9 * _lines([" ".join(view.safety.defer) + " " + view.review], LARGE_WIDTH)
    return front, back + _large_safety_lines(view.safety)


def _large_safety_lines(safety: SafetyView) -> float:
    calls = "   ".join(call for group in safety.groups for call in group.calls)
    rows = 0
    for number, group in enumerate(safety.groups):
        texts = [pair.see + " " + pair.do for pair in group.rows]
        heading = [f"{group.heading}  {texts[0]}"] if number and texts else texts[:1]
        rows += _lines([*heading, *texts[1:]], LARGE_WIDTH - 5)
    return 1 + rows + _lines([calls], LARGE_WIDTH - 5) + _lines([f"{safety.pain_heading}  {safety.pain}"], LARGE_WIDTH - 3)


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

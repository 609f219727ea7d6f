"""Headings that a document only shows: lines that are bold or larger than its text, though no style says so."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from handouts.importers.lines import LineKind, SourceLine

MOST_HEADING = 80
"""Longest line that may be a heading, in characters."""
LARGER = 1.12
"""From this many times the size of the text on a line is larger: 12 over 10.5 points is, a point of rounding is not (common practice, no source)."""


def find_headings(lines: Sequence[SourceLine]) -> tuple[SourceLine, ...]:
    """The lines with those as headings that look like it: below the headings that say so, the largest first."""
    body = _body_size(lines)
    letters = sum(len(line.text) for line in lines if line.kind is not LineKind.HEADING)
    mostly_bold = sum(len(line.text) for line in lines if line.bold and line.kind is not LineKind.HEADING) * 2 > letters
    looks = {
        at: (line.size if body and line.size >= body * LARGER else 0.0, line.bold and not mostly_bold)
        for at, line in enumerate(lines)
        if _may_be(line)
    }
    looks = {at: look for at, look in looks.items() if look[0] or look[1]}
    above = max((line.level for line in lines if line.kind is LineKind.HEADING), default=0)
    ranks = {look: above + rank for rank, look in enumerate(sorted(set(looks.values()), reverse=True), 1)}
    return tuple(
        replace(line, kind=LineKind.HEADING, level=ranks[looks[at]], number=0) if at in looks else line for at, line in enumerate(lines)
    )


def _body_size(lines: Sequence[SourceLine]) -> float:
    """The size that most letters have."""
    counts: dict[float, int] = {}
    for line in lines:
        if line.size and line.kind is not LineKind.HEADING:
            counts[line.size] = counts.get(line.size, 0) + len(line.text)
    return max(counts, key=counts.__getitem__, default=0.0)


def _may_be(line: SourceLine) -> bool:
    """A short line that is no sentence; a numbered one may be too (``3. Heel raise``)."""
    is_line = line.kind is LineKind.PARAGRAPH or (line.kind is LineKind.ITEM and line.number > 0)
    return is_line and len(line.text) <= MOST_HEADING and not line.text.rstrip().endswith((".", "!", ",", ";"))

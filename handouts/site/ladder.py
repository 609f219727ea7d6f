"""A programme's progression as a picture: its steps, exercises in rows, lines for what builds on what.

Only the geometry: which row, and where lines begin and end as shares of the width.  The exercises keep the author's
order, from row to row and within each: lines never move them.  A line that passes a row gets a narrow slot in it.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass
from itertools import combinations, pairwise

from handouts.dose.progression import Progression
from handouts.model import Programme

FULL, NARROW = 4, 1
"""Width of an exercise's slot and of one that only lets a line pass."""


@dataclass(frozen=True, slots=True)
class Slot:
    """A place in a row: an exercise, or (with no slug) a line passing through."""

    slug: str
    middle: float
    """Share of the row's width, 0 to 1 in reading direction."""


@dataclass(frozen=True, slots=True)
class LadderLine:
    """From the row before to this row: where it begins and ends, as shares of the width."""

    begins: float
    ends: float


@dataclass(frozen=True, slots=True)
class LadderRow:
    """Exercises beside one another, and the lines that come down to them."""

    slots: tuple[Slot, ...]
    lines: tuple[LadderLine, ...]


@dataclass(frozen=True, slots=True)
class Ladder:
    """For each step of the programme its rows, from the first step to the last; none where a step has no exercise left."""

    tiers: tuple[tuple[LadderRow, ...], ...]
    builds_on: Mapping[str, tuple[str, ...]]
    """For each exercise the exercises of the programme that it builds on directly."""


def lay_out_ladder(programme: Programme, progression: Progression) -> Ladder:
    """The ladder of a programme; exercises outside it are left out."""
    members = dict.fromkeys(programme.exercise_slugs)
    needs = {slug: tuple(name for name in progression.needs.get(slug, ()) if name in members) for slug in members}
    row_of, rows_in_tier = _rows(programme, needs)
    nodes, edges = _split_long_lines(row_of, needs, sum(rows_in_tier))
    middles = [_middles(row) for row in _order(nodes, members, edges)]
    rows = [
        LadderRow(
            tuple(Slot(name if name in members else "", middle) for name, middle in row.items()),
            tuple(
                sorted(
                    (LadderLine(middles[at - 1][begin], row[end]) for begin, end in edges if end in row),
                    key=lambda line: (line.ends, line.begins),
                )
            ),
        )
        for at, row in enumerate(middles)
    ]
    tiers, start = [], 0
    for count in rows_in_tier:
        tiers.append(tuple(rows[start : start + count]))
        start += count
    return Ladder(tuple(tiers), needs)


def _rows(programme: Programme, needs: Mapping[str, tuple[str, ...]]) -> tuple[dict[str, int], list[int]]:
    """The row of each exercise, and how many rows each tier has: a new one where an exercise builds on one of the row."""
    row_of: dict[str, int] = {}
    counts: list[int] = []
    start = 0
    for tier in programme.tiers:
        at = start
        for slug in dict.fromkeys(ref.slug for ref in tier.exercises):
            if slug in row_of:
                continue
            at += any(row_of.get(name) == at for name in needs[slug])
            row_of[slug] = at
        counts.append(at + 1 - start if tier.exercises else 0)
        start += counts[-1]
    return row_of, counts


def _split_long_lines(
    row_of: Mapping[str, int], needs: Mapping[str, tuple[str, ...]], count: int
) -> tuple[list[list[str]], list[tuple[str, str]]]:
    """Nodes by row, and lines that each join two neighbouring rows; lines of one beginning share their passage."""
    nodes: list[list[str]] = [[slug for slug in row_of if row_of[slug] == at] for at in range(count)]
    edges: dict[tuple[str, str], None] = {}
    for slug, names in needs.items():
        for name in names:
            if row_of[name] >= row_of[slug]:
                continue
            last = name
            for at in range(row_of[name] + 1, row_of[slug]):
                passing = f"{name}>{at}"
                if passing not in nodes[at]:
                    nodes[at].append(passing)
                edges[last, passing] = None
                last = passing
            edges[last, slug] = None
    return nodes, list(edges)


def _order(nodes: list[list[str]], members: Collection[str], edges: Sequence[tuple[str, str]]) -> list[list[str]]:
    """Each row with its exercises in the author's order; a line that passes gets the slot with the fewest crossings."""
    rows: list[list[str]] = []
    for row in nodes:
        ordered = [name for name in row if name in members]
        for passing in (name for name in row if name not in members):
            tried = [[*ordered[:at], passing, *ordered[at:]] for at in range(len(ordered), -1, -1)]
            ordered = min(tried, key=lambda names: _crossings([*rows[-1:], names], edges))
        rows.append(ordered)
    return rows


def _middles(row: Sequence[str]) -> dict[str, float]:
    """The middle of each slot as a share of the row's width."""
    widths = [NARROW if ">" in name else FULL for name in row]
    total = sum(widths)
    return {name: (sum(widths[:at]) + widths[at] / 2) / total for at, name in enumerate(row)}


def _crossings(rows: Sequence[Sequence[str]], edges: Sequence[tuple[str, str]]) -> int:
    """How many pairs of lines cross between neighbouring rows."""
    count = 0
    for upper, lower in pairwise(rows):
        above, below = {name: at for at, name in enumerate(upper)}, {name: at for at, name in enumerate(lower)}
        lines = [(above[one], below[other]) for one, other in edges if one in above and other in below]
        count += sum(1 for (a, b), (c, d) in combinations(lines, 2) if (a - c) * (b - d) < 0)
    return count

"""A programme's progression as a picture: tiers as steps, exercises in rows, lines for what builds on what.

Only the geometry: which row, which order in it, and where lines begin and end as shares of the width.
Site and paper draw the same ladder from it.  Layered drawing after Sugiyama, Tagawa and Toda (IEEE
Trans. Syst. Man Cybern. 1981;11:109): rows by depth, lines that pass a row get a narrow slot in it,
order by the mean place of neighbours, the order with the fewest crossings kept.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import combinations, pairwise

from handouts.model import Programme
from handouts.progression import Progression

FULL, NARROW = 4, 1
"""Width of an exercise's slot and of one that only lets a line pass."""
_SWEEPS = 6


@dataclass(frozen=True, slots=True)
class Slot:
    """A place in a row: an exercise, or (with no slug) a line passing through."""

    slug: str
    middle: float
    """Share of the row's width, 0 to 1 in reading direction."""


@dataclass(frozen=True, slots=True)
class Line:
    """From the row before to this row: where it begins and ends, as shares of the width."""

    begins: float
    ends: float


@dataclass(frozen=True, slots=True)
class LadderRow:
    """Exercises beside one another, and the lines that come down to them."""

    slots: tuple[Slot, ...]
    lines: tuple[Line, ...]


@dataclass(frozen=True, slots=True)
class Ladder:
    """For each tier of the programme its rows, from the first tier to the last."""

    tiers: tuple[tuple[LadderRow, ...], ...]
    builds_on: Mapping[str, tuple[str, ...]]
    """For each exercise the exercises of the programme that it builds on directly."""


def lay_out_ladder(programme: Programme, progression: Progression) -> Ladder:
    """The ladder of a programme; exercises outside it are left out."""
    members = dict.fromkeys(programme.exercise_slugs)
    needs = {slug: tuple(name for name in progression.needs.get(slug, ()) if name in members) for slug in members}
    row_of, rows_in_tier = _rows(programme, needs)
    nodes, edges = _split_long_lines(row_of, needs, sum(rows_in_tier))
    middles = [_middles(row) for row in _order(nodes, edges)]
    rows = [
        LadderRow(
            tuple(Slot(name if name in members else "", middle) for name, middle in row.items()),
            tuple(
                sorted(
                    (Line(middles[at - 1][begin], row[end]) for begin, end in edges if end in row),
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
    """The row of each exercise, and how many rows each tier has: one more for each step inside the tier."""
    row_of: dict[str, int] = {}
    counts: list[int] = []
    start = 0
    for tier in programme.tiers:
        slugs = [ref.slug for ref in tier.exercises if ref.slug not in row_of]
        depth = dict.fromkeys(slugs, 0)
        for _ in slugs:
            for slug in slugs:
                above = [depth[name] + 1 for name in needs[slug] if name in depth and name != slug]
                depth[slug] = min(max([0, *above]), len(slugs) - 1)
        used = sorted(set(depth.values()))
        row_of |= {slug: start + used.index(depth[slug]) for slug in slugs}
        counts.append(len(used))
        start += len(used)
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


def _order(nodes: list[list[str]], edges: Sequence[tuple[str, str]]) -> list[list[str]]:
    """Each row in the order with the fewest crossings that the sweeps found; the author's order on a tie."""
    best, fewest = [list(row) for row in nodes], _crossings(nodes, edges)
    rows = [list(row) for row in nodes]
    for sweep in range(_SWEEPS):
        downward = sweep % 2 == 0
        for at in range(1, len(rows)) if downward else range(len(rows) - 2, -1, -1):
            beside = _middles(rows[at - 1 if downward else at + 1])
            rows[at] = _by_neighbours(rows[at], beside, edges)
        crossings = _crossings(rows, edges)
        if crossings < fewest:
            best, fewest = [list(row) for row in rows], crossings
    return best


def _by_neighbours(row: list[str], beside: Mapping[str, float], edges: Sequence[tuple[str, str]]) -> list[str]:
    own = _middles(row)

    def place(name: str) -> float:
        near = [beside[one] for one, other in edges if other == name and one in beside]
        near += [beside[other] for one, other in edges if one == name and other in beside]
        return sum(near) / len(near) if near else own[name]

    return sorted(row, key=place)


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

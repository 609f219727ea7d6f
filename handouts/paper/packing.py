"""Rows on pages: which stand on the front and which on the pages after it, by sums over their heights.

The browser's twin is ``templates/scripts/src/bundle/packing_rows.js``; both are held by the same cases in the tests.
"""

from __future__ import annotations

from collections.abc import Sequence

from handouts.paper.geometry import ROW_GAP_MM, ROW_GAP_MOST_MM


def fill_pages(rows: Sequence[float], front: Sequence[float], page: float) -> tuple[tuple[int, ...], tuple[int, ...]]:
    """How many rows stand in each of the rooms of the front, and on each further page; heights in millimetres, in order.

    A row that is higher than a page stands on one of its own.  Further pages hold about as many as one another.
    """
    first, start = list[int](), 0
    for room in front:
        count = _fitting(rows[start:], room - ROW_GAP_MM)
        first.append(count)
        start += count
    rest, pages = rows[start:], list[int]()
    while rest:
        pages.append(max(1, _fitting(rest, page)))
        rest = rest[pages[-1] :]
    return tuple(first), _even_out(rows[start:], pages, page)


def _fitting(rows: Sequence[float], room: float) -> int:
    """How many of the first rows have room."""
    end, count = 0.0, 0
    for row in rows:
        end += row + (ROW_GAP_MM if count else 0.0)
        if end > room:
            break
        count += 1
    return count


def _even_out(rows: Sequence[float], pages: Sequence[int], page: float) -> tuple[int, ...]:
    """As many pages, with about as many rows on each, where these have room."""
    if not pages:
        return ()
    even, start = list[int](), 0
    for left in range(len(pages), 0, -1):
        even.append(-(-(len(rows) - start) // left))
        if _fitting(rows[start : start + even[-1]], page) < even[-1]:
            return tuple(pages)
        start += even[-1]
    return tuple(even)


def spread(rows: Sequence[float], room: float, *, above: bool) -> tuple[float, ...]:
    """How far below the upper edge of its room each row stands; ``above`` where a gap stands before the first too."""
    gaps = len(rows) + 1 if above else len(rows)
    gap = min(ROW_GAP_MOST_MM, max(0.0, room - sum(rows)) / max(1, gaps))
    ends, end = list[float](), gap if above else 0.0
    for row in rows:
        ends.append(end)
        end += row + gap
    return tuple(ends)

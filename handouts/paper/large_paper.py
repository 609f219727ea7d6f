"""Paper larger than a sheet, for what hangs on a wall, and how large letters are that are read from afar."""

from __future__ import annotations

from math import radians, tan

from handouts.paper.geometry import SIDE, Area

LARGE_PAPERS = {"a3": (297.0, 420.0), "tabloid": (279.4, 431.8), "a2": (420.0, 594.0)}
"""Width and height in millimetres (ISO 216; tabloid is 11 x 17 inches)."""
READ_FROM_MM = 2000.0
"""From how far station cards are read."""
ANGLE_MINUTES = 20.0
"""Height of a capital as the eye sees it, in minutes of arc.

ISO 9241-303: 20 to 22 are preferred, 16 the least (from memory).  20/20 vision just reads letters of 5 minutes, so it is four times
those, and twice the letters that 20/40 just reads.
"""
CAPITAL = 0.668
"""Height of a capital by the size of its type, in the face with the lowest: the test measures the fonts."""


def capital_mm(distance_mm: float, minutes: float = ANGLE_MINUTES) -> float:
    """Height in millimetres that is seen at an angle from a distance: 11.6 at 2 m and 20 minutes."""
    return 2 * distance_mm * tan(radians(minutes / 60) / 2)


def type_to_read(distance_mm: float, minutes: float = ANGLE_MINUTES) -> float:
    """Size of type in millimetres whose capitals are that high."""
    return capital_mm(distance_mm, minutes) / CAPITAL


def area_on(paper: str, base: Area) -> Area:
    """Where articles stand on a larger paper, with the margins of a clinic's own; that one's area on any other paper."""
    if paper not in LARGE_PAPERS:
        return base
    width, height = LARGE_PAPERS[paper]
    below = base.paper_height - base.top - base.height
    return Area(round(width - 2 * SIDE, 2), round(height - base.top - below, 2), SIDE, base.top, width, height)


def points(size: float, scale: float) -> str:
    """A size of type in a style rule, on paper that is so much wider."""
    return f"{size * scale:.2f}pt"

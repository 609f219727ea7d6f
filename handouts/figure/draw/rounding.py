"""Outlines made whole and round: the largest shape of many, notches filled, spikes taken off.

Never knows what an outline shows.
"""

from __future__ import annotations

import shapely
from shapely.geometry import Polygon
from shapely.geometry.base import BaseGeometry


def polygons(shape: BaseGeometry) -> list[Polygon]:
    """The polygons of a geometry, largest first."""
    found = [
        part for part in shapely.get_parts(shapely.get_parts(shape)) if isinstance(part, Polygon) and part.area > 0
    ]
    return sorted(found, key=lambda part: -part.area)


def outer(shape: BaseGeometry) -> Polygon:
    """The largest polygon without its holes; an empty polygon if there is none."""
    found = polygons(shape)
    return Polygon(found[0].exterior) if found else Polygon()


def closing(shape: BaseGeometry, radius: float) -> BaseGeometry:
    """Fill notches narrower than twice the radius."""
    return shape.buffer(radius, quad_segs=5).buffer(-radius, quad_segs=5)


def opening(shape: BaseGeometry, radius: float) -> BaseGeometry:
    """Round off spikes narrower than twice the radius."""
    return shape.buffer(-radius, quad_segs=5).buffer(radius, quad_segs=5)


def smooth(shape: BaseGeometry, filled: float, rounded: float) -> BaseGeometry:
    """A closing and then an opening; the two shrinkings between them are one."""
    if not (filled and rounded):
        return closing(shape, filled) if filled else opening(shape, rounded) if rounded else shape
    return shape.buffer(filled, quad_segs=5).buffer(-filled - rounded, quad_segs=5).buffer(rounded, quad_segs=5)

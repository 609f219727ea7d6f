"""Pieces of the drawing: parts that belong together and have nothing between them become one shape.

A part is fused with its neighbour when nothing lies between them, so that a limb has one outline.  Never paints.
"""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np
import shapely
from shapely.geometry import LineString, MultiLineString, Point, Polygon
from shapely.geometry.base import BaseGeometry
from shapely.ops import linemerge, unary_union

from handouts.figure.draw.camera import CM
from handouts.figure.draw.rounding import closing, outer
from handouts.figure.draw.silhouette import PartOutline

_FILLET = {"shirt": 2.2, "trousers": 2.4}
"""Closing radius in cm where two pieces of a tone meet; 1.2 elsewhere."""
LEAST_CREASE = 4.6 * CM
"""Shorter creases are left out."""
_HIP = np.pi * (11 * CM) ** 2
"""A joint of the trousers with a larger disc than this is a hip."""


@dataclass(eq=False, slots=True)
class Piece:
    """Parts drawn as one shape; grows while parts are fused (only within this module)."""

    names: list[str]
    shape: Polygon
    tone: str
    far: bool
    parts: list[PartOutline]
    creases: list[BaseGeometry] = field(default_factory=list)
    open_at: BaseGeometry | None = None

    @property
    def role(self) -> str:
        """The role of its fill."""
        return f"{self.tone}-far" if self.far and self.tone in ("skin", "shirt", "trousers", "shoe") else self.tone


def _touching(one: BaseGeometry, two: BaseGeometry) -> bool:
    return bool(one.intersects(two)) and float(one.intersection(two).area) > 1.0 * CM * CM


def _joint(joints: dict[tuple[str, str], tuple[float, float, float]], part: str, names: list[str]) -> Polygon | None:
    discs = [
        Point(x, y).buffer(r, quad_segs=6)
        for (one, two), (x, y, r) in joints.items()
        if (one == part and two in names) or (two == part and one in names)
    ]
    return unary_union(discs) if discs else None


def _crease(piece: Piece, part: PartOutline, disc: Polygon, partners: list[str]) -> BaseGeometry:
    """The edge of a part that shows inside the piece it joins; the joint itself has none."""
    if part.name == "pelvis":
        return Polygon()
    inner = _near(piece.shape, part.polygon, CM).buffer(-0.3 * CM, quad_segs=2)
    if "pelvis" in partners:
        inner = unary_union([one.polygon for one in piece.parts if one.name not in partners]).buffer(
            -0.3 * CM, quad_segs=2
        )
    shoulder = any(name.startswith("sleeve") for name in (part.name, *partners))
    room = (2.6 if shoulder else 0.8) * CM
    crease = part.polygon.exterior.intersection(inner).difference(disc.buffer(room, quad_segs=3))
    keep = [line for line in lines_of(crease) if line.length > LEAST_CREASE]
    return MultiLineString(keep)


def _fillet_of(tone: str, disc: BaseGeometry) -> tuple[BaseGeometry, float]:
    """Where two parts are filled between, and how round: a hip is one form, wider than its joint."""
    if tone == "trousers" and disc.area > _HIP:
        return disc.buffer(6 * CM, quad_segs=4), 5.0 * CM
    return disc, _FILLET.get(tone, 1.2) * CM


_FAR_ENOUGH = 2.5
"""Radii beyond which nothing changes what a closing fills."""


def _near(shape: BaseGeometry, place: BaseGeometry, room: float) -> BaseGeometry:
    """What of a shape lies around a place: what is further away only takes time."""
    x0, y0, x1, y1 = place.bounds
    return shapely.clip_by_rect(shape, x0 - room, y0 - room, x1 + room, y1 + room)


def _fuse(piece: Piece, part: PartOutline, disc: Polygon, partners: list[str]) -> None:
    piece.creases.append(_crease(piece, part, disc, partners))
    joined = piece.shape.union(part.polygon)
    # Only the two that meet are filled between: a fillet of the whole piece would bridge the gap to the other leg.
    near = unary_union([part.polygon, *(one.polygon for one in piece.parts if one.name in partners)])
    wide, radius = _fillet_of(piece.tone, disc)
    fillet = closing(_near(near, wide, _FAR_ENOUGH * radius), radius).intersection(wide)
    piece.shape = outer(joined.union(fillet))
    piece.names.append(part.name)
    piece.parts.append(part)


def _absorb(found: list[Piece], into: int, other: int, disc: Polygon) -> bool:
    """Make one piece of two joined ones, if nothing that lies between them touches the one that moves."""
    low, high = min(into, other), max(into, other)
    between = found[low + 1 : high]
    if any(_touching(piece.shape, found[low].shape) for piece in between):
        if any(_touching(piece.shape, found[high].shape) for piece in between):
            return False
        place = low
    else:
        place = high
    one, two = found[low], found[high]
    joined = one.shape.union(two.shape)
    heart = disc.centroid.buffer(1.5 * CM)
    near = unary_union([part.polygon for part in (*one.parts, *two.parts) if part.polygon.intersects(heart)])
    wide, radius = _fillet_of(one.tone, disc)
    fillet = closing(_near(near, wide, _FAR_ENOUGH * radius), radius).intersection(wide)
    inner = one.shape.buffer(-0.3 * CM, quad_segs=2).difference(disc.buffer(0.8 * CM, quad_segs=3))
    crease = MultiLineString(
        [line for line in lines_of(two.shape.exterior.intersection(inner)) if line.length > 2 * LEAST_CREASE]
    )
    made = Piece(
        one.names + two.names,
        outer(joined.union(fillet)),
        one.tone,
        one.far,
        one.parts + two.parts,
        [*one.creases, *two.creases, crease],
        _with(one.open_at, two.open_at),
    )
    found[place] = made
    del found[low if place == high else high]
    return True


def _with(one: BaseGeometry | None, two: BaseGeometry | None) -> BaseGeometry | None:
    return one if two is None else two if one is None else one.union(two)


def _open(found: list[Piece], number: int, low: int, disc: Polygon) -> BaseGeometry:
    """Where a piece's outline is left out: over the piece it continues, as far as that is seen."""
    if any(name.startswith("sleeve") for name in (*found[number].names, *found[low].names)):
        disc = disc.buffer(3.2 * CM, quad_segs=3)
    seen = found[low].shape.intersection(disc).buffer(-0.2 * CM)
    over = [piece.shape for piece in found[low + 1 : number] if piece.shape.intersects(seen)]
    return seen.difference(unary_union(over)) if over else seen


def pieces_of(ordered: tuple[PartOutline, ...], joints: dict[tuple[str, str], tuple[float, float, float]]) -> list[Piece]:
    """The body's and the props' parts as pieces from back to front."""
    found: list[Piece] = []
    for part in ordered:
        candidates = [
            (piece, disc)
            for piece in found
            if piece.tone == part.tone
            and piece.far == part.far
            and (disc := _joint(joints, part.name, piece.names)) is not None
        ]
        partners = [two if one == part.name else one for one, two in joints if part.name in (one, two)]
        own: Piece | None = None
        for piece, disc in reversed(candidates):
            number = found.index(piece)
            if own is None and not any(_touching(later.shape, part.polygon) for later in found[number + 1 :]):
                _fuse(piece, part, disc, partners)
                own = piece
            elif own is not None and piece is not own:
                here = found.index(own)
                if _absorb(found, here, number, disc):
                    own = next(one for one in found if part.name in one.names)
                else:
                    own.open_at = _with(own.open_at, _open(found, max(here, number), min(here, number), disc))
        if own is None:
            own = Piece([part.name], part.polygon, part.tone, part.far, [part])
            found.append(own)
            for piece, disc in candidates:
                own.open_at = _with(own.open_at, _open(found, len(found) - 1, found.index(piece), disc))
    return found


_SEEN = 0.8 * CM * CM
"""Area that must show of a piece for it to be drawn."""


def hidden(pieces: list[Piece]) -> set[int]:
    """Numbers of pieces that later ones cover entirely."""
    found = set()
    for number, piece in enumerate(pieces):
        over = [later.shape for later in pieces[number + 1 :] if later.shape.intersects(piece.shape)]
        least = piece.shape.area - _SEEN
        if over and sum(shape.area for shape in over) > least and piece.shape.difference(unary_union(over)).area < _SEEN:
            found.add(number)
    return found


def lines_of(shape: BaseGeometry) -> list[LineString]:
    """The lines of a geometry, joined where they meet."""
    parts = [part for part in shapely.get_parts(shape) if isinstance(part, LineString) and part.length > 0]
    if not parts:
        return []
    merged = linemerge(MultiLineString(parts)) if len(parts) > 1 else parts[0]
    return [part for part in shapely.get_parts(merged) if isinstance(part, LineString)]

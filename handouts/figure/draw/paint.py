"""From parts in order to marks: pieces that belong together become one shape, muscles and faces are added.

A part is fused with its neighbour when nothing lies between them, so that a limb has one outline.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry import LineString, MultiLineString, Point, Polygon
from shapely.geometry.base import BaseGeometry
from shapely.ops import linemerge, unary_union

from handouts.figure.draw.camera import CM
from handouts.figure.draw.curves import corner_path, line_path, shape_path
from handouts.figure.draw.head import Face
from handouts.figure.draw.rounding import closing, opening, outer
from handouts.figure.draw.silhouette import PartOutline
from handouts.figure.draw.style import DrawnPath, Region

Array = NDArray[np.floating[Any]]
_FILLET = {"shirt": 2.2, "trousers": 2.4}
"""Closing radius in cm where two pieces of a tone meet; 1.2 elsewhere."""
_LEAST_CREASE = 4.6 * CM
_LEAST_LOOSE = 14 * CM
"""Shorter creases are left out; of those that end in the air only long ones are drawn."""
_FINGER_LINE = 1.5
"""Of lines on a hand, drawing units."""
_HATCH_GAP = 3.0 * CM
_DOT_GAP = 3.0 * CM
_MARGIN = 0.45 * CM
_LEAST_MUSCLE = 9.0 * CM * CM
"""A region of which less is seen is not drawn: a chip says nothing."""
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
    inner = piece.shape.buffer(-0.3 * CM, quad_segs=2)
    if "pelvis" in (part.name, *partners):
        if part.name == "pelvis":
            return Polygon()
        inner = unary_union([one.polygon for one in piece.parts if one.name not in partners]).buffer(
            -0.3 * CM, quad_segs=2
        )
    shoulder = any(name.startswith("sleeve") for name in (part.name, *partners))
    room = (2.6 if shoulder else 0.8) * CM
    crease = part.polygon.exterior.intersection(inner).difference(disc.buffer(room, quad_segs=3))
    keep = [line for line in lines_of(crease) if line.length > _LEAST_CREASE]
    return MultiLineString(keep)


def _fillet_of(tone: str, disc: BaseGeometry) -> tuple[BaseGeometry, float]:
    """Where two parts are filled between, and how round: a hip is one form, wider than its joint."""
    if tone == "trousers" and disc.area > _HIP:
        return disc.buffer(6 * CM, quad_segs=4), 5.0 * CM
    return disc, _FILLET.get(tone, 1.2) * CM


def _fuse(piece: Piece, part: PartOutline, disc: Polygon, partners: list[str]) -> None:
    piece.creases.append(_crease(piece, part, disc, partners))
    joined = piece.shape.union(part.polygon)
    # Only the two that meet are filled between: a fillet of the whole piece would bridge the gap to the other leg.
    near = unary_union([part.polygon, *(one.polygon for one in piece.parts if one.name in partners)])
    wide, radius = _fillet_of(piece.tone, disc)
    fillet = closing(near, radius).intersection(wide)
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
    fillet = closing(near, radius).intersection(wide)
    inner = one.shape.buffer(-0.3 * CM, quad_segs=2).difference(disc.buffer(0.8 * CM, quad_segs=3))
    crease = MultiLineString(
        [line for line in lines_of(two.shape.exterior.intersection(inner)) if line.length > 2 * _LEAST_CREASE]
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


def hidden(pieces: list[Piece]) -> set[int]:
    """Numbers of pieces that later ones cover entirely."""
    found = set()
    for number, piece in enumerate(pieces):
        over = [later.shape for later in pieces[number + 1 :] if later.shape.intersects(piece.shape)]
        if over and piece.shape.difference(unary_union(over)).area < 0.8 * CM * CM:
            found.add(number)
    return found


def lines_of(shape: BaseGeometry) -> list[LineString]:
    """The lines of a geometry, joined where they meet."""
    parts = [part for part in shapely.get_parts(shape) if isinstance(part, LineString) and part.length > 0]
    if not parts:
        return []
    merged = linemerge(MultiLineString(parts)) if len(parts) > 1 else parts[0]
    return [part for part in shapely.get_parts(merged) if isinstance(part, LineString)]


def _prop_marks(part: PartOutline, later: list[Piece]) -> list[DrawnPath]:
    """A prop: its faces that are not covered, those of one tone as one path."""
    if part.tone == "plain" or not part.faces:
        return [DrawnPath("prop" if part.tone == "plain" else part.tone, shape_path(part.polygon))]
    over = [piece.shape for piece in later if piece.shape.intersects(part.polygon)]
    by_tone: dict[str, str] = {}
    for face in part.faces:
        area = Polygon(face.corners)
        if not any(shape.contains(area) for shape in over):
            by_tone[face.tone] = by_tone.get(face.tone, "") + corner_path(face.corners)
    return [DrawnPath(tone, path) for tone, path in by_tone.items()]


def _hatch(region: Region, cut: BaseGeometry) -> str:
    """Slanting lines that wrap a muscle as its limb is round."""
    left, right = region.edges
    along = np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff((left + right) / 2, axis=0).T))])
    wide = float(np.percentile(np.hypot(*(right - left).T), 80))
    rise = min(0.75 * wide, 7.0 * CM)
    share = np.linspace(0, 1, 6)
    found = []
    for start in np.arange(-rise + _HATCH_GAP / 2, along[-1], _HATCH_GAP):
        at = start + rise * share - 0.16 * wide * np.sin(np.pi * share)
        here, there = (np.column_stack([np.interp(at, along, edge[:, axis]) for axis in (0, 1)]) for edge in (left, right))
        kept = (at > -1.0) & (at < along[-1] + 1.0)
        if kept.sum() > 1:
            found.append(LineString((here + (there - here) * share[:, None])[kept]))
    lines = lines_of(MultiLineString(found).intersection(cut.buffer(-0.30 * CM))) if found else []
    return "".join(line_path(np.asarray(line.coords), 1.8) for line in lines if line.length > 1.0 * CM)


def _dots(shape: BaseGeometry) -> str:
    """Dots in rows that are set off by half, as strokes of no length to speak of: round ends make them round."""
    x0, y0, x1, y1 = shape.bounds
    inner = shape.buffer(-0.7 * CM)
    found = []
    for row, y in enumerate(np.arange(np.floor(y0 / _DOT_GAP) * _DOT_GAP, y1, _DOT_GAP)):
        for x in np.arange(np.floor(x0 / _DOT_GAP) * _DOT_GAP + row % 2 * _DOT_GAP / 2, x1, _DOT_GAP):
            if inner.contains(Point(x, y)):
                found.append(f"M{round(x)} {round(y)}h.1")
    return "".join(found)


def _seen_of(pieces: list[Piece], region: Region) -> tuple[BaseGeometry, int]:
    """What of a region nothing covers, and the piece that is drawn last of those that show it; -1 where none does."""
    x0, y0, x1, y1 = region.shape.bounds
    room = (x0 - 2 * CM, y0 - 2 * CM, x1 + 2 * CM, y1 + 2 * CM)
    shown: list[BaseGeometry] = []
    last = -1
    for number, piece in enumerate(pieces):
        own = [part.polygon for part in piece.parts if part.name in region.shown_on]
        if not own or not piece.shape.intersects(region.shape):
            continue
        area = unary_union([shapely.clip_by_rect(one, *room) for one in own]).intersection(piece.shape)
        over = []
        for later in pieces[number + 1 :]:
            if later.shape.intersects(area):
                hides = [part.polygon for part in later.parts if part.name not in region.shown_on]
                over += hides if len(hides) < len(later.parts) else [later.shape]
        covers = unary_union([shapely.clip_by_rect(one, *room) for one in over]).buffer(_MARGIN, quad_segs=3) if over else None
        shown.append(area.difference(covers) if covers is not None else area)
        last = number
    within = closing(unary_union(shown), 0.5 * CM).buffer(-_MARGIN, quad_segs=3) if shown else Polygon()
    return outer(opening(closing(region.shape.intersection(within), 0.4 * CM).intersection(within), 0.7 * CM)), last


def muscle_marks(pieces: list[Piece], regions: list[Region]) -> dict[int, list[DrawnPath]]:
    """The regions that are seen, by the number of the piece on which each is drawn, and only where nothing covers it.

    Hatched where muscles work, dotted where they are stretched, a dashed outline where they lie on the far side.
    """
    found: dict[int, list[DrawnPath]] = {}
    for region in regions:
        cut, last = _seen_of(pieces, region)
        if last < 0 or cut.area < _LEAST_MUSCLE:
            continue
        marks = found.setdefault(last, [])
        marks.append(DrawnPath("behind" if region.behind else "active", shape_path(cut), region.muscle))
        if region.sign == "dots":
            marks.append(DrawnPath("dots", _dots(cut)))
        elif not region.behind:
            marks.append(DrawnPath("hatch", _hatch(region, cut)))
    return found


def _outline(piece: Piece) -> list[DrawnPath]:
    if piece.open_at is None or piece.open_at.is_empty:
        found = [DrawnPath(piece.role, shape_path(piece.shape))]
    else:
        found = [DrawnPath(f"{piece.role} bare", shape_path(piece.shape))]
        for line in lines_of(piece.shape.exterior.difference(piece.open_at)):
            if line.length > 1.5 * CM:
                found.append(DrawnPath("line", line_path(np.asarray(line.coords))))
    for crease in piece.creases:
        for line in lines_of(crease):
            loose = min(Point(end).distance(piece.shape.exterior) for end in (line.coords[0], line.coords[-1])) > 1.3 * CM
            if line.length > (_LEAST_LOOSE if loose else _LEAST_CREASE):
                found.append(DrawnPath("line", line_path(np.asarray(line.coords))))
    return found


def _hand_lines(piece: Piece) -> list[DrawnPath]:
    """The lines between fingers, as one path."""
    path = "".join(
        line_path(np.asarray(line.coords), 1.2)
        for part in piece.parts
        if part.lines is not None
        for line in lines_of(part.lines)
        if line.length > _FINGER_LINE
    )
    return [DrawnPath("fine", path)] if path else []


def _face_marks(face: Face) -> list[DrawnPath]:
    found = [DrawnPath("ink", shape_path(eye, 0.4, 4.0)) for eye in face.eyes]
    found += [DrawnPath("thin", line_path(np.asarray(brow.coords), 0.6)) for brow in face.brows]
    if face.mouth is not None:
        found.append(DrawnPath("thin", line_path(np.asarray(face.mouth.coords), 0.6)))
    return found


def paint(pieces: list[Piece], face: Face, regions: list[Region]) -> list[tuple[int, list[DrawnPath]]]:
    """The marks of each visible piece, back to front, with its number."""
    unseen, found = hidden(pieces), []
    muscles = muscle_marks(pieces, regions) if regions else {}
    for number, piece in enumerate(pieces):
        if number in unseen:
            continue
        if not piece.parts[0].is_body:
            found.append((number, _prop_marks(piece.parts[0], pieces[number + 1 :])))
            continue
        marks = _outline(piece) + muscles.get(number, []) + _hand_lines(piece)
        if "head" in piece.names:
            marks += _face_marks(face)
        if face.ear is not None and (
            "hair" in piece.names or ("head" in piece.names and not any("hair" in p.names for p in pieces))
        ):
            marks.append(DrawnPath("skin thin", shape_path(face.ear, 0.5)))
        found.append((number, marks))
    return found

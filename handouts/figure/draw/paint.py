"""From pieces in order to marks: outlines and creases, muscles, fingers, faces, and props.

Never orders and never fuses (``handouts.figure.draw.pieces`` does).
"""

from __future__ import annotations

import numpy as np
import shapely
from shapely.geometry import LineString, MultiLineString, Point, Polygon
from shapely.geometry.base import BaseGeometry
from shapely.ops import unary_union

from handouts.figure.draw.camera import CM
from handouts.figure.draw.curves import TOLERANCE, corner_path, line_path, shape_path
from handouts.figure.draw.head import Face
from handouts.figure.draw.pieces import LEAST_CREASE, Piece, hidden, lines_of
from handouts.figure.draw.rounding import closing, opening, outer
from handouts.figure.draw.silhouette import PartOutline
from handouts.figure.draw.style import DrawnPath, Region

_LEAST_LOOSE = 14 * CM
"""Of creases that end in the air only longer ones are drawn."""
_FINGER_LINE = 1.5
"""Of lines on a hand, drawing units."""
_HATCH_GAP = 3.0 * CM
_DOT_GAP = 2.6 * CM
_MARGIN = 0.45 * CM
_LEAST_MUSCLE = 9.0 * CM * CM
"""A region of which less is seen is not drawn: a chip says nothing."""


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


def _dots(region: Region, cut: BaseGeometry) -> str:
    """Dots in rows across a muscle, set off by half from row to row, as strokes of no length: round ends make them round."""
    left, right = region.edges
    along = np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff((left + right) / 2, axis=0).T))])
    inner = cut.buffer(-0.45 * CM)
    found = []
    for row, at in enumerate(np.arange(_DOT_GAP / 2, along[-1], _DOT_GAP)):
        here, there = (np.array([np.interp(at, along, edge[:, axis]) for axis in (0, 1)]) for edge in (left, right))
        count = max(1, round(float(np.hypot(*(there - here))) / _DOT_GAP))
        for share in (np.arange(count) + (0.5 if count == 1 else 0.3 + 0.4 * (row % 2))) / count:
            x, y = here + (there - here) * share
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

    Hatched where muscles work, dotted where they are stretched; a dashed outline without a tint where they lie on the far side.
    """
    found: dict[int, list[DrawnPath]] = {}
    for region in regions:
        cut, last = _seen_of(pieces, region)
        if last < 0 or cut.area < _LEAST_MUSCLE:
            continue
        marks = found.setdefault(last, [])
        marks.append(DrawnPath("behind" if region.behind else "active", shape_path(cut), region.muscle))
        marks.append(DrawnPath("dots", _dots(region, cut)) if region.sign == "dots" else DrawnPath("hatch", _hatch(region, cut)))
    return found


_UNDER_LINE = 3.4
"""How far a fill without an outline of its own may miss, drawing units: its rim lies under a line that is 5.6 wide."""


def _outline(piece: Piece) -> list[DrawnPath]:
    """The shape of a piece, and its lines as one path: where its outline is left open, and creases."""
    role, lines = piece.role, []
    if piece.open_at is not None and not piece.open_at.is_empty:
        role = f"{piece.role} bare"
        lines = [line for line in lines_of(piece.shape.exterior.difference(piece.open_at)) if line.length > 1.5 * CM]
    for crease in piece.creases:
        for line in lines_of(crease):
            loose = min(Point(end).distance(piece.shape.exterior) for end in (line.coords[0], line.coords[-1])) > 1.3 * CM
            if line.length > (_LEAST_LOOSE if loose else LEAST_CREASE):
                lines.append(line)
    drawn = "".join(line_path(np.asarray(line.coords)) for line in lines)
    tolerance = TOLERANCE if role == piece.role else _UNDER_LINE
    return [DrawnPath(role, shape_path(piece.shape, tolerance)), *([DrawnPath("line", drawn)] if drawn else [])]


def _hand_lines(piece: Piece) -> list[DrawnPath]:
    """The lines between fingers, as one path."""
    path = "".join(
        line_path(np.asarray(line.coords), 1.6)
        for part in piece.parts
        if part.lines is not None
        for line in lines_of(part.lines)
        if line.length > _FINGER_LINE
    )
    return [DrawnPath("fine", path)] if path else []


def _face_marks(face: Face) -> list[DrawnPath]:
    """Eyes as one path, brows and mouth as another."""
    eyes = "".join(shape_path(eye, 0.4, 4.0) for eye in face.eyes)
    lines = [*face.brows, *([face.mouth] if face.mouth is not None else [])]
    return [DrawnPath("ink", eyes), DrawnPath("thin", "".join(line_path(np.asarray(line.coords), 0.6) for line in lines))]


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

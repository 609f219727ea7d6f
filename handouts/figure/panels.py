"""Panels: one drawing for the start and one for the end, with ground, ghost and arrows, and how they stand together.

Coordinates are drawing units; a panel's origin is the projection of the world's origin.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any

import numpy as np
from numpy.typing import NDArray
from shapely.geometry import LineString, Point, Polygon
from shapely.geometry.base import BaseGeometry
from shapely.ops import unary_union

from handouts.figure.body.body import Body
from handouts.figure.body.muscles import MUSCLES
from handouts.figure.body.sites import POINTS
from handouts.figure.draw.arrows import ghost_of
from handouts.figure.draw.camera import CM
from handouts.figure.draw.curves import shape_path
from handouts.figure.draw.head import face_of
from handouts.figure.draw.paint import paint
from handouts.figure.draw.parts import EXCUSED
from handouts.figure.draw.patches import seen_patch
from handouts.figure.draw.pieces import Piece, pieces_of
from handouts.figure.draw.style import DrawnPath, Region
from handouts.figure.inset import make_inset
from handouts.figure.paths import arrows_of
from handouts.figure.pose.bases import BASES
from handouts.figure.pose.motion import point_places
from handouts.figure.pose.solver import Solved
from handouts.figure.pose.spec import FigureSpec
from handouts.figure.scene import Scene, View

Array = NDArray[np.floating[Any]]
Extent = tuple[float, float, float, float]


@dataclass(frozen=True, eq=False, slots=True)
class Drawn:
    """One piece as drawn: the names of its parts, its role, its outline, and its marks (first and past the last)."""

    names: tuple[str, ...]
    role: str
    shape: Polygon
    first: int
    past: int


@dataclass(frozen=True, eq=False, slots=True)
class Panel:
    """One drawing: marks from back to front, its pieces, and the box they fill (left, top, right, bottom)."""

    marks: tuple[DrawnPath, ...]
    pieces: tuple[Drawn, ...]
    bounds: Extent
    covered: BaseGeometry
    inset: tuple[float, float, float] | None = None
    """Middle and radius of the circle that shows a part of it larger."""


_MOSTLY = 0.3
"""Least share of a region's own size that is seen, or it is shown through the body."""


def muscle_regions(spec: FigureSpec, body: Body, frame: Solved, view: Array) -> list[Region]:
    """The regions of muscles at work or stretched that face the viewer, with the parts that show them; none lies on another."""
    found: list[Region] = []
    for sign, active in (*(("hatch", one) for one in spec.active), *(("dots", one) for one in spec.stretched)):
        muscle = MUSCLES[active.name]
        for side in ("r",) if not muscle.sided else (active.side,) if active.side else ("r", "l"):
            seen, behind = seen_patch(body, frame, view, muscle, side), False
            if muscle.deep:
                through = seen_patch(body, frame, view, muscle, side, behind=True)
                if through is not None and (seen is None or seen.shape.area < _MOSTLY * through.shape.area):
                    seen, behind = through, True
            if seen is None:
                continue
            names = frozenset(f"{name}.{side}" if name not in EXCUSED else name for name in muscle.shown_on)
            others = [other.shape.buffer(_BETWEEN) for other in found if other.muscle != active.name]
            shape = seen.shape.difference(unary_union(others)) if others else seen.shape
            found.append(Region(shape, names, active.name, sign, (seen.left, seen.right), behind))
    return found


_BETWEEN = 0.7 * CM
"""Between two regions."""


def _holds(spec: FigureSpec) -> bool:
    """Whether the hands hold or pull something."""
    return any(
        word.startswith("hand") for use in spec.props for word in use.words if use.name != "towel" or len(use.words) > 1
    )


def _ground(frame: Solved, view: Array) -> Polygon:
    x, z = frame.centres[:, 0], frame.centres[:, 2]
    low = frame.centres[:, 1] < 0.12
    x, z = (x[low], z[low]) if low.any() else (x, z)
    turn = np.linspace(0, 2 * np.pi, 36, endpoint=False)
    middle = ((x.min() + x.max()) / 2, (z.min() + z.max()) / 2)
    half = ((x.max() - x.min()) / 2 + 0.13, max(0.22, (z.max() - z.min()) / 2 + 0.13))
    rim = np.column_stack([middle[0] + half[0] * np.cos(turn), np.zeros(36), middle[1] + half[1] * np.sin(turn)])
    return Polygon((rim @ view.T)[:, :2])


_LINE = 4.0
"""Width of the line round a prop, drawing units."""


def _lies_beside(piece: Piece, others: list[Piece]) -> bool:
    """Whether a box of furniture covers none of its boxes drawn just before it, nor is covered: their order is all one, and they move as one."""
    part = piece.parts[0]
    if part.room is None or any(other.parts[0].room is None or other.parts[0].use != part.use for other in others):
        return False
    return bool(others) and all(piece.shape.distance(other.shape) > _LINE for other in others)


def _join_marks(marks: list[DrawnPath], since: int, added: list[DrawnPath]) -> list[DrawnPath]:
    """Puts marks into those of their role among the last ones, as one path each; gives those that are left."""
    left: list[DrawnPath] = []
    for mark in added:
        same = [number for number in range(since, len(marks)) if marks[number].role == mark.role]
        if same and not left:
            marks[same[-1]] = replace(marks[same[-1]], path=marks[same[-1]].path + mark.path)
        else:
            left.append(mark)
    return left


def make_panel(scene: Scene, number: int, views: tuple[View, ...]) -> Panel:
    """Panel ``number`` (0 start, 1 end) of a figure."""
    spec, body, view = scene.spec, scene.body, scene.view
    last = number == len(views) - 1
    seen = views[number]
    frame = seen.frame
    pieces = pieces_of(seen.ordered, seen.joints)
    regions = muscle_regions(spec, body, frame, view) if last else []
    face = face_of(body, frame, view, seen.outlines["head"])
    if not scene.style.smiles and face.mouth is not None:
        face = replace(face, mouth=LineString([face.mouth.coords[0], face.mouth.coords[-1]]))
    painted = paint(pieces, face, regions)
    marks: list[DrawnPath] = []
    covered: list[BaseGeometry] = [part.polygon for part in seen.ordered]
    if not spec.prop("mat"):
        ground = _ground(frame, view)
        marks.append(DrawnPath("ground", shape_path(ground, 2.0)))
        covered.append(ground)
    drawn: list[Drawn] = []
    beside: list[int] = []
    since = 0
    left = ghost = ghost_of(views[number - 1].outlines, seen.outlines, EXCUSED, _holds(spec)) if number else None
    for one, found in sorted(painted, key=lambda item: pieces[item[0]].parts[0].layer >= 0):
        if ghost is not None and pieces[one].parts[0].layer >= 0:
            marks.append(DrawnPath("ghost", shape_path(ghost, 2.0)))
            covered.append(ghost)
            ghost = None
        kept = [mark for mark in found if mark.path]
        if _lies_beside(pieces[one], [pieces[other] for other in beside]):
            beside.append(one)
            kept = _join_marks(marks, since, kept)
        else:
            beside, since = [one] if not pieces[one].parts[0].is_body else [], len(marks)
        drawn.append(
            Drawn(tuple(pieces[one].names), pieces[one].role, pieces[one].shape, len(marks), len(marks) + len(kept))
        )
        marks += kept
    if number:
        for arrow in arrows_of(scene, number, seen, [region.shape for region in regions], unary_union(covered), left):
            marks += arrow.marks
            covered.append(arrow.room)
    circle = None
    if spec.inset is not None and last:
        frames = (frame, views[number - 1].frame) if number else (frame,)
        at = (point_places(body, frames, spec.inset).mean(axis=0) @ view.T)[:2]
        limb, before = f".{spec.inset.side or 'r'}" if POINTS[spec.inset.name][0].endswith(".") else "", None
        if number:
            before = unary_union([shape for name, shape in views[number - 1].outlines.items() if name.endswith(limb)])
        inset = make_inset(spec.inset, at, pieces, face, before, unary_union(covered))
        marks += inset.marks
        covered.append(inset.room)
        circle = inset.circle
    area = unary_union(covered)
    return Panel(tuple(marks), tuple(drawn), area.bounds, area, circle)


@dataclass(frozen=True, slots=True)
class PanelLayout:
    """Where panels and their numbers stand: size, panel origins and badge centres, drawing units."""

    width: int
    height: int
    origins: tuple[tuple[int, int], ...]
    badges: tuple[tuple[int, int], ...]


PAD, GAP, BADGE = 4 * CM, 10 * CM, 5.4 * CM
_BADGE_AIR = 2.1
"""How far from the middle of a badge all else stands, in its radius: nearer, it looks as if it were stuck to a head or a shoulder."""
_SHAPE = 4 / 3
"""Width to height of the place that a figure is laid out for."""
LEAST_WIDTH = {False: 250 * CM, True: 224 * CM}
"""Narrower figures get air at both sides, so that bodies are nearly one size in all figures of who is upright, and of who lies or kneels
on a mat (True), whose pictures are less high."""


def _badge_room(panel: Panel) -> tuple[float, float]:
    """How far to the left of the panel's box, and how far down, the badge stands free."""
    x0, y0, _, y1 = panel.bounds
    for down in np.arange(0, min(0.5 * (y1 - y0), 40 * CM), 2 * CM):
        if not Point(x0 + BADGE, y0 + BADGE + down).buffer(BADGE * _BADGE_AIR).intersects(panel.covered):
            return 0.0, float(down)
    return BADGE * 2 + CM, 0.0


def _one_below_other(rows: list[PanelLayout]) -> PanelLayout:
    """Two rows of panels as one layout."""
    first, second = rows
    width = max(first.width, second.width)
    moved = [
        [((width - row.width) // 2 + x, down + y) for x, y in places]
        for row, down in ((first, 0), (second, first.height))
        for places in (row.origins, row.badges)
    ]
    return PanelLayout(width, first.height + second.height, (*moved[0], *moved[2]), (*moved[1], *moved[3]))


def lay_out(panels: tuple[Panel, ...], base: str, *, in_row: bool = False) -> PanelLayout:
    """Side by side, stacked or in two rows, whichever shows the body larger; ``base`` is the position, whose figures have one size."""
    least = LEAST_WIDTH["mat" in BASES[base].props]
    rooms = [_badge_room(panel) if len(panels) > 1 else (0.0, 0.0) for panel in panels]
    wide = [panel.bounds[2] - panel.bounds[0] + room[0] for panel, room in zip(panels, rooms, strict=True)]
    high = [panel.bounds[3] - panel.bounds[1] for panel in panels]
    beside = (
        sum(wide) + GAP * (len(panels) - 1),
        max(panel.bounds[3] for panel in panels) - min(p.bounds[1] for p in panels),
    )
    left = [panel.bounds[0] - room[0] for panel, room in zip(panels, rooms, strict=True)]
    stacked = (max(panel.bounds[2] for panel in panels) - min(left), sum(high) + GAP * (len(panels) - 1))
    fits = [min(_SHAPE / max(w, least), 1 / h) for w, h in (beside, stacked)]
    half = -(-len(panels) // 2)
    if half > 1 and not in_row:
        rows = [lay_out(part, base, in_row=True) for part in (panels[:half], panels[half:])]
        size = max(row.width for row in rows), sum(row.height for row in rows)
        if min(_SHAPE / size[0], 1 / size[1]) > max(fits):
            return _one_below_other(rows)
    origins, badges = [], []
    if in_row or fits[0] >= fits[1]:
        extra = max(0.0, least - beside[0]) / (len(panels) + 1)
        x, top = PAD + extra, min(panel.bounds[1] for panel in panels)
        for panel, room, width in zip(panels, rooms, wide, strict=True):
            origins.append((round(x + room[0] - panel.bounds[0]), round(PAD - top)))
            badges.append((round(x + BADGE), round(PAD - top + panel.bounds[1] + BADGE + room[1])))
            x += width + GAP + extra
        total, tall = max(beside[0], least) + 2 * PAD, beside[1] + 2 * PAD
    else:
        extra = max(0.0, least - stacked[0]) / 2
        x, y = PAD + extra - min(left), PAD
        for panel, room, height in zip(panels, rooms, high, strict=True):
            origins.append((round(x), round(y - panel.bounds[1])))
            badges.append((round(x + panel.bounds[0] - room[0] + BADGE), round(y + BADGE + room[1])))
            y += height + GAP
        total, tall = max(stacked[0], least) + 2 * PAD, stacked[1] + 2 * PAD
    return PanelLayout(round(total), round(tall), tuple(origins), tuple(badges))

"""A declared thing as parts of the drawing: its solids where it stands, is worn or is held.

Declarations are those of ``handouts.figure.pose.things``; none is known here by its name.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from shapely.geometry import LineString

from handouts.figure.body.joints import SIDES
from handouts.figure.draw.camera import CM
from handouts.figure.draw.silhouette import PartOutline
from handouts.figure.pose.spec import PropUse
from handouts.figure.pose.surroundings import stand_in
from handouts.figure.pose.thing import Ball, Box, Cuff, Point3, Prism, Roll, Solid, Thing, Tube, Waves, Where, Worn
from handouts.figure.pose.things import THINGS
from handouts.figure.props.scene import Array, Builder, PropScene
from handouts.figure.props.solids import ball, box, cylinder, ellipsoid_part, nearer, prism, tube

_TONES = {"wood": ("prop", "prop-side"), "mat": ("mat", "mat-side"), "metal": ("prop-side", "prop-side"), "cloth": ("cloth", "cloth"),
          "sole": ("sole", "sole"), "water": ("water", "water"), "paper": ("paper", "paper")}  # fmt: skip
"""Roles of the top and of the sides of what a solid is made of."""
_SQUARE = 0.999
"""Least share along an axis of the world at which a box counts as standing along it."""


@dataclass(frozen=True, eq=False, slots=True)
class Frame:
    """Where a thing is drawn: origin (3,) and axes as columns (3, 3)."""

    origin: Array
    axes: Array

    def at(self, points: Array) -> Array:
        """Points (..., 3) of the frame in the world."""
        made: Array = self.origin + points @ self.axes.T
        return made


def cuff(setting: PropScene, lump: str, side: str, tone: str, *, wider: float, high: float, above: float) -> PartOutline:
    """A band round a limb at one of its ellipsoids."""
    number = setting.body.lumps[f"{lump}.{side}"]
    axes = setting.frame.axes[number]
    half = axes / np.linalg.norm(axes, axis=0)
    girth = np.linalg.norm(axes, axis=0)[0] * wider + 0.004
    middle = setting.frame.centres[number] + half[:, 1] * above
    return cylinder(setting.view, f"cuff {lump}{side}", middle, half[:, 1], length=2 * high, radius=float(girth), tone=tone)


def _box(setting: PropScene, name: str, solid: Box, frame: Frame, layer: int) -> PartOutline:
    middle, half = frame.at(np.array(solid.middle)), np.array(solid.size) / 2
    if (np.abs(frame.axes).max(axis=0) > _SQUARE).all():
        size = np.abs(frame.axes) @ np.array(solid.size)
        x, y, z = (float(one) for one in middle)
        return box(setting.view, name, (x, y, z), (float(size[0]), float(size[1]), float(size[2])), tones=_TONES[solid.tone], layer=layer)
    corners = np.array([[-1, -1], [1, -1], [1, 1], [-1, 1]]) * half[:2] + np.array(solid.middle[:2])
    return _prism(setting, name, Prism(tuple((float(x), float(y)) for x, y in corners), float(half[2]), solid.tone, solid.middle[2]), frame, layer)


def _prism(setting: PropScene, name: str, solid: Prism, frame: Frame, layer: int) -> PartOutline:
    ends = [frame.at(np.array([(x, y, solid.z + solid.half * s) for x, y in solid.outline])) for s in (1, -1)]
    return prism(setting.view, name, (ends[0], ends[1]), tones=_TONES[solid.tone], layer=layer)


def _waves(setting: PropScene, name: str, solid: Waves, frame: Frame) -> PartOutline:
    """A wavy line across the picture at the height of the frame, before everything."""
    middle = setting.view[:2] @ frame.origin
    x = np.linspace(-solid.length / 2, solid.length / 2, 49) * 100 * CM
    line = np.column_stack([middle[0] + x, middle[1] + 1.6 * CM * np.sin(x / (100 * CM) * 2 * np.pi * 6)])
    outline = LineString(line).buffer(0.9 * CM, quad_segs=3)
    depth = np.full(len(line), (setting.view @ frame.origin)[2])
    return PartOutline(f"prop {name}", outline, _TONES[solid.tone][0], centres=np.column_stack([line, depth]),
                       inverses=np.repeat((np.eye(3) / (2 * CM))[None], len(line), axis=0))  # fmt: skip


def _part(setting: PropScene, name: str, solid: Solid, frame: Frame, side: str, layer: int) -> PartOutline:
    if isinstance(solid, Box):
        return _box(setting, name, solid, frame, layer)
    if isinstance(solid, Prism):
        return _prism(setting, name, solid, frame, layer)
    if isinstance(solid, Waves):
        return replace(_waves(setting, name, solid, frame), layer=layer)
    tone = _TONES[solid.tone][0]
    if isinstance(solid, Cuff):
        return cuff(setting, solid.lump, side, tone, wider=solid.wider, high=solid.high, above=solid.above)
    if isinstance(solid, Tube):
        points = np.maximum(frame.at(np.array(solid.points)), [-np.inf, 0.0, -np.inf])
        made = tube(setting.view, name, points, solid.radius, tone, flat_ends=not solid.round_ends)
        return replace(nearer(made, solid.nearer) if solid.nearer else made, held=(side or "rl") if solid.held else "", layer=layer)
    middle = frame.at(np.array(solid.middle))
    if isinstance(solid, Ball):
        return replace(ball(setting.view, name, middle, solid.radius, tone), layer=layer)
    if isinstance(solid, Roll):
        along = frame.axes @ np.array(solid.along)
        return replace(cylinder(setting.view, name, middle, along, length=solid.length, radius=solid.radius, tone=tone), layer=layer)
    return replace(ellipsoid_part(setting.view, name, middle, frame.axes * np.array(solid.half), tone), layer=layer)


def _seat(setting: PropScene) -> Array:
    first = setting.motion.frames[0]
    return np.array([float(np.mean([setting.lump(f"glute.{side}", first)[0] for side in SIDES])), 0.0, 0.0])


def _foot(setting: PropScene, height: float) -> Array:
    """Under the foot that is nearest to a height at any time."""
    feet = [setting.lump(f"soleh.{side}", frame) for side in SIDES for frame in setting.motion.frames]
    place = min(feet, key=lambda at: float(abs(at[1] - height)))
    return np.array([float(place[0]), 0.0, float(place[2])])


_LEVELS = {"waist": "sec3", "chest": "sec6", "shoulders": "sec8", "eyes": "brow"}
"""Heights of the body in picture 1, and the ellipsoid at them."""
_UNDER = {"knees": ("th4.r", "th4.l"), "ankles": ("sh3.r", "sh3.l"), "ribs": ("sec6",)}
"""What of the body a thing lies under, on what the body lies on."""


def _set_to(setting: PropScene, under: str, height: float) -> Array:
    """Where a thing is drawn that is set to the body."""
    first = setting.motion.frames[0]
    if under == "seat":
        return _seat(setting)
    if under == "behind":
        return np.array([float(first.centres[:, 0].min()), 0.0, 0.0])
    if under == "foot":
        return _foot(setting, height)
    if under in _LEVELS:
        return np.array([0.0, float(setting.lump(_LEVELS[under], first)[1]), 0.0])
    place = np.mean([setting.lump(name, first) for name in _UNDER[under]], axis=0)
    return np.array([float(place[0]), setting.level("mat"), float(place[2])])


def _standing(setting: PropScene, use: PropUse) -> list[PartOutline]:
    number = next((n for n, frame in enumerate(setting.motion.frames) if frame is setting.frame), 0)
    share = number / max(1, len(setting.motion.frames) - 1)
    found = stand_in(use, setting.spec.base, share)
    if found is None:
        return []
    _, stand, where = found
    frame = _frame_of(where)
    if stand.under:
        height = next(iter(stand.tops.values())).height if stand.tops else 0.0
        frame = Frame(frame.origin + _set_to(setting, stand.under, height), frame.axes)
    solids = (*stand.solids, *(_turned(solid, stand.axle, np.pi * share) for solid in stand.turning))
    return [_part(setting, f"{use.name} {n}", solid, frame, "", stand.layer) for n, solid in enumerate(solids)]


def _turned(solid: Solid, axle: Point3, angle: float) -> Solid:
    """A solid that goes round an axle along z, forward at the top; a box keeps level."""

    def at(point: Point3) -> Point3:
        x, y = point[0] - axle[0], point[1] - axle[1]
        cosine, sine = float(np.cos(angle)), float(np.sin(angle))
        return axle[0] + x * cosine + y * sine, axle[1] + y * cosine - x * sine, point[2]

    if isinstance(solid, Tube):
        return replace(solid, points=tuple(at(point) for point in solid.points))
    if not isinstance(solid, Box):
        return solid
    (x, y, z), up = solid.middle, solid.size[1] / 2
    x, y, z = at((x, y + up, z))
    return replace(solid, middle=(x, y - up, z))


def _frame_of(where: Where) -> Frame:
    return Frame(np.array(where.origin), np.column_stack([where.x, where.y, where.z]))


def _held_at(worn: Worn, middle: Array, along: Array, away: Array) -> Frame:
    """The frame of what is in a hand: x along the bar, y away from the finger tips, or up where it hangs."""
    x = along / (np.linalg.norm(along) + 1e-9)
    y = np.array([0.0, 1.0, 0.0]) if worn.hangs else away
    y = y - x * (x @ y)
    y = y / (np.linalg.norm(y) + 1e-9) if np.linalg.norm(y) > 0.05 else away
    return Frame(middle, np.column_stack([x, y, np.cross(x, y)]))


def _is_at(use: PropUse, thing: Thing, point: str, side: str) -> bool:
    both = {word for word, meant in thing.both.items() if meant == point}
    return not ({point, f"{point}.{side}"} | both).isdisjoint(use.words)


def _on_body(setting: PropScene, use: PropUse, thing: Thing) -> list[PartOutline]:
    found: list[PartOutline] = []
    for point, worn in thing.worn.items():
        for side in SIDES:
            if not _is_at(use, thing, point, side):
                continue
            hand = setting.frame.placed.rotations[setting.body.numbers[f"hand.{side}"]]
            frame = _held_at(worn, setting.grip(side), hand[:, 0], hand[:, 1])
            found += [_part(setting, f"{use.name} {point}{side}{n}", solid, frame, side, 0) for n, solid in enumerate(worn.solids)]
    if thing.between is not None and "hands" in use.words:
        grips = [setting.grip(side) for side in SIDES]
        up = sum(setting.frame.placed.rotations[setting.body.numbers[f"hand.{side}"]][:, 1] for side in SIDES)
        frame = _held_at(thing.between, (grips[0] + grips[1]) / 2, grips[0] - grips[1], np.asarray(up))
        found += [_part(setting, f"{use.name} {n}", solid, frame, "", 0) for n, solid in enumerate(thing.between.solids)]
    return found


def builder_of(thing: Thing) -> Builder:
    """What draws a declared thing."""

    def build(setting: PropScene, use: PropUse) -> list[PartOutline]:
        return _standing(setting, use) + _on_body(setting, use, thing)

    return build


DECLARED: dict[str, Builder] = {name: builder_of(thing) for name, thing in THINGS.items()}

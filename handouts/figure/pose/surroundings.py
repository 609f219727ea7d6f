"""The things around the body: where their surfaces and handholds are, before anything is posed.

Sizes are those of common furniture, metres.  Drawing them is the work of ``handouts.figure.props.props``.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field, replace

from handouts.figure.body.sites import Plane, Sphere, Surface
from handouts.figure.pose.bases import BASES
from handouts.figure.pose.spec import FigureSpec, PropUse
from handouts.figure.pose.thing import Point3, Stand, Thing, Where, edges_of, hold_of, numbers_of, plane_of, where_of
from handouts.figure.pose.things import SEAT_HEIGHT, THINGS

MAT_THICK = 0.015
STEP_HEIGHT, STEP_DEPTH, STEP_WIDTH = 0.16, 0.34, 0.62
WALL_FRONT = 0.62
EXERCISE_BALL = 0.275
"""Radius of a 55 cm ball."""
WEIGHTED_BALL = 0.095
"""Radius."""
ROLL = 0.055
"""Radius of a rolled towel."""
DOOR_HALF_WIDTH = 0.42
FOLDED_TOWEL = 0.05
SLOPE = 8.0
"""Rise of a slope to walk up, degrees."""
PILLOW = 0.09
"""Thickness of a pillow that is lain or stood on."""


@dataclass(frozen=True, slots=True)
class World:
    """Surfaces and handholds by the words that authors use; ``keep_out`` may not be entered by the body."""

    surfaces: dict[str, Surface] = field(default_factory=dict)
    handholds: dict[str, dict[str, Point3]] = field(default_factory=dict)
    keep_out: tuple[tuple[str, Surface], ...] = ()
    """Surfaces that the body may not enter, each with its word; where a mat lies, the floor is the mat."""
    bars: dict[str, tuple[Point3, float]] = field(default_factory=dict)
    """The direction and the radius of what a hand closes round, metres."""
    footholds: dict[str, dict[str, Point3]] = field(default_factory=dict)
    """Places for the ball of a foot, by side."""
    anchors: dict[str, Point3] = field(default_factory=dict)
    """Where a band is tied, by a word of the band."""
    edges: dict[str, tuple[float, float, float, float]] = field(default_factory=dict)
    """Least and largest x, least and largest z of the level tops in the picture that do not carry the body, by their words."""

    @property
    def solid(self) -> tuple[Surface, ...]:
        """The surfaces that the body may not enter."""
        return tuple(surface for _, surface in self.keep_out)


ABOVE_BAR = 0.01
"""How far above the middle of a bar the middle of a hand is set, metres: flesh of the palm."""


def _distance(words: tuple[str, ...], usual: float) -> float:
    return next(iter(numbers_of(words)), usual)


def stand_in(use: PropUse, base: str, share: float) -> tuple[Thing, Stand, Where] | None:
    """How a declared thing stands in a figure, and where; None for what is not declared, held or worn."""
    thing = THINGS.get(use.name)
    stand = thing.stand(use.words, base) if thing else None
    if thing is None or stand is None:
        return None
    return thing, stand, where_of(stand, use.words, share, BASES[base].turn[0][1] > 0.5)


def wall_plane(words: tuple[str, ...]) -> Plane:
    """The face of a wall that stands front, back, left or right of the body."""
    if "back" in words:
        return Plane((1.0, 0.0, 0.0), -_distance(words, 0.14))
    if "left" in words:
        return Plane((0.0, 0.0, 1.0), -_distance(words, 0.34))
    if "right" in words:
        return Plane((0.0, 0.0, -1.0), -_distance(words, 0.34))
    return Plane((-1.0, 0.0, 0.0), -_distance(words, WALL_FRONT))


def ball_sphere(words: tuple[str, ...], floor: float, share: float) -> Sphere:
    """The exercise ball; two numbers say where its middle is at the start and, having rolled, at the end."""
    radius = EXERCISE_BALL
    if "sit" in words:
        return Sphere((0.0, floor + radius * 0.86, 0.0), radius)
    places = [float(word) for word in words if word.lstrip("-").replace(".", "", 1).isdigit()] or [0.62]
    return Sphere((places[0] * (1 - share) + places[-1] * share, floor + radius, 0.0), radius)


def step_height(words: tuple[str, ...]) -> float:
    """Height of a step, metres."""
    return 0.10 if "low" in words else STEP_HEIGHT


def _add(world: World, stand: Stand, where: Where) -> None:
    """The surfaces and holds of a declared thing."""
    for word, top in stand.tops.items():
        world.surfaces[word] = plane_of(top, where)
    for word, hold in stand.holds.items():
        above = ABOVE_BAR if hold.radius else 0.0
        places = {side: hold_of(hold, stand, where, side) for side in "rl"}
        world.handholds[word] = {side: (x, y + above, z) for side, (x, y, z) in places.items()}
        if hold.radius:
            world.bars[word] = where.turned(hold.axis), hold.radius
    for word, foothold in stand.footholds.items():
        x, y, z = foothold.place
        world.footholds[word] = {"r": where.at((x, y, z)), "l": where.at((x, y, -z))}
        world.surfaces[word] = Plane((0.0, 1.0, 0.0), where.at(foothold.place)[1])
    for word, place in stand.anchors.items():
        world.anchors[word] = where.at(place)


def _usual_world() -> World:
    """Every declared thing where it usually stands."""
    world = World()
    for thing in THINGS.values():
        for stand in reversed(tuple(thing.stands.values())):
            _add(world, stand, where_of(stand, (), 0.0, False))
    return world


_USUAL = _usual_world()


def make_world(spec: FigureSpec, share: float = 0.0) -> World:
    """The surfaces and handholds of a figure's props, ``share`` of the way from start to end; in flight the floor of contacts rises with the feet."""
    uses = {use.name: use.words for use in spec.props}
    floor = MAT_THICK if "mat" in uses else 0.0
    up = (0.0, 1.0, 0.0)
    level: Surface = Plane(up, floor)
    world = World({**_USUAL.surfaces, "floor": Plane(up, spec.flight * share), "mat": level}, dict(_USUAL.handholds), (), dict(_USUAL.bars))
    surfaces = world.surfaces
    keep_out = [] if "slope" in uses else [("mat", level)]
    surfaces["step"] = Plane(up, step_height(uses.get("step", ())))
    surfaces["towel"] = Plane(up, floor + FOLDED_TOWEL)
    rise = math.radians(SLOPE)
    surfaces["slope"] = Plane((-math.sin(rise), math.cos(rise), 0.0), 0.0)
    surfaces["roll"] = Plane(up, floor + 2 * ROLL)
    surfaces["pillow"] = Plane(up, floor + PILLOW)
    surfaces["wall"] = wall_plane(uses.get("wall", ()))
    surfaces["doorway"] = Plane((-1.0, 0.0, 0.0), -_distance(uses.get("doorway", ()), 0.10))
    ball = ball_sphere(uses.get("exercise-ball", ()), floor, share)
    surfaces["ball"] = ball
    if "wall" in uses:
        keep_out.append(("wall", surfaces["wall"]))
    if "exercise-ball" in uses and "sit" not in uses["exercise-ball"]:
        keep_out.append(("ball", ball))
    for use in spec.props:
        found = stand_in(use, spec.base, share)
        if found is None:
            continue
        thing, stand, where = found
        _add(world, stand, where)
        ends = {word: edges_of(stand, one, where) for word, one in stand.tops.items() if not thing.carries}
        world.edges.update({word: edges for word, edges in ends.items() if edges})
        top = surfaces[next(iter(stand.tops))] if stand.tops else level
        assert isinstance(top, Plane)
        if stand.rim:
            keep_out.append((use.name, replace(top, rim=_rim(stand.rim, where))))
        if stand.back is not None:
            keep_out.append((use.name, Plane(where.x, stand.back)))
        for word in thing.carries:
            surfaces[word] = top
        if "mat" in thing.carries:
            for name, high in (("roll", 2 * ROLL), ("pillow", PILLOW), ("towel", FOLDED_TOWEL)):
                surfaces[name] = Plane(up, top.offset + high)
    return replace(world, keep_out=tuple(keep_out))


def _rim(rim: tuple[float, float, float, float], where: Where) -> tuple[float, float, float, float]:
    x0, x1, z0, z1 = rim
    return (x0, x1, z0, z1) if where.x[0] > 0 else (-x1, -x0, z0, z1)


def level_of(spec: FigureSpec) -> float:
    """How much higher than on the floor, or on a common chair, a figure lies or sits, metres."""
    for use in spec.props:
        found = stand_in(use, spec.base, 0.0)
        if found and found[0].carries and found[1].tops:
            high = next(iter(found[1].tops.values())).height
            return high if "mat" in BASES[spec.base].props else high - SEAT_HEIGHT
    return 0.0


PROP_OF = {
    "floor": "", "mat": "mat", "step": "step", "roll": "roll", "pillow": "pillow", "wall": "wall", "doorway": "doorway",
    "ball": "exercise-ball", "towel": "towel", "slope": "slope",
    **{word: name for name, thing in THINGS.items() for stand in thing.stands.values()
       for word in (*stand.tops, *stand.holds, *stand.footholds)},
}  # fmt: skip
"""What a contact may name besides places on the body, and the prop that it is a part of ('' for what is always there)."""
HELD = frozenset(word for thing in THINGS.values() for stand in thing.stands.values() for word in stand.holds)
"""What a hand can grip; the chair that is sat on is drawn without a place for a hand."""

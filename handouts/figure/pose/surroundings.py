"""The things around the body: where their surfaces and handholds are, before anything is posed.

Sizes are those of common furniture, metres.  Drawing them is the work of ``handouts.figure.props.props``.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field

from handouts.figure.body.sites import Plane, Sphere, Surface
from handouts.figure.pose.spec import FigureSpec

Point3 = tuple[float, float, float]

MAT_THICK = 0.015
SEAT_HEIGHT = 0.45
"""Common chair seat; also the seat that gives a knee of 90 degrees at a stature of 1.70 m within 2 cm."""
CHAIR_BACK_HEIGHT, CHAIR_WIDTH = 0.88, 0.42
CHAIR_FRONT = 0.40
"""How far in front of the ankles the back of a support chair stands."""
STEP_HEIGHT, STEP_DEPTH, STEP_WIDTH = 0.16, 0.34, 0.62
COUNTER_HEIGHT, COUNTER_FRONT = 0.91, 0.30
TABLE_HEIGHT, TABLE_FRONT = 0.74, 0.34
WALL_FRONT = 0.62
EXERCISE_BALL = 0.275
"""Radius of a 55 cm ball."""
WEIGHTED_BALL = 0.095
"""Radius."""
ROLL = 0.055
"""Radius of a rolled towel."""
DOOR_HALF_WIDTH = 0.42
RAIL_HEIGHT, RAIL_FRONT, RAIL_ASIDE = 0.95, 0.34, 0.36
FOLDED_TOWEL = 0.05
SLOPE = 8.0
"""Rise of a slope to walk up, degrees."""
PILLOW = 0.09
"""Thickness of a pillow that is lain or stood on."""
STOOL_HEIGHT = 0.45


@dataclass(frozen=True, slots=True)
class World:
    """Surfaces and handholds by the words that authors use; ``keep_out`` may not be entered by the body."""

    surfaces: dict[str, Surface] = field(default_factory=dict)
    handholds: dict[str, dict[str, Point3]] = field(default_factory=dict)
    keep_out: tuple[Surface, ...] = ()

    def name_of(self, surface: Surface) -> str:
        """The word for a surface that the body may not enter; where a mat lies, the floor is the mat."""
        return next(name for name in ("mat", "wall", "ball") if self.surfaces.get(name) == surface)


def _distance(words: tuple[str, ...], usual: float) -> float:
    for word in words:
        try:
            return float(word)
        except ValueError:
            continue
    return usual


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


def _chair_holds(words: tuple[str, ...]) -> dict[str, Point3]:
    top = CHAIR_BACK_HEIGHT + 0.005
    if "beside-right" in words:
        return {"r": (0.05, top, 0.40), "l": (0.05, top, 0.40)}
    if "beside-left" in words or "beside" in words:
        return {"r": (0.05, top, -0.40), "l": (0.05, top, -0.40)}
    front = _distance(words, CHAIR_FRONT)
    return {"r": (front, top, 0.15), "l": (front, top, -0.15)}


def _counter_holds(words: tuple[str, ...]) -> dict[str, Point3]:
    high = COUNTER_HEIGHT + 0.02
    if "left" in words or "right" in words:
        z = (_distance(words, COUNTER_FRONT) + 0.07) * (1 if "right" in words else -1)
        return {"r": (0.10, high, z), "l": (0.10, high, z)}
    front = _distance(words, COUNTER_FRONT) + 0.07
    return {"r": (front, high, 0.17), "l": (front, high, -0.17)}


def _rail_holds(words: tuple[str, ...]) -> dict[str, Point3]:
    high = RAIL_HEIGHT + 0.01
    if "left" in words or "right" in words:
        z = _distance(words, RAIL_ASIDE) * (1 if "right" in words else -1)
        return {"r": (0.16, high, z), "l": (0.16, high, z)}
    front = _distance(words, RAIL_FRONT)
    return {"r": (front, high, 0.17), "l": (front, high, -0.17)}


def make_world(spec: FigureSpec, share: float = 0.0) -> World:
    """The surfaces and handholds of a figure's props, ``share`` of the way from start to end; in flight the floor of contacts rises with the feet."""
    uses = {use.name: use.words for use in spec.props}
    floor = MAT_THICK if "mat" in uses else 0.0
    level: Surface = Plane((0.0, 1.0, 0.0), floor)
    surfaces: dict[str, Surface] = {"floor": Plane((0.0, 1.0, 0.0), spec.flight * share), "mat": level}
    holds: dict[str, dict[str, Point3]] = {}
    keep_out = [] if "slope" in uses else [level]
    up = (0.0, 1.0, 0.0)
    surfaces["seat"] = Plane(up, SEAT_HEIGHT)
    surfaces["chair"] = Plane(up, SEAT_HEIGHT)
    holds["chair"] = _chair_holds(uses.get("chair", ()))
    surfaces["step"] = Plane(up, step_height(uses.get("step", ())))
    surfaces["stool"] = Plane(up, STOOL_HEIGHT)
    surfaces["towel"] = Plane(up, floor + FOLDED_TOWEL)
    rise = math.radians(SLOPE)
    surfaces["slope"] = Plane((-math.sin(rise), math.cos(rise), 0.0), 0.0)
    holds["rail"] = _rail_holds(uses.get("rail", ()))
    surfaces["counter"] = Plane(up, COUNTER_HEIGHT)
    holds["counter"] = _counter_holds(uses.get("counter", ()))
    table = _distance(uses.get("table", ()), TABLE_FRONT)
    surfaces["table"] = Plane(up, TABLE_HEIGHT)
    holds["table"] = {"r": (table + 0.10, TABLE_HEIGHT + 0.02, 0.16), "l": (table + 0.10, TABLE_HEIGHT + 0.02, -0.16)}
    surfaces["roll"] = Plane(up, floor + 2 * ROLL)
    surfaces["pillow"] = Plane(up, floor + PILLOW)
    surfaces["wall"] = wall_plane(uses.get("wall", ()))
    surfaces["doorway"] = Plane((-1.0, 0.0, 0.0), -_distance(uses.get("doorway", ()), 0.10))
    ball = ball_sphere(uses.get("exercise-ball", ()), floor, share)
    surfaces["ball"] = ball
    if "wall" in uses:
        keep_out.append(surfaces["wall"])
    if "exercise-ball" in uses and "sit" not in uses["exercise-ball"]:
        keep_out.append(ball)
    return World(surfaces, holds, tuple(keep_out))


PROP_OF = {
    "floor": "", "mat": "mat", "seat": "chair", "chair": "chair", "step": "step", "stool": "stool", "counter": "counter",
    "table": "table", "roll": "roll", "pillow": "pillow", "wall": "wall", "doorway": "doorway", "ball": "exercise-ball",
    "towel": "towel", "slope": "slope", "rail": "rail",
}  # fmt: skip
"""What a contact may name besides places on the body, and the prop that it is a part of ('' for what is always there)."""
HELD = frozenset({"chair", "counter", "table", "rail"})
"""What a hand can grip; the chair that is sat on is drawn without a place for a hand."""

"""The things that stand by the body, carry it, or are worn or held: a declaration for each, and nothing else.

The next one needs an entry here only.  Its name, its words and the names of its tops, holds, footholds and anchors are words that
authors type.  Sizes are those of common furniture and equipment, metres; common practice, no source.
"""

from __future__ import annotations

from collections.abc import Mapping

from handouts.figure.pose.thing import (
    Ball,
    Box,
    Cuff,
    Foothold,
    Hold,
    Pad,
    Point3,
    Prism,
    Roll,
    Solid,
    Stand,
    Thing,
    Top,
    Tube,
    Waves,
    Worn,
)  # fmt: skip

SEAT_HEIGHT = 0.45
"""Common chair seat; also the seat that gives a knee of 90 degrees at a stature of 1.70 m within 2 cm."""
COUNTER_HEIGHT, TABLE_HEIGHT, RAIL_HEIGHT, STOOL_HEIGHT = 0.91, 0.74, 0.95, 0.45
CHAIR_BACK_HEIGHT, CHAIR_WIDTH, STOOL_DEPTH = 0.88, 0.42, 0.38
SEAT_BEHIND = 0.15
"""Metres of a seat behind the hips of who sits on it."""
BED_HEIGHT, PLINTH_HEIGHT, BENCH_HEIGHT, WHEELCHAIR_SEAT = 0.50, 0.60, 0.44, 0.50
_LEG = 0.034
_AHEAD, _ACROSS = (1.0, 0.0, 0.0), (0.0, 0.0, 1.0)


def _legs(x0: float, x1: float, half: float, high: float, leg: float) -> tuple[Box, ...]:
    return tuple(Box((x, high / 2, z), (leg, high, leg)) for x in (x0, x1) for z in (-half, half))


def _sat_at(depth: float) -> float:
    """The middle of a seat on which one sits."""
    return round(depth / 2 - SEAT_BEHIND, 3)


def _chair(x: float) -> tuple[Solid, ...]:
    """A chair with its back to the person, the middle of its seat at x."""
    wide, half, seat, top = CHAIR_WIDTH, CHAIR_WIDTH / 2 - _LEG / 2, SEAT_HEIGHT, CHAIR_BACK_HEIGHT
    posts = tuple(Box((x - half, (seat + top) / 2, z), (_LEG, top - seat, _LEG)) for z in (-half, half))
    legs = _legs(x - half, x + half, half, seat - 0.04, _LEG)
    return (legs[0], posts[0], legs[1], posts[1], legs[2], legs[3], Box((x, seat - 0.02, 0.0), (wide, 0.04, wide)),
            Box((x - half, top - 0.08, 0.0), (_LEG * 0.8, 0.14, wide - 2 * _LEG)))  # fmt: skip


_CHAIR_TOPS = {"seat": Top(SEAT_HEIGHT), "chair": Top(SEAT_HEIGHT)}
_CHAIR_HOLD = {"chair": Hold((0.0, CHAIR_BACK_HEIGHT - 0.005, 0.15), _ACROSS, 0.018, 0.0)}


def _by_chair(way: str) -> Stand:
    aside = 0.05 if way != "front" else 0.0
    return Stand(_chair(CHAIR_WIDTH / 2 - (_LEG / 2 if way == "front" else 0.0)), way, 0.40, aside, _CHAIR_TOPS, _CHAIR_HOLD)


def _counter(way: str) -> Stand:
    deep, wide, top = 0.46, 0.70 if way == "front" else 0.90, COUNTER_HEIGHT
    solids = (Box((deep / 2 + 0.03, (top - 0.04) / 2, 0.0), (deep - 0.06, top - 0.04, wide - 0.06)),
              Box((deep / 2, top - 0.02, 0.0), (deep, 0.04, wide)))  # fmt: skip
    return Stand(solids, way, 0.30, 0.0 if way == "front" else 0.05, {"counter": Top(top)},
                 {"counter": Hold((0.07, top + 0.02, 0.17), _ACROSS, 0.0, 0.05)})  # fmt: skip


def _table() -> Stand:
    top, deep, wide, leg = TABLE_HEIGHT, 0.66, 0.80, 0.045
    legs = _legs(leg, deep - leg, wide / 2 - leg, top - 0.04, leg)
    return Stand((*legs, Box((deep / 2, top - 0.02, 0.0), (deep, 0.04, wide))), "front", 0.34, 0.0, {"table": Top(top)},
                 {"table": Hold((0.10, top + 0.02, 0.16))})  # fmt: skip


def _rail(way: str) -> Stand:
    half = 0.42 if way == "front" else 0.50
    posts = tuple(Tube(((0.0, 0.0, half * s), (0.0, RAIL_HEIGHT, half * s)), 0.016) for s in (-0.8, 0.8))
    bar = Tube(((0.0, RAIL_HEIGHT, -half), (0.0, RAIL_HEIGHT, half)), 0.021, held=True)
    return Stand((*posts, bar), way, 0.34 if way == "front" else 0.36, 0.16 if way != "front" else 0.0,
                 holds={"rail": Hold((0.0, RAIL_HEIGHT, 0.17), _ACROSS, 0.021, 0.0)})  # fmt: skip


def _stool(x: float, under: str) -> Stand:
    return Stand((Box((x, STOOL_HEIGHT / 2, 0.0), (STOOL_DEPTH, STOOL_HEIGHT, 0.40)),), "here", tops={"stool": Top(STOOL_HEIGHT)}, under=under)


def _bolster(under: str) -> Stand:
    return Stand((Roll((0.0, 0.10, 0.0), _ACROSS, 0.60, 0.10),), "here", tops={"bolster": Top(0.20)}, under=under)


def _lying(name: str, top: float, x0: float, x1: float, half: float, solids: tuple[Solid, ...]) -> Mapping[str, Stand]:
    """What one lies on, its foot at x1: in its middle, or near the edge at one's right or left."""
    near = half - 0.10
    return {
        word: Stand(solids, "here", 0.0, aside, {name: Top(top)}, rim=(x0, x1, aside - half, aside + half), layer=-5)
        for word, aside in (("lie", 0.0), ("edge-right", -near), ("edge-left", near))
    }


def _sat(name: str, top: float, solids: tuple[Solid, ...]) -> Stand:
    return Stand(solids, "here", tops={name: Top(top)}, layer=-4)


def _mattress(x0: float, x1: float, half: float, high: float) -> tuple[Solid, ...]:
    middle, long = (x0 + x1) / 2, x1 - x0
    return (*_legs(x0 + 0.05, x1 - 0.05, half - 0.05, high - 0.24, 0.06),
            Box((middle, high - 0.21, 0.0), (long, 0.08, 2 * half)),
            Box((middle, high - 0.085, 0.0), (long - 0.04, 0.17, 2 * half - 0.04), "mat"))  # fmt: skip


def _couch(x0: float, x1: float, half: float, high: float, thick: float) -> tuple[Solid, ...]:
    middle, long = (x0 + x1) / 2, x1 - x0
    return (*_legs(x0 + 0.12, x1 - 0.12, half - 0.06, high - thick, 0.05),
            Box((middle, high - thick / 2, 0.0), (long, thick, 2 * half), "mat"))  # fmt: skip


_RECLINED = 45.0
_HINGE = -0.12


def _reclined_bed() -> Stand:
    """A bed with its head part raised behind the hips of who sits in it."""
    high, long = BED_HEIGHT, 0.92
    flat = Box(((_HINGE + 1.02) / 2, high - 0.085, 0.0), (1.02 - _HINGE, 0.17, 0.88), "mat")
    part = Prism(((_HINGE, high), (_HINGE - long * 0.7071, high + long * 0.7071), (_HINGE - long * 0.7071 - 0.10, high + long * 0.7071 - 0.10),
                  (_HINGE - 0.02, high - 0.17)), 0.44, "mat")  # fmt: skip
    under = _mattress(-0.98, 1.02, 0.46, high)[:-1]
    return Stand((*under, flat, part), "here", tops={"bed": Top(high), "backrest": Top(high - _HINGE, -_RECLINED)}, layer=-5)


def _wheelchair() -> Stand:
    seat, arm = WHEELCHAIR_SEAT, 0.72
    ring = tuple((-0.10 + 0.30 * c, 0.30 + 0.30 * s, 0.30) for c, s in _CIRCLE)
    small = tuple((0.36 + 0.075 * c, 0.075 + 0.075 * s, 0.22) for c, s in _CIRCLE)
    solids: list[Solid] = [Box((0.01, seat - 0.025, 0.0), (0.42, 0.05, 0.44), "cloth"),
                           Prism(((-0.20, seat), (-0.155, seat), (-0.215, 0.92), (-0.25, 0.92)), 0.21, "cloth")]  # fmt: skip
    for z in (-1.0, 1.0):
        solids += [Tube(tuple((x, y, w * z) for x, y, w in ring), 0.016), Tube(tuple((x, y, w * z) for x, y, w in small), 0.014),
                   Tube(((-0.20, arm, 0.25 * z), (0.22, arm, 0.25 * z)), 0.018, held=True),
                   Tube(((0.18, arm, 0.25 * z), (0.20, seat - 0.04, 0.23 * z), (0.34, 0.12, 0.20 * z)), 0.012),
                   Tube(((-0.16, seat - 0.04, 0.22 * z), (-0.235, 0.95, 0.22 * z), (-0.31, 0.97, 0.22 * z)), 0.012),
                   Box((0.42, 0.05, 0.11 * z), (0.20, 0.02, 0.17))]  # fmt: skip
    return Stand(tuple(solids), "here", tops={"wheelchair": Top(seat), "footplate": Top(0.06), "armrest": Top(arm + 0.018)},
                 holds={"armrest": Hold((0.12, arm, 0.25), _AHEAD, 0.018)}, back=-0.19)  # fmt: skip


_CIRCLE = tuple((c, s) for c, s in (
    (1.0, 0.0), (0.924, 0.383), (0.707, 0.707), (0.383, 0.924), (0.0, 1.0), (-0.383, 0.924), (-0.707, 0.707), (-0.924, 0.383),
    (-1.0, 0.0), (-0.924, -0.383), (-0.707, -0.707), (-0.383, -0.924), (0.0, -1.0), (0.383, -0.924), (0.707, -0.707), (0.924, -0.383),
    (1.0, 0.0)))  # fmt: skip
_PEDAL, _CRANK, _AXLE = 0.11, 0.165, (0.30, 0.31)
"""How far a pedal stands to the side, the length of its crank, and the place of the axle."""


def _bike() -> Stand:
    x, y = _AXLE
    pedals: list[Solid] = [Tube(((x, y + _CRANK * s, 0.07 * s), (x, y, 0.07 * s)), 0.011) for s in (1.0, -1.0)]
    pedals += [Box((x + 0.01, y + _CRANK * s - 0.011, (_PEDAL + 0.01) * t), (0.10, 0.022, 0.09), "metal") for s, t in ((1.0, 1.0), (-1.0, -1.0))]
    frame = (Tube(((-0.22, 0.03, -0.20), (-0.22, 0.03, 0.20)), 0.024), Tube(((0.72, 0.03, -0.20), (0.72, 0.03, 0.20)), 0.024),
             Tube(((-0.22, 0.03, 0.0), (0.72, 0.03, 0.0)), 0.024), Tube(((x, 0.05, 0.0), (-0.02, 0.80, 0.0)), 0.026),
             Tube(((0.60, 0.04, 0.0), (0.52, 1.10, 0.0)), 0.026), Roll((0.56, 0.31, 0.0), _ACROSS, 0.05, 0.17, "metal"),
             Tube(((x, y, 0.0), (0.56, y, 0.0)), 0.02), Roll((x, y, 0.0), _ACROSS, 0.14, 0.035, "metal"),
             Tube(((0.52, 1.10, -0.23), (0.52, 1.10, 0.23)), 0.016, held=True),
             Pad((-0.05, 0.805, 0.0), (0.13, 0.035, 0.085), "sole"))  # fmt: skip
    return Stand(frame, "here", tops={"saddle": Top(0.83)}, turning=tuple(pedals), axle=(x, y, 0.0),
                 holds={"handlebar": Hold((0.52, 1.10, 0.17), _ACROSS, 0.016)},
                 footholds={"pedal-high": Foothold((x, y + _CRANK, _PEDAL)), "pedal-low": Foothold((x, y - _CRANK, _PEDAL))})  # fmt: skip


def _walking_frame() -> Stand:
    high, z, solids = 0.88, 0.29, list[Solid]()
    for s in (-1.0, 1.0):
        solids += [Tube(((-0.24, 0.0, (z + 0.03) * s), (-0.16, high, z * s), (0.16, high, z * s), (0.24, 0.0, (z + 0.03) * s)), 0.014),
                   Tube(((-0.21, 0.34, (z + 0.02) * s), (0.21, 0.34, (z + 0.02) * s)), 0.011),
                   Tube(((-0.13, high, z * s), (0.07, high, z * s)), 0.021, "sole", held=True)]  # fmt: skip
    solids += [Tube(((0.19, h, -z - 0.01), (0.19, h, z + 0.01)), 0.012) for h in (0.36, 0.74)]
    return Stand(tuple(solids), "front", 0.22, holds={"walking-frame": Hold((-0.03, high, z), _AHEAD, 0.021)})


def _cane(way: str) -> Stand:
    high = 0.90
    solids = (Tube(((0.06, 0.0, 0.0), (0.03, high, 0.0)), 0.011), Tube(((-0.06, high, 0.0), (0.06, high, 0.0)), 0.014, "sole", held=True))
    aside = 0.30 if way == "right" else -0.30
    return Stand(solids, "front", 0.10, aside, holds={"cane": Hold((0.0, high, 0.0), _AHEAD, 0.014)})


def _post(height: float) -> Stand:
    return Stand((Box((0.045, 1.0, 0.0), (0.09, 2.0, 0.09)), Ball((-0.012, height, 0.0), 0.026, "metal")), "front", 0.90,
                 anchors={"post": (-0.02, height, 0.0)}, layer=-6)  # fmt: skip


_GRIP_BAR = Tube(((-0.07, 0.0, 0.0), (0.07, 0.0, 0.0)), 0.014, "sole", held=True, round_ends=False)
_DUMBBELL: tuple[Solid, ...] = (_GRIP_BAR, *(Roll((0.07 * end, 0.0, 0.0), _AHEAD, 0.035, 0.038, "sole") for end in (-1, 1)))
_BELL_TOP: tuple[Point3, ...] = (
    (-0.045, -0.075, 0.0), (-0.055, -0.01, 0.0), (-0.035, 0.0, 0.0), (0.035, 0.0, 0.0), (0.055, -0.01, 0.0), (0.045, -0.075, 0.0))
_KETTLEBELL = (Tube(_BELL_TOP, 0.015, "sole", held=True), Ball((0.0, -0.145, 0.0), 0.085, "sole"))
_CARD = (Box((0.0, 0.0, 0.0), (0.012, 0.21, 0.15), "paper"), Ball((-0.008, 0.0, 0.0), 0.022, "sole"))

THINGS: Mapping[str, Thing] = {
    "chair": Thing({"seat": Stand(_chair(_sat_at(CHAIR_WIDTH)), "here", tops=_CHAIR_TOPS, under="seat"),
                    "support": _by_chair("front"), "front": _by_chair("front"), "beside": _by_chair("left"), "beside-left": _by_chair("left"),
                    "beside-right": _by_chair("right"), "behind": Stand(_chair(-0.24), "here", tops=_CHAIR_TOPS, under="behind")}),
    "stool": Thing({"foot": _stool(0.0, "foot"), "sit": _stool(_sat_at(STOOL_DEPTH), "seat")}, moves=False),
    "counter": Thing({way: _counter(way) for way in ("front", "left", "right")}),
    "table": Thing({"front": _table()}),
    "rail": Thing({way: _rail(way) for way in ("front", "left", "right")}),
    "bed": Thing({**_lying("bed", BED_HEIGHT, -1.02, 1.02, 0.46, _mattress(-1.02, 1.02, 0.46, BED_HEIGHT)),
                  "sit": _sat("bed", BED_HEIGHT, _mattress(-0.66, 0.26, 0.80, BED_HEIGHT)), "raised": _reclined_bed()},
                 carries=("mat", "seat"), usual={"sitting": "sit", "reclined": "raised"}, moves=False),
    "plinth": Thing({**_lying("plinth", PLINTH_HEIGHT, -0.98, 0.98, 0.33, _couch(-0.98, 0.98, 0.33, PLINTH_HEIGHT, 0.09)),
                     "sit": _sat("plinth", PLINTH_HEIGHT, _couch(-0.42, 0.24, 0.75, PLINTH_HEIGHT, 0.09))},
                    carries=("mat", "seat"), usual={"sitting": "sit"}, moves=False),
    "bench": Thing({**_lying("bench", BENCH_HEIGHT, -1.02, 0.28, 0.16, _couch(-1.02, 0.28, 0.16, BENCH_HEIGHT, 0.07)),
                    "sit": _sat("bench", BENCH_HEIGHT, _couch(-0.17, 0.23, 0.52, BENCH_HEIGHT, 0.07))},
                   carries=("mat", "seat"), usual={"sitting": "sit"}, moves=False),
    "wheelchair": Thing({"sit": _wheelchair()}, carries=("seat",), moves=False),
    "exercise-bike": Thing({"sit": _bike()}, carries=("seat",), moves=False),
    "walking-frame": Thing({"front": _walking_frame()}),
    "cane": Thing({"right": _cane("right"), "left": _cane("left")}),
    "post": Thing({word: _post(height) for word, height in (("mid", 1.05), ("low", 0.20), ("high", 1.85))}),
    "weight": Thing(worn={"hand": Worn(_DUMBBELL)}, both={"hands": "hand"}, radius=0.014, worked_with=True),
    "kettlebell": Thing(worn={"hand": Worn(_KETTLEBELL, hangs=True)}, between=Worn(_KETTLEBELL, hangs=True), radius=0.015, apart=0.075,
                        worked_with=True),
    "ankle-weight": Thing(worn={"ankle": Worn((Cuff("sh4", 1.20, 0.045, 0.035),)), "wrist": Worn((Cuff("fa3", 1.25, 0.035, 0.012),))},
                          both={"ankles": "ankle", "wrists": "wrist"}, worked_with=True),
    "card": Thing({"front": Stand((*_CARD, Tube(((0.02, -0.10, 0.0), (0.02, -1.8, 0.0)), 0.009)), "front", 0.85, under="eyes")},
                  {"hand": Worn((Box((0.0, 0.10, 0.0), (0.15, 0.21, 0.006), "paper"),), hangs=True)}, radius=0.012),
    "water": Thing({word: Stand((Waves(),), "here", under=word, layer=7) for word in ("chest", "waist", "shoulders")}, moves=False),
    "bolster": Thing({"knees": _bolster("knees"), "ankles": _bolster("ankles"), "chest": _bolster("ribs")}, moves=False),
}  # fmt: skip
"""Every declared thing, by the word that authors type."""
ANCHORS = tuple(dict.fromkeys(word for thing in THINGS.values() for stand in thing.stands.values() for word in stand.anchors))
"""What a band can be tied to, as a word of the band."""

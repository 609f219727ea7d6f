"""The body: segments with lengths, turns and masses, and the ellipsoids that give it shape.

Frames follow the ISB convention: X forward, Y up, Z to the right; metres.  Lengths are fractions of
stature (Drillis and Contini 1966, in Winter, Biomechanics and Motor Control of Human Movement, 2009,
figure 4.1); masses and centres of mass are Winter's table 4.1 only.  Never holds a pose.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from typing import Any

import numpy as np
from numpy.typing import NDArray

from handouts.figure.body.joints import INDEX, SIDES
from handouts.figure.body.people import PEOPLE, USUAL, without_segments
from handouts.figure.body.shape import TRUNK_SECTIONS, Lump, body_lumps

Array = NDArray[np.floating[Any]]

# Segment lengths as fractions of stature: Winter 2009, figure 4.1.
THIGH, SHANK, ANKLE_HEIGHT = 0.245, 0.246, 0.039
TRUNK, NECK, HEAD = 0.288, 0.052, 0.130
UPPER_ARM, FOREARM, HAND, FOOT = 0.186, 0.146, 0.108, 0.152
HIP_HALF_WIDTH = 0.052
"""Half the distance between the hip centres; Winter's trochanter width is 0.191 of stature."""
SHOULDER_HALF_WIDTH = 0.104
"""Half the distance between the shoulder centres; the outline of Winter's half width 0.1295 lies outside them."""
DEFAULT_STATURE = 1.70
"""Metres."""

SEGMENT_MASSES = {"hand": 0.006, "forearm": 0.016, "upper arm": 0.028, "foot": 0.0145, "shank": 0.0465,
                  "thigh": 0.100, "trunk": 0.497, "head": 0.081}  # fmt: skip
"""Fractions of body mass, limbs for one side: Winter 2009, table 4.1."""

_FLEX_SHARE = (0, 0, 0.26, 0.26, 0.20, 0.16, 0.12, 0, 0, 0)
"""How trunk flexion and side bend spread over the sections, lumbar most; sums to 1."""
_TURN_SHARE = (0, 0, 0.08, 0.10, 0.18, 0.24, 0.40, 0, 0, 0)
"""How trunk rotation spreads over the sections, thoracic most; sums to 1."""
_TILT_SHARE = (0, 0, 0.5, 0.3, 0.2, 0, 0, 0, 0, 0)
"""How a tilt of the pelvis spreads over the sections: the lowest bend, the chest does not; set by eye, sums to 1."""
_TOES_WITH_SOLE = 0.9
"""Degrees that the toes turn in for one degree that the sole does: the axis below the ankle rises 42 degrees
forward (Inman, The Joints of the Ankle, 1976; value from memory), and 0.9 is its tangent."""


@dataclass(frozen=True, slots=True)
class Turn:
    """One elementary rotation: ``factor`` times a variable, plus a fixed part, about a local axis (0 X, 1 Y, 2 Z)."""

    variable: int
    factor: float
    axis: int
    fixed: float = 0.0


@dataclass(frozen=True, slots=True)
class Segment:
    """A rigid part: its parent, the offset of its origin in the parent (fractions of stature), its turns in order."""

    name: str
    parent: int
    offset: tuple[float, float, float]
    turns: tuple[Turn, ...] = ()


def _trunk_segments(add: _Adder) -> None:
    add("sp1", "", (0, 0, 0))
    add("sp0", "sp1", (0, TRUNK_SECTIONS[0].height, 0))
    for number in range(2, 10):
        rise = TRUNK_SECTIONS[number].height - TRUNK_SECTIONS[number - 1].height
        flex, turn = _FLEX_SHARE[number], _TURN_SHARE[number]
        tilt = _TILT_SHARE[number]
        turns = (("trunk.flex", -flex, 2), ("trunk.side", flex, 0), ("trunk.turn", -turn, 1)) if flex else ()
        add(f"sp{number}", f"sp{number - 1}", (0, rise, 0), *turns, *((("pelvis.tilt", -tilt, 2),) if tilt else ()))
    # The neck bends half at its root and half at the skull; it carries the head 8 degrees forward.
    add("neck", "sp9", (-0.006, -0.002, 0), ("neck.flex", -0.5, 2, -8), ("neck.side", 0.5, 0), ("neck.turn", -0.3, 1), ("neck.glide", -1, 2))
    add("head", "neck", (0.002, 0.066, 0), ("neck.flex", -0.5, 2, 8), ("neck.side", 0.5, 0), ("neck.turn", -0.7, 1), ("neck.glide", 1, 2))


def _limb_segments(add: _Adder, side: str, z: int) -> None:
    # Hip: flexion, abduction, rotation (Grood and Suntay order, ISB: Wu et al. 2002).
    add(f"thigh.{side}", "sp1", (0, 0, HIP_HALF_WIDTH * z),
        (f"hip.{side}.flex", 1, 2), (f"hip.{side}.abd", -z, 0), (f"hip.{side}.ir", z, 1))  # fmt: skip
    add(f"shank.{side}", f"thigh.{side}", (0, -THIGH, 0), (f"knee.{side}.flex", -1, 2))
    add(f"foot.{side}", f"shank.{side}", (0, -SHANK, 0), (f"ankle.{side}.df", 1, 2), (f"ankle.{side}.inv", z, 0),
        (f"ankle.{side}.inv", _TOES_WITH_SOLE * z, 1))  # fmt: skip
    add(f"toes.{side}", f"foot.{side}", (0.072, -0.030, 0), (f"toes.{side}.ext", 1, 2))
    # The shoulder blade carries the shoulder joint round the inner end of the clavicle and turns no arm.
    up, forward = f"blade.{side}.up", f"blade.{side}.fwd"
    inner = (0.020, 0.010, 0.014 * z)
    add(f"girdle.{side}", "sp7", inner, (up, -z, 0), (forward, z, 1))
    add(f"clav.{side}", f"girdle.{side}", (-0.004 - inner[0], 0.015 - inner[1], SHOULDER_HALF_WIDTH * z - inner[2]), (forward, -z, 1), (up, z, 0))
    # Shoulder: horizontal adduction about the trunk's long axis, then flexion, abduction, rotation, as clinicians
    # say it.
    add(f"uarm.{side}", f"clav.{side}", (0, 0, 0), (f"shoulder.{side}.had", z, 1), (f"shoulder.{side}.flex", 1, 2),
        (f"shoulder.{side}.abd", -z, 0), (f"shoulder.{side}.ir", z, 1))  # fmt: skip
    elbow = (f"elbow.{side}.flex", 1, 2)
    add(f"farm.{side}", f"uarm.{side}", (0, -UPPER_ARM, 0), elbow, (f"forearm.{side}.pro", 0.5 * z, 1))
    add(f"hand.{side}", f"farm.{side}", (0, -FOREARM, 0), (f"forearm.{side}.pro", 0.5 * z, 1),
        (f"wrist.{side}.flex", z, 0), (f"wrist.{side}.dev", 1, 2))  # fmt: skip
    add(f"fing1.{side}", f"hand.{side}", (0, -0.054, 0), (f"fingers.{side}.curl", 0.9 * z, 0))
    add(f"fing2.{side}", f"fing1.{side}", (0, -0.034, 0), (f"fingers.{side}.curl", 1.0 * z, 0))


class _Adder:
    """Collects segments by name while the skeleton is written down."""

    def __init__(self) -> None:
        self.segments: list[Segment] = []
        self.numbers: dict[str, int] = {}

    def __call__(self, name: str, parent: str, offset: tuple[float, float, float], *turns: tuple[object, ...]) -> None:
        made = tuple(
            Turn(INDEX[str(turn[0])], float(str(turn[1])), int(str(turn[2])), float(str(turn[3])) if turn[3:] else 0.0)
            for turn in turns
        )
        self.numbers[name] = len(self.segments)
        self.segments.append(Segment(name, self.numbers.get(parent, -1), offset, made))


@cache
def skeleton() -> tuple[tuple[Segment, ...], dict[str, int]]:
    """All segments, parents before children, and the number of each name."""
    add = _Adder()
    _trunk_segments(add)
    for side, z in zip(SIDES, (1, -1), strict=True):
        _limb_segments(add, side, z)
    return tuple(add.segments), add.numbers


@dataclass(frozen=True, slots=True)
class MassPoint:
    """A share of body mass at a point of a segment (offset in fractions of stature)."""

    share: float
    segment: int
    offset: tuple[float, float, float]


@cache
def mass_points() -> tuple[MassPoint, ...]:
    """Where the mass sits; the trunk's 0.497 is 0.142 pelvis, 0.139 abdomen and 0.216 thorax (Winter, table 4.1)."""
    numbers = skeleton()[1]
    found = [
        MassPoint(0.142, numbers["sp1"], (0, 0.030, 0)),
        MassPoint(0.139, numbers["sp4"], (0, 0, 0)),
        MassPoint(0.216, numbers["sp6"], (0, 0, 0)),
        MassPoint(SEGMENT_MASSES["head"], numbers["head"], (0, 0.035, 0)),
    ]
    for side in SIDES:
        found += [
            MassPoint(SEGMENT_MASSES["thigh"], numbers[f"thigh.{side}"], (0, -0.433 * THIGH, 0)),
            MassPoint(SEGMENT_MASSES["shank"], numbers[f"shank.{side}"], (0, -0.433 * SHANK, 0)),
            MassPoint(SEGMENT_MASSES["foot"], numbers[f"foot.{side}"], (0.036, -0.020, 0)),
            MassPoint(SEGMENT_MASSES["upper arm"], numbers[f"uarm.{side}"], (0, -0.436 * UPPER_ARM, 0)),
            MassPoint(SEGMENT_MASSES["forearm"], numbers[f"farm.{side}"], (0, -0.430 * FOREARM, 0)),
            MassPoint(SEGMENT_MASSES["hand"], numbers[f"hand.{side}"], (0, -0.050, 0)),
        ]
    return tuple(found)


@dataclass(frozen=True, slots=True)
class Body:
    """A body of one stature and build, ready for computing.

    ``centres`` and ``radii`` are (n, 3) in metres in the frame of ``owner`` (n,), a segment number;
    ``lumps`` gives the number of an ellipsoid by its name.
    """

    stature: float
    build: float
    segments: tuple[Segment, ...]
    numbers: dict[str, int]
    centres: Array
    radii: Array
    owner: NDArray[np.int64]
    names: tuple[str, ...]
    lumps: dict[str, int]
    head: float = 1.0
    """The size of the head, a factor."""
    without: tuple[str, ...] = ()
    """Limbs that end early, as 'shank.r'."""
    gone: tuple[int, ...] = ()
    """Numbers of the segments that are not there."""


@cache
def make_body(stature: float = DEFAULT_STATURE, build: float = 1.0, person: str = "", without: tuple[str, ...] = ()) -> Body:
    """A body; ``stature`` in metres, ``build`` a factor on girths (1 is average); ``person`` and ``without`` as typed."""
    segments, numbers = skeleton()
    shape = PEOPLE.get(person, USUAL)
    lumps: tuple[Lump, ...] = body_lumps(build, shape, without)
    return Body(
        stature, build, segments, numbers,
        np.array([lump.centre for lump in lumps]) * stature,
        np.array([lump.radii for lump in lumps]) * stature,
        np.array([numbers[lump.segment] for lump in lumps]),
        tuple(lump.name for lump in lumps),
        {lump.name: number for number, lump in enumerate(lumps)},
        shape.head, without, tuple(sorted(numbers[name] for name in without_segments(without))),
    )  # fmt: skip

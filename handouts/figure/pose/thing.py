"""How a thing beside the body is declared: solids, surfaces, places for a hand or foot, and how it stands.

A thing has a frame of its own, metres: x away from the person, y up from the floor, z to the person's right.  A *stand* is one way
in which it stands; the same declaration serves wherever that is.  The table is ``handouts.figure.pose.things``.  Never draws.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, field

from handouts.figure.body.sites import Plane

Point3 = tuple[float, float, float]


@dataclass(frozen=True, slots=True)
class Box:
    """A box along the axes of its frame: middle and size."""

    middle: Point3
    size: Point3
    tone: str = "wood"


@dataclass(frozen=True, slots=True)
class Prism:
    """A convex outline of (x, y) corners, as deep as twice ``half`` along z, about ``z``."""

    outline: tuple[tuple[float, float], ...]
    half: float
    tone: str = "wood"
    z: float = 0.0


@dataclass(frozen=True, slots=True)
class Tube:
    """A round bar along points, no further down than the floor.

    A fist that holds it covers it where ``held``; ``round_ends`` where its ends are seen.
    """

    points: tuple[Point3, ...]
    radius: float
    tone: str = "metal"
    held: bool = False
    round_ends: bool = True
    nearer: float = 0.0
    """It is ordered as if it were so much nearer to the viewer."""


@dataclass(frozen=True, slots=True)
class Ball:
    """A ball."""

    middle: Point3
    radius: float
    tone: str = "cloth"


@dataclass(frozen=True, slots=True)
class Roll:
    """A cylinder: middle, direction, length, radius."""

    middle: Point3
    along: Point3
    length: float
    radius: float
    tone: str = "cloth"


@dataclass(frozen=True, slots=True)
class Pad:
    """A cushion: an ellipsoid along the axes of its frame, with half sizes."""

    middle: Point3
    half: Point3
    tone: str = "cloth"


@dataclass(frozen=True, slots=True)
class Cuff:
    """A band round an ellipsoid of a limb: how much wider than the limb, half as high as long, how far above the ellipsoid."""

    lump: str
    wider: float
    high: float
    above: float = 0.0
    tone: str = "cloth"


@dataclass(frozen=True, slots=True)
class Waves:
    """A line of water across the whole picture, over the body."""

    length: float = 1.1
    tone: str = "water"


Solid = Box | Prism | Tube | Ball | Roll | Pad | Cuff | Waves


@dataclass(frozen=True, slots=True)
class Hold:
    """Where the right hand takes hold (the left: z the other way), and the bar there: direction and radius.

    Without a radius the hand lies on it.  ``beside`` is how far ahead of the person one hand holds it where it stands beside.
    """

    place: Point3
    axis: Point3 = (0.0, 0.0, 1.0)
    radius: float = 0.0
    beside: float | None = None


@dataclass(frozen=True, slots=True)
class Top:
    """A surface: its height at x = 0, and by how many degrees it rises along x."""

    height: float
    rise: float = 0.0


@dataclass(frozen=True, slots=True)
class Foothold:
    """A place for the ball of the right foot (the left: z the other way)."""

    place: Point3


@dataclass(frozen=True, slots=True)
class Stand:
    """One way in which a thing stands.

    ``way`` is where: 'front', 'back', 'left', 'right', or 'here' for what the body is on or in.  ``distance`` is the usual one along
    that way.  ``under`` names what of the body it is set to in picture 1 when it is drawn, in place of the world's middle.
    """

    solids: tuple[Solid, ...]
    way: str = "front"
    distance: float = 0.0
    aside: float = 0.0
    """How far the thing is moved along z of its frame."""
    tops: Mapping[str, Top] = field(default_factory=dict)
    holds: Mapping[str, Hold] = field(default_factory=dict)
    footholds: Mapping[str, Foothold] = field(default_factory=dict)
    anchors: Mapping[str, Point3] = field(default_factory=dict)
    """Where a band is tied, by a word of the band."""
    rim: tuple[float, float, float, float] | None = None
    """What the body cannot enter from above: least and largest x, least and largest z of its first top."""
    back: float | None = None
    """Where a back rest stands: less x cannot be reached."""
    under: str = ""
    layer: int = 0
    turning: tuple[Solid, ...] = ()
    """Solids that make half a turn about ``axle`` from the start to the end, forward at the top; boxes stay level."""
    axle: Point3 = (0.0, 0.0, 0.0)


@dataclass(frozen=True, slots=True)
class Worn:
    """What is on the body at a point: solids in the frame of a closed hand ('grip'), or round a limb ('limb').

    In the frame of a hand x is along the bar, y from the finger tips to the wrist; ``hangs``: y is up, whatever the hand does.
    """

    solids: tuple[Solid, ...]
    hangs: bool = False


@dataclass(frozen=True, slots=True)
class Thing:
    """A thing: its stands by word, the first one usual, and what is worn or held by point of the body.

    ``carries`` are the words of base contacts ('mat', 'seat') in whose place its first top comes.  ``usual`` names the stand by base
    position where no word does.  ``apart``: how far apart both hands hold it, between their middles.  ``radius``: of what a fist closes round.
    """

    stands: Mapping[str, Stand] = field(default_factory=dict)
    worn: Mapping[str, Worn] = field(default_factory=dict)
    both: Mapping[str, str] = field(default_factory=dict)
    """Words for both sides, and the point that they mean."""
    between: Worn | None = None
    """What is held between both hands."""
    radius: float = 0.0
    apart: float = 0.0
    carries: tuple[str, ...] = ()
    usual: Mapping[str, str] = field(default_factory=dict)
    moves: bool = True
    """Whether a number says how far away it stands."""
    worked_with: bool = False

    @property
    def words(self) -> tuple[str, ...]:
        """The words that say how it stands or who holds it."""
        return (*self.stands, *self.both, *(("hands",) if self.between and "hands" not in self.both else ()))

    def stand(self, words: tuple[str, ...], base: str) -> Stand | None:
        """The stand that words mean, or the usual one of a base position; None where it is held or worn."""
        for word in words:
            if word in self.stands:
                return self.stands[word]
        named = any(word.partition(".")[0] in (*self.worn, *self.both, "hands") for word in words)
        if named or not self.stands:
            return None
        return self.stands[self.usual.get(base, next(iter(self.stands)))]


@dataclass(frozen=True, slots=True)
class Where:
    """A frame in the world: its origin and the directions of its axes."""

    origin: Point3
    x: Point3
    y: Point3
    z: Point3

    def turned(self, way: Point3) -> Point3:
        """A direction of the frame in the world."""
        a, b, c = way
        return tuple(a * self.x[i] + b * self.y[i] + c * self.z[i] for i in range(3))  # type: ignore[return-value]

    def at(self, point: Point3) -> Point3:
        """A point of the frame in the world."""
        way = self.turned(point)
        return tuple(self.origin[i] + way[i] for i in range(3))  # type: ignore[return-value]


_UP = (0.0, 1.0, 0.0)
_WAYS: Mapping[str, tuple[Point3, Point3]] = {
    "front": ((1.0, 0.0, 0.0), (0.0, 0.0, 1.0)),
    "back": ((-1.0, 0.0, 0.0), (0.0, 0.0, 1.0)),
    "left": ((0.0, 0.0, -1.0), (1.0, 0.0, 0.0)),
    "right": ((0.0, 0.0, 1.0), (1.0, 0.0, 0.0)),
}
"""The directions of x and z of a thing's frame."""


def numbers_of(words: tuple[str, ...]) -> list[float]:
    """The numbers among the words of a prop."""
    found = []
    for word in words:
        try:
            found.append(float(word))
        except ValueError:
            continue
    return found


def where_of(stand: Stand, words: tuple[str, ...], share: float, head_first: bool) -> Where:
    """The frame of a stand, ``share`` of the way from start to end; ``head_first``: the head of who lies there is at +X.

    Two numbers say how far away it stands at the start and at the end.
    """
    if stand.way == "here":
        x: Point3 = (-1.0, 0.0, 0.0) if head_first else (1.0, 0.0, 0.0)
        return Where((0.0, 0.0, stand.aside), x, _UP, (0.0, 0.0, 1.0))
    found = numbers_of(words) or [stand.distance]
    far = found[0] * (1 - share) + found[-1] * share
    x, z = _WAYS[stand.way]
    return Where(tuple(x[i] * far + z[i] * stand.aside for i in range(3)), x, _UP, z)  # type: ignore[arg-type]


def plane_of(top: Top, where: Where) -> Plane:
    """A top in the world."""
    rise = math.radians(top.rise)
    normal = where.turned((-math.sin(rise), math.cos(rise), 0.0))
    through = where.at((0.0, top.height, 0.0))
    return Plane(normal, sum(a * b for a, b in zip(normal, through, strict=True)))


def hold_of(hold: Hold, stand: Stand, where: Where, side: str) -> Point3:
    """Where the hand of a side takes hold."""
    x, y, z = hold.place
    if stand.way in ("left", "right") and hold.beside is not None:
        return where.at((x, y, hold.beside))
    return where.at((x, y, z if side == "r" else -z))


_SAME_HEIGHT = 0.002
"""Metres between a top and the boxes that it is made of."""


def edges_of(stand: Stand, top: Top, where: Where) -> tuple[float, float, float, float] | None:
    """Least and largest x, least and largest z of a level top in the world, from its boxes; None where it has none."""
    boxes = [one for one in stand.solids if isinstance(one, Box) and abs(one.middle[1] + one.size[1] / 2 - top.height) < _SAME_HEIGHT]
    corners = [
        where.at((box.middle[0] + box.size[0] / 2 * i, 0.0, box.middle[2] + box.size[2] / 2 * k))
        for box in boxes for i in (-1, 1) for k in (-1, 1)
    ]  # fmt: skip
    if not corners or stand.under or top.rise:
        return None
    x, z = [corner[0] for corner in corners], [corner[2] for corner in corners]
    return min(x), max(x), min(z), max(z)

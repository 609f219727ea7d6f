"""What an author typed for a figure, as frozen values; every value keeps its place.

Lengths in metres, angles in degrees.  Never reads YAML (``handouts.figure.pose.read`` does) and never computes.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from itertools import pairwise

from handouts.problems import Place


@dataclass(frozen=True, slots=True)
class Named:
    """A name with an optional side ('r', 'l' or '') such as ``ankle.r``."""

    name: str
    side: str = ""
    place: Place = field(default=Place(""), compare=False, repr=False)

    def __str__(self) -> str:
        return f"{self.name}.{self.side}" if self.side else self.name


@dataclass(frozen=True, slots=True)
class Contact:
    """A site of the body that rests on, or grips, a target."""

    site: Named
    target: str


@dataclass(frozen=True, slots=True)
class PoseAngle:
    """One authored angle: a variable of ``handouts.figure.body.joints`` and its value in degrees."""

    variable: str
    degrees: float
    place: Place = field(default=Place(""), compare=False, repr=False)


@dataclass(frozen=True, slots=True)
class PropUse:
    """One prop and the words that say how it is used."""

    name: str
    words: tuple[str, ...]
    place: Place = field(default=Place(""), compare=False, repr=False)


@dataclass(frozen=True, slots=True)
class Excuse:
    """Why a motion may leave its normal range: ``motion`` is a clinical name."""

    motion: str
    why: str
    place: Place = field(default=Place(""), compare=False, repr=False)


@dataclass(frozen=True, slots=True)
class Reach:
    """A part of the body that meets another, or a thing, in picture 2: a point, and a point or the name of a thing."""

    point: Named
    target: Named


@dataclass(frozen=True, slots=True)
class Claim:
    """One thing that a picture must show.

    ``relation`` is a value of ``BETWEEN_POINTS`` or ``MOVES`` (``handouts.figure.pose.claims``), or 'angle'; ``others`` are points, or a thing's name
    alone; ``low`` and ``high`` are degrees of ``variable``, or centimetres of a move.
    """

    subject: Named
    relation: str
    others: tuple[Named, ...]
    when: str
    text: str
    variable: str = ""
    low: float = -400.0
    high: float = 400.0
    place: Place = field(default=Place(""), compare=False, repr=False)


@dataclass(frozen=True, slots=True)
class Station:
    """A pose of the movement: its angles, and what touches what.

    ``base`` is a base position of its own: the angles are those that differ from it, and those of the pictures after it differ from
    this one.  Without any, they differ from picture 1.
    """

    angles: tuple[PoseAngle, ...]
    contacts: tuple[Contact, ...]
    base: str = ""


@dataclass(frozen=True, slots=True)
class FigureSpec:
    """One figure.  ``end`` holds only what differs from ``start``; ``moves`` is False for a held position."""

    base: str
    view: tuple[float, float]
    view_name: str
    props: tuple[PropUse, ...]
    contacts: tuple[Contact, ...]
    end_contacts: tuple[Contact, ...]
    start: tuple[PoseAngle, ...]
    end: tuple[PoseAngle, ...]
    slide: tuple[Named, ...]
    pin: tuple[Named, ...]
    arrow: tuple[Named, ...]
    active: tuple[Named, ...]
    lean: float
    balance: str
    side: str
    beyond: tuple[Excuse, ...]
    moves: bool
    shows: tuple[Claim, ...] = ()
    stretched: tuple[Named, ...] = ()
    person: str = ""
    """Who is drawn, where the exercise says so."""
    without: tuple[str, ...] = ()
    """Limbs that end early, as 'shank.r'."""
    via: tuple[Station, ...] = ()
    """Pictures between the first and the last, in order."""
    inset: Named | None = None
    """The point round which the last picture is shown once more, larger."""
    flight: float = 0.0
    """Metres by which the ground under the feet is left behind at the end."""
    reach: tuple[Reach, ...] = ()
    """Goals of picture 2, in place of angles."""
    together: tuple[str, ...] = ()
    """Parts of both sides that touch all the way: words of ``handouts.figure.pose.names.TOGETHER``."""
    end_base: str = ""
    """The base position of the last picture, where it has one of its own."""
    place: Place = field(default=Place(""), compare=False, repr=False)
    places: tuple[tuple[str, Place], ...] = field(default=(), compare=False, repr=False)

    @property
    def stations(self) -> tuple[Station, ...]:
        """Every picture in order; only the first where nothing moves."""
        last = (Station(self.end, self.end_contacts, self.end_base),) if self.moves else ()
        return (Station((), self.contacts), *self.via, *last)

    @property
    def sections(self) -> tuple[FigureSpec, ...]:
        """The pictures in a row that stand on one base position, each row as a figure of its own; the figure itself where it has one base."""
        stations = self.stations
        begins = [number for number, station in enumerate(stations) if station.base or not number]
        if len(begins) == 1:
            return (self,)
        return tuple(self._section(stations[low:high], low, high == len(stations)) for low, high in pairwise((*begins, len(stations))))

    def _section(self, stations: tuple[Station, ...], number: int, is_last: bool) -> FigureSpec:
        first, *rest = stations
        last = rest[-1] if rest else replace(first, angles=())
        return replace(
            self, base=first.base or self.base, start=first.angles if number else self.start, contacts=first.contacts, via=tuple(rest[:-1]),
            end=last.angles, end_contacts=last.contacts, end_base="", moves=bool(rest), lean=0.0 if number else self.lean,
            reach=self.reach if is_last else (), flight=self.flight if is_last else 0.0,
        )  # fmt: skip

    def prop(self, name: str) -> PropUse | None:
        """The use of a prop, or None."""
        return next((use for use in self.props if use.name == name), None)

    def place_of(self, key: str) -> Place:
        """Where a key of the figure stands, or the figure itself."""
        return dict(self.places).get(key, self.place)


def over(own: tuple[PoseAngle, ...], typed: tuple[PoseAngle, ...]) -> tuple[PoseAngle, ...]:
    """The angles of a pose with those that are typed in their place."""
    given = {angle.variable for angle in typed}
    return (*(angle for angle in own if angle.variable not in given), *typed)

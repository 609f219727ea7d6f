"""Which limits an exercise may exceed: by how much, when in the movement, on which side.

A bound is judged true, false or unknown.  An angle is rounded to a whole degree; it is found where it passes the
bound by more than ``TOLERANCE_DEGREES``.  BoundSubject no figure shows is unknown, and said.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from enum import Enum
from functools import cached_property

from handouts.limits.demands import DERIVED_DEMANDS, SIDED_DEMANDS, SIDES, demands_of, worked_side
from handouts.limits.motions import MOTIONS
from handouts.limits.shown import ShownMotion
from handouts.model import Bound, Exercise, Limit, LimitPhase, Side

TOLERANCE_DEGREES = 2
"""Whole degrees past a bound that are no finding: a solved figure stands for a person no more closely than that
(common practice, no source)."""
SLIGHT_DEGREES = 5
"""Degrees that a goniometer in practised hands does not tell apart (common practice, no source)."""


BAND = "band"
"""Name of a weight that is the pull of a resistance band, in no kilograms."""


class BoundSubject(Enum):
    """What a bound is about."""

    MOTION = "motion"
    POSITION = "position"
    DEMAND = "demand"
    WEIGHT = "weight"


class Moment(Enum):
    """When in the movement a bound is passed by most."""

    START = "start"
    MOVING = "moving"
    END = "end"
    HELD = "held"
    """The figure has one position."""
    THROUGHOUT = "throughout"
    """It is not a matter of angles."""


class Whose(Enum):
    """Which side of the body it happens to."""

    BODY = "body"
    """The trunk, the neck or the whole body."""
    BOTH = "both"
    EACH = "each"
    """One after the other: the exercise is done on each side in turn."""
    WORKED = "worked"
    """The side that exercises; the clinician names it."""
    OTHER = "other"
    """The side that helps or stands."""
    RIGHT = "right"
    """The right side of the picture; the exercise is not mirrored."""
    LEFT = "left"


@dataclass(frozen=True, slots=True)
class LimitCondition:
    """One condition that is met: a motion (degrees), a weight (kg), a position or a demand (no numbers)."""

    what: BoundSubject
    name: str
    reached: float | None = None
    allowed: float | None = None
    over: float | None = None
    """By how much the bound is passed, above 0."""
    below: bool = False
    """The bound is a smallest angle and the motion goes below it."""


@dataclass(frozen=True, slots=True)
class Finding:
    """A limit that an exercise may exceed in one of its phases; several parts are a combination that is met at once.

    No parts: it could not be judged, because the exercise has no figure.
    """

    limit: str
    phase: int
    """Number of the phase in the limit, from 0."""
    parts: tuple[LimitCondition, ...]
    moment: Moment = Moment.THROUGHOUT
    whose: Whose = Whose.BODY
    named: Whose = Whose.BODY
    """Whose it is where the clinician names the side: of an exercise for each side in turn, one of the two."""

    @property
    def is_unknown(self) -> bool:
        """Whether it could not be judged."""
        return not self.parts

    @property
    def over(self) -> float:
        """The largest number of degrees by which an angle is passed; 0 where no angle is."""
        return max((part.over or 0.0 for part in self.parts if part.what is BoundSubject.MOTION), default=0.0)

    @property
    def is_slight(self) -> bool:
        """Whether an angle is passed by no more than ``SLIGHT_DEGREES``: found all the same."""
        overs = [part.over or 0.0 for part in self.parts if part.what is BoundSubject.MOTION]
        return bool(overs) and min(overs) <= SLIGHT_DEGREES


_UNKNOWN = "unknown"
Verdict = LimitCondition | None | str
"""A condition that is met, not met, or cannot be judged (``_UNKNOWN``)."""


@dataclass(frozen=True)
class _Subject:
    """An exercise with all that is known of it."""

    exercise: Exercise
    shown: ShownMotion | None

    @cached_property
    def demands(self) -> Mapping[str, frozenset[str]]:
        return demands_of(self.exercise, self.shown.facts if self.shown else None)

    @cached_property
    def has_band(self) -> bool:
        """Whether it is done with a resistance band: a load of no known weight."""
        held = self.shown is not None and any(name == "band" for name, _ in self.shown.facts.props)
        return held or self.exercise.dose.band is not None

    @cached_property
    def heaviest(self) -> float:
        """The heaviest weight in kg that a clinician may set."""
        span = self.exercise.dose_range.weight_kg if self.exercise.dose_range else None
        return max(self.exercise.dose.weight_kg or 0.0, span.high if span else 0.0)

    def judge(self, bound: Bound, frame: int, side: str) -> Iterator[Verdict]:
        """Each condition of a bound, in one frame on one side."""
        if bound.position is not None:
            met = bound.position.slug == self.exercise.position.slug
            yield LimitCondition(BoundSubject.POSITION, bound.position.slug) if met else None
        if bound.demand is not None:
            yield self._demand(bound.demand.slug, side)
        if bound.most_weight_kg is not None:
            yield self._weight(bound.most_weight_kg)
        if bound.motion is not None:
            yield self._motion(bound, frame, side)

    def _demand(self, slug: str, side: str) -> Verdict:
        sides = self.demands.get(slug, frozenset())
        if "" in sides or side in sides:
            return LimitCondition(BoundSubject.DEMAND, slug)
        return _UNKNOWN if self.shown is None and slug in DERIVED_DEMANDS else None

    def _weight(self, most_kg: float) -> Verdict:
        """A weight past the bound; where none is allowed, a band is past it too."""
        found = _over(BoundSubject.WEIGHT, "weight", self.heaviest, most_kg)
        return found or (LimitCondition(BoundSubject.WEIGHT, BAND) if not most_kg and self.has_band else None)

    def _motion(self, bound: Bound, frame: int, side: str) -> Verdict:
        if self.shown is None:
            return _UNKNOWN
        assert bound.motion is not None
        reached = round(MOTIONS[bound.motion.slug].degrees(self.shown.frames[frame], side))
        above = None if bound.most is None else _over(BoundSubject.MOTION, bound.motion.slug, reached, bound.most)
        if above is not None or bound.least is None:
            return above
        over = bound.least - reached
        if over <= TOLERANCE_DEGREES:
            return None
        return LimitCondition(BoundSubject.MOTION, bound.motion.slug, float(reached), float(bound.least), float(over), below=True)

    def moment(self, frame: int) -> Moment:
        count = len(self.shown.frames) if self.shown else 0
        if count == 1:
            return Moment.HELD
        return Moment.START if frame == 0 else Moment.END if frame == count - 1 else Moment.MOVING


def _over(what: BoundSubject, name: str, reached: float, most: float) -> LimitCondition | None:
    """What passes its bound: a weight by anything (to a gram), an angle by more than the tolerance."""
    over = round(reached - most, 1 if what is BoundSubject.MOTION else 3)
    free = TOLERANCE_DEGREES if what is BoundSubject.MOTION else 0
    return LimitCondition(what, name, float(reached), float(most), over) if over > free else None


@dataclass(frozen=True, slots=True)
class _Met:
    """The conditions of a combination, met in one frame on one side."""

    parts: tuple[LimitCondition, ...]
    frame: int

    @property
    def over(self) -> float:
        return sum(part.over or 0.0 for part in self.parts)


def find_conflicts(exercise: Exercise, shown: ShownMotion | None, limits: Iterable[Limit]) -> tuple[Finding, ...]:
    """What an exercise may exceed of the limits, in their order; ``shown`` is None where it has no figure.

    Names of motions must be known (a rule of the library asks).
    """
    subject = _Subject(exercise, shown)
    return tuple(
        finding
        for limit in limits
        for number, phase in enumerate(limit.phases)
        for finding in _judge_phase(subject, limit.slug, number, phase)
    )


def _judge_phase(subject: _Subject, limit: str, number: int, phase: LimitPhase) -> Iterator[Finding]:
    unknown = False
    for bounds in combinations(phase.bounds):
        outcomes = {side: _judge(subject, bounds, side) for side in _sides_of(bounds)}
        met = {side: outcome for side, outcome in outcomes.items() if isinstance(outcome, _Met)}
        unknown = unknown or _UNKNOWN in outcomes.values()
        for whose, named, found in _share(subject, met):
            timed = any(part.what is BoundSubject.MOTION for part in found.parts)
            moment = subject.moment(found.frame) if timed else Moment.THROUGHOUT
            yield Finding(limit, number, found.parts, moment, whose, named)
    if unknown:
        yield Finding(limit, number, ())


def combinations(bounds: Iterable[Bound]) -> tuple[tuple[Bound, ...], ...]:
    """The bounds of a phase, those with one word in ``together`` as one combination."""
    found: dict[str, tuple[Bound, ...]] = {}
    for index, bound in enumerate(bounds):
        key = f"together {bound.together}" if bound.together else str(index)
        found[key] = (*found.get(key, ()), bound)
    return tuple(found.values())


def _sides_of(bounds: Iterable[Bound]) -> tuple[str, ...]:
    """Right and left where any condition belongs to a limb."""
    sided = any(
        (bound.motion is not None and MOTIONS[bound.motion.slug].sided)
        or (bound.demand is not None and bound.demand.slug in SIDED_DEMANDS)
        for bound in bounds
    )
    return SIDES if sided else ("",)


def _judge(subject: _Subject, bounds: Iterable[Bound], side: str) -> _Met | str | None:
    """The frame in which a combination is passed by most; None where in no frame all of it is."""
    best: _Met | None = None
    unknown = False
    for frame in range(len(subject.shown.frames) if subject.shown else 1):
        verdicts = [verdict for bound in bounds for verdict in subject.judge(bound, frame, side)]
        if None in verdicts or not verdicts:
            continue
        parts = tuple(verdict for verdict in verdicts if isinstance(verdict, LimitCondition))
        unknown = unknown or len(parts) < len(verdicts)
        met = _Met(parts, frame)
        if len(parts) == len(verdicts) and (best is None or met.over > best.over):
            best = met
    return best or (_UNKNOWN if unknown else None)


def _share(subject: _Subject, met: Mapping[str, _Met]) -> Iterator[tuple[Whose, Whose, _Met]]:
    """What was met on right and left, as the exercise is done, and as it is done on a side that is named."""
    if not met:
        return
    worst = max(met.values(), key=lambda found: found.over)
    side, only = subject.exercise.dose.side, next(iter(met))
    if not only:
        yield Whose.BODY, Whose.BODY, worst
    elif side in (Side.BOTH, Side.ONE_SIDE_FIRST, Side.ALTERNATING):
        yield Whose.EACH, _whose_of_one(subject, met), worst
    else:
        whose = _whose_of_one(subject, met)
        if side is not Side.ONE and whose is not Whose.BOTH:
            whose = Whose.RIGHT if only == "r" else Whose.LEFT
        yield whose, whose, worst


def _whose_of_one(subject: _Subject, met: Mapping[str, _Met]) -> Whose:
    if len(met) > 1:
        return Whose.BOTH
    worked = worked_side(subject.shown.facts) if subject.shown else SIDES[0]
    return Whose.WORKED if next(iter(met)) == worked else Whose.OTHER

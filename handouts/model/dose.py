"""Doses: what is counted, how it is shared between sides, how far it may be moved."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

from handouts.model.basics import Record, Ref, Span

MAX_SETS, MAX_REPS, MAX_DAYS = 10, 100, 7
"""Bounds of any dose, and of what a clinician may set where the author gave neither a dose nor a range."""


class Side(Enum):
    """How an exercise is shared between left and right."""

    TOGETHER = "together"
    """No sides, or both at once: each repetition counts once."""
    BOTH = "both"
    """Each side in turn, the full dose on each; the side changes after each set."""
    ONE_SIDE_FIRST = "one-side-first"
    """The full dose on one side, then the full dose on the other."""
    ONE = "one"
    """Only the side that the clinician named to the patient."""
    LEFT = "left"
    RIGHT = "right"
    """Only that side: a clinician picks it for one patient where ``ONE`` may be given; no library says it."""
    ALTERNATING = "alternating"
    """Left and right in turn; repetitions are counted together."""
    EACH_OR_BOTH = "each-or-both"
    """Each side in turn, or both at once, as the patient likes; sums take the longer way, each side."""


NAMED_SIDES = (Side.LEFT, Side.RIGHT)
SINGLE_SIDES = (Side.ONE, *NAMED_SIDES)
"""Sides by which only one side of the body is trained."""


class Limb(Enum):
    """What is changed when an exercise goes to the other side, for the words that say so."""

    LEG = "leg"
    ARM = "arm"
    SIDE = "side"


class DoseKind(Enum):
    """What is counted in one set."""

    REPS = "reps"
    HOLD = "hold"
    TIME = "time"
    DISTANCE = "distance"


class Counted(Enum):
    """What repetitions are, where a trade does not call them times."""

    BREATHS = "breaths"
    """In and out."""
    STEPS = "steps"
    CONTACTS = "contacts"
    """Landings on the ground: with both feet at once, one (foot contacts, the usual measure of jumping: Essentials of Strength Training
    and Conditioning, NSCA, chapter on plyometric training, from memory)."""


class WorkKind(Enum):
    """How a time or a distance is gone, and what its rests are; with each but ``RUN`` the rest follows the last set too."""

    RUN = "run"
    """Run without a break."""
    RUN_WALK = "run-walk"
    """Each set is run, each rest is walked."""
    FAST_EASY = "fast-easy"
    """Each set is fast, each rest goes on easily."""
    WORK_REST = "work-rest"
    """Rounds of work and rest."""


INTERVALS = (WorkKind.RUN_WALK, WorkKind.FAST_EASY, WorkKind.WORK_REST)
RUNNING = (WorkKind.RUN, WorkKind.RUN_WALK)


@dataclass(frozen=True, slots=True)
class Tempo:
    """Seconds of one repetition: to the end position, held there, back, and a pause at the start."""

    go: int
    hold: int
    back: int
    pause: int = 0

    @property
    def seconds(self) -> int:
        """Length of one repetition in seconds."""
        return self.go + self.hold + self.back + self.pause

    def __str__(self) -> str:
        """As an author types it: ``2-1-3``, or ``2-1-3-1`` with a pause."""
        parts = (self.go, self.hold, self.back, *((self.pause,) if self.pause else ()))
        return "-".join(str(part) for part in parts)


@dataclass(frozen=True, kw_only=True)
class Dose(Record):
    """Sets, repetitions or hold, side, tempo, rest, days a week, effort.  Exactly one kind is counted.

    A dose of no sets is open: the author has none, and the clinician sets one for each patient.
    """

    sets: int = 1
    reps: int | None = None
    hold_seconds: int | None = None
    time_seconds: int | None = None
    distance_metres: int | None = None
    side: Side = Side.TOGETHER
    tempo: Tempo | None = None
    rest_seconds: int = 0
    days: int | None = None
    times: int = 1
    effort: Span | None = None
    weight_kg: float | None = None
    band: Ref | None = None
    pace_metres_per_second: float | None = None
    """How fast a distance is gone; None is ordinary walking (``handouts.dose.arithmetic``)."""
    limb: Limb | None = None
    """What changes with the side; None says no more than "side"."""
    counted: Counted | None = None
    """What repetitions are; None: times."""
    reps_to: int | None = None
    """The most repetitions in a set, where they may be ``reps`` to so many."""
    rate: int | None = None
    """Repetitions a minute, in place of a tempo."""
    work: WorkKind | None = None
    pace_words: Ref | None = None
    """How fast in words, from the vocabulary."""
    warm_up_seconds: int | None = None
    cool_down_seconds: int | None = None
    every_minutes: int | None = None
    """While awake, once each time: by occasion."""
    occasion: Ref | None = None
    """When it is done, from the vocabulary, as when breathless: by occasion."""
    rest_days: int | None = None
    """Days without it between two days with it."""

    @property
    def is_by_occasion(self) -> bool:
        """Whether nobody knows how often a day it is done, and no session holds it."""
        return self.every_minutes is not None or self.occasion is not None

    @property
    def is_interval(self) -> bool:
        """Whether sets and rests are rounds, the last rest included."""
        return self.work in INTERVALS

    @property
    def most_reps(self) -> int:
        """The upper end of the repetitions of a set, 0 where none are counted."""
        return self.reps_to or self.reps or 0

    @property
    def kind(self) -> DoseKind:
        """What is counted in one set; a hold beside repetitions belongs to each repetition."""
        if self.reps is not None:
            return DoseKind.REPS
        if self.time_seconds is not None:
            return DoseKind.TIME
        if self.distance_metres is not None:
            return DoseKind.DISTANCE
        return DoseKind.HOLD

    @property
    def is_open(self) -> bool:
        """Whether the clinician has still to say how many sets."""
        return self.sets == 0


@dataclass(frozen=True, kw_only=True)
class DoseRange(Record):
    """How far a clinician may move each number of the dose; a field left out may not be moved.

    Tempo and side are not moved by degrees: each is one of those listed, the dose's own among them.
    """

    sets: Span | None = None
    reps: Span | None = None
    hold_seconds: Span | None = None
    time_seconds: Span | None = None
    distance_metres: Span | None = None
    days: Span | None = None
    rest_seconds: Span | None = None
    weight_kg: Span | None = None
    tempo: tuple[Tempo, ...] | None = None
    side: tuple[Side, ...] | None = None
    times: Span | None = None
    effort: Span | None = None
    """Between what the lower and the upper end of the effort may be moved."""


@dataclass(frozen=True, kw_only=True)
class DoseChange(Record):
    """The numbers of a dose that a clinician moved; None leaves the library's."""

    sets: int | None = None
    reps: int | None = None
    hold_seconds: int | None = None
    time_seconds: int | None = None
    distance_metres: int | None = None
    tempo: Tempo | None = None
    side: Side | None = None
    rest_seconds: int | None = None
    days: int | None = None
    times: int | None = None
    effort: Span | None = None
    weight_kg: float | None = None
    band: Ref | None = None

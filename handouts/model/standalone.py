"""What stands by itself and holds no exercise: a test of function, an advice sheet, how to teach an exercise, the plan of a class."""

from __future__ import annotations

from dataclasses import dataclass

from handouts.model.basics import Record, Ref, Words
from handouts.model.content import Review, Section


@dataclass(frozen=True, kw_only=True)
class Standalone(Record):
    """What a page, a sheet, a review and a translation of such a thing need."""

    slug: str
    code: str
    title: Words
    suits: Words
    cautions: tuple[Ref, ...]
    review: Review
    sources: tuple[str, ...]
    sections: tuple[Section, ...] = ()


@dataclass(frozen=True, kw_only=True)
class Leaflet(Standalone):
    """An advice sheet: what to do in a flare, how to pace oneself.  It has no dose."""

    why: Words
    points: tuple[Words, ...]
    """What to keep in mind of it, one short sentence each."""
    programme: Ref | None = None
    """The programme at whose end it is handed out."""
    keep: tuple[Ref, ...] = ()
    """Exercises to keep up, each in its own dose."""
    come_back: tuple[Words, ...] = ()
    """When to come back, one sentence each."""


@dataclass(frozen=True, kw_only=True)
class Watched(Record):
    """What to look for, and from where."""

    where: Words
    see: Words


@dataclass(frozen=True, kw_only=True)
class Lesson(Standalone):
    """How to teach an exercise, for clinicians and assistants.

    The commonest fault is the first mistake of the exercise; its stop rules and easier ways are the exercise's own.
    """

    cautions: tuple[Ref, ...] = ()
    """Beside those of the exercise."""
    exercise: Ref
    set_up: tuple[Words, ...]
    watch: tuple[Watched, ...]
    hands: Words | None = None
    """The cue by hand."""
    regress_when: Words
    questions: tuple[Words, ...]
    """What the patient is asked to say or show in return."""


@dataclass(frozen=True, kw_only=True)
class Norm(Record):
    """The value of people of one sex and of some ages; no sex is everyone, no last year is that age and over."""

    sex: str | None = None
    """``women`` or ``men``."""
    from_age: int
    to_age: int | None = None
    value: float


@dataclass(frozen=True, kw_only=True)
class Norms(Record):
    """Values to compare a result with."""

    says: Words
    """What a result above or below the value means."""
    rows: tuple[Norm, ...]
    source: str
    status: str
    """Whether the values were read in the source, as in ``Limit``."""


@dataclass(frozen=True, kw_only=True)
class MeasurementError(Record):
    """The smallest change of a result that is more than the test's own error."""

    change: float
    """In the unit of the test; a change of exactly this size is not more."""
    confidence: int | None = None
    """Of a hundred people who did not change, so many stay within it."""
    who: Words
    """In which people it was found."""
    source: str
    status: str


@dataclass(frozen=True, kw_only=True)
class Symmetry(Record):
    """How alike both sides are to be."""

    percent: int
    """The side with the problem as a share of the other."""
    source: str
    status: str


@dataclass(frozen=True, kw_only=True)
class FunctionTest(Standalone):
    """A test of function: what is done, what is counted, and what a result means."""

    measures: Words
    equipment: tuple[Ref, ...] = ()
    unit: str
    """``times``, ``seconds``, ``cm`` or ``points``."""
    better: str = "more"
    """``more`` or ``less``."""
    each_side: bool = False
    """Whether left and right have a result each."""
    tries: int = 1
    """The best of so many tries is the result."""
    most: float | None = None
    """Where the test ends: no result is larger."""
    norms: Norms | None = None
    error: MeasurementError | None = None
    symmetry: Symmetry | None = None


@dataclass(frozen=True, kw_only=True)
class ClassPart(Record):
    """What all do together, before or after the stations."""

    seconds: int
    do: tuple[Words, ...]


@dataclass(frozen=True, kw_only=True)
class ClassStation(Record):
    """A place in the room with one exercise in two or three levels."""

    levels: tuple[Ref, ...]
    """Exercises, the easiest first."""
    watch: tuple[Words, ...] = ()
    """What to watch, beside the first mistake of each exercise."""


@dataclass(frozen=True, kw_only=True)
class ClassPlan(Standalone):
    """A class: stations at which a group works and rests by the clock, for who leads it."""

    cautions: tuple[Ref, ...] = ()
    """Beside those of the exercises."""
    equipment: tuple[Ref, ...]
    """What the room has."""
    positions: tuple[Ref, ...] = ()
    """The positions that people in the class can get into; none is any."""
    people: int | None = None
    """How many come at most."""
    work_seconds: int
    rest_seconds: int
    """Before each time of work: to rest and to change stations."""
    rounds: int = 1
    between_seconds: int | None = None
    """The rest before a further round, where it is another one."""
    warm_up: ClassPart | None = None
    cool_down: ClassPart | None = None
    stations: tuple[ClassStation, ...]
    regress_when: Words
    """When someone goes down a level."""


def exercises_named(item: Standalone) -> tuple[Ref, ...]:
    """The exercises that something without exercises of its own names; without them it is not published."""
    if isinstance(item, Lesson):
        return (item.exercise,)
    if isinstance(item, ClassPlan):
        return tuple(ref for station in item.stations for ref in station.levels)
    return item.keep if isinstance(item, Leaflet) else ()

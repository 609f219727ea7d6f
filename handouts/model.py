"""The library as frozen values: what a clinic wrote, typed, each value knowing its place.

A value is equal to another when it means the same; the place never counts.  Nothing here reads,
judges, computes or formats: those rooms take these values and return new ones.
"""

from __future__ import annotations

from collections.abc import Mapping as MappingABC
from dataclasses import dataclass, field
from datetime import date
from enum import Enum
from functools import cached_property

from handouts.problems import Place
from handouts.source.nodes import Mapping as MappingNode

SOURCE_FIGURE = MappingNode
"""An exercise's figure stays the node that its author typed; the figure rooms turn it into a pose."""


@dataclass(frozen=True, slots=True)
class Words:
    """A text for readers, in one language; the unit that is translated."""

    text: str
    place: Place = field(compare=False, repr=False)

    def __str__(self) -> str:
        return self.text


@dataclass(frozen=True, slots=True)
class Ref:
    """The name of something declared elsewhere in the library."""

    slug: str
    place: Place = field(compare=False, repr=False)

    def __str__(self) -> str:
        return self.slug


@dataclass(frozen=True, slots=True)
class Span:
    """A range with both ends in it, in the unit that its field names."""

    low: float
    high: float

    def holds(self, value: float) -> bool:
        """Whether the value lies in the range."""
        return self.low <= value <= self.high


@dataclass(frozen=True, kw_only=True)
class Record:
    """Something with fields: ``place`` is where it begins, ``places`` where each field's value stands."""

    place: Place = field(compare=False, repr=False)
    places: MappingABC[str, Place] = field(compare=False, repr=False, default_factory=dict)

    def at(self, name: str) -> Place:
        """Where a field's value stands; the record's own place where the field was left out."""
        return self.places.get(name, self.place)


class Side(Enum):
    """How an exercise is shared between left and right."""

    TOGETHER = "together"
    """No sides, or both at once: each repetition counts once."""
    BOTH = "both"
    """Each side in turn, the full dose on each."""
    ONE = "one"
    """Only the side that the clinician named."""
    ALTERNATING = "alternating"
    """Left and right in turn; repetitions are counted together."""


class DoseKind(Enum):
    """What is counted in one set."""

    REPS = "reps"
    HOLD = "hold"
    TIME = "time"
    DISTANCE = "distance"


class CautionKind(Enum):
    """What a caution asks of the reader."""

    CARE = "care"
    ASK = "ask"
    STOP = "stop"


class Call(Enum):
    """Whom a caution tells the reader to call."""

    NONE = "none"
    CLINIC = "clinic"
    EMERGENCY = "emergency"


class Unreviewed(Enum):
    """What the clinic does with a translation that no qualified person has reviewed."""

    SHOW = "show"
    """Publish it, marked as unreviewed on every page and sheet."""
    HOLD_BACK = "hold back"
    """Do not publish it."""


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


@dataclass(frozen=True, kw_only=True)
class Dose(Record):
    """Sets, repetitions or hold, side, tempo, rest, days a week, effort.  Exactly one kind is counted."""

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


@dataclass(frozen=True, kw_only=True)
class DoseRange(Record):
    """How far a clinician may move each number of the dose; a field left out may not be moved."""

    sets: Span | None = None
    reps: Span | None = None
    hold_seconds: Span | None = None
    time_seconds: Span | None = None
    distance_metres: Span | None = None
    days: Span | None = None
    rest_seconds: Span | None = None
    weight_kg: Span | None = None


@dataclass(frozen=True, kw_only=True)
class Mistake(Record):
    """What people get wrong: what you see or feel, and what to do instead."""

    see: Words
    do: Words


@dataclass(frozen=True, kw_only=True)
class Review(Record):
    """When the content was last read through clinically, by which role, and for how many months it stands."""

    on: date
    by: Words
    months: int | None = None


@dataclass(frozen=True, slots=True)
class Block:
    """One block of prose: ``steps`` (numbered), ``bullets`` or ``paragraph``; items hold inline Markdown."""

    kind: str
    items: tuple[Words, ...]


@dataclass(frozen=True, slots=True)
class Section:
    """A heading and the blocks under it."""

    heading: Words
    blocks: tuple[Block, ...]


@dataclass(frozen=True, kw_only=True)
class Caution(Record):
    """A condition under which to take care, ask first or stop."""

    slug: str
    kind: CautionKind
    when: Words
    do: Words
    call: Call = Call.NONE
    source: str


@dataclass(frozen=True, kw_only=True)
class Bound(Record):
    """One bound of a limit on movement; what stands in one bound is exceeded only when all of it is."""

    motion: Ref | None = None
    """A joint motion by its clinical name, with the range in degrees that is allowed."""
    most: float | None = None
    least: float | None = None
    position: Ref | None = None
    demand: Ref | None = None
    most_weight_kg: float | None = None
    together: str | None = None
    """Bounds with the same word here are exceeded only when all of them are at one moment, on one side."""


@dataclass(frozen=True, kw_only=True)
class LimitPhase(Record):
    """A time after the operation or injury, with its own bounds; weeks are whole weeks that have passed."""

    name: Words
    from_week: int | None = None
    to_week: int | None = None
    """Last week in which it holds."""
    bounds: tuple[Bound, ...]
    source: str | None = None
    """Where it is not the limit's."""
    status: str | None = None


@dataclass(frozen=True, kw_only=True)
class Limit(Record):
    """A bound on movement that a patient has been given, with its source."""

    slug: str
    name: Words
    says: Words
    source: str
    status: str
    """``confirmed`` (read in the source), ``from memory``, or ``clinic's choice`` (no source gives the number)."""
    phases: tuple[LimitPhase, ...]
    group: str | None = None
    """Versions of one limit, where sources disagree, share this word; the clinic uses one of them."""
    default: bool = True
    """Whether the clinic uses this limit, or this version of it."""


@dataclass(frozen=True, kw_only=True)
class Exercise(Record):
    """One movement with its dose, cues, mistakes, cautions and figure."""

    slug: str
    code: str
    title: Words
    tier: Ref
    regions: tuple[Ref, ...]
    purpose: Ref
    position: Ref
    equipment: tuple[Ref, ...]
    why: Words
    also_called: tuple[Words, ...] = ()
    dose: Dose
    dose_range: DoseRange | None = None
    cues: tuple[Words, ...]
    feel: Words
    mistakes: tuple[Mistake, ...]
    cautions: tuple[Ref, ...]
    after: tuple[Ref, ...] = ()
    ready_when: Words | None = None
    demands: tuple[Ref, ...] = ()
    reading_level: float | None = None
    review: Review
    sources: tuple[str, ...]
    figure: MappingNode | None = None
    sections: tuple[Section, ...] = ()

    @property
    def steps(self) -> tuple[Words, ...]:
        """The numbered steps, in order, over all sections."""
        return tuple(
            item
            for section in self.sections
            for block in section.blocks
            if block.kind == "steps"
            for item in block.items
        )


@dataclass(frozen=True, kw_only=True)
class ProgrammeTier(Record):
    """A tier of a programme: the condition for entering it, and its exercises in order."""

    tier: Ref
    enter_when: Words
    exercises: tuple[Ref, ...]


@dataclass(frozen=True, kw_only=True)
class Programme(Record):
    """Exercises for one goal, grouped into tiers."""

    slug: str
    code: str
    title: Words
    goal: Words
    suits: Words
    weeks: int
    cautions: tuple[Ref, ...] = ()
    tiers: tuple[ProgrammeTier, ...]
    review: Review
    sources: tuple[str, ...]
    sections: tuple[Section, ...] = ()

    @property
    def exercise_slugs(self) -> tuple[str, ...]:
        """All its exercises in order of tiers."""
        return tuple(ref.slug for tier in self.tiers for ref in tier.exercises)


@dataclass(frozen=True, kw_only=True)
class Pick(Record):
    """One exercise of a bundle and the fields of its dose that differ from the library's."""

    exercise: Ref
    change: DoseChange | None = None


@dataclass(frozen=True, kw_only=True)
class DoseChange(Record):
    """The numbers of a dose that a clinician moved; None leaves the library's."""

    sets: int | None = None
    reps: int | None = None
    hold_seconds: int | None = None
    time_seconds: int | None = None
    distance_metres: int | None = None
    side: Side | None = None
    rest_seconds: int | None = None
    days: int | None = None
    weight_kg: float | None = None
    band: Ref | None = None


@dataclass(frozen=True, kw_only=True)
class Bundle(Record):
    """What a clinician picked: exercises, doses, order; a ready-made one has a title."""

    slug: str
    title: Words
    suits: Words
    picks: tuple[Pick, ...]
    weeks: int
    review: Review


@dataclass(frozen=True, kw_only=True)
class Location(Record):
    """One of the clinic's addresses."""

    slug: str
    name: str
    address: str
    phone: str
    hours: Words | None = None


@dataclass(frozen=True, kw_only=True)
class Emergency(Record):
    """The local emergency number and the sentence that tells when to call it."""

    number: str
    text: Words


@dataclass(frozen=True, kw_only=True)
class Languages(Record):
    """The language the library is written in, and those it is translated into (BCP 47 tags)."""

    source: str
    also: tuple[str, ...] = ()

    @property
    def all(self) -> tuple[str, ...]:
        """Every language, the source first."""
        return (self.source, *self.also)


@dataclass(frozen=True, kw_only=True)
class ReviewPolicy(Record):
    """How long a review stands, how long before its end to point it out, and how long after it content may stay."""

    months: int
    notice_days: int
    grace_days: int
    unreviewed: Unreviewed = Unreviewed.HOLD_BACK


@dataclass(frozen=True, kw_only=True)
class SessionPolicy(Record):
    """The clinic's limits for one session, and the time that changes cost."""

    minutes: int
    exercises: int
    change_seconds: int
    between_seconds: int


@dataclass(frozen=True, kw_only=True)
class Defer(Record):
    """The sentences that put this sheet below licensed practice."""

    surgeon: Words
    clinician: Words


@dataclass(frozen=True, kw_only=True)
class Clinic(Record):
    """The clinic that publishes the library."""

    name: str
    invented: bool = False
    about: Words
    site: str
    locations: tuple[Location, ...]
    emergency: Emergency
    languages: Languages
    papers: tuple[str, ...]
    type_sizes: tuple[str, ...]
    accent: str
    reading_level: float
    review: ReviewPolicy
    session: SessionPolicy
    pain_rule: Words
    defer: Defer


@dataclass(frozen=True, kw_only=True)
class Tier(Record):
    """A step of the clinic's progression, with what it means."""

    slug: str
    name: Words
    means: Words


@dataclass(frozen=True, kw_only=True)
class Term(Record):
    """One entry of a closed list."""

    slug: str
    name: Words


@dataclass(frozen=True, kw_only=True)
class Position(Term):
    """A starting position; ``level`` is floor, chair or standing."""

    level: str


@dataclass(frozen=True, kw_only=True)
class Vocabulary(Record):
    """The closed lists that exercises draw on."""

    regions: tuple[Term, ...]
    positions: tuple[Position, ...]
    equipment: tuple[Term, ...]
    purposes: tuple[Term, ...]
    bands: tuple[Term, ...] = ()
    demands: tuple[Term, ...] = ()
    """What an exercise asks of the body beside its joint angles; movement limits are held against them."""


@dataclass(frozen=True, kw_only=True)
class Library:
    """All the content of one clinic, in one language."""

    language: str
    clinic: Clinic
    tiers: tuple[Tier, ...]
    vocabulary: Vocabulary
    cautions: tuple[Caution, ...]
    limits: tuple[Limit, ...]
    exercises: tuple[Exercise, ...]
    programmes: tuple[Programme, ...]
    bundles: tuple[Bundle, ...]
    unread: frozenset[str] = frozenset()
    """Slugs of exercises whose file is there but could not be read; their own problems say why."""

    @cached_property
    def exercise(self) -> dict[str, Exercise]:
        """Exercises by slug."""
        return {item.slug: item for item in self.exercises}

    @cached_property
    def caution(self) -> dict[str, Caution]:
        """Cautions by slug."""
        return {item.slug: item for item in self.cautions}

    @cached_property
    def tier(self) -> dict[str, Tier]:
        """Tiers by slug."""
        return {item.slug: item for item in self.tiers}

    @cached_property
    def tier_rank(self) -> dict[str, int]:
        """Position of each tier in the clinic's order, from 0."""
        return {item.slug: rank for rank, item in enumerate(self.tiers)}

    @cached_property
    def position(self) -> dict[str, Position]:
        """Positions by slug."""
        return {item.slug: item for item in self.vocabulary.positions}

    @cached_property
    def term(self) -> dict[str, dict[str, Term]]:
        """Every closed list by its name, each by slug."""
        lists: dict[str, tuple[Term, ...]] = {
            "regions": self.vocabulary.regions,
            "positions": self.vocabulary.positions,
            "equipment": self.vocabulary.equipment,
            "purposes": self.vocabulary.purposes,
            "bands": self.vocabulary.bands,
            "demands": self.vocabulary.demands,
        }
        return {name: {term.slug: term for term in terms} for name, terms in lists.items()}

    @cached_property
    def limits_in_use(self) -> tuple[Limit, ...]:
        """The limits that the clinic holds exercises against: of several versions the one it chose."""
        return tuple(limit for limit in self.limits if limit.default)

    @cached_property
    def programmes_of(self) -> dict[str, tuple[Programme, ...]]:
        """For each exercise slug the programmes that hold it."""
        found: dict[str, tuple[Programme, ...]] = {}
        for programme in self.programmes:
            for slug in programme.exercise_slugs:
                found[slug] = (*found.get(slug, ()), programme)
        return found

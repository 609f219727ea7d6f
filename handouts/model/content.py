"""What a clinic writes for patients: cautions, exercises, programmes, bundles."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date
from enum import Enum

from handouts.model.basics import Record, Ref, Words
from handouts.model.dose import Dose, DoseChange, DoseRange
from handouts.source.nodes import Mapping as MappingNode


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


@dataclass(frozen=True, kw_only=True)
class Mistake(Record):
    """What people get wrong: what you see or feel, and what to do instead."""

    see: Words
    do: Words
    figure: MappingNode | None = None
    """What differs from the exercise's own figure where it goes wrong, as it is written."""


@dataclass(frozen=True, kw_only=True)
class OwnReview(Record):
    """When and by which role of this clinic it was reviewed what differs here from the base, and which parts that is."""

    on: date
    by: Words
    parts: tuple[str, ...] = ()
    """Names of parts (``handouts.ledger.parts``)."""


@dataclass(frozen=True, kw_only=True)
class Review(Record):
    """When the content was last read through clinically, by which role, and for how many months it stands."""

    on: date
    by: Words
    months: int | None = None
    of: str = ""
    """Whose review it is where the content comes from the base of the library: the name of the base's clinic."""
    own: OwnReview | None = None
    """The clinic's review of what it changed of the base's content."""


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


@dataclass(frozen=True, slots=True)
class OlderVersion:
    """That an exercise of a translated library stands as it was before its source text changed."""

    version: str
    """The stamp of that version."""
    on: date
    """The day from which on readers had it."""
    source: Exercise | None = None
    """The same version in the language in which the library is written."""


@dataclass(frozen=True, kw_only=True)
class WholeStep(Record):
    """All exercises of a step of a programme, as what must be mastered first."""

    tier: Ref
    programme: Ref


@dataclass(frozen=True, kw_only=True)
class Way(Record):
    """One way to make an exercise easier or harder: another exercise, a change to this one, or both.

    Beside another exercise the change says what is different there.
    """

    exercise: Ref | None = None
    change: Words | None = None


class Easier(Way):
    """A way to make an exercise easier."""


class Harder(Way):
    """A way to make an exercise harder."""


@dataclass(frozen=True, kw_only=True)
class OwnPicture(Record):
    """The clinic's own picture of an exercise, where no figure serves."""

    file_name: str
    """In the folder ``pictures`` of the library."""
    words: Words
    """What it shows, for people who cannot see it."""
    source: str
    licence: str
    data: bytes = field(default=b"", repr=False)
    """The file as it stands in the library; what readers get is decoded and written anew from it."""


@dataclass(frozen=True, kw_only=True)
class ReadyMeasures(Record):
    """What of ``ready when`` can be measured: a dose that is done, on days in a row, at most so much pain and effort, a test's result.

    Seconds and metres; the dose names no more than one of repetitions (with a hold of each), hold, time, distance.
    """

    sets: int = 1
    reps: int | None = None
    hold_seconds: int | None = None
    time_seconds: int | None = None
    distance_metres: int | None = None
    days: int = 1
    """On so many of the latest days on which it was done, one after another."""
    pain: int | None = None
    """At most, 0 to 10."""
    pain_next_day: int | None = None
    """At most on the day after, 0 to 10."""
    effort: int | None = None
    """At most, 0 to 10."""
    test: Ref | None = None
    """A test of function."""
    result: float | None = None
    """Of the test, in its unit: at least so much, or at most where less is better."""

    @property
    def amounts(self) -> dict[str, int]:
        """What is counted in a set, by the names of a dose's fields."""
        names = ("reps", "hold_seconds", "time_seconds", "distance_metres")
        return {name: value for name in names if (value := getattr(self, name)) is not None}


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
    after: tuple[Ref | WholeStep, ...] = ()
    """What must be mastered first; what is easier is in ``easier``."""
    easier: tuple[Easier, ...] = ()
    harder: tuple[Harder, ...] = ()
    ready_when: Words | None = None
    ready_measures: ReadyMeasures | None = None
    """Where there is no ``ready_when``, its sentence is made of these (``handouts.publication.ready``)."""
    demands: tuple[Ref, ...] = ()
    reading_level: float | None = None
    review: Review
    sources: tuple[str, ...]
    figure: MappingNode | None = None
    """The pose as it is written; without an entry where the author decided that no figure serves (``figure: none``)."""
    picture: OwnPicture | None = None
    sections: tuple[Section, ...] = ()
    older: OlderVersion | None = None
    """Never in a library as it is read: set where a translation keeps its last whole version (``words.older_versions``)."""

    @property
    def is_in_words_only(self) -> bool:
        """Whether its author decided that nothing is shown of it."""
        return self.figure is not None and not self.figure.entries and self.picture is None

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
    cues: tuple[Words, ...] = ()
    """What to think of in every exercise of it."""
    through_the_day: tuple[Words, ...] = ()
    """What to do in daily life beside the exercises."""
    tiers: tuple[ProgrammeTier, ...]
    stage_rules: tuple[StageRule, ...] = ()
    """How doses go on over the weeks: proposed to the clinician, seen by no reader."""
    review: Review
    sources: tuple[str, ...]
    sections: tuple[Section, ...] = ()

    @property
    def exercise_slugs(self) -> tuple[str, ...]:
        """All its exercises in order of tiers."""
        return tuple(ref.slug for tier in self.tiers for ref in tier.exercises)


@dataclass(frozen=True, kw_only=True)
class DoseStage(Record):
    """How the dose of a pick goes on: from a week, or when the stage before is easy."""

    week: int = 0
    """Of the plan, from 2; 0: when the stage before is easy, by the clinic's rule for the next dose."""
    change: DoseChange
    """What differs from the stage before: sets, what is counted, weight, days a week, rest."""


@dataclass(frozen=True, kw_only=True)
class StageRule(Record):
    """How the doses of a programme's exercises go on where the clinician accepts it; what is added, as far as each range allows."""

    week: int = 0
    """As in ``DoseStage``."""
    sets: int | None = None
    reps: int | None = None
    hold_seconds: int | None = None
    time_seconds: int | None = None
    distance_metres: int | None = None
    weight_kg: float | None = None
    days: int | None = None

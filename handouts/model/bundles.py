"""Bundles: what a clinician picked or may start from."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

from handouts.model.basics import Record, Ref, Words
from handouts.model.content import DoseStage, Review
from handouts.model.dose import Dose, DoseChange


class PartKind(Enum):
    """A part of a session, beside its main part."""

    WARM_UP = "warm-up"
    ROUNDS = "rounds"
    """One set of each in turn, again and again, until all sets are done."""
    COOL_DOWN = "cool-down"


@dataclass(frozen=True, kw_only=True)
class Pick(Record):
    """One exercise of a bundle and the fields of its dose that differ from the library's."""

    exercise: Ref
    change: DoseChange | None = None
    base: Dose | None = None
    """The dose that the library once had and that the change stands on; None is the present one."""
    stages: tuple[DoseStage, ...] = ()
    """What comes after that dose, in order: those by week first."""
    substitutes: tuple[Ref, ...] = ()
    """What is taken in place of things that are missing at home, from the vocabulary."""
    part: PartKind | None = None
    """The part of the session in which it is done; None is the main part."""


@dataclass(frozen=True, kw_only=True)
class Bundle(Record):
    """What a clinician picked: exercises, doses, order; a ready-made one has a title."""

    slug: str
    title: Words
    suits: Words
    programme: Ref | None = None
    """The programme that it belongs to: with that programme's cautions and cues."""
    tier: Ref | None = None
    """The tier of that programme that it is for."""
    cautions: tuple[Ref, ...] = ()
    """Cautions for the whole bundle, beside those of its programme."""
    picks: tuple[Pick, ...]
    weeks: int
    cue: Ref | None = None
    """What the session hangs on, from the clinic's list."""
    round_rest_seconds: int | None = None
    """Rest after each round but the last, where exercises are done in rounds."""
    tests: tuple[Ref, ...] = ()
    """Tests of function that are handed over with it."""
    leaflets: tuple[Ref, ...] = ()
    """Advice that is handed over with it."""
    review: Review

    @property
    def is_plan(self) -> bool:
        """Whether it goes on over weeks or hangs on a cue: then its sheet has a line for the patient's own goal."""
        return self.cue is not None or any(pick.stages for pick in self.picks)

"""What a clinician picked for one patient, and why a code or a bundle is refused.  Holds no text about a patient."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

from handouts.bundle.constants import CONSTANTS
from handouts.model import Dose, Pick
from handouts.problems import Place

MOST_PICKS: int = CONSTANTS["most_picks"]
"""Largest number of exercises in a bundle (as in a ready-made one)."""
MOST_WEEKS: int = CONSTANTS["most_weeks"]
"""Longest plan, in weeks."""
SHORT_WEEKS: int = CONSTANTS["short_weeks"]
"""Longest plan that a code before version 5 holds."""
MOST_STAGES: int = CONSTANTS["most_stages"]
"""Stages of an exercise after its first."""
MOST_GIVEN: int = CONSTANTS["most_given"]
"""Tests and leaflets that are handed over with a bundle, at most."""
CODE_PLACE = Place("bundle code")
"""Where values stand that were read from a code and not from a file."""


@dataclass(frozen=True, slots=True)
class Origin:
    """What a bundle was begun from: a programme, with one of its steps or without, or a ready-made bundle."""

    kind: str
    """``programme`` or ``bundle``."""
    slug: str
    """Empty where the library does not have what the code names."""
    step: int = 0
    """Number of the programme's step, from 1; 0 for none."""
    mark: str = ""
    """What the code names it by, where the library does not have it: a list begun from it never reads as begun from nothing."""


@dataclass(frozen=True, slots=True)
class PickedBundle:
    """Exercises with the fields of their doses that differ, in order, for a language, a location and some weeks."""

    language: str
    """BCP 47 tag, one of the library's."""
    location: str
    """Slug of the location whose phone number the patient sees."""
    weeks: int
    picks: tuple[Pick, ...]
    origin: Origin | None = None
    """What it was begun from, where that is known: its cautions and cues go with it."""
    cue: str = ""
    """The mark of what the session hangs on, from the clinic's list; empty where nothing was chosen."""
    round_rest_seconds: int = 0
    """Rest after each round but the last, where exercises are done in rounds."""
    given: tuple[str, ...] = ()
    """Codes of the tests and leaflets that are handed over with it."""


class RefusalKind(Enum):
    """Why a bundle is refused; the words are those of the specification."""

    DAMAGED = "damaged"
    NEWER = "newer"
    OLDER = "older"
    ELSEWHERE = "elsewhere"
    UNKNOWN = "unknown"
    WITHDRAWN = "withdrawn"
    REPEATED = "repeated"
    OUT_OF_BOUNDS = "out-of-bounds"
    NO_DOSE = "no-dose"
    """The library leaves the dose to the clinician, and a field of it is not filled in."""


@dataclass(frozen=True, slots=True)
class Refusal:
    """Why a bundle is refused, and on which exercise and field."""

    kind: RefusalKind
    exercise: str | None = None
    """Its permanent code."""
    field: str | None = None
    """``language``, ``location``, ``weeks``, ``picks`` or a field of the dose by its name in a file."""
    value: float | str | None = None
    low: float | None = None
    """Lowest value allowed, in the unit of the field; None where the field may not be moved."""
    high: float | None = None
    replaced_by: str | None = None
    """Code of the exercise that took the place of a withdrawn one."""


@dataclass(frozen=True, slots=True)
class OpenedBundle:
    """A bundle read from a code, with the whole dose of each pick."""

    bundle: PickedBundle
    doses: tuple[Dose, ...]
    """Of the first stage."""
    former: tuple[str, ...] = ()
    """Codes of the exercises whose dose stands on one that the library has changed since."""

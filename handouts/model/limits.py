"""Movement limits that a patient has been given."""

from __future__ import annotations

from dataclasses import dataclass

from handouts.model.basics import Record, Ref, Words


@dataclass(frozen=True, kw_only=True)
class Bound(Record):
    """One bound of a limit on movement; what stands in one bound is exceeded only when all of it is."""

    motion: Ref | None = None
    """A joint motion by its clinical name, with the range in degrees that is allowed."""
    most: int | None = None
    least: int | None = None
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
    """Where it is not the limit's."""


@dataclass(frozen=True, kw_only=True)
class Limit(Record):
    """A bound on movement that a patient has been given, with its source."""

    slug: str
    name: Words
    says: Words
    source: str
    status: str
    """``confirmed`` (read in the source), ``read in a summary`` (what others say of the source), ``from memory``, or
    ``clinic's choice`` (no source gives the number)."""
    phases: tuple[LimitPhase, ...]
    group: str | None = None
    """Versions of one limit, where sources disagree, share this word; the clinic uses one of them."""
    caution: Ref | None = None
    """The caution that an exercise must carry which may exceed this limit."""
    default: bool = True
    """Whether the clinic uses this limit, or this version of it."""

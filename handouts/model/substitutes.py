"""What serves where a thing is missing at home."""

from __future__ import annotations

from dataclasses import dataclass

from handouts.model.basics import Record, Ref, Words


@dataclass(frozen=True, kw_only=True)
class Substitute(Record):
    """A thing that takes the place of another, and what changes then."""

    slug: str
    thing: Ref
    """What is missing."""
    take: Ref
    """What is taken in its place."""
    change: Words
    """What is done in another way, for the patient."""
    exercises: tuple[Ref, ...] = ()
    """Where it serves; empty where it serves in each that needs the thing."""
    source: str

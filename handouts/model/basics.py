"""What every part of the model is built from: texts, names, ranges, records with places."""

from __future__ import annotations

from collections.abc import Mapping as MappingABC
from dataclasses import dataclass, field

from handouts.problems import Place


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

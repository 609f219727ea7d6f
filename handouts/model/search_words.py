"""What people type into the search, and what it finds."""

from __future__ import annotations

import re
from dataclasses import dataclass

from handouts.model.basics import Record, Ref, Words


@dataclass(frozen=True, kw_only=True)
class SearchWords(Record):
    """What people type into the search, and the exercises that it finds.

    Those that it names come first, then those with one of its regions, purposes and so on; words that find nothing are passed over.
    """

    slug: str
    words: Words
    """Words with commas between them; never shown."""
    exercises: tuple[Ref, ...] = ()
    regions: tuple[Ref, ...] = ()
    positions: tuple[Ref, ...] = ()
    equipment: tuple[Ref, ...] = ()
    purposes: tuple[Ref, ...] = ()
    stop: bool = False
    """Signs at which to stop: whoever types all words of one is shown the clinic's emergency sentence."""

    @property
    def terms(self) -> dict[str, tuple[Ref, ...]]:
        """The terms that it names, by their list; a list of which it names none is left out."""
        named = {"regions": self.regions, "positions": self.positions, "equipment": self.equipment, "purposes": self.purposes}
        return {name: refs for name, refs in named.items() if refs}

    @property
    def is_passed_over(self) -> bool:
        """Whether its words say nothing of which exercise is looked for."""
        return not (self.exercises or self.terms or self.stop)

    @property
    def each(self) -> tuple[str, ...]:
        """The words one by one, without the spaces around them."""
        return tuple(part.strip() for part in re.split("[,،、，]", self.words.text))

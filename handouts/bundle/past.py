"""The catalogue of a library with its past: doses that old codes still open with, and what was withdrawn or replaced."""

from __future__ import annotations

from handouts.bundle.catalogue import BundleCatalogue, Withdrawn, make_catalogue
from handouts.ledger.entries import EXERCISE
from handouts.ledger.history import History, follow, former_doses
from handouts.model import Library


def catalogue_with_past(library: Library, history: History) -> BundleCatalogue:
    """The catalogue of what a library publishes; titles of what is gone stand in its language where it once was published in it."""
    return make_catalogue(library, former_doses(history.ledger, history.present), _find_gone(library, history))


def _find_gone(library: Library, history: History) -> dict[str, Withdrawn]:
    """What was withdrawn, replaced or is held back, by code."""
    published = {exercise.code for exercise in library.exercises}
    gone = {item.code: Withdrawn(item.title) for item in history.held_back if item.kind == EXERCISE}
    ledger = history.ledger
    if ledger is not None:
        for entry in ledger.entries:
            if entry.kind == EXERCISE and entry.is_retired and entry.code not in published:
                heir = follow(ledger, entry.code, published)
                gone[entry.code] = Withdrawn(
                    entry.titles.get(library.language, entry.title), heir if heir in published else None
                )
    return gone

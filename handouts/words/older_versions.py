"""The last whole version of an exercise in a language, where its source text has changed since.

A catalogue keeps with each translation the text that it was made from.  Put back in their places, these texts give the
exercise as it stood then; the ledger says whether readers ever had exactly that version, and from which day on.  Its stamp
covers dose, figure, conditions and the words of the cautions too: where one of these has changed, nothing is kept.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date

from handouts.ledger.stamp import exercise_stamp
from handouts.model import Exercise, Library, OlderVersion, Words
from handouts.words.catalogue import Catalogue, CatalogueMessage
from handouts.words.merge import merge_catalogue, template_entries
from handouts.words.messages import Message, exercise_owner, rewrite_library, unique_messages

KEPT = ("step", "bullet", "paragraph", "cue", "feel", "mistake", "mend")
"""Texts of which a former version may stay: never a title, a purpose, a condition or anything shared."""
Published = Mapping[str, Mapping[str, date]]
"""By the code of an exercise each version that was published, with its day."""


@dataclass(frozen=True, slots=True)
class Older:
    """A library in which some exercises stand as they were, and the catalogue that translates exactly that."""

    library: Library
    catalogue: Catalogue


def find_older(library: Library, messages: Sequence[Message], catalogue: Catalogue, published: Published) -> Older | None:
    """The library with the last whole version of each exercise that has one; None where none has."""
    catalogue = merge_catalogue(catalogue, template_entries(unique_messages(messages)))
    former = {entry.key: entry for entry in catalogue.entries if _is_former(entry, catalogue)}
    changed = {context.rpartition("/")[0] for context, _ in former}
    asked = (each for each in library.exercises if exercise_owner(each) in changed and each.code in published)
    kept = {old.slug: old for each in asked if (old := _put_back(each, library, former, published[each.code]))}
    if not kept:
        return None
    owners = {exercise_owner(exercise) for exercise in kept.values()}
    entries = tuple(
        replace(entry, source=entry.previous, previous="", fuzzy=False)
        if entry.key in former and entry.context.rpartition("/")[0] in owners
        else entry
        for entry in catalogue.entries
    )
    exercises = tuple(kept.get(exercise.slug, exercise) for exercise in library.exercises)
    return Older(replace(library, exercises=exercises), replace(catalogue, entries=entries))


def _is_former(entry: CatalogueMessage, catalogue: Catalogue) -> bool:
    """Whether a translation is whole, and of a former text of a kind that may stay."""
    stale = entry.translated and entry.fuzzy and not entry.obsolete and entry.previous not in ("", entry.source)
    context = entry.context.rpartition("/")
    may_stay = context[0].startswith("exercise/") and context[2] in KEPT
    return stale and may_stay and (entry.context, entry.previous) not in catalogue.by_key


def _put_back(
    exercise: Exercise, library: Library, former: Mapping[tuple[str, str], CatalogueMessage], published: Mapping[str, date]
) -> Exercise | None:
    """The exercise as it stood; None where readers never had exactly this."""

    def visit(message: Message) -> Words:
        entry = former.get(message.key)
        return Words(entry.previous if entry else message.text, message.place)

    old = rewrite_library(replace(library, exercises=(exercise,)), visit).exercises[0]
    version = exercise_stamp(old, library)
    on = published.get(version)
    if on is None:
        return None
    return replace(old, older=OlderVersion(version, on, replace(old, older=OlderVersion(version, on))))

"""Records that a changed text means what it meant before: its translations stay valid, and so do their reviews.

Only the author can say so.  A number that changed is another meaning, whoever says otherwise.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from fnmatch import fnmatchcase

from handouts.words.catalogue import Catalogue, CatalogueMessage
from handouts.words.checks import numbers_in
from handouts.words.merge import merge_catalogue, template_entries
from handouts.words.messages import Message, by_owner, unique_messages
from handouts.words.reviews import Reviews, fingerprint


@dataclass(frozen=True, slots=True)
class Kept:
    """A language in which translations stand: its catalogue and reviews, and the entries as they were before."""

    catalogue: Catalogue
    reviews: Reviews
    changed: tuple[CatalogueMessage, ...]


def find_changed(catalogue: Catalogue, messages: Iterable[Message]) -> Catalogue:
    """The catalogue brought up to date: what waits because its source changed has both texts (``is_changed``)."""
    return merge_catalogue(catalogue, template_entries(unique_messages(messages)))


def is_changed(entry: CatalogueMessage) -> bool:
    """Whether a whole translation waits only because its source text has changed."""
    return entry.translated and entry.fuzzy and not entry.obsolete and entry.previous not in ("", entry.source)


def is_named(entry: CatalogueMessage, patterns: Sequence[str]) -> bool:
    """Whether one of the patterns names the text or its owner: ``exercise/H7K2/step``, ``exercise/H7K2``, ``exercise/*``."""
    owner = entry.context.rpartition("/")[0]
    return any(fnmatchcase(entry.context, pattern) or fnmatchcase(owner, pattern) for pattern in patterns)


def has_other_numbers(entry: CatalogueMessage) -> bool:
    """Whether the texts before and after differ in a number."""
    return numbers_in(entry.previous) != numbers_in(entry.source)


def keep_translations(catalogue: Catalogue, reviews: Reviews, messages: Sequence[Message], patterns: Sequence[str]) -> Kept:
    """The translations of the changed texts that are named stand again; ``catalogue`` as from ``find_changed``."""
    named = tuple(entry for entry in catalogue.entries if is_changed(entry) and is_named(entry, patterns))
    keys = {entry.key for entry in named}
    entries = tuple(
        replace(entry, fuzzy=False, previous="") if entry.key in keys else entry for entry in catalogue.entries
    )
    made = replace(catalogue, entries=entries)
    return Kept(made, _reviews(catalogue, made, reviews, messages), named)


def _reviews(before: Catalogue, after: Catalogue, reviews: Reviews, messages: Sequence[Message]) -> Reviews:
    """A review of exactly the texts before the change holds for them after it: by the same role, on the same day."""
    found = dict(reviews)
    for owner, items in by_owner(messages).items():
        review = reviews.get(owner)
        if review is not None and review.version == _as_reviewed(before, items):
            found[owner] = replace(review, version=_as_reviewed(after, items))
    return found


def _as_reviewed(catalogue: Catalogue, messages: Iterable[Message]) -> str:
    """The fingerprint of an owner's texts with each text that its translation was made from."""
    rows = []
    for message in messages:
        entry = catalogue.by_key.get(message.key)
        source = entry.previous if entry and is_changed(entry) else message.text
        rows.append((message.context, source, entry.text if entry else ""))
    return fingerprint(rows)

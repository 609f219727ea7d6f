"""How far each text of a library is translated, reviewed and free of faults, in each language.

The state of an owner (an exercise, a caution, the clinic) is the state of all its texts.  A text is
usable only when it is translated from the source as it stands and no fault was found in it.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from enum import Enum
from functools import cached_property

from handouts.problems import Problem
from handouts.tasks.calling import Caller, call_now
from handouts.words.catalogue import Catalogue, CatalogueMessage
from handouts.words.checks import find_all_faults
from handouts.words.glossary import Glossary
from handouts.words.merge import similarity
from handouts.words.messages import SAFETY_OWNERS, Message, by_owner
from handouts.words.reviews import Reviews, TranslationReview, fingerprint


class TextState(Enum):
    """What a text in another language is worth."""

    USABLE = "usable"
    MISSING = "missing"
    """Never translated."""
    STALE = "stale"
    """Translated from a source text that has changed since."""
    FUZZY = "fuzzy"
    """Marked by a translator or a tool as not finished."""
    FAULTY = "faulty"
    """Finished, but a number, a placeholder, a link, a mark or a term is wrong."""


@dataclass(frozen=True, slots=True)
class TextReport:
    """One text in one language."""

    message: Message
    state: TextState
    entry: CatalogueMessage | None
    faults: tuple[Problem, ...] = ()


@dataclass(frozen=True, slots=True)
class OwnerState:
    """An owner's texts in one language."""

    owner: str
    texts: tuple[TextReport, ...]
    version: str
    """Fingerprint of source and translation as they stand."""
    review: TranslationReview | None
    """The latest review, of whatever version."""

    @property
    def usable(self) -> bool:
        """Whether every text may be shown."""
        return all(text.state is TextState.USABLE for text in self.texts)

    @property
    def reviewed(self) -> bool:
        """Whether a qualified person has read exactly these texts."""
        return self.usable and self.review is not None and self.review.version == self.version

    @property
    def reopened(self) -> bool:
        """Whether there is a review, but a text has changed since."""
        return self.review is not None and self.review.version != self.version

    def having(self, state: TextState) -> tuple[TextReport, ...]:
        """The texts in a state."""
        return tuple(text for text in self.texts if text.state is state)


@dataclass(frozen=True)
class LanguageState:
    """Every owner's texts in one language."""

    language: str
    owners: Mapping[str, OwnerState]

    @cached_property
    def by_key(self) -> dict[tuple[str, str], TextReport]:
        """The report on each text by the message's key."""
        return {text.message.key: text for owner in self.owners.values() for text in owner.texts}

    @property
    def problems(self) -> tuple[Problem, ...]:
        """Every fault in a finished translation, once."""
        return tuple(dict.fromkeys(fault for text in self.by_key.values() for fault in text.faults))


def find_state(
    messages: Iterable[Message],
    catalogue: Catalogue,
    reviews: Reviews | None = None,
    glossary: Glossary | None = None,
    call: Caller = call_now,
    source: str = "en",
) -> LanguageState:
    """The state of a library's messages in the language of a catalogue; ``call`` asks about the texts of each owner.

    ``source`` is the library's own language.
    """
    listed = tuple(messages)
    known = {message.key for message in listed}
    changed: dict[str, list[str]] = {}
    for entry in catalogue.by_key.values():
        if entry.key not in known and entry.translated:
            changed.setdefault(entry.context, []).append(entry.source)
    terms, seen = glossary or Glossary(), dict[tuple[str, str], TextReport]()
    owners = by_owner(listed)
    for items in owners.values():
        reports = {each.key: _report(each, catalogue, changed) for each in items if each.key not in seen}
        finished = {key: report.entry for key, report in reports.items() if report.state is TextState.USABLE and report.entry}
        rows = tuple((entry.source, entry.text, entry.place, entry.context.startswith(SAFETY_OWNERS)) for entry in finished.values())
        faults = call(find_all_faults, rows, catalogue.language, terms, source) if rows else ()
        for key, each in zip(finished, faults, strict=True):
            if each:
                reports[key] = replace(reports[key], state=TextState.FAULTY, faults=each)
        seen |= reports
    return LanguageState(catalogue.language, {
        owner: _owner_state(owner, tuple(seen[message.key] for message in items), (reviews or {}).get(owner)) for owner, items in owners.items()
    })  # fmt: skip


def _report(message: Message, catalogue: Catalogue, changed: Mapping[str, Sequence[str]]) -> TextReport:
    """How far a text is translated; whether a finished translation is free of faults is asked afterwards."""
    entry = catalogue.by_key.get(message.key)
    if entry is None or not entry.translated:
        # A catalogue that was not yet brought up to date still holds the translation of the former text.
        stale = any(similarity(message.text, former) for former in changed.get(message.context, ()))
        return TextReport(message, TextState.STALE if stale else TextState.MISSING, entry)
    if entry.fuzzy:
        stale = bool(entry.previous) and entry.previous != entry.source
        return TextReport(message, TextState.STALE if stale else TextState.FUZZY, entry)
    return TextReport(message, TextState.USABLE, entry)


def _owner_state(owner: str, texts: Sequence[TextReport], review: TranslationReview | None) -> OwnerState:
    version = fingerprint(
        (text.message.context, text.message.text, text.entry.text if text.entry else "") for text in texts
    )
    return OwnerState(owner, tuple(texts), version, review)

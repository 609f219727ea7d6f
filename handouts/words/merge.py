"""A catalogue brought up to date with the texts of a library; no translation is ever lost.

In order: the same text in the same context; the same text elsewhere (its owner was renamed); a text
of the same source file that is nearly the same, kept as fuzzy with the former source beside it.
What is left over becomes obsolete.  Comparing only within one file keeps the work small.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field, replace
from difflib import SequenceMatcher

from handouts.words import locales
from handouts.words.catalogue import Catalogue, CatalogueMessage, blank
from handouts.words.messages import Message

NEAR = 0.6
"""Least similarity (difflib's ratio, 0 to 1) at which a former translation is a help and not a trap."""


def template_entries(messages: Iterable[Message]) -> tuple[CatalogueMessage, ...]:
    """The messages as entries without a translation."""
    return tuple(
        CatalogueMessage(
            context=message.context,
            source=message.text,
            forms=("",),
            note=message.note,
            source_file=message.place.file.partition("/")[2] or message.place.file,
        )
        for message in messages
    )


@dataclass(slots=True)
class _Pool:
    """Entries of the former catalogue that no text has claimed yet."""

    left: dict[tuple[str, str], CatalogueMessage]
    taken: dict[str, CatalogueMessage] = field(default_factory=dict)
    """Entries that are claimed, by their source text: their translation may serve as a draft."""

    def take(self, key: tuple[str, str]) -> CatalogueMessage:
        entry = self.left.pop(key)
        self.taken.setdefault(entry.source, entry)
        return entry


def merge_catalogue(catalogue: Catalogue, template: Sequence[CatalogueMessage]) -> Catalogue:
    """The catalogue for the texts of ``template``, in their order, obsolete entries last."""
    # An entry in use comes before an obsolete one with the same key.
    ordered = sorted(catalogue.entries, key=lambda entry: not entry.obsolete)
    pool = _Pool({entry.key: entry for entry in ordered})
    found: dict[tuple[str, str], CatalogueMessage] = {}
    for wanted in template:
        if wanted.key in pool.left:
            found[wanted.key] = _carry(wanted, pool.take(wanted.key))
    _match_moved(template, pool, found)
    _match_near(template, pool, found)
    entries = [found.get(wanted.key) or _draft(wanted, pool, catalogue.language) for wanted in template]
    rest = [replace(entry, obsolete=True, source_file="") for entry in pool.left.values() if any(entry.forms)]
    return replace(catalogue, entries=(*entries, *rest))


def _carry(wanted: CatalogueMessage, old: CatalogueMessage) -> CatalogueMessage:
    """An entry with the old translation and the new note and place."""
    return replace(
        old,
        context=wanted.context,
        source=wanted.source,
        source_plural=wanted.source_plural,
        note=wanted.note,
        source_file=wanted.source_file,
        flags=wanted.flags,
        obsolete=False,
    )


def _name_of(entry: CatalogueMessage) -> str:
    return entry.context.rpartition("/")[2]


def _match_moved(template: Sequence[CatalogueMessage], pool: _Pool, found: dict[tuple[str, str], CatalogueMessage]) -> None:
    """The same text as the same kind of text, where its former context is gone."""
    gone = {(_name_of(entry), entry.source): key for key, entry in reversed(pool.left.items()) if entry.translated}
    for wanted in template:
        if wanted.key in found:
            continue
        key = gone.pop((_name_of(wanted), wanted.source), None)
        if key is not None:
            found[wanted.key] = _carry(wanted, pool.take(key))


def _match_near(template: Sequence[CatalogueMessage], pool: _Pool, found: dict[tuple[str, str], CatalogueMessage]) -> None:
    """Nearly the same text of the same file or owner; the best pairs first, each entry once."""
    pairs = []
    for order, wanted in enumerate(template):
        if wanted.key in found:
            continue
        for key, old in pool.left.items():
            if not old.translated or not _are_neighbours(wanted, old):
                continue
            ratio = similarity(wanted.source, old.source)
            if ratio >= NEAR:
                pairs.append((-ratio, wanted.context != old.context, order, wanted, key))
    for _, _, _, wanted, key in sorted(pairs, key=lambda pair: (*pair[:3], pair[4])):
        if wanted.key in found or key not in pool.left:
            continue
        old = pool.take(key)
        # A translation that was fuzzy already was made from an earlier source still.
        # One that was never finished stays so: no text is known to which it was whole.
        unfinished = old.fuzzy and old.previous in ("", old.source)
        previous = "" if unfinished else old.previous if old.fuzzy else old.source
        found[wanted.key] = replace(_carry(wanted, old), fuzzy=True, previous=previous)


def _are_neighbours(wanted: CatalogueMessage, old: CatalogueMessage) -> bool:
    if bool(wanted.source_plural) != bool(old.source_plural):
        return False
    if wanted.context == old.context:
        return True
    if wanted.source_file and old.source_file:  # former catalogues name the library's folder too
        return f"/{old.source_file}".endswith(f"/{wanted.source_file}")
    return wanted.context.rpartition("/")[0] == old.context.rpartition("/")[0]


def similarity(first: str, second: str) -> float:
    """How alike two texts are, 0 to 1; cheap bounds come first."""
    matcher = SequenceMatcher(None, first, second, autojunk=False)
    if matcher.real_quick_ratio() < NEAR or matcher.quick_ratio() < NEAR:
        return 0.0
    return matcher.ratio()


def _draft(wanted: CatalogueMessage, pool: _Pool, language: str) -> CatalogueMessage:
    """An entry without a translation, or with that of the same text elsewhere, to be looked at."""
    twin = pool.taken.get(wanted.source)
    if twin is None or not twin.usable or twin.source_plural != wanted.source_plural:
        return blank(wanted, language)
    return replace(wanted, forms=twin.forms, fuzzy=True, previous=wanted.source)


def new_catalogue(language: str, file: str) -> Catalogue:
    """A catalogue without messages; ValueError for a language that CLDR does not know."""
    if not locales.is_known(language):
        raise ValueError(f"no language has the tag {language!r}")
    return Catalogue(language, file)

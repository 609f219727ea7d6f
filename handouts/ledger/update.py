"""The ledger after a publication: new codes, new versions, new names.  Never takes anything away."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import date

from handouts.ledger.entries import EXERCISE, PROGRAMME, Ledger, LedgerEntry, Version
from handouts.ledger.parts import changed_parts, exercise_parts, programme_parts
from handouts.markup import plain_text
from handouts.model import Dose, Library
from handouts.problems import Place


@dataclass(frozen=True, slots=True)
class Present:
    """One thing with a code as the library has it now."""

    code: str
    kind: str
    slug: str
    title: str
    version: str
    parts: Mapping[str, str]
    dose: Dose | None
    place: Place

    @property
    def item(self) -> str:
        """``exercises/SLUG`` or ``programmes/SLUG``."""
        return f"{self.kind}s/{self.slug}"


def find_present(library: Library, stamps: Mapping[str, str]) -> tuple[Present, ...]:
    """Every exercise and programme; ``stamps`` as from ``handouts.stamp.stamps_of``, of the source language."""
    return tuple(_present(library, stamps))


def _present(library: Library, stamps: Mapping[str, str]) -> Iterator[Present]:
    for exercise in library.exercises:
        parts, version = exercise_parts(exercise, library), stamps[f"exercises/{exercise.slug}"]
        title = plain_text(exercise.title.text)
        yield Present(exercise.code, EXERCISE, exercise.slug, title, version, parts, exercise.dose, exercise.at("code"))
    for programme in library.programmes:
        inner, version = programme_parts(programme, stamps), stamps[f"programmes/{programme.slug}"]
        title = plain_text(programme.title.text)
        yield Present(programme.code, PROGRAMME, programme.slug, title, version, inner, None, programme.at("code"))


def update_ledger(ledger: Ledger, present: tuple[Present, ...], on: date) -> Ledger:
    """The ledger with what is published on a day; the same ledger where nothing is new."""
    now = {item.code: item for item in present}
    known = tuple(_updated(entry, now.get(entry.code), on) for entry in ledger.entries)
    fresh = tuple(_begun(item, on) for item in present if item.code not in ledger.by_code)
    return Ledger((*known, *fresh), ledger.place)


def _begun(item: Present, on: date) -> LedgerEntry:
    first = Version(place=item.place, version=item.version, on=on, dose=item.dose, parts=item.parts)
    return LedgerEntry(
        place=item.place, code=item.code, kind=item.kind, title=item.title, slugs=(item.slug,), versions=(first,)
    )


def _updated(entry: LedgerEntry, item: Present | None, on: date) -> LedgerEntry:
    if item is None:
        return entry
    slugs = (*(slug for slug in entry.slugs if slug != item.slug), item.slug)
    versions = entry.versions
    if entry.latest.version != item.version:
        changed = changed_parts(entry.latest.parts, item.parts)
        fresh = Version(
            place=item.place, version=item.version, on=on, changed=changed, dose=item.dose, parts=item.parts
        )
        versions = (*versions, fresh)
    return replace(entry, title=item.title, slugs=slugs, versions=versions)


def say_update(before: Ledger, after: Ledger) -> tuple[str, ...]:
    """One line for each entry that is new or changed."""
    lines = []
    for entry in after.entries:
        old = before.by_code.get(entry.code)
        if old is None:
            lines.append(f"{entry.code}  {entry.title}: new, version {entry.latest.version}")
        elif len(entry.versions) > len(old.versions):
            changed = ", ".join(entry.latest.changed) or "nothing that has a name"
            lines.append(f"{entry.code}  {entry.title}: version {entry.latest.version}, changed: {changed}")
        elif entry.slugs != old.slugs:
            lines.append(f"{entry.code}  {entry.title}: now under the name '{entry.slugs[-1]}'")
    return tuple(lines)

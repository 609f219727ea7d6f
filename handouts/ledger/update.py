"""The ledger after a publication: new codes, new versions, new names.  Never takes anything away."""

from __future__ import annotations

from collections.abc import Container, Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import date

from handouts.ledger.entries import (
    BUNDLE,
    EXERCISE,
    PROGRAMME,
    STANDALONE,
    Approval,
    ClinicVersion,
    Ledger,
    LedgerEntry,
    Version,
    folder_of,
)
from handouts.ledger.parts import bundle_parts, changed_parts, exercise_parts, programme_parts, standalone_parts
from handouts.ledger.stamp import stamps_of
from handouts.model import Dose, Library
from handouts.problems import Place
from handouts.text.markup import plain_text


@dataclass(frozen=True, slots=True)
class Present:
    """One thing as the library has it now."""

    code: str
    """A bundle's is the name that the ledger knows it by."""
    kind: str
    slug: str
    title: str
    version: str
    parts: Mapping[str, str]
    dose: Dose | None
    place: Place

    @property
    def item(self) -> str:
        """``exercises/SLUG``, ``programmes/SLUG`` or ``bundles/SLUG``."""
        return f"{folder_of(self.kind)}/{self.slug}"


def find_present(library: Library, stamps: Mapping[str, str], ledger: Ledger | None = None) -> tuple[Present, ...]:
    """Everything in a library; ``stamps`` as from ``handouts.ledger.stamp.stamps_of``, of the source language."""
    found = tuple(_present(library, stamps))
    names = {item.slug for item in found if item.kind == BUNDLE}
    return tuple(_known(item, ledger, names) if ledger and item.kind == BUNDLE else item for item in found)


def _known(bundle: Present, ledger: Ledger, names: Container[str]) -> Present:
    """A bundle by the name that the ledger knows: under a new one it is the gone bundle with its title or exercises."""
    code = ledger.code_of(bundle.slug)
    if code not in ledger.by_code:
        gone = [each for each in ledger.entries if each.kind == BUNDLE and each.slugs[-1] not in names]
        alike = [
            each.code
            for each in gone
            if not each.is_retired and any(each.latest.parts.get(part) == bundle.parts[part] for part in _LIKENESS)
        ]
        code = alike[0] if len(alike) == 1 else code
    return replace(bundle, code=code)


_LIKENESS = ("title", "picks")
"""Parts of which one is enough to know a renamed bundle by."""


def _present(library: Library, stamps: Mapping[str, str]) -> Iterator[Present]:
    for exercise in library.exercises:
        parts, version = exercise_parts(exercise, library), stamps[f"exercises/{exercise.slug}"]
        title = plain_text(exercise.title.text)
        yield Present(exercise.code, EXERCISE, exercise.slug, title, version, parts, exercise.dose, exercise.at("code"))
    for programme in library.programmes:
        inner, version = programme_parts(programme, library, stamps), stamps[f"programmes/{programme.slug}"]
        title = plain_text(programme.title.text)
        yield Present(programme.code, PROGRAMME, programme.slug, title, version, inner, None, programme.at("code"))
    for bundle in library.bundles:
        inner, version = bundle_parts(bundle, library, stamps), stamps[f"bundles/{bundle.slug}"]
        title = plain_text(bundle.title.text)
        yield Present(bundle.slug, BUNDLE, bundle.slug, title, version, inner, None, bundle.place)
    for folder, items in library.standalones.items():
        for item in items:
            own, version, title = standalone_parts(item, library), stamps[f"{folder}/{item.slug}"], plain_text(item.title.text)
            yield Present(item.code, STANDALONE[folder], item.slug, title, version, own, None, item.at("code"))


def update_ledger(
    ledger: Ledger, present: tuple[Present, ...], on: date, titles: Mapping[str, Mapping[str, str]] | None = None
) -> Ledger:
    """The ledger with what is published on a day; the same ledger where nothing is new.

    ``titles`` are by code and language, as from ``find_titles``.
    """
    now = {item.code: item for item in present}
    known = tuple(_updated(entry, now.get(entry.code), on) for entry in ledger.entries)
    fresh = tuple(_begun(item, on) for item in present if item.code not in ledger.by_code)
    entries = (*known, *fresh)
    if titles is not None:
        entries = tuple(replace(each, titles={**each.titles, **titles.get(each.code, {})}) for each in entries)
    return replace(ledger, entries=entries)


def approve(ledger: Ledger, approval: Approval, codes: Container[str], clinic: str = "") -> Ledger:
    """The ledger in which the latest version of each of the ``codes`` is approved, and the clinic's own words in the state ``clinic``.

    What was approved before keeps its approval.
    """

    def signed(entry: LedgerEntry) -> LedgerEntry:
        if entry.code not in codes or entry.latest.approved:
            return entry
        return replace(entry, versions=(*entry.versions[:-1], replace(entry.latest, approved=approval)))

    known = {each.version for each in ledger.clinic[-1:]}
    state = () if not clinic or clinic in known else (ClinicVersion(place=ledger.place, version=clinic, approved=approval),)
    return replace(ledger, entries=tuple(map(signed, ledger.entries)), clinic=(*ledger.clinic, *state))


def find_titles(present: tuple[Present, ...], translations: Iterable[Library]) -> dict[str, dict[str, str]]:
    """The titles of what is present in other languages, by code and language."""
    codes = {item.item: item.code for item in present}
    found: dict[str, dict[str, str]] = {}
    for library in translations:
        for item in find_present(library, stamps_of(library)):
            if item.item in codes:
                # with single plain spaces, as the ledger's reader gives them back
                found.setdefault(codes[item.item], {})[library.language] = " ".join(item.title.split())
    return found


def _begun(item: Present, on: date) -> LedgerEntry:
    first = Version(place=item.place, version=item.version, on=on, dose=item.dose, parts=item.parts)
    return LedgerEntry(
        place=item.place, code=item.code, kind=item.kind, title=item.title, slugs=(item.slug,), versions=(first,)
    )


def _updated(entry: LedgerEntry, item: Present | None, on: date) -> LedgerEntry:
    if item is None:
        is_gone = entry.replaced_by is not None and entry.withdrawn is None and entry.left is None
        return replace(entry, left=on) if is_gone else entry
    slugs = (*(slug for slug in entry.slugs if slug != item.slug), item.slug)
    versions = entry.versions
    if entry.latest.version != item.version:
        changed = changed_parts(entry.latest.parts, item.parts)
        fresh = Version(
            place=item.place, version=item.version, on=on, changed=changed, dose=item.dose, parts=item.parts
        )
        versions = (*versions, fresh)
    return replace(entry, title=item.title, slugs=slugs, versions=versions, left=None)


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
        elif entry.left and not old.left:
            lines.append(f"{entry.code}  {entry.title}: left, replaced by {entry.replaced_by}")
        elif entry.slugs != old.slugs:
            lines.append(f"{entry.code}  {entry.title}: now under the name '{entry.slugs[-1]}'")
    return tuple(lines)

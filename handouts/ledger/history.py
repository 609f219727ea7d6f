"""What a ledger tells readers: former versions and what changed since, former doses, and where a retired code leads."""

from __future__ import annotations

from collections.abc import Container, Mapping
from dataclasses import dataclass, field, replace
from datetime import date
from functools import cached_property

from handouts.ledger.entries import EXERCISE, Ledger, LedgerEntry
from handouts.ledger.parts import changed_parts
from handouts.ledger.update import Present
from handouts.model import Dose


@dataclass(frozen=True, slots=True)
class Former:
    """A version that sheets may still carry: its stamp, its day, and the parts that are different now."""

    version: str
    on: date
    changed: tuple[str, ...]
    doses: tuple[Dose, Dose] | None = None
    """An exercise's dose then and now, where it is another one."""


@dataclass(frozen=True, slots=True)
class HeldBack:
    """Something whose review ended longer ago than the clinic allows, so that it is not published."""

    kind: str
    """``exercise``, ``programme`` or ``bundle``."""
    slug: str
    code: str
    """Empty for a bundle."""
    title: str
    ended: date
    by: str
    """The role that reviewed it last."""


@dataclass(frozen=True)
class History:
    """What a build knows of the past."""

    ledger: Ledger | None = None
    present: tuple[Present, ...] = ()
    """Everything in the library, what is held back included."""
    held_back: tuple[HeldBack, ...] = ()
    overdue: Mapping[str, date] = field(default_factory=dict)
    """By ``exercises/SLUG`` and the like the day on which a review ended, of what is published all the same."""

    @cached_property
    def by_item(self) -> dict[str, Present]:
        """What is present by ``exercises/SLUG`` and the like."""
        return {each.item: each for each in reversed(self.present)}

    @cached_property
    def by_code(self) -> dict[str, Present]:
        """What is present by its code."""
        return {each.code: each for each in reversed(self.present)}

    @cached_property
    def published_exercises(self) -> dict[str, dict[str, date]]:
        """By the code of an exercise each version that was published, with the day of the first such publication."""
        entries = self.ledger.entries if self.ledger else ()
        return {
            entry.code: {each.version: each.on for each in reversed(entry.versions)}
            for entry in entries
            if entry.kind == EXERCISE
        }

    def as_of(self, present: tuple[Present, ...]) -> History:
        """The past of a language in which some things stand in an older version: what came later is not known there."""
        here = {each.item: each for each in present}
        older = {each.code: each.version for each in present if each != self.by_item.get(each.item)}
        entries = tuple(_cut(entry, older.get(entry.code, "")) for entry in self.ledger.entries) if self.ledger else ()
        ledger = replace(self.ledger, entries=entries) if self.ledger else None
        return replace(self, ledger=ledger, present=tuple(here.get(each.item, each) for each in self.present))

    def former(self, item: str) -> tuple[Former, ...]:
        """The former versions of ``exercises/SLUG`` and the like, the latest first, each once."""
        now = self.by_item.get(item)
        entry = self.ledger.by_code.get(now.code) if now and self.ledger else None
        return former_versions(entry, now) if entry and now else ()


def _cut(entry: LedgerEntry, version: str) -> LedgerEntry:
    """An entry without the versions after the last of ``version``; as it is where it never had that."""
    last = max((at for at, each in enumerate(entry.versions, 1) if each.version == version), default=len(entry.versions))
    return replace(entry, versions=entry.versions[:last])


def former_versions(entry: LedgerEntry, now: Present) -> tuple[Former, ...]:
    """Every version of an entry but the present one, the latest first, each once."""
    found: dict[str, Former] = {}
    for each in reversed(entry.versions):
        if each.version != now.version and each.version not in found:
            doses = (each.dose, now.dose) if each.dose and now.dose and each.dose != now.dose else None
            found[each.version] = Former(each.version, each.on, changed_parts(each.parts, now.parts), doses)
    return tuple(found.values())


def former_doses(ledger: Ledger | None, present: tuple[Present, ...]) -> dict[str, tuple[Dose, ...]]:
    """By code the doses that an exercise of the library once had: sheets and links with them still open."""
    now = {item.code: item.dose for item in present}
    entries = ledger.entries if ledger else ()
    found = {}
    for entry in entries:
        if entry.kind == EXERCISE and entry.code in now:
            doses = dict.fromkeys(each.dose for each in entry.versions if each.dose and each.dose != now[entry.code])
            found[entry.code] = tuple(dose for dose in doses if dose)
    return {code: doses for code, doses in found.items() if doses}


def follow(ledger: Ledger, code: str, published: Container[str]) -> str:
    """Where a code leads: along its replacements to a published code, or to the last one that the ledger names."""
    seen = set()
    while code not in published and code not in seen:
        seen.add(code)
        entry = ledger.by_code.get(code)
        if entry is None or entry.replaced_by is None:
            break
        code = ledger.code_of(entry.replaced_by)
    return code

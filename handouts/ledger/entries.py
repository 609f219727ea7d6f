"""The ledger as frozen values: one entry a code, one version for each time its words, dose or figure changed.

A printed code never moves: an entry is never deleted, only replaced or withdrawn.  Reads no files, judges nothing.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from functools import cached_property

from handouts.model import Dose, Record
from handouts.problems import Place

EXERCISE, PROGRAMME, BUNDLE, TEST, LEAFLET, LESSON, CLASS = "exercise", "programme", "bundle", "test", "leaflet", "lesson", "class"
"""Kinds of things that a ledger knows; a ready-made bundle has no code, and its first file name stands in its place."""
KINDS = (EXERCISE, PROGRAMME, BUNDLE, TEST, LEAFLET, LESSON, CLASS)
"""All of them."""
STANDALONE = {"tests": TEST, "leaflets": LEAFLET, "lessons": LESSON, "classes": CLASS}
"""The kind of what holds no exercise, by the folder that it stands in."""


def folder_of(kind: str) -> str:
    """The folder that things of a kind stand in, in the library and in each language of the site."""
    return "classes" if kind == CLASS else f"{kind}s"


@dataclass(frozen=True, kw_only=True)
class Approval(Record):
    """Who let a version go out, and when."""

    by: str
    """A role, never a person's name."""
    on: date


@dataclass(frozen=True, kw_only=True)
class Version(Record):
    """One published version: the stamp on sheets, the day, what had changed, and a fingerprint of each part."""

    version: str
    on: date
    changed: tuple[str, ...] = ()
    """Names of parts (``handouts.ledger.parts``) that differ from the version before; none in the first."""
    dose: Dose | None = None
    """An exercise's dose in this version."""
    parts: Mapping[str, str] = field(default_factory=dict)
    approved: Approval | None = None


@dataclass(frozen=True, kw_only=True)
class ClinicVersion(Record):
    """The words that stand on every page and sheet (phone numbers, emergency, pain rule, cautions) as they were approved."""

    version: str
    approved: Approval


@dataclass(frozen=True, kw_only=True)
class Withdrawal(Record):
    """That something is no longer published, since when, and why: in the source language, and as translated."""

    on: date
    why: str
    translated: Mapping[str, str] = field(default_factory=dict)
    """The reason by language."""

    def why_in(self, language: str) -> str | None:
        """The reason in a language; None where it has not been translated."""
        return self.translated.get(language)


@dataclass(frozen=True, kw_only=True)
class LedgerEntry(Record):
    """One code with all that was published under it."""

    code: str
    """A bundle's first file name, in small letters, so that it is never taken for a code."""
    kind: str
    title: str
    """The latest title, in the source language."""
    slugs: tuple[str, ...]
    """Every file name it was published under, the latest last."""
    versions: tuple[Version, ...]
    """In order of publication."""
    titles: Mapping[str, str] = field(default_factory=dict)
    """The latest title in each other language that it was published in: a patient who holds a sheet knows no other."""
    left: date | None = None
    """The day on which it was first seen to be gone after it was replaced."""
    replaced_by: str | None = None
    """Code of what took its place; any name that it has or had, where that is a bundle."""
    withdrawn: Withdrawal | None = None

    @property
    def latest(self) -> Version:
        """The version published last."""
        return self.versions[-1]

    @property
    def is_retired(self) -> bool:
        """Whether it was replaced or withdrawn."""
        return self.replaced_by is not None or self.withdrawn is not None


@dataclass(frozen=True)
class Ledger:
    """All entries, in the order in which codes were first published."""

    entries: tuple[LedgerEntry, ...] = ()
    place: Place = field(default=Place("ledger.yaml"), compare=False, repr=False)
    clinic: tuple[ClinicVersion, ...] = ()
    """Each approved state of the clinic's own words, the latest last."""

    @cached_property
    def by_code(self) -> dict[str, LedgerEntry]:
        """Entries by code."""
        return {entry.code: entry for entry in self.entries}

    def code_of(self, name: str) -> str:
        """The code that a name stands for: a bundle's first name for each of its names, and a code for itself."""
        return self._first_names.get(name, name)

    @cached_property
    def _first_names(self) -> dict[str, str]:
        return {slug: entry.code for entry in self.entries if entry.kind == BUNDLE for slug in entry.slugs}

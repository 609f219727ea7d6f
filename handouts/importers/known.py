"""What a library has that an imported file may name or must not repeat."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, field

from handouts.ledger.read import FILE as LEDGER
from handouts.ledger.read import read_ledger
from handouts.library.read import read_library
from handouts.library.scalars import CODE_CHARACTERS
from handouts.model import Library
from handouts.source.bases import LibraryFiles

LISTS = ("regions", "positions", "equipment", "purposes", "bands", "demands")
_CODE = re.compile(rb"^code: (\w{4})$", re.MULTILINE)


@dataclass(frozen=True, slots=True)
class Known:
    """Names and words of a library."""

    codes: frozenset[str] = frozenset()
    """Codes that it has, or once had."""
    slugs: frozenset[str] = frozenset()
    """Names of its exercises."""
    terms: Mapping[str, Mapping[str, str]] = field(default_factory=dict)
    """The name of each word by list and slug, the tiers with them; empty where the library declares none."""
    brings: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    """The cautions that a word brings, by ``LIST/SLUG``."""
    cautions: Mapping[str, str] = field(default_factory=dict)
    """When each caution holds, by slug."""
    files: Mapping[str, bytes] = field(default_factory=dict)
    """The library's own exercises by path."""
    first: str = CODE_CHARACTERS
    """Signs that a new code may begin with."""

    @property
    def by_code(self) -> dict[str, str]:
        """The path of each exercise by its code."""
        return {found[1].decode(): path for path, data in self.files.items() if (found := _CODE.search(data))}


def find_known(files: Mapping[str, bytes], name: str, standing: Library | None = None) -> Known:
    """What the files of a library tell; those of its exercises that cannot be read yet count by name and code.

    ``standing`` is the library with what it takes from its base, where it has one that can be read.
    """
    exercises = {path: data for path, data in files.items() if path.startswith("exercises/")}
    library = standing or (read_library(files, name)[0] if files else None)
    codes = set[str]()
    for layer in files.layers() if isinstance(files, LibraryFiles) else (files,):
        ledger, _ = read_ledger(layer[LEDGER], LEDGER) if LEDGER in layer else (None, [])
        codes |= set(ledger.by_code) if ledger else set()
        codes |= {code.decode() for data in layer.values() for code in _CODE.findall(data)}
    slugs = frozenset(path.removeprefix("exercises/").removesuffix(".md") for path in exercises)
    if library and library.base:
        slugs |= library.exercise.keys() | library.base.library.exercise.keys()
    if library is None:
        return Known(frozenset(codes), slugs, files=exercises)
    codes |= {item.code for item in library.exercises} | {item.code for item in library.programmes}
    codes |= {item.code for item in library.all_standalones}
    lists = {each: getattr(library.vocabulary, each) for each in LISTS}
    terms = {each: {term.slug: str(term.name) for term in found} for each, found in lists.items()}
    terms["tiers"] = {tier.slug: str(tier.name) for tier in library.tiers}
    brings = {
        f"{each}/{term.slug}": tuple(ref.slug for ref in term.cautions) for each, found in lists.items() for term in found if term.cautions
    }
    cautions = {item.slug: str(item.when) for item in library.cautions}
    return Known(frozenset(codes), slugs, terms, brings, cautions, exercises, first_letters(library))


def first_letters(library: Library) -> str:
    """The signs that a code of something new may begin with: what a base keeps free for its clinics, and nothing that is kept free here."""
    base = library.base.library.clinic.codes_kept_free if library.base else ()
    return "".join(letter for letter in CODE_CHARACTERS if letter not in library.clinic.codes_kept_free and (not base or letter in base))

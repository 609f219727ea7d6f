"""A library with what it stands on: bytes in, one ``Library`` and problems out.

Each base is read by itself, to the lowest.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace

from handouts.bases.adapt import adapt, find_conditions, find_words, mark_reviews
from handouts.bases.codes import check_codes
from handouts.bases.single_files import read_singles, read_values
from handouts.ledger.entries import Ledger
from handouts.ledger.read import FILE, read_ledger
from handouts.library.read import put_together, read_library, unknown_files
from handouts.model import Clinic, Library, LibraryBase
from handouts.problems import Problem
from handouts.rules.withdrawn import find_withdrawn
from handouts.source.bases import LibraryFiles
from handouts.tasks.calling import Caller, call_now


def read_standing(files: Mapping[str, bytes], name: str = "content", call: Caller = call_now) -> tuple[Library | None, list[Problem]]:
    """The library in the source language, with what it takes from its base; None where any file of either could not be read.

    The problems name each file where it stands.  Without a base it is ``read_library``.
    """
    if not isinstance(files, LibraryFiles) or (files.is_whole and files.base is None):
        return read_library(files, name, call)
    if not files.is_whole or files.base is None:
        return None, []  # what read the folders says why
    under, problems = read_standing(files.base, files.base.name, call)
    if under is None:
        return None, problems
    problems += unknown_files(files, name)
    single = read_values(read_singles(files, problems), problems)
    clinic = single.get("clinic")
    if not isinstance(clinic, Clinic) or not _speaks_alike(clinic, under, problems):
        return None, problems
    adapted = adapt(under, clinic, files)
    problems += adapted.problems
    base_name = under.clinic.name
    library = put_together(single, files, name, call, problems, mark_reviews(adapted.library, base_name))
    if library is None:
        return None, problems
    words = find_words(library.vocabulary.search_words, library.exercise, under)
    conditions = find_conditions(library.conditions, library.exercise, under)
    falls = tuple((fall.title, fall.says) for fall in adapted.falls)
    vocabulary = replace(library.vocabulary, search_words=words)
    library = replace(library, vocabulary=vocabulary, conditions=conditions, base=LibraryBase(base_name, under, falls))
    return library, [*problems, *check_codes(library)]


def _speaks_alike(clinic: Clinic, base: Library, problems: list[Problem]) -> bool:
    """Whether a clinic writes in the language of its base."""
    if clinic.languages.source == base.language:
        return True
    what = f"the base is written in '{base.language}', and this library in '{clinic.languages.source}'"
    mend = f"Write 'source: {base.language}', and name other languages under 'also'."
    problems.append(Problem(clinic.languages.at("source"), "base-language", what, mend))
    return False


def _base_ledgers(files: Mapping[str, bytes], call: Caller) -> Iterator[Ledger]:
    """The ledgers of all that a library stands on, the nearest first; one that cannot be read is told of with its library."""
    for layer in list(files.layers())[1:] if isinstance(files, LibraryFiles) else ():
        ledger: Ledger | None = call(read_ledger, layer[FILE], f"{layer.name}/{FILE}")[0] if FILE in layer else None
        if ledger is not None:
            yield ledger


def check_base_ledgers(files: Mapping[str, bytes], call: Caller = call_now) -> list[Problem]:
    """What is wrong in the ledgers of all that a library stands on."""
    layers = list(files.layers())[1:] if isinstance(files, LibraryFiles) else []
    return [problem for each in layers if FILE in each for problem in call(read_ledger, each[FILE], f"{each.name}/{FILE}")[1]]


def with_base_ledgers(
    ledger: Ledger | None, library: Library, files: Mapping[str, bytes], call: Caller = call_now
) -> tuple[Ledger | None, dict[str, str]]:
    """A ledger that also knows what a base has withdrawn or replaced of what the library published; and all that is gone of the library.

    The second is as from ``find_withdrawn``: what a base withdraws is published nowhere.
    """
    gone = dict[str, str]()
    for base in _base_ledgers(files, call):
        gone |= find_withdrawn(library, base)
        if ledger is None:
            continue
        retired = {code: entry for code, entry in base.by_code.items() if entry.is_retired}
        entries = tuple(
            replace(entry, withdrawn=retired[entry.code].withdrawn, replaced_by=retired[entry.code].replaced_by)
            if entry.code in retired and not entry.is_retired
            else entry
            for entry in ledger.entries
        )
        ledger = replace(ledger, entries=entries)
    return ledger, {**gone, **find_withdrawn(library, ledger)}

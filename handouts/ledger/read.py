"""``ledger.yaml`` as a ``Ledger``: bytes in, entries and problems out; nothing is judged."""

from __future__ import annotations

from dataclasses import dataclass

from handouts.ledger.entries import EXERCISE, PROGRAMME, Ledger, LedgerEntry, Version, Withdrawal
from handouts.ledger.parts import PART_NAMES
from handouts.library.declare import CODE_PATTERN
from handouts.library.dose_shapes import DOSE
from handouts.library.shapes import (
    SLUG_PATTERN,
    Choice,
    Day,
    ListOf,
    Problems,
    RecordOf,
    Schema,
    Text,
    field_of,
    optional,
)
from handouts.problems import Place, Problem
from handouts.source.nodes import Mapping, Node, Scalar, compose, read_text
from handouts.stamp import ALPHABET, STAMP_CHARACTERS

FILE = "ledger.yaml"
MAX_BYTES = 4 * 1024 * 1024
"""Largest ledger read, in bytes; 300 exercises in 20 versions each need about 2.5 MiB."""
MOST_CODES, MOST_VERSIONS = 5000, 1000


@dataclass(frozen=True, slots=True)
class PartsShape:
    """A fingerprint for each part, by the part's name."""

    def read(self, node: Node, problems: Problems) -> dict[str, str] | None:
        entries = node.entries if isinstance(node, Mapping) else ()
        found = {each.key: each.value.text for each in entries if isinstance(each.value, Scalar)}
        if not found or len(found) < len(entries) or not set(found) <= set(PART_NAMES):
            what, mend = (
                "this is not a fingerprint for each part",
                "Leave 'parts' as 'handouts ledger update' wrote it.",
            )
            problems.append(Problem(node.place, "wrong-value", what, mend))
            return None
        return found

    def schema(self) -> Schema:
        return {"type": "object", "propertyNames": {"enum": list(PART_NAMES)}}


_VERSION_PATTERN = f"[{ALPHABET}]{{{STAMP_CHARACTERS}}}"
_CODE = Text(4, CODE_PATTERN, "a code of four characters")
_VERSION = RecordOf(
    Version,
    "a version",
    {
        "version": field_of(
            Text(STAMP_CHARACTERS, _VERSION_PATTERN, "a version stamp"), "the stamp on sheets", "version"
        ),
        "on": field_of(Day(), "the day of publication", "on"),
        "changed": optional(ListOf(Choice(PART_NAMES), 0, 20), "parts that changed", "changed"),
        "dose": optional(DOSE, "the dose of this version", "dose"),
        "parts": field_of(PartsShape(), "a fingerprint of each part", "parts"),
    },
)
_WITHDRAWAL = RecordOf(
    Withdrawal,
    "a withdrawal",
    {
        "on": field_of(Day(), "the day of the withdrawal", "on"),
        "why": field_of(Text(300, wanted="a reason that a patient may read"), "why, for patients", "why"),
    },
)
_ENTRY = RecordOf(
    LedgerEntry,
    "an entry of the ledger",
    {
        "code": field_of(_CODE, "the printed code", "code"),
        "kind": field_of(Choice((EXERCISE, PROGRAMME)), "exercise or programme", "kind"),
        "title": field_of(Text(70, wanted="a title"), "the latest title", "title"),
        "slugs": field_of(
            ListOf(Text(64, SLUG_PATTERN, "a file name"), 1, 100), "names it was published under", "slugs"
        ),
        "versions": field_of(ListOf(_VERSION, 1, MOST_VERSIONS), "its versions", "versions"),
        "replaced by": optional(_CODE, "code of what took its place", "replaced_by"),
        "withdrawn": optional(_WITHDRAWAL, "since when and why it is no longer published", "withdrawn"),
    },
)
LEDGER = RecordOf(
    dict, "the ledger", {"codes": field_of(ListOf(_ENTRY, 0, MOST_CODES), "every code published", "codes")}
)
"""The declaration of the file."""


def read_ledger(data: bytes, file: str) -> tuple[Ledger | None, list[Problem]]:
    """The ledger; None, with problems, where it cannot be read whole."""
    text, problems = read_text(data, file)
    if problems:
        return None, problems
    root, problems = compose(text, file, most_bytes=MAX_BYTES)
    if root is None:
        return None, problems
    found = LEDGER.read(root, problems)
    if found is None or problems:
        return None, problems
    entries = found["codes"]
    problems += _repeated(entries)
    return (None if problems else Ledger(entries, Place(file))), problems


def _repeated(entries: tuple[LedgerEntry, ...]) -> list[Problem]:
    seen: set[str] = set()
    found = []
    for entry in entries:
        if entry.code in seen:
            what = f"the code '{entry.code}' has two entries"
            found.append(Problem(entry.at("code"), "repeated-code", what, "Keep one entry, with the versions of both."))
        seen.add(entry.code)
    return found

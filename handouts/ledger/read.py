"""``ledger.yaml`` as a ``Ledger``: bytes in, entries and problems out; nothing is judged."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace

from handouts.ledger.entries import (
    KINDS,
    Approval,
    ClinicVersion,
    Ledger,
    LedgerEntry,
    Version,
    Withdrawal,
)
from handouts.ledger.parts import PART_NAMES
from handouts.ledger.stamp import ALPHABET, STAMP_CHARACTERS
from handouts.library.dose_shapes import DOSE
from handouts.library.scalars import CODE_PATTERN
from handouts.library.shapes import (
    SLUG_PATTERN,
    Choice,
    Day,
    ListOf,
    Problems,
    RecordOf,
    Schema,
    Text,
    Whole,
    field_of,
    optional,
)
from handouts.library.texts import ROLE_MEND, looks_like_a_name
from handouts.problems import Place, Problem
from handouts.source.nodes import Mapping, Node, Scalar, compose, read_text

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


@dataclass(frozen=True, slots=True)
class Role:
    """A role of up to 80 letters, never a person's name."""

    def read(self, node: Node, problems: Problems) -> str | None:
        role = Text(MOST_ROLE, wanted="a role").read(node, problems)
        if role is not None and looks_like_a_name(role):
            problems.append(Problem(node.place, "person-named", f"'{role}' reads like the name of a person", ROLE_MEND))
            return None
        return role

    def schema(self) -> Schema:
        return {"type": "string", "minLength": 1, "maxLength": MOST_ROLE}


MOST_ROLE = 80
"""Letters of a role."""


@dataclass(frozen=True, slots=True)
class ByLanguage:
    """A text for each language, by its tag."""

    text: Text

    def read(self, node: Node, problems: Problems) -> dict[str, str] | None:
        entries = node.entries if isinstance(node, Mapping) else ()
        before = len(problems)
        found = {each.key: self.text.read(each.value, problems) for each in entries}
        if len(problems) == before and (not found or not all(re.fullmatch(_TAG, tag) for tag in found)):
            what, mend = "this is not a text for each language", 'Write \'{es: "…", fr: "…"}\'.'
            problems.append(Problem(node.place, "wrong-value", what, mend))
        return {tag: text for tag, text in found.items() if text} if len(problems) == before else None

    def schema(self) -> Schema:
        return {"type": "object", "propertyNames": {"pattern": f"^{_TAG}$"}, "additionalProperties": self.text.schema()}


_TAG = "[a-z]{2,3}(?:-[A-Za-z0-9]{2,8}){0,2}"
_VERSION_PATTERN = f"[{ALPHABET}]{{{STAMP_CHARACTERS}}}"
_CODE = Text(64, f"{CODE_PATTERN}|{SLUG_PATTERN}", "a code of four characters, or the name of a bundle")
_STAMP = Text(STAMP_CHARACTERS, _VERSION_PATTERN, "a version stamp")
_APPROVAL = RecordOf(
    Approval,
    "an approval",
    {
        "by": field_of(Role(), "the role that let it go out", "by"),
        "on": field_of(Day(), "the day of the approval", "on"),
    },
)
_CLINIC = RecordOf(
    ClinicVersion,
    "an approved state of the clinic's words",
    {"version": field_of(_STAMP, "its stamp", "version"), "approved": field_of(_APPROVAL, "who approved it", "approved")},
)
_VERSION = RecordOf(
    Version,
    "a version",
    {
        "version": field_of(_STAMP, "the stamp on sheets", "version"),
        "on": field_of(Day(), "the day of publication", "on"),
        "changed": optional(ListOf(Choice(PART_NAMES), 0, 20), "parts that changed", "changed"),
        "dose": optional(DOSE, "the dose of this version", "dose"),
        "parts": field_of(PartsShape(), "a fingerprint of each part", "parts"),
        "approved": optional(_APPROVAL, "who let it go out, and when", "approved"),
    },
)
_WHY = Text(300, wanted="a reason that a patient may read")
_TITLE = Text(70, wanted="a title")
_WITHDRAWAL = RecordOf(
    Withdrawal,
    "a withdrawal",
    {
        "on": field_of(Day(), "the day of the withdrawal", "on"),
        "why": field_of(_WHY, "why, for patients", "why"),
        "translated": optional(ByLanguage(_WHY), "the reason in other languages", "translated"),
    },
)
_ENTRY = RecordOf(
    LedgerEntry,
    "an entry of the ledger",
    {
        "code": field_of(_CODE, "the printed code", "code"),
        "kind": field_of(Choice(KINDS), "what it is on", "kind"),
        "title": field_of(_TITLE, "the latest title", "title"),
        "titles": optional(ByLanguage(Text(140, wanted="a title")), "the latest title in other languages", "titles"),
        "slugs": field_of(
            ListOf(Text(64, SLUG_PATTERN, "a file name"), 1, 100), "names it was published under", "slugs"
        ),
        "versions": field_of(ListOf(_VERSION, 1, MOST_VERSIONS), "its versions", "versions"),
        "replaced by": optional(
            _CODE, "code of what took its place, or its name where that is a bundle", "replaced_by"
        ),
        "left": optional(Day(), "the day on which it was gone", "left"),
        "withdrawn": optional(_WITHDRAWAL, "since when and why it is no longer published", "withdrawn"),
    },
)
FORMAT = 2
"""The form that this program writes where it needs it: 2 has approvals."""
LEDGER = RecordOf(
    dict,
    "the ledger",
    {
        "format": optional(Whole(1, FORMAT), "the form of the file, where it is not 1", "format"),
        "clinic": optional(ListOf(_CLINIC, 1, MOST_VERSIONS), "approved states of the clinic's own words", "clinic"),
        "codes": field_of(ListOf(_ENTRY, 0, MOST_CODES), "every code published", "codes"),
    },
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
    form = root.get("format")
    if isinstance(form, Scalar) and re.fullmatch("[0-9]{1,4}", form.text) and int(form.text) > FORMAT:
        what = f"a newer handouts wrote this ledger (format {form.text}; this one reads up to {FORMAT})"
        return None, [Problem(form.place, "newer-ledger", what, "Upgrade handouts on this machine.")]
    found = LEDGER.read(root, problems)
    if found is None or problems:
        return None, problems
    entries = tuple(replace(entry, versions=_each_once(entry.versions)) for entry in found["codes"])
    problems += _repeated(entries)
    return (None if problems else Ledger(entries, Place(file), found.get("clinic") or ())), problems


def _each_once(versions: tuple[Version, ...]) -> tuple[Version, ...]:
    """Without lines that a merge doubled: the same version of the same day, one after the other."""
    kept: list[Version] = []
    for each in versions:
        if not kept or each != kept[-1]:
            kept.append(each)
    return tuple(kept)


def _repeated(entries: tuple[LedgerEntry, ...]) -> list[Problem]:
    seen: set[str] = set()
    found = []
    for entry in entries:
        if entry.code in seen:
            what = f"the code '{entry.code}' has two entries"
            found.append(Problem(entry.at("code"), "repeated-code", what, "Keep one entry, with the versions of both."))
        seen.add(entry.code)
    return found

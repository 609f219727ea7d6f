"""Who has read a translation through: by role, on which day, and exactly which texts.

``words/LANG.reviews.yaml`` holds one record for each owner that was read.  A version is a fingerprint of an owner's
source and translation as they were read, so a change of either reopens the review by itself.  Roles
only, never a name.
"""

from __future__ import annotations

import hashlib
import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from datetime import date

from handouts.library.shapes import Day, Problems, Text
from handouts.problems import Place, Problem
from handouts.source import nodes

VERSION_DIGITS = 12
"""Hexadecimal digits of a fingerprint: 48 bits, far more than the texts of any library need."""
_VERSION = re.compile(f"[0-9a-f]{{{VERSION_DIGITS}}}")
_KEYS = ("by", "on", "versions")


@dataclass(frozen=True, slots=True)
class TranslationReview:
    """One owner's texts in one language, read through by a qualified person."""

    by: str
    on: date
    version: str
    place: Place = field(compare=False, repr=False, default=Place(""))


Reviews = Mapping[str, TranslationReview]
"""The latest review of each owner, by owner, in one language."""


def fingerprint(texts: Iterable[tuple[str, str, str]]) -> str:
    """The version of an owner's texts in a language, from (context, source, translation) in any order."""
    digest = hashlib.sha256()
    for parts in sorted(set(texts)):
        for part in parts:
            digest.update(part.encode())
            digest.update(b"\x00")
    return digest.hexdigest()[:VERSION_DIGITS]


def read_reviews(data: bytes, file: str) -> tuple[Reviews, list[Problem]]:
    """The records of a file: ``reviews:`` a list of ``{by, on, versions: {OWNER: FINGERPRINT}}``."""
    text, problems = nodes.read_text(data, file)
    if problems:
        return {}, problems
    root, problems = nodes.compose(text, file)
    if root is None:
        return {}, problems
    found: dict[str, TranslationReview] = {}
    for entry in root.entries:
        if entry.key == "reviews" and isinstance(entry.value, nodes.Sequence):
            for item in entry.value.items:
                _read_record(item, found, problems)
        else:
            what = f"a list 'reviews' is wanted here, not '{entry.key}'"
            problems.append(Problem(entry.place, "wrong-value", what, "Write 'reviews:' and a list under it."))
    return found, problems


def _read_record(node: nodes.Node, found: dict[str, TranslationReview], problems: Problems) -> None:
    values = {entry.key: entry.value for entry in node.entries} if isinstance(node, nodes.Mapping) else {}
    versions = values.get("versions")
    if set(values) != set(_KEYS) or not isinstance(versions, nodes.Mapping):
        what = "a review is written with the keys by, on and versions"
        problems.append(Problem(node.place, "wrong-value", what, "Write {by: role, on: 2026-09-14, versions: {…}}."))
        return
    by = Text(80, wanted="the reviewer's role").read(values["by"], problems)
    on = Day().read(values["on"], problems)
    for entry in versions.entries:
        if not isinstance(entry.value, nodes.Scalar) or not _VERSION.fullmatch(entry.value.text):
            what = f"'{entry.key}' has no fingerprint of {VERSION_DIGITS} digits"
            problems.append(Problem(entry.place, "wrong-value", what, "Delete the line, and record the review again."))
        elif by is not None and on is not None:
            newer = found.get(entry.key)
            if newer is None or newer.on <= on:
                found[entry.key] = TranslationReview(by, on, entry.value.text, entry.place)


def add_review(reviews: Reviews, versions: Mapping[str, str], by: str, on: date) -> dict[str, TranslationReview]:
    """The records with a new one for each owner in ``versions`` (owner to fingerprint); it replaces an older one."""
    return {**reviews, **{owner: TranslationReview(by, on, version) for owner, version in versions.items()}}


def write_reviews(reviews: Reviews) -> bytes:
    """The file of the records, sorted by owner, one a line, so that two people's records merge."""
    lines = [
        f'  - {{by: "{_escape(item.by)}", on: {item.on.isoformat()}, versions: {{{owner}: "{item.version}"}}}}'
        for owner, item in sorted(reviews.items())
    ]
    lines = ["reviews:", *lines] if lines else ["reviews: []"]
    return ("\n".join(lines) + "\n").encode()


def _escape(text: str) -> str:
    return text.replace("\\", "\\\\").replace('"', '\\"')

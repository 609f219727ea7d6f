"""Tasks for the tests of the store."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from markupsafe import Markup

from handouts.problems import Place, Problem
from handouts.tasks.calling import File

CALLS: list[str] = []
"""What was called, in its order."""


@dataclass(frozen=True, slots=True)
class Text:
    """A text of an author."""

    text: str
    place: Place


def shout(text: Text) -> str:
    """A result without places."""
    CALLS.append(text.text)
    return text.text.upper()


def find_fault(text: Text) -> tuple[Problem, ...]:
    """A result that names a place where the text is bad."""
    CALLS.append(text.text)
    return (Problem(text.place, "bad", "it is bad", "Mend it."),) if "bad" in text.text else ()


def repeat(data: bytes, count: int) -> bytes:
    """A large result."""
    CALLS.append(f"{len(data)} {count}")
    return data * count


def bold(text: str) -> Markup:
    """Markup stays markup."""
    CALLS.append(text)
    return Markup("<b>{}</b>").format(text)


@dataclass(frozen=True, slots=True)
class Printed:
    """A result with a file in it."""

    pdf: File
    pages: int


def print_text(text: str) -> Printed:
    """A file, and something small beside it."""
    CALLS.append(text)
    return Printed(File(text.encode()), 1)


@dataclass(frozen=True, slots=True)
class Sheet:
    """What a page is made from."""

    name: str
    text: str
    more: Mapping[str, int]


def print_page(sheet: Sheet) -> File:
    """A file alone."""
    return File(repr(sheet).encode())


@dataclass(frozen=True, slots=True)
class Angle:
    """A result with a number that is whole in some texts."""

    degrees: float


def read_angle(text: str) -> tuple[Angle, ...]:
    """Whole where it was written so."""
    return (Angle(int(text) if text.isdigit() else float(text)),)

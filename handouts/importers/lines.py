"""A document as a row of lines, each a heading, an item of a list or a paragraph: what every format is read into.

Holds the limits that hold for all of them.  Reads no files.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from enum import Enum

MOST_BYTES = 8 * 1024 * 1024
"""Largest document, and largest part of one when unpacked, in bytes; a leaflet's text is some 10 KiB."""
MOST_LINES = 5000
MOST_CHARACTERS = 400_000
MOST_LINE_CHARACTERS = 4000
"""Longest line; a longer one is cut, since no field of an exercise is as long."""


class LineKind(Enum):
    """What a line is."""

    HEADING = "heading"
    ITEM = "item"
    PARAGRAPH = "paragraph"
    PICTURE = "picture"
    """Its text is what the file says for people who cannot see it."""


@dataclass(frozen=True, slots=True)
class SourceLine:
    """One line without its mark."""

    kind: LineKind
    text: str
    level: int = 0
    """Of a heading, 1 for the highest."""
    bold: bool = False
    """Whether all of it is bold."""
    size: float = 0.0
    """Of its letters, in points or any other unit of its file; 0 where the file does not say."""
    number: int = 0
    """Of an item that its file numbers; 0 for any other."""
    member: str = ""
    """Of a picture, where it stands in its archive."""


class DocumentError(Exception):
    """Why a document cannot be read, as the end of "…, because "."""


def tidy(lines: Iterable[SourceLine]) -> tuple[SourceLine, ...]:
    """The lines that hold something, with single spaces; refuses more than a document of exercises can have."""
    found = tuple(_tidy(lines))
    if sum(len(line.text) for line in found) > MOST_CHARACTERS:
        raise DocumentError(f"it has more than {MOST_CHARACTERS:,} characters")
    return found


def _tidy(lines: Iterable[SourceLine]) -> Iterator[SourceLine]:
    count = 0
    for line in lines:
        text = " ".join("".join(sign if sign.isprintable() else " " for sign in line.text).split())
        if text or line.kind is LineKind.PICTURE:
            count += 1
            if count > MOST_LINES:
                raise DocumentError(f"it has more than {MOST_LINES:,} lines")
            yield replace(line, text=text[:MOST_LINE_CHARACTERS])

"""Members of a packed document, unpacked no further than a document needs, and read without a tree.

A file is taken as hostile: nothing is unpacked to disk; a document type, and with it every entity, is refused.
"""

from __future__ import annotations

import io
import zipfile
import zlib
from typing import Protocol
from xml.parsers import expat

from handouts.importers.lines import MOST_BYTES, DocumentError

MOST_MEMBERS = 5000
MOST_DEPTH = 200
"""Deepest nesting; a table in a text box in a list needs about 30."""


class Reader(Protocol):
    """What is told of each element; names stand behind their namespace and a space."""

    def start(self, name: str, attributes: dict[str, str]) -> None:
        """An element opens."""

    def end(self, name: str) -> None:
        """It closes."""

    def characters(self, text: str) -> None:
        """Text between elements."""


def parse_member(data: bytes, member: str, reader: Reader) -> None:
    """Tell a reader what a member holds; raises ``DocumentError``."""
    parser = expat.ParserCreate(namespace_separator=" ")
    depth = 0

    def start(name: str, attributes: dict[str, str]) -> None:
        nonlocal depth
        depth += 1
        if depth > MOST_DEPTH:
            raise DocumentError(f"its elements stand more than {MOST_DEPTH} deep in one another")
        reader.start(name, attributes)

    def end(name: str) -> None:
        nonlocal depth
        depth -= 1
        reader.end(name)

    parser.StartDoctypeDeclHandler = _refuse_doctype
    parser.StartElementHandler = start
    parser.EndElementHandler = end
    parser.CharacterDataHandler = reader.characters
    try:
        parser.Parse(read_member(data, member), True)
    except expat.ExpatError:
        raise DocumentError("its text is not well-formed XML") from None


def _refuse_doctype(*_: object) -> None:
    raise DocumentError("it declares a document type, as no word processor does")


def names_of(data: bytes) -> tuple[str, ...]:
    """The members of an archive; raises ``DocumentError``."""
    try:
        with zipfile.ZipFile(io.BytesIO(data)) as archive:
            return tuple(each.filename for each in archive.infolist()[: MOST_MEMBERS + 1])
    except (zipfile.BadZipFile, zlib.error, EOFError, OSError, ValueError, OverflowError):
        raise DocumentError("it is damaged, or not what its name says") from None


def has_member(data: bytes, name: str) -> bool:
    """Whether an archive has a member."""
    return name in names_of(data)


def read_member(data: bytes, name: str) -> bytes:
    """One member, unpacked no further than its limit, whatever size it claims to have."""
    try:
        with zipfile.ZipFile(io.BytesIO(data)) as archive:
            if len(archive.infolist()) > MOST_MEMBERS:
                raise DocumentError(f"it packs more than {MOST_MEMBERS:,} files")
            if archive.getinfo(name).compress_type not in (zipfile.ZIP_STORED, zipfile.ZIP_DEFLATED):
                raise DocumentError("it is packed as no word processor does")
            with archive.open(name) as stream:
                found = stream.read(MOST_BYTES + 1)
    except KeyError:
        raise DocumentError(f"it holds no '{name}'") from None
    except RuntimeError:
        raise DocumentError("it is locked with a password, or packed in an unusual way") from None
    except (zipfile.BadZipFile, zlib.error, EOFError, OSError, ValueError, OverflowError):
        raise DocumentError("it is damaged, or not what its name says") from None
    if len(found) > MOST_BYTES:
        raise DocumentError(f"its text is larger than {MOST_BYTES // 1024 // 1024} MiB")
    return found

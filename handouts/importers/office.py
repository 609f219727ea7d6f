"""Text documents of word processors as lines: WordprocessingML (.docx, ECMA-376) and OpenDocument text (.odt).

A file is taken as hostile: one member of the archive is read and nothing is unpacked to disk, only so much of it as a
document needs; a document type, and with it every entity, is refused; nothing is kept as a tree.
"""

from __future__ import annotations

import io
import re
import zipfile
import zlib
from collections.abc import Callable
from dataclasses import dataclass, field
from xml.parsers import expat

from handouts.importers.lines import MOST_BYTES, DocumentError, LineKind, SourceLine

WORD, ODT = "word/document.xml", "content.xml"
"""Where the text stands in each kind of archive."""
MOST_MEMBERS = 5000
MOST_DEPTH = 200
"""Deepest nesting; a table in a text box in a list needs about 30."""
_W = "http://schemas.openxmlformats.org/wordprocessingml/2006/main "
_FALLBACK = "http://schemas.openxmlformats.org/markup-compatibility/2006 Fallback"
_TEXT = "urn:oasis:names:tc:opendocument:xmlns:text:1.0 "
_TABLE = "urn:oasis:names:tc:opendocument:xmlns:table:1.0 "
_ANNOTATION = "urn:oasis:names:tc:opendocument:xmlns:office:1.0 annotation"


def read_word(data: bytes) -> list[SourceLine]:
    """The lines of a .docx."""
    return _read(data, WORD, _Word())


def read_odt(data: bytes) -> list[SourceLine]:
    """The lines of an .odt."""
    return _read(data, ODT, _Odt())


def _read(data: bytes, member: str, writer: _Writer) -> list[SourceLine]:
    parser = expat.ParserCreate(namespace_separator=" ")
    parser.StartDoctypeDeclHandler = _refuse_doctype
    parser.StartElementHandler = writer.start
    parser.EndElementHandler = writer.end
    parser.CharacterDataHandler = writer.characters
    try:
        parser.Parse(_member(data, member), True)
    except expat.ExpatError:
        raise DocumentError("its text is not well-formed XML") from None
    return writer.lines


def _refuse_doctype(*_: object) -> None:
    raise DocumentError("it declares a document type, as no word processor does")


def _member(data: bytes, name: str) -> bytes:
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


@dataclass
class _Writer:
    """Gathers lines while elements open and close."""

    lines: list[SourceLine] = field(default_factory=list)
    text: list[str] = field(default_factory=list)
    """The paragraph that is open."""
    cells: list[list[str]] = field(default_factory=list)
    """The row that is open: the paragraphs of each cell."""
    rows: int = 0
    """How many rows are open, one in another."""
    depth: int = 0
    skipped: int = 0
    """Depth below which everything is left out, 0 where nothing is."""

    def start(self, name: str, attributes: dict[str, str]) -> None:
        """An element opens."""
        self.depth += 1
        if self.depth > MOST_DEPTH:
            raise DocumentError(f"its elements stand more than {MOST_DEPTH} deep in one another")
        if self.skipped:
            return
        if self.is_skipped(name):
            self.skipped = self.depth
            return
        self.opened(name, attributes)

    def end(self, name: str) -> None:
        """An element closes."""
        if not self.skipped:
            self.closed(name)
        elif self.skipped == self.depth:
            self.skipped = 0
        self.depth -= 1

    def characters(self, text: str) -> None:
        """Text between elements."""
        if not self.skipped and self.takes_text():
            self.text.append(text)

    def take(self, line: Callable[[str], SourceLine]) -> None:
        """The open paragraph becomes a line, in a table a part of its cell."""
        text, self.text = "".join(self.text), []
        if self.rows and self.cells:
            self.cells[-1].append(text)
        else:
            self.lines += [line(part) for part in text.split("\n")]

    def take_row(self) -> None:
        """A row of two cells is a name and its value; any other gives its cells one by one."""
        self.rows -= 1
        if self.rows:
            return
        cells = [" ".join(" ".join(cell).split()) for cell in self.cells]
        self.cells = []
        cells = [cell for cell in cells if cell]
        if len(cells) == 2 and not cells[0].endswith((":", ".")):
            cells = [": ".join(cells)]
        self.lines += [SourceLine(LineKind.PARAGRAPH, cell) for cell in cells]

    def is_skipped(self, name: str) -> bool:
        """Whether an element and all in it is left out."""
        raise NotImplementedError

    def takes_text(self) -> bool:
        """Whether text that stands here is a reader's."""
        raise NotImplementedError

    def opened(self, name: str, attributes: dict[str, str]) -> None:
        """An element that is not left out opens."""
        raise NotImplementedError

    def closed(self, name: str) -> None:
        """It closes."""
        raise NotImplementedError


@dataclass
class _Word(_Writer):
    level: int = 0
    is_item: bool = False
    runs: int = 0

    def is_skipped(self, name: str) -> bool:
        return name in (_FALLBACK, f"{_W}del", f"{_W}instrText")

    def takes_text(self) -> bool:
        return self.runs > 0

    def opened(self, name: str, attributes: dict[str, str]) -> None:
        value = attributes.get(f"{_W}val", "")
        match name.removeprefix(_W):
            case "p":
                self.level, self.is_item = 0, False
            case "pStyle":
                self._take_style(value)
            case "outlineLvl" if value.isdigit() and int(value) < 9:
                self.level = int(value) + 1
            case "numPr":
                self.is_item = True
            case "t":
                self.runs += 1
            case "tab":
                self.text.append(" ")
            case "br" | "cr":
                self.text.append("\n")
            case "tr":
                self.rows += 1
            case "tc" if self.rows == 1:
                self.cells.append([])

    def _take_style(self, name: str) -> None:
        style = re.fullmatch(r"(?:heading|title)\s*(\d?)", name, re.I)
        if style:
            self.level = int(style[1] or 1)
        elif re.match(r"list", name, re.I):
            self.is_item = True

    def closed(self, name: str) -> None:
        match name.removeprefix(_W):
            case "t":
                self.runs -= 1
            case "p":
                kind = LineKind.HEADING if self.level else LineKind.ITEM if self.is_item else LineKind.PARAGRAPH
                level = self.level
                self.take(lambda text: SourceLine(kind, text, level))
            case "tr":
                self.take_row()


@dataclass
class _Odt(_Writer):
    level: int = 0
    paragraphs: int = 0
    items: int = 0

    def is_skipped(self, name: str) -> bool:
        return name in (_ANNOTATION, f"{_TEXT}tracked-changes", f"{_TEXT}note-citation")

    def takes_text(self) -> bool:
        return self.paragraphs > 0

    def opened(self, name: str, attributes: dict[str, str]) -> None:
        if name == f"{_TEXT}h":
            level = attributes.get(f"{_TEXT}outline-level", "1")
            self.paragraphs += 1
            self.level = int(level) if level.isdecimal() and 0 < int(level[:2]) < 10 else 1
        elif name == f"{_TEXT}p":
            self.paragraphs += 1
            self.level = 0
        elif name == f"{_TEXT}list-item":
            self.items += 1
        elif name in (f"{_TEXT}s", f"{_TEXT}tab"):
            self.text.append(" ")
        elif name == f"{_TEXT}line-break":
            self.text.append("\n")
        elif name == f"{_TABLE}table-row":
            self.rows += 1
        elif name == f"{_TABLE}table-cell" and self.rows == 1:
            self.cells.append([])

    def closed(self, name: str) -> None:
        if name in (f"{_TEXT}h", f"{_TEXT}p"):
            self.paragraphs -= 1
            kind = LineKind.HEADING if self.level else LineKind.ITEM if self.items else LineKind.PARAGRAPH
            level = self.level
            self.take(lambda text: SourceLine(kind, text, level))
        elif name == f"{_TEXT}list-item":
            self.items -= 1
        elif name == f"{_TABLE}table-row":
            self.take_row()

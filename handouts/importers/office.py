"""Text documents of word processors as lines: WordprocessingML (.docx, ECMA-376) and OpenDocument text (.odt).

A file is taken as hostile (``archive``); nothing is kept as a tree.  What its text looks like, bold or large, is kept
with each line: a heading may be known by that alone.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, field, replace

from handouts.importers.archive import has_member, parse_member
from handouts.importers.lines import LineKind, SourceLine
from handouts.importers.office_styles import PLAIN, Links, TextStyle, TextStyles, W, is_on, resolve

WORD, ODT = "word/document.xml", "content.xml"
"""Where the text stands in each kind of archive."""
STYLES, LINKS = "word/styles.xml", "word/_rels/document.xml.rels"
_FALLBACK = "http://schemas.openxmlformats.org/markup-compatibility/2006 Fallback"
_TEXT = "urn:oasis:names:tc:opendocument:xmlns:text:1.0 "
_TABLE = "urn:oasis:names:tc:opendocument:xmlns:table:1.0 "
_STYLE = "urn:oasis:names:tc:opendocument:xmlns:style:1.0 "
_FO = "urn:oasis:names:tc:opendocument:xmlns:xsl-fo-compatible:1.0 "
_DRAW = "urn:oasis:names:tc:opendocument:xmlns:drawing:1.0 "
_SVG = "urn:oasis:names:tc:opendocument:xmlns:svg-compatible:1.0 "
_HREF = "http://www.w3.org/1999/xlink href"
_EMBED = "http://schemas.openxmlformats.org/officeDocument/2006/relationships embed"
_PROPERTIES = "http://schemas.openxmlformats.org/drawingml/2006/wordprocessingDrawing docPr"
_BLIP = "http://schemas.openxmlformats.org/drawingml/2006/main blip"
_ANNOTATION = "urn:oasis:names:tc:opendocument:xmlns:office:1.0 annotation"


def read_word(data: bytes) -> list[SourceLine]:
    """The lines of a .docx."""
    looks = TextStyles()
    if has_member(data, STYLES):
        parse_member(data, STYLES, looks)
    links = Links()
    if has_member(data, LINKS):
        parse_member(data, LINKS, links)
    return _read(data, WORD, _Word(looks=looks.found, links=links.found))


def read_odt(data: bytes) -> list[SourceLine]:
    """The lines of an .odt."""
    return _read(data, ODT, _Odt())


def _read(data: bytes, member: str, writer: _Writer) -> list[SourceLine]:
    parse_member(data, member, writer)
    return writer.lines


@dataclass
class _Writer:
    """Gathers lines while elements open and close."""

    lines: list[SourceLine] = field(default_factory=list)
    text: list[str] = field(default_factory=list)
    """The paragraph that is open."""
    plain: int = 0
    """How many letters of it are not bold."""
    sizes: dict[float, int] = field(default_factory=dict)
    """How many of its letters have each size."""
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
            bold, size = self.look()
            count = len(text.strip())
            self.plain += 0 if bold else count
            self.sizes[size] = self.sizes.get(size, 0) + count

    def take(self, kind: LineKind, level: int) -> None:
        """The open paragraph becomes a line, in a table a part of its cell."""
        text, self.text = "".join(self.text), []
        bold, size = bool(text.strip()) and not self.plain, max(self.sizes, key=self.sizes.__getitem__, default=0.0)
        self.plain, self.sizes = 0, {}
        if self.rows and self.cells:
            self.cells[-1].append(text)
        else:
            self.lines += [SourceLine(kind, part, level, bold, size) for part in text.split("\n")]

    def take_picture(self, member: str, words: str) -> None:
        """A picture becomes a line of its own, before the paragraph that it stands in."""
        self.lines.append(SourceLine(LineKind.PICTURE, words, member=member))

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

    def look(self) -> tuple[bool, float]:
        """Whether text that stands here is bold, and its size."""
        raise NotImplementedError

    def opened(self, name: str, attributes: dict[str, str]) -> None:
        """An element that is not left out opens."""
        raise NotImplementedError

    def closed(self, name: str) -> None:
        """It closes."""
        raise NotImplementedError


@dataclass
class _Word(_Writer):
    looks: Mapping[str, TextStyle] = field(default_factory=dict)
    links: Mapping[str, str] = field(default_factory=dict)
    described: str = ""
    """What the picture that is open says for people who cannot see it."""
    level: int = 0
    is_item: bool = False
    runs: int = 0
    style: TextStyle = PLAIN
    """Of the paragraph."""
    run: TextStyle = PLAIN
    """Of the run, where it says more."""
    in_run: bool = False

    def is_skipped(self, name: str) -> bool:
        return name in (_FALLBACK, f"{W}del", f"{W}instrText")

    def takes_text(self) -> bool:
        return self.runs > 0

    def opened(self, name: str, attributes: dict[str, str]) -> None:
        value = attributes.get(f"{W}val", "")
        if name == _PROPERTIES:
            self.described = attributes.get("descr", "")
        elif name == _BLIP and attributes.get(_EMBED) in self.links:
            self.take_picture(self.links[attributes[_EMBED]], self.described)
        match name.removeprefix(W):
            case "p":
                self.level, self.is_item, self.style = 0, False, resolve(self.looks, "")
            case "r":
                self.run, self.in_run = PLAIN, True
            case "b" if self.in_run:
                self.run = replace(self.run, bold=is_on(value))
            case "sz" if self.in_run and value.isdecimal():
                self.run = replace(self.run, size=int(value) / 2)
            case "rStyle":
                self.run = self.looks.get(value, PLAIN)
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

    def look(self) -> tuple[bool, float]:
        bold = self.style.bold if self.run.bold is None else self.run.bold
        return bool(bold), (self.style.size if self.run.size is None else self.run.size) or 0.0

    def _take_style(self, name: str) -> None:
        self.style = resolve(self.looks, name)
        self.level = self.style.level or 0
        style = re.fullmatch(r"(?:heading|title)\s*(\d?)", name, re.I)
        if style:
            self.level = int(style[1] or 1)
        elif re.match(r"list", name, re.I):
            self.is_item = True

    def closed(self, name: str) -> None:
        match name.removeprefix(W):
            case "t":
                self.runs -= 1
            case "r":
                self.in_run = False
            case "p":
                self.take(LineKind.HEADING if self.level else LineKind.ITEM if self.is_item else LineKind.PARAGRAPH, self.level)
            case "tr":
                self.take_row()


@dataclass
class _Odt(_Writer):
    looks: dict[str, TextStyle] = field(default_factory=dict)
    """The automatic styles by name."""
    style: str = ""
    """The style whose properties are open."""
    described: bool = False
    """Whether what is said for people who cannot see a picture is open: it is no text of the page."""
    open: list[TextStyle] = field(default_factory=list)
    """What the open paragraph and the spans in it look like."""
    level: int = 0
    paragraphs: int = 0
    items: int = 0

    def is_skipped(self, name: str) -> bool:
        return name in (_ANNOTATION, f"{_TEXT}tracked-changes", f"{_TEXT}note-citation")

    def takes_text(self) -> bool:
        return self.paragraphs > 0 and not self.described

    def look(self) -> tuple[bool, float]:
        bold = next((each.bold for each in reversed(self.open) if each.bold is not None), False)
        return bold, next((each.size for each in reversed(self.open) if each.size is not None), 0.0)

    def opened(self, name: str, attributes: dict[str, str]) -> None:
        if name in (f"{_TEXT}h", f"{_TEXT}p", f"{_TEXT}span"):
            self.open.append(resolve(self.looks, attributes.get(f"{_TEXT}style-name", "")))
        if name == f"{_STYLE}style":
            self.style = attributes.get(f"{_STYLE}name", "")
            self.looks[self.style] = TextStyle(based_on=attributes.get(f"{_STYLE}parent-style-name", ""))
        elif name == f"{_STYLE}text-properties" and self.style:
            weight, size = attributes.get(f"{_FO}font-weight"), re.fullmatch(r"(\d{1,3}(?:\.\d+)?)pt", attributes.get(f"{_FO}font-size", ""))
            bold = None if weight is None else weight == "bold" or (weight.isdecimal() and int(weight[:4]) >= 600)
            self.looks[self.style] = replace(self.looks[self.style], bold=bold, size=float(size[1]) if size else None)
        elif name == f"{_TEXT}h":
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
        elif name == f"{_DRAW}image" and attributes.get(_HREF, "").startswith("Pictures/"):
            self.take_picture(attributes[_HREF], "")
        elif name in (f"{_SVG}desc", f"{_SVG}title"):
            self.described = True
        elif name == f"{_TABLE}table-row":
            self.rows += 1
        elif name == f"{_TABLE}table-cell" and self.rows == 1:
            self.cells.append([])

    def closed(self, name: str) -> None:
        if name in (f"{_TEXT}h", f"{_TEXT}p", f"{_TEXT}span"):
            self.open.pop()
        if name in (f"{_SVG}desc", f"{_SVG}title"):
            self.described = False
        if name == f"{_STYLE}style":
            self.style = ""
        elif name in (f"{_TEXT}h", f"{_TEXT}p"):
            self.paragraphs -= 1
            self.take(LineKind.HEADING if self.level else LineKind.ITEM if self.items else LineKind.PARAGRAPH, self.level)
        elif name == f"{_TEXT}list-item":
            self.items -= 1
        elif name == f"{_TABLE}table-row":
            self.take_row()

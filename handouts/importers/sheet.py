"""A spreadsheet as rows of texts: CSV of any common encoding, and the first sheet of a workbook (.xlsx, ECMA-376).

Takes bytes, gives rows with their number; says where letters had to be guessed.  A workbook is taken as hostile, as a
document is (``archive``).  A number stands as a person sees it without its format, a day as 2026-09-14.
"""

from __future__ import annotations

import csv
import io
import re
import unicodedata
from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import date, timedelta
from itertools import islice

from handouts.importers.archive import has_member, parse_member
from handouts.importers.lines import DocumentError
from handouts.problems import Grade, Place, Problem
from handouts.source.nodes import find_forbidden

MOST_ROWS = 2000
MOST_COLUMNS = 200
DAY_FORMATS = frozenset((*range(14, 18), 22, *range(27, 37), *range(50, 59)))
"""Numbers of built-in formats that show a day (ECMA-376 part 1, 18.8.30, 14 to 17 and 22; 27 to 36 and 50 to 58 in East Asia)."""
FIRST_DAYS = (date(1899, 12, 30), date(1904, 1, 1))
"""Day 0 of a workbook, and of one that counts from 1904 (ECMA-376 part 1, 18.17.4.1)."""
_S = "http://schemas.openxmlformats.org/spreadsheetml/2006/main "
_R = "http://schemas.openxmlformats.org/officeDocument/2006/relationships id"
_LITERAL = re.compile(r'"[^"]*"|\\.|\[[^\]]*\]')


@dataclass(frozen=True, slots=True)
class Sheet:
    """The rows of a table; row 1 is the first of the file."""

    rows: tuple[tuple[str, ...], ...]
    problems: tuple[Problem, ...] = ()


def read_sheet(data: bytes, file: str, kind: str) -> Sheet:
    """A table of a kind, ``.xlsx`` or CSV; raises ``DocumentError`` for what is no workbook."""
    return _read_workbook(data) if kind == ".xlsx" else read_csv(data, file)


def read_csv(data: bytes, file: str) -> Sheet:
    """Rows of a CSV file in UTF-8, UTF-16 or, with a notice, Windows-1252."""
    text, problems = _decode(data, file)
    problems += find_forbidden(text, file)
    if any(each.grade is Grade.ERROR for each in problems):
        return Sheet((), tuple(problems))
    text = unicodedata.normalize("NFC", text.replace("\r\n", "\n").replace("\r", "\n"))
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=max(",;\t", key=text.split("\n", 1)[0].count))
    try:
        rows = list(islice(reader, MOST_ROWS + 1))
    except csv.Error as error:
        what, mend = f"this is not a table: {error}", "Close the quotes of this row, and shorten its cells."
        return Sheet((), (Problem(Place(file, max(1, reader.line_num)), "table-syntax", what, mend),))
    return Sheet(tuple(map(tuple, rows)), tuple(problems))


def _decode(data: bytes, file: str) -> tuple[str, list[Problem]]:
    if data[:2] in (b"\xff\xfe", b"\xfe\xff"):
        return data.decode("utf-16", "replace"), []
    try:
        return data.decode("utf-8-sig"), []
    except UnicodeDecodeError as error:
        text = data.decode("cp1252", "replace")
        line = data.count(b"\n", 0, error.start) + 1
        sign = data[error.start : error.start + 1].decode("cp1252", "replace")
        what = f"this is not UTF-8, so it is read as Windows-1252, as spreadsheets save it; here it has '{sign}'"
        mend = "Look at the accents of the files that are written; save the sheet as UTF-8 if they are wrong."
        return text, [Problem(Place(file, line), "table-encoding", what, mend, Grade.NOTICE)]


def _read_workbook(data: bytes) -> Sheet:
    """The first sheet that is not hidden, its merged and empty cells left empty."""
    book, targets = _Book(), _Targets()
    parse_member(data, "xl/workbook.xml", book)
    parse_member(data, "xl/_rels/workbook.xml.rels", targets)
    path = targets.paths.get(book.first, "")
    if not path:
        raise DocumentError("it holds no sheet")
    texts, styles = _Texts(), _Formats()
    if has_member(data, "xl/sharedStrings.xml"):
        parse_member(data, "xl/sharedStrings.xml", texts)
    if has_member(data, "xl/styles.xml"):
        parse_member(data, "xl/styles.xml", styles)
    cells = _Cells(tuple(texts.found), styles.days(), FIRST_DAYS[book.from_1904])
    parse_member(data, path.lstrip("/") if path.startswith("/") else f"xl/{path}", cells)
    width = max((len(row) for row in cells.rows.values()), default=0)
    last = max(cells.rows, default=0)
    rows = (cells.rows.get(number, []) for number in range(1, last + 1))
    return Sheet(tuple((*row, *[""] * (width - len(row))) for row in rows))


@dataclass
class _Book:
    first: str = ""
    from_1904: bool = False

    def start(self, name: str, attributes: dict[str, str]) -> None:
        """An element opens."""
        if name == f"{_S}sheet" and not self.first and attributes.get("state", "visible") == "visible":
            self.first = attributes.get(_R, "")
        elif name == f"{_S}workbookPr":
            self.from_1904 = attributes.get("date1904") in ("1", "true")

    def end(self, name: str) -> None:
        """It closes."""

    def characters(self, text: str) -> None:
        """Text between elements."""


@dataclass
class _Targets(_Book):
    paths: dict[str, str] = field(default_factory=dict)

    def start(self, name: str, attributes: dict[str, str]) -> None:
        if name.endswith(" Relationship"):
            self.paths[attributes.get("Id", "")] = attributes.get("Target", "")


@dataclass
class _Texts(_Book):
    """The texts that cells name by number; what is said aloud (``rPh``) is no part of one."""

    found: list[str] = field(default_factory=list)
    inside: bool = False
    silent: bool = False

    def start(self, name: str, attributes: dict[str, str]) -> None:
        del attributes
        if name == f"{_S}si":
            self.found.append("")
        self.silent = self.silent or name == f"{_S}rPh"
        self.inside = name == f"{_S}t" and not self.silent and bool(self.found)

    def end(self, name: str) -> None:
        self.inside = False
        self.silent = self.silent and name != f"{_S}rPh"

    def characters(self, text: str) -> None:
        if self.inside:
            self.found[-1] += text


@dataclass
class _Formats(_Book):
    """Which styles of cells show a day."""

    own: dict[str, str] = field(default_factory=dict)
    styles: list[str] = field(default_factory=list)
    inside: bool = False

    def start(self, name: str, attributes: dict[str, str]) -> None:
        if name == f"{_S}numFmt":
            self.own[attributes.get("numFmtId", "")] = attributes.get("formatCode", "")
        elif name == f"{_S}cellXfs":
            self.inside = True
        elif name == f"{_S}xf" and self.inside:
            self.styles.append(attributes.get("numFmtId", "0"))

    def end(self, name: str) -> None:
        self.inside = self.inside and name != f"{_S}cellXfs"

    def days(self) -> frozenset[str]:
        """Numbers of styles."""
        own = {key for key, code in self.own.items() if re.search("[yd]", _LITERAL.sub("", code), re.I)}
        return frozenset(
            str(at) for at, key in enumerate(self.styles) if key in own or (key.isdecimal() and int(key) in DAY_FORMATS and key not in self.own)
        )


@dataclass
class _Cells(_Book):
    """The cells of one sheet by row."""

    texts: Sequence[str] = ()
    days: frozenset[str] = frozenset()
    first_day: date = FIRST_DAYS[0]
    rows: dict[int, list[str]] = field(default_factory=dict)
    row: int = 0
    at: int = 0
    kind: str = ""
    style: str = ""
    value: str | None = None

    def __init__(self, texts: Sequence[str], days: frozenset[str], first_day: date) -> None:
        super().__init__()
        self.texts, self.days, self.first_day = texts, days, first_day
        self.rows, self.row, self.at, self.kind, self.style, self.value = {}, 0, 0, "", "", None
        self._taking = self._silent = False

    def start(self, name: str, attributes: dict[str, str]) -> None:
        match name.removeprefix(_S):
            case "row":
                given = attributes.get("r", "")
                self.row, self.at = int(given) if given.isdecimal() else self.row + 1, 0
                if self.row > MOST_ROWS + 20:
                    raise DocumentError(f"its sheet has more than {MOST_ROWS} rows")
            case "c":
                letters = re.match("[A-Z]{1,3}", attributes.get("r", ""))
                self.at = _column(letters[0]) if letters else self.at + 1
                self.kind, self.style, self.value = attributes.get("t", "n"), attributes.get("s", "0"), ""
            case "rPh":
                self._silent = True
            case "v" | "t":
                self._taking = not self._silent

    def end(self, name: str) -> None:
        match name.removeprefix(_S):
            case "rPh":
                self._silent = False
            case "v" | "t":
                self._taking = False
            case "c":
                text = self._shown(self.value or "")
                if text and 0 < self.at <= MOST_COLUMNS:
                    row = self.rows.setdefault(self.row, [])
                    row += [""] * (self.at - len(row))
                    row[self.at - 1] = text

    def characters(self, text: str) -> None:
        if self._taking:
            self.value = (self.value or "") + text

    def _shown(self, value: str) -> str:
        if self.kind == "s":
            return self.texts[int(value)] if value.isdecimal() and int(value) < len(self.texts) else ""
        if self.kind == "b":
            return {"1": "yes", "0": "no"}.get(value, "")
        if self.kind == "e":
            return ""
        if self.kind == "n" and re.fullmatch(r"\d{1,6}(?:\.\d+)?", value) and self.style in self.days:
            return (self.first_day + timedelta(days=int(float(value)))).isoformat()
        if self.kind == "n" and re.fullmatch(r"-?\d+(?:\.\d+)?(?:[eE]-?\d+)?", value):
            return f"{round(float(value), 6):.15g}"
        return "".join(sign if sign.isprintable() or sign == "\n" else " " for sign in value)


def _column(letters: str) -> int:
    number = 0
    for letter in letters:
        number = number * 26 + ord(letter) - ord("A") + 1
    return number

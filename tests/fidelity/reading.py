"""Reads outputs back: HTML as headed lines, PDFs as words, scripts as values.  Knows nothing of how they were made."""

from __future__ import annotations

import json
import re
import subprocess
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from html.parser import HTMLParser
from tempfile import NamedTemporaryFile
from typing import Any

from tests.kept import kept

MARK = re.compile(r"\b(?:[bdfgklmnprstvz][aeiou]){4}(?:xa)?\b", re.IGNORECASE)
"""An invented word of ``random_library``; in the second language it ends with ``xa``."""
_BLOCKS = frozenset(
    ["address", "article", "aside", "blockquote", "body", "dd", "details", "div", "dl", "dt", "figcaption", "figure", "footer", "form", "h1", "h2", "h3", "h4", "h5", "h6", "header", "li", "main", "nav", "ol", "p", "section", "summary", "table", "tbody", "td", "th", "thead", "tr", "ul", "br", "button"]
)
_SILENT = frozenset(("script", "style", "svg", "template", "head"))
_VOID = frozenset(["area", "base", "br", "col", "embed", "hr", "img", "input", "link", "meta", "source", "track", "wbr"])


@dataclass(frozen=True, slots=True)
class Line:
    """A line of text with the headings that it stands under, the outermost first."""

    headings: tuple[str, ...]
    text: str


class _Lines(HTMLParser):
    def __init__(self) -> None:
        super().__init__()
        self.lines: list[Line] = []
        self.headings: list[tuple[int, str]] = []
        self.text = ""
        self.silent = 0
        self.level = 0

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        hidden = tag in _SILENT
        self.silent += hidden and tag not in _VOID
        if tag in _BLOCKS:
            self.end_line()
        if re.fullmatch("h[1-6]", tag):
            self.level = int(tag[1])

    def handle_endtag(self, tag: str) -> None:
        self.silent -= tag in _SILENT
        if tag in _BLOCKS:
            self.end_line()
        if re.fullmatch("h[1-6]", tag):
            self.level = 0

    def handle_data(self, data: str) -> None:
        if not self.silent:
            self.text += data

    def end_line(self) -> None:
        text = plain(self.text)
        self.text = ""
        if not text:
            return
        if self.level:
            self.headings = [*(each for each in self.headings if each[0] < self.level), (self.level, text)]
        self.lines.append(Line(tuple(text for _, text in self.headings), text))


def plain(text: str) -> str:
    """Text with single spaces and without marks of direction or soft hyphens."""
    return re.sub(r"\s+", " ", re.sub("[\u00ad\u200b\u200e\u200f\u2066-\u2069]", "", text)).strip()


def read_lines(html: str) -> list[Line]:
    """Every line of a page or a sheet, in order."""
    reader = _Lines()
    reader.feed(html)
    reader.close()
    reader.end_line()
    return reader.lines


def under(lines: Iterable[Line], *headings: str) -> list[Line]:
    """The lines below headings that hold these texts, one inside the other."""
    found = []
    for line in lines:
        wanted = list(headings)
        for heading in line.headings:
            if wanted and wanted[0] in heading:
                wanted.pop(0)
        found += [] if wanted else [line]
    return found


def marks(lines: Iterable[Line] | str) -> list[str]:
    """The invented words, in order, in small letters."""
    text = lines if isinstance(lines, str) else "\n".join(line.text for line in lines)
    return [word.lower() for word in MARK.findall(text)]


def in_order(wanted: Sequence[str], found: Sequence[str]) -> bool:
    """Whether all that is wanted stands in what was found, in this order."""
    rest = iter(found)
    return all(word in rest for word in wanted)


def pdf_text(pdf: bytes) -> str:
    """The text of a PDF in the order of its tags, by Poppler, which takes half a second for it: kept between runs."""
    return kept(_pdf_text, pdf, room="handouts.problems")


def _pdf_text(pdf: bytes) -> str:
    with NamedTemporaryFile(suffix=".pdf") as file:
        file.write(pdf)
        file.flush()
        told = subprocess.run(["pdfinfo", "-struct-text", file.name], capture_output=True, check=True).stdout.decode()
    return plain(" ".join(re.findall(r'^ *"(.*)"$', told, re.MULTILINE)))


def script_value(script: str) -> Any:
    """The value that a data script of the site assigns."""
    return json.loads(script[script.index("] = ") + 4 :].rstrip().rstrip(";"))


def page_data(html: str) -> Any:
    """The JSON that a page holds for its script."""
    found = re.search(r'<script type="application/json"[^>]*>(.*?)</script>', html, re.DOTALL)
    assert found
    return json.loads(found[1])

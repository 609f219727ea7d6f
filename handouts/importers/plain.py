"""Web pages, plain text and the text of PDFs as lines."""

from __future__ import annotations

import ctypes
import re
from collections.abc import Iterable, Iterator
from dataclasses import replace
from html.parser import HTMLParser

import pypdfium2
import pypdfium2.raw as pdfium_c

from handouts.importers.lines import MOST_CHARACTERS, DocumentError, LineKind, SourceLine

MOST_PDF_PAGES = 60
MOST_LISTS = 20
"""Deepest nesting of lists that is told apart."""
MOST_FONT_NAME = 128
BOLD = 600
"""Weight of a face from which on it is bold, of 100 to 900 (semi-bold of the CSS Fonts level 4 scale)."""
_SILENT = ("script", "style", "template", "noscript", "svg", "title", "nav", "head")
_BREAKS = ("p", "div", "br", "tr", "li", "ul", "ol", "section", "article", "table", "h1", "h2", "h3", "h4", "h5", "h6")
_NUMBERED = re.compile(r"\s*(?:(\d{1,2})[.)]|[-*•–▪●◦‣])\s+(?=\S)")
_HASHES = re.compile(r"(#{1,6})\s+(.*)")
_DECLARATION = re.compile(r"<[!?][^>]*>")
_ENDS = (".", ":", "!", "?", ";", "…")


def read_html(data: bytes) -> list[SourceLine]:
    """The lines of a web page: what a reader sees of it."""
    page = _Page()
    page.feed(_without_declarations(decode(data)))
    page.close()
    page.end_line()
    return page.lines


def _without_declarations(text: str) -> str:
    """HTML without comments and declarations, and without a tag that the file does not close, as a browser shows it.

    Python's parser looks for the end of each to the end of the file, again for every one, and stops at ``<![foo]>``.
    """
    parts, at = list[str](), 0
    while (start := text.find("<!--", at)) >= 0:
        parts.append(text[at:start])
        end = text.find("-->", start + len("<!--"))
        at = len(text) if end < 0 else end + len("-->")
    parts.append(text[at:])
    closed, mark, rest = "".join(parts).rpartition(">")
    return _DECLARATION.sub(" ", closed + mark) + rest.partition("<")[0]


def read_text(data: bytes) -> list[SourceLine]:
    """The lines of a text file; a line is a paragraph, ``# …`` a heading."""
    return list(_marked(SourceLine(LineKind.PARAGRAPH, line) for line in decode(data).splitlines()))


def read_pdf(data: bytes) -> list[SourceLine]:
    """The lines of a PDF's text; lines that the page has broken are put together again."""
    try:
        document = pypdfium2.PdfDocument(data)
    except pypdfium2.PdfiumError:
        raise DocumentError("it is damaged, locked with a password, or not a PDF") from None
    try:
        if len(document) > MOST_PDF_PAGES:
            raise DocumentError(f"it has more than {MOST_PDF_PAGES} pages")
        lines = [line for number in range(len(document)) for line in _page_lines(document, number)]
    finally:
        document.close()
    if not any(line.text.strip() for line in lines):
        raise DocumentError("it holds no text, only pictures of it")
    return list(_marked(_joined(lines)))


def _page_lines(document: pypdfium2.PdfDocument, number: int) -> Iterator[SourceLine]:
    """The lines of a page, with the height of their letters and whether the first and the last are bold."""
    try:
        page = document[number].get_textpage()
    except pypdfium2.PdfiumError:
        raise DocumentError(f"its page {number + 1} is damaged") from None
    count = page.count_chars()
    if count > MOST_CHARACTERS:
        raise DocumentError(f"it has more than {MOST_CHARACTERS:,} characters")
    signs = [chr(pdfium_c.FPDFText_GetUnicode(page.raw, at)) for at in range(count)]
    start = 0
    for at in [*(at for at, sign in enumerate(signs) if sign in "\r\n"), count]:
        seen = [index for index in range(start, at) if not signs[index].isspace()]
        if seen:
            ends = (seen[0], seen[-1])
            bold = all(_is_bold(page, index) for index in ends)
            size = max(round(_height(page, index), 1) for index in ends)
            # a hyphen that a line was broken at is a sign of its own in this library
            text = "".join("-" if sign == "\x02" else sign for sign in signs[start:at])
            yield SourceLine(LineKind.PARAGRAPH, text, bold=bold, size=size)
        start = at + 1


def _is_bold(page: pypdfium2.PdfTextPage, index: int) -> bool:
    if pdfium_c.FPDFText_GetFontWeight(page.raw, index) >= BOLD:
        return True
    name = ctypes.create_string_buffer(MOST_FONT_NAME)
    flags = ctypes.c_int()
    pdfium_c.FPDFText_GetFontInfo(page.raw, index, name, MOST_FONT_NAME, flags)
    return re.search(rb"bold|black|heavy", name.value, re.I) is not None


def _height(page: pypdfium2.PdfTextPage, index: int) -> float:
    """Of the line that a letter stands in, as it is shown on the page."""
    try:
        _, bottom, _, top = page.get_charbox(index, loose=True)
    except pypdfium2.PdfiumError:
        return 0.0
    return float(top - bottom)


def decode(data: bytes) -> str:
    """Text as UTF-8, with a mark of byte order as UTF-16, elsewhere as Windows-1252, which every old file is."""
    if data[:2] in (b"\xff\xfe", b"\xfe\xff"):
        return data.decode("utf-16", "replace")
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError:
        return data.decode("cp1252", "replace")


def _marked(lines: Iterable[SourceLine]) -> Iterator[SourceLine]:
    """Headings, items and paragraphs.  A number is taken away only where it numbers the next item of a list."""
    count, held = 0, SourceLine(LineKind.PARAGRAPH, "")
    for line in lines:
        hashes, mark = _HASHES.fullmatch(line.text.strip()), _NUMBERED.match(line.text)
        if hashes:
            found, count = replace(line, kind=LineKind.HEADING, text=hashes[2], level=len(hashes[1])), 0
        elif mark and mark[1] and int(mark[1]) not in (1, count + 1):
            if held.text.strip() and held.kind is not LineKind.HEADING and not held.text.rstrip().endswith(_ENDS):
                held = replace(held, text=f"{held.text.rstrip()} {line.text.strip()}")  # a sentence that was broken before its number
                continue
            found = line
        elif mark:
            count = int(mark[1] or 0)
            found = replace(line, kind=LineKind.ITEM, text=line.text[mark.end() :], number=count)
        else:
            found = line
        yield held
        held = found
    yield held


def _joined(lines: Iterable[SourceLine]) -> list[SourceLine]:
    """A line that goes on where the page broke it: it does not end a sentence, and the next begins with a small letter."""
    found: list[SourceLine] = []
    for line in lines:
        text = line.text.strip()
        before = found[-1] if found else SourceLine(LineKind.PARAGRAPH, "")
        if before.text and text and text[0].islower() and not before.text.endswith(_ENDS) and line.bold == before.bold:
            found[-1] = replace(before, text=f"{before.text} {text}")
        else:
            found.append(replace(line, text=text))
    return found


class _Page(HTMLParser):
    """Gathers lines of a web page; never keeps a tree."""

    def __init__(self) -> None:
        super().__init__(convert_charrefs=True)
        self.lines: list[SourceLine] = []
        self._text: list[str] = []
        self._silent = ""
        self._level = 0
        self._is_item = False
        self._cells = 0
        self._bold = 0
        self._plain = 0
        self._lists: list[int] = []
        """The lists that are open: how many items each has had, -1 where it does not number them."""

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        del attrs  # what a reader sees does not stand in them
        if self._silent == "head" and tag == "body":
            self._silent = ""  # the head need not be closed
        if self._silent:
            return
        if tag in _SILENT:
            self._silent = tag
        if tag in _BREAKS:
            self.end_line()
        if re.fullmatch("h[1-6]", tag):
            self._level = int(tag[1])
        elif tag in ("b", "strong"):
            self._bold += 1
        elif tag in ("ol", "ul"):
            self._lists = [*self._lists, 0 if tag == "ol" else -1][-MOST_LISTS:]
        elif tag == "li":
            self._is_item = True
            if self._lists and self._lists[-1] >= 0:
                self._lists[-1] += 1
        elif tag == "tr":
            self._cells = 0
        elif tag in ("td", "th"):
            self._text.append(": " if self._cells == 1 and "".join(self._text).strip() else " ")
            self._cells += 1

    def handle_endtag(self, tag: str) -> None:
        if self._silent:
            self._silent = "" if tag == self._silent else self._silent
            return
        if tag in _BREAKS:
            self.end_line()
        if tag == "li":
            self._is_item = False
        elif tag in ("b", "strong"):
            self._bold = max(0, self._bold - 1)
        elif tag in ("ol", "ul"):
            self._lists = self._lists[:-1]

    def handle_data(self, data: str) -> None:
        if not self._silent:
            self._text.append(data)
            self._plain += 0 if self._bold else len(data.strip())

    def end_line(self) -> None:
        """What was gathered becomes a line."""
        text, self._text = "".join(self._text), []
        if text.strip():
            kind = LineKind.HEADING if self._level else LineKind.ITEM if self._is_item else LineKind.PARAGRAPH
            number = max(0, self._lists[-1]) if self._lists and kind is LineKind.ITEM else 0
            self.lines.append(SourceLine(kind, text, self._level, not self._plain, number=number))
        self._level = self._plain = 0

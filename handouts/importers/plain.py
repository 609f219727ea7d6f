"""Web pages, plain text and the text of PDFs as lines."""

from __future__ import annotations

import re
from collections.abc import Iterator
from html.parser import HTMLParser

import pypdfium2

from handouts.importers.lines import MOST_CHARACTERS, DocumentError, LineKind, SourceLine

MOST_PDF_PAGES = 60
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
    return list(_text_lines(decode(data).splitlines()))


def read_pdf(data: bytes) -> list[SourceLine]:
    """The lines of a PDF's text; lines that the page has broken are put together again."""
    try:
        document = pypdfium2.PdfDocument(data)
    except pypdfium2.PdfiumError:
        raise DocumentError("it is damaged, locked with a password, or not a PDF") from None
    try:
        if len(document) > MOST_PDF_PAGES:
            raise DocumentError(f"it has more than {MOST_PDF_PAGES} pages")
        text = "\n".join(_page_text(document, number) for number in range(len(document)))
    finally:
        document.close()
    if not text.strip():
        raise DocumentError("it holds no text, only pictures of it")
    return list(_text_lines(_joined(text.splitlines())))


def _page_text(document: pypdfium2.PdfDocument, number: int) -> str:
    try:
        page = document[number].get_textpage()
    except pypdfium2.PdfiumError:
        raise DocumentError(f"its page {number + 1} is damaged") from None
    if page.count_chars() > MOST_CHARACTERS:
        raise DocumentError(f"it has more than {MOST_CHARACTERS:,} characters")
    return str(page.get_text_range())


def decode(data: bytes) -> str:
    """Text as UTF-8, with a mark of byte order as UTF-16, elsewhere as Windows-1252, which every old file is."""
    if data[:2] in (b"\xff\xfe", b"\xfe\xff"):
        return data.decode("utf-16", "replace")
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError:
        return data.decode("cp1252", "replace")


def _text_lines(lines: list[str]) -> Iterator[SourceLine]:
    """Headings, items and paragraphs.  A number is taken away only where it numbers the next item of a list."""
    count, held = 0, SourceLine(LineKind.PARAGRAPH, "")
    for line in lines:
        hashes, mark = _HASHES.fullmatch(line.strip()), _NUMBERED.match(line)
        if hashes:
            found, count = SourceLine(LineKind.HEADING, hashes[2], len(hashes[1])), 0
        elif mark and mark[1] and int(mark[1]) not in (1, count + 1):
            if held.text.strip() and held.kind is not LineKind.HEADING and not held.text.rstrip().endswith(_ENDS):
                held = SourceLine(held.kind, f"{held.text.rstrip()} {line.strip()}")  # a sentence that was broken before its number
                continue
            found = SourceLine(LineKind.PARAGRAPH, line)
        elif mark:
            found, count = SourceLine(LineKind.ITEM, line[mark.end() :]), int(mark[1] or 0)
        else:
            found = SourceLine(LineKind.PARAGRAPH, line)
        yield held
        held = found
    yield held


def _joined(lines: list[str]) -> list[str]:
    """A line that goes on where the page broke it: it does not end a sentence, and the next begins with a small letter."""
    found: list[str] = []
    for line in lines:
        text = line.strip()
        before = found[-1] if found else ""
        if before and text and text[0].islower() and not before.endswith(_ENDS):
            found[-1] = f"{before} {text}"
        else:
            found.append(text)
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
        elif tag == "li":
            self._is_item = True
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

    def handle_data(self, data: str) -> None:
        if not self._silent:
            self._text.append(data)

    def end_line(self) -> None:
        """What was gathered becomes a line."""
        text, self._text = "".join(self._text), []
        if text.strip():
            kind = LineKind.HEADING if self._level else LineKind.ITEM if self._is_item else LineKind.PARAGRAPH
            self.lines.append(SourceLine(kind, text, self._level))
        self._level = 0

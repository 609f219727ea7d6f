"""A document put together from pages that were drawn apart: numbers are filled in, nothing is parsed or laid out.

Structure, links, outline and fonts of all parts become those of one document.  Pages of a frame are artifacts and have
no structure.  The same parts give the same bytes.
"""

from __future__ import annotations

import re
import zlib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace

from handouts.paper.fonts import cut_font, merge_fonts
from handouts.paper.pdf.drawn import (
    FIRST_MARK,
    NAMED,
    PIXELS,
    SLOT,
    Bookmark,
    DrawnForm,
    DrawnPage,
    DrawnPages,
    DrawnPixels,
)
from handouts.paper.pdf.file import DEFLATED, PdfFile, deflate, write_number, write_text
from handouts.paper.pdf.outline import write_outline

MM_TO_PT = 72 / 25.4
"""Points in a millimetre."""
_HEADING = re.compile(rb"/S /H([1-6])")
_BOX = re.compile(rb"/(Rect|BBox) \[([-\d.]+) ([-\d.]+) ([-\d.]+) ([-\d.]+)\]")
_TARGET = re.compile(rb"/Dest \((.*?)\)")
_CONTENT = re.compile(rb"/MCID (\d+)")


@dataclass(frozen=True, slots=True)
class DocumentMetadata:
    """What a document says of itself: metadata as XMP, title, author, program and language (BCP 47)."""

    xmp: bytes
    title: str
    author: str
    producer: str
    language: str


@dataclass(frozen=True, slots=True)
class SlotFill:
    """What stands in a slot: its drawing and its alternative text."""

    form: DrawnForm
    words: str


@dataclass(frozen=True, slots=True)
class PlacedArticle:
    """An article in a document: its first page there, counted from 0, and where its page stands, in points from below left."""

    drawn: DrawnPages
    first: int
    x: float
    y: float
    down: int = 0
    """How many levels its headings stand below those of a document of its own."""
    fills: Mapping[str, SlotFill] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class FramePiece:
    """A drawn page of the frame, on a page of the document."""

    page: DrawnPage
    drawn: DrawnPages
    on: int
    x: float
    y: float


def assemble(about: DocumentMetadata, size: tuple[float, float], parts: Sequence[PlacedArticle], pieces: Sequence[FramePiece]) -> bytes:
    """The PDF; ``size`` is width and height of its pages in points.  ValueError where a link leads nowhere."""
    return _Assembly(size, parts, pieces).write(about)


class _Assembly:
    def __init__(self, size: tuple[float, float], parts: Sequence[PlacedArticle], pieces: Sequence[FramePiece]) -> None:
        self._size, self._parts, self._pieces = size, parts, pieces
        self._file = PdfFile()
        self._numbers = self._file.take(8)
        self._total = max((part.first + len(part.drawn.pages) for part in parts), default=0)
        self._first_page = self._file.take(self._total)
        self._tops: list[int] = []
        self._marked: list[list[int]] = [[] for _ in range(self._total)]
        self._notes: list[list[int]] = [[] for _ in range(self._total)]
        self._contents: list[list[int]] = [[] for _ in range(self._total)]
        self._forms: list[dict[str, int]] = [{} for _ in range(self._total)]
        self._form_numbers: dict[tuple[bytes, tuple[float, ...], DrawnPixels | None], int] = {}
        self._keys: list[int] = []
        self._targets: dict[str, tuple[int, float, float]] = {}
        self._linked: set[str] = set()
        self._bookmarks: list[tuple[Bookmark, int]] = []

    def write(self, about: DocumentMetadata) -> bytes:
        catalog, pages, info, tree, parents, top, resources, xmp = range(self._numbers, self._numbers + 8)
        put = self._file.put
        self._write_resources(resources)
        for part in self._parts:
            self._place_part(part, top)
        for piece in self._pieces:
            self._place_content(piece.on, piece.page, piece.drawn, piece.x, piece.y, {}, artifact=True)
        self._write_pages(pages, resources)
        lost = self._linked - self._targets.keys()
        if lost:
            raise ValueError(f"links lead nowhere: {', '.join(sorted(lost))}")
        kids = b" ".join(b"%d 0 R" % (self._first_page + number) for number in range(self._total))
        put(pages, b"<</Type/Pages/Count %d/Kids[%b]>>" % (self._total, kids))
        put(top, b"<</Type/StructElem/S/Document/P %d 0 R/K[%b]>>" % (tree, _references(self._tops)))
        next_key = self._total + len(self._keys)
        put(tree, b"<</Type/StructTreeRoot/ParentTree %d 0 R/ParentTreeNextKey %d/K[%d 0 R]>>" % (parents, next_key, top))
        rows = [b"%d[%b]" % (number, _references(row)) for number, row in enumerate(self._marked)]
        rows += [b"%d %d 0 R" % row for row in enumerate(self._keys, self._total)]
        put(parents, b"<</Nums[%b]>>" % b" ".join(rows))
        self._file.put_stream(xmp, deflate(about.xmp), b"/Type/Metadata/Subtype/XML")
        put(info, b"<</Producer%b/Title%b/Author%b>>" % tuple(map(write_text, (about.producer, about.title, about.author))))
        outline = write_outline(self._file, self._bookmarks)
        names = b" ".join(
            b"%b[%d 0 R/XYZ %b %b 0]" % (write_text(name), page, write_number(x), write_number(y))
            for name, (page, x, y) in sorted(self._targets.items())
            if name in self._linked
        )
        put(catalog, (
            b"<</Type/Catalog/Pages %d 0 R/Lang%b/MarkInfo<</Marked true>>/ViewerPreferences<</DisplayDocTitle true>>"
            b"/StructTreeRoot %d 0 R/Metadata %d 0 R%b%b>>"
        ) % (
            pages, write_text(about.language), tree, xmp,
            b"/Outlines %d 0 R" % outline if outline else b"",
            b"/Names<</Dests<</Names[%b]>>>>" % names if names else b"",
        ))
        return self._file.finish(catalog, info)

    def _write_resources(self, number: int) -> None:
        """Fonts and states of all pages; forms are each page's own, as slots differ."""
        drawn = [*(part.drawn for part in self._parts), *(piece.drawn for piece in self._pieces)]
        fonts, states = [], dict[str, bytes]()
        for use in merge_fonts(use for each in drawn for use in each.fonts):
            cut = cut_font(use)
            base = self._file.take(len(cut.parts))
            for own, data, stream in cut.numbered(base):
                (self._file.put_whole if stream else self._file.put)(own, data)
            fonts.append(b"/%b %d 0 R" % (use.name.encode(), base + cut.own))
        for each in drawn:
            states.update(each.states)
        self._fonts = b"<<%b>>" % b" ".join(fonts)
        self._states = _entries(states)
        self._file.put(number, self._fonts)

    def _place_part(self, part: PlacedArticle, top: int) -> None:
        drawn, pages = part.drawn, range(self._first_page + part.first, self._first_page + part.first + len(part.drawn.pages))
        base, key = self._file.take(drawn.count), self._total + len(self._keys)
        ids = (top, *pages, *range(base, base + drawn.count), *range(key, key + len(drawn.keys)))
        slots, before = iter(drawn.slots), len(self._marked[part.first])
        if before and len(pages) > 1:
            raise ValueError("only a part of one page may stand below another")
        text = drawn.objects % tuple(
            ids[number] if number >= 0
            else write_text(part.fills[next(slots)].words) if number == NAMED
            else FIRST_MARK - number + before
            for number in drawn.numbers
        )
        if part.down:
            text = _HEADING.sub(lambda found: b"/S /H%d" % (int(found[1]) + part.down), text)
        text = _BOX.sub(lambda found: _moved(found, part.x, part.y), text)
        self._linked.update(found.decode() for found in _TARGET.findall(text))
        for number, line in enumerate(text.split(b"\n"), base) if drawn.count else ():
            self._file.put(number, line)
        self._tops += [ids[number] for number in drawn.tops]
        self._keys += [ids[number] for number in drawn.keys]
        for on, page in enumerate(drawn.pages, part.first):
            self._marked[on] += [ids[number] for number in page.marked]
            self._notes[on] += [ids[number] for number in page.notes]
            self._place_content(on, _count_from(page, before) if before else page, drawn, part.x, part.y, part.fills, artifact=False)
            own = self._first_page + on
            for name, (x, y) in page.anchors.items():
                self._targets.setdefault(name, (own, x + part.x, y + part.y))
            self._bookmarks += [
                (Bookmark(mark.level + part.down, mark.label, mark.x + part.x, mark.y + part.y), own) for mark in page.bookmarks
            ]

    def _place_content(
        self, on: int, page: DrawnPage, drawn: DrawnPages, x: float, y: float, fills: Mapping[str, SlotFill], *, artifact: bool
    ) -> None:
        for name in page.forms:
            form = fills[name.removeprefix(SLOT)].form if name.startswith(SLOT) else drawn.forms[name]
            self._forms[on][name] = self._number_of(form)
        opening, closing = (b"/Artifact<</Type/Pagination>>BDC ", b"Q EMC") if artifact else (b"", b"Q")
        self._contents[on] += [
            self._file.put_once(opening + b"q 1 0 0 1 %b %b cm" % (write_number(x), write_number(y))),
            self._file.put_once(page.data, DEFLATED),
            self._file.put_once(closing),
        ]

    def _number_of(self, form: DrawnForm) -> int:
        """The number of a form in the file; equal ones stand once."""
        key = (form.data, form.box, form.pixels)
        if key not in self._form_numbers:
            number = self._form_numbers[key] = self._file.take()
            box = b" ".join(map(write_number, form.box))
            matrix = b"/Matrix%b" % form.matrix if form.matrix else b""
            pixels = b"/XObject<</%b %d 0 R>>" % (PIXELS, self._put_pixels(form.pixels)) if form.pixels else b""
            self._file.put_stream(
                number, form.data, b"/Type/XObject/Subtype/Form/BBox[%b]%b/Resources<</ExtGState%b%b>>" % (box, matrix, _entries(form.states), pixels)
            )
        return self._form_numbers[key]

    def _put_pixels(self, pixels: DrawnPixels) -> int:
        number = self._file.take()
        shape = b"/Width %d/Height %d/ColorSpace/DeviceRGB/BitsPerComponent 8" % (pixels.width, pixels.height)
        self._file.put_stream(number, pixels.data, b"/Type/XObject/Subtype/Image%b" % shape, pixels.read)
        return number

    def _write_pages(self, pages: int, fonts: int) -> None:
        width, height = map(write_number, self._size)
        for number in range(self._total):
            forms = b" ".join(b"/%b %d 0 R" % (name.encode(), own) for name, own in sorted(self._forms[number].items()))
            notes = b"/Annots[%b]" % _references(self._notes[number]) if self._notes[number] else b""
            self._file.put(self._first_page + number, (
                b"<</Type/Page/Parent %d 0 R/MediaBox[0 0 %b %b]/Resources<</Font %d 0 R/XObject<<%b>>/ExtGState%b>>"
                b"/Tabs/S/StructParents %d/Contents[%b]%b>>"
            ) % (pages, width, height, fonts, forms, self._states, number, _references(self._contents[number]), notes))


def _count_from(page: DrawnPage, first: int) -> DrawnPage:
    """The page with its marked content counted from a number."""
    data = _CONTENT.sub(lambda found: b"/MCID %d" % (int(found[1]) + first), zlib.decompress(page.data))
    return replace(page, data=deflate(data))


def _references(numbers: Sequence[int]) -> bytes:
    return b" ".join(b"%d 0 R" % number for number in numbers)


def _entries(values: Mapping[str, bytes]) -> bytes:
    return b"<<%b>>" % b"".join(b"/%b %b" % (name.encode(), value) for name, value in sorted(values.items()))


def _moved(found: re.Match[bytes], x: float, y: float) -> bytes:
    left, bottom, right, top = map(float, found.groups()[1:])
    return b"/%b [%b]" % (found[1], b" ".join(map(write_number, (left + x, bottom + y, right + x, top + y))))

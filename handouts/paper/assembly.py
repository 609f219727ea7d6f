"""A document put together from pages that were drawn apart: numbers are filled in, nothing is parsed or laid out.

Structure, links, outline and fonts of all parts become those of one document.  Pages of a frame are artifacts and have
no structure.  The same parts give the same bytes.
"""

from __future__ import annotations

import re
import zlib
from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import partial
from itertools import islice

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
_FIELD = re.compile(rb"%(.)", re.DOTALL)
"""Where a number or words are filled in, and the percent sign itself, which is written twice."""


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


@dataclass(frozen=True, slots=True)
class Leaf:
    """Where a page of the document stands in the file: on which page, counted from 0, how scaled, and how far from below left in points."""

    page: int
    scale: float = 1.0
    x: float = 0.0
    y: float = 0.0

    def at(self, x: float, y: float) -> tuple[float, float]:
        """Where a place of the page is, in points from below left."""
        return self.x + self.scale * x, self.y + self.scale * y


def assemble(
    about: DocumentMetadata, size: tuple[float, float], parts: Sequence[PlacedArticle], pieces: Sequence[FramePiece], leaves: Sequence[Leaf] = (),
    own_fonts: str = "",
) -> bytes:
    """The PDF; ``size`` is width and height of its pages in points, ``leaves`` where each page of the document is, if not on a page of its own.

    ``own_fonts`` are the rules of fonts that the library brings.  ValueError where a link leads nowhere.
    Structure and outline are in the order of reading, wherever pages stand.
    """
    return _Assembly(size, parts, pieces, leaves, own_fonts).write(about)


class _Assembly:
    def __init__(
        self, size: tuple[float, float], parts: Sequence[PlacedArticle], pieces: Sequence[FramePiece], leaves: Sequence[Leaf], own_fonts: str
    ) -> None:
        self._size, self._parts, self._pieces, self._folded, self._own_fonts = size, parts, pieces, bool(leaves), own_fonts
        self._leaves = leaves or [Leaf(number) for number in range(max((part.first + len(part.drawn.pages) for part in parts), default=0))]
        self._file = PdfFile()
        self._numbers = self._file.take(8)
        self._total = max((1 + leaf.page for leaf in self._leaves), default=0)
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
            self._place_content(self._leaves[piece.on], piece.page, piece.drawn, piece.x, piece.y, {}, artifact=True)
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
            b"<</Type/Catalog/Pages %d 0 R/Lang%b/MarkInfo<</Marked true>>/ViewerPreferences<</DisplayDocTitle true%b>>"
            b"/StructTreeRoot %d 0 R/Metadata %d 0 R%b%b>>"
        ) % (
            pages, write_text(about.language), b"/Duplex/DuplexFlipShortEdge/PrintScaling/None" if self._folded else b"", tree, xmp,
            b"/Outlines %d 0 R" % outline if outline else b"",
            b"/Names<</Dests<</Names[%b]>>>>" % names if names else b"",
        ))
        return self._file.finish(catalog, info)

    def _write_resources(self, number: int) -> None:
        """Fonts and states of all pages; forms are each page's own, as slots differ."""
        drawn = [*(part.drawn for part in self._parts), *(piece.drawn for piece in self._pieces)]
        fonts, states = [], dict[str, bytes]()
        for use in merge_fonts(use for each in drawn for use in each.fonts):
            cut = cut_font(use, self._own_fonts)
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
        drawn, leaves = part.drawn, self._leaves[part.first : part.first + len(part.drawn.pages)]
        pages, before = [self._first_page + leaf.page for leaf in leaves], self._marks_before(drawn, leaves)
        base, key = self._file.take(drawn.count), self._total + len(self._keys)
        ids = (top, *pages, *range(base, base + drawn.count), *range(key, key + len(drawn.keys)))
        slots, numbers = iter(drawn.slots), iter(drawn.numbers)
        for number, line in enumerate(drawn.objects.split(b"\n"), base) if drawn.count else ():
            own = tuple(islice(numbers, sum(found in b"bd" for found in _FIELD.findall(line))))
            on = next((each - 1 for each in own if 0 < each <= len(leaves)), 0)
            text = line % tuple(
                ids[each] if each >= 0
                else write_text(part.fills[next(slots)].words) if each == NAMED
                else FIRST_MARK - each + before[on]
                for each in own
            )
            if part.down:
                text = _HEADING.sub(lambda found: b"/S /H%d" % (int(found[1]) + part.down), text)
            text = _BOX.sub(partial(_moved, leaves[on], part), text)
            self._linked.update(found.decode() for found in _TARGET.findall(text))
            self._file.put(number, text)
        self._tops += [ids[number] for number in drawn.tops]
        self._keys += [ids[number] for number in drawn.keys]
        for leaf, page, first in zip(leaves, drawn.pages, before, strict=True):
            self._marked[leaf.page] += [ids[number] for number in page.marked]
            self._notes[leaf.page] += [ids[number] for number in page.notes]
            self._place_content(leaf, _count_from(page, first) if first else page, drawn, part.x, part.y, part.fills, artifact=False)
            where = self._first_page + leaf.page
            for name, (x, y) in page.anchors.items():
                self._targets.setdefault(name, (where, *leaf.at(x + part.x, y + part.y)))
            self._bookmarks += [
                (Bookmark(mark.level + part.down, mark.label, *leaf.at(mark.x + part.x, mark.y + part.y)), where) for mark in page.bookmarks
            ]

    def _marks_before(self, drawn: DrawnPages, leaves: Sequence[Leaf]) -> list[int]:
        """The marked content before that of each page of a part, on the page of the file where it stands."""
        taken = Counter({leaf.page: len(self._marked[leaf.page]) for leaf in leaves})
        before = list[int]()
        for leaf, page in zip(leaves, drawn.pages, strict=True):
            before.append(taken[leaf.page])
            taken[leaf.page] += len(page.marked)
        return before

    def _place_content(
        self, leaf: Leaf, page: DrawnPage, drawn: DrawnPages, x: float, y: float, fills: Mapping[str, SlotFill], *, artifact: bool
    ) -> None:
        for name in page.forms:
            form = fills[name.removeprefix(SLOT)].form if name.startswith(SLOT) else drawn.forms[name]
            number = self._number_of(form)
            own = name if self._forms[leaf.page].get(name, number) == number else f"{name}-{number}"
            page = page if own == name else _call_drawing(page, name, own)
            self._forms[leaf.page][own] = number
        opening, closing = (b"/Artifact<</Type/Pagination>>BDC ", b"Q EMC") if artifact else (b"", b"Q")
        scale = write_number(leaf.scale)
        self._contents[leaf.page] += [
            self._file.put_once(opening + b"q %b 0 0 %b %b %b cm" % (scale, scale, *map(write_number, leaf.at(x, y)))),
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


def _call_drawing(page: DrawnPage, name: str, own: str) -> DrawnPage:
    """The page with a drawing under another name, where two pages stand on one and both have a QR code."""
    data = zlib.decompress(page.data).replace(b"/%b Do" % name.encode(), b"/%b Do" % own.encode())
    return replace(page, data=deflate(data))


def _references(numbers: Sequence[int]) -> bytes:
    return b" ".join(b"%d 0 R" % number for number in numbers)


def _entries(values: Mapping[str, bytes]) -> bytes:
    return b"<<%b>>" % b"".join(b"/%b %b" % (name.encode(), value) for name, value in sorted(values.items()))


def _moved(leaf: Leaf, part: PlacedArticle, found: re.Match[bytes]) -> bytes:
    left, bottom, right, top = map(float, found.groups()[1:])
    corners = (*leaf.at(left + part.x, bottom + part.y), *leaf.at(right + part.x, top + part.y))
    return b"/%b [%b]" % (found[1], b" ".join(map(write_number, corners)))

"""Pages that are laid out become values: content, structure and annotations with local numbers, fonts as they are used.

What the writer gives as numbered objects is walked once; a number stands in the text of an object as ``%d``, so that a
document fills in its own.  Text that only looks like a number is never touched.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from functools import partial
from typing import Any

import pydyf

from handouts.paper.contained_writer import Layout, keep_in
from handouts.paper.pdf.drawn import FIRST_MARK, NAMED, SLOT, Bookmark, DrawnPage, DrawnPages, FontUse
from handouts.paper.pdf.file import deflate
from handouts.paper.writer.load import load_writer

PX_TO_PT = 0.75
"""Points in a CSS pixel (CSS Values and Units 3, 5.2)."""
SLOT_WORDS = "\ue010"
"""Before the name of a slot, in place of its alternative text."""
_REFERENCE = re.compile(rb"^(\d+) 0 R$")
_CELL = re.compile(r"^(\d+)(-\d+-\d+)$")
"""What the writer calls a table's header: the number of the table's object, column, row."""


def draw_pages(layout: Layout, *, tagged: bool) -> tuple[DrawnPages, dict[str, Any]]:
    """The pages of a layout, and the writer's fonts by the name of their face; untagged ones have no structure.

    None where anything goes wrong: then the problems say what.
    """
    found, problems = keep_in(layout, partial(_draw, layout, tagged))
    return (DrawnPages((), problems=problems), {}) if problems or not found else found


def _draw(layout: Layout, tagged: bool) -> tuple[DrawnPages, dict[str, Any]]:
    document, pdf = load_writer().generate(layout.made, tagged)
    walk = _StructureWalk(pdf, tagged)
    pages, forms = [], dict[str, Any]()
    for number, made in enumerate(document.pages):
        page = walk.pages[number]
        stream = walk.at(page["Contents"])
        height = made.height * PX_TO_PT
        forms.update(stream.forms)
        pages.append(
            DrawnPage(
                deflate(b"q\n" + b"\n".join(map(pydyf._to_bytes, stream.stream)) + b"\nQ"),
                height,
                tuple(stream.forms),
                walk.marked(number),
                tuple(walk.local(reference) for reference in page.get("Annots", ())) if tagged else (),
                {name: (x * PX_TO_PT, height - y * PX_TO_PT) for name, (x, y, *_) in made.anchors.items()},
                tuple(Bookmark(level, label, x * PX_TO_PT, height - y * PX_TO_PT) for level, label, (x, y), _ in made.bookmarks),
            )
        )
    resources = walk.at(walk.pages[0]["Resources"])
    states = resources["ExtGState"]
    numbered = [name for kind in ("XObject", "Pattern", "Shading") for name in resources[kind]]
    numbered += [name for name in states if name[0] not in "aA"]
    if numbered:
        raise ValueError(f"groups, patterns or masks, which are known by their place alone: {', '.join(sorted(numbered))}")
    fonts = {font.hash: font for font in document.fonts.values()}
    drawn = DrawnPages(
        tuple(pages), walk.tops, walk.text, walk.count, tuple(walk.numbers), tuple(walk.keys), tuple(walk.slots),
        _font_uses(document.fonts), {name: state.data for name, state in sorted(states.items())},
        {name: form for name, form in sorted(forms.items()) if not name.startswith(SLOT)},
    )
    return drawn, fonts


def _font_uses(fonts: Mapping[Any, Any]) -> tuple[FontUse, ...]:
    """What is used of each face; the writer has a font for each size of it."""
    found: dict[str, tuple[dict[int, str], dict[int, int], dict[int, str]]] = {}
    for font in fonts.values():
        mine = found.setdefault(font.hash, ({}, {}, {}))
        pairs: list[tuple[dict[int, Any], Mapping[int, Any]]] = [(mine[0], font.to_unicode), (mine[1], font.widths), (mine[2], font.missing)]
        for known, given in pairs:
            for glyph, value in given.items():
                known.setdefault(glyph, value)
    return tuple(FontUse(name, dict(letters), widths, missing) for name, (letters, widths, missing) in found.items())


class _StructureWalk:
    """The structure of pages from the document's element down, in reading order."""

    def __init__(self, pdf: Any, tagged: bool) -> None:
        self._objects = pdf.objects
        self.pages = [pdf.objects[number] for number in pdf.pages["Kids"][::3]]
        self.tops: tuple[int, ...] = ()
        self.text, self.count = b"", 0
        self.numbers, self.keys, self.slots = list[int](), list[int](), list[str]()
        self._local: dict[int, int] = {}
        self._owners: dict[int, Any] = {}
        if tagged:
            self._walk(pdf)

    def at(self, reference: bytes) -> Any:
        """The object of a reference."""
        return self._objects[int(reference.split()[0])]

    def local(self, reference: bytes) -> int:
        """The local number of a reference."""
        return self._local[int(reference.split()[0])]

    def marked(self, page: int) -> tuple[int, ...]:
        """The element of each piece of marked content of a page."""
        return tuple(self.local(reference) for reference in self._owners.get(page, ()))

    def _walk(self, pdf: Any) -> None:
        root = self.at(pdf.catalog["StructTreeRoot"])
        top = self.at(root["K"][0])
        rows = self.at(root["ParentTree"])["Nums"]
        self._owners = dict(zip(rows[::2], rows[1::2], strict=True))
        self._local = {top.number: 0, **{page.number: 1 + place for place, page in enumerate(self.pages)}}
        order: list[Any] = []
        for kid in top["K"]:
            self._take(self.at(kid), order)
        self.tops = tuple(self.local(kid) for kid in top["K"])
        self.count = len(order)
        self.text = b"\n".join(map(self._say, order))

    def _take(self, thing: Any, order: list[Any]) -> None:
        self._local[thing.number] = 1 + len(self.pages) + len(order)
        order.append(thing)
        attributes = thing.get("A", {})
        if "BBox" in attributes:
            left, top, right, bottom = attributes["BBox"]
            height = self.at(thing["Pg"])["MediaBox"][3]
            box = (left * PX_TO_PT, height - bottom * PX_TO_PT, right * PX_TO_PT, height - top * PX_TO_PT)
            attributes["BBox"] = pydyf.Array(map(float, box))  # the writer gives pixels from the top
        for kid in thing.get("K", ()):
            if isinstance(kid, bytes):
                self._take(self.at(kid), order)
        if thing["Type"] == "/OBJR":
            self._take(self.at(thing["Obj"]), order)

    def _say(self, value: Any, name: str = "") -> bytes:
        if isinstance(value, dict):
            return b"<<" + b"".join(b"/%b %b" % (key.encode(), self._say(each, key)) for key, each in value.items()) + b">>"
        if isinstance(value, list):
            return b"[" + b" ".join(self._say(each, name) for each in value) + b"]"
        if isinstance(value, pydyf.String):
            return self._say_text(value, name)
        if name == "StructParent":
            self.numbers.append(1 + len(self.pages) + self.count + len(self.keys))
            self.keys.append(self.local(self._owners[value]))
            return b"%d"
        if name == "K" and isinstance(value, int):
            self.numbers.append(FIRST_MARK - value)
            return b"%d"
        data = pydyf._to_bytes(value)
        if found := _REFERENCE.match(data):
            self.numbers.append(self._local[int(found[1])])
            return b"%d 0 R"
        return bytes(data.replace(b"%", b"%%"))

    def _say_text(self, value: Any, name: str) -> bytes:
        text = value.string
        if name in ("ID", "Headers") and isinstance(text, str) and (cell := _CELL.match(text)):
            self.numbers.append(self._local[int(cell[1])])
            return b"(%d" + cell[2].encode() + b")"
        if name == "Alt" and isinstance(text, str) and text.startswith(SLOT_WORDS):
            self.numbers.append(NAMED)
            self.slots.append(text.removeprefix(SLOT_WORDS))
            return b"%b"
        data: bytes = value.data
        return data.replace(b"%", b"%%").replace(b"\n", b"\\n").replace(b"\r", b"\\r")

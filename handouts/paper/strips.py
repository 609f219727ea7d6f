"""The frame of a document: heads, feet, page numbers and boxes to tick, each laid out by itself and the same on every paper.

A strip is as wide as the room for articles and as high as its words; what is the same in many documents is drawn once.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, replace

from handouts.paper.articles import FRONT, Document
from handouts.paper.assets import faces_for
from handouts.paper.contained_writer import lay_out
from handouts.paper.document import plain_head
from handouts.paper.objects import draw_pages
from handouts.paper.own_fonts import take_own_fonts
from handouts.paper.pdf.drawn import DrawnPages
from handouts.problems import Place

ROOM_MM = 250.0
"""Height of the page that a strip is laid out on; it takes less."""
ABOVE_MM, BELOW_MM = 2.0, 0.5
"""Gap between the head and what stands below it, and between that and the foot."""
_HEAD = re.compile(r'<div class="running-head\b.*?</div>', re.DOTALL)
_RULES = re.compile(r'<div class="running-rules">.*?</div>', re.DOTALL)
_WHERE = re.compile(r'<strong class="where">(.*?)<span class="n"></span>(.*?)</strong>')
_FOOT = re.compile(r'(<div class="running-foot"[^>]*>.*?</p>)(<p>.*?</div>)', re.DOTALL)
_PEN = re.compile(r'<span class="pen">.*?</span></span>', re.DOTALL)
_LABEL = re.compile(r'<span class="page">(.*?)<span class="n"></span>(.*?)<span class="m"></span>(.*?)</span>', re.DOTALL)


@dataclass(frozen=True, slots=True)
class StripTexts:
    """Texts to be laid out as strips, each on a page of its own; ``tagged`` where they are part of what is read."""

    opening: str
    """HTML before them: language, direction, type size, colour."""
    texts: tuple[str, ...]
    width: float
    tagged: bool
    place: Place
    faces: tuple[str, ...]
    """Those of the whole document: a line that has no letter of its script stands in the same face as the others."""
    own_fonts: str = ""
    """The rules of fonts that the library brings."""


@dataclass(frozen=True, slots=True)
class FrameStrips:
    """The strips of a document: two heads, the first with a line for the pen; the foot in two, phones and stamps; the number of each page.

    Phones are the same in all documents of a language, stamps stay where a phone changes.
    """

    heads: StripTexts
    phones: StripTexts
    stamps: StripTexts
    labels: StripTexts
    rules: StripTexts | None = None
    """Where the stop rules stand: the line of a page that has them, then one for each such page, for those that name it."""
    notes: StripTexts | None = None
    """What stands on a page that no article takes."""


def frame_of(document: Document, pages: int, rules: Sequence[int]) -> FrameStrips:
    """The frame of a document of so many pages; ``rules`` are those with stop rules, counted from 0, which the others name."""
    html = document.html
    head, foot, label = _HEAD.search(html), _FOOT.search(html), _LABEL.search(html)
    if not (head and foot and label):
        raise ValueError(f"'{document.path}' has no head or foot")
    before, between, after = label.groups()
    hidden = f'<span class="page" style="visibility: hidden">{before}{pages}{between}{pages}{after}</span>'
    stamps = f'<div class="running-foot" style="border-top: 0; padding-top: 0">{_LABEL.sub(lambda _: hidden, foot[2])}'
    labels = tuple(f'<div class="label">{before}{number}{between}{pages}{after}</div>' for number in range(1, pages + 1))
    return FrameStrips(
        _strips(document, (head[0], _PEN.sub("", head[0]))), _strips(document, (f"{foot[1]}</div>",)),
        _strips(document, (stamps,)), _strips(document, labels),
        _rules_of(document, rules), _strips(document, (document.empty,)) if document.empty else None,
    )  # fmt: skip


def _rules_of(document: Document, pages: Sequence[int]) -> StripTexts | None:
    found = _RULES.search(document.html)
    if not found:
        return None
    elsewhere = (rf'<strong class="where">\g<1>{page + 1}\g<2></strong>' for page in pages)
    return _strips(document, tuple(_WHERE.sub(where, found[0]) for where in ("", *elsewhere)))


def rules_strip(on: int, rules: Sequence[int]) -> int:
    """Which line about the stop rules stands on a page: it names the next page with stop rules, else the last."""
    if on in rules or not rules:
        return 0
    return 1 + next((number for number, page in enumerate(rules) if page > on), len(rules) - 1)


def strip_of(document: Document, html: str) -> StripTexts:
    """What stands at the foot of an article's last page, and is read after it."""
    return replace(_strips(document, (html,)), tagged=True)


def _strips(document: Document, texts: tuple[str, ...]) -> StripTexts:
    opening, own_fonts = take_own_fonts(plain_head(document))
    return StripTexts(opening, texts, document.area.width, False, document.place, faces_for(document.html), own_fonts)


def draw_strips(strips: StripTexts) -> DrawnPages:
    """A page for each strip, with the anchor ``end-N`` at its foot.  For any process."""
    rules = f"<style>@page {{ size: {strips.width:g}mm {ROOM_MM:g}mm; margin: 0; }}</style>\n</head>"
    opening = strips.opening.replace("</head>", rules, 1)
    body = "".join(f'<div class="strip">{text}<div id="end-{number}"></div></div>\n' for number, text in enumerate(strips.texts))
    layout = lay_out(f"{opening}{body}</body></html>", {}, strips.place, faces=strips.faces, own_fonts=strips.own_fonts)
    if not layout.problems and layout.pages != len(strips.texts):
        raise ValueError(f"{len(strips.texts)} strips take {layout.pages} pages")
    if layout.problems:
        return DrawnPages((), problems=layout.problems)
    drawn, _ = draw_pages(layout, tagged=strips.tagged)
    return drawn


def height_of(drawn: DrawnPages, number: int) -> float:
    """The height of a strip in points."""
    page = drawn.pages[number]
    return page.height - page.anchors[f"end-{number}"][1]


def rule_of(document: Document) -> StripTexts:
    """The rule above a row, which does not stand where the head of a page has one."""
    return _strips(document, ('<div class="row-rule"></div>',))


def strips_of(document: Document, pages: int, rules: Sequence[int]) -> tuple[StripTexts, ...]:
    """All strips of a document of so many pages; ``rules`` as in ``frame_of``."""
    frame = frame_of(document, pages, rules)
    own = [strip_of(document, standing.strip) for standing in document.standing if standing.strip]
    own += [rule_of(document)] if document.articles[0].kind == FRONT else []
    return (frame.heads, frame.phones, frame.stamps, frame.labels, *filter(None, [frame.rules, frame.notes]), *own)

"""What is drawn becomes a document: where each article, head, foot and number stands on its paper, in points."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from html import unescape

from handouts.paper.articles import Article, Document
from handouts.paper.assembly import MM_TO_PT, DocumentMetadata, FramePiece, Leaf, PlacedArticle, SlotFill, assemble
from handouts.paper.document import CODE, QrOutline, code_of
from handouts.paper.folding import fold, sheet_size
from handouts.paper.laid import Laid
from handouts.paper.own_fonts import take_own_fonts
from handouts.paper.pdf.drawn import DrawnForm, DrawnPages
from handouts.paper.pdf.file import deflate
from handouts.paper.places import place_articles
from handouts.paper.strips import ABOVE_MM, BELOW_MM, StripTexts, frame_of, height_of, rule_of, rules_strip, strip_of
from handouts.paper.writer.load import load_writer
from handouts.problems import Grade, Problem
from handouts.tasks.calling import File

_RECT = re.compile(r"M(\d+) (\d+)h(\d+)v1h")
_META = re.compile(r'<html lang="([^"]*)".*?<title>(.*?)</title>\s*<meta name="author" content="(.*?)">', re.DOTALL)


@dataclass(frozen=True, slots=True)
class BoundDocument:
    """A document with all its parts drawn, ready to be put together: by ``put_together``, in any process."""

    title: str
    author: str
    language: str
    size: tuple[float, float]
    """Of its pages, in points."""
    parts: tuple[PlacedArticle, ...]
    pieces: tuple[FramePiece, ...]
    pages: int
    problems: tuple[Problem, ...]
    own_fonts: str = ""
    """The rules of fonts that the library brings."""
    leaves: tuple[Leaf, ...] = ()
    """Where its pages stand, if two are on a sheet that is folded."""


def bind(document: Document, articles: Sequence[DrawnPages], strips: Mapping[StripTexts, DrawnPages]) -> BoundDocument:
    """The document from its articles in their order and the strips that ``strips_of`` names."""
    placed = place_articles(document, articles)
    area, pages = document.area, placed.pages
    height, left = area.paper_height * MM_TO_PT, area.left * MM_TO_PT
    top = height - area.top * MM_TO_PT
    bottom = top - area.height * MM_TO_PT
    rules = placed.rules(articles)
    frame = frame_of(document, pages, rules)
    heads, phones, stamps, labels = (strips[each] for each in (frame.heads, frame.phones, frame.stamps, frame.labels))
    parts, pieces, pens = list[PlacedArticle](), list[FramePiece](), set[int]()
    problems = []
    for number, (article, drawn, (first, down)) in enumerate(zip(document.articles, articles, placed.places, strict=True)):
        standing = document.stands(number)
        code = code_of(article, document)
        fills = {CODE: SlotFill(_draw_code(code), code.words)} if code else {}
        parts.append(PlacedArticle(drawn, first, left, top - down - drawn.pages[0].height, standing.down, fills))
        if standing.strip:
            strip = strips[strip_of(document, standing.strip)]
            parts.append(PlacedArticle(strip, first + len(drawn.pages) - 1, left, bottom + height_of(strip, 0) - strip.pages[0].height))
        if number in placed.ruled:
            rule = strips[rule_of(document)]
            pieces.append(FramePiece(rule.pages[0], rule, first, left, top - down - rule.pages[0].height))
        if standing.pen:
            pens.add(first)
        if drawn.over and article.name:
            problems.append(_too_long(article, document))
    for on in range(pages):
        head = 0 if on in pens else 1
        above = top + ABOVE_MM * MM_TO_PT + height_of(heads, head)
        below = bottom - BELOW_MM * MM_TO_PT
        if frame.rules:
            line_of_rules, own = strips[frame.rules], rules_strip(on, rules)
            pieces.append(FramePiece(line_of_rules.pages[own], line_of_rules, on, left, below - line_of_rules.pages[own].height))
            below -= height_of(line_of_rules, len(line_of_rules.pages) - 1)
        line = below - height_of(phones, 0)
        pieces += [
            FramePiece(heads.pages[head], heads, on, left, above - heads.pages[head].height),
            FramePiece(phones.pages[0], phones, on, left, below - phones.pages[0].height),
            FramePiece(stamps.pages[0], stamps, on, left, line - stamps.pages[0].height),
            FramePiece(labels.pages[on], labels, on, left, line - labels.pages[on].height),
        ]
        if frame.notes and on in placed.empty:
            notes = strips[frame.notes]
            pieces.append(FramePiece(notes.pages[0], notes, on, left, top - notes.pages[0].height))
    found = _META.search(document.html)
    if not found:
        raise ValueError(f"'{document.path}' has no language, title or author")
    language, title, author = map(unescape, found.groups())
    size, leaves = (area.paper_width * MM_TO_PT, height), tuple[Leaf, ...]()
    if document.bound:
        size, leaves = sheet_size(document.paper), fold(pages, document.paper, document.bound)
    return BoundDocument(title, author, language, size, tuple(parts), tuple(pieces), pages, tuple(problems), take_own_fonts(document.html)[1], leaves)


def put_together(bound: BoundDocument) -> Laid:
    """The PDF of a document whose parts are drawn."""
    program, xmp = load_writer().describe(bound.title, bound.author, bound.language)
    about = DocumentMetadata(xmp, bound.title, bound.author, program, bound.language)
    return Laid(File(assemble(about, bound.size, bound.parts, bound.pieces, bound.leaves, bound.own_fonts)), bound.pages, bound.problems)


def _draw_code(code: QrOutline) -> DrawnForm:
    """The QR code in a square of side 1; its rows run down, as on the page of an article."""
    dark = " ".join(f"{x} {y} {width} 1 re" for x, y, width in _RECT.findall(code.outline))
    side = code.side
    return DrawnForm(deflate(f"0 g {dark} f".encode()), (0, 0, side, side), matrix=f"[{1 / side:.8f} 0 0 {1 / side:.8f} 0 0]".encode())


def _too_long(article: Article, document: Document) -> Problem:
    language, _, path = document.path.partition("/")
    texts = "the translation of its steps" if article.translated else "its steps"
    return Problem(
        article.place, "paper-too-long",
        f"'{article.name}' takes more than {'three' if article.apart else 'two'} pages in '{path.rpartition('/')[2]}' "
        f"(language {language}, paper {document.paper}, type size {document.size})",
        f"Shorten {texts}, its mistakes or its cautions.", Grade.NOTICE,
    )

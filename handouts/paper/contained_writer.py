"""The PDF writer within bounds: it sees the text it is given and the assets declared with it, nothing else.

No file, no host and no font of the machine is reached; each attempt and each line that the writer logs
becomes a problem.  The same input gives the same bytes on every machine.  Pages are laid out, their figures
may grow, and pages of several layouts are drawn as one PDF.
"""

from __future__ import annotations

import atexit
import gc
import logging
import re
from base64 import b64decode
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, field, replace
from hashlib import sha256
from html.parser import HTMLParser
from typing import TYPE_CHECKING, Any, TypeVar
from xml.etree.ElementTree import Element

from handouts.paper.assets import PaperAssets, faces_for, load_paper_assets
from handouts.paper.laid import Laid
from handouts.paper.own_fonts import take_own_fonts
from handouts.paper.writer.blocks import Spacing, Stacking
from handouts.paper.writer.drawings import take_drawings
from handouts.paper.writer.load import BASE_URL, WriterLog, load_writer
from handouts.paper.writer.reading import read_elements
from handouts.paper.writer.stack import Stack
from handouts.problems import Place, Problem
from handouts.tasks.calling import File

if TYPE_CHECKING:
    from weasyprint import CSS
    from weasyprint.text.fonts import FontConfiguration

Result = TypeVar("Result")
PDF_VARIANT = "pdf/ua-1"
_MISSING_GLYPH = re.compile(r"notdef glyph.*: (.+ \(U\+[0-9A-F]+\))")
_XLINK = "{http://www.w3.org/1999/xlink}"
_LINK_SCHEMES = ("https:", "mailto:", "tel:", "#")


@dataclass(frozen=True, slots=True)
class Layout:
    """Pages that are laid out and not yet drawn; where anything went wrong they must not be."""

    pages: int
    problems: tuple[Problem, ...]
    place: Place
    anchors: Mapping[str, tuple[int, float]] = field(default_factory=dict)
    """Where each element with an id begins: page, counted from 0, and CSS pixels from its top."""
    made: Any = field(default=None, repr=False)
    """The writer's own document."""
    record: WriterLog = field(default_factory=WriterLog, repr=False)
    """What is asked for in vain; a drawing asks only when it is drawn."""


def render_pdf(html: str, assets: Mapping[str, bytes], place: Place, paper_assets: PaperAssets | None = None) -> Laid:
    """A tagged PDF/UA-1 of an HTML document; ``assets`` are served by their address under ``BASE_URL``.

    Any refusal or logged line is an error at ``place``, and then there is no PDF.
    """
    return draw([lay_out(html, assets, place, paper_assets)])


def lay_out(
    html: str, assets: Mapping[str, bytes], place: Place, paper_assets: PaperAssets | None = None, faces: tuple[str, ...] = (), own_fonts: str = ""
) -> Layout:
    """The pages of an HTML document; ``faces`` are those of the whole document where this is a part of one.

    ``own_fonts`` are the rules of fonts that the library brings, where the HTML does not bring them.
    """
    paper_assets = paper_assets or load_paper_assets()
    writer = load_writer()
    record, found = WriterLog(), list[Any]()
    html, brought = take_own_fonts(html)
    own_fonts += brought
    faces = faces or faces_for(html)
    fonts, styles = _styles(paper_assets, faces, own_fonts)
    text, own = _take_styles(html, paper_assets, faces)
    text, drawings = take_drawings(text)
    root = read_elements(text)
    links = find_bad_links(html) if root is None else bad_links_in((root, *drawings))
    fetcher = writer.fetcher(assets, record, drawings, shares=True)

    def lay() -> None:
        made = writer.read(text, root, fetcher).render(
            stylesheets=[*styles, *own], font_config=fonts, pdf_variant=PDF_VARIANT
        )
        found.extend((made, _find_anchors(made.pages), links or _laid_links(made.pages)))

    problems = _kept_in(record, place, lay)
    made, anchors, links = found or (None, {}, links)
    problems = (*(_link_problem(place, link) for link in links), *problems)
    return Layout(len(made.pages) if made else 0, problems, place, anchors, made, record)


def stack_of(layout: Layout, anchor: str, laid: Spacing) -> Stack:
    """The blocks of an article that was laid out on one tall page with that spacing."""
    return Stack(layout.made.pages[0]._page_box, anchor, laid)


def stack_again(layout: Layout, stack: Stack, stacking: Stacking, heights: Sequence[float], above: float = 0.0) -> Layout:
    """The pages of a layout with their blocks where the stacking has them, and as high as is said, in CSS pixels; ``above`` as in ``Stack``."""
    writer = load_writer()
    pages = [writer.page(box) for box in stack.set_again(stacking, heights, writer.lay_background, above)]
    fresh = layout.made.copy(pages)
    return replace(layout, pages=len(pages), anchors=_find_anchors(fresh.pages), made=fresh)


def draw(layouts: Sequence[Layout]) -> Laid:
    """The PDF of the pages of several layouts, one after the other; metadata are those of the first."""
    first, record, found = layouts[0], WriterLog(), list[bytes]()
    problems = tuple(problem for layout in layouts for problem in layout.problems)
    pages = [page for layout in layouts if layout.made for page in layout.made.pages]

    def write() -> None:
        try:
            found.append(first.made.copy(pages).write_pdf(pdf_variant=PDF_VARIANT) or b"")
        finally:
            record.refused.extend(url for layout in layouts for url in layout.record.refused)

    problems = problems or _kept_in(record, first.place, write)
    return Laid(File() if problems else File(found[0]), len(pages), problems)


def keep_in(layout: Layout, work: Callable[[], Result]) -> tuple[Result | None, tuple[Problem, ...]]:
    """What comes of work with laid-out pages, and what the writer refused or logged meanwhile."""
    found = list[Result]()
    problems = layout.problems or _kept_in(layout.record, layout.place, lambda: found.append(work()))
    return (None if problems else found[0]), problems


def _kept_in(record: WriterLog, place: Place, work: Callable[[], None]) -> tuple[Problem, ...]:
    """Lets the writer work; what it logged, asked for in vain or gave up with, as problems."""
    with _log_into(record), _without_collector():
        try:
            work()
        except load_writer().refusal:
            pass
        except Exception as error:  # whatever the writer gives up with, the other sheets are made
            record.logged.append(f"it gave up with {type(error).__name__} {error}".strip())
    return tuple(_problems_of(record, place))


def _link_problem(place: Place, link: str) -> Problem:
    return Problem(place, "paper-link", f"the sheet links to '{link}'", "Use an address that begins with https:.")


def _laid_links(pages: Sequence[Any]) -> tuple[str, ...]:
    """Links that were laid out though they may not stand in a PDF: the second lock behind ``find_bad_links``."""
    laid = ((kind, str(target)) for page in pages for kind, target, *_ in page.links)
    return tuple(
        target
        for kind, target in laid
        if kind != "internal" and (kind != "external" or not target.lower().startswith(_LINK_SCHEMES))
    )


@contextmanager
def _without_collector() -> Iterator[None]:
    """A layout makes very many objects and drops them all at its end: looking for dead ones on the way finds none."""
    was = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if was:
            gc.enable()


def _find_anchors(pages: Sequence[Any]) -> dict[str, tuple[int, float]]:
    """Each anchor where it first stands."""
    found: dict[str, tuple[int, float]] = {}
    for number, page in enumerate(pages):
        for name, point in page.anchors.items():
            found.setdefault(name, (number, point[1]))
    return found


def find_bad_links(html: str) -> tuple[str, ...]:
    """Targets of links and attachments in a document that may not stand in a PDF, in order."""
    found: list[str] = []

    class Finder(HTMLParser):
        def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
            found.extend(_bad_link(tag, {name: value or "" for name, value in attrs}))

    Finder().feed(html)
    return tuple(found)


def bad_links_in(roots: Iterable[Element]) -> tuple[str, ...]:
    """The same of elements that have been read."""
    elements = (element for root in roots for element in root.iter() if element.tag.rpartition("}")[2] in ("a", "area") or "rel" in element.attrib)
    return tuple(
        target
        for element in elements
        for target in _bad_link(element.tag.rpartition("}")[2], {name.replace(_XLINK, "xlink:"): value for name, value in element.attrib.items()})
    )


def _bad_link(tag: str, values: Mapping[str, str]) -> Iterator[str]:
    target = values.get("href", values.get("xlink:href", "")).strip()
    if "attachment" in values.get("rel", "").lower().split():
        yield target or "attachment"
    elif tag in ("a", "area") and target and not target.lower().startswith(_LINK_SCHEMES):
        yield target


def _problems_of(record: WriterLog, place: Place) -> list[Problem]:
    """The record as problems; what a refusal leads to in the log is not said again."""
    if record.refused:
        return [Problem(place, "paper-fetch", f"the sheet asks for '{url[:200]}', which was not declared",
                        "Take the address out of the text or the figure.") for url in dict.fromkeys(record.refused)]
    return [_show_logged(line, place) for line in dict.fromkeys(record.logged)]


def _show_logged(line: str, place: Place) -> Problem:
    glyph = _MISSING_GLYPH.search(line)
    if glyph:
        return Problem(place, "paper-glyph", f"no font of the sheets has the character {glyph[1]}",
                       "Use another character, or draw it in the figure.")
    return Problem(place, "paper-log", f"the PDF writer says: {line[:300]}", "Change the text or the figure that it names.")


@contextmanager
def _log_into(record: WriterLog) -> Iterator[None]:
    """Keeps every warning that the writer logs, and nothing that it prints."""

    class Keep(logging.Handler):
        def emit(self, entry: logging.LogRecord) -> None:
            record.logged.append(entry.getMessage())

    logger = logging.getLogger("weasyprint")
    handler, passes = Keep(logging.WARNING), logger.propagate
    logger.addHandler(handler)
    logger.propagate = False
    try:
        yield
    finally:
        logger.removeHandler(handler)
        logger.propagate = passes


_DATA = re.compile(r'url\("data:font/ttf;base64,([A-Za-z0-9+/=]*)"\)')


def _fonts_in(rules: str) -> tuple[str, dict[str, bytes]]:
    """The rules with an address in place of each font, and the fonts by address."""
    fonts: dict[str, bytes] = {}

    def take(found: re.Match[str]) -> str:
        address = f"own-{len(fonts)}.ttf"
        fonts[address] = b64decode(found[1])
        return f'url("{address}")'

    return _DATA.sub(take, rules), fonts


_KEPT: dict[tuple[str, tuple[str, ...], str], tuple[FontConfiguration, tuple[CSS, ...]]] = {}
"""Fonts and parsed styles by paper_assets and faces: reading them is most of the time that a page takes."""
atexit.register(_KEPT.clear)  # WeasyPrint's fonts cannot be let go once Python takes its modules down


def _styles(paper_assets: PaperAssets, faces: tuple[str, ...], own: str = "") -> tuple[FontConfiguration, tuple[CSS, ...]]:
    """One font configuration and the parsed style sheets, kept for the life of the process."""
    key = (paper_assets.digest, faces, sha256(own.encode()).hexdigest() if own else "")
    if key not in _KEPT:
        own, own_fonts = _fonts_in(own)
        writer = load_writer()
        fonts, record = writer.fonts(), WriterLog()
        sheets = []
        with _log_into(record):
            for text in ("".join(paper_assets.font_rules[face] for face in faces), paper_assets.style, *([own] if own else [])):
                fetcher = writer.fetcher({**paper_assets.fonts, **own_fonts}, record)
                sheets.append(writer.css(string=text, base_url=BASE_URL, url_fetcher=fetcher, font_config=fonts))
        if record.refused or record.logged:
            raise ValueError(f"the print styles are faulty: {(record.refused + record.logged)[0]}")
        _KEPT[key] = (fonts, tuple(sheets))
    return _KEPT[key]


_OWN: dict[tuple[str, str, tuple[str, ...]], CSS | None] = {}
"""Parsed style elements of documents by their text: most documents of one kind have the same."""
MOST_OWN = 512
"""How many are kept; at more all are dropped."""
_STYLE = re.compile(r"<style>([^<]*)</style>")
_OTHER_RULE = re.compile("@(?!page)")
"""Fonts, imports, layers: they are the whole document's."""


def _take_styles(html: str, paper_assets: PaperAssets, faces: tuple[str, ...]) -> tuple[str, list[CSS]]:
    """The HTML without its style elements, and these parsed; one that is faulty stays where it is."""
    taken = []

    def take(found: re.Match[str]) -> str:
        sheet = None if _OTHER_RULE.search(found[1]) else _own_style(found[1], paper_assets, faces)
        if sheet is None:
            return found[0]
        taken.append(sheet)
        return ""

    return _STYLE.sub(take, html), taken


def _own_style(text: str, paper_assets: PaperAssets, faces: tuple[str, ...]) -> CSS | None:
    key = (text, paper_assets.digest, faces)
    if key not in _OWN:
        writer, record = load_writer(), WriterLog()
        if len(_OWN) >= MOST_OWN:
            _OWN.clear()
        with _log_into(record):
            try:
                sheet = writer.css(string=text, base_url=BASE_URL, url_fetcher=writer.fetcher({}, record))
            except writer.refusal:
                sheet = None
        if sheet is not None:
            sheet.taken = True
        _OWN[key] = None if record.logged or record.refused else sheet
    return _OWN[key]

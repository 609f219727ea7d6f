"""The PDF writer in a cage: it sees the text it is given and the assets declared with it, nothing else.

No file, no host and no font of the machine is reached; each attempt and each line that the writer logs
becomes a problem.  The same input gives the same bytes on every machine.  The only module that imports
WeasyPrint, and only when a PDF is asked for: a site can be built where its system libraries are missing.
"""

from __future__ import annotations

import atexit
import gc
import logging
import os
import re
import warnings
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, field
from functools import lru_cache
from html.parser import HTMLParser
from importlib import metadata
from typing import TYPE_CHECKING, Any

from handouts.assets import templates_root
from handouts.paper.drawings import MARK, take_drawings
from handouts.paper.kit import PaperKit, faces_for, load_kit
from handouts.paper.spelling import VERSION, Spelled, glyph_texts
from handouts.problems import PaperUnavailableError, Place, Problem

if TYPE_CHECKING:
    from weasyprint import CSS
    from weasyprint.text.fonts import FontConfiguration

BASE_URL = "https://assets.invalid/"
"""Where declared assets seem to be; the reserved name ``invalid`` never resolves (RFC 2606)."""
PDF_VARIANT = "pdf/ua-1"
NO_FONTS = templates_root() / "fonts" / "fonts.conf"
"""A fontconfig file that names no folder: no font of the machine is seen."""
_MISSING_GLYPH = re.compile(r"notdef glyph.*: (.+ \(U\+[0-9A-F]+\))")
_SVG = "{http://www.w3.org/2000/svg}svg"
_LINK_SCHEMES = ("https:", "mailto:", "tel:", "#")


@dataclass(frozen=True, slots=True)
class Laid:
    """A PDF, its number of pages, and what went wrong on the way; ``pdf`` is empty where it could not be made."""

    pdf: bytes
    pages: int
    problems: tuple[Problem, ...]
    anchors: Mapping[str, tuple[int, float]] = field(default_factory=dict)
    """Where each element with an id begins: page, counted from 0, and CSS pixels from its top."""


@dataclass(slots=True)
class Record:
    """What the writer asked for in vain and what it logged, in order."""

    refused: list[str] = field(default_factory=list)
    logged: list[str] = field(default_factory=list)


def render_pdf(
    html: str, assets: Mapping[str, bytes], place: Place, kit: PaperKit | None = None, *, draft: bool = False
) -> Laid:
    """A tagged PDF/UA-1 of an HTML document; ``assets`` are served by their address under ``BASE_URL``.

    Any refusal or logged line is an error at ``place``, and then there is no PDF.  A ``draft`` is laid
    out and measured, but not drawn.
    """
    kit = kit or load_kit()
    press = _load_press()
    problems = [_link_problem(place, link) for link in find_bad_links(html)]
    record = Record()
    pdf, pages = b"", 0
    anchors: dict[str, tuple[int, float]] = {}
    faces = faces_for(html)
    fonts, styles = _styles(kit, faces)
    text, drawings = take_drawings(html)
    fetcher = press.fetcher(assets, record, drawings)
    with _log_into(record), _without_collector():
        try:
            document = press.html(string=text, base_url=BASE_URL, url_fetcher=fetcher).render(
                stylesheets=list(styles), font_config=fonts, pdf_variant=PDF_VARIANT
            )
            pages = len(document.pages)
            anchors = _find_anchors(document.pages)
            problems += [_link_problem(place, link) for link in _laid_links(document.pages) if not problems]
            pdf = b"" if draft else document.write_pdf(pdf_variant=PDF_VARIANT) or b""
        except press.refusal:
            pass
        except Exception as error:  # whatever the writer gives up with, the other sheets are made
            record.logged.append(f"it gave up with {type(error).__name__} {error}".strip())
    problems += _problems_of(record, place)
    return Laid(b"" if problems else pdf, pages, tuple(problems), anchors)


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
            values = {name: value or "" for name, value in attrs}
            target = values.get("href", values.get("xlink:href", "")).strip()
            if "attachment" in values.get("rel", "").lower().split():
                found.append(target or "attachment")
            elif tag in ("a", "area") and target and not target.lower().startswith(_LINK_SCHEMES):
                found.append(target)

    Finder().feed(html)
    return tuple(found)


def _problems_of(record: Record, place: Place) -> list[Problem]:
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
def _log_into(record: Record) -> Iterator[None]:
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


@dataclass(frozen=True, slots=True)
class Press:
    """The parts of WeasyPrint that are used."""

    html: Any
    css: Any
    fonts: Any
    fetcher: Any
    refusal: type[BaseException]


@lru_cache(maxsize=1)
def _load_press() -> Press:
    """WeasyPrint, imported at first use; PaperUnavailableError where a system library is missing."""
    os.environ["FONTCONFIG_FILE"] = str(NO_FONTS)
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")  # it warns that no font is configured: that is the point
            from weasyprint import CSS, HTML, html
            from weasyprint.images import SVGImage
            from weasyprint.pdf import stream
            from weasyprint.svg import SVG
            from weasyprint.text.fonts import FontConfiguration
            from weasyprint.urls import FatalURLFetchingError, URLFetcher, URLFetcherResponse
    except OSError as error:
        raise PaperUnavailableError(
            f"PDFs cannot be made on this machine: a system library is missing ({str(error).splitlines()[0]}). "
            "On Debian: apt-get install libpango-1.0-0 libpangoft2-1.0-0 libharfbuzz-subset0"
        ) from error

    class SpelledFont(stream.Font):  # type: ignore[misc]
        """A font whose glyphs stand for the letters that the font itself says."""

        def __init__(self, *given: Any) -> None:
            super().__init__(*given)
            self.to_unicode = Spelled(glyph_texts(bytes(self.file_content)))

    stream.Font = SpelledFont

    class Cage(URLFetcher):  # type: ignore[misc]
        """Serves declared assets; all else is refused, recorded, and stops the render."""

        def __init__(self, assets: Mapping[str, bytes], record: Record, drawings: Sequence[Any] = ()) -> None:
            super().__init__(allowed_protocols=(), allow_redirects=False)
            self._assets, self._record, self.drawings = assets, record, drawings

        def fetch(self, url: str, headers: dict[str, str] | None = None) -> Any:
            del headers  # a declared asset is the same for every request
            name = url.removeprefix(BASE_URL)
            if name == url or name not in self._assets:
                self._record.refused.append(url)
                raise FatalURLFetchingError(f"not declared: {url[:200]}")
            return URLFetcherResponse(url, self._assets[name])

    class TakenDrawing(SVGImage):  # type: ignore[misc]
        """A drawing that was taken out: laid out by its opening tag, read when it is drawn."""

        def __init__(self, element: Any, tree: Any, *given: Any) -> None:
            super().__init__(element, *given)
            self._tree = tree

        def draw(self, *given: Any) -> None:
            fonts = self._context.font_config if self._context else None
            self._svg = SVG(self._tree, self._base_url, fonts, self._url_fetcher)
            super().draw(*given)

    inline = html.HTML_HANDLERS[_SVG]

    def handle_drawing(element: Any, box: Any, get_image: Any, base_url: str) -> Any:
        number, known = element.get(MARK), get_image.keywords
        if number is None or not isinstance(known["url_fetcher"], Cage):
            return inline(element, box, get_image, base_url)
        tree = known["url_fetcher"].drawings[int(number)]
        image = TakenDrawing(element, tree, base_url, known["url_fetcher"], known["context"])
        return [html.make_replaced_box(element, box, image)]

    html.HTML_HANDLERS[_SVG] = handle_drawing
    return Press(HTML, CSS, FontConfiguration, Cage, FatalURLFetchingError)


_KEPT: dict[tuple[str, tuple[str, ...]], tuple[FontConfiguration, tuple[CSS, ...]]] = {}
"""Fonts and parsed styles by kit and faces: reading them is most of the time that a page takes."""
atexit.register(_KEPT.clear)  # WeasyPrint's fonts cannot be let go once Python takes its modules down


def _styles(kit: PaperKit, faces: tuple[str, ...]) -> tuple[FontConfiguration, tuple[CSS, ...]]:
    """One font configuration and the parsed style sheets, kept for the life of the process."""
    key = (kit.digest, faces)
    if key not in _KEPT:
        press = _load_press()
        fonts, record = press.fonts(), Record()
        sheets = []
        with _log_into(record):
            for text in ("".join(kit.font_rules[face] for face in faces), kit.style):
                fetcher = press.fetcher(kit.fonts, record)
                sheets.append(press.css(string=text, base_url=BASE_URL, url_fetcher=fetcher, font_config=fonts))
        if record.refused or record.logged:
            raise ValueError(f"the print styles are faulty: {(record.refused + record.logged)[0]}")
        _KEPT[key] = (fonts, tuple(sheets))
    return _KEPT[key]


@lru_cache(maxsize=1)
def writer_version() -> str:
    """The versions of what decides on the bytes of a PDF: part of the key of every PDF."""
    return ", ".join((VERSION, *(f"{name} {metadata.version(name)}" for name in ("weasyprint", "pydyf", "fonttools"))))

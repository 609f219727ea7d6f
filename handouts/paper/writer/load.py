"""WeasyPrint, imported at first use and bounded: only declared files are served, fonts say their letters, drawings are read late.

The only module that imports WeasyPrint, and only when a PDF is asked for: a site can be built where its
system libraries are missing.  Decides nothing about what is laid out.
"""

from __future__ import annotations

import os
import warnings
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from functools import lru_cache, partial
from typing import Any

from handouts.paper.writer.drawings import MARK
from handouts.paper.writer.forms import use_form
from handouts.paper.writer.languages import tag_languages
from handouts.paper.writer.outlines import keep_outlines
from handouts.paper.writer.parts import FontCutter, Generate, take_apart
from handouts.paper.writer.shortcuts import keep_lengths, skip_margins
from handouts.paper.writer.spelling import Spelled, glyph_texts
from handouts.paper.writer.styles import share_styles
from handouts.problems import PaperUnavailableError
from handouts.templating.assets import templates_root

BASE_URL = "https://assets.invalid/"
"""Where declared assets seem to be; the reserved name ``invalid`` never resolves (RFC 2606)."""
NO_FONTS = templates_root() / "fonts" / "fonts.conf"
"""A fontconfig file that names no folder: no font of the machine is seen."""
_SVG = "{http://www.w3.org/2000/svg}svg"


@dataclass(slots=True)
class WriterLog:
    """What the writer asked for in vain and what it logged, in order."""

    refused: list[str] = field(default_factory=list)
    logged: list[str] = field(default_factory=list)


@dataclass(frozen=True, slots=True)
class WeasyPrintParts:
    """The parts of WeasyPrint that are used."""

    read: Callable[[str, Any, Any], Any]
    """From HTML, its root element where that is known, and what fetches to the writer's own document."""
    css: Any
    fonts: Any
    fetcher: Any
    page: Any
    lay_background: Any
    refusal: type[BaseException]
    generate: Generate
    cut_font: FontCutter
    describe: Callable[[str, str, str], tuple[str, bytes]]
    """From title, author and language to the name of the program and the metadata of a PDF/UA-1."""


@lru_cache(maxsize=1)
def load_writer() -> WeasyPrintParts:
    """WeasyPrint, imported at first use; PaperUnavailableError where a system library is missing."""
    os.environ["FONTCONFIG_FILE"] = str(NO_FONTS)
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")  # it warns that no font is configured: that is the point
            import weasyprint
            from weasyprint import CSS, HTML, css, html, layout, pdf
            from weasyprint.document import Page
            from weasyprint.images import SVGImage
            from weasyprint.layout import absolute, block, column, float, grid, inline, page, percent, table
            from weasyprint.layout.background import layout_box_backgrounds
            from weasyprint.pdf import stream, tags
            from weasyprint.svg import SVG, TAGS
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
    css.StyleFor = share_styles(css.StyleFor)
    for module in (absolute, block, column, float, grid, inline, page, table):
        module.resolve_percentages = keep_lengths(percent.resolve_percentages)
    layout.make_margin_boxes = skip_margins(page.make_margin_boxes)
    TAGS["path"] = keep_outlines(TAGS["path"])
    tags._build_box_tree = tag_languages(tags._build_box_tree, tags.pydyf.String)

    class AssetFetcher(URLFetcher):  # type: ignore[misc]
        """Serves declared assets; all else is refused, recorded, and stops the render."""

        def __init__(
            self, assets: Mapping[str, bytes], record: WriterLog, drawings: Sequence[Any] = (), *, shares: bool = False
        ) -> None:
            super().__init__(allowed_protocols=(), allow_redirects=False)
            self._assets, self._record, self.drawings, self.shares = assets, record, drawings, shares

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

        def draw(self, page: Any, width: float, height: float, *given: Any) -> None:
            if not use_form(self._tree, page, width, height, self._draw_by_itself):
                self._read()
                super().draw(page, width, height, *given)

        def _read(self) -> None:
            fonts = self._context.font_config if self._context else None
            self._svg = SVG(self._tree, self._base_url, fonts, self._url_fetcher)

        def _draw_by_itself(self, form: Any) -> Any:
            self._read()
            box = self._svg.get_viewbox()
            if box:
                self._svg.draw(form, box[2], box[3], self._base_url, self._context)
            return box

    class ReadHtml(HTML):  # type: ignore[misc]
        """A document whose elements are known."""

        def __init__(self, root: Any, url_fetcher: Any) -> None:
            self.base_url, self.url_fetcher, self.media_type = BASE_URL, url_fetcher, "print"
            self.wrapper_element = weasyprint.cssselect2.ElementWrapper.from_html_root(root, content_language=None)
            self.etree_element = self.wrapper_element.etree_element

    def read_html(text: str, root: Any, url_fetcher: Any) -> Any:
        return HTML(string=text, base_url=BASE_URL, url_fetcher=url_fetcher) if root is None else ReadHtml(root, url_fetcher)

    inline = html.HTML_HANDLERS[_SVG]

    def handle_drawing(element: Any, box: Any, get_image: Any, base_url: str) -> Any:
        number, known = element.get(MARK), get_image.keywords
        if number is None or not isinstance(known["url_fetcher"], AssetFetcher):
            return inline(element, box, get_image, base_url)
        tree = known["url_fetcher"].drawings[int(number)]
        image = TakenDrawing(element, tree, base_url, known["url_fetcher"], known["context"])
        return [html.make_replaced_box(element, box, image)]

    html.HTML_HANDLERS[_SVG] = handle_drawing
    generate, cut_font = take_apart(pdf, weasyprint.DEFAULT_OPTIONS)
    describe = partial(_describe, weasyprint)
    return WeasyPrintParts(
        read_html, CSS, FontConfiguration, AssetFetcher, Page, layout_box_backgrounds, FatalURLFetchingError, generate, cut_font, describe
    )


def _describe(writer: Any, title: str, author: str, language: str) -> tuple[str, bytes]:
    about = writer.pdf.metadata.DocumentMetadata(title=title, authors=[author], lang=language)
    body: bytes = about.generate_rdf_metadata("ua", 1, None)
    head = b'<?xpacket begin="" id="W5M0MpCehiHzreSzNTczkc9d"?>\n<x:xmpmeta xmlns:x="adobe:ns:meta/">'
    return f"WeasyPrint {writer.__version__}", head + body + b'</x:xmpmeta>\n<?xpacket end="r"?>'

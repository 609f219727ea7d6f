"""The writer's objects of some pages with no font cut and nothing written, and one font by itself.

Knows the writer's module by what it has: ``tests/paper/test_writer.py`` names what is relied on.
"""

from __future__ import annotations

import copy
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from typing import Any

import pydyf

Generate = Callable[[Any, bool], tuple[Any, Any]]
"""From laid-out pages, and whether they are tagged, to a document with its fonts and a PDF with its objects."""
FontCutter = Callable[[Any, dict[int, str], dict[int, int], dict[int, str]], tuple[int, int, list[tuple[bytes, bool]]]]
"""From a font, letters, widths and missing glyphs to the number of the first object, of the font's own, and all objects."""
PDF_VERSION = "1.7"


def take_apart(writer: Any, options: Mapping[str, Any]) -> tuple[Generate, FontCutter]:
    """Both functions for the writer's module of PDFs and its options."""
    settings = {**options, "pdf_version": PDF_VERSION}
    build_fonts = writer.build_fonts_dictionary

    class GatheringStream(writer.Stream):  # type: ignore[misc]
        """A page that says which drawings it uses as forms."""

        def __init__(self, *given: Any, **named: Any) -> None:
            super().__init__(*given, **named)
            self.forms: dict[str, Any] = {}

    def no_fonts(*_: Any) -> Any:
        return pydyf.Dictionary()

    def all_links(pages: Any) -> Iterator[tuple[list[Any], list[Any]]]:
        """Links of each page, those into other articles among them; where an anchor stands is known from the pages."""
        for page in pages:
            yield list(page.links), []

    @contextmanager
    def apart() -> Iterator[None]:
        was = writer.build_fonts_dictionary, writer.resolve_links, writer.Stream
        writer.build_fonts_dictionary, writer.resolve_links, writer.Stream = no_fonts, all_links, GatheringStream
        try:
            yield
        finally:
            writer.build_fonts_dictionary, writer.resolve_links, writer.Stream = was

    def generate(made: Any, tagged: bool) -> tuple[Any, Any]:
        document = made.copy(made.pages)
        with apart():
            return document, writer.generate_pdf(document, None, 1, **{**settings, "pdf_tags": tagged})

    def cut_font(
        font: Any, letters: dict[int, str], widths: dict[int, int], missing: dict[int, str]
    ) -> tuple[int, int, list[tuple[bytes, bool]]]:
        font = copy.copy(font)
        font.to_unicode, font.widths, font.missing = letters, widths, missing
        pdf = pydyf.PDF()
        first = len(pdf.objects)
        own = build_fonts(pdf, {0: font}, True, True, settings)[font.hash]
        return first, int(own.split()[0]), [(each.data, not each.compressible) for each in pdf.objects[first:]]

    return generate, cut_font

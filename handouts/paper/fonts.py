"""Fonts of a document: each face cut to the glyphs that its pages use, once for each set of glyphs.

The writer keeps the numbers of glyphs, so what is drawn does not depend on how a font is cut.  A face is known by a
hash of its description; what is the same in every document comes from a short text set in every face.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from functools import cache, lru_cache
from typing import Any

from handouts.paper.assets import FACES
from handouts.paper.contained_writer import lay_out
from handouts.paper.objects import draw_pages
from handouts.paper.pdf.drawn import FontUse
from handouts.paper.writer.load import load_writer
from handouts.problems import Place

_LETTERS = {"en": "a", "vi": "a", "ar": "\u0627", "zh-Hans": "\u7684"}
"""A letter of each face by a language that is set in it."""
# a half of a sheet in two languages is set in the faces of its own language
_SAMPLE = "".join(f'<div class="half" lang="{language}">{text} <b>{text}</b></div>' for language, text in _LETTERS.items())
_NUMBER = re.compile(rb"\b(\d+) 0 R")
_OWN_SAMPLE, _OWN_FAMILY = re.compile(r"/\* (.) \*/"), re.compile(r'--font: "([^"]+)"')
"""In the rules of the library's own fonts: a letter of each, and its family (``handouts.paper.own_faces``)."""
KEPT_OWN = 8
"""Sets of the library's own fonts that are kept in a process."""
KEPT = 256
"""Cut fonts that are kept in a process, of 10 to 100 kB each."""

Glyphs = tuple[tuple[int, str], ...]
Widths = tuple[tuple[int, int], ...]


class CutFont:
    """The objects of a font: data, and whether each is a stream; numbers of others among them are ``@N@ 0 R``, from 0."""

    __slots__ = ("own", "parts")

    def __init__(self, parts: tuple[tuple[bytes, bool], ...], own: int) -> None:
        self.parts, self.own = parts, own

    def numbered(self, base: int) -> list[tuple[int, bytes, bool]]:
        """Number, data and whether it is a stream, where the first object has the number ``base``."""
        return [
            (base + place, data if stream else re.sub(rb"@(\d+)@", lambda found: b"%d" % (base + int(found[1])), data), stream)
            for place, (data, stream) in enumerate(self.parts)
        ]


def merge_fonts(uses: Iterable[FontUse]) -> tuple[FontUse, ...]:
    """The uses of each face together: what is said of a glyph first holds.  In the order of the faces' names."""
    merged: dict[str, tuple[dict[int, str], dict[int, int], dict[int, str]]] = {}
    for use in uses:
        letters, widths, missing = merged.setdefault(use.name, ({}, {}, {}))
        for glyph, text in use.letters.items():
            letters.setdefault(glyph, text)
        for glyph, width in use.widths.items():
            widths.setdefault(glyph, width)
        for glyph, text in use.missing.items():
            missing.setdefault(glyph, text)
    return tuple(FontUse(name, *merged[name]) for name in sorted(merged))


def cut_font(use: FontUse, own: str = "") -> CutFont:
    """The font with the glyphs that are used; ValueError for a face that is none of the sheets'.

    ``own`` are the rules of the library's own fonts.
    """
    return _cut(use.name, tuple(sorted(use.letters.items())), tuple(sorted(use.widths.items())), tuple(sorted(use.missing.items())), own)


@lru_cache(maxsize=KEPT)
def _cut(name: str, letters: Glyphs, widths: Widths, missing: Glyphs, own_fonts: str) -> CutFont:
    known = _faces()
    if name not in known and own_fonts:
        known = _own_faces(own_fonts)
    if name not in known:
        raise ValueError(f"no face of the sheets has the name {name}")
    first, own, objects = load_writer().cut_font(known[name], dict(letters), dict(widths), dict(missing))
    return CutFont(
        tuple(
            (data if stream else _NUMBER.sub(lambda found: b"@%d@ 0 R" % (int(found[1]) - first), data), stream)
            for data, stream in objects
        ),
        own - first,
    )


@cache
def _faces() -> dict[str, Any]:
    """The writer's font of each face by its name."""
    return _faces_of("", _SAMPLE)


@lru_cache(maxsize=KEPT_OWN)
def _own_faces(own: str) -> dict[str, Any]:
    """The same for the fonts that a library brings."""
    samples = zip(_OWN_SAMPLE.findall(own), _OWN_FAMILY.findall(own), strict=True)
    return _faces_of(own, "".join(f'<p style="font-family: &quot;{family}&quot;">{letter} <b>{letter}</b></p>' for letter, family in samples))


def _faces_of(own: str, body: str) -> dict[str, Any]:
    head = f'<style class="own-fonts">{own}</style>' if own else ""
    html = f'<!doctype html><html lang="en"><head><title>faces</title>{head}</head><body>{body}</body></html>'
    return draw_pages(lay_out(html, {}, Place("faces"), faces=tuple(FACES)), tagged=False)[1]

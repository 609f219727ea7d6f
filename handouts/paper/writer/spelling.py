"""Which letters each glyph of an Arabic font stands for, so that a PDF can be read aloud, searched and copied.

The PDF writer takes a glyph's letters from where it is first met.  There, a vowel sign on the ligature of lam
and alef got the letters of both, and the ligature none, for the whole font.  The font itself knows better.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Mapping
from functools import lru_cache
from io import BytesIO
from typing import Any

from fontTools.ttLib import TTFont

ARABIC_LETTER = 0x0627
"""Alef: a font that has it is an Arabic one."""
SHAPING = ("ccmp", "locl", "isol", "init", "medi", "fina", "rlig", "calt", "liga")
"""OpenType features that are always on in Arabic text; what they give is made of the letters that they take."""
SINGLE, LIGATURE = 1, 4
"""Types of substitutions (OpenType, GSUB)."""


class Spelled(dict[int, str]):
    """Glyphs with their letters; where the font knows them, what it knows is kept in place of what is given."""

    def __init__(self, known: Mapping[int, str]) -> None:
        super().__init__()
        self._known = known

    def __setitem__(self, glyph: int, text: str) -> None:
        super().__setitem__(glyph, self._known.get(glyph, text))


@lru_cache(maxsize=16)
def glyph_texts(font_file: bytes) -> Mapping[int, str]:
    """The letters of each glyph by its number; empty for a font that is not Arabic."""
    font = TTFont(BytesIO(font_file), lazy=True)
    letters = font.getBestCmap()
    if ARABIC_LETTER not in letters or "GSUB" not in font:
        return {}
    texts: dict[str, str] = {}
    for point, glyph in sorted(letters.items()):
        texts.setdefault(glyph, unicodedata.normalize("NFKC", chr(point)))
    tables = _shaping_tables(font["GSUB"].table)
    known = -1
    while known != len(texts):
        known = len(texts)
        for table in tables:
            _follow(table, texts)
    return {font.getGlyphID(glyph): text for glyph, text in texts.items()}


def _shaping_tables(gsub: Any) -> list[Any]:
    """The substitutions of one glyph, and those of several by one."""
    numbers = [
        number
        for record in gsub.FeatureList.FeatureRecord
        if record.FeatureTag in SHAPING
        for number in record.Feature.LookupListIndex
    ]
    tables = [
        getattr(table, "ExtSubTable", table)
        for number in dict.fromkeys(numbers)
        for table in gsub.LookupList.Lookup[number].SubTable
    ]
    return [table for table in tables if table.LookupType in (SINGLE, LIGATURE)]


def _follow(table: Any, texts: dict[str, str]) -> None:
    """Adds the glyphs that a table makes of glyphs that are known."""
    if table.LookupType == SINGLE:
        for glyph, made in table.mapping.items():
            if glyph in texts:
                texts.setdefault(made, texts[glyph])
        return
    for first, ligatures in table.ligatures.items():
        for ligature in ligatures:
            parts = (first, *ligature.Component)
            if all(part in texts for part in parts):
                texts.setdefault(ligature.LigGlyph, "".join(texts[part] for part in parts))

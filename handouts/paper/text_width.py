"""How wide a text runs, counted in letters."""

from __future__ import annotations

from functools import lru_cache

from markupsafe import Markup

WIDE_LETTERS = 0x2E80
"""From here on a letter is twice as wide as a Latin one (CJK)."""


def text_width(text: Markup | str) -> int:
    """Letters of a text, a wide one counted twice; its markup is not counted."""
    return _width(str(text))


@lru_cache(maxsize=65_536)
def _width(text: str) -> int:
    plain = str(Markup(text).striptags())
    return len(plain) + (0 if plain.isascii() else sum(ord(letter) >= WIDE_LETTERS for letter in plain))

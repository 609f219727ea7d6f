"""Two languages made from English for layout tests: lengthened with accents, and mirrored.

``en-XA`` shows text that is not translated (no accents) and boxes that are too narrow (a third longer);
``ar-XB`` shows what is not mirrored.  Placeholders, links, numbers and inline marks stay as they are.
"""

from __future__ import annotations

import re
from collections.abc import Mapping

ACCENTS = str.maketrans("aceinouyACEINOUY", "áçéíñóúýÁÇÉÍÑÓÚÝ")
"""Letters that every Latin font of the project has."""
LENGTHEN = 3
"""Every third word is said twice: German and Spanish need about a third more room than English."""
MIRROR = ("\u202e", "\u202c")
"""Right-to-left override and its end (Unicode TR 9): English words run from right to left."""

_KEEP = re.compile(r"(\{[a-z_]+\}|\]\([^)]*\)|https?://\S+)")
_WORD = re.compile(r"[^\W\d_]+(?:['’-][^\W\d_]+)*")


def change_text(text: str, language: str) -> str:
    """An English text in a pseudo-language."""
    change = _lengthen if language == "en-XA" else _mirror
    parts = _KEEP.split(text)
    return "".join(part if index % 2 else change(part) for index, part in enumerate(parts))


def change_forms(forms: Mapping[str, str], language: str) -> dict[str, str]:
    """Every form of a phrase in a pseudo-language."""
    return {category: change_text(text, language) for category, text in forms.items()}


def _lengthen(part: str) -> str:
    counter = iter(range(len(part)))

    def longer(match: re.Match[str]) -> str:
        word = match[0].translate(ACCENTS)
        return f"{word} {word.lower()}" if next(counter) % LENGTHEN == 0 else word

    return _WORD.sub(longer, part)


def _mirror(part: str) -> str:
    return _WORD.sub(lambda match: f"{MIRROR[0]}{match[0]}{MIRROR[1]}", part)

"""The ``@font-face`` rules of a style sheet, as the tool of ``templates/fonts`` writes them."""

from __future__ import annotations

import re
from dataclasses import dataclass

_RULE = re.compile(r"@font-face\s*\{[^}]*\}")
_FAMILY = re.compile(r'font-family:\s*"([^"]+)"')
_ADDRESS = re.compile(r'url\("?([^")]+)"?\)')


@dataclass(frozen=True, slots=True)
class FontFace:
    """One rule: its text, the family, and the address of its file (empty where it is a reader's own font)."""

    rule: str
    family: str
    address: str


def read_font_faces(css: str) -> tuple[FontFace, ...]:
    """Every ``@font-face`` rule of a style sheet in order; ValueError where one names no family."""
    return tuple(map(_read_face, _RULE.findall(css)))


def own_family(language: str) -> str:
    """The name of the family of a font that a library brings for a language."""
    return f"Own {language}"


def language_rule(language: str) -> str:
    """The rule by which texts of a language are set in the library's own font, and all other signs in ours."""
    return f'[lang|="{language}"] {{ --font: "{own_family(language)}", "Noto Sans", "Noto Sans Names", system-ui, sans-serif; }}'


def _read_face(rule: str) -> FontFace:
    family, address = _FAMILY.search(rule), _ADDRESS.search(rule)
    if family is None:
        raise ValueError(f"a font rule names no family: {rule[:60]!r}")
    return FontFace(rule, family[1], address[1] if address else "")

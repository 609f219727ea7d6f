"""What sheets are made with: templates, styles and fonts of the ``templates`` folder, read once a process.

Holds bytes and texts only; never lays anything out.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property, lru_cache
from hashlib import sha256

import tinycss2

from handouts.publication.font_faces import read_font_faces
from handouts.templating.assets import read_templates

TEMPLATES = ("fonts/", "sheets/", "styles/tokens.css", "styles/print.css")
"""What is read of the folder: a file, or all below a folder."""
FACES = {
    "latin": "atkinson",
    "wide": "noto-sans",
    "arabic": "noto-sans-arabic",
    "chinese": "noto-sans-sc",
}
"""The file of each face below ``fonts/``, without its weight."""
_REACH = {
    "arabic": re.compile("[\u0600-\u08ff]"),
    "chinese": re.compile("[\u3000-\u9fff\uff00-\uffef]"),
}
"""Code points for which a document needs a face beside ``latin`` and ``wide``."""


@dataclass(frozen=True)
class PaperAssets:
    """Templates by name, the style sheet in its parts, fonts by the address that the style sheet names."""

    templates: Mapping[str, str]
    style: str
    """Tokens and print rules, without what a sheet cannot have: dark mode, forced colours."""
    font_rules: Mapping[str, str]
    """The ``@font-face`` rules of each face."""
    fonts: Mapping[str, bytes]

    @cached_property
    def digest(self) -> str:
        """A hash of styles and fonts."""
        parts = [self.style, *(f"{name}\n{text}" for name, text in sorted(self.font_rules.items()))]
        hashes = [sha256(data).hexdigest() for _, data in sorted(self.fonts.items())]
        return sha256("\n".join((*parts, *hashes)).encode()).hexdigest()


def read_paper_assets(files: Mapping[str, bytes]) -> PaperAssets:
    """What sheets are made with, from the files of the ``templates`` folder, by their path in it."""
    rules = {face.address: face.rule + "\n" for face in read_font_faces(files["fonts/print.css"].decode())}
    style = "\n".join(files[f"styles/{name}.css"].decode() for name in ("tokens", "print"))
    prefix = "sheets/"
    return PaperAssets(
        templates={path.removeprefix(prefix): data.decode() for path, data in files.items() if path.startswith(prefix)},
        style=drop_screen_rules(style),
        font_rules={face: "".join(rules[name] for name in rules if _is_of(name, FACES[face])) for face in FACES},
        fonts={path.removeprefix("fonts/"): files[path] for path in (f"fonts/{name}" for name in rules)},
    )


@lru_cache(maxsize=1)
def load_paper_assets() -> PaperAssets:
    """What this installation has of it, read once a process."""
    return read_paper_assets(read_templates(TEMPLATES))


def faces_for(text: str) -> tuple[str, ...]:
    """The faces that a text needs; the large ones only where it has their letters."""
    return tuple(face for face in FACES if face not in _REACH or _REACH[face].search(text))


def drop_screen_rules(css: str) -> str:
    """A style sheet without its ``@media`` rules, which the PDF writer does not read; ValueError where it is not CSS."""
    rules = tinycss2.parse_stylesheet(css, skip_comments=True, skip_whitespace=True)
    for rule in rules:
        if rule.type == "error":
            raise ValueError(f"the print styles are faulty in line {rule.source_line}: {rule.message}")
    return "\n".join(rule.serialize() for rule in rules if getattr(rule, "lower_at_keyword", "") != "media")


def _is_of(address: str, face: str) -> bool:
    return address.rpartition("/")[2].rpartition("-")[0] == face

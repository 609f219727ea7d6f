"""What pages are made with: templates, styles, scripts and fonts, and the assets that come of them.

An asset's name carries the hash of its bytes, so that a page never meets the style or script of another
build.  Pure: takes bytes, gives bytes.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from hashlib import sha256

from handouts.model import OwnFace
from handouts.publication.font_faces import FontFace, language_rule, read_font_faces
from handouts.site.accent import LIGHT_GROUNDS, accent_on, accent_rules

SCRIPTS = ("class_timer", "exercise", "exercises", "function_test", "home", "not_found", "page_state")
"""The kinds of pages that a script of the same name runs on."""
MADE_SCRIPTS = "scripts/made/"
"""Folder of the bundled scripts below ``templates/``; ``tests/make_scripts.py`` makes them."""
FAMILIES = {
    "Atkinson Hyperlegible Next": (),
    "Noto Sans": ("vi", "ru", "uk", "bg", "sr", "el", "zh"),
    "Noto Sans Arabic": ("ar", "fa", "ur"),
    "Noto Sans SC": ("zh",),
}
"""The languages that need each family; none named means all."""
PLAIN_LANGUAGES = ("en",)
PLAIN_FILES, OTHER_FILES = ("atkinson-plain", "atkinson-rest"), ("atkinson",)
"""Languages that seldom need a letter with an accent have these in a file of their own; others have all in one."""
ARABIC_FILES, ARABIC_SCRIPT_FILES = ("noto-sans-arabic-first", "noto-sans-arabic-rest"), ("noto-sans-arabic",)
"""Pages in Arabic have the letters of other languages with its script in a file of their own, pages in these have all in one."""
NAMES = {
    "noto-names-wide": ("vi", "ru", "uk", "bg", "sr"),
    "noto-names-arabic": ("ar", "fa", "ur"),
    "noto-names-sc": ("zh",),
    "noto-mark-sc": ("zh",),
}
"""Files with the names of languages, which pages of every other language show, and the mark of an invented library; whose each holds."""
_HASH_CHARACTERS = 10
_COMMENT = re.compile(r"/\*.*?\*/", re.DOTALL)
_SPACE = re.compile(r"\s*([{};,])\s*")


@dataclass(frozen=True, slots=True)
class AssetSources:
    """The texts and bytes below ``templates/`` that the site uses."""

    templates: Mapping[str, str]
    icon: str
    """The site's sign as SVG; ``ACCENT`` stands for the clinic's colour."""
    faces: str
    """The ``@font-face`` rules of the web fonts, and of the readers' own fonts that stand in for them."""
    styles: tuple[str, str, str, str]
    """Style sheets: roles; figures; what surrounds a page and its shared parts; the site's own pages."""
    class_style: str
    """The style sheet of what only the pages of classes have."""
    scripts: Mapping[str, str]
    """The script of each kind of page."""
    fonts: Mapping[str, bytes]
    """Web fonts by the address that their rule gives."""


def read_asset_sources(files: Mapping[str, bytes]) -> AssetSources:
    """What the site uses of the files of the ``templates`` folder, by their path in it."""
    text = {path: data.decode("utf-8") for path, data in files.items() if not path.startswith("fonts/")}
    return AssetSources(
        templates={path.removeprefix("pages/"): value for path, value in text.items() if path.startswith("pages/")},
        icon=text["icon.svg"],
        faces=(files["fonts/web.css"] + files["fonts/stand-in.css"]).decode("utf-8"),
        class_style=text["styles/class.css"],
        styles=(text["styles/tokens.css"], text["styles/figure.css"], text["styles/screen.css"], text["styles/pages.css"]),
        scripts={kind: text[f"{MADE_SCRIPTS}{kind}.js"] for kind in SCRIPTS},
        fonts={
            path.removeprefix("fonts/"): data
            for path, data in files.items()
            if path.startswith("fonts/web/") and path.endswith(".woff2")
        },
    )


@dataclass(frozen=True, slots=True)
class Assets:
    """The shared files of a site, and where they stand."""

    files: Mapping[str, bytes]
    style: str
    frame_style: str
    """The rules of fonts, roles and what surrounds a page, for pages that bring rules of their own: a text."""
    figure_style: str
    """Those of drawn figures."""
    class_style: str
    """Path of the style sheet of the pages of classes."""
    icon: str
    scripts: Mapping[str, str]
    """Path of the script of each kind of page."""


def name_by_hash(stem: str, ending: str, data: bytes) -> str:
    """The path of an asset: ``assets/STEM.HASH.ENDING``."""
    return f"assets/{stem}.{sha256(data).hexdigest()[:_HASH_CHARACTERS]}.{ending}"


def add_asset(files: dict[str, bytes], stem: str, ending: str, data: str | bytes) -> str:
    """The path of an asset that is added to the files under the name of its hash."""
    raw = data if isinstance(data, bytes) else data.encode()
    path = name_by_hash(stem, ending, raw)
    files[path] = raw
    return path


def build_assets(
    sources: AssetSources, accent: str, languages: tuple[str, ...], named: tuple[str, ...] = (), own: OwnFace | None = None
) -> Assets:
    """The style sheet with the clinic's colour, the fonts that the languages need, and the scripts.

    ``named`` are all languages whose names the pages show, ``own`` is a font that the library brings.
    """
    files: dict[str, bytes] = {}
    others = tuple(language for language in named if language not in languages)
    needed = (face for face in read_font_faces(sources.faces) if _is_needed(face, languages, others))
    faces = "".join(_pack_face(sources, face, files) for face in needed)
    tokens, figure, screen, own_pages = sources.styles
    rule = language_rule(own.language) if own else ""
    faces += _own_rules(own, files) if own else ""
    frame = faces + pack_style("\n".join((tokens, rule, accent_rules(accent), screen)))
    style_path = add_asset(files, "screen", "css", frame + pack_style(figure) + pack_style(own_pages))
    icon = sources.icon.replace("ACCENT", accent_on(accent.lower(), LIGHT_GROUNDS, "#000000"))
    class_path = add_asset(files, "class", "css", pack_style(sources.class_style))
    icon_path = add_asset(files, "icon", "svg", icon)
    scripts = {kind: add_asset(files, kind, "js", sources.scripts[kind]) for kind in SCRIPTS}
    return Assets(files, style_path, frame, pack_style(figure), class_path, icon_path, scripts)


def _own_rules(own: OwnFace, files: dict[str, bytes]) -> str:
    """The rules of a font that the library brings; its files are added."""
    rules = ""
    for weight, data in zip((400, 700), own.web, strict=True):
        path = add_asset(files, f"own-{own.language}-{weight}", "woff2", data).removeprefix("assets/")
        source = f'src: url("{path}") format("woff2")'
        rules += f'@font-face {{ font-family: "{own.family}"; font-weight: {weight}; font-style: normal; {source}; font-display: swap; }}\n'
    return rules


def pack_style(css: str) -> str:
    """A style sheet without comments and the space that says nothing; texts in it hold no sign of the grammar."""
    packed = _SPACE.sub(r"\1", _COMMENT.sub("", css)).replace(";}", "}")
    return re.sub(r"\s+", " ", packed.replace(": ", ":")).strip() + "\n"


def _is_needed(face: FontFace, languages: tuple[str, ...], others: tuple[str, ...]) -> bool:
    """Whether a font rule serves a script of these languages, or the names of the others."""
    stem = face.address.rpartition("/")[2].rpartition("-")[0]
    if stem in (*PLAIN_FILES, *OTHER_FILES):
        is_plain = all(language.partition("-")[0] in PLAIN_LANGUAGES for language in languages)
        return stem in (PLAIN_FILES if is_plain else OTHER_FILES)
    if stem in (*ARABIC_FILES, *ARABIC_SCRIPT_FILES):
        script = {language.partition("-")[0] for language in languages} & set(FAMILIES["Noto Sans Arabic"])
        return bool(script) and stem in (ARABIC_FILES if script == {"ar"} else ARABIC_SCRIPT_FILES)
    for name, served in NAMES.items():
        if f"/{name}-" in face.address:
            return _is_served(served, others)
    served_by = FAMILIES.get(face.family.partition(" as ")[0])
    if served_by is None:
        raise ValueError(f"no language is known for the font family {face.family!r}")
    return not served_by or _is_served(served_by, languages)


def _is_served(served: tuple[str, ...], languages: tuple[str, ...]) -> bool:
    return any(language.partition("-")[0] in served for language in languages)


def _pack_face(sources: AssetSources, face: FontFace, files: dict[str, bytes]) -> str:
    """The rule with the font, where it names one, under its hashed name, which is added to the files."""
    if not face.address:
        return face.rule + "\n"
    stem = face.address.rpartition("/")[2].removesuffix(".woff2")
    path = add_asset(files, stem, "woff2", sources.fonts[face.address])
    return face.rule.replace(face.address, path.removeprefix("assets/")) + "\n"

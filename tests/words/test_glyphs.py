"""No glyph is missing: every letter of every page and sheet of the demo, against the fonts that it is shown in."""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import cache
from html.parser import HTMLParser
from io import BytesIO

import pytest
from fontTools.ttLib import TTFont

from handouts.paper.assets import faces_for, load_paper_assets
from handouts.paper.context import PaperSetting, make_setting
from handouts.paper.plan import bundle_document, programme_document, sheet_document
from handouts.paper.two_languages import plan_beside
from handouts.site.context import Edition
from handouts.templating.assets import read_templates
from handouts.words.wording import Wording
from tests.site.making import Drawings, asset_sources, lay_out_site
from tests.words.demo import LANGUAGES, libraries

EVERY = ("en", *LANGUAGES)
INVISIBLE = {*map(ord, "\n\t\u200b\u200e\u200f\u2066\u2067\u2068\u2069")}
"""Marks of direction and line ends: drawn by no font."""
Letters = set[tuple[str, str]]
"""Language and letter."""


class Shown(HTMLParser):
    """The letters that a document shows, each with the language of its element."""

    def __init__(self) -> None:
        super().__init__()
        self.letters: Letters = set()
        self.open: list[tuple[str, str]] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        language = dict(attrs).get("lang") or (self.open[-1][1] if self.open else "")
        if tag not in ("meta", "link", "img", "br", "input", "path", "circle", "hr"):
            self.open.append((tag, language))

    def handle_endtag(self, tag: str) -> None:
        while self.open and self.open.pop()[0] != tag:
            pass

    def handle_data(self, data: str) -> None:
        if self.open and not {"script", "style", "title", "desc"} & {tag for tag, _ in self.open}:
            self.letters |= {(self.open[-1][1], letter) for letter in data}


def shown_in(html: str) -> Letters:
    """What a document shows."""
    shown = Shown()
    shown.feed(html)
    return shown.letters


@cache
def stack_of(css: str, language: str) -> list[str]:
    """The families that the style sheet names for the text of a language, in order."""
    stacks: dict[str, str] = {}
    for selectors, body in re.findall(r"([^{}]+)\{([^{}]*)\}", re.sub(r"/\*.*?\*/", "", css, flags=re.S)):
        found = re.search(r"--font:\s*([^;]+);", body)
        for selector in selectors.split(",") if found else ():
            stacks.setdefault(selector.strip(), found[1] if found else "")
    stack = stacks.get(f'[lang|="{language.partition("-")[0]}"]', stacks[":root"])
    return re.findall(r'"([^"]+)"', stack)


Faces = dict[str, frozenset[int]]
"""By family the letters that its files have and that their rules reach."""


@cache
def letters_of(address: str) -> frozenset[int]:
    """The letters that a font of the project has; ``address`` below ``fonts/``."""
    return frozenset(TTFont(BytesIO(read_templates()[f"fonts/{address}"]), lazy=True).getBestCmap())


@cache
def faces_of(css: str) -> Faces:
    """The declared fonts of the project; a web font is found by its name without the hash.

    A font of the reader's system that stands in for one of them counts for nothing: its letters are not known.
    """
    found: Faces = {}
    for rule in re.findall(r"@font-face\s*\{([^}]*)\}", css):
        family = re.search(r'font-family:\s*"([^"]+)"', rule)
        address = re.search(r'url\("?([^")]+)"?\)', rule)
        reach = re.search(r"unicode-range:\s*([^;]+);", rule)
        assert family
        if not address:
            assert "local(" in rule and family[1] != family[1].partition(" as ")[0]
            continue
        hashed = re.fullmatch(r"([\w-]+)\.\w+\.woff2", address[1])
        held = letters_of(f"web/{hashed[1]}.woff2" if hashed else address[1])
        found[family[1]] = found.get(family[1], frozenset()) | (held.intersection(_points(reach[1])) if reach else held)
    return found


def _points(text: str) -> Iterator[int]:
    for part in text.split(","):
        first, _, last = part.strip().removeprefix("U+").partition("-")
        yield from range(int(first, 16), int(last or first, 16) + 1)


def missing(letters: Letters, css: str, faces: Faces) -> list[str]:
    """The letters that no font of their language's stack has."""
    return sorted(
        f"{language}: {letter!r} U+{ord(letter):04X}"
        for language, letter in letters
        if ord(letter) not in INVISIBLE
        and not any(ord(letter) in faces.get(family, ()) for family in stack_of(css, language))
    )


@cache
def site() -> dict[str, bytes]:
    """Every page of the demo in every language."""
    made = libraries()
    wordings = {language: Wording(language) for language in made}
    unreviewed = {language: frozenset({"everything"}) for language in LANGUAGES}
    return lay_out_site(tuple(made.values()), wordings, Drawings(), asset_sources(), Edition(version="K7QX2M", unreviewed=unreviewed))


@pytest.mark.parametrize("language", ["", *EVERY])
def test_pages(language: str) -> None:
    """Each letter of each page is in a font that the page's own style sheet declares; the root page has all languages."""
    files = site()
    pages = [path for path in files if path.endswith(".html") and (path.startswith(f"{language}/") if language else "/" not in path)]
    assert pages
    for path in pages:
        html = files[path].decode()
        style = re.search(r'href="[^"]*(assets/screen\.\w+\.css)"', html)
        assert style
        css = files[style[1]].decode()
        # The font of an element is that of the page: only the page's language chooses it.
        page_language = re.search(r'<html lang="([^"]+)"', html)
        assert page_language
        letters = {(page_language[1], letter) for _, letter in shown_in(html)}
        assert missing(letters, css, faces_of(css)) == [], path


def settings() -> dict[str, PaperSetting]:
    """What sheets are made from, in every language."""
    edition = Edition(version="K7QX2M", unreviewed={language: frozenset({"everything"}) for language in LANGUAGES})
    return {language: make_setting(library, Wording(language), Drawings(), edition) for language, library in libraries().items()}


@pytest.mark.parametrize("language", EVERY)
def test_sheets(language: str) -> None:
    """Each letter of each sheet, booklet and two-language sheet is in a font that the PDF writer is given for it."""
    paper_assets, own = load_paper_assets(), settings()[language]
    documents = [
        *(sheet_document(own, exercise) for exercise in own.library.exercises),
        *(programme_document(own, programme) for programme in own.library.programmes),
        *(bundle_document(own, bundle) for bundle in own.library.bundles),
        *(make() for make in plan_beside(own, settings()["en"]).values() if language != "en"),
    ]
    assert len(documents) > 15
    tokens = read_templates()["styles/tokens.css"].decode()
    for document in documents:
        rules = "".join(paper_assets.font_rules[face] for face in faces_for(document.html))
        assert missing(shown_in(document.html), tokens, faces_of(rules)) == [], document.path


def test_the_test_sees_what_is_missing() -> None:
    """A letter that no font has is found, and so is a Chinese one on a page without the Chinese fonts."""
    paper_assets = load_paper_assets()
    tokens = read_templates()["styles/tokens.css"].decode()
    latin = faces_of("".join(paper_assets.font_rules[face] for face in ("latin", "wide")))
    assert missing(shown_in('<p lang="en">a → ę</p>'), tokens, latin) == ["en: '→' U+2192"]
    assert missing(shown_in('<p lang="en">ab <b lang="zh-Hans">中</b></p>'), tokens, latin) == ["zh-Hans: '中' U+4E2D"]


def test_the_small_chinese_font_has_what_the_demo_shows() -> None:
    """Nearly every letter is in the small file; where new words bring new ones, ``templates/fonts/make.py`` adds them."""
    small, files = letters_of("web/noto-sans-sc-first-400.woff2"), site()
    pages = (path for path in files if path.startswith("zh-Hans/") and path.endswith(".html"))
    shown = {letter for path in pages for _, letter in shown_in(files[path].decode()) if 0x3000 <= ord(letter) <= 0xFFEF}
    lacking = sorted(letter for letter in shown if ord(letter) not in small)
    assert len(lacking) < len(shown) / 50, "".join(lacking)

"""The demo in Chromium in every language, and the translator's pages: axe-core finds nothing, nothing is too wide."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page

from handouts.site.context import Edition
from handouts.templating.assets import read_templates
from handouts.translator.pages import lay_out_review
from handouts.words.messages import collect_messages
from handouts.words.state import find_state
from handouts.words.wording import Wording
from tests.site.axe import violations
from tests.site.making import Drawings, asset_sources, lay_out_site, pdfs_of, write_site
from tests.words.demo import LANGUAGES, demo, libraries

pytestmark = pytest.mark.browser

KINDS = ("index.html", "exercises/index.html", "exercises/step-up/index.html", "programmes/steady-on-stairs/index.html", "safety/index.html", "about/index.html")
REVIEW = ("review/index.html", "review/exercises/step-up/index.html", "review/other/index.html")
PAGES = ["index.html", *(f"{language}/{kind}" for language in ("en", *LANGUAGES) for kind in KINDS), *(f"{language}/{kind}" for language in ("ar", "fr") for kind in REVIEW)]
WIDTHS = (320, 1280)
"""No style changes between 320 and 480 px: what fits the first fits a phone of 360."""
LIKE_ANOTHER = (*(f"{language}/{kind}" for language in ("es", "fr", "vi") for kind in KINDS[1:]), "fr/review/other/index.html")
"""axe-core does not look at these: they are those of English, or of Arabic, but for longer words, whose widths are measured."""


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The demo's site on disk, in all languages, and the translator's pages of a whole and of a begun one."""
    where, (source, words), made = tmp_path_factory.mktemp("demo"), demo(), libraries()
    wordings = {language: Wording(language) for language in made}
    edition = Edition(version="K7QX2M", pdfs=frozenset().union(*map(pdfs_of, made.values())),
                      unreviewed={language: frozenset({"everything"}) for language in LANGUAGES})
    write_site(lay_out_site(tuple(made.values()), wordings, Drawings(), asset_sources(), edition), where)
    messages = collect_messages(source)
    states = [find_state(messages, words.catalogues[language], None, words.glossary) for language in ("ar", "fr")]
    write_site(lay_out_review(source, states, Drawings().figure_svg, read_templates()), where)
    return where


@pytest.fixture(scope="module")
def page(browser: Browser) -> Iterator[Page]:
    """A page whose policy is set aside, so that axe-core can be put into it."""
    context = browser.new_context(viewport={"width": WIDTHS[0], "height": 740}, bypass_csp=True)
    yield context.new_page()
    context.close()


@pytest.mark.parametrize("path", PAGES)
def test_accessible_and_narrow(page: Page, folder: Path, path: str) -> None:
    """No violation with everything unfolded; no page needs to be moved sideways."""
    page.goto((folder / path).as_uri())
    page.evaluate("document.querySelectorAll('details').forEach(each => { each.open = true; })")
    for width in WIDTHS:
        page.set_viewport_size({"width": width, "height": 740})
        assert page.evaluate("document.documentElement.scrollWidth - innerWidth") <= 0, width
    assert path in LIKE_ANOTHER or violations(page) == []


@pytest.mark.parametrize("language", ["en", *LANGUAGES])
def test_each_language_loads_its_own_fonts_only(browser: Browser, folder: Path, language: str) -> None:
    """With the language switch folded away, a page asks for the fonts of its own script; Chinese for the small file."""
    context = browser.new_context()
    asked: list[str] = []
    context.on("request", lambda request: asked.append(request.url.rpartition("/")[2].partition(".")[0].rpartition("-")[0]))
    opened = context.new_page()
    opened.goto((folder / language / "exercises/step-up/index.html").as_uri())
    opened.evaluate("document.fonts.ready.then(() => true)")
    fonts = {name for name in asked if name.startswith(("noto", "atkinson"))}
    latin = {"noto-sans-latin"}
    allowed = {"en": {"atkinson-plain"}, "vi": latin, "ar": {"atkinson", "noto-sans-arabic-first"}, "zh-Hans": {*latin, "noto-sans-sc-first"}}
    assert fonts == allowed.get(language, {"atkinson"})
    context.close()

"""A clinician's whole minute in Chromium: from the site's home to the print dialog."""

from __future__ import annotations

import re
from dataclasses import replace
from pathlib import Path

import pytest
from playwright.sync_api import expect

from handouts.clinician.pages import read_clinician_pages
from handouts.model import Library, Ref
from handouts.templating.assets import read_templates
from handouts.words.wording import Wording
from tests.bundle.sample import PLACE
from tests.clinician.making import EDITION, PaperDrawings, libraries, limits_of
from tests.clinician.minute import Clinician, Words, hand_over
from tests.site.browser import PRINTED, a_browser
from tests.site.making import Drawings, asset_sources, lay_out_site, write_site
from tests.site.test_browser import Watched
from tests.small_library import small_library

pytestmark = pytest.mark.browser

MOST_ACTIONS, MOST_SECONDS = 30, 60
WORDS = Words(programme="Stand up", search="squ", number=("sets-S2T4", "2"), limit="limit-hip", finding="the hip bends to 96 degrees", language="es")


def with_programme(library: Library) -> Library:
    """The library with a programme of two of its exercises."""
    programme = small_library().programmes[0]
    tier = replace(programme.tiers[0], exercises=(Ref("sit", PLACE), Ref("stand", PLACE)))
    return replace(library, programmes=(replace(programme, tiers=(tier,)),))


def test_from_home_to_the_print_dialog(tmp_path: Path) -> None:
    """A tier of a programme, an exercise by search, a dose, a limit, a language: 30 actions and 60 seconds at most."""
    english, spanish = (with_programme(library) for library in libraries())
    annex = read_clinician_pages(read_templates(), limits_of, PaperDrawings())
    wordings = {language: Wording(language) for language in ("en", "es")}
    write_site(lay_out_site((english, spanish), wordings, Drawings(), asset_sources(), EDITION, site_parts=(annex,)), tmp_path)
    with a_browser() as browser:
        context = browser.new_context(viewport={"width": 1280, "height": 900})
        context.add_init_script(PRINTED)
        watched = Watched(context.new_page())
        page = watched.page
        page.goto((tmp_path / "en/index.html").as_uri())
        hands = Clinician(page)
        chart = hand_over(hands, WORDS)
        assert (hands.actions <= MOST_ACTIONS, hands.seconds < MOST_SECONDS) == (True, True), (hands.actions, hands.seconds)
        expect(page).to_have_url(re.compile(re.escape("/es/sheets/standard/index.html")))
        assert [each.get_attribute("id") for each in page.locator("article.front, article.row").all()] == ["front", "row-sit", "row-stand", "row-squat"]
        assert page.locator("#row-stand .dose b").first.inner_text() == "2"
        assert "Precautions and restrictions: Hip replacement (weeks 1 to 6)" in chart
        assert "Hip" not in page.url
        assert watched.complaints == []
        context.close()


def test_the_model_adds_up() -> None:
    """Its sum for typing two letters with the hand on the mouse before, from the operators written out."""
    with a_browser() as browser:
        hands = Clinician(browser.new_page())
        hands.type("ab")
        hands.press("Alt+p")
        assert hands.actions == 2
        assert hands.seconds == pytest.approx(0.4 + 1.35 + 2 * 0.28 + 2 * 0.28)

"""What a search shows in Chromium, on the demo's pages: close matches, what may be left out, counts, programmes, signs."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, expect

from handouts.clinician.pages import read_clinician_pages
from handouts.site.context import Edition
from handouts.templating.assets import read_templates
from handouts.words.wording import Wording
from tests.site.making import Drawings, asset_sources, lay_out_site, write_site
from tests.words.demo import libraries

LISTS = ("en", "ar")
ALL = len(libraries()["en"].exercises)
"""Exercises of the list."""


@cache
def demo_site() -> dict[str, bytes]:
    """The lists, the home pages and the clinician's pages of the demo in two languages."""
    some = [libraries()[language] for language in LISTS]
    wordings = {language: Wording(language) for language in LISTS}
    wanted = {f"{language}/{page}index.html" for language in LISTS for page in ("", "exercises/", "bundle/")}
    return lay_out_site(some, wordings, Drawings(), asset_sources(), Edition(version="v1"), site_parts=(read_clinician_pages(read_templates()),), wanted=wanted.__contains__)


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The site in a folder."""
    folder = tmp_path_factory.mktemp("demo")
    write_site(demo_site(), folder)
    return folder


@pytest.fixture
def page(browser: Browser) -> Iterator[Page]:
    """A narrow page that must not complain."""
    page = browser.new_page(viewport={"width": 360, "height": 740})
    complaints: list[str] = []
    page.on("pageerror", lambda error: complaints.append(str(error)))
    yield page
    page.close()
    assert complaints == []


def open_list(page: Page, folder: Path, language: str = "en", state: str = "") -> None:
    """The list of exercises with its filters open."""
    page.goto(f"{(folder / language / 'exercises/index.html').as_uri()}{state}")
    page.evaluate("document.getElementById('filters').open = true")


@pytest.mark.browser
def test_close_matches_are_a_named_group(page: Page, folder: Path) -> None:
    """The live region says how many; a word that nothing has may be left out; Enter opens nothing that is only close."""
    open_list(page, folder)
    page.locator("#q").fill("knee xyzzy")
    group = page.get_by_role("region", name="Close matches")
    expect(group.locator("li").first).to_contain_text("Knee straightening on a chair")
    count = group.locator("li").count()
    expect(page.locator("#shown")).to_have_text(f"No exercise fits all of it. Close matches: {count}")
    expect(page.locator("#word-note")).to_contain_text("“xyzzy”")
    page.locator("#q").press("Enter")
    expect(page.locator("#q")).to_be_focused()
    page.get_by_role("button", name=f"Without “xyzzy” ({count})").click()
    expect(page.locator("#q")).to_have_value("knee")
    expect(page.get_by_role("region", name="Close matches")).to_have_count(0)
    expect(page.locator("#shown")).to_contain_text(f"{count} of {ALL}")
    expect(page.locator("#q")).to_be_focused()


@pytest.mark.browser
def test_filters_never_lead_to_an_empty_list(page: Page, folder: Path) -> None:
    """An entry has its count; one that would leave none cannot be chosen and stays in sight; each other one leaves its count."""
    open_list(page, folder)
    page.locator("#q").fill("bridge")
    expect(page.locator("#filter-region option[value=shoulder]")).to_have_text("Shoulder (0)")
    expect(page.locator("#filter-region option[value=shoulder]")).to_be_disabled()
    for value, text in page.evaluate("Array.from(document.querySelectorAll('#filter-region option:enabled'), o => [o.value, o.text])")[1:]:
        page.locator("#filter-region").select_option(value)
        expect(page.locator("#shown")).to_contain_text(f"{text.rpartition('(')[2].rstrip(')')} of {ALL}")
        page.locator("#filter-region").select_option("")


@pytest.mark.browser
def test_an_empty_list_offers_what_to_leave_out(page: Page, folder: Path) -> None:
    """A filter from the address and words that have nothing in common: the filter may be left out, and what is found then is told."""
    open_list(page, folder, state="#region=shoulder&q=bridge")
    expect(page.locator("#none")).to_be_visible()
    page.get_by_role("button", name="Without “Shoulder” (4)").click()
    expect(page.locator("#shown")).to_contain_text(f"4 of {ALL}")
    expect(page.locator("#none")).to_be_hidden()


@pytest.mark.browser
def test_programmes_and_bundles_from_the_home_page(page: Page, folder: Path) -> None:
    """What is typed on the home page finds them on the list; with a filter only exercises are shown."""
    page.goto((folder / "en/index.html").as_uri())
    page.locator("#q").fill("weak knees")
    page.locator("#q").press("Enter")
    group = page.get_by_role("region", name="Programs, bundles, tests and advice")
    expect(group.get_by_role("link", name="Stairs: the first 2 weeks")).to_be_visible()
    page.evaluate("document.getElementById('filters').open = true")
    page.locator("#filter-region").select_option("knee")
    expect(group).to_have_count(0)


@pytest.mark.browser
def test_advice_is_found_on_the_list_and_on_the_clinicians_page(page: Page, folder: Path) -> None:
    """It leads to its page; Enter adds nothing; nothing is wider than the page."""
    open_list(page, folder)
    page.locator("#q").fill("flare")
    several = page.get_by_role("region", name="Programs, bundles, tests and advice")
    expect(several.get_by_role("link", name="When it flares up")).to_have_attribute("href", "../leaflets/when-it-flares-up/index.html")
    page.goto((folder / "en/bundle/index.html").as_uri())
    page.locator("#find").fill("flare")
    link = page.get_by_role("region", name="Tests, advice and lessons").get_by_role("link", name="When it flares up")
    expect(link).to_have_attribute("href", "../leaflets/when-it-flares-up/index.html")
    page.locator("#find").press("Enter")
    expect(page.locator("#picks h3")).to_have_count(0)
    assert page.evaluate("document.documentElement.scrollWidth <= innerWidth")


@pytest.mark.browser
def test_a_sign_at_which_to_stop(page: Page, folder: Path) -> None:
    """Whoever types one reads the clinic's emergency sentence, and the way to the rules."""
    open_list(page, folder)
    page.locator("#q").fill("chest pain")
    expect(page.locator("#sign")).to_contain_text("911")
    expect(page.locator("#sign a").last).to_have_attribute("href", "../safety/index.html#stop")
    page.locator("#q").fill("knee pain")
    expect(page.locator("#sign")).to_be_hidden()


@pytest.mark.browser
def test_arabic_forgives_a_letter(page: Page, folder: Path) -> None:
    """The word that was typed is named as it was typed; nothing is wider than the page."""
    open_list(page, folder, "ar")
    page.locator("#q").fill("الجصر")
    expect(page.locator("#found li").first).to_contain_text("الجسر")
    expect(page.locator("#word-note")).to_contain_text("«الجصر»")
    for width in (360, 1280):
        page.set_viewport_size({"width": width, "height": 740})
        assert page.evaluate("document.documentElement.scrollWidth <= innerWidth"), width


@pytest.mark.browser
def test_the_clinicians_page(page: Page, folder: Path) -> None:
    """Close matches are not added by Enter; a bundle that is found starts the picks, and Undo takes it back."""
    page.goto((folder / "en/bundle/index.html").as_uri())
    find = page.locator("#find")
    find.fill("knee xyzzy")
    group = page.get_by_role("region", name="Close matches")
    expect(group.locator("button").first).to_contain_text("Knee straightening on a chair")
    find.press("Enter")
    expect(page.locator("#picks h3")).to_have_count(0)
    find.press("ArrowDown")
    expect(group.locator("button").first).to_be_focused()
    find.fill("stairs first weeks")
    page.get_by_role("region", name="Start with").get_by_role("button", name="Stairs: the first 2 weeks").click()
    expect(page.locator("#picks h3")).to_have_count(3)
    page.locator("#undo").click()
    expect(page.locator("#picks h3")).to_have_count(0)

"""An exercise whose dose the library leaves to the clinician, on the clinician's page: set whole, or nothing is handed over."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, expect

from handouts.bundle.catalogue import make_catalogue
from handouts.bundle.code import decode_bundle
from handouts.bundle.values import OpenedBundle
from handouts.model import Side, Span, Tempo
from tests.clinician.making import the_site, with_open_dose
from tests.site.making import write_site

pytestmark = pytest.mark.browser


@pytest.fixture
def page(browser: Browser, tmp_path: Path) -> Iterator[Page]:
    write_site(the_site(is_open=True), tmp_path)
    context = browser.new_context(viewport={"width": 360, "height": 800})
    found = context.new_page()
    complaints: list[str] = []
    found.on("pageerror", lambda error: complaints.append(str(error)))
    found.goto((tmp_path / "en/bundle/index.html").as_uri())
    yield found
    context.close()
    assert complaints == []


def test_nothing_is_handed_over_before_every_field_is_filled_in(page: Page) -> None:
    """The fields start empty; print, link and chart wait for each of them and name the exercise; what is typed survives a reload."""
    page.locator("#find").fill("squ")
    page.keyboard.press("Enter")
    for name in ("sets", "reps", "tempo", "side", "days", "effort"):
        expect(page.locator(f"#{name}-S2T7")).to_have_value("")
    steps = (("sets", "2"), ("reps", "8"), ("days", "3"))
    for name, value in steps:
        expect(page.locator("#hand")).to_be_hidden()
        expect(page.locator("#lacks")).to_contain_text("No dose yet: Squat.")
        page.locator(f"#{name}-S2T7").fill(value)
        page.keyboard.press("Tab")
    page.reload()
    expect(page.locator("#reps-S2T7")).to_have_value("8")
    expect(page.locator("#hand")).to_be_hidden()
    page.locator("#side-S2T7").select_option("one")
    page.locator("#tempo-S2T7").select_option(index=2)
    expect(page.locator("#hand")).to_be_hidden()
    page.locator("#effort-S2T7").select_option("3-4")
    expect(page.locator("#hand")).to_be_visible()
    expect(page.locator("#lacks")).to_be_hidden()
    opened = decode_bundle(page.locator("#link").input_value(), make_catalogue(with_open_dose()[0]))
    assert isinstance(opened, OpenedBundle)
    dose = opened.doses[0]
    assert (dose.sets, dose.reps, dose.days, dose.side, dose.tempo, dose.effort) == (2, 8, 3, Side.ONE, Tempo(2, 1, 4), Span(3, 4))
    expect(page.locator("#chart")).to_have_value(re.compile("2 sets of 8"))


def test_a_number_outside_its_range_is_not_taken(page: Page) -> None:
    """The range that the author gave holds for what the clinician sets."""
    page.locator("#find").fill("squ")
    page.keyboard.press("Enter")
    page.locator("#reps-S2T7").fill("40")
    page.keyboard.press("Tab")
    expect(page.locator("#refused-S2T7")).to_contain_text("40")
    expect(page.locator("#reps-S2T7")).to_have_value("")

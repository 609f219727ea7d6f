"""Exercises by occasion, in rounds and with days of rest on the patient's page: counted, led through, asked about on the day after."""

from __future__ import annotations

import json
from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, Page, expect

from handouts.bundle.catalogue import make_catalogue
from handouts.bundle.code import encode_bundle
from handouts.bundle.values import PickedBundle
from handouts.model import Pick, Ref
from handouts.phone.pages import read_phone_pages
from handouts.site.assets import read_asset_sources
from handouts.site.context import Edition
from handouts.templating.assets import read_templates
from handouts.words.wording import Wording
from tests.phone.making import PLACE, TEXTS_HERE, Shapes
from tests.phone.serving import Host, serve
from tests.phone.test_browser import NO_WORKER, Phone, a_phone, see_view, stop_clock
from tests.site.making import lay_out_site
from tests.small_library import small_library

pytestmark = pytest.mark.browser

LIFT, HOLD, WALK = (f"exercises/{name}.md" for name in ("lift", "hold", "walk"))
TEXTS = {
    **TEXTS_HERE,
    "vocabulary.yaml": TEXTS_HERE["vocabulary.yaml"] + 'paces:\n  - {slug: easy, name: "easy, you can talk"}\noccasions:\n  - {slug: breathless, name: when you feel short of breath}\n',
    WALK: TEXTS_HERE[WALK].replace("dose: {time: 5 min, days: 7, times: 2}", "dose: {sets: 2, time: 1 min, rest: 90 s, work: run-walk, pace words: easy, warm up: 5 min, days: 3, rest days: 1}")
    .replace("time: 5-30 min", "time: 1-5 min, days: 2-3").replace("ready when: You can do 2 sets of 15 with ease.\n", "ready measured: {sets: 2, time: 1 min, pain next day: 2}\n"),
    LIFT: TEXTS_HERE[LIFT].replace("rest: 20 s, days: 3", "rest: 20 s, every: 30 min, days: 7"),
    HOLD: TEXTS_HERE[HOLD].replace("rest: 15 s, days: 3", "rest: 15 s, when: breathless"),
}  # fmt: skip
LIBRARY = small_library(TEXTS)
PICKED = PickedBundle("en", "hill", 4, tuple(Pick(place=PLACE, exercise=Ref(slug, PLACE)) for slug in ("lift", "walk", "hold")))
MINE = str(encode_bundle(PICKED, make_catalogue(LIBRARY)))


@pytest.fixture(scope="module")
def site() -> dict[str, bytes]:
    files = dict(read_templates())
    return lay_out_site((LIBRARY,), {"en": Wording("en")}, Shapes(), read_asset_sources(files), Edition(version="AAAAAA"), site_parts=[read_phone_pages(files)])


@pytest.fixture
def host(site: dict[str, bytes]) -> Iterator[Host]:
    with serve(site) as found:
        yield found


@pytest.fixture
def phone(browser: Browser, host: Host) -> Iterator[Phone]:
    yield from a_phone(browser, NO_WORKER)


def row(page: Page, title: str) -> str:
    """What the list says of an exercise."""
    return page.locator("#rows > li", has_text=title).inner_text()


def test_through_two_days(phone: Phone, host: Host) -> None:
    """By occasion it is counted and in no session; rounds lead from warm-up to the last walk; the day after asks once, and is a day of rest."""
    page = phone.page
    stop_clock(page)
    phone.open(host, MINE)
    expect(page.locator(".row-count")).to_have_count(2)
    assert "every day, every 30 minutes while you are awake" in row(page, "Foot lift")
    assert "when you feel short of breath" in row(page, "Side hold")
    assert "5 minutes to warm up, then 2 times: run 1 minute, walk 90 seconds, pace: easy, you can talk" in row(page, "Walk")
    assert "3 days a week, with 1 day without it in between" in row(page, "Walk")
    # 300 + 2 x (60 + 90) s; nobody knows how often the others are done
    expect(page.locator("#summary")).to_contain_text("about 10 minutes")
    assert page.evaluate("document.documentElement.scrollWidth") <= 360
    lift = page.get_by_role("button", name="Count one time: Foot lift")
    lift.click()
    lift.click()
    expect(page.locator("#rows > li", has_text="Foot lift").get_by_role("status")).to_have_text("Today: 2 times")

    page.click("#start")
    page.clock.run_for(200)
    expect(page.locator("#session-place")).to_have_text("Exercise 1 of 1")
    page.click("#act")
    seen = []
    for seconds in (300, 5, 60, 90, 60, 90):
        page.clock.run_for(100)
        seen.append(page.locator("#phase").inner_text())
        page.clock.run_for(seconds * 1000)
    assert seen == ["Warm up", "Get ready", "Run", "Walk", "Run", "Walk"]
    see_view(page, "after")
    page.locator("#pain").get_by_role("radio").nth(1).check()
    page.click("#save")
    page.click("#to-list")
    expect(page.locator("#next-day")).to_be_hidden()

    page.clock.set_fixed_time("2026-11-26T08:00:00")
    page.reload()
    expect(page.get_by_role("group", name="The day after your session")).to_be_visible()
    assert "Today is a rest day for this exercise. Next time: Fri, Nov 27." in row(page, "Walk")
    expect(page.locator("#rows > li", has_text="Foot lift").get_by_role("status")).to_have_text("Today: 0 times")
    # the answer can be changed while it is in view: arrow keys pass over the numbers between
    page.locator("#next-day").get_by_role("radio").nth(3).check()
    page.keyboard.press("ArrowRight")
    expect(page.locator("#next-day")).to_contain_text("Pain on the day after: 4. It is in your log.")
    # 4 is above what is fine: the clinic's rule stands beside the answer
    expect(page.locator("#next-day")).to_contain_text("Pain up to 3 out of 10 is fine")
    page.reload()
    expect(page.locator(".row-count")).to_have_count(2)
    expect(page.locator("#next-day")).to_be_hidden()
    log = json.loads(page.evaluate("localStorage.getItem(Object.keys(localStorage).find((key) => key.endsWith('my.log')))"))
    assert [(entry["done"][0]["code"], entry["done"][0]["sets"], entry.get("after")) for entry in log["entries"]] == [("S2T3", 4, None), ("S2T6", 2, 4)]


def test_nothing_to_lead_through(phone: Phone, host: Host) -> None:
    """Where all of a list is done by occasion there is no session to begin."""
    picked = PickedBundle("en", "hill", 4, (PICKED.picks[0],))
    phone.open(host, str(encode_bundle(picked, make_catalogue(LIBRARY))))
    expect(phone.page.locator(".row-count")).to_have_count(1)
    expect(phone.page.locator("#start")).to_be_hidden()

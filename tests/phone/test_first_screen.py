"""The first screen of the patient's own page: the exercises and what begins them, stop rules that fold, nothing of the site around them."""

from __future__ import annotations

import json

import pytest
from playwright.sync_api import Browser, Page, expect

from tests.phone.making import MIRRORED, code_of
from tests.phone.serving import Host

pytestmark = pytest.mark.browser

FOUR = ("lift", "hold", "curl", "walk")


def open_list(browser: Browser, host: Host, language: str, width: int, height: int) -> Page:
    """The list of four exercises on a screen of a size."""
    page = browser.new_context(viewport={"width": width, "height": height}, service_workers="block").new_page()
    page.goto(f"{host.address}/{language}/my/index.html#{code_of(*FOUR, language=language)}")
    expect(page.locator("#rows li")).to_have_count(4)
    return page


@pytest.mark.parametrize("language", ["en", MIRRORED])
@pytest.mark.parametrize(("width", "height"), [(320, 640), (360, 740), (1280, 800)])
def test_exercises_are_on_the_first_screen(browser: Browser, host: Host, language: str, width: int, height: int) -> None:
    """Title, totals, a picture of each exercise and the button that begins stand above the strip; no way around the site does."""
    page = open_list(browser, host, language, width, height)
    end = page.locator(".strip").bounding_box()
    assert end
    for shown in ("#list-title", "#summary", "#glance li >> nth=0", "#glance li >> nth=3", "#start"):
        box = page.locator(shown).bounding_box()
        assert box and box["y"] >= 0 and box["y"] + box["height"] <= end["y"], shown
    tops = {round(box["y"]) for each in page.locator("#glance li").all() if (box := each.bounding_box())}
    assert len(tops) == 1  # one row
    titles = [entry["title"] for entry in json.loads(page.locator("#book").text_content() or "")["exercises"].values()]
    assert sorted(page.locator("#glance img").evaluate_all("all => all.map(each => each.alt)")) == sorted(titles)
    expect(page.locator("nav.pages")).to_have_count(0)
    expect(page.locator(".languages a").first).to_be_visible()
    expect(page.locator(".bottom a[href$='exercises/index.html']")).to_have_count(1)
    page.evaluate("document.documentElement.style.fontSize = '225%'")
    assert page.evaluate("document.querySelector('#start').getBoundingClientRect().top >= document.querySelector('#list-title').getBoundingClientRect().bottom"), "larger text covers nothing"
    page.evaluate("document.documentElement.style.fontSize = ''")
    page.locator("#glance button").nth(3).click()
    expect(page.locator("#rows li").nth(3)).to_be_in_viewport()
    expect(page.locator("#rows summary").nth(3)).to_be_focused()
    page.context.close()


def test_the_languages_stand_still_when_chinese_arrives(browser: Browser, host: Host) -> None:
    """Until its file is there, a name of four ideographs has the room that it takes then: the header breaks its line at once."""
    context = browser.new_context(viewport={"width": 360, "height": 740}, service_workers="block")
    context.route("**/*.woff2", lambda route: route.abort())
    page = context.new_page()
    page.goto(f"{host.address}/en/my/index.html#{code_of(*FOUR)}")
    link = page.locator(".languages a").first
    wide, high = link.evaluate("""each => { each.lang = 'zh-Hans'; each.textContent = '简体中文';
      return [each.getBoundingClientRect().width, parseFloat(getComputedStyle(each).fontSize)]; }""")
    context.close()
    assert wide > 4 * high - 1  # browsers round


def test_stop_rules_fold_from_the_day_after_the_visit(browser: Browser, host: Host) -> None:
    """In full on the day on which the list is kept; then their signs, and all of it after one tap.  Nothing more is stored for it."""
    page = browser.new_context(viewport={"width": 360, "height": 740}, service_workers="block").new_page()
    page.clock.install(time="2026-11-25T09:00:00")
    page.goto(f"{host.address}/en/my/index.html#{code_of('hold')}")
    signs, does, call = page.locator("#stops strong"), page.locator("#stops span"), page.locator("#call-place")
    for _ in range(2):
        expect(does).to_have_text(["Sit down and call 911.", "Stop and call us."])
        expect(does.first).to_be_visible()
        expect(page.locator(".unfold")).to_be_hidden()
        page.reload()
    page.clock.set_fixed_time("2026-11-26T08:00:00")
    for tap in (".unfold a", ".strip-stop"):
        page.reload()
        expect(signs).to_have_text(["Your chest hurts.", "You have sharp pain."])
        expect(signs.first).to_be_visible()
        expect(does.first).to_be_hidden()
        expect(call).to_be_hidden()
        page.locator(tap).click()
        expect(does.last).to_be_visible()
        expect(call).to_be_visible()
        expect(page.locator("#stop")).to_be_focused()
    assert page.evaluate("Object.keys(localStorage).sort()") == ["handouts /base/ my.list", "handouts /base/ my.list-day"]
    page.emulate_media(media="print")
    page.reload()
    expect(does.first).to_be_visible()
    page.context.close()


@pytest.mark.parametrize("fault", ["another list", "one exercise", "no storage"])
def test_stop_rules_of_what_is_not_kept_are_whole(browser: Browser, host: Host, fault: str) -> None:
    """A list that this phone does not keep, and an exercise from its page, are new to the reader on any day."""
    context = browser.new_context(viewport={"width": 360, "height": 740}, service_workers="block")
    if fault == "no storage":
        context.add_init_script("Storage.prototype.setItem = () => { throw new DOMException('off', 'SecurityError'); };")
    page = context.new_page()
    page.clock.install(time="2026-11-25T09:00:00")
    page.goto(f"{host.address}/en/my/index.html#{code_of('lift')}")
    expect(page.locator("#rows li")).to_have_count(1)
    page.clock.set_fixed_time("2026-11-27T08:00:00")
    page.goto("about:blank")
    code = {"another list": code_of("hold"), "one exercise": "S2T4", "no storage": code_of("lift")}[fault]
    page.goto(f"{host.address}/en/my/index.html#{code}")
    expect(page.locator("#stops span").first).to_be_visible()
    context.close()


def test_a_clinicians_look_keeps_nothing(browser: Browser, host: Host) -> None:
    """The page says so; a session can be tried, and neither it nor its end offers a log; nothing stands in the browser afterwards."""
    page = browser.new_context(viewport={"width": 360, "height": 740}).new_page()
    page.goto(f"{host.address}/en/my/index.html?look#{code_of('lift', 'hold')}")
    expect(page.locator("#note-storage")).to_have_text("A look at the patient's page. Nothing is saved on this computer.")
    expect(page.locator("#to-log")).to_be_hidden()
    page.locator("#start").click()
    page.locator("#act").click()
    for _ in range(3):
        page.locator("#skip").click()
    page.locator("#sound").uncheck()
    page.locator("#end").click()
    page.locator("#ending-now").click()
    expect(page.locator("#after-title")).to_be_visible()
    for hidden in ("#questions", "#save"):
        expect(page.locator(hidden)).to_be_hidden()
    expect(page.locator("#no-save")).to_have_text("Back to my exercises")
    page.locator("#no-save").click()
    expect(page.locator("#rows li")).to_have_count(2)
    assert page.evaluate("[localStorage.length, sessionStorage.length]") == [0, 0]
    assert page.evaluate("navigator.serviceWorker.getRegistrations().then(all => all.length)") == 0
    page.context.close()


def test_the_numbers_of_the_pictures_are_never_mirrored(browser: Browser, host: Host) -> None:
    """On the other side the figure is mirrored; each number is turned back."""
    page = open_list(browser, host, "en", 360, 740)
    page.locator("#start").click()
    page.locator("#session-figure svg .f").first.wait_for()
    turned = """() => [...document.querySelectorAll('#session-figure svg .f')].map(each => { const {a, b} = each.getScreenCTM(); return Math.sign(a); })"""
    assert page.evaluate(turned) == [1, 1]
    page.evaluate("document.querySelector('#session-figure').classList.add('mirrored')")
    assert page.evaluate(turned) == [1, 1]
    marks = "() => Math.sign(document.querySelector('#session-figure svg .s').getScreenCTM().a)"
    assert page.evaluate(marks) == -1
    page.context.close()

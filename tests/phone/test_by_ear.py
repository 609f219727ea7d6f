"""A whole session by keys alone and by ear: what has the focus, what each thing is called, what is said by itself."""

from __future__ import annotations

import pytest
from playwright.sync_api import Browser, Page, expect

from tests.phone.making import code_of
from tests.phone.serving import Host

pytestmark = pytest.mark.browser

LISTEN = """globalThis.said = [];
document.addEventListener('DOMContentLoaded', () => new MutationObserver(() => {
  for (const each of document.querySelectorAll('[aria-live=polite], [role=status]')) {
    const text = each.checkVisibility() ? each.innerText.trim() : '';
    if (text && each.dataset.was !== text) said.push(text);
    each.dataset.was = text;
  }
}).observe(document.body, {subtree: true, childList: true, characterData: true}));"""


def tab_to(page: Page, wanted: str) -> None:
    """Tab, as often as it takes, to an element by its id."""
    for _ in range(60):
        if page.evaluate("document.activeElement.id") == wanted:
            return
        page.keyboard.press("Tab")
    raise AssertionError(f"{wanted} is not reached by the Tab key")


def press(page: Page, wanted: str) -> None:
    """Goes to a button by keys and presses it."""
    tab_to(page, wanted)
    page.keyboard.press("Enter")
    page.clock.run_for(100)


def test_a_whole_session_by_keys_and_by_ear(browser: Browser, host: Host) -> None:
    """An exercise in two sets at a tempo, one held on each side: begin, count, rest, change sides, finish, answer, save, log."""
    context = browser.new_context(viewport={"width": 360, "height": 740}, service_workers="block")
    page = context.new_page()
    page.add_init_script(LISTEN)
    page.clock.install(time="2026-11-25T08:59:00")
    page.goto(f"{host.address}/en/my/index.html#{code_of('lift', 'hold')}")
    page.clock.run_for(1000)
    expect(page.get_by_role("heading", level=1, name="My exercises")).to_be_visible()
    expect(page.get_by_role("list").filter(has=page.get_by_role("heading", level=3, name="Foot lift"))).to_be_visible()
    page.clock.pause_at("2026-11-25T09:00:00")
    press(page, "start")
    expect(page.get_by_role("heading", level=1, name="Foot lift")).to_be_focused()
    for name in ("Enlarge", "Finish", "Start", "Go back", "Skip exercise", "Too hard", "It hurts"):
        expect(page.get_by_role("button", name=name, exact=True)).to_be_visible()
    press(page, "act")
    expect(page.get_by_role("button", name="Pause")).to_be_focused()
    expect(page.get_by_role("timer")).to_be_visible()
    expect(page.get_by_role("img", name="Shown in en")).to_be_visible()
    for _ in range(120):
        page.clock.run_for(1000)
        if page.locator("#session-title").inner_text() == "Side hold":
            break
    # between two exercises the rest runs on by itself; the button is where it was
    expect(page.get_by_role("button", name="Start", exact=True)).to_be_focused()
    page.keyboard.press("Enter")
    for _ in range(120):
        page.clock.run_for(1000)
        if page.locator("#after").is_visible():
            break
    expect(page.get_by_role("heading", level=1, name="Session finished")).to_be_focused()
    said = page.evaluate("said")
    for wanted in ("Get ready", "Move", "2", "3", "Rest", "Change sides"):
        assert any(each == wanted or each.startswith(f"{wanted} ·") for each in said), (wanted, said)
    assert any("Set 2 of 2" in each for each in said), said
    assert any("other side" in each for each in said), said
    for group in ("How hard was it? 0 is rest, 10 is the most you can do.", "What was the worst pain? 0 is none, 10 is the worst you can think of."):
        expect(page.get_by_role("group", name=group).get_by_role("radio")).to_have_count(11)
    page.keyboard.press("Tab")
    page.keyboard.press("Space")
    page.keyboard.press("ArrowRight")
    page.keyboard.press("ArrowRight")
    press(page, "save")
    expect(page.get_by_role("heading", level=1, name="My log")).to_be_focused()
    expect(page.locator("#log-lines")).to_contain_text("Effort 2, pain –")
    expect(page.get_by_role("table")).to_be_visible()
    context.close()


def test_the_side_ways_by_keys(browser: Browser, host: Host) -> None:
    """It hurts, too hard, large numbers and the question at the end: each has its heading in focus and a way back."""
    context = browser.new_context(viewport={"width": 360, "height": 740}, service_workers="block")
    page = context.new_page()
    page.clock.install(time="2026-11-25T08:59:00")
    page.goto(f"{host.address}/en/my/index.html#{code_of('lift', 'hold')}")
    page.clock.run_for(1000)
    page.clock.pause_at("2026-11-25T09:00:00")
    press(page, "start")
    press(page, "act")
    for way, heading, back in (
        ("hurts-button", "Stop. Read this first.", "hurts-on"), ("hard-button", "Make it easier", "hard-on"), ("end", "Finish now?", "ending-on"),
    ):  # fmt: skip
        press(page, way)
        expect(page.get_by_role("heading", level=1, name=heading)).to_be_focused()
        press(page, back)
        expect(page.get_by_role("heading", level=1, name="Foot lift")).to_be_focused()
        if page.locator("#act").inner_text() == "Carry on":
            press(page, "act")
    press(page, "prop")
    expect(page.get_by_role("button", name="Show all")).to_be_focused()
    press(page, "prop")
    expect(page.get_by_role("button", name="Enlarge")).to_be_focused()
    context.close()

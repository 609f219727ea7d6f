"""Twelve invented weeks of one patient, from the clinician's page to the phone and back: plan, too hard, flare, visit, next step, discharge."""

from __future__ import annotations

import json
from collections.abc import Iterator
from functools import cache

import pytest
from playwright.sync_api import Browser, BrowserContext, Page, expect

from handouts.clinician.pages import read_clinician_pages
from handouts.phone.pages import read_phone_pages
from handouts.site.assets import read_asset_sources
from handouts.site.context import Edition
from handouts.templating.assets import read_templates
from handouts.words.wording import Wording
from tests.clinician.making import PaperDrawings
from tests.phone.making import TEXTS_HERE, Shapes, with_programme
from tests.phone.serving import Host, serve
from tests.phone.test_browser import wait_until
from tests.site.making import lay_out_site
from tests.small_library import LEAFLET, small_library

pytestmark = pytest.mark.browser

LOG = "handouts /base/ my.log"
FIRST_DAY = "2026-01-05"
"""A Monday, on which the plan is handed over."""
ADD_ENTRY = """([key, entry]) => {
  const log = JSON.parse(localStorage.getItem(key) ?? '{"version":1,"entries":[]}');
  log.entries.push(entry);
  localStorage.setItem(key, JSON.stringify(log));
}"""
STAGES = "stages:\n  - {from week: 3, reps: 1}\n  - {sets: 1}\nreview:"
CLINIC_MORE = (
    "pain bounds: {fine up to: 3, less up to: 5}\nnext dose: {after sessions: 2, reps: 2, sets: 1}\n"
    "growth: {percent a week: 10, source: common practice, status: clinic's choice}\nsession cues: [{slug: after-breakfast, name: after breakfast}]\n"
)


@cache
def make_site() -> dict[str, bytes]:
    """One clinic's site in English: clinician's page, sheets, phone, and the sheet for the end."""
    texts = with_programme(TEXTS_HERE)
    texts["clinic.yaml"] = texts["clinic.yaml"].replace("pain bounds: {fine up to: 3, less up to: 5}\n", CLINIC_MORE)
    lift = texts["exercises/lift.md"].replace("ready when: You can do 2 sets of 15 with ease.\n", "ready measured: {sets: 2, reps: 4, days in a row: 2, pain: 2, effort: 5}\n")
    texts["exercises/lift.md"] = lift
    texts["programmes/stand-up.md"] = texts["programmes/stand-up.md"].replace("weeks: 6\n", "weeks: 12\n").replace("review:", STAGES, 1)
    texts["leaflets/done.md"] = LEAFLET.replace("title: Rest well", "title: You have reached it").replace(
        "cautions: [stop-pain]", "cautions: [stop-pain]\nprogramme: stand-up\nkeep: [lift]\ncome back when: [It hurts for two days.]"
    )
    texts["vocabulary.yaml"] = texts["vocabulary.yaml"].replace("name: Chair}]", "name: Chair}, {slug: stool, name: Stool}]") + (
        "substitutes: [{slug: chair-stool, in place of: chair, take: stool, change: Hold on to the wall for 5 seconds first., source: none}]\n"
    )
    library = small_library(texts)
    files = dict(read_templates())
    parts = [read_phone_pages(files), read_clinician_pages(files, lambda _: (), PaperDrawings())]
    return lay_out_site((library,), {"en": Wording("en")}, Shapes(), read_asset_sources(files), Edition(version="AAAAAA"), site_parts=parts)


@pytest.fixture
def host() -> Iterator[Host]:
    with serve(make_site()) as found:
        yield found


@pytest.fixture
def clinic(browser: Browser, host: Host) -> Iterator[BrowserContext]:
    """The clinic's computer."""
    context = browser.new_context(viewport={"width": 1280, "height": 900}, locale="en-US")
    yield context
    context.close()


@pytest.fixture
def patient(browser: Browser, host: Host) -> Iterator[BrowserContext]:
    """The patient's phone."""
    context = browser.new_context(viewport={"width": 360, "height": 740}, locale="en-US")
    yield context
    context.close()


def open_on(page: Page, host: Host, day: str, code: str = "") -> None:
    """The patient's page on a day, by its link or from what is kept."""
    page.clock.set_fixed_time(f"{day}T09:00:00")
    page.goto("about:blank")
    page.goto(f"{host.address}/en/my/" + (f"#{code}" if code else ""))
    expect(page.locator("#list")).to_be_visible()
    wait_until(page, "Boolean(globalThis.handoutsWords?.plan)")


def exercised(page: Page, *sessions: tuple[str, int, int, int, int]) -> None:
    """Sessions with the foot lift alone, as the page keeps them: day, sets, repetitions, effort, pain."""
    for day, sets, reps, effort, pain in sessions:
        entry = {"date": day, "done": [{"code": "S2T3", "sets": sets, "of": sets, "reps": reps}], "effort": effort, "pain": pain}
        page.evaluate(ADD_ENTRY, [LOG, entry])


def code_given(page: Page) -> str:
    """What the clinician's page would hand over."""
    expect(page.locator("#hand")).to_be_visible()
    return page.locator("#link").input_value().partition("#")[2]


def show_at_clinic(phone: Page, desk: Page) -> None:
    """The log as a code, read on the clinician's page."""
    phone.get_by_role("button", name="My log").click()
    phone.get_by_role("button", name="Show it as a code").click()
    expect(phone.locator("#shown-code")).not_to_be_empty()
    desk.locator("#paste").fill(phone.locator("#shown-code").inner_text())
    desk.locator("#open").click()
    expect(desk.locator("#paste-note")).to_be_empty()


def test_twelve_weeks(clinic: BrowserContext, patient: BrowserContext, host: Host) -> None:
    """The same numbers on both sides at each visit; nothing of it ever says ready or safe."""
    desk, phone = clinic.new_page(), patient.new_page()

    # First visit: the first step of the programme, with its weeks, hung on breakfast.
    desk.goto(f"{host.address}/en/bundle/")
    expect(desk.locator("#maker")).to_be_visible()
    desk.locator("#start").select_option(label="Stand up well, step 1: Wake")
    desk.get_by_role("button", name="Take the program's weeks").click()
    expect(desk.locator("#pick-S2T3 .stage")).to_have_count(2)
    desk.locator("#sheet-cue").select_option(label="after breakfast")
    desk.locator("#sheet-weeks").select_option("12")
    # 2 x 3, from week 3 2 x 4: a third more in two weeks, where the clinic allows 10 % a week.
    expect(desk.locator("#findings")).to_contain_text("Foot lift grows by 50 % a week; the clinic's bound is 10 %.")
    chart = desk.locator("#chart").input_value()
    for line in ("   From week 1: 2 sets of 3", "   From week 3: 2 sets of 4", "   When that was easy 2 times in a row: 3 sets of 4", "Do your session: after breakfast."):
        assert line in chart.split("\n"), chart
    first = code_given(desk)
    assert first[0] == "7"

    # The sheet has the same stages, each with a box, and a line for the patient's own goal.
    sheet = clinic.new_page()
    sheet.goto(desk.locator("#preview").evaluate("link => link.href"))
    sheet.wait_for_selector("html[data-ready=yes]", state="attached")
    expect(sheet.locator("#row-lift .stage")).to_have_text(["From week 1: 2 sets of 3", "From week 3: 2 sets of 4", "When that was easy 2 times in a row: 3 sets of 4"])
    expect(sheet.locator(".goal")).to_have_text("My goal:")
    expect(sheet.locator(".session")).to_contain_text("Do your session: after breakfast.")
    sheet.close()

    # At home, the first day: the stage of week 1, and a session that is too hard.
    open_on(phone, host, FIRST_DAY, first)
    lift = phone.locator("#rows > li").first
    expect(lift).to_contain_text("Now: From week 1: 2 sets of 3")
    expect(lift).to_contain_text("Next: From week 3: 2 sets of 4")
    expect(phone.locator("#summary")).to_contain_text("Do your session: after breakfast.")
    phone.get_by_role("button", name="Start the session").click()
    phone.get_by_role("button", name="Start", exact=True).click()
    phone.get_by_role("button", name="Too hard").click()
    expect(phone.locator("#hard-easier")).to_contain_text("Call us if it stays too hard.")
    phone.locator("#hard-leave").click()
    phone.get_by_role("button", name="Finish").first.click()
    phone.locator("#ending-now").click()
    expect(phone.locator("#done-list")).to_have_text("No sets done. Nothing saved.")

    # Week 1 well, week 2 a flare: the exercise is to be left out until the clinic was called.
    exercised(phone, ("2026-01-07", 2, 3, 4, 1), ("2026-01-14", 2, 3, 7, 6))
    open_on(phone, host, "2026-01-14")
    expect(lift.locator(".hurt")).to_contain_text("Your pain was above 5.")

    # Week 3, counted from the first session on 7 January: 2 x 4 by itself, on the list and in the log.
    open_on(phone, host, "2026-01-20")
    expect(lift).to_contain_text("Now: From week 1: 2 sets of 3")
    open_on(phone, host, "2026-01-21")
    expect(lift.locator(".row-dose")).to_have_text("2 sets of 4")
    expect(lift).to_contain_text("Now: From week 3: 2 sets of 4")
    expect(lift).to_contain_text("Your log does not show this yet.")
    exercised(phone, ("2026-01-21", 2, 4, 5, 2), ("2026-01-23", 2, 4, 5, 3))
    open_on(phone, host, "2026-01-24")
    expect(lift).to_contain_text("Your log shows this.")
    lift.locator("summary").click()
    expect(lift.locator(".ready")).to_contain_text("On 2 days in a row, you can do this: 2 sets of 4.")
    expect(lift.locator(".ready")).to_contain_text("Met, by the log: 2 of 3.")
    expect(lift.locator(".ready")).to_contain_text("Not in the log yet: Pain is no more than 2 out of 10.")
    expect(lift.locator(".ready")).to_contain_text("Ask us before you move on to a harder one.")

    # The visit of week 4: the log as a code, read on the clinician's page.
    show_at_clinic(phone, desk)
    visit = desk.locator("#visit-lines")
    expect(visit).to_contain_text("Foot lift: done 4 of about 9 planned")
    expect(visit).to_contain_text("pain 1 to 6, last 3")
    expect(visit).to_contain_text("Met, by the log: 2 of 3.")
    expect(desk.locator("#pick-S2T3 .stage")).to_have_count(2)

    # Back home: the patient goes on to the last stage of the plan, as the clinic planned it.
    open_on(phone, host, "2026-01-25")
    phone.get_by_role("button", name="Change to the next stage of Foot lift").click()
    expect(lift.locator(".row-dose")).to_have_text("3 sets of 4")
    expect(lift).to_contain_text("Now: When that was easy 2 times in a row: 3 sets of 4")
    expect(lift).not_to_contain_text("Next:")
    exercised(phone, ("2026-01-26", 3, 4, 4, 1), ("2026-01-28", 3, 4, 4, 1))

    # The visit of week 5: the criteria are met, and the plan has come to its end; the clinician takes the next step.
    open_on(phone, host, "2026-02-04")
    expect(lift.locator(".row-dose")).to_have_text("3 sets of 4")
    show_at_clinic(phone, desk)
    expect(visit).to_contain_text("Met, by the log: 3 of 3.")
    for word in ("ready for", "safe"):
        expect(visit).not_to_contain_text(word)
    desk.locator("#move-S2T3").select_option("S2T5")
    expect(desk.locator("#difference")).to_contain_text("Slow curl")
    second = code_given(desk)
    open_on(phone, host, "2026-02-04", second)
    expect(phone.locator("#another-list")).to_be_visible()
    phone.locator("#keep-list").click()
    expect(phone.locator("#rows")).to_contain_text("Slow curl")
    assert json.loads(phone.evaluate("key => localStorage.getItem(key)", LOG))["entries"]

    # Week 12: discharge, what to keep and when to come back.
    phone.goto(f"{host.address}/en/leaflets/done/")
    expect(phone.locator("main")).to_contain_text("Foot lift")
    expect(phone.locator("main")).to_contain_text("It hurts for two days.")


INSTEAD = "In place of Chair: Stool. Hold on to the wall for 5 seconds first. Where the dose says something else, do what this says."
PARTS = ("To warm up: Walk.", "In rounds: Foot lift and Side hold. One set of each in turn, 2 times through. After each round rest 1 minute. This takes the place of the rest between sets.")


def test_instead_rounds_and_a_leaflet(clinic: BrowserContext, patient: BrowserContext, host: Host) -> None:
    """A stool in place of a chair, a warm-up, rounds and a leaflet: from the clinician's page to sheet, chart and phone, in this order, and back."""
    desk, phone = clinic.new_page(), patient.new_page()
    desk.goto(f"{host.address}/en/bundle/")
    for words in ("walk", "foot", "side"):
        desk.locator("#find").fill(words)
        desk.keyboard.press("Enter")
    desk.locator("#sets-S2T4").fill("2")
    desk.keyboard.press("Tab")
    expect(desk.locator("#round-rest")).to_have_count(0)
    for code, part in (("S2T6", "Warm-up"), ("S2T3", "Rounds"), ("S2T4", "Rounds")):
        desk.locator(f"#part-{code}").select_option(label=part)
    desk.locator("#round-rest").select_option(label="1 minute")
    desk.locator("#home > summary").press("Enter")
    desk.locator("#home-chair").check()
    desk.locator("#home-use-S2T3").click()
    expect(desk.locator("#pick-S2T3 .instead")).to_have_text(INSTEAD)
    expect(desk.locator("#home-found")).not_to_contain_text("Foot lift")
    desk.locator("#given-add").select_option(label="You have reached it")
    code = code_given(desk)
    assert code[0] == "9"  # version 7
    chart = desk.locator("#chart").input_value()
    for line in ("   In rounds: do one set, then go on to the next exercise.", "   In place of Chair: Stool. Hold on to the wall for 5 seconds first.", *PARTS, "Handed over with it: You have reached it (L222)", "Equipment: Stool"):
        assert line in chart.split("\n"), chart

    sheet = clinic.new_page()
    sheet.goto(desk.locator("#preview").evaluate("link => link.href"))
    sheet.wait_for_selector("html[data-ready=yes]", state="attached")
    expect(sheet.locator(".session")).to_contain_text(" ".join(PARTS))
    expect(sheet.locator(".session")).to_contain_text("Have ready: Stool. With this sheet go: You have reached it. The code on this sheet opens them too.")
    expect(sheet.locator("#row-lift .dose")).to_contain_text(f"In rounds: do one set, then go on to the next exercise. {INSTEAD}")
    expect(sheet.locator("#row-hold .dose")).to_contain_text("Do it on one side. Change sides. Do it on the other side.")
    expect(sheet.locator("#row-hold .dose")).not_to_contain_text("Go on in turn")
    sheet.close()

    open_on(phone, host, FIRST_DAY, code)
    summary = phone.locator("#summary")
    expect(summary.locator(".whole")).to_have_text(list(PARTS))
    assert f"One session: {summary.locator('li').nth(1).inner_text()}" in chart.split("\n")
    expect(phone.locator("#fetch")).to_contain_text("Stool")
    expect(phone.locator("#fetch")).not_to_contain_text("Chair")
    expect(phone.locator("#rows > li").nth(1)).to_contain_text("In place of Chair: Stool.")
    expect(phone.locator("#given a")).to_have_attribute("href", "../leaflets/done/index.html")
    phone.locator("#start").click()
    order = []
    for _ in range(40):
        title, line = phone.locator("#session-title").inner_text(), phone.locator("#session-line").inner_text()
        if phone.locator("#session-screen").get_attribute("data-kind") == "begin":
            order.append((title, line.split(".")[0] if line.startswith("Round") else ""))
            assert ("In place of Chair: Stool." in line) == (title == "Foot lift")
        if phone.locator("body").get_attribute("data-view") == "after":
            break
        phone.evaluate("document.getElementById('session-screen').dataset.kind === 'begin' ? document.getElementById('act').click() : document.getElementById('skip').click()")
    rounds = [("Foot lift", "Round 1 of 2"), ("Side hold", "Round 1 of 2"), ("Foot lift", "Round 2 of 2"), ("Side hold", "Round 2 of 2")]
    assert order == [("Walk", ""), *rounds]

    open_on(phone, host, FIRST_DAY)
    exercised(phone, (FIRST_DAY, 2, 3, 5, 1))
    phone.reload()
    wait_until(phone, "Boolean(globalThis.handoutsWords?.plan)")
    desk.locator("#clear").click()
    show_at_clinic(phone, desk)
    expect(desk.locator("#pick-S2T3 .instead")).to_have_text(INSTEAD)
    expect(desk.locator("#given")).to_contain_text("You have reached it")
    assert code_given(desk) == code

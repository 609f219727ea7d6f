"""The patient's page in Chromium: session on a fake clock and without a connection, log, refusals, storage, accessibility."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from itertools import groupby
from pathlib import Path

import pytest
import zxingcpp
from PIL import Image
from playwright.sync_api import Browser, BrowserContext, ConsoleMessage, Page, expect

from handouts.bundle.values import Origin
from handouts.model import Side
from tests.bundle.log_code import Log, read_code
from tests.phone.making import MIRRORED, code_of, make_phone_site
from tests.phone.serving import Host, serve
from tests.site.axe import violations
from tests.site.making import write_site

pytestmark = pytest.mark.browser

MINE = code_of("lift", "hold", "curl")
MISREAD = MINE[:20] + ("4" if MINE[20] == "3" else "3") + MINE[21:]
"""One character of it read as another."""
IN_MIRRORED = code_of("lift", "hold", "curl", language=MIRRORED)
KEPT = "Saved on this phone. It works without a connection."


@pytest.fixture
def programme_host() -> Iterator[Host]:
    with serve(make_phone_site(programme=True)) as found:
        yield found


class Phone:
    """A page as wide as a phone, and everything it complained about."""

    def __init__(self, context: BrowserContext) -> None:
        self.context = context
        self.page = context.new_page()
        self.complaints: list[str] = []
        self.page.on("console", self.note)
        self.page.on("pageerror", lambda error: self.complaints.append(str(error)))

    def note(self, message: ConsoleMessage) -> None:
        """Keeps complaints; a page without a connection may say that it has none."""
        if message.type in ("error", "warning") and "net::ERR_INTERNET_DISCONNECTED" not in message.text:
            self.complaints.append(message.text)

    def open(self, host: Host, code: str = MINE, language: str = "en") -> Page:
        """Opens a code's link."""
        self.page.goto(f"{host.address}/{language}/my/#{code}")
        return self.page


NO_WORKER = "if (navigator.serviceWorker) navigator.serviceWorker.register = async () => { throw new Error('none in this test'); };"
"""For a page's first script: nothing is kept, which takes most of the time that the page takes to open."""


@pytest.fixture
def phone(browser: Browser, host: Host, programme_host: Host) -> Iterator[Phone]:
    """Asks for its hosts, so that they end after the page: a page that still loads complains of a host that is gone."""
    yield from a_phone(browser, NO_WORKER)


@pytest.fixture
def kept_phone(browser: Browser, host: Host) -> Iterator[Phone]:
    """One whose page is kept by a service worker."""
    yield from a_phone(browser)


def a_phone(browser: Browser, script: str = "") -> Iterator[Phone]:
    """A phone that must not complain, for a fixture."""
    context = browser.new_context(viewport={"width": 360, "height": 740}, locale="en-US")
    context.add_init_script(script)
    found = Phone(context)
    yield found
    context.close()
    assert found.complaints == []


def see_view(page: Page, name: str) -> None:
    """One view is shown, and it is this one."""
    expect(page.locator(".view:visible")).to_have_attribute("id", name)


def wait_until(page: Page, expression: str) -> None:
    """Until an expression is true; the page's policy lets only the driver evaluate one."""
    for _ in range(300):
        if page.evaluate(expression):
            return
        page.wait_for_timeout(50)
    raise AssertionError(f"never true: {expression}")


def stop_clock(page: Page) -> None:
    """From now on time passes on the page only when the test lets it."""
    page.clock.install(time="2026-11-25T08:59:00")
    page.clock.pause_at("2026-11-25T09:00:00")


def begin_session(page: Page) -> None:
    """From the list to the first exercise."""
    page.get_by_role("button", name="Start the session").click()
    expect(page.locator("#session-title")).to_be_visible()


def begin_on_a_clock(phone: Phone, host: Host, code: str = MINE) -> Page:
    """The first exercise of a session, on a clock that stands until the test moves it."""
    stop_clock(phone.page)
    page = phone.open(host, code)
    page.clock.run_for(200)
    begin_session(page)
    return page


def seconds_of(page: Page, seconds: int) -> list[tuple[str, int]]:
    """What the session shows, second by second, as runs: lead, work, rest or wait, each with its side and length."""
    seen = []
    for _ in range(seconds):
        phase, line = page.inner_text("#phase"), page.inner_text("#session-line")
        kind = {"Get ready": "lead", "Rest": "rest", "Change sides": "turn"}.get(phase, "wait" if "tap" in phase else "work")
        side = next((word for word in ("first side", "other side") if word in line), "")
        seen.append(f"{kind} {side}".strip())
        page.clock.run_for(1000)
    return [(name, len(list(group))) for name, group in groupby(seen)]


def test_one_side(phone: Phone, host: Host) -> None:
    """The list, the picture and the session show the side that is named, and say it; no side is changed."""
    page = phone.open(host, code_of(("hold", {"side": Side.LEFT}), "lift"))
    rows = page.locator("#rows > li")
    expect(rows.nth(0).locator(".row-dose")).to_have_text("1 hold of 10 seconds, left side only", use_inner_text=True)
    expect(rows.nth(0).locator("img")).to_have_class("panel mirrored")
    expect(page.locator("#glance img").nth(0)).to_have_class("panel mirrored")
    expect(rows.nth(1).locator("img")).to_have_class("panel")
    stop_clock(page)
    begin_session(page)
    page.locator("#act").click()
    page.clock.run_for(6000)
    expect(page.locator("#session-line")).to_contain_text("left side only")
    expect(page.locator("#session-figure")).to_have_class(re.compile("mirrored"))
    expect(page.locator("#session-figure svg")).to_have_attribute("aria-label", "Shown in en, mirrored")
    page.clock.run_for(12000)
    expect(page.locator("#session-title")).to_have_text("Foot lift", use_inner_text=True)
    expect(page.locator("#session-figure")).not_to_have_class(re.compile("mirrored"))


def test_a_whole_session_without_connection(kept_phone: Phone, host: Host) -> None:
    """After one visit, offline and on a fake clock: sets, holds, sides and rests in the prescribed order and length."""
    page = kept_phone.open(host)
    expect(page.locator("#kept")).to_have_text(KEPT)
    page.close()
    kept_phone.context.set_offline(True)
    page = kept_phone.page = kept_phone.context.new_page()
    stop_clock(page)
    page.goto(f"{host.address}/en/my/index.html")
    page.clock.run_for(200)
    expect(page.locator("#summary")).to_contain_text("3 exercises")
    begin_session(page)
    expect(page.locator("#session-figure svg")).to_be_visible()
    page.locator("#act").click()
    page.clock.run_for(50)
    # 2 sets of 3 at 2-1-3 are 18 s each, with 20 s of rest; the sides of the hold are 10 s each, with 15 s between them.
    assert seconds_of(page, 61) == [("lead", 5), ("work", 18), ("rest", 20), ("work", 18)]
    expect(page.locator("#session-title")).to_have_text("Side hold", use_inner_text=True)
    expect(page.locator("#session-line")).to_have_text("Position: Standing", use_inner_text=True)
    # 30 s between exercises and 30 s to change position
    expect(page.locator("#count")).to_have_text("60", use_inner_text=True)
    expect(page.locator("#session-figure svg")).to_be_visible()  # it comes with a script of its own
    places = ("#phase", "#act", "#counter")
    before = [page.locator(each).bounding_box() for each in places]
    assert seconds_of(page, 10) == [("rest", 10)]
    expect(page.locator("#count")).to_have_text("50", use_inner_text=True)
    assert seconds_of(page, 60) == [("rest", 50), ("wait", 10)]
    expect(page.locator("#phase")).to_have_text("When you are ready, tap Start.", use_inner_text=True)
    expect(page.locator("#counter")).to_have_text("1 hold of 10 seconds, each side", use_inner_text=True)
    assert [page.locator(each).bounding_box() for each in places] == before  # nothing moves when the rest is over
    page.locator("#act").click()
    page.clock.run_for(50)
    assert [page.locator(each).bounding_box() for each in places] == before  # nor at the start
    assert seconds_of(page, 45) == [("lead first side", 5), ("work first side", 10), ("rest other side", 15), ("turn other side", 5), ("work other side", 10)]
    page.locator("#act").click()
    assert seconds_of(page, 5) == [("lead", 5)]
    page.clock.run_for(60_000)
    expect(page.locator("#phase")).to_have_text("At your own pace. Then tap Done.", use_inner_text=True)
    expect(page.locator("#session-line")).to_have_text("8 times", use_inner_text=True)
    page.get_by_role("button", name="Done").click()
    see_view(page, "after")
    expect(page.locator("#done-list li")).to_have_text(["Foot lift: 2 of 2 sets", "Side hold: 1 of 1 set", "Slow curl: 1 of 1 set"], use_inner_text=True)
    page.locator("#effort").get_by_label("5", exact=True).check()
    page.locator("#pain").get_by_label("1", exact=True).check()
    page.get_by_role("button", name="Save in my log").click()
    expect(page.locator("#log-lines li p")).to_have_text([
        "Wed, Nov 25, 2026: Foot lift 2 × 3, Side hold 1 × 10 seconds, and Slow curl 1 × 8", "Effort 5, pain 1",
    ], use_inner_text=True)  # fmt: skip
    expect(page.locator(".marked")).to_have_text("25November 25: exercised")
    page.locator("#to-list").click()
    expect(page.locator("#today")).to_have_text("You did a session today. It is in your log.")
    page.clock.set_fixed_time("2026-11-26T08:00:00")
    page.reload()
    expect(page.locator("#rows li")).to_have_count(3)
    expect(page.locator("#today")).to_be_hidden()


def test_a_link_without_a_network_leads_to_what_is_here(kept_phone: Phone, host: Host) -> None:
    """Offline every link to another page of the site shows a page of its own with the way back; with a network it leads there."""
    page = kept_phone.open(host)
    expect(page.locator("#kept")).to_have_text(KEPT)
    kept_phone.context.set_offline(True)
    links = page.locator("a[href]:not([href^='#']):not([href^='tel:']):visible")
    assert links.count() >= 5
    for at in range(links.count()):
        links.nth(at).click()
        see_view(page, "offline")
        expect(page.locator("#offline-title")).to_be_focused()
        expect(page.locator(".strip")).to_be_visible()
        page.get_by_role("button", name="Back to my exercises").click()
        see_view(page, "list")
        expect(page.locator("#rows li")).to_have_count(3)
    kept_phone.context.set_offline(False)
    page.locator(".clinic").click()
    page.wait_for_url("**/en/index.html")


def test_numbers_of_one_set(phone: Phone, host: Host) -> None:
    """At 2-1-3 the count and the word of each second are those of the tempo; a pause stops them."""
    page = begin_on_a_clock(phone, host)
    page.locator("#act").click()
    page.clock.run_for(5_050)
    seen = []
    for _ in range(9):
        seen.append((page.inner_text("#count"), re.sub(r" · \d", "", page.inner_text("#phase"))))
        page.clock.run_for(1000)
    assert seen == [("1", "Move")] * 2 + [("1", "Hold")] + [("1", "Return")] * 3 + [("2", "Move")] * 2 + [("2", "Hold")]
    page.get_by_role("button", name="Pause").click()
    page.clock.run_for(60_000)
    expect(page.locator("#count")).to_have_text("2")
    expect(page.locator("#phase")).to_have_text("Paused")
    page.get_by_role("button", name="Carry on").click()
    page.clock.run_for(1000)
    expect(page.locator("#phase")).to_have_text(re.compile("^Return"))


def test_back_skip_and_leaving_out(phone: Phone, host: Host) -> None:
    """A skipped set does not count; back undoes; an exercise can be left out, before it begins too; the button says what it skips."""
    page = begin_on_a_clock(phone, host)
    expect(page.locator("#skip")).to_have_text("Skip exercise", use_inner_text=True)
    page.locator("#act").click()
    page.clock.run_for(5_100)
    expect(page.locator("#skip")).to_have_text("Skip this set", use_inner_text=True)
    page.locator("#skip").click()
    expect(page.locator("#phase")).to_have_text("Rest", use_inner_text=True)
    expect(page.locator("#skip")).to_have_text("Skip", use_inner_text=True)
    page.locator("#back").click()
    expect(page.locator("#count-word")).to_have_text("of 3 times", use_inner_text=True)
    page.clock.run_for(18_100)
    expect(page.locator("#phase")).to_have_text("Rest", use_inner_text=True)
    page.get_by_role("button", name="Too hard").click()
    page.get_by_role("button", name="Leave this exercise out today").click()
    expect(page.locator("#session-title")).to_have_text("Side hold", use_inner_text=True)
    page.locator("#skip").click()
    expect(page.locator("#session-title")).to_have_text("Slow curl", use_inner_text=True)
    page.locator("#end").click()
    expect(page.locator("#ending-list li")).to_have_text(["Foot lift: 1 of 2 sets"], use_inner_text=True)
    assert page.locator("#ending button").evaluate_all("all => all.map(each => `${each.textContent}, ${each.className}`)") == ["Finish now, main", "Carry on, outline"]
    page.get_by_role("button", name="Finish now").click()
    expect(page.locator("#done-list li")).to_have_text(["Foot lift: 1 of 2 sets"], use_inner_text=True)


def test_it_hurts(phone: Phone, host: Host) -> None:
    """The stop rules of this exercise, the clinic's rule on pain and its phone; the clock stands still meanwhile."""
    page = begin_on_a_clock(phone, host)
    page.locator("#act").click()
    page.clock.run_for(7_000)
    page.get_by_role("button", name="It hurts").click()
    see_view(page, "hurts")
    expect(page.locator("#hurts-title")).to_be_focused()
    expect(page.locator("#hurts-stops li")).to_have_text(["You have sharp pain. Stop and call us."], use_inner_text=True)
    expect(page.locator("#hurts")).to_contain_text("Pain up to 3 out of 10 is fine if it settles by morning.")
    expect(page.locator("#hurts-call")).to_have_attribute("href", "tel:5550101")
    count = page.locator("#count").text_content()
    page.clock.run_for(30_000)
    page.get_by_role("button", name="Back to this exercise").click()
    expect(page.locator("#count")).to_have_text(count, use_inner_text=True)
    page.locator(".strip-stop").click()
    see_view(page, "hurts")
    expect(page).to_have_url(re.compile(re.escape(f"#{MINE}") + "$"))


@pytest.mark.parametrize(
    ("picks", "at", "says"),
    [(("lift", "hold"), 1, ["This easier one is on your list too. You may do it instead today.", "Foot lift", "You only do lift."]),
     (("hold",), 0, ["This is the easier version. Ask us before you change to it.", "Foot lift", "You only do lift."]),
     (("curl",), 0, ["Bend half as far.", "This is the easier version. Ask us before you change to it.", "Foot lift", "You only do lift."]),
     (("lift",), 0, ["There is no easier version here. Call us if it stays too hard."])],
)  # fmt: skip
def test_too_hard(phone: Phone, host: Host, picks: tuple[str, ...], at: int, says: list[str]) -> None:
    """What makes this one easier comes first; another that is one's own may be done, any other only after asking; none is said."""
    page = phone.open(host, code_of(*picks))
    begin_session(page)
    for _ in range(at):
        page.locator("#hurts-button").click()
        page.locator("#hurts-leave").click()
    page.get_by_role("button", name="Too hard").click()
    expect(page.locator("#hard-easier :is(p, h2)")).to_have_text(says, use_inner_text=True)
    page.locator("#hard-on").click()
    page.locator("#hurts-button").click()
    in_pain = [say.replace("stays too hard", "still hurts") for say in says]
    expect(page.locator("#hurts-easier :is(p, h3)")).to_have_text(in_pain, use_inner_text=True)
    expect(page.locator("#hurts-if")).to_be_visible(visible="Foot lift" in says)


def test_pain_stops_before_anything_is_made_easier(phone: Phone, host: Host) -> None:
    """After "It hurts": to stop and to call, stop rules, pain rule, flare plan; only then, under a condition, what is easier."""
    page = phone.open(host, code_of("hold"))
    begin_session(page)
    page.locator("#hurts-button").click()
    texts = page.locator("#hurts").inner_text()
    order = ["Stop for today", "Call Hill Road", "Stop if", "Pain up to 3 out of 10", "Much worse.", "Leave this exercise out today", "Make it easier",
             "Do this only if the rules above let you go on. If you are not sure, stop and call us.", "Ask us before you change to it.", "Foot lift",
             "Back to this exercise"]  # fmt: skip
    places = [texts.index(each) for each in order]
    assert places == sorted(places)
    page.locator("#hurts-leave").click()
    see_view(page, "after")


def test_a_pain_answer_is_told_at_once(phone: Phone, host: Host) -> None:
    """Up to 3 nothing is said; at 4 and 5 the clinic's rule; above it what to do when it gets worse, and a number to call."""
    page = begin_on_a_clock(phone, host, code_of("curl"))
    page.locator("#act").click()
    page.clock.run_for(6_000)  # 5 s in which one gets ready
    page.get_by_role("button", name="Done").click()
    rule, high, call = page.locator("#pain-rule"), page.locator("#pain-high"), page.locator("#pain-calls")
    expect(page.locator("#pain legend")).to_have_text("What was the worst pain? 0 is none, 10 is the worst you can think of.")
    expect(page.locator("#effort legend")).to_have_text("How hard was it? 0 is rest, 10 is the most you can do.")
    expect(rule).to_be_hidden()
    for value, is_told, is_high in ((3, False, False), (4, True, False), (5, True, False), (6, True, True), (10, True, True), (0, False, False), (8, True, True)):
        page.locator(f"#pain label:has(input[value='{value}'])").click()
        expect(rule).to_be_visible(visible=is_told)
        expect(high).to_be_visible(visible=is_high)
        expect(call).to_be_visible(visible=is_high)
    expect(rule).to_contain_text("Pain up to 3 out of 10 is fine if it settles by morning. At 5, do less. (0 none, 10 the worst you can think of.)")
    expect(high.locator("li")).to_have_text(["Worse tomorrow. Do half.", "Much worse. Stop and call us."], use_inner_text=True)
    expect(call.locator("p").first).to_have_text("Your pain was above 5. Leave this exercise out. Call us before you do it again.")
    expect(call.get_by_role("link")).to_have_text("Call Hill Road: 555-0101")
    expect(call.get_by_role("link")).to_be_in_viewport()
    expect(call.get_by_role("link")).to_have_attribute("href", "tel:5550101")


def finish_curl(page: Page, pain: int | None, save: str = "Save in my log") -> None:
    """A session of the one exercise on the list, with an answer on pain."""
    begin_session(page)
    page.locator("#act").click()
    page.clock.run_for(6_000)
    page.get_by_role("button", name="Done").click()
    if pain is not None:
        page.locator(f"#pain label:has(input[value='{pain}'])").click()
    page.get_by_role("button", name=save).click()


HURT = "Your pain was above 5. Leave this exercise out. Call us before you do it again."


def test_pain_above_the_bound_stays_until_it_was_less(phone: Phone, host: Host) -> None:
    """At once and then on the list at the exercise, with the phone; it goes after a later answer at the bound, and with the log."""
    page = phone.page
    page.clock.install()
    phone.open(host, code_of("curl"))
    hurt = page.locator("#rows .hurt")
    back = page.get_by_role("button", name="Back to my exercises")
    for pain, said in ((5, 0), (8, 1), (None, 1), (5, 0), (6, 1)):
        finish_curl(page, pain)
        back.click()
        see_view(page, "list")
        expect(hurt).to_have_count(said)
        page.reload()
        expect(page.locator("#rows li")).to_have_count(1)
        expect(hurt).to_have_count(said)
    expect(hurt).to_contain_text(HURT)
    expect(hurt.get_by_role("link")).to_have_text("Call Hill Road: 555-0101")
    expect(hurt.get_by_role("link")).to_have_attribute("href", "tel:5550101")
    finish_curl(page, 0, "Do not save")  # what is not saved takes nothing back
    expect(hurt).to_have_count(1)
    page.goto("about:blank")
    phone.open(host, code_of("lift"))
    expect(page.locator(".row-name")).to_have_text(["Foot lift"])
    expect(hurt).to_have_count(0)
    page.get_by_role("button", name="My log").click()
    page.get_by_role("button", name="Erase everything").click()
    page.get_by_role("button", name="Erase it now").click()
    expect(page.locator("#erased")).to_be_visible()
    page.goto("about:blank")
    phone.open(host, code_of("curl"))
    expect(page.locator(".row-name")).to_have_text(["Slow curl"])
    expect(hurt).to_have_count(0)


def test_pain_in_a_session_of_several_concerns_each_that_was_done(phone: Phone, host: Host) -> None:
    """Nobody knows which one hurt: the sentence says so, and each that was done has it on the list; one left out has not."""
    page = phone.page
    page.clock.install()
    phone.open(host, code_of("lift", "curl", "walk"))
    begin_session(page)
    page.locator("#act").click()
    page.clock.run_for(62_000)  # 5 s to get ready, two sets of 18 s with a rest of 20 s between them
    page.get_by_role("button", name="Start").click()
    page.clock.run_for(6_000)
    page.get_by_role("button", name="Done").click()
    page.locator("#hurts-button").click()
    page.locator("#hurts-leave").click()
    page.locator("#pain label:has(input[value='7'])").click()
    expect(page.locator("#done-list li")).to_have_text(["Foot lift: 2 of 2 sets", "Slow curl: 1 of 1 set"])
    expect(page.locator("#pain-said")).to_have_text("Your pain was above 5. Leave these exercises out. Call us before you do them again.")
    page.get_by_role("button", name="Save in my log").click()
    page.get_by_role("button", name="Back to my exercises").click()
    expect(page.locator("#rows li:has(.hurt) .row-name")).to_have_text(["Foot lift", "Slow curl"])


def places_of(page: Page, tenths: int) -> set[str | None]:
    """Where the moving picture is seen over some tenths of a second."""
    found = set()
    for _ in range(tenths):
        page.clock.run_for(100)
        found.add(page.locator("#session-figure path").first.get_attribute("transform"))
    return found


def test_the_figure_keeps_the_pace_of_a_set(phone: Phone, host: Host) -> None:
    """Two pictures stand still before a set and in the rest; in a set the end picture moves at the tempo, and waits in a pause."""
    page = begin_on_a_clock(phone, host)
    panels, first = page.locator("#session-figure svg > g"), page.locator("#session-figure path").first
    expect(panels).to_have_count(4)
    expect(page.locator("#session-figure svg")).to_have_attribute("aria-label", "Shown in en")
    expect(page.locator("#figure-note")).to_have_text("Stripes: muscles that work.")
    expect(page.locator("#movement")).to_have_text("Show the movement")
    page.locator("#act").click()
    page.clock.run_for(5_100)
    expect(panels).to_have_count(1)
    expect(page.locator("#session-figure .y, #session-figure .w")).to_have_count(0)
    assert len(places_of(page, 18)) > 10
    page.clock.run_for(600)  # 2.5 s of 2-1-3: held
    expect(first).to_have_attribute("transform", "matrix(1.0000 0.0000 0.0000 1.0000 0.0 0.0)")
    page.clock.run_for(2_000)
    page.get_by_role("button", name="Pause").click()
    page.clock.run_for(200)
    assert len(places_of(page, 10)) == 1
    page.get_by_role("button", name="Carry on").click()
    page.locator("#movement").click()
    expect(panels).to_have_count(4)  # who wants it still has it still
    page.locator("#movement").click()
    expect(panels).to_have_count(1)
    page.reload()
    page.clock.run_for(600)
    page.get_by_role("button", name="Back to the session").click()
    page.get_by_role("button", name="Carry on").click()
    page.clock.run_for(18_100)
    expect(page.locator("#phase")).to_have_text("Rest")
    expect(panels).to_have_count(4)


def test_less_motion_is_none_unless_asked(browser: Browser, host: Host) -> None:
    """Where the reader wants less motion the pictures stay still; when asked the two positions follow one another."""
    context = browser.new_context(viewport={"width": 360, "height": 740}, reduced_motion="reduce")
    context.add_init_script(NO_WORKER)
    page = context.new_page()
    stop_clock(page)
    page.goto(f"{host.address}/en/my/#{MINE}")
    page.clock.run_for(200)
    begin_session(page)
    page.locator("#act").click()
    page.clock.run_for(6_000)
    expect(page.locator("#session-figure svg > g")).to_have_count(4)
    page.locator("#movement").click()
    expect(page.locator("#session-figure svg > g")).to_have_count(1)
    assert len(places_of(page, 60)) == 2
    context.close()


def test_number_and_word_fill_the_screen(phone: Phone, host: Host) -> None:
    """Propped up: letters that are read from 3 m, what acts beside them, and one tap back.

    A letter of 20/40 sight is 8.7 mm high at 3 m (10 minutes of arc, from memory); a phone has about 5.5 CSS px to the mm.
    """
    page = begin_on_a_clock(phone, host)
    page.locator("#act").click()
    page.clock.run_for(5_100)
    page.get_by_role("button", name="Enlarge").click()
    for width, height in ((360, 740), (320, 640), (740, 360)):
        page.set_viewport_size({"width": width, "height": height})
        for shown, part in (("#count", 0.7), ("#phase", 0.7)):  # capitals and numerals take 7 tenths of the size
            assert page.locator(shown).evaluate("each => parseFloat(getComputedStyle(each).fontSize)") * part > 8.7 * 5.5 * (0.6 if height < width else 1), (shown, width)
        for acts in ("#act", "#hurts-button", "#end", "#prop"):
            expect(page.locator(acts)).to_be_in_viewport()
        for hidden in ("#session-figure", "#skip", "#back"):
            expect(page.locator(hidden)).to_be_hidden()
        assert page.evaluate("document.documentElement.scrollWidth - innerWidth") <= 0
    page.get_by_role("button", name="Show all").click()
    expect(page.locator("#skip")).to_be_visible()


def test_before_the_start_the_large_words_are_whole_and_the_figure_comes_back(phone: Phone, host: Host) -> None:
    """Enlarged before the first tap, no word is under a button; the figure that moved unseen then stands in its place."""
    page = begin_on_a_clock(phone, host)
    page.get_by_role("button", name="Enlarge").click()
    for width, height in ((320, 640), (360, 740), (820, 740)):
        page.set_viewport_size({"width": width, "height": height})
        words, act = page.locator("#phase").bounding_box(), page.locator("#act").bounding_box()
        assert words and act and words["y"] + words["height"] <= act["y"] + 1, (width, words, act)
    page.set_viewport_size({"width": 360, "height": 740})
    page.locator("#act").click()
    page.clock.run_for(6_000)
    page.get_by_role("button", name="Show all").click()
    page.clock.run_for(500)
    figure = page.locator("#session-figure svg")
    room = figure.get_attribute("viewBox")
    for _ in range(2):  # stopped, and drawn again in view
        page.locator("#movement").click()
        page.clock.run_for(100)
    assert figure.get_attribute("viewBox") == room
    assert figure.locator(":scope > g").get_attribute("transform") is None


def test_the_end_asks(phone: Phone, host: Host) -> None:
    """What was done, and a way on; meanwhile the clock stands."""
    page = begin_on_a_clock(phone, host, code_of("lift"))
    page.locator("#act").click()
    page.clock.run_for(7_100)
    count, phase = page.inner_text("#count"), page.inner_text("#phase")
    page.get_by_role("button", name="Finish").click()
    see_view(page, "ending")
    expect(page.locator("#ending-title")).to_be_focused()
    page.clock.run_for(60_000)
    page.get_by_role("button", name="Carry on").click()
    see_view(page, "session")
    assert (page.inner_text("#count"), page.inner_text("#phase")) == (count, phase)
    page.clock.run_for(17_000)
    page.get_by_role("button", name="Finish").click()
    expect(page.locator("#ending-list li")).to_have_text(["Foot lift: 1 of 2 sets"])
    page.go_back()
    see_view(page, "session")
    page.get_by_role("button", name="Finish").click()
    page.get_by_role("button", name="Finish now").click()
    see_view(page, "after")
    expect(page.locator("#after-title")).to_have_text("Session finished")
    assert page.evaluate("scrollY") == 0


def test_by_keyboard_alone(phone: Phone, host: Host) -> None:
    """Start, begin and end a session with Tab and Enter; the heading of each view has the focus."""
    page = phone.open(host)
    page.locator("#start").focus()
    page.keyboard.press("Enter")
    expect(page.locator("#session-title")).to_be_focused()
    for _ in range(3):
        page.keyboard.press("Tab")
        if page.evaluate("document.activeElement.id") == "act":
            break
    page.keyboard.press("Enter")
    expect(page.locator("#phase")).to_have_text("Get ready")
    expect(page.locator("#act")).to_be_focused()
    page.locator("#end").press("Enter")
    expect(page.locator("#ending-title")).to_be_focused()
    page.locator("#ending-now").press("Enter")
    expect(page.locator("#after-title")).to_be_focused()


def test_the_way_back_of_the_phone_leaves_a_session_waiting(phone: Phone, host: Host) -> None:
    """Back shows the list, with the session paused; the button leads on where it was."""
    page = phone.open(host)
    begin_session(page)
    page.locator("#act").click()
    page.go_back()
    expect(page.locator("#list-title")).to_be_visible()
    page.get_by_role("button", name="Back to the session").click()
    see_view(page, "session")
    expect(page.locator("#phase")).to_have_text("Get ready")


def test_a_session_survives_that_the_phone_puts_the_page_away(phone: Phone, host: Host) -> None:
    """After a reload in the same tab the session goes on at its step; another list begins anew."""
    page = phone.open(host)
    begin_session(page)
    page.locator("#hurts-button").click()
    page.locator("#hurts-leave").click()
    expect(page.locator("#session-title")).to_have_text("Side hold")
    page.reload()
    page.get_by_role("button", name="Back to the session").click()
    expect(page.locator("#session-title")).to_have_text("Side hold")
    # the rest that the reload broke off is over: nothing counts beside the button that begins
    expect(page.locator("#phase")).to_have_text("When you are ready, tap Start.")
    expect(page.locator("#count")).to_be_empty()
    page.goto("about:blank")
    phone.open(host, code_of("walk"))
    begin_session(page)
    expect(page.locator("#session-title")).to_have_text("Walk")


def test_the_list(phone: Phone, host: Host) -> None:
    """Minutes, weeks, what to fetch, every stop rule once and the gravest first, the phone of the link's location."""
    page = phone.open(host)
    expect(page.locator("#summary li")).to_have_text(["3 exercises", "about 3 minutes", "for 4 weeks"], use_inner_text=True)
    expect(page.locator("#fetch")).to_have_text("Have ready: Chair", use_inner_text=True)
    expect(page.locator("#stops li")).to_have_text(["Your chest hurts. Sit down and call 911.", "You have sharp pain. Stop and call us."], use_inner_text=True)
    expect(page.locator("#stops a")).to_have_text(["911"])
    expect(page.locator("#stops a")).to_have_attribute("href", "tel:911")
    expect(page.locator("#call-place")).to_have_attribute("href", "tel:5550101")
    expect(page.locator(".strip a").last).to_have_attribute("href", "tel:5550101")
    expect(page.locator(".row-dose")).to_have_text(["2 sets of 3", "1 hold of 10 seconds, each side", "8 times"], use_inner_text=True)
    assert page.locator("#rows img").first.evaluate("image => image.decode().then(() => image.naturalWidth > 0)")
    page.locator("#rows summary").first.click()
    expect(page.locator("#rows .steps li")).to_have_count(2)
    expect(page.locator("#rows .ready")).to_contain_text("You can do 2 sets of 15 with ease.")
    expect(page.locator("#rows .ready")).to_contain_text("Nothing in your log yet.")
    expect(page.locator("#rows .ready")).to_contain_text("Ask us before you move on to a harder one.")


def test_ready_when_stands_beside_the_facts(phone: Phone, host: Host) -> None:
    """Days, amounts and pain from the log, beside the condition; no word of the page says to move on."""
    page = phone.open(host)
    entries = [{"date": f"2026-11-{day}", "done": [{"code": "S2T3", "sets": 2, "of": 2, "reps": 15}], "effort": 4, "pain": pain} for day, pain in ((17, 1), (20, None))]
    page.evaluate("text => localStorage.setItem('handouts /base/ my.log', text)", json.dumps({"version": 1, "entries": entries}))
    page.reload()
    page.locator("#rows summary").first.click()
    expect(page.locator("#rows .facts-list li")).to_have_text(["Tue, Nov 17: 2 × 15, pain 1", "Fri, Nov 20: 2 × 15"], use_inner_text=True)


@pytest.mark.parametrize(
    ("do", "says", "links"),
    [
        ("Call 911 now.", "Call 911 now.", ["911"]), ("Call 9110 or x911.", "Call 9110 or x911. Call 911", ["Call 911"]),
        ("\u547c\u53eb911\u5373\u53ef\u3002", "\u547c\u53eb911\u5373\u53ef\u3002", ["911"]), ("Lie down.", "Lie down. Call 911", ["Call 911"]),
        ("Not 555-911, but 911.", "Not 555-911, but 911.", ["911"]),
    ],
)  # fmt: skip
def test_a_stop_rule_dials_the_number_that_it_names(phone: Phone, host: Host, do: str, says: str, links: list[str]) -> None:
    """The sentence's own number is the link, on the list and in "It hurts"; only where it names none, one follows."""
    page = phone.page
    page.route(f"{host.address}/en/my/", lambda route: route.fulfill(response=(got := route.fetch()), body=got.text().replace("Sit down and call 911.", do)))
    page.goto(f"{host.address}/en/my/#{code_of('hold')}")
    expect(page.locator("#stops li").first).to_have_text(f"Your chest hurts. {says}", use_inner_text=True)
    expect(page.locator("#stops a")).to_have_text(links)
    begin_session(page)
    page.locator("#hurts-button").click()
    expect(page.locator("#hurts-stops li").first).to_have_text(f"Your chest hurts. {says}", use_inner_text=True)
    expect(page.locator("#hurts-stops a")).to_have_text(links)


def test_a_changed_dose_is_shown(phone: Phone, host: Host) -> None:
    """What the clinician moved stands in the list and in the session."""
    page = phone.open(host, code_of(("lift", {"sets": 3, "reps": 12}), location="main"))
    expect(page.locator(".row-dose")).to_have_text(["3 sets of 12"], use_inner_text=True)
    expect(page.locator("#call-place")).to_have_text("Call Main Street: 555-0100", use_inner_text=True)
    begin_session(page)
    page.locator("#act").click()
    expect(page.locator("#session-line")).to_have_text("Set 1 of 3 · 12 times")


def test_a_damaged_link_shows_no_exercise(phone: Phone, host: Host) -> None:
    """One sentence, the clinic's phones, and nothing else; the list that was kept stays kept."""
    page = phone.open(host)
    for code in (MINE[:-1], MINE[:20], MISREAD, "X" * 5000, "%3Cimg%20src=x%20onerror=alert(1)%3E", "__proto__", "ZZZZ"):
        expect(page.locator("#rows li")).to_have_count(3)
        page.goto("about:blank")
        phone.open(host, code)
        see_view(page, "refused")
        expect(page.locator("#refused-why")).to_have_text("This link is incomplete. Ask for it again.", use_inner_text=True)
        expect(page.locator("#rows li")).to_have_count(0)
        expect(page.locator("#refused .phone")).to_have_text(["555-0100", "555-0101"], use_inner_text=True)
        expect(page.locator("img[src=x]")).to_have_count(0)
        page.goto("about:blank")
        page.goto(f"{host.address}/en/my/index.html")
    expect(page.locator("#rows li")).to_have_count(3)


FROM_STEP = code_of("curl", "walk", origin=Origin("programme", "stand-up", 2))
LOST = ("This list was begun from a program that is not in our library now, or not in this language. "
        "What that program says to watch for is missing here. Ask us before you begin.")  # fmt: skip


@pytest.mark.parametrize("language", ["en", MIRRORED])
def test_a_list_begun_from_a_step(phone: Phone, programme_host: Host, language: str) -> None:
    """The programme, its step, its conditions, its cautions of every kind and its day, each once and before the exercises where it must be."""
    code = code_of("curl", "walk", origin=Origin("programme", "stand-up", 2), language=language)
    page = phone.open(programme_host, code, language)
    see_view(page, "list")
    own = json.loads(page.locator("#book").text_content() or "")
    programme = own["origins"]["programmes"]["stand-up"]
    step = programme["steps"][1]
    expect(page.locator("#place h2")).to_have_text(programme["title"], use_inner_text=True)
    expect(page.locator("#place .step-name")).to_have_text(step["name"], use_inner_text=True)
    expect(page.locator("#place p:not(.step-name)")).to_have_text([" ".join(line) for line in step["lines"]], use_inner_text=True)
    words = page.locator("#list").inner_text()
    dizzy = own["stops"]["stop-dizzy"]["when"]
    texts = [dizzy, *(own["signs"][slug][0] for slug in ("ask-hip", "go-slow")), *programme["day"], *(text for _, text in step["lines"])]
    assert [words.count(text) for text in texts] == [1] * len(texts)
    first = words.index(own["exercises"]["S2T5"]["title"])
    assert words.index(dizzy) < words.index(own["signs"]["ask-hip"][0]) < first  # what is asked first stands first
    expect(page.locator("#lost")).to_be_hidden()
    if language == "en":
        assert [programme["title"], step["name"]] == ["Stand up well", "Step 2: Build"]
        assert step["lines"] == [["Start this step when", "You can do each one above."], ["The goal of this program", "You get up from a chair with ease."]]
    assert page.evaluate("document.documentElement.scrollWidth") <= 360


def test_a_list_whose_programme_is_gone(phone: Phone, host: Host) -> None:
    """The exercises open with their doses, and the page says that the programme's cautions are missing; the same after a reload."""
    page = phone.open(host, FROM_STEP)
    for _ in range(2):
        see_view(page, "list")
        expect(page.locator(".row-name")).to_have_text(["Slow curl", "Walk"], use_inner_text=True)
        expect(page.locator("#lost")).to_be_visible()
        expect(page.locator("#lost")).to_have_text(LOST, use_inner_text=True)
        expect(page.locator("#place")).to_be_hidden()
        page.goto("about:blank")
        page.goto(f"{host.address}/en/my/index.html")
    phone.open(host)
    expect(page.locator("#another-list")).to_be_visible()
    expect(page.locator("#lost")).to_be_hidden()


def test_an_exercise_from_its_own_page(phone: Phone, host: Host) -> None:
    """Four characters open one exercise with the library's dose; the patient's own list is kept and one tap away."""
    page = phone.open(host, "s2t6")
    expect(page.locator("#only-one")).to_be_visible()
    expect(page.get_by_role("button", name="Back to my own list")).to_be_hidden()  # there is none yet
    page.goto("about:blank")
    phone.open(host)
    expect(page.locator(".row-name")).to_have_text(["Foot lift", "Side hold", "Slow curl"], use_inner_text=True)
    page.goto("about:blank")
    phone.open(host, "s2t6")
    expect(page.locator(".row-name")).to_have_text(["Walk"], use_inner_text=True)
    expect(page.locator("#only-one")).to_be_visible()
    page.get_by_role("button", name="Back to my own list").click()
    expect(page.locator(".row-name")).to_have_text(["Foot lift", "Side hold", "Slow curl"], use_inner_text=True)


def test_nothing_opened_yet(phone: Phone, host: Host) -> None:
    """Without a link and without a kept list the page says what to do."""
    page = phone.page
    page.goto(f"{host.address}/en/my/index.html")
    see_view(page, "empty")
    expect(page.locator("#empty")).to_contain_text("point your phone's camera at the square code")


def test_a_link_in_another_language_leads_to_its_page(browser: Browser, host: Host) -> None:
    """The page of the code's language opens; later the reader may choose another language and keeps the list."""
    context = browser.new_context()
    context.add_init_script(NO_WORKER)
    page = context.new_page()
    page.goto(f"{host.address}/en/my/#{IN_MIRRORED}")
    page.wait_for_url(f"**/{MIRRORED}/my/index.html#{IN_MIRRORED}")
    expect(page.locator("#rows li")).to_have_count(3)
    page.goto("about:blank")
    page.goto(f"{host.address}/en/my/index.html")
    expect(page.locator("#rows li")).to_have_count(3)
    expect(page).to_have_url(re.compile(re.escape("/en/my/")))
    context.close()


def test_nothing_leaves_the_phone(kept_phone: Phone, host: Host) -> None:
    """No other host, no cookie; neither a request nor a referrer nor a key of the worker's caches holds the code."""
    page = kept_phone.open(host)
    asked: list[str] = []
    page.on("request", lambda request: asked.append(request.url))
    expect(page.locator("#kept")).to_have_text(KEPT)
    page.reload()
    begin_session(page)
    page.locator("#end").click()
    page.locator("#ending-now").click()
    expect(page.locator("#session-figure")).to_be_attached()
    assert all(url.startswith(host.address) for url in asked)
    assert not any(MINE in text for text in (*host.asked, *host.referrers))
    assert not any("#" in text for text in host.referrers)
    keys = page.evaluate("""async () => { const found = []; for (const name of await caches.keys())
        for (const request of await (await caches.open(name)).keys()) found.push(request.url); return found; }""")
    assert keys
    assert not any("#" in key or "?" in key or MINE in key for key in keys)
    assert page.evaluate("document.cookie") == ""


def test_everything_is_erased_in_two_taps(kept_phone: Phone, host: Host) -> None:
    """List, log, switches and caches are gone, the page looked again, and other keys of the site stay."""
    page = kept_phone.open(host)
    expect(page.locator("#kept")).to_have_text(KEPT)
    page.evaluate("localStorage.setItem('handouts /base/ bundles', 'x'); localStorage.setItem('handouts /base/ my.log', '{')")
    page.get_by_role("button", name="My log").click()
    expect(page.locator("#log")).to_contain_text("This log is only on this phone, in this browser.")
    page.get_by_role("button", name="Erase everything").click()
    page.get_by_role("button", name="Erase it now").click()
    expect(page.locator("#erased")).to_have_text("Everything is erased.")
    assert page.evaluate("Object.keys(localStorage)") == ["handouts /base/ bundles"]
    assert page.evaluate("caches.keys()") == []
    assert page.evaluate("navigator.serviceWorker.getRegistrations().then(all => all.length)") == 0
    assert "#" not in page.url
    page.reload()
    see_view(page, "empty")


FULL = "Storage.prototype.setItem = () => { throw new DOMException('full', 'QuotaExceededError'); };"
OFF = "Object.defineProperty(globalThis, 'localStorage', {get() { throw new DOMException('off', 'SecurityError'); }});"


@pytest.mark.parametrize(("script", "says"), [(FULL, "storage is full"), (OFF, "This browser saves nothing.")], ids=["full", "off"])
def test_storage_that_takes_nothing_is_survived(browser: Browser, host: Host, script: str, says: str) -> None:
    """Quota 0 or no storage: said, the session goes on, and the log of this visit can still be taken along."""
    context = browser.new_context()
    context.add_init_script(script)
    phone = Phone(context)
    page = phone.open(host)
    expect(page.locator("#note-storage")).to_contain_text(says)
    begin_session(page)
    page.locator("#act").click()
    page.locator("#skip").click()
    page.locator("#skip").click()
    page.locator("#skip").click()
    page.locator("#end").click()
    page.locator("#ending-now").click()
    see_view(page, "after")
    page.locator("#no-save").click()
    begin_session(page)
    page.locator("#hurts-button").click()
    page.locator("#hurts-leave").click()
    page.locator("#hurts-button").click()
    page.locator("#hurts-leave").click()
    page.locator("#act").click()
    page.locator("#skip").click()
    page.get_by_role("button", name="Done").click()
    page.get_by_role("button", name="Save in my log").click()
    expect(page.locator("#log-lines")).to_contain_text("Slow curl 1 × 8")
    expect(page.locator("#note-storage")).to_contain_text(says)
    assert phone.complaints == []
    context.close()


def test_a_damaged_log_is_set_aside(phone: Phone, host: Host) -> None:
    """The damaged text is kept under another key, an earlier one too; a new log begins."""
    page = phone.open(host)
    for at, text in enumerate(("{broken", '{"version":1,"entries":[{"date":"x"}]}'), start=1):
        page.evaluate("text => localStorage.setItem('handouts /base/ my.log', text)", text)
        page.get_by_role("button", name="My log").click()
        expect(page.locator("#note-storage")).to_contain_text("It is set aside, not deleted")
        assert page.evaluate(f"localStorage.getItem('handouts /base/ my.log-aside-{at}')") == text
        page.get_by_role("button", name="Back to my exercises").click()
    assert page.evaluate("localStorage.getItem('handouts /base/ my.log-aside-1')") == "{broken"


def test_a_newer_log_is_left_alone(phone: Phone, host: Host) -> None:
    """A log of a later version is neither read nor overwritten."""
    page = phone.open(host)
    page.evaluate("localStorage.setItem('handouts /base/ my.log', '{\"version\":9}')")
    page.get_by_role("button", name="My log").click()
    expect(page.locator("#note-storage")).to_contain_text("newer version")
    assert page.evaluate("localStorage.getItem('handouts /base/ my.log')") == '{"version":9}'


def test_two_windows_lose_nothing(phone: Phone, host: Host) -> None:
    """An entry that another window saved meanwhile stays."""
    page = phone.open(host, code_of("curl"))
    begin_session(page)
    page.locator("#act").click()
    page.locator("#skip").click()
    page.get_by_role("button", name="Done").click()
    other = {"date": "2026-11-01", "done": [{"code": "S2T6", "sets": 1, "of": 1, "time": 300}], "effort": None, "pain": None}
    page.evaluate("text => localStorage.setItem('handouts /base/ my.log', text)", json.dumps({"version": 1, "entries": [other]}))
    page.get_by_role("button", name="Save in my log").click()
    expect(page.locator("#log-lines > li")).to_have_count(2)
    wait_until(page, "JSON.parse(localStorage.getItem('handouts /base/ my.log')).entries.length === 2")


def test_the_log_goes_along_as_text_and_on_paper(phone: Phone, host: Host) -> None:
    """A file with the same words; on paper there is the log and no button."""
    page = phone.open(host)
    entry = {"date": "2026-11-17", "done": [{"code": "S2T3", "sets": 1.5, "of": 2, "reps": 10}, {"code": "ZZZZ", "sets": 1, "of": 1, "time": 90}], "effort": None, "pain": 0}
    page.evaluate("text => localStorage.setItem('handouts /base/ my.log', text)", json.dumps({"version": 1, "entries": [entry]}))
    page.get_by_role("button", name="My log").click()
    with page.expect_download() as waiting:
        page.get_by_role("button", name="Save as a file").click()
    text = Path(waiting.value.path()).read_text(encoding="utf-8")
    assert text.startswith("Test Clinic\nMy log\n\n")
    assert text.endswith("\n\nTue, Nov 17, 2026: Foot lift 1.5 × 10 and ZZZZ 1 × 90 seconds\nEffort –, pain 0\n")
    page.emulate_media(media="print")
    expect(page.locator("#log-lines")).to_be_visible()
    for hidden in ("#erase", "#copy", ".strip", ".bottom"):
        expect(page.locator(hidden).first).to_be_hidden()


def test_the_log_is_shown_as_a_code(kept_phone: Phone, host: Host, tmp_path: Path) -> None:
    """By a tap only, and without a connection: a QR code and the same in letters, with days counted from the plan's first and nothing else."""
    page = kept_phone.open(host)
    expect(page.locator("#kept")).to_have_text(KEPT)
    lift, hold, curl = ({"code": code, "sets": sets, "of": of, **amount} for code, sets, of, amount in (("S2T3", 2, 2, {"reps": 3}), ("S2T4", 0.5, 1, {"hold": 10}), ("S2T5", 1, 1, {"reps": 8})))
    rows = [("2026-11-09", [lift], 4, 1), ("2026-11-10", [lift], 4, 1), ("2026-11-12", [hold, curl], None, None), ("2026-11-13", [{**lift, "reps": 5}], 9, 9)]
    entries = [{"date": date, "done": done, "effort": effort, "pain": pain} for date, done, effort, pain in rows]
    page.evaluate("text => localStorage.setItem('handouts /base/ my.log', text)", json.dumps({"version": 1, "entries": entries}))
    page.evaluate("localStorage.setItem('handouts /base/ my.list-day', '2026-11-10')")
    kept_phone.context.set_offline(True)
    page.emulate_media(color_scheme="dark")
    stop_clock(page)
    page.reload()
    page.get_by_role("button", name="My log").click()
    expect(page.locator("#shown")).to_be_hidden()
    assert page.evaluate("typeof handoutsShow") == "undefined"
    page.get_by_role("button", name="Show it as a code").click()
    expect(page.locator("#shown-title")).to_be_focused()
    code = page.locator("#shown-code").inner_text().replace(" ", "")
    assert read_code(code, (2, 1, 1)) == (MINE, Log(False, 15, 2, ((0, 4, 1, (4, 0, 0)), (2, None, None, (0, 1, 2)))))
    page.locator("#shown-qr").screenshot(path=tmp_path / "qr.png")
    assert [item.text for item in zxingcpp.read_barcodes(Image.open(tmp_path / "qr.png"))] == [code]
    page.get_by_role("button", name="Show it as a code").click()
    expect(page.locator("#shown")).to_be_hidden()


def test_read_aloud_only_with_a_voice_on_the_device(browser: Browser, host: Host) -> None:
    """A voice that sends the text away, or of another language, is no voice; each text is marked while it is read."""
    stub = """globalThis.said = []; globalThis.voices = [];
      const fake = {getVoices: () => globalThis.voices, cancel() {}, addEventListener(name, act) { globalThis.changed = act; },
        speak(words) { globalThis.said.push(words.text); globalThis.next = () => words.dispatchEvent(new Event('end')); }};
      Object.defineProperty(globalThis, 'speechSynthesis', {value: fake});
      globalThis.SpeechSynthesisUtterance = class extends EventTarget { constructor(text) { super(); this.text = text; } };"""
    context = browser.new_context()
    context.add_init_script(NO_WORKER + stub)
    phone = Phone(context)
    page = phone.open(host)
    page.locator("#rows summary").first.click()
    button = page.get_by_role("button", name="Read aloud")
    expect(page.locator("#rows .steps")).to_be_visible()
    expect(button).to_be_hidden()
    for voice in ({"lang": "en-US", "localService": False}, {"lang": "fr-FR", "localService": True}):
        page.evaluate("voice => { globalThis.voices.push(voice); globalThis.changed(); }", voice)
        expect(button).to_be_hidden()
    page.evaluate("() => { globalThis.voices.push({lang: 'en_GB', localService: true}); globalThis.changed(); }")
    button.click()
    expect(page.locator(".read")).to_have_text(["You use this each time you stand up."], use_inner_text=True)
    page.evaluate("globalThis.next()")
    expect(page.locator(".read")).to_have_text(["How to do it"], use_inner_text=True)
    page.get_by_role("button", name="Stop reading").click()
    page.evaluate("globalThis.next()")
    expect(page.locator(".read")).to_have_count(0)
    wait_until(page, "globalThis.said.length === 2")
    assert phone.complaints == []
    context.close()


def test_from_a_folder_without_a_worker(browser: Browser, tmp_path: Path) -> None:
    """From disk the list, the instructions and a session work; nothing complains."""
    write_site(make_phone_site(), tmp_path / "a site")
    context = browser.new_context(viewport={"width": 360, "height": 740})
    phone = Phone(context)
    page = phone.page
    page.goto((tmp_path / "a site/en/my/index.html").as_uri() + f"#{MINE}")
    page.locator("#rows summary").first.click()
    expect(page.locator("#rows .steps li")).to_have_count(2)
    begin_session(page)
    expect(page.locator("#session-figure svg")).to_be_visible()
    assert phone.complaints == []
    context.close()


def test_the_screen_stays_on(browser: Browser, host: Host) -> None:
    """The wake lock is asked for in a session, and given back at its end."""
    context = browser.new_context()
    context.add_init_script(
        NO_WORKER + """globalThis.locks = [];
        Object.defineProperty(navigator, 'wakeLock', {value: {request: async () => {
          const lock = {released: false, release: async () => { lock.released = true; }}; globalThis.locks.push(lock); return lock; }}});"""
    )
    page = Phone(context).open(host)
    begin_session(page)
    wait_until(page, "globalThis.locks.length === 1 && !globalThis.locks[0].released")
    page.locator("#act").click()
    page.locator("#end").click()
    page.locator("#ending-now").click()
    wait_until(page, "globalThis.locks.every(lock => lock.released)")
    context.close()


def test_cues_can_be_turned_off(browser: Browser, host: Host) -> None:
    """Tones and vibration come with each step, and not when they are switched off; the choice is kept."""
    context = browser.new_context()
    context.add_init_script(
        NO_WORKER + """globalThis.shakes = 0; globalThis.tones = 0; navigator.vibrate = () => { globalThis.shakes += 1; return true; };
        const start = OscillatorNode.prototype.start; OscillatorNode.prototype.start = function (...all) { globalThis.tones += 1; return start.apply(this, all); };"""
    )
    phone = Phone(context)
    page = phone.open(host)
    begin_session(page)
    page.locator("#act").click()
    page.locator("#skip").click()
    wait_until(page, "globalThis.shakes > 0 && globalThis.tones > 0")
    page.get_by_label("Sound").uncheck()
    page.get_by_label("Vibration").uncheck()
    page.evaluate("globalThis.shakes = globalThis.tones = 0")
    page.locator("#skip").click()
    page.locator("#end").click()
    page.locator("#ending-now").click()
    assert page.evaluate("globalThis.shakes + globalThis.tones") == 0
    page.reload()
    begin_session(page)
    expect(page.get_by_label("Sound")).not_to_be_checked()
    assert phone.complaints == []
    context.close()


STATES = ["empty", "refused", "offline", "list", "begin", "ending", "hurts", "hard", "after", "work", "propped", "rest", "log", "erase"]


def reach(page: Page, host: Host, state: str, language: str = "en") -> None:
    """Opens the page and brings it into a state that is not in ``ON``, or into "begin"."""
    mine = MINE if language == "en" else IN_MIRRORED
    code = {"empty": "", "refused": mine[:-1]}.get(state, mine)
    page.goto(f"{host.address}/{language}/my/index.html{'#' if code else ''}{code}")
    if state in ("empty", "refused"):
        return
    expect(page.locator("#kept")).not_to_be_empty()
    if state == "offline":
        page.context.set_offline(True)
        page.locator(".clinic").click()
        return
    if state == "list":
        for summary in page.locator("#rows summary").all():
            summary.click()
        page.locator("#rows .ready").last.wait_for()
        return
    if state == "log":
        page.evaluate("text => localStorage.setItem('handouts /base/ my.log', text)", json.dumps({"version": 1, "entries": [
            {"date": page.evaluate("new Date().toLocaleDateString('sv')"), "done": [{"code": "S2T3", "sets": 2, "of": 2, "reps": 3}], "effort": 4, "pain": 0}]}))  # fmt: skip
        page.locator("#to-log").click()
        page.locator("#show-log").click()
        page.locator("#shown-qr svg").wait_for()
        return
    page.locator("#start").click()
    page.locator("#session-figure svg").wait_for()
    steps: dict[str, list[str]] = {
        "begin": ["#session-how summary"], "work": ["#act", "#skip", "#movement"], "propped": ["#act", "#skip", "#prop"],
        "rest": ["#act", "#skip", "#skip"],
    }  # fmt: skip
    for step in steps[state]:
        page.locator(step).click()


ON: dict[str, list[str]] = {
    "begin": ["#start", "#session-how summary"], "ending": ["#end"], "hurts": ["#ending-on", "#hurts-button"], "hard": ["#hurts-leave", "#hard-button"],
    "after": ["#hard-on", "#hurts-button", "#hurts-leave", "#act", "#skip", "#act"], "erase": ["#erase"],
}  # fmt: skip
"""From the state before it in ``STATES``, without opening the page again: where no time passes in between."""
VIEW_OF = {"begin": "session", "work": "session", "propped": "session", "rest": "session", "erase": "log"}
"""Where the view is not named as the state is."""
MIRRORED_STATES = [state for state in STATES if state not in ("refused", "offline", "propped", "erase")]
"""Read from the right, the others have the same parts in the same order."""
ANEW = "if (location.protocol !== 'about:') { localStorage.clear(); sessionStorage.clear(); }"
"""For a page's first script: each opening is the first on this phone."""
LARGE_TEXT = [(360, 740, "225%"), (740, 360, "112.5%")]
"""Text twice as large, and a phone on its side."""


@pytest.mark.parametrize("language", ["en", MIRRORED])
def test_every_state_can_be_used(browser: Browser, host: Host, language: str) -> None:
    """axe-core finds nothing in any colours; at 320 px, with text twice as large and on its side nothing is cut or has to be moved sideways."""
    context = browser.new_context(bypass_csp=True)
    context.add_init_script(NO_WORKER)
    context.add_init_script(ANEW)
    page = context.new_page()
    for state in STATES if language == "en" else MIRRORED_STATES:
        page.set_viewport_size({"width": 320, "height": 640})
        if state in ON:
            page.evaluate("document.documentElement.style.fontSize = ''")
            for step in ON[state]:
                page.locator(step).click()
        else:
            context.set_offline(False)
            page.goto("about:blank")  # another code alone would not load the page again
            reach(page, host, state, language)
        see_view(page, VIEW_OF.get(state, state))
        if language == "en" or state == "empty":
            assert violations(page, ("light", "dark", "forced") if language == "en" else ("light",)) == [], state
        assert page.evaluate("document.documentElement.scrollWidth - innerWidth") <= 0, state
        small = page.evaluate(
            """() => [...document.querySelectorAll('.view a, .view button, .view summary, .view label')]
              .filter(e => e.checkVisibility() && !e.closest('.signs')).map(e => [e.getBoundingClientRect(), e.outerHTML.slice(0, 80)])
              .filter(([box]) => box.height < 44 || box.width < 40).map(([, text]) => text)"""
        )
        assert small == [], state
        for width, height, size in LARGE_TEXT:
            page.set_viewport_size({"width": width, "height": height})
            page.evaluate("size => { document.documentElement.style.fontSize = size; }", size)
            assert page.evaluate("document.documentElement.scrollWidth - innerWidth") <= 0, (state, width)
            cut = page.evaluate(
                """() => [...document.querySelectorAll('.view a, .view button, .view summary, .view h1, .view h2, .view h3, .view p, .view span')]
                  .filter(e => e.checkVisibility() && e.scrollWidth > e.clientWidth + 1 && e.clientWidth > 1 && getComputedStyle(e).overflow !== 'visible')
                  .map(e => e.outerHTML.slice(0, 100))"""
            )
            assert cut == [], (state, width)
    context.close()


def test_numbers_and_buttons_are_on_the_first_screen(phone: Phone, host: Host) -> None:
    """At 360 x 740 figure, count, word and every button of a session stand above the strip, and the figure is the largest of them."""
    page = phone.page
    reach(page, host, "rest")
    strip = page.locator(".strip").bounding_box()
    last = page.locator("#hurts-button").bounding_box()
    figure = page.locator("#session-figure").bounding_box()
    assert strip and last and figure and last["y"] + last["height"] < strip["y"]
    assert figure["height"] > 200
    page.set_viewport_size({"width": 1366, "height": 768})
    page.evaluate("new Promise(done => requestAnimationFrame(() => requestAnimationFrame(done)))")
    figure, count, acts = (page.locator(each).bounding_box() for each in ("#session-figure", "#count", ".session-acts"))
    assert figure and count and acts
    assert figure["height"] > 400 and count["x"] > figure["x"] + figure["width"] and acts["x"] + acts["width"] > 1200, "a wide window is used whole"


HIDDEN = """() => {
  const top = name => document.querySelector(name).getBoundingClientRect().top;
  const [acts, strip] = [top('.session-acts'), top('.strip')];
  return [...document.querySelectorAll('.session-acts button, .session-top button')].filter(button => button.checkVisibility())
    .map(button => [button, button.getBoundingClientRect()])
    .filter(([button, box]) => box.bottom > (button.closest('.session-acts') ? strip - 4 : acts) || box.top < 0)
    .map(([button, box]) => `${button.id} ${box.top} to ${box.bottom}, acts from ${acts}, strip from ${strip}`);
}"""


@pytest.mark.parametrize("language", ["en", MIRRORED])
def test_no_button_of_a_session_is_under_the_strip(browser: Browser, host: Host, language: str) -> None:
    """In each phase, on two small phones, and with text twice as large on each, every button that acts is whole, and clear of the strip."""
    context = browser.new_context(viewport={"width": 360, "height": 740})
    context.add_init_script(NO_WORKER)
    page = context.new_page()
    for state in ("begin", "work", "rest", "propped") if language == "en" else ("rest", "propped"):
        page.set_viewport_size({"width": 360, "height": 740})
        reach(page, host, state, language)
        for title in ("Hold", "Standing up slowly from a chair with both arms crossed"):
            page.evaluate("words => { for (const id of ['session-title', 'session-line']) document.getElementById(id).textContent = words; }", title)
            for width, height, size in ((360, 740, "112.5%"), (320, 640, "112.5%"), (360, 740, "225%"), (320, 640, "225%")):
                page.set_viewport_size({"width": width, "height": height})
                page.evaluate("size => { document.documentElement.style.fontSize = size; }", size)
                page.evaluate("scrollTo(0, 0)")
                page.evaluate("new Promise(done => requestAnimationFrame(() => requestAnimationFrame(done)))")
                assert page.evaluate(HIDDEN) == [], (state, title, width, size)
                for shown in ("#phase", "#act", "#hurts-button", *(["#count"] if state in ("work", "rest") else [])):
                    if title == "Hold":
                        expect(page.locator(shown)).to_be_in_viewport(ratio=1)
    context.close()

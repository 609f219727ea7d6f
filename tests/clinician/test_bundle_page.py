"""The bundle page in Chromium, from files on disk: picking, doses, limits, printing, handing over, the next visit."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from dataclasses import replace
from functools import partial
from pathlib import Path
from threading import Thread

import pytest
import zxingcpp
from fhir.resources.plandefinition import PlanDefinition
from PIL import Image
from playwright.sync_api import Browser, Page, expect

from handouts.bundle.catalogue import make_catalogue, pack_tempo
from handouts.bundle.code import decode_bundle, encode_bundle, group_code
from handouts.bundle.values import CODE_PLACE, OpenedBundle, Origin, PickedBundle
from handouts.model import DoseChange, Tempo
from tests.bundle.sample import bundle_of, pick_of
from tests.clinician.making import libraries, the_site
from tests.server import PatientServer
from tests.site.axe import violations
from tests.site.browser import PRINTED, a_browser
from tests.site.making import write_site
from tests.site.test_browser import Quiet, Watched

pytestmark = pytest.mark.browser

CATALOGUE = make_catalogue(libraries()[0])
KEYSTROKE, THOUGHT = 0.28, 1.35
"""Seconds of one keystroke of an average typist and of one act of thought (keystroke-level model,
Card, Moran and Newell, Commun. ACM 1980;23:396; from memory)."""


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    with a_browser() as found:
        yield found


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The site on disk, as on a stick."""
    where = tmp_path_factory.mktemp("on a stick")
    write_site(the_site(), where)
    return where


@pytest.fixture
def watched(browser: Browser, folder: Path) -> Iterator[Watched]:
    """The bundle page, which complains of nothing."""
    context = browser.new_context(viewport={"width": 1280, "height": 900}, accept_downloads=True)
    context.add_init_script(PRINTED)
    found = Watched(context.new_page())
    found.page.goto(page_address(folder))
    yield found
    context.close()
    assert found.complaints == []


def page_address(folder: Path, language: str = "en") -> str:
    """The bundle page on disk."""
    return (folder / language / "bundle/index.html").as_uri()


def code_of(bundle: PickedBundle) -> str:
    """The code of a bundle that must be accepted."""
    code = encode_bundle(bundle, CATALOGUE)
    assert isinstance(code, str), code
    return code


def add(page: Page, *words: str) -> None:
    """Adds exercises by their first letters."""
    for word in words:
        page.locator("#find").fill(word)
        page.keyboard.press("Enter")


def see_titles(page: Page, titles: list[str]) -> None:
    """These exercises are picked, in this order."""
    expect(page.locator("#picks h3")).to_have_text(titles, use_inner_text=True)


def given(page: Page) -> PickedBundle:
    """The bundle that the page's link holds, read by the other side."""
    opened = decode_bundle(page.locator("#link").input_value(), CATALOGUE)
    assert isinstance(opened, OpenedBundle)
    return opened.bundle


def field(page: Page, name: str, code: str) -> str:
    """What stands in a field of a dose."""
    return page.locator(f"#{name}-{code}").input_value()


class Hands:
    """A person at the keyboard: counts what they do, and how long it takes them by the keystroke-level model."""

    def __init__(self, page: Page) -> None:
        self.page, self.actions, self.seconds = page, 0, 0.0

    def press(self, keys: str, thought: float = 0.0) -> None:
        """One stroke, with a thought before it where one is needed."""
        self.page.keyboard.press(keys)
        self.actions += 1
        self.seconds += KEYSTROKE * (1 + keys.count("+")) + thought

    def type(self, text: str) -> None:
        """A word or a number."""
        self.page.keyboard.type(text)
        self.actions += 1
        self.seconds += KEYSTROKE * len(text) + THOUGHT


def test_under_a_minute_by_keyboard(watched: Watched) -> None:
    """Four exercises, two doses changed, one limit, Spanish, large print, print dialog: 30 actions and 60 seconds at most."""
    page = watched.page
    hands = Hands(page)
    for word in ("sit", "stan", "wal", "squ"):
        hands.type(word)
        hands.press("Enter")
    hands.press("Tab", THOUGHT)
    hands.press("Tab")
    hands.type("2")
    hands.press("Tab")
    hands.type("12")
    hands.press("Alt+l", THOUGHT)
    hands.press("Tab")
    hands.press("Space")
    expect(page.locator("#findings")).to_contain_text("the hip bends to 96 degrees")
    chart = page.locator("#chart").input_value()
    hands.press("Alt+s", THOUGHT)
    hands.press("ArrowDown")
    for _ in range(3):
        hands.press("Tab")
    hands.press("ArrowDown", THOUGHT)
    hands.press("Alt+p", THOUGHT)
    page.wait_for_selector("html[data-printed=yes]", state="attached")
    assert (hands.actions <= 30, hands.seconds < 60) == (True, True), (hands.actions, hands.seconds)
    expect(page).to_have_url(re.compile(re.escape("/es/sheets/large/index.html")))
    expect(page.locator("html")).to_have_attribute("class", "large letter")
    expect(page.locator("article")).to_have_count(5)
    assert [each.get_attribute("id") for each in page.locator("article").all()] == ["cover", "sit", "stand", "walk", "squat"]
    assert [each.inner_text() for each in page.locator("#sit .dose b").all()][:2] == ["2", "12"]
    assert "Limits ticked: Hip replacement (weeks 1 to 6)" in chart
    assert "Hip" not in page.url


def test_a_dose_outside_its_range_is_refused(watched: Watched) -> None:
    """The range is named, the old value stays, and nothing is handed over with the wrong one."""
    page = watched.page
    add(page, "sit")
    page.locator("#sets-S2T3").fill("9")
    page.locator("#sets-S2T3").press("Tab")
    expect(page.locator("#refused-S2T3")).to_have_text("9 is outside the dose range: 1 to 4 sets. It stays 3.")
    assert field(page, "sets", "S2T3") == "3"
    assert given(page).picks[0].change is None
    page.locator("#reps-S2T3").fill("")
    page.locator("#reps-S2T3").press("Tab")
    assert field(page, "reps", "S2T3") == "10"
    assert given(page).picks[0].change is None


def test_another_tempo(watched: Watched) -> None:
    """A tempo that the library offers changes minutes, chart, record and link; the sheet says it; undo takes it back."""
    page = watched.page
    add(page, "squ")
    expect(page.locator("#totals")).to_contain_text("One session: about 1 minute")
    tempo = page.get_by_label("Tempo: Squat")
    assert tempo.locator("option").all_inner_texts() == ["1 second to move, 1 second back", "2 seconds to move, 1 second hold, 4 seconds back"]
    tempo.select_option(label="2 seconds to move, 1 second hold, 4 seconds back")
    expect(page.locator("#totals")).to_contain_text("One session: about 2 minutes")
    expect(page.locator("#chart")).to_have_value(re.compile("2 seconds to move, 1 second hold, 4 seconds back"))
    assert given(page).picks[0].change == DoseChange(place=CODE_PLACE, tempo=Tempo(2, 1, 4))
    page.locator("#preview").click()
    expect(page.locator("#squat .dose")).to_contain_text("Pace: 2 seconds to move, 1 second hold, 4 seconds back.")
    page.go_back()
    expect(page.get_by_label("Tempo: Squat")).to_have_value(str(pack_tempo(Tempo(2, 1, 4))))
    page.get_by_label("Tempo: Squat").select_option(index=0)
    expect(page.locator("#totals")).to_contain_text("One session: about 1 minute")
    page.locator("#undo").click()
    expect(page.locator("#totals")).to_contain_text("One session: about 2 minutes")


def test_sums_follow_each_key_and_can_be_undone(watched: Watched) -> None:
    """Minutes change while one types; one undo takes the whole number back, the next the exercise."""
    page = watched.page
    add(page, "walk")
    expect(page.locator("#totals")).to_contain_text("One session: about 20 minutes", use_inner_text=True)
    expect(page.locator("#pick-S2T5 .sentence")).to_have_text(re.compile("^1 set of"), use_inner_text=True)
    page.locator("#time-S2T5").focus()
    page.keyboard.type("25")
    expect(page.locator("#totals")).to_contain_text("One session: about 25 minutes")
    page.keyboard.press("Tab")
    change = given(page).picks[0].change
    assert change is not None
    assert change.time_seconds == 1500
    page.locator("#undo").click()
    expect(page.locator("#totals")).to_contain_text("One session: about 20 minutes")
    page.locator("#undo").click()
    see_titles(page, [])
    expect(page.locator("#hand")).to_be_hidden()


def test_order_moves_and_taking_out(watched: Watched) -> None:
    """Up, down, easier and harder, take out, and the order with the fewest changes of position."""
    page = watched.page
    add(page, "walk", "squat", "stand", "sit")
    expect(page.locator("#findings")).to_contain_text("Walk stands before Stand up, which it builds on.")
    page.locator("#order").click()
    see_titles(page, ["Squat", "Sit tall", "Stand up", "Walk"])
    page.locator("#up-S2T3").click()
    expect(page.locator("#picks h3").first).to_have_text("Sit tall")
    expect(page.locator("#down-S2T3")).to_be_focused()
    page.locator("#out-S2T5").click()
    page.locator("#move-S2T4").select_option("S2T5")
    see_titles(page, ["Sit tall", "Squat", "Walk"])


def test_next_visit(watched: Watched) -> None:
    """A pasted link opens what was given; what is changed since is said in words."""
    page = watched.page
    code = code_of(bundle_of(pick_of("sit", sets=2), location="main", language="en", weeks=2))
    page.locator("#paste").fill(f"https://clinic.example/en/my/#{code}")
    page.locator("#open").click()
    see_titles(page, ["Sit tall"])
    assert field(page, "sets", "S2T3") == "2"
    expect(page.locator("#difference")).to_have_text("Nothing changed.")
    page.locator("#move-S2T3").select_option("S2T4")
    expect(page.locator("#difference")).to_have_text("Sit tall moved on to Stand up: 3 sets of 10, each side, 3 days a week.")


def test_codes_that_are_typed(watched: Watched) -> None:
    """The code of the sheet in groups of any kind opens the bundle; an exercise's own code adds it to what is picked."""
    page = watched.page
    code = code_of(bundle_of(pick_of("sit", sets=2), location="main", language="en", weeks=2))
    page.locator("#paste").fill(group_code(code).lower().replace(" ", "-", 3))
    page.locator("#open").click()
    see_titles(page, ["Sit tall"])
    assert field(page, "sets", "S2T3") == "2"
    page.locator("#paste").fill(" s2-t4 ")
    page.keyboard.press("Enter")
    see_titles(page, ["Sit tall", "Stand up"])
    assert page.locator("#paste").input_value() == ""


@pytest.mark.parametrize("text", ["", "Maria Lopez", "https://clinic.example/en/my/#3DEV", "<img src=x onerror=alert(1)>", "javascript:alert(1)", "__proto__", "#" * 5000])
def test_what_is_no_code_is_refused_and_changes_nothing(watched: Watched, text: str) -> None:
    """A damaged code, a name or an attack is refused in words; the picks stay."""
    page = watched.page
    add(page, "sit")
    page.locator("#paste").fill(text)
    page.locator("#open").click()
    expect(page.locator("#paste-note")).to_have_text("This link or code is incomplete. Nothing was opened.")
    see_titles(page, ["Sit tall"])
    expect(page.locator("img[src=x]")).to_have_count(0)


def test_handing_over(watched: Watched, tmp_path: Path) -> None:
    """The link, its QR code, the record and the file all hold the same bundle."""
    page = watched.page
    add(page, "sit", "walk")
    page.locator("#qr svg").screenshot(path=tmp_path / "qr.png")
    link = page.locator("#link").input_value()
    assert [item.text for item in zxingcpp.read_barcodes(Image.open(tmp_path / "qr.png"))] == [link]
    code = link.partition("#")[2]
    with page.expect_download() as waiting:
        page.locator("#fhir").click()
    waiting.value.save_as(tmp_path / "plan.json")
    plan = json.loads((tmp_path / "plan.json").read_text())
    assert PlanDefinition.model_validate(plan).identifier[0].value == code
    with page.expect_download() as waiting:
        page.locator("#save").click()
    waiting.value.save_as(tmp_path / "bundle.txt")
    assert (tmp_path / "bundle.txt").read_text() == link + "\n"
    page.locator("#clear").click()
    see_titles(page, [])
    page.locator("#file").set_input_files(tmp_path / "bundle.txt")
    expect(page.locator("#picks h3")).to_have_count(2)


def test_own_bundles_are_kept_as_codes(watched: Watched) -> None:
    """A bundle kept in this browser can be started from again, and holds nothing but its code."""
    page = watched.page
    add(page, "sit", "squat")
    page.locator("#keep").click()
    kept = page.evaluate("localStorage.getItem(Object.keys(localStorage).find(name => name.endsWith(' bundles')))")
    assert kept == page.locator("#link").input_value().partition("#")[2]
    page.locator("#clear").click()
    page.reload()
    page.locator("#start").select_option(label="Sit tall and Squat")
    see_titles(page, ["Sit tall", "Squat"])


def test_the_draft_outlives_a_look_at_another_page(watched: Watched, folder: Path) -> None:
    """Picks, doses and ticks are still there when one comes back; another tab knows nothing of them."""
    page = watched.page
    add(page, "stand")
    page.locator("#days-S2T4").count()
    page.locator("#sets-S2T4").fill("2")
    page.locator("#sets-S2T4").press("Tab")
    page.locator("#limits summary").click()
    page.locator("#limit-hip").check()
    page.goto((folder / "en/exercises/stand/index.html").as_uri())
    page.goto(page_address(folder))
    see_titles(page, ["Stand up"])
    assert field(page, "sets", "S2T4") == "2"
    expect(page.locator("#limit-hip")).to_be_checked()
    other = page.context.new_page()
    other.goto(page_address(folder))
    see_titles(other, [])


def test_adding_from_another_page(watched: Watched, folder: Path) -> None:
    """A link with an exercise's code adds it to the picks; one with a name in it does nothing."""
    page = watched.page
    for wish in ("#add=S2T3", "#add=S2T7", "#add=constructor", "#add=%00"):
        page.goto("about:blank")
        page.goto(page_address(folder) + wish)
    see_titles(page, ["Sit tall", "Squat"])
    page.goto("about:blank")
    page.goto(page_address(folder) + "#start=S2T5,S2T4")
    see_titles(page, ["Walk", "Stand up"])
    expect(page).to_have_url(re.compile("^[^#]*$"))


def test_a_language_that_lacks_an_exercise_hands_nothing_over(watched: Watched) -> None:
    """Where an exercise is not translated, the page says so and offers no link, sheet or chart."""
    page = watched.page
    add(page, "lift", "sit")
    page.locator("#sheet-language").select_option("es")
    expect(page.locator("#lacks")).to_have_text("Not translated into Spanish yet: Lift. Choose another language, or take them out.")
    expect(page.locator("#hand")).to_be_hidden()
    page.locator("#out-S2T6").click()
    expect(page.locator("#hand")).to_be_visible()
    expect(page.locator("#unreviewed")).to_be_visible()


def test_a_language_that_lacks_the_programme_hands_nothing_over(watched: Watched) -> None:
    """Begun from a step: a language in which its programme is not published is refused, as its cautions would be missing."""
    page = watched.page
    page.locator("#start").select_option(label="Rise, step 1: Wake")
    see_titles(page, ["Sit tall", "Stand up"])
    assert given(page).origin == Origin("programme", "rise", 1)
    assert "Begun from: Rise, step 1: Wake" in page.locator("#chart").input_value().splitlines()
    expect(page.locator("#sheet-second")).to_have_count(0)
    page.locator("#sheet-language").select_option("es")
    expect(page.locator("#lacks")).to_have_text(
        "What this was begun from is not published in Spanish, so its cautions would be missing on the sheet. Choose another language, or start again without it."
    )
    expect(page.locator("#hand")).to_be_hidden()
    expect(page.locator("#lost")).to_be_hidden()
    page.locator("#sheet-language").select_option("en")
    expect(page.locator("#hand")).to_be_visible()
    expect(page.locator("#lacks")).to_be_hidden()


def test_an_old_code_whose_programme_is_gone(watched: Watched) -> None:
    """It opens with its exercises; page, chart and the code made anew say what it was begun from is not there."""
    old = replace(CATALOGUE, programmes={"R222": "gone"})
    code = encode_bundle(PickedBundle("en", "main", 2, (pick_of("sit", sets=2),), Origin("programme", "gone", 1)), old)
    assert isinstance(code, str)
    page = watched.page
    page.locator("#paste").fill(code)
    page.locator("#open").click()
    see_titles(page, ["Sit tall"])
    words = "Begun from a program or a set that is not in this library now, or not in its language. Its own cautions are not shown: tell the patient what to watch for."
    expect(page.locator("#lost")).to_have_text(words)
    assert words in page.locator("#chart").input_value().splitlines()
    assert page.locator("#link").input_value().endswith(f"#{code}")
    page.locator("#clear").click()
    expect(page.locator("#lost")).to_be_hidden()


def test_nothing_is_asked_for_after_the_page_is_there(browser: Browser, folder: Path) -> None:
    """From a server: after the page has loaded, only pictures of exercises and the icon are asked for, of this host."""
    server = PatientServer(("127.0.0.1", 0), partial(Quiet, directory=str(folder)))
    Thread(target=server.serve_forever, daemon=True).start()
    host = f"http://127.0.0.1:{server.server_address[1]}"
    context = browser.new_context()
    watched = Watched(context.new_page())
    watched.page.goto(f"{host}/en/bundle/index.html", wait_until="load")
    before = len(watched.requests)
    add(watched.page, "sit", "stand", "walk")
    watched.page.locator("#sets-S2T3").fill("2")
    later = [request.url for request in watched.requests[before:]]
    context.close()
    server.shutdown()
    server.server_close()
    assert all(url.startswith((f"{host}/assets/figure-", f"{host}/assets/icon.")) for url in later), later
    assert all("#" not in url for url in later)


WCAG = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]


@pytest.mark.parametrize("language", ["en", "es"])
def test_axe_finds_nothing(browser: Browser, folder: Path, language: str) -> None:
    """Empty, full, and with a refusal: axe-core 4 finds no violation of WCAG 2.2 A and AA, light and dark."""
    context = browser.new_context()
    page = context.new_page()
    page.goto(page_address(folder, language))
    found = [violations(page, ("light", "dark"), WCAG)]
    add(page, "sit", "stand", "walk")
    page.locator("#limits summary").click()
    page.locator("#limit-hip").check()
    page.locator("#sets-S2T3").fill("9")
    page.locator("#sets-S2T3").press("Tab")
    page.locator("#find").fill("squ")
    found.append(violations(page, ("light", "dark"), WCAG))
    context.close()
    assert found == [[], []]


@pytest.mark.parametrize("width", [320, 360, 1280])
def test_room_for_every_width(browser: Browser, folder: Path, width: int) -> None:
    """No sideways scrolling, and every field and button at least 44 px high."""
    context = browser.new_context(viewport={"width": width, "height": 800})
    page = context.new_page()
    page.goto(page_address(folder))
    add(page, "sit", "stand", "walk")
    assert page.evaluate("document.documentElement.scrollWidth") <= width
    small = "[...document.querySelectorAll('#maker input:not([type=checkbox]), #maker select, #maker button')].filter(one => one.offsetParent && one.offsetHeight < 44).map(one => one.id)"
    assert page.evaluate(small) == []
    context.close()


def test_what_stays_in_view_covers_nothing(browser: Browser, folder: Path) -> None:
    """Sums and findings stay beside the picks, and end with them: at the foot of the page they lie on nothing."""
    context = browser.new_context(viewport={"width": 1280, "height": 500})
    page = context.new_page()
    page.goto(page_address(folder))
    add(page, "sit", "stand", "walk")
    box = "name => { const { top, bottom } = document.querySelector(name).getBoundingClientRect(); return [Math.round(top), Math.round(bottom)]; }"
    page.locator("#pick-S2T4").evaluate("pick => scrollTo(0, pick.getBoundingClientRect().top + scrollY - 100)")
    assert page.evaluate(box, ".maker-stay")[0] == 24
    page.evaluate("scrollTo(0, document.body.scrollHeight)")
    assert page.evaluate(box, ".maker-stay")[1] <= page.evaluate(box, ".maker-hand")[0]
    context.close()

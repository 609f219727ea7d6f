"""The site in Chromium: finding, printing, keyboard, no script, reload, files on disk, accessibility, room."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace
from functools import partial
from http.server import SimpleHTTPRequestHandler
from pathlib import Path
from threading import Thread
from typing import Any

import pytest
from playwright.sync_api import Browser, ConsoleMessage, Page, Request, expect

from tests.builders import a_library, a_programme
from tests.server import PatientServer
from tests.site.axe import violations
from tests.site.making import MIRRORED, make_site, pdfs_of, two_languages, write_site

pytestmark = pytest.mark.browser

KINDS = {
    "choice": "index.html", "home": "{}/index.html", "exercises": "{}/exercises/index.html",
    "exercise": "{}/exercises/step-down/index.html", "programmes": "{}/programmes/index.html",
    "programme": "{}/programmes/stairs/index.html", "bundles": "{}/bundles/index.html",
    "bundle": "{}/bundles/first-days/index.html", "about": "{}/about/index.html", "safety": "{}/safety/index.html",
    "not found": "404.html",
}  # fmt: skip
"""One page of each kind."""
PAGES = [(kind, language) for kind, path in KINDS.items() for language in ("en", MIRRORED) if "{" in path or language == "en"]


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The site on disk, below a path with a space, with a small text in place of each PDF."""
    where = tmp_path_factory.mktemp("a site")
    libraries = two_languages()
    write_site(make_site(libraries), where)
    write_site({path: b"%PDF-1.4\n" for library in libraries for path in pdfs_of(library)}, where)
    return where


class Quiet(SimpleHTTPRequestHandler):
    """Serves files and says nothing; a wrong address shows the site's own page, as hosts do."""

    def log_message(self, format: str, *args: Any) -> None:
        pass

    def send_error(self, code: int, message: str | None = None, explain: str | None = None) -> None:
        body = (Path(self.directory) / "404.html").read_bytes()
        self.send_response(code)
        self.send_header("Content-Type", "text/html; charset=utf-8")
        self.send_header("Content-Length", str(len(body)))
        self.end_headers()
        self.wfile.write(body)


@pytest.fixture(scope="module")
def address(folder: Path) -> Iterator[str]:
    """The site on a local server."""
    server = PatientServer(("127.0.0.1", 0), partial(Quiet, directory=str(folder)))
    Thread(target=server.serve_forever, daemon=True).start()
    yield f"http://127.0.0.1:{server.server_address[1]}"
    server.shutdown()
    server.server_close()


class Watched:
    """A page, with what it asked for and what it complained about."""

    def __init__(self, page: Page) -> None:
        self.page = page
        self.requests: list[Request] = []
        self.complaints: list[str] = []
        page.on("request", self.note_request)
        page.on("console", self.note)
        page.on("pageerror", lambda error: self.complaints.append(str(error)))


    def note_request(self, request: Request) -> None:
        """Keeps a request."""
        self.requests.append(request)

    def note(self, message: ConsoleMessage) -> None:
        """Keeps a complaint, except that Chromium itself looks for an icon beside a PDF."""
        if message.type in ("error", "warning") and not message.location["url"].endswith("/favicon.ico"):
            self.complaints.append(message.text)


@pytest.fixture
def watched(browser: Browser) -> Iterator[Watched]:
    context = browser.new_context(viewport={"width": 1280, "height": 800})
    found = Watched(context.new_page())
    yield found
    context.close()
    assert found.complaints == []


def see_titles(page: Page, titles: list[str]) -> None:
    """The titles of the rows in view, in order."""
    expect(page.locator(".row-title:visible")).to_have_text(titles, use_inner_text=True)


def url_of(folder: Path, path: str) -> str:
    """The address of a file on disk."""
    return (folder / path).as_uri()


def test_step_up_is_found_by_steps_and_printed_in_two_clicks(watched: Watched, address: str) -> None:
    """Type "steps"; the first row is the step-up; one click opens it, the second its PDF."""
    page = watched.page
    page.goto(f"{address}/en/exercises/index.html")
    page.get_by_label("Search exercises").fill("steps")
    see_titles(page, ["Step up", "Step down"])
    expect(page.get_by_role("status")).to_have_text("2 of 5 shown")
    page.locator(".row-title").filter(visible=True).first.click()
    expect(page).to_have_url(re.compile(re.escape("/en/exercises/step-up/index.html") + "$"))
    with page.expect_request(re.compile(r"/en/exercises/step-up/step-up-letter-standard\.pdf$")):
        page.get_by_role("link", name="Print", exact=True).first.click()


def test_the_same_without_script_in_four_clicks(browser: Browser, address: str) -> None:
    """From the first page: exercises, body part, exercise, print; no dead field is in view."""
    context = browser.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto(f"{address}/en/index.html")
    expect(page.locator("form")).to_be_hidden()
    page.get_by_role("link", name="Exercises", exact=True).click()
    expect(page.locator("form")).to_be_hidden()
    expect(page.locator(".row-title:visible")).to_have_count(5)
    page.get_by_role("navigation", name="By body part").get_by_role("link", name="Knee").click()
    page.get_by_role("link", name="Step up").click()
    with page.expect_request(re.compile(r"step-up-letter-standard\.pdf$")):
        page.get_by_role("link", name="Print", exact=True).first.click()
    context.close()


def test_by_keyboard_alone(watched: Watched, folder: Path) -> None:
    """Skip link, search, arrows and Enter; Enter in the field opens the best."""
    page = watched.page
    page.goto(url_of(folder, "en/index.html"))
    page.keyboard.press("Tab")
    expect(page.locator(":focus")).to_have_text("Skip to the content")
    page.keyboard.press("Enter")
    page.keyboard.press("Tab")
    expect(page.get_by_label("Search exercises")).to_be_focused()
    page.keyboard.type("steps")
    page.keyboard.press("Enter")
    page.wait_for_url(re.compile(r"/en/exercises/index\.html#q=steps$"))
    expect(page.get_by_role("status")).to_have_text("2 of 5 shown")
    page.get_by_label("Search exercises").focus()
    page.keyboard.press("ArrowDown")
    page.keyboard.press("ArrowDown")
    expect(page.locator(":focus")).to_have_text("Step down")
    page.keyboard.press("ArrowUp")
    page.keyboard.press("ArrowUp")
    expect(page.get_by_label("Search exercises")).to_be_focused()
    page.keyboard.press("Enter")
    page.wait_for_url(re.compile("/step-up/index.html$"))


def test_filters_narrow_and_survive_a_reload(watched: Watched, folder: Path) -> None:
    """What is searched and filtered stands in the address, on disk too; Clear empties both."""
    page = watched.page
    page.goto(url_of(folder, "en/exercises/index.html"))
    page.get_by_label("Body part", exact=True).select_option("knee")
    page.get_by_label("Position", exact=True).select_option("standing")
    see_titles(page, ["Step down", "Step up"])
    page.get_by_label("Search exercises").fill("down")
    see_titles(page, ["Step down"])
    page.reload()
    see_titles(page, ["Step down"])
    expect(page.get_by_label("Position", exact=True)).to_have_value("standing")
    expect(page).to_have_url(re.compile(re.escape("#q=down&region=knee&position=standing") + "$"))
    page.get_by_role("button", name="Clear").click()
    expect(page.locator("#shown")).to_have_text("5 of 5 shown")
    expect(page).to_have_url(re.compile(re.escape("/en/exercises/index.html") + "$"))
    expect(page.locator(".row-title:visible")).to_have_count(5)


FILTERS = (
    ("Step of a program", "1-wake", ["Bridge"]),
    ("Equipment", "-none", ["Heel raise"]),
    ("Goal", "balance", ["Heel raise"]),
    ("Program", "stairs", ["Sit to stand", "Step down", "Step up", "Bridge", "Heel raise"]),
)


def test_each_filter(watched: Watched, folder: Path) -> None:
    """Each filter lets through what it names."""
    page = watched.page
    page.goto(url_of(folder, "en/exercises/index.html"))
    for label, value, expected in FILTERS:
        page.get_by_label(label, exact=True).select_option(value)
        see_titles(page, expected)
        page.get_by_role("button", name="Clear").click()
        expect(page.locator("#shown")).to_have_text("5 of 5 shown")


def test_a_step_is_that_of_the_programme_asked_for(watched: Watched, tmp_path: Path) -> None:
    """An exercise that has this number in another programme only does not pass."""
    library = a_library()
    floor = a_programme("floor", [("build", ["heel-raise"]), ("live", ["step-up"])])
    stairs = a_programme("stairs", [("build", ["sit-to-stand"]), ("live", ["step-down"])])
    both = a_programme("both", [("wake", ["bridge"]), ("build", ["sit-to-stand", "heel-raise"])])
    write_site(make_site([replace(library, programmes=(floor, stairs, both), bundles=())]), tmp_path)
    page = watched.page
    page.goto(url_of(tmp_path, "en/exercises/index.html"))
    page.get_by_label("Step of a program", exact=True).select_option("1-build")
    see_titles(page, ["Sit to stand", "Heel raise"])
    page.get_by_label("Program", exact=True).select_option("floor")
    see_titles(page, ["Heel raise"])
    expect(page.locator("#filter-programme option[value=both]")).to_be_disabled()
    page.goto(f"{url_of(tmp_path, 'en/exercises/index.html')}#step=1-build&programme=both")
    expect(page.locator("#none")).to_be_visible()


def test_a_search_without_result_says_so(watched: Watched, folder: Path) -> None:
    """A sentence, and no empty headings."""
    page = watched.page
    page.goto(url_of(folder, "en/exercises/index.html"))
    page.get_by_label("Search exercises").fill("zebra")
    expect(page.get_by_text("No exercise fits.")).to_be_visible()
    expect(page.locator("#groups")).to_be_hidden()


FRAGMENTS = (
    "q=<img src=x onerror=alert(1)>", "tier=__proto__&region=constructor&q=toString", "q=%", "%E0%A4%A", "q=" + "a" * 2_000_000,
    "q=1&q=2&tier=wake%20build", "=&&==&q", "q=\u202e\u0000",
)  # fmt: skip
"""Markup, names of objects, a lone percent, a cut escape, two million letters, keys twice, signs, controls."""


def test_any_fragment_is_inert(watched: Watched, folder: Path) -> None:
    """Whatever stands in the address, the page works on and nothing of it runs."""
    page = watched.page
    page.on("dialog", lambda dialog: pytest.fail("a script ran"))
    page.goto(url_of(folder, "en/exercises/index.html"))
    for fragment in FRAGMENTS:
        page.evaluate("fragment => { location.hash = fragment; }", fragment)
        page.get_by_role("button", name="Clear").click()
        expect(page.locator("#shown")).to_have_text("5 of 5 shown")
        expect(page.locator("img[src=x]")).to_have_count(0)


def test_a_link_into_the_page_keeps_what_is_searched(watched: Watched, folder: Path) -> None:
    """Jumping to the phone numbers does not push the search out of the address."""
    page = watched.page
    page.goto(url_of(folder, "en/exercises/index.html"))
    page.get_by_label("Search exercises").fill("down")
    page.get_by_role("link", name="Call us").click()
    page.wait_for_url(re.compile("#q=down$"))
    page.reload()
    see_titles(page, ["Step down"])


def test_nothing_is_asked_of_another_host(browser: Browser, address: str) -> None:
    """Every request goes to the site; the policy is never broken; no request comes after the page is there."""
    context = browser.new_context(viewport={"width": 1280, "height": 800})
    opened = {f"{address}/{KINDS[kind].format(language)}": Watched(context.new_page()) for kind, language in PAGES}
    for url, watched in opened.items():  # all are loaded before the first is looked at, so that one wait for silence does for all
        watched.page.goto(url)
    for url, watched in opened.items():
        page = watched.page
        page.wait_for_load_state("networkidle")
        assert watched.requests
        assert [each.url for each in watched.requests if not each.url.startswith(address)] == []
        assert page.evaluate("navigator.serviceWorker.controller === null && document.cookie === ''"), url
        count = len(watched.requests)
        page.mouse.wheel(0, 400)
        page.keyboard.press("Tab")
        assert [each.url for each in watched.requests[count:] if not each.url.endswith(".svg")] == []
        assert watched.complaints == [], url
    context.close()


def test_everything_works_from_a_folder(watched: Watched, folder: Path) -> None:
    """From disk the style, the font, the scripts and the small figures all load."""
    page = watched.page
    page.goto(url_of(folder, "en/exercises/index.html"))
    page.wait_for_function("document.fonts.check('16px \"Atkinson Hyperlegible Next\"')")
    assert page.evaluate("getComputedStyle(document.body).backgroundColor") == "rgb(255, 253, 248)"
    page.wait_for_function("[...document.images].slice(0, 3).every(image => image.complete && image.naturalWidth > 0)")
    assert {each.url.rpartition(".")[2] for each in watched.requests} >= {"css", "js", "woff2", "svg"}


def test_a_wrong_address_shows_the_way_back(browser: Browser, address: str) -> None:
    """At any depth the page has its style and its links."""
    context = browser.new_context()
    page = context.new_page()
    response = page.goto(f"{address}/en/exercises/no-such/deep/page")
    assert response is not None and response.status == 404
    assert page.evaluate("getComputedStyle(document.body).margin") == "0px"
    page.get_by_role("link", name="Home").click()
    assert page.url == f"{address}/en/index.html"
    context.close()


@pytest.fixture(scope="module")
def free(browser: Browser) -> Iterator[Page]:
    """A page whose policy is set aside, so that axe-core can be put into it."""
    context = browser.new_context(viewport={"width": 360, "height": 740}, bypass_csp=True)
    yield context.new_page()
    context.close()


SMALL = """() => [...document.querySelectorAll('a, button, summary, select, input')]
  .filter(e => e.checkVisibility() && !e.classList.contains('skip'))
  .map(e => {
    const box = (e.classList.contains('row-title') ? e.closest('li') : e).getBoundingClientRect();
    return [Math.round(box.width), Math.round(box.height), e.outerHTML.slice(0, 80)];
  })
  .filter(([width, height]) => height < 44 || width < 24)"""


@pytest.mark.parametrize(("kind", "language"), PAGES)
def test_accessibility(free: Page, address: str, kind: str, language: str) -> None:
    """axe-core finds nothing on any kind of page, light and dark, read from either side.

    Everything to touch is 24 px wide (WCAG 2.2, 2.5.8) and 44 px high (2.5.5, AAA); links in a sentence count with their padding.
    """
    free.goto(f"{address}/{KINDS[kind].format(language)}")
    assert language != "en" or free.evaluate(SMALL) == []
    for summary in free.locator("summary").all():
        if summary.is_visible():
            summary.click()
    assert violations(free, ("light", "dark") if language == "en" else ("light",)) == []


WIDE_TEXT = "document.documentElement.style.fontSize = '225%'"
"""Twice the size of the style sheet's own 112.5 %; the script may set it where the policy forbids an attribute."""


SIZES = [(320, False), (360, True), (1280, True)]
"""Width in CSS pixels, and whether the text is twice as large."""


def test_room(watched: Watched, address: str) -> None:
    """No page needs to be moved sideways at 320 px (WCAG 2.2, 1.4.10) or with text twice as large (1.4.4), and no text is cut."""
    for kind, language in PAGES:
        see_room(watched.page, f"{address}/{KINDS[kind].format(language)}")
        assert watched.complaints == [], (kind, language)


def see_room(page: Page, url: str) -> None:
    """Every size of one page."""
    page.goto(url)
    for width, zoomed in SIZES:
        page.set_viewport_size({"width": width, "height": 740})
        if zoomed:
            page.evaluate(WIDE_TEXT)
        assert page.evaluate("document.documentElement.scrollWidth - innerWidth") <= 0, (url, width)
        cut = page.evaluate(
            """() => [...document.querySelectorAll('a, button, summary, h1, h2, h3, p, dd, span')]
              .filter(e => e.scrollWidth > e.clientWidth + 1 && e.clientWidth > 1 && getComputedStyle(e).overflow !== 'visible')
              .map(e => e.outerHTML.slice(0, 100))"""
        )
        assert cut == [], (url, width)


def test_figure_and_dose_are_on_the_first_screen_of_a_phone(watched: Watched, folder: Path) -> None:
    """At 360 x 740 the dose ends above the strip at the bottom."""
    page = watched.page
    page.set_viewport_size({"width": 360, "height": 740})
    page.goto(url_of(folder, "en/exercises/step-up/index.html"))
    dose, strip = page.locator(".dose").bounding_box(), page.locator(".strip").bounding_box()
    assert dose and strip and dose["y"] + dose["height"] < strip["y"]


def test_figure_and_dose_stay_beside_the_steps_on_a_wide_screen(watched: Watched, folder: Path) -> None:
    """Scrolled to the last step, the dose is still in view."""
    page = watched.page
    page.goto(url_of(folder, "en/exercises/step-down/index.html"))
    page.mouse.wheel(0, 500)
    page.wait_for_function("scrollY > 300")
    expect(page.locator(".dose")).to_be_in_viewport()


def test_printing_the_page_itself_leaves_the_navigation_out(watched: Watched, folder: Path) -> None:
    """On paper there is no navigation, no search and no button, but the stop rules and the phones."""
    page = watched.page
    page.emulate_media(media="print")
    page.goto(url_of(folder, "en/exercises/step-down/index.html"))
    for hidden in (".pages", ".strip", ".button", ".languages"):
        expect(page.locator(hidden).first).to_be_hidden()
    for shown in (".fig", ".dose", ".steps", ".stop", ".addresses"):
        expect(page.locator(shown).first).to_be_visible()

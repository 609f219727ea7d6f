"""The clinician's pages with the network off: after one visit, in one version, beside the patient's own page."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from functools import cache
from pathlib import Path

import pytest
from playwright.sync_api import Browser, BrowserContext, Page, expect

from handouts.clinician.offline import add_worker
from handouts.clinician.pages import read_clinician_pages
from handouts.phone.pages import read_phone_pages
from handouts.site.assets import read_asset_sources
from handouts.site.context import Edition
from handouts.site.worker import LARGEST_FONT
from handouts.templating.assets import read_templates
from handouts.words.wording import Wording
from tests.bundle.sample import bundle_of, pick_of
from tests.clinician.making import EDITION, PaperDrawings, code_of, libraries, limits_of
from tests.phone.making import Shapes
from tests.phone.serving import Host, serve
from tests.phone.test_worker import update, wait_for_caches
from tests.site.browser import PRINTED
from tests.site.making import lay_out_site

KEPT = "Saved in this browser. These pages work without a connection."
OLD, NEW = "Version v1", "Version v2"


@cache
def whole_site(stamp: str = "v1") -> dict[str, bytes]:
    """The small library with the clinician's and the patient's pages and both workers, in English and Spanish."""
    templates = read_templates()
    annexes = (read_clinician_pages(templates, limits_of, PaperDrawings()), read_phone_pages(templates))
    wordings = {language: Wording(language) for language in ("en", "es")}
    edition = Edition(version=stamp, unreviewed=EDITION.unreviewed)
    files = lay_out_site(libraries(), wordings, Shapes(), read_asset_sources(templates), edition, site_parts=annexes)
    return files | add_worker(files, wordings, templates["scripts/worker.js"].decode())


def the_code() -> str:
    """A code of one exercise."""
    return code_of(bundle_of(pick_of("sit"), language="en", location="main"))


def lists() -> tuple[dict[str, str], list[str], dict[str, list[str]]]:
    """Hashes of pages, what is always kept, and what is kept for a language."""
    text = whole_site()["worker.js"].decode()
    pages, shell, media = (
        json.loads(re.findall(rf"^const {name} = (.*);$", text, re.MULTILINE)[0])
        for name in ("PAGES", "SHELL", "MEDIA")
    )
    return pages, shell, media


def test_everything_that_the_kept_pages_name_is_kept() -> None:
    """Every link, script, style, font and picture of a kept page that is no page, no PDF and no large font is in its list."""
    pages, shell, media = lists()
    files = whole_site()
    for language in ("en", "es"):
        kept = {*shell, *media[language]}
        for path in (path for path in pages if path.startswith(f"{language}/")):
            assert path in kept
            for name in re.findall(r'(?:href|src)="(?:\.\./)*(assets/[^"]+)"', files[path].decode()):
                assert name in kept or len(files[name]) > LARGEST_FONT, (path, name)
    assert {path for path in shell if path.endswith(".html")} == {
        f"{language}/{rest}/index.html"
        for language in ("en", "es")
        for rest in ("bundle", "exercises", "sheets/standard", "sheets/large")
    }


def test_the_patients_page_and_pages_of_codes_are_left_alone() -> None:
    """The patient's page has a worker of its own; nothing of it is in the clinician's."""
    pages, shell, media = lists()
    assert not [
        path for path in (*pages, *shell, *media["en"]) if "/my/" in path or "/code/" in path or "phone" in path
    ]


def test_a_site_without_bundle_pages_has_no_worker() -> None:
    """Nothing to keep, nothing to register."""
    files = {path: data for path, data in whole_site().items() if "/bundle/" not in path}
    assert add_worker(files, ("en", "es"), read_templates()["scripts/worker.js"].decode()) == {}


@pytest.fixture
def host() -> Iterator[Host]:
    with serve(whole_site()) as found:
        yield found


@pytest.fixture
def context(browser: Browser, host: Host) -> Iterator[BrowserContext]:
    found = browser.new_context(viewport={"width": 980, "height": 900})  # the sheet beside the list has tests of its own
    found.add_init_script(PRINTED)
    yield found
    found.close()


def visit(context: BrowserContext, host: Host, wish: str = "") -> Page:
    """The bundle page until all is kept."""
    page = context.new_page()
    page.goto(f"{host.address}/en/bundle/index.html{wish}")
    expect(page.locator("#offline")).to_have_text(KEPT)
    return page


def cut_off(context: BrowserContext, host: Host) -> None:
    """No network, and no host either."""
    host.files = {}
    context.set_offline(True)


def expect_version(page: Page, version: str) -> None:
    """The version at the foot of the page."""
    expect(page.locator(".imprint")).to_contain_text(version)


def add(page: Page, word: str, title: str) -> None:
    """Adds an exercise by its first letters."""
    page.locator("#find").fill(word)
    page.keyboard.press("Enter")
    expect(page.locator("#picks h3").last).to_have_text(title)


@pytest.mark.browser
def test_pick_adjust_and_print_with_the_network_off(context: BrowserContext, host: Host) -> None:
    """After one visit: reload, search, dose, sheets in another language and size, the library with its search, an exercise."""
    page = visit(context, host)
    cut_off(context, host)
    page.reload()
    add(page, "stan", "Stand up")
    add(page, "squ", "Squat")
    page.locator("#sets-S2T4").fill("2")
    page.keyboard.press("Tab")
    page.locator("#sheet-language").select_option("es")
    page.locator("#sheet-size").select_option("large")
    code = page.locator("#link").input_value().partition("#")[2]
    page.locator("#print").click()
    page.wait_for_selector("html[data-printed=yes]", state="attached")
    assert "/es/sheets/large/" in page.url
    expect(page.locator("#row-stand .dose b").first).to_have_text("2")
    assert page.evaluate(
        "Array.from(document.querySelectorAll('#sheets img')).every(one => one.complete && one.naturalWidth > 0)"
    )
    page.goto(f"{host.address}/en/exercises/#q=squ")
    expect(page.locator("#found .row-title")).to_have_text("Squat")
    page.locator("#found .row-title").click()
    expect(page.locator("h1")).to_have_text("Squat")
    kept = page.evaluate("""async () => { const found = []; for (const name of await caches.keys()) {
      found.push(name); for (const one of await (await caches.open(name)).keys()) found.push(one.url); } return found; }""")
    assert len(kept) > 40
    assert not [name for name in (*kept, *host.asked) if "#" in name or code in name]


@pytest.mark.browser
def test_a_new_version_is_shown_and_whole(context: BrowserContext, host: Host) -> None:
    """An open page stays as it is until a tap; a page that is opened is the host's present one; another window is told."""
    page = visit(context, host, "#add=S2T3")
    other = context.new_page()
    other.goto(f"{host.address}/en/bundle/index.html")
    host.files = dict(whole_site("v2"))
    assert update(page) == "installed"
    expect(page.locator("#update")).to_be_visible()
    for address in ("about", "exercises/sit"):
        other.goto(f"{host.address}/en/{address}/index.html")
        expect_version(other, NEW)
    with page.expect_navigation():
        page.locator("#use-update").click()
    expect_version(page, NEW)
    expect(page.locator("#picks h3")).to_have_text("Sit tall")
    expect(page.locator("#offline")).to_have_text(KEPT)
    cut_off(context, host)
    for address in ("about", "exercises/sit"):
        other.goto(f"{host.address}/en/{address}/index.html")
        expect_version(other, NEW)


@pytest.mark.browser
def test_the_next_visit_shows_the_new_version(context: BrowserContext, host: Host) -> None:
    """Without a tap, on load, on reload and in a second tab, the page is the host's; the kept copy follows by itself."""
    page = visit(context, host)
    host.files = dict(whole_site("v2"))
    assert update(page) == "installed"
    expect_version(page, OLD)
    again = visit(context, host, "#add=S2T3")
    expect_version(again, NEW)
    expect(again.locator("#picks h3")).to_have_text("Sit tall")
    expect(again.locator("#update")).to_be_hidden()
    expect(page.locator("#update")).to_be_visible()
    page.reload()
    expect_version(page, NEW)
    wait_for_caches(page, lambda names: len([name for name in names if not name.endswith("picks")]) == 1)
    cut_off(context, host)
    again.reload()
    expect_version(again, NEW)
    expect(again.locator("#page-state")).to_contain_text("The site cannot be reached now.")


@pytest.mark.browser
@pytest.mark.parametrize(("what", "fault"), [*(("es/sheets/large/index.html", fault) for fault in ("missing", "cut", "another page")), ("assets/book.es.", "cut")])
def test_a_version_that_is_not_whole_is_not_taken(context: BrowserContext, host: Host, what: str, fault: str) -> None:
    """One page or script missing, cut or replaced by the host's own page: the old version stays, nothing is left behind."""
    page = visit(context, host)
    before = sorted(page.evaluate("caches.keys()"))
    files = dict(whole_site("v2"))
    [path] = [path for path in files if path.startswith(what)]
    data = files.pop(path)
    if fault != "missing":
        files[path] = {"cut": data[: len(data) // 2], "another page": b"<!doctype html><title>Sorry</title>"}[fault]
    host.files = files
    assert update(page) in ("redundant", "failed")
    assert sorted(page.evaluate("caches.keys()")) == before
    page.reload()
    expect_version(page, NEW)  # the host's, which is whole by itself
    cut_off(context, host)
    page.reload()
    expect_version(page, OLD)


@pytest.mark.browser
def test_the_patients_page_keeps_its_own_worker(context: BrowserContext, host: Host) -> None:
    """On a device where the clinician's worker serves already, the patient's page says the truth about itself."""
    visit(context, host)
    page = context.new_page()
    page.goto(f"{host.address}/en/my/#S2T3")
    expect(page.locator("#note-update")).to_be_hidden()
    page.goto("about:blank")
    code = the_code()
    page.goto(f"{host.address}/en/my/#{code}")
    expect(page.locator("#kept")).to_have_text("Saved on this phone. It works without a connection.")
    expect(page.locator("#note-update")).to_be_hidden()
    scopes = page.evaluate("navigator.serviceWorker.getRegistrations().then(all => all.map(one => one.scope).sort())")
    assert [scope.removeprefix(host.address) for scope in scopes] == ["/", "/en/my/"]
    cut_off(context, host)
    page.reload()
    expect(page.locator("#rows summary").first).to_be_visible()
    assert not [name for name in page.evaluate("caches.keys()") if code in name]


@pytest.mark.browser
@pytest.mark.parametrize("has_list", [False, True])
def test_what_is_not_kept_leads_to_ones_own_page(context: BrowserContext, host: Host, has_list: bool) -> None:
    """Without a network: to the clinician's page, or to a patient's list where this browser keeps one; both workers go on."""
    page = visit(context, host)
    if has_list:
        page.goto(f"{host.address}/en/my/#{the_code()}")
        expect(page.locator("#kept")).to_have_text("Saved on this phone. It works without a connection.")
    cut_off(context, host)
    page.goto(f"{host.address}/en/exercises/squat/squat-letter-standard.pdf")
    expect(page.locator("#offline-title" if has_list else "#find")).to_be_visible()
    scopes = page.evaluate("navigator.serviceWorker.getRegistrations().then(all => all.map(one => one.active.scriptURL).sort())")
    wanted = ["/en/my/worker.js", "/worker.js"] if has_list else ["/worker.js"]
    assert [scope.removeprefix(host.address) for scope in scopes] == wanted


@pytest.mark.browser
def test_the_clinicians_worker_takes_the_place_of_the_small_one(context: BrowserContext, host: Host) -> None:
    """On a device that had only a patient's list: the clinician's pages are kept at once, and nothing says that a version waits."""
    page = context.new_page()
    page.goto(f"{host.address}/en/my/#{the_code()}")
    expect(page.locator("#kept")).to_have_text("Saved on this phone. It works without a connection.")
    while not page.evaluate("navigator.serviceWorker.getRegistrations().then(all => all.some(one => one.active?.scriptURL.endsWith('/own-worker.js')))"):
        page.wait_for_timeout(50)
    page = visit(context, host)
    expect(page.locator("#update")).to_be_hidden()
    cut_off(context, host)
    page.reload()
    expect(page.locator("#find")).to_be_visible()


@pytest.mark.browser
def test_a_broken_patients_worker_is_not_taken_for_kept(context: BrowserContext, host: Host) -> None:
    """Where the patient's own worker cannot be had, the clinician's is not mistaken for it."""
    visit(context, host)
    host.files = {path: data for path, data in whole_site().items() if path != "en/my/worker.js"}
    page = context.new_page()
    page.goto(f"{host.address}/en/my/#{the_code()}")
    expect(page.locator("#kept")).to_have_text("Not saved for use without a connection.")


@pytest.mark.browser
def test_nothing_is_registered_from_a_folder(browser: Browser, tmp_path: Path) -> None:
    """On a stick the pages work without a worker and say nothing of one."""
    for path, data in whole_site().items():
        (tmp_path / path).parent.mkdir(parents=True, exist_ok=True)
        (tmp_path / path).write_bytes(data)
    context = browser.new_context()
    context.add_init_script(PRINTED)
    page = context.new_page()
    faults: list[str] = []
    page.on("pageerror", lambda fault: faults.append(str(fault)))
    page.on("console", lambda line: faults.append(line.text) if line.type == "error" else None)
    page.goto((tmp_path / "en/bundle/index.html").as_uri())
    add(page, "squ", "Squat")
    page.locator("#sheet-language").select_option("es")
    page.locator("#print").click()
    page.wait_for_selector("html[data-printed=yes]", state="attached")
    assert page.url.startswith((tmp_path / "es/sheets/standard/index.html").as_uri())
    expect(page.locator("#squat")).to_be_visible()
    context.close()
    assert faults == []

"""The service worker: what the host has comes first, kept versions are whole, a session is never disturbed, no code is kept."""

from __future__ import annotations

import json
import re
from collections.abc import Callable, Iterator

import pytest
from playwright.sync_api import Browser, BrowserContext, Page, expect

from tests.phone.making import code_of, make_phone_site
from tests.phone.serving import Host

pytestmark = pytest.mark.browser

MINE = code_of("lift", "hold")
KEPT = "Saved on this phone. It works without a connection."
OLD, NEW = "Version AAAAAA", "Version BBBBBB"


@pytest.fixture
def context(browser: Browser, host: Host) -> Iterator[BrowserContext]:
    found = browser.new_context(viewport={"width": 360, "height": 740})
    yield found
    found.close()


def newer() -> dict[str, bytes]:
    """The next version: one cue has changed, and the version stamp."""
    return dict(make_phone_site("BBBBBB", " and calm"))


def visit(context: BrowserContext, host: Host) -> Page:
    """A first visit, until all is kept."""
    page = context.new_page()
    page.goto(f"{host.address}/en/my/#{MINE}")
    expect(page.locator("#kept")).to_have_text(KEPT)
    return page


def update(page: Page) -> str:
    """Looks for a new version as a browser does; what came of it."""
    found: str = page.evaluate("""async () => {
      const registration = await navigator.serviceWorker.getRegistration();
      try { await registration.update(); } catch { return "failed"; }
      const worker = registration.installing ?? registration.waiting;
      if (!worker) return "none";
      while (!["installed", "redundant", "activated"].includes(worker.state)) await new Promise(done => worker.addEventListener("statechange", done, {once: true}));
      return worker.state;
    }""")
    return found


def cache_names(page: Page) -> list[str]:
    """The caches, without the part that all share."""
    names: list[str] = page.evaluate("caches.keys()")
    return sorted(name.rpartition(":")[2] for name in names)


def wait_for_caches(page: Page, wanted: Callable[[list[str]], bool]) -> None:
    """Waits until the names of the caches are as wanted."""
    for _ in range(100):
        if wanted(page.evaluate("caches.keys()")):
            return
        page.wait_for_timeout(100)
    raise AssertionError(page.evaluate("caches.keys()"))


def version_of(page: Page) -> str:
    """The version at the foot of the page."""
    return re.findall(r"Version [A-Z]{6}", page.locator(".imprint").text_content() or "")[0]


def test_an_update_in_mid_session_changes_nothing(context: BrowserContext, host: Host) -> None:
    """The new version installs and waits; session, page and cache stay; after the session one tap changes all of it."""
    page = visit(context, host)
    page.reload()
    page.get_by_role("button", name="Start the session").click()
    page.locator("#act").click()
    page.locator("#skip").click()
    before = cache_names(page)
    host.files = newer()
    assert update(page) == "installed"
    expect(page.locator("#note-update")).to_be_visible()
    assert page.evaluate("navigator.serviceWorker.controller.state") == "activated"
    expect(page.locator("#session-line")).to_have_text("Set 1 of 2 · 3 times")
    page.locator("#use-update").click()
    expect(page.locator("#note-storage")).to_have_text("A session is open in another window. Finish it first.")
    other = context.new_page()
    other.goto(f"{host.address}/en/my/index.html")
    assert version_of(other) == NEW
    other.locator("#rows summary").first.click()
    expect(other.locator("#rows .cues, #rows .points").first).to_have_text("Sit tall and calm.")
    expect(other.locator("#note-update")).to_be_hidden()
    assert set(before) < set(cache_names(page))
    assert version_of(page) == OLD
    other.close()
    page.locator("#end").click()
    page.locator("#ending-now").click()
    page.locator("#no-save").click()
    with page.expect_navigation():
        page.locator("#use-update").click()
    assert version_of(page) == NEW
    expect(page.locator("#kept")).to_have_text(KEPT)
    assert len(cache_names(page)) == 2
    assert not set(before) & (set(cache_names(page)) - {"picks"})
    context.set_offline(True)
    page.reload()
    page.locator("#rows summary").first.click()
    expect(page.locator("#rows .points").first).to_have_text("Sit tall and calm.")


FAULTS = ("missing", "cut", "altered", "another page")
KINDS = ("phone.", "phone-more.", "session.", "exercise-lift.en", "movement-lift", "figure-hold")
NOT_WHOLE = [*(("index.html", fault) for fault in FAULTS), *((what, FAULTS[at % 4]) for at, what in enumerate(KINDS))]
"""The page in every way; each other kind of file in one."""


@pytest.mark.parametrize(("what", "fault"), NOT_WHOLE)
def test_a_version_that_is_not_whole_is_not_taken(context: BrowserContext, host: Host, what: str, fault: str) -> None:
    """Any one file missing, cut, changed or replaced by the host's own page: the old version stays whole, nothing is left behind."""
    page = visit(context, host)
    before = cache_names(page)
    files = newer()
    listed = files["en/my/worker.js"].decode()
    [path] = [path for path in files if path == f"en/my/{what}" or (path.startswith(f"assets/{what}") and path in listed)][:1]
    # A file that both versions share is asked for again too: a version is checked whole.
    data = files.pop(path)
    if fault != "missing":
        files[path] = {"cut": data[: len(data) // 2], "altered": data.replace(b"a", b"e", 1), "another page": b"<!doctype html><title>Sorry</title>"}[fault]
    host.files = files
    assert update(page) in ("redundant", "failed")
    assert cache_names(page) == before
    page.reload()
    # What the page itself names decides which version is shown; both are whole.
    named = path.encode() in files.get("en/my/index.html", b"") and path.endswith((".css", ".js")) and "more" not in path
    partly = named and fault == "missing" and re.search(rb'(?:src|href)="[^"]*' + path.encode() + b'"', files["en/my/index.html"])
    is_page = path == "en/my/index.html" and fault != "altered"
    assert version_of(page) == (OLD if partly or is_page else NEW)
    expect(page.locator("#note-update")).to_be_hidden()
    context.set_offline(True)
    page.reload()
    assert version_of(page) == OLD
    expect(page.locator("#page-state")).to_contain_text("saved on this device. The site cannot be reached now.")


def test_caches_that_a_broken_install_left_are_deleted(context: BrowserContext, host: Host) -> None:
    """When a version takes over, caches of other versions go, those of other parts of the host stay."""
    page = visit(context, host)
    page.evaluate("""async () => { const scope = new URL('./', location.href).href.split('#')[0];
      await caches.open(`handouts:${scope}:half`); await caches.open('something-else'); await caches.open('handouts:http://other/:x'); }""")
    host.files = newer()
    assert update(page) == "installed"
    page.reload()  # a page that is of the new version takes it without a tap
    assert version_of(page) == NEW
    wait_for_caches(page, lambda names: not any(name.endswith(":half") for name in names))
    expect(page.locator("#kept")).to_have_text(KEPT)
    names = page.evaluate("caches.keys()")
    assert "something-else" in names
    assert "handouts:http://other/:x" in names
    assert not any(name.endswith(":half") for name in names)


def test_the_patients_exercises_come_into_the_new_version_by_themselves(context: BrowserContext, host: Host) -> None:
    """What the list needs is kept with the new version before it is used: it works without a connection at once."""
    page = visit(context, host)
    host.files = newer()
    assert update(page) == "installed"
    host.files = {}
    page.reload()
    with page.expect_navigation():
        page.locator("#use-update").click()
    context.set_offline(True)
    page.reload()
    assert version_of(page) == NEW
    page.get_by_role("button", name="Start the session").click()
    expect(page.locator("#session-figure svg")).to_be_visible()


def test_unknown_and_hostile_messages_do_nothing(context: BrowserContext, host: Host) -> None:
    """Codes that are no exercise, names of objects, other kinds of values: nothing is fetched for them."""
    page = visit(context, host)
    see_that_a_worker_leads_back(page)
    count = len(host.asked)
    kept = page.evaluate("""() => new Promise(done => { const {port1, port2} = new MessageChannel(); port1.onmessage = ({data}) => done(data.kept);
      navigator.serviceWorker.ready.then(({active}) => active.postMessage({keep: ['__proto__', 'constructor', 'ZZZZ', 5, null]}, [port2])); })""")
    assert kept is True
    page.evaluate("navigator.serviceWorker.ready.then(({active}) => { for (const data of [null, 5, 'x', {use: 1}, {keep: 'S2T3'}, []]) active.postMessage(data); })")
    assert len(host.asked) == count


def see_that_a_worker_leads_back(page: Page) -> None:
    """The one at the site's root is there."""
    page.evaluate("""async () => { for (let round = 0; round < 100; round += 1) {
      const all = await navigator.serviceWorker.getRegistrations();
      if (all.some(one => one.active?.scriptURL.endsWith('/own-worker.js'))) return;
      await new Promise(done => setTimeout(done, 50)); } throw new Error('no worker leads back'); }""")


def away_from(context: BrowserContext, host: Host, path: str) -> Page:
    """Another page of the site in a browser that keeps a list, once the network and the host are gone."""
    page = visit(context, host)
    see_that_a_worker_leads_back(page)
    page.goto(f"{host.address}/{path}")
    context.set_offline(True)
    host.files = {}
    return page


@pytest.mark.parametrize("path", ["en/exercises/lift/index.html", "en/index.html", "ar-XB/exercises/index.html"])
def test_without_a_network_any_link_leads_to_ones_own_page(context: BrowserContext, host: Host, path: str) -> None:
    """From any page of the site, in any language: what happened is said, the list is there, and a session begins."""
    page = away_from(context, host, path)
    page.locator(".bottom a[href$='about/index.html']").click()
    expect(page.locator("#offline-title")).to_be_visible()
    expect(page.locator("#offline-title")).to_be_focused()
    assert page.url == f"{host.address}/en/my/index.html"
    page.locator("#from-offline").click()
    expect(page.locator("#rows li")).to_have_count(2)
    page.reload()
    expect(page.locator("#rows li")).to_have_count(2)
    page.get_by_role("button", name="Start the session").click()
    expect(page.locator("#session-figure svg")).to_be_visible()


def test_an_address_that_is_typed_leads_there_too(context: BrowserContext, host: Host) -> None:
    """Reloading a page that is gone, or opening a PDF."""
    page = away_from(context, host, "en/exercises/lift/index.html")
    page.reload()
    expect(page.locator("#offline-title")).to_be_visible()
    page.goto(f"{host.address}/en/exercises/lift/lift-letter-standard.pdf")
    expect(page.locator("#offline-title")).to_be_visible()


def test_a_browser_without_a_list_gets_no_worker(context: BrowserContext, host: Host) -> None:
    """Whoever only reads has none, and neither has one whose list was erased: nothing of the patient is left."""
    none = "navigator.serviceWorker.getRegistrations().then(all => all.length)"
    page = context.new_page()
    page.goto(f"{host.address}/en/exercises/lift/index.html")
    assert page.evaluate(none) == 0
    page = away_from(context, host, "en/index.html")
    context.set_offline(False)
    host.files = dict(make_phone_site())
    page.goto(f"{host.address}/en/my/index.html")
    page.locator("#to-log").click()
    page.locator("#erase").click()
    page.locator("#erase-now").click()
    expect(page.locator("#erased")).to_have_text("Everything is erased.")
    assert page.evaluate(none) == 0
    assert page.evaluate("caches.keys()") == []


def test_manifest_and_icons(host: Host, context: BrowserContext) -> None:
    """Relative start and scope, the language and its direction; Chromium decodes both icons at the size they name."""
    page = context.new_page()
    for language, direction in (("en", "ltr"), ("ar-XB", "rtl")):
        page.goto(f"{host.address}/{language}/my/index.html")
        expect(page.locator("link[rel=manifest]")).to_have_attribute("href", "manifest.webmanifest")
        manifest = json.loads(host.files[f"{language}/my/manifest.webmanifest"])
        assert (manifest["start_url"], manifest["scope"], manifest["lang"], manifest["dir"]) == ("./index.html", "./", language, direction)
        for icon in manifest["icons"]:
            sides = page.evaluate("async path => { const image = new Image(); image.src = path; await image.decode(); return [image.naturalWidth, image.naturalHeight]; }", icon["src"])
            assert "x".join(map(str, sides)) == icon["sizes"]

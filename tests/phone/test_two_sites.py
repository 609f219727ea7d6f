"""Two clinics under one host name, and a new link beside a kept list: nothing of one shows at the other, nothing is replaced unasked."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, BrowserContext, Page, expect

from tests.phone.making import code_of, make_phone_site
from tests.phone.serving import Host, serve

pytestmark = pytest.mark.browser

FIRST, SECOND = code_of("lift", "hold"), code_of("lift")
KEPT = "Saved on this phone. It works without a connection."


@pytest.fixture(scope="module")
def host() -> Iterator[Host]:
    site = make_phone_site()
    with serve({f"{clinic}/{path}": data for clinic in ("a", "b") for path, data in site.items()}) as found:
        yield found


@pytest.fixture
def context(browser: Browser) -> Iterator[BrowserContext]:
    found = browser.new_context(viewport={"width": 360, "height": 740})
    yield found
    found.close()


def open_at(page: Page, host: Host, clinic: str, code: str = "") -> None:
    """Opens the patient's page of a clinic."""
    page.goto("about:blank")
    page.goto(f"{host.address}/{clinic}/en/my/index.html" + (f"#{code}" if code else ""))
    expect(page.locator("h1:visible")).to_have_count(1)


def test_a_list_of_one_clinic_is_not_shown_at_another(context: BrowserContext, host: Host) -> None:
    """The list that was opened at the first is kept there alone; erasing at the second leaves it; both keep their own worker."""
    page = context.new_page()
    open_at(page, host, "a", FIRST)
    expect(page.locator("#kept")).to_have_text(KEPT)
    open_at(page, host, "b")
    expect(page.locator("#empty")).to_be_visible()
    expect(page.locator("#list")).to_be_hidden()
    open_at(page, host, "b", SECOND)
    expect(page.locator("#another-list")).to_be_hidden()
    expect(page.locator("#kept")).to_have_text(KEPT)
    page.get_by_role("button", name="My log").click()
    page.get_by_role("button", name="Erase everything").click()
    page.get_by_role("button", name="Erase it now").click()
    expect(page.locator("#erased")).to_be_visible()
    open_at(page, host, "a")
    expect(page.locator("#rows > li")).to_have_count(2)
    scopes = page.evaluate("navigator.serviceWorker.getRegistrations().then(all => all.map(one => new URL(one.scope).pathname))")
    assert sorted(scopes) == ["/base/a/", "/base/a/en/my/"]  # the one of its list, and the one that leads back to it


def test_what_other_programs_keep_is_left_alone(context: BrowserContext, host: Host) -> None:
    """Names and caches of another application under the same host survive opening and erasing."""
    page = context.new_page()
    open_at(page, host, "a", FIRST)
    expect(page.locator("#kept")).to_have_text(KEPT)
    page.evaluate("async () => { localStorage.setItem('list', 'theirs'); localStorage.setItem('handouts of theirs', 'x'); await caches.open('theirs'); }")
    page.get_by_role("button", name="My log").click()
    page.get_by_role("button", name="Erase everything").click()
    page.get_by_role("button", name="Erase it now").click()
    expect(page.locator("#erased")).to_be_visible()
    assert page.evaluate("[localStorage.getItem('list'), localStorage.getItem('handouts of theirs')]") == ["theirs", "x"]
    assert page.evaluate("caches.keys()") == ["theirs"]


def test_a_new_link_does_not_replace_a_kept_list_unasked(context: BrowserContext, host: Host) -> None:
    """The list of the link is shown, with a question; going back shows the kept one with its day; keeping it replaces it."""
    page = context.new_page()
    open_at(page, host, "a", FIRST)
    expect(page.locator("#rows > li")).to_have_count(2)
    open_at(page, host, "a", SECOND)
    expect(page.locator("#another-list")).to_contain_text("This link holds another list than the one saved on this phone.")
    expect(page.locator("#rows > li")).to_have_count(1)
    page.locator("#back-to-list").click()
    expect(page.locator("#rows > li")).to_have_count(2)
    expect(page.locator("#another-list")).to_be_hidden()
    expect(page.locator("#list-day")).to_contain_text("This list has been saved on this phone since")
    open_at(page, host, "a")
    expect(page.locator("#rows > li")).to_have_count(2)
    open_at(page, host, "a", SECOND)
    page.locator("#keep-list").click()
    expect(page.locator("#another-list")).to_be_hidden()
    open_at(page, host, "a")
    expect(page.locator("#rows > li")).to_have_count(1)


def test_what_a_former_version_kept_is_taken_over(context: BrowserContext, host: Host) -> None:
    """List and log under the former names are there after an upgrade, and the former names are gone."""
    page = context.new_page()
    open_at(page, host, "a")
    page.evaluate("code => { localStorage.clear(); localStorage.setItem('handouts.my.list', code); }", FIRST)
    page.reload()
    expect(page.locator("#rows > li")).to_have_count(2)
    assert page.evaluate("localStorage.getItem('handouts.my.list')") is None
    open_at(page, host, "b")
    expect(page.locator("#empty")).to_be_visible()

"""A large library's search in Chromium and in the clinician's worker: slices are loaded as they are needed."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, expect

from handouts.clinician.offline import add_worker
from handouts.clinician.pages import read_clinician_pages
from handouts.site.context import Edition
from handouts.site.list_pages import order_exercises
from handouts.site.search_index import build_search_index
from handouts.templating.assets import read_templates
from handouts.words.wording import Wording
from tests.site.making import Drawings, asset_sources, lay_out_site, write_site
from tests.site.test_search import generated, whole_search
from tests.site.test_views import a_setting

SLICE = "assets/search-slice.en."
AT_ONCE = 30
"""How many found exercises are shown before one scrolls; templates/scripts/src/exercises.js."""


@cache
def large_site() -> dict[str, bytes]:
    """A generated library with the page where a bundle is made, and its worker."""
    templates = read_templates()
    wordings = {"en": Wording("en")}
    annexes = (read_clinician_pages(templates),)
    files = lay_out_site([generated()], wordings, Drawings(), asset_sources(), Edition(version="v1"), site_parts=annexes)
    return files | add_worker(files, wordings, templates["scripts/worker.js"].decode())


def titles(query: str) -> list[str]:
    """What the whole index finds, best first."""
    library = generated()
    ordered = [exercise for _, inside in order_exercises(a_setting(library, (library,))) for exercise in inside]
    places = whole_search(build_search_index(library, ordered, library), query)
    assert places
    return [ordered[at].title.text for at in places if at < len(ordered)]


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """The site in a folder."""
    write_site(large_site(), tmp_path)
    return tmp_path


@pytest.fixture
def page(browser: Browser) -> Iterator[Page]:
    """A page that must not complain."""
    page = browser.new_page()
    complaints: list[str] = []
    page.on("pageerror", lambda error: complaints.append(str(error)))
    yield page
    page.close()
    assert complaints == []


def test_the_worker_keeps_every_slice() -> None:
    """Each slice is among what the clinician's worker always keeps."""
    files = large_site()
    slices = [path for path in files if path.startswith(SLICE)]
    shell = files["worker.js"].decode().partition("const SHELL = ")[2].partition("\n")[0]
    assert len(slices) > 1
    assert all(f'"{path}"' in shell for path in slices)


@pytest.mark.browser
def test_a_printed_list_is_whole(page: Page, folder: Path) -> None:
    """All that was found is printed, and the number shown is of all."""
    page.goto((folder / "en/exercises/index.html").as_uri())
    page.locator("#q").press_sequentially("knee")
    rows = page.locator("#found > li")
    expect(rows).to_have_count(AT_ONCE)
    expect(page.locator("#shown")).to_contain_text(str(len(titles("knee"))))
    page.evaluate("dispatchEvent(new Event('beforeprint'))")
    expect(rows).to_have_count(len(titles("knee")))
    page.locator("#q").fill("")
    expect(rows).to_have_count(0)
    expect(page.locator(".row-title:visible")).to_have_count(120)


@pytest.mark.browser
def test_only_what_is_searched_is_loaded(page: Page, folder: Path) -> None:
    """From a folder: no slice before the first key, one for a word, and the same exercises as in the whole index."""
    asked: list[str] = []
    page.on("request", lambda request: asked.append(request.url) if SLICE in request.url else None)
    page.goto((folder / "en/exercises/index.html").as_uri())
    expect(page.locator("#shown")).to_contain_text("120")
    assert asked == []
    page.locator("#q").press_sequentially("knee")
    shown = page.locator("#found .row-title")
    expect(shown).to_have_text(titles("knee")[:AT_ONCE], use_inner_text=True)
    page.locator("#found > :last-child").scroll_into_view_if_needed()
    expect(shown).to_have_text(titles("knee"), use_inner_text=True)
    assert len(asked) == 1 < sum(path.startswith(SLICE) for path in large_site())
    page.locator("#q").fill("step back")
    expect(shown).to_have_text(titles("step back")[:AT_ONCE], use_inner_text=True)
    page.locator("#q").press("Enter")
    expect(page.locator("h1")).to_have_text(titles("step back")[0])


@pytest.mark.browser
def test_a_slice_that_cannot_be_had_is_told(page: Page, folder: Path) -> None:
    """Without it every exercise is shown and a sentence says why; Enter opens nothing; later it is tried again."""
    slices = list(folder.glob(f"{SLICE}*"))
    page.goto((folder / "en/exercises/index.html").as_uri())
    for path in slices:
        path.rename(path.with_suffix(".away"))
    page.locator("#q").fill("knee")
    expect(page.locator("#unread")).to_be_visible()
    expect(page.locator("#groups")).to_be_visible()
    expect(page.locator("#none")).to_be_hidden()
    with page.expect_event("requestfailed"):
        page.locator("#q").press("Enter")
    page.wait_for_timeout(100)  # the page has heard of it too
    expect(page.locator("#unread")).to_be_visible()
    assert page.url.endswith("/en/exercises/index.html#q=knee")
    for path in slices:
        path.with_suffix(".away").rename(path)
    page.locator("#q").press("Enter")
    expect(page.locator("h1")).to_have_text(titles("knee")[0])


@pytest.mark.browser
def test_a_bundle_is_made_with_slices(page: Page, folder: Path) -> None:
    """On the page where a bundle is made, Enter right after typing adds the best of the whole index."""
    page.goto((folder / "en/bundle/index.html").as_uri())
    page.locator("#find").fill("knee")
    page.locator("#find").press("Enter")
    expect(page.locator("#picks h3")).to_have_text(titles("knee")[0])
    expect(page.locator("#find-unread")).to_be_hidden()

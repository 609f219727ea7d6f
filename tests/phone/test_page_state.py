"""What pages say of themselves later: that their review is over, that a copy is a kept one, that a newer version is there."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

import pytest
from playwright.sync_api import Browser, BrowserContext, expect

from handouts.rules.lapsed import last_day
from tests.phone.making import code_of, the_library
from tests.phone.serving import Host
from tests.small_library import small_library

pytestmark = pytest.mark.browser

DAY = last_day(the_library(), "exercises/lift")


@pytest.fixture
def context(browser: Browser) -> Iterator[BrowserContext]:
    found = browser.new_context(viewport={"width": 360, "height": 740}, service_workers="block")
    yield found
    found.close()


def test_last_day() -> None:
    """Review of 14 September 2026, 12 months of 30.44 days, 90 days of grace; a bundle lasts as long as what is in it."""
    library = small_library()
    assert last_day(library, "exercises/foot-lift") == date(2027, 12, 13)
    assert last_day(library, "bundles/first-days") == date(2027, 12, 13)
    assert last_day(library, "") is None
    assert last_day(library, "exercises/none") is None


@pytest.mark.parametrize("after", [0, 1])
def test_a_page_says_that_its_review_is_over(context: BrowserContext, host: Host, after: int) -> None:
    """Up to its last day it says nothing; from the day after it says so, without a newer build."""
    assert DAY is not None
    page = context.new_page()
    page.clock.set_fixed_time(f"{date.fromordinal(DAY.toordinal() + after).isoformat()}T12:00:00")
    for address in ("exercises/lift", "my"):
        page.goto(f"{host.address}/en/{address}/index.html#{code_of('lift', 'hold')}")
        said = page.locator("#note-over" if address == "my" else "#page-state")
        if after:
            expect(said).to_be_visible()
            expect(said).to_contain_text("to be reviewed again by")
        else:
            expect(page.locator("h1:visible").first).to_be_visible()
            expect(said).to_be_hidden()


def test_every_page_can_say_it(host: Host) -> None:
    """Each page has the place and the script, which on the patient's own page is a part of its own; the page of an item has its day."""
    pages = {path: data.decode() for path, data in host.files.items() if path.endswith("index.html") and "/" in path}
    assert len(pages) > 10
    for path, html in pages.items():
        assert 'id="page-state"' in html and ("page_state." in html or "/my/" in path), path
    assert f'data-until="{DAY}"' in pages["en/exercises/lift/index.html"]

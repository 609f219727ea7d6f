"""What surrounds a page: the language list, the strip, focus, arrows, large text, paper, and the way to one's own list."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, expect

from handouts.clinician.pages import read_clinician_pages
from handouts.site.context import Edition
from handouts.templating.assets import read_templates
from handouts.words.wording import Wording
from tests.phone.making import code_of, make_phone_site
from tests.phone.serving import Host, serve
from tests.site.making import MIRRORED, Drawings, asset_sources, lay_out_site, two_languages

pytestmark = pytest.mark.browser

PLACES = ("index.html", "exercises/index.html", "exercises/bridge/index.html", "programmes/stairs/index.html", "safety/index.html", "about/index.html")


@pytest.fixture(scope="module")
def host() -> Iterator[Host]:
    """A site in five languages with the clinician's pages; three say what English says."""
    english, mirrored = two_languages()
    libraries = (english, mirrored, *(replace(english, language=each) for each in ("es", "fr", "vi")))
    wordings = {each.language: Wording(each.language) for each in libraries}
    files = lay_out_site(libraries, wordings, Drawings(), asset_sources(), Edition(version="AAAAAA"), site_parts=[read_clinician_pages(read_templates())])
    with serve(files) as found:
        yield found


@pytest.fixture(scope="module")
def my_host() -> Iterator[Host]:
    with serve(make_phone_site()) as found:
        yield found


@pytest.fixture(scope="module")
def one_page(browser: Browser) -> Iterator[Page]:
    found = browser.new_context(service_workers="block").new_page()
    yield found
    found.context.close()


@pytest.fixture
def page(one_page: Page) -> Page:
    """The same for all that only look: each opens a page of its own in it."""
    one_page.goto("about:blank")
    one_page.set_viewport_size({"width": 360, "height": 740})
    return one_page


OVERLAP = """([one, other]) => { const [a, b] = [one, other].map(name => document.querySelector(name).getBoundingClientRect());
  return Math.min(a.right, b.right) - Math.max(a.left, b.left) > 0 && Math.min(a.bottom, b.bottom) - Math.max(a.top, b.top) > 0; }"""


@pytest.mark.parametrize("language", ["en", MIRRORED])
def test_language_list_leaves_the_clinics_name(page: Page, host: Host, language: str) -> None:
    """Open or not it lies over no part of the name; each language has its row, and the list stays on the screen."""
    page.goto(f"{host.address}/{language}/index.html")
    page.locator(".languages summary").click()
    expect(page.locator(".languages li a")).to_have_count(4)
    for width in (320, 360, 390, 412):
        page.set_viewport_size({"width": width, "height": 740})
        assert not page.evaluate(OVERLAP, [".clinic", ".languages ul"]), width
        assert not page.evaluate(OVERLAP, [".clinic", ".languages summary"]), width
        box = page.locator(".languages ul").bounding_box()
        assert box and box["x"] >= 0 and box["x"] + box["width"] <= width
        assert all(each["height"] >= 44 for row in page.locator(".languages li a").all() if (each := row.bounding_box()))


@pytest.mark.parametrize("language", ["en", "es", "fr", "vi", MIRRORED])
def test_the_head_and_the_strip_keep_their_lines(page: Page, host: Host, language: str) -> None:
    """The language list stands beside the clinic's name at every width; what stays in view is one row, as low as a button, and no word of it is broken."""
    page.goto(f"{host.address}/{language}/index.html")
    for width in (320, 360, 412, 820, 1366):
        page.set_viewport_size({"width": width, "height": 740})
        clinic, languages = page.locator(".clinic").bounding_box(), page.locator(".languages summary").bounding_box()
        assert clinic and languages and languages["y"] < clinic["y"] + clinic["height"], width
        rows = page.locator(".strip a").evaluate_all("all => all.map(each => { const {top, height} = each.getBoundingClientRect(); return [Math.round(top), height, each.scrollWidth > each.clientWidth]; })")
        assert len({top for top, *_ in rows}) == 1 and all(44 <= height < 60 and not cut for _, height, cut in rows), (width, rows)


@pytest.mark.parametrize("place", PLACES)
def test_text_twice_as_large_needs_no_way_sideways(page: Page, host: Host, place: str) -> None:
    """At 320 and 360 px, read from either side."""
    for language in ("en", MIRRORED):
        page.goto(f"{host.address}/{language}/{place}")
        page.evaluate("document.documentElement.style.fontSize = '225%'")
        for width in (320, 360):
            page.set_viewport_size({"width": width, "height": 640})
            assert page.evaluate("document.documentElement.scrollWidth - innerWidth") <= 0, (language, width)
            clinic, languages = page.locator(".clinic").bounding_box(), page.locator(".languages summary").bounding_box()
            assert page.evaluate("(({scrollWidth, clientWidth}) => scrollWidth - clientWidth)(document.querySelector('.clinic'))") <= 1, (language, width)
            assert clinic and languages and (languages["y"] >= clinic["y"] + clinic["height"] or not page.evaluate(OVERLAP, [".clinic", ".languages summary"]))


def test_long_words_are_parted_as_their_language_parts_them(page: Page, host: Host) -> None:
    """Where a line has few letters, as with text twice as large on a phone (300 px stand for it: media queries count the browser's own letters); else words stay whole."""
    page.goto(f"{host.address}/en/index.html")
    for width, expected in ((300, "auto"), (320, "manual"), (1366, "manual")):
        page.set_viewport_size({"width": width, "height": 740})
        assert page.evaluate("getComputedStyle(document.querySelector('main p')).hyphens") == expected, width


def test_only_pages_for_patients_have_the_strip(page: Page, host: Host) -> None:
    """Not the clinician's page, and not the page for a wrong address; what else those hold looks like the rest."""
    for place, shown in (*((f"en/{each}", 1) for each in PLACES), ("en/bundle/index.html", 0), ("404.html", 0)):
        page.goto(f"{host.address}/{place}")
        expect(page.locator(".strip")).to_have_count(shown)
        expect(page.locator("header .clinic")).to_have_count(1)
        expect(page.locator("#read-this")).to_have_count(1)


def test_the_mark_of_what_folds_points_down_in_every_direction(page: Page, host: Host) -> None:
    """The two sides of the mark that are drawn are the same on a page read from the right."""
    drawn = []
    for language in ("en", MIRRORED):
        page.goto(f"{host.address}/{language}/index.html")
        drawn.append(page.evaluate("""() => { const found = getComputedStyle(document.querySelector('summary'), '::before');
          return [found.borderTopWidth, found.borderRightWidth, found.borderBottomWidth, found.borderLeftWidth, found.transform.slice(0, 30)]; }"""))
    assert drawn[0] == drawn[1]
    assert drawn[0][:4] == ["0px", "2px", "2px", "0px"]


CUT = """() => {
  const held = document.activeElement, style = getComputedStyle(held);
  if (style.outlineStyle === 'none' || held === document.body || held.matches('.skip')) return [];
  const room = parseFloat(style.outlineOffset) + parseFloat(style.outlineWidth);
  const inner = parseFloat(style.outlineOffset);
  const box = held.getBoundingClientRect(), found = [];
  const walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  for (let text; (text = walk.nextNode());) {
    if (!text.data.trim() || held.contains(text) || !text.parentElement.checkVisibility() || text.parentElement.closest('.strip, .heard, script, option, .builds-on')) continue;
    const range = document.createRange(); const said = text.data.trim(); range.setStart(text, text.data.indexOf(said)); range.setEnd(text, text.data.indexOf(said) + said.length);
    for (const rect of range.getClientRects()) {
      // a line of text is higher than its letters by about a sixth at each end
      const [top, bottom] = [rect.top + rect.height / 6, rect.bottom - rect.height / 6];
      const touches = rect.right > box.left - room && rect.left < box.right + room && bottom > box.top - room && top < box.bottom + room;
      const inside = rect.right <= box.right + inner && rect.left >= box.left - inner && top >= box.top - inner && bottom <= box.bottom + inner;
      if (touches && !inside) found.push(`${held.outerHTML.slice(0, 60)} cuts ${text.data.trim().slice(0, 40)}`);
    }
  }
  return found;
}"""


@pytest.mark.parametrize("place", ["index.html", "exercises/index.html", "exercises/bridge/index.html", "bundle/index.html"])
def test_focus_rings_cut_no_text(page: Page, host: Host, place: str) -> None:
    """Whatever the Tab key reaches, its ring ends before the words beside it."""
    page.goto(f"{host.address}/en/{place}")
    page.evaluate("for (const each of document.querySelectorAll('details')) each.open = !each.closest('.languages')")
    cut: list[str] = []
    for _ in range(40):
        page.keyboard.press("Tab")
        cut += page.evaluate(CUT)
    assert page.evaluate("document.activeElement !== document.body")
    assert sorted(set(cut)) == []


@pytest.mark.parametrize("language", ["en", MIRRORED])
def test_an_exercise_page_prints_as_its_sheet(browser: Browser, host: Host, tmp_path: Path, language: str) -> None:
    """Figure and dose across the page, stop rules, clinic and version; no button, no way around the site; one page where the text is short."""
    page = browser.new_context(viewport={"width": 1280, "height": 800}).new_page()
    page.goto(f"{host.address}/{language}/exercises/bridge/index.html")
    page.emulate_media(media="print")
    for shown in (".clinic", ".figure svg", "h1", ".dose", ".steps", ".mistakes", ".stop .signs", ".ready", "#read-this"):
        expect(page.locator(shown).first).to_be_visible()
    assert page.locator("button:visible, .button:visible, nav:visible, summary:visible").count() == 0
    head, figure = page.locator("header").bounding_box(), page.locator(".figure svg").bounding_box()
    assert head and figure and figure["y"] >= head["y"] + head["height"]
    page.pdf(path=tmp_path / "page.pdf", format="Letter")
    assert (tmp_path / "page.pdf").read_bytes().count(b"/Type /Page\n") == 1
    page.context.close()


def test_a_kept_list_is_linked_from_the_site(page: Page, my_host: Host) -> None:
    """In a browser that keeps a list each page leads to it; nothing else is shown and the page does not grow."""
    expect_hidden = f"{my_host.address}/en/index.html"
    page.goto(expect_hidden)
    expect(page.locator("#mine")).to_be_hidden()
    before = page.locator("main").bounding_box()
    page.goto(f"{my_host.address}/en/my/index.html#{code_of('lift', 'hold')}")
    expect(page.locator("#rows li")).to_have_count(2)
    page.goto(expect_hidden)
    expect(page.locator("#mine")).to_be_visible()
    assert page.locator("main").bounding_box() == before
    page.get_by_role("link", name="My exercises").click()
    expect(page.locator("#rows li")).to_have_count(2)

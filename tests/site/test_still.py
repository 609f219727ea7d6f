"""A page stands still while it loads: its fonts and what its script shows come late and move nothing.

The most that a page may move is the goal of the project, a fifth of what web.dev calls good for "Cumulative Layout
Shift" (0.1 or less, https://web.dev/articles/cls).
"""

from __future__ import annotations

import re
from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, Route

from tests.phone.making import code_of, make_phone_site
from tests.phone.serving import Host, serve

MOST = 0.02
WATCH = """globalThis.moved = [];
new PerformanceObserver(list => { for (const each of list.getEntries()) moved.push(each); }).observe({type: 'layout-shift', buffered: true});"""
PAINTED = """new Promise(done => new PerformanceObserver(list => {
  if (list.getEntriesByName('first-contentful-paint').length) done();
}).observe({type: 'paint', buffered: true}))"""
PAGES = {"home": "en/index.html", "list": "en/exercises/index.html", "exercise": "en/exercises/lift/index.html", "my": "en/my/index.html"}


@pytest.fixture(scope="module")
def host() -> Iterator[Host]:
    """The small site."""
    with serve(make_phone_site()) as served:
        yield served


@pytest.mark.parametrize("width", [320, 412, 1280])
@pytest.mark.parametrize("name", PAGES)
def test_nothing_moves_when_fonts_and_scripts_come_late(browser: Browser, host: Host, name: str, width: int) -> None:
    """The page is painted before either has come; then the script, then the fonts."""
    context = browser.new_context(viewport={"width": width, "height": 740}, service_workers="block")
    page = context.new_page()
    held: dict[str, list[Route]] = {"js": [], "woff2": []}
    free = list[str]()

    def hold(route: Route) -> None:
        kind = route.request.url.rpartition(".")[2]
        if kind in free:
            route.continue_()
        else:
            held[kind].append(route)

    page.route(re.compile(r"\.(js|woff2)$"), hold)
    page.add_init_script(WATCH)
    code = "#" + code_of("lift", "hold", "walk") if name == "my" else ""
    page.goto(f"{host.address}/{PAGES[name]}{code}", wait_until="commit")
    page.evaluate(PAINTED)
    for kind in ("js", "woff2"):
        for _ in range(200):  # a busy machine asks late
            page.wait_for_timeout(100)
            if held[kind]:
                break
        assert held[kind], f"no {kind} was held back"
        free.append(kind)
        for route in held[kind]:
            route.continue_()
        page.wait_for_load_state("domcontentloaded") if kind == "js" else page.evaluate("document.fonts.ready.then(() => 0)")
    page.wait_for_timeout(200)
    fonts = page.evaluate("[...document.fonts].filter(each => each.status === 'loaded' && !/ as /.test(each.family)).length")
    moved = page.evaluate("moved.map(each => [each.value, each.sources.map(one => one.node?.parentElement?.outerHTML.slice(0, 90))])")
    context.close()
    assert fonts >= 2
    assert sum(value for value, _ in moved) <= MOST, moved

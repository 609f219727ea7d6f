"""The figure of an exercise page moves when it is asked to, at the tempo of the dose, and never by itself."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from functools import cache
from pathlib import Path
from typing import Any

import pytest
from markupsafe import Markup
from playwright.sync_api import Browser, Page, expect

from handouts.figure import compute_figure, motion_data, panel_svg, read_figure, svg_of
from handouts.model import Exercise, Side
from handouts.site.context import Edition
from handouts.source.nodes import compose
from handouts.words.wording import Wording
from tests.builders import a_library
from tests.site.making import asset_sources, lay_out_site

FIGURE = """\
base: sitting
view: side
props: {chair: seat}
contacts: [foot.l floor, seat seat]
start: {knee.r: 90}
end: {knee.r: 4}
arrow: ankle.r
active: [quads.r]
"""


@cache
def the_figure() -> Any:
    """A knee that straightens on a chair."""
    node, _ = compose(FIGURE, "figure.yaml")
    assert node is not None
    spec, problems = read_figure(node)
    assert spec is not None and problems == []
    return compute_figure(spec)


class Real:
    """The engine's own figure for each exercise."""

    def shown_side(self, exercise: Exercise) -> Side:
        """No side."""
        return Side.TOGETHER

    def fault_svg(self, exercise: Exercise, number: int, language: str, side: Side = Side.TOGETHER) -> Markup:
        return Markup("")

    def figure_note(self, exercise: Exercise, language: str) -> str:
        return "Stripes: muscles that work."

    def figure_svg(self, exercise: Exercise, language: str, side: Side = Side.TOGETHER) -> Markup:
        return Markup(svg_of(the_figure(), exercise.title.text, language, exercise.slug))

    def motion(self, exercise: Exercise) -> Mapping[str, Any]:
        return motion_data(the_figure())

    def panel_svg(self, exercise: Exercise) -> str:
        return panel_svg(the_figure(), -1, "", "", "p")


@pytest.fixture(scope="module")
def page_file(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """An exercise page on disk."""
    folder = tmp_path_factory.mktemp("movement")
    library = a_library()
    for path, data in lay_out_site([library], {"en": Wording("en")}, Real(), asset_sources(), Edition(version="V")).items():
        target = folder / path
        target.parent.mkdir(parents=True, exist_ok=True)
        target.write_bytes(data)
    return folder / f"en/exercises/{library.exercises[0].slug}/index.html"


@pytest.fixture
def page(browser: Browser, page_file: Path) -> Iterator[Page]:
    """The page, opened from disk; any error of a script fails the test."""
    context = browser.new_context(viewport={"width": 360, "height": 800})
    opened = context.new_page()
    faults: list[str] = []
    opened.on("pageerror", lambda error: faults.append(str(error)))
    opened.on("console", lambda message: faults.append(message.text) if message.type == "error" else None)
    opened.goto(page_file.as_uri())
    yield opened
    context.close()
    assert faults == []


def drawing(page: Page) -> str:
    """The figure's markup now."""
    return str(page.locator(".exercise .figure svg").evaluate("node => node.outerHTML"))


def see_another(page: Page, before: str) -> str:
    """Waits until the figure's markup is another one, and gives it; a busy machine draws late."""
    for _ in range(200):
        page.wait_for_timeout(100)
        if drawing(page) != before:
            return drawing(page)
    raise AssertionError("the figure does not move")


def test_still_until_asked(page: Page) -> None:
    """Nothing moves by itself."""
    before = drawing(page)
    page.wait_for_timeout(700)
    assert drawing(page) == before


def test_moves_and_stands_still_again(page: Page) -> None:
    """A tap starts the movement, another brings the two pictures back."""
    before = drawing(page)
    button = page.get_by_role("button", name="Show the movement")
    button.click()
    first = see_another(page, before)
    see_another(page, first)
    page.get_by_role("button", name="Stop the movement").click()
    assert drawing(page) == before


def test_reduced_motion(page: Page) -> None:
    """Who asked for less motion sees the two positions in turn, without the way between them."""
    page.emulate_media(reduced_motion="reduce")
    page.get_by_role("button", name="Show the movement").click()
    seen = set()
    for _ in range(12):
        page.wait_for_timeout(250)
        seen.add(drawing(page))
    assert 1 <= len(seen) <= 2


def test_no_script_no_button(page_file: Path, browser: Browser) -> None:
    """Without a script the figure stands and no button promises more."""
    context = browser.new_context(java_script_enabled=False)
    opened = context.new_page()
    opened.goto(page_file.as_uri())
    expect(opened.locator("button.move")).to_be_hidden()
    context.close()

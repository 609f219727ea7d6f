"""The gallery and the chapter in a browser: one finds by words and copies, by keys too, at any width and in each scheme of colours."""

from __future__ import annotations

from pathlib import Path

import pytest
from playwright.sync_api import expect

from handouts.gallery.files import file_names, gallery_file
from tests.site.axe import violations
from tests.site.browser import a_browser

PICTURE = b'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 4 3"/>'
"""In place of each figure: what a page does with them is looked at here, not what they show."""


@pytest.fixture(scope="module")
def pages(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Both pages with empty pictures."""
    folder = tmp_path_factory.mktemp("gallery")
    for name in file_names():
        (folder / name).write_bytes((gallery_file(name) or b"") if name.endswith(".html") else PICTURE)
    return folder


def test_search_and_copy(pages: Path) -> None:
    """Words in any order leave what has all of them; a movement's command and figure are copied by keys."""
    with a_browser() as browser:
        context = browser.new_context(viewport={"width": 1280, "height": 900}, permissions=["clipboard-read", "clipboard-write"])
        page = context.new_page()
        errors: list[str] = []
        page.on("pageerror", lambda error: errors.append(str(error)))
        page.goto((pages / "index.html").as_uri())
        everything = page.locator("li[data-words]").count()
        page.get_by_role("searchbox", name="Search").fill("wall calf")
        shown = page.locator("li[data-words]:visible h3")
        expect(page.locator("#count")).to_have_text(f"{shown.count()} of {everything}")
        assert "Calf stretch at a wall, knee bent" in shown.all_inner_texts() and shown.count() < 6
        page.get_by_role("searchbox").fill("calf   WALL")
        assert "Calf stretch at a wall, knee bent" in shown.all_inner_texts()
        page.get_by_role("button", name="Copy command").locator("visible=true").first.focus()
        page.keyboard.press("Enter")
        expect(page.get_by_role("button", name="Copied")).to_be_visible()
        assert page.evaluate("navigator.clipboard.readText()") == "handouts new NAME --like calf-stretch-wall"
        page.get_by_role("searchbox").fill("no such movement")
        expect(page.get_by_text("No movement has all of these words. Take one out.")).to_be_visible()
        page.get_by_role("searchbox").fill("")
        assert shown.count() == everything and errors == []


@pytest.mark.parametrize("name", ["index.html", "chapter.html"])
def test_widths_and_colours(pages: Path, name: str) -> None:
    """Nothing reaches over the edge at 320 px, and axe-core finds nothing in light and dark."""
    with a_browser() as browser:
        context = browser.new_context(viewport={"width": 320, "height": 640}, bypass_csp=True)
        page = context.new_page()
        page.goto((pages / name).as_uri())
        assert page.evaluate("document.documentElement.scrollWidth") <= 320
        if name == "index.html":
            page.get_by_role("searchbox").fill("wall")  # axe-core takes 10 s for all movements, shown or not
            page.evaluate("document.querySelectorAll('li[hidden], section[hidden]').forEach(each => each.remove())")
        assert violations(page, ("light", "dark")) == []

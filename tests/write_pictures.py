"""Makes the pictures of the README from the demo library: ``python -m tests.write_pictures``.

They are photographs of what a build gives: pages in Chromium, sheets from their PDFs.  Takes some minutes.
"""

from __future__ import annotations

import io
import tempfile
from datetime import date
from pathlib import Path

from PIL import Image
from playwright.sync_api import Browser, expect

from handouts.build.pipeline import make_site
from handouts.build.settings import Settings
from handouts.paper.laying import lay_out_document
from handouts.paper.plan import Documents
from handouts.paper.raster import page_png
from tests.site.browser import a_browser
from tests.site.making import write_site

ROOT = Path(__file__).parents[1]
PICTURES = ROOT / "tests/pictures"
DAY = date(2026, 11, 25)
MOST_BYTES = 120_000
PHONE, DESK = {"width": 360, "height": 740}, {"width": 1100, "height": 760}
SHEET_DOTS = 90
"""Dots an inch of a sheet's picture: large type can be read."""
BUNDLE = "start=95EE,42AG,F47V"
NAMES = ("exercise", "session", "bundle", "progression", "sheet", "sheet-ar")
"""The pictures by their names."""


def make_pictures() -> dict[str, bytes]:
    """Every picture as a PNG, by its name."""
    with tempfile.TemporaryDirectory() as folder, a_browser() as browser:
        site = Path(folder)
        made = make_site(Settings(ROOT / "content", Path(folder) / "out", DAY, jobs=1))
        assert made.pages, made.problems
        write_site(made.pages, site)
        return {
            "exercise": _photograph(browser, site, "en/exercises/counter-heel-raise/index.html", PHONE, 2),
            "session": _photograph(browser, site, "en/my/index.html#95EE", PHONE, 2, press="#start"),
            "bundle": _photograph(browser, site, f"en/bundle/index.html#{BUNDLE}", DESK, 1),
            "progression": _photograph(browser, site, "en/programmes/back-to-the-hill-path/index.html", DESK, 1, show=".ladder"),
            "sheet": _print(made.documents, "en/exercises/counter-heel-raise/counter-heel-raise-letter-standard.pdf"),
            "sheet-ar": _print(made.documents, "ar/exercises/counter-heel-raise/counter-heel-raise-letter-standard.pdf"),
        }


def _photograph(browser: Browser, site: Path, address: str, size: dict[str, int], scale: int, *, press: str = "", show: str = "") -> bytes:
    """A page as it stands in a window of a size, after a button was pressed or with a part at the top."""
    context = browser.new_context(viewport={"width": size["width"], "height": size["height"]}, device_scale_factor=scale, reduced_motion="reduce")
    page = context.new_page()
    page.goto(f"{site.as_uri()}/{address}")
    if press:
        page.locator(press).click()
        expect(page.locator("#session")).to_be_visible()
    if show:
        page.locator(show).evaluate("part => part.scrollIntoView()")
    page.wait_for_timeout(1500)  # pictures that come as they near the window
    data = page.screenshot()
    context.close()
    return data


def _print(documents: Documents, path: str) -> bytes:
    """The first page of a sheet."""
    return page_png(lay_out_document(documents.makers[path]()).pdf, 0, SHEET_DOTS)


def pack(picture: bytes) -> bytes:
    """A picture with a palette of as many colours as its size allows."""
    with Image.open(io.BytesIO(picture)) as image:
        plain = image.convert("RGB")
    for colours in (128, 64, 32, 16):
        out = io.BytesIO()
        plain.quantize(colours, dither=Image.Dither.NONE).save(out, "PNG", optimize=True)
        if out.tell() <= MOST_BYTES:
            return out.getvalue()
    raise ValueError("the picture is too large")


if __name__ == "__main__":
    PICTURES.mkdir(exist_ok=True)
    for name, picture in make_pictures().items():
        data = pack(picture)
        (PICTURES / f"{name}.png").write_bytes(data)
        print(f"{name}.png {len(data):,} bytes")

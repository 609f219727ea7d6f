"""Chromium for the tests, without reaching out by itself."""

from __future__ import annotations

import os
import shutil
from collections.abc import Iterator
from contextlib import contextmanager

from playwright.sync_api import Browser, expect, sync_playwright

QUIET = [
    "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking",
    "--disable-component-update", "--disable-sync",
]  # fmt: skip
PRINTED = "window.print = () => { document.documentElement.dataset.printed = 'yes'; };"
"""For a page's first script: what would be printed is only marked so."""


@contextmanager
def a_browser(*more: str) -> Iterator[Browser]:
    """The Chromium of this machine, with more switches where a test needs them."""
    path = shutil.which("chromium") or shutil.which("chromium-browser") or shutil.which("google-chrome")
    assert path, "chromium is needed for these tests"
    expect.set_options(timeout=20_000)  # a slow machine is no fault of the page
    with sync_playwright() as playwright:
        # the PDF writer hides the machine's fonts from its own process; a browser without any font crashes
        env: dict[str, str | float | bool] = {name: value for name, value in os.environ.items() if name != "FONTCONFIG_FILE"}
        browser = playwright.chromium.launch(executable_path=path, args=[*QUIET, *more], env=env)
        try:
            yield browser
        finally:
            browser.close()

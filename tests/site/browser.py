"""Chromium for the tests, without reaching out by itself: one for all tests of a process."""

from __future__ import annotations

import os
import shutil
from collections.abc import Iterator
from contextlib import ExitStack, contextmanager

from playwright.sync_api import Browser, Playwright, expect, sync_playwright

PROGRAMS = ("chromium-headless-shell", "chromium", "chromium-browser", "google-chrome")
"""The first of them that there is.  The first draws no window, and takes a third of the processor time of the others."""
QUIET = [
    "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking",
    "--disable-component-update", "--disable-sync",
]  # fmt: skip
PRINTED = "window.print = () => { document.documentElement.dataset.printed = 'yes'; };"
"""For a page's first script: what would be printed is only marked so."""


class _Shared:
    """What tests of this process share: the driver, and the browser that was asked for without further switches."""

    def __init__(self) -> None:
        self.kept: ExitStack | None = None
        self.driver: Playwright | None = None
        self.browser: Browser | None = None


_SHARED = _Shared()


@contextmanager
def one_browser() -> Iterator[None]:
    """Within it, ``a_browser`` gives the same browser again; it is started when first asked for."""
    with ExitStack() as stack:
        _SHARED.kept = stack
        try:
            yield
        finally:
            _SHARED.kept = _SHARED.driver = _SHARED.browser = None


@contextmanager
def a_browser(*more: str) -> Iterator[Browser]:
    """The Chromium of this machine, with more switches where a test needs them; what was opened in it is closed at the end."""
    expect.set_options(timeout=20_000)  # a slow machine is no fault of the page
    with ExitStack() as own:
        keep = _SHARED.kept or own
        driver = _SHARED.driver or keep.enter_context(sync_playwright())
        if _SHARED.kept:
            _SHARED.driver = driver
        browser = _SHARED.browser
        if browser is None or more:
            browser = _launch(driver, *more)
            (own if more else keep).callback(browser.close)
            if _SHARED.kept and not more:
                _SHARED.browser = browser
        before = browser.contexts
        yield browser
        for context in browser.contexts:
            if context not in before:
                context.close()


def _launch(driver: Playwright, *more: str) -> Browser:
    path = next((found for name in PROGRAMS if (found := shutil.which(name))), None)
    assert path, "chromium is needed for these tests"
    # the PDF writer hides the machine's fonts from its own process; a browser without any font crashes
    env: dict[str, str | float | bool] = {name: value for name, value in os.environ.items() if name != "FONTCONFIG_FILE"}
    return driver.chromium.launch(executable_path=path, args=[*QUIET, *more], env=env)

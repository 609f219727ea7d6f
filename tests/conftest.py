"""What all tests of a process share: a browser, and a place of their own for what builds keep, never that of the person who runs them."""

from __future__ import annotations

import gc
import os
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest
from playwright.sync_api import Browser

from handouts.paper import font_letters, qr_code
from handouts.phone import icon, pages
from handouts.site import assets
from tests.kept import shared_results, tidy
from tests.site.browser import a_browser, one_browser

for _module, _name in ((qr_code, "draw_code"), (font_letters, "read_letters"), (icon, "icon_png"), (assets, "pack_style")):
    # Hundreds of small builds ask for the same codes, letters, icons and styles, and these take a tenth of the time of a build.
    setattr(_module, _name, cache(getattr(_module, _name)))
pages.pack_style = assets.pack_style


@pytest.hookimpl(optionalhook=True)
def pytest_xdist_auto_num_workers() -> int:
    """Two more than there are processors: each waits for a browser, a disk or a process of its own a third of its time."""
    return (os.cpu_count() or 1) + 2


@pytest.fixture(scope="session", autouse=True)
def _one_browser() -> Iterator[None]:
    """One browser for all tests that want one."""
    with one_browser():
        yield


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    """The machine's Chromium; what a module opened in it is closed after it."""
    with a_browser() as found:
        yield found


THE_STORE = ("store", "faults", "workers", "hostile", "test_caches", "test_loading", "test_pdfs", "test_preview", "test_progress",
             "test_staging", "test_unchanged", "test_verifying", "test_work", "test_library_figures", "test_record", "test_laying",
             "test_previews")  # fmt: skip
"""Folders and modules of tests whose subject is what is made, kept or done by workers: their builds begin with an empty store."""


@pytest.fixture(scope="module", autouse=True)
def _known_results(request: pytest.FixtureRequest) -> Iterator[None]:
    """Builds of all other modules ask one store for what a pure task gave: figures, sheets, checks of texts."""
    if set(request.path.relative_to(Path(__file__).parent).with_suffix("").parts) & set(THE_STORE):
        yield
    else:
        with shared_results("small"):
            yield


@pytest.fixture(scope="session", autouse=True)
def _own_caches() -> Iterator[None]:
    """A folder for the caches of every output of this run; HANDOUTS_CACHE shares one among all of them."""
    with TemporaryDirectory(prefix="handouts-caches-") as folder, pytest.MonkeyPatch.context() as patch:
        patch.setenv("XDG_CACHE_HOME", folder)
        if not os.environ.get("HANDOUTS_CACHE"):
            patch.delenv("HANDOUTS_CACHE", raising=False)
        yield


def pytest_collection_finish() -> None:
    """Modules and tests stay to the end: the garbage collector need not look at them again and again."""
    gc.freeze()


def pytest_sessionstart(session: pytest.Session) -> None:
    """Tidies what is kept between runs, once a run."""
    if not hasattr(session.config, "workerinput") and not session.config.option.collectonly:
        tidy()

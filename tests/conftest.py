"""What all tests of a process share."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from tests.kept import tidy
from tests.site.browser import one_browser


@pytest.fixture(scope="session", autouse=True)
def _one_browser() -> Iterator[None]:
    """One browser for all tests that want one."""
    with one_browser():
        yield


def pytest_sessionstart(session: pytest.Session) -> None:
    """Tidies what is kept between runs, once a run."""
    if not hasattr(session.config, "workerinput") and not session.config.option.collectonly:
        tidy()

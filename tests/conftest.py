"""What all tests share: a place of their own for what builds keep, never the one of the person who runs them."""

from __future__ import annotations

import os
from collections.abc import Iterator
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest


@pytest.fixture(scope="session", autouse=True)
def _own_caches() -> Iterator[None]:
    """A folder for the caches of every output of this run; HANDOUTS_CACHE shares one among all of them."""
    with TemporaryDirectory(prefix="handouts-caches-") as folder, pytest.MonkeyPatch.context() as patch:
        patch.setenv("XDG_CACHE_HOME", folder)
        if not os.environ.get("HANDOUTS_CACHE"):
            patch.delenv("HANDOUTS_CACHE", raising=False)
        yield
        assert Path(folder).is_dir()

"""What the tests of the clinician's pages share."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.clinician.making import the_site
from tests.site.making import write_site


@pytest.fixture(scope="session")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The site on disk, as on a stick."""
    where = tmp_path_factory.mktemp("on a stick")
    write_site(the_site(), where)
    return where

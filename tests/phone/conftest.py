"""What the tests of the patient's page share."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from tests.phone.making import make_phone_site
from tests.phone.serving import Host, serve


@pytest.fixture
def host() -> Iterator[Host]:
    """The small site, served anew for each test, which may change its files."""
    with serve(make_phone_site()) as found:
        yield found

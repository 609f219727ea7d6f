"""Months of the log as Python's calendar has them; the rest of the log is tested in ``tests/scripts/log.test.js``."""

from __future__ import annotations

import calendar

from tests.scripts.node import ask_script


def test_months() -> None:
    """Python's calendar module gives the same weeks, for 60 months and both beginnings of the week."""
    cases = [[year, month, first] for year in range(2023, 2028) for month in range(1, 13) for first in (1, 7)]
    for (year, month, first), weeks in zip(cases, ask_script("months", cases), strict=True):
        assert weeks == calendar.Calendar((first - 1) % 7).monthdayscalendar(year, month)

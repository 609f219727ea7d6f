"""Hostile libraries: each is refused with a place and a mend, and the published site is left as it is.

Here a part of them; all: ``python tests/long/hostile.py``.
"""

from __future__ import annotations

import random

from tests.hostile.cases import Case, all_cases
from tests.hostile.payloads import XSS
from tests.hostile.run import read_messages, run

CASES = all_cases()
PART = 90
"""How many are tried in each run of the tests; which ones changes with the number of cases only."""


def part() -> list[Case]:
    """At least two of each family, and others."""
    families: dict[str, list[Case]] = {}
    for case in CASES:
        families.setdefault(case.name.split(" ")[0], []).append(case)
    chosen = [case for group in families.values() for case in group[:: max(1, len(group) - 1)][:2]]
    rest = [case for case in CASES if case not in chosen]
    return chosen + random.Random(len(CASES)).sample(rest, max(0, PART - len(chosen)))


def test_there_are_enough() -> None:
    """At least 500 libraries and 200 attacks, and every one has its message."""
    assert len(CASES) >= 500
    assert len(set(XSS)) >= 200
    assert len(read_messages()) == len(CASES)


def test_part_of_the_hostile_libraries() -> None:
    """Status, whole message, place, mend, no traceback, untouched site."""
    said, faults = run(part(), read_messages())
    assert faults == []
    assert len(said) >= PART

"""The table of faults in FAULTS.md: every row is there, and every test that it names exists."""

from __future__ import annotations

import ast
import re
from functools import cache
from pathlib import Path

TESTS = Path(__file__).parent
ROWS = re.findall(r"^\| (T\d+) \| (.+?) \| (.+?) \|$", (TESTS / "FAULTS.md").read_text(encoding="utf-8"), re.MULTILINE)


@cache
def names_in(file: str) -> frozenset[str]:
    """The names of the test functions in a file."""
    tree = ast.parse((TESTS / file).read_text(encoding="utf-8"))
    return frozenset(node.name for node in tree.body if isinstance(node, ast.FunctionDef) and node.name.startswith("test_"))


def test_every_row_is_there() -> None:
    """T1 to T40, in order, each with a test."""
    assert [row for row, _, _ in ROWS] == [f"T{number}" for number in range(1, 41)]
    assert all("::" in named for _, _, named in ROWS)


def test_every_named_test_exists() -> None:
    """A test that is renamed or lost is missed here."""
    named = [(row, *test.split("::")) for row, _, tests in ROWS for test in re.findall(r"`([\w/]+\.py::\w+)`", tests)]
    assert len(named) >= 40
    assert [(row, file, name) for row, file, name in named if name not in names_in(file)] == []

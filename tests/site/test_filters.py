"""Filters of the list: what the script counts at each entry is what choosing it leaves."""

from __future__ import annotations

import random
from typing import Any

from tests.scripts.node import ask_script

NAMES = ("region", "step", "position", "programme")


def a_row(rng: random.Random) -> dict[str, list[str]]:
    """An exercise with its values; its steps alone and with their programmes, as the page has them."""
    steps = {programme: str(rng.randint(1, 3)) for programme in rng.sample("pq", rng.randint(0, 2))}
    return {"region": rng.sample("abc", rng.randint(1, 2)), "position": [rng.choice("xy")], "programme": list(steps),
            "step": [*dict.fromkeys(steps.values()), *(f"{programme}/{step}" for programme, step in steps.items())]}


def leaves(rows: list[dict[str, list[str]]], wanted: dict[str, str]) -> int:
    """How many rows have all that is wanted; a step belongs to the programme beside it."""
    count = 0
    for row in rows:
        asked = {name: value for name, value in wanted.items() if value}
        if "step" in asked and "programme" in asked:
            asked["step"] = f"{asked['programme']}/{asked['step']}"
        count += all(value in row[name] for name, value in asked.items())
    return count


def test_counts_are_what_a_choice_leaves() -> None:
    """For random rows and choices each count is that of the rows that are left; what leaves none has no count."""
    rng = random.Random(3)
    values = {"region": "abc", "step": "123", "position": "xy", "programme": "pq"}
    cases: list[dict[str, Any]] = [
        {"rows": [a_row(rng) for _ in range(rng.randint(0, 12))], "wanted": {name: rng.choice(["", "", *values[name]]) for name in NAMES}}
        for _ in range(300)
    ]
    for case, got in zip(cases, ask_script("filtered", cases), strict=True):
        assert got["passing"] == leaves(case["rows"], case["wanted"])
        for name, all_ in values.items():
            expected = {value: count for value in all_ if (count := leaves(case["rows"], case["wanted"] | {name: value}))}
            assert got["counts"][name] == expected, (case, name)

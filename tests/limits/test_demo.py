"""Conflicts of the demo that a clinician would expect, on its own figures as the engine solves them."""

from __future__ import annotations

from functools import cache

import pytest

from handouts.limits import Finding, find_conflicts
from tests.limits.making import demo, demo_figures, the_limit


@cache
def findings(slug: str) -> tuple[Finding, ...]:
    """What an exercise of the demo may exceed of the limits in use."""
    exercise = demo().exercise[slug]
    return find_conflicts(exercise, demo_figures()[slug], demo().limits_in_use)


def clear(slug: str, limit: str) -> set[tuple[int, str]]:
    """Phase and name of what is found of a limit by more than five degrees, or without degrees."""
    assert the_limit(limit).default
    return {
        (found.phase, part.name) for found in findings(slug) if found.limit == limit and not found.is_slight for part in found.parts
    }


@pytest.mark.parametrize(
    ("slug", "limit", "expected"),
    [
        # leaning far forward on a chair bends the hip past a right angle
        ("table-slide", "hip-posterior", {(0, "hip flexion")}),
        # the other hand leads the stick: helped, so not before week 6
        ("stick-arm-raise", "cuff-repair", {(0, "assisted-shoulder"), (1, "assisted-shoulder")}),
        # a hanging arm swings: passive, so only the two weeks of rest forbid it
        ("arm-swing", "cuff-repair", {(0, "passive-shoulder")}),
        # a weight lifted overhead: not before week 12
        ("shelf-lift", "cuff-repair", {(0, "active-shoulder"), (1, "active-shoulder"), (2, "resisted-shoulder")}),
        # knee straightening on a chair is the open-chain exercise itself: to the end only from week 8
        ("seated-knee-straightening", "acl-open-chain", {(phase, name) for phase in range(5) for name in ("open-chain-knee-extension", "knee flexion") if phase or name != "knee flexion"}),
        # the straight leg lifts from the hip: its knee does not move
        ("straight-leg-raise", "acl-open-chain", set()),
        # bridges and leg raises are done lying on the back
        ("bridge", "pregnancy-lying-16", {(0, "lying")}),
        ("side-lying-leg-lift", "pregnancy-lying-16", set()),
        # a one-leg stand puts the whole weight on one leg, a seated exercise none
        ("one-leg-stand", "part-weight-50", {(0, "whole-weight-on-leg")}),
        ("seated-knee-straightening", "no-weight", set()),
        # a 5 kg ball from the knee to a shelf
        ("two-hand-ball-lift", "thin-bones", {(0, "load-in-hands"), (0, "trunk flexion")}),
        ("two-hand-ball-lift", "breath-holding", {(0, "breath-hold-risk")}),
        ("bridge", "vertigo", {(0, "lie-to-sit")}),
    ],
)  # fmt: skip
def test_expected_conflicts(slug: str, limit: str, expected: set[tuple[int, str]]) -> None:
    """Found where a clinician expects it, and not where not."""
    assert clear(slug, limit) == expected

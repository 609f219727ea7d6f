"""Edges of every printed band, and the school grades that bands stand for."""

from __future__ import annotations

import pytest

from handouts.readability import BANDS
from handouts.readability.bands import (
    BORROWED_FLESCH_GRADES,
    BRAZILIAN,
    BRAZILIAN_GRADES,
    FLESCH,
    GULPEASE,
    GULPEASE_GRADES,
    INFLESZ,
    INFLESZ_GRADES,
    LIX_DANISH,
    LIX_GRADES,
    LIX_SWEDISH,
    SCHOOL_GRADE,
    GradeTable,
    Steps,
)

EDGES = [
    # Flesch 1948: 90-100, 80-90, 70-80, 60-70, 50-60, 30-50, 0-30
    (FLESCH, {121.22: "very-easy", 90: "very-easy", 89.9: "easy", 80: "easy", 79.9: "fairly-easy", 70: "fairly-easy",
              69.9: "normal", 60: "normal", 59.9: "fairly-difficult", 50: "fairly-difficult", 49.9: "difficult",
              30: "difficult", 29.9: "very-difficult", -50: "very-difficult"}),
    # Barrio-Cantalejo 2008 as coded in legibilidad 0.21: an edge belongs to the harder band
    (INFLESZ, {80.1: "very-easy", 80: "fairly-easy", 65.1: "fairly-easy", 65: "normal", 55.1: "normal",
               55: "somewhat-difficult", 40.1: "somewhat-difficult", 40: "very-difficult", 0: "very-difficult"}),
    # Lucisano & Piemontese 1988: below 80, below 60, below 40
    (GULPEASE, {80: "easy", 79.9: "hard-after-primary", 60: "hard-after-primary", 59.9: "hard-after-lower-secondary",
                40: "hard-after-lower-secondary", 39.9: "hard-after-upper-secondary"}),
    # Martins 1996: 75-100, 50-75, 25-50, 0-25
    (BRAZILIAN, {75: "very-easy", 74.9: "easy", 50: "easy", 49.9: "difficult", 25: "difficult", 24.9: "very-difficult"}),
    # Danish table: <= 24, 25-34, 35-44, 45-54, >= 55
    (LIX_DANISH, {24: "very-easy", 25: "easy", 34: "easy", 35: "normal", 44: "normal", 45: "difficult",
                  54: "difficult", 55: "very-difficult"}),
    # Swedish table: 0-29, 30-39, 40-49, 50-59, 60 and more
    (LIX_SWEDISH, {29: "very-easy", 29.9: "very-easy", 30: "easy", 39: "easy", 40: "normal", 49: "normal",
                   50: "difficult", 59: "difficult", 60: "very-difficult"}),
    (SCHOOL_GRADE, {5: "very-easy", 6: "easy", 6.1: "fairly-easy", 7: "fairly-easy", 7.1: "normal", 9: "normal",
                    9.1: "fairly-difficult", 12: "fairly-difficult", 12.1: "difficult", 16: "difficult", 16.1: "very-difficult"}),
]  # fmt: skip


@pytest.mark.parametrize(("steps", "expected"), EDGES)
def test_band_edges(steps: Steps[str], expected: dict[float, str]) -> None:
    """Each printed edge falls on the side that its source prints."""
    assert {value: steps.find(value) for value in expected} == expected


@pytest.mark.parametrize(
    ("table", "expected"),
    [
        (BORROWED_FLESCH_GRADES, {95: 5, 85: 6, 75: 7, 65: 9, 55: 12, 40: 16, 10: 17}),  # 5th, 6th, 7th, 8th-9th, 10th-12th
        (INFLESZ_GRADES, {81: 4, 80: 6, 66: 6, 65: 9, 50: 12, 30: 16}),
        (GULPEASE_GRADES, {80: 5, 70: 8, 50: 13, 30: 17}),
        (BRAZILIAN_GRADES, {75: 4, 60: 8, 30: 16, 10: 17}),
        (LIX_GRADES, {33.9: 4, 34: 5, 37.9: 5, 38: 6, 41: 7, 44: 8, 48: 9, 51: 10, 54: 11, 57: 12}),  # koRpus, R
    ],
)
def test_school_grades(table: GradeTable, expected: dict[float, float]) -> None:
    """A band stands for its highest grade, so half a band never meets a target."""
    assert {value: table.steps.find(value) for value in expected} == expected


def test_borrowed_tables_say_so() -> None:
    """A table without published school grades is marked, and its source says what was done."""
    assert not BORROWED_FLESCH_GRADES.published
    assert "borrowed" in BORROWED_FLESCH_GRADES.source
    assert not INFLESZ_GRADES.published
    assert GULPEASE_GRADES.published


def test_every_band_has_a_name_for_the_interface() -> None:
    """BANDS lists each band that a table can give."""
    given = {name for steps, _ in EDGES for name in (*(name for _, name in steps.edges), steps.beyond)}
    assert given == set(BANDS)


FLESCH_EDGES = ((90, 5, 6), (80, 6, 7), (70, 7, 9), (60, 9, 12), (50, 12, 16), (30, 16, 17))
GRADE_EDGES = [
    # the printed edge of a band, the school grade at it and just below it; sources as of the tables above
    (BORROWED_FLESCH_GRADES, FLESCH_EDGES, True),  # Flesch 1948
    (INFLESZ_GRADES, ((80, 4, 6), (65, 6, 9), (55, 9, 12), (40, 12, 16)), False),  # Barrio-Cantalejo 2008: an edge is of the harder band
    (GULPEASE_GRADES, ((80, 5, 8), (60, 8, 13), (40, 13, 17)), True),  # Lucisano and Piemontese 1988
    (BRAZILIAN_GRADES, ((75, 4, 8), (50, 8, 16), (25, 16, 17)), True),  # Martins 1996
]  # fmt: skip


@pytest.mark.parametrize(("table", "edges", "edge_is_easier"), GRADE_EDGES)
def test_grades_change_at_the_printed_edges(table: GradeTable, edges: tuple[tuple[int, int, int], ...], edge_is_easier: bool) -> None:
    """At each edge and a tenth above and below it."""
    for edge, above, below in edges:
        assert (table.steps.find(edge + 0.1), table.steps.find(edge - 0.1)) == (above, below)
        assert table.steps.find(edge) == (above if edge_is_easier else below)

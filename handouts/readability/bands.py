"""Bands of each formula's scale, and the US school grade that each band stands for.

Holds the published tables, each with its source; where a formula has no published school grades, the table in use is
borrowed and says so in ``GradeTable.source``.  Never applies a formula.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Generic, TypeVar

Value = TypeVar("Value")

BANDS = (
    "very-easy",
    "easy",
    "fairly-easy",
    "normal",
    "fairly-difficult",
    "somewhat-difficult",
    "difficult",
    "very-difficult",
    "hard-after-primary",
    "hard-after-lower-secondary",
    "hard-after-upper-secondary",
)
"""Every band name that a level can carry, for the catalogue of interface words."""

COLLEGE, GRADUATE = 16.0, 17.0
"""School grades that stand for "college" and "graduate" in tables that go beyond grade 12."""


@dataclass(frozen=True, slots=True)
class Steps(Generic[Value]):
    """A scale cut at edges, easiest step first; each edge is the last value of its step, ``beyond`` is what follows."""

    edges: tuple[tuple[float, Value], ...]
    beyond: Value
    high_is_easy: bool
    edge_is_easier: bool = True
    """Whether a value on the edge belongs to the easier step."""

    def find(self, value: float) -> Value:
        """What the step of ``value`` carries."""
        sign = 1.0 if self.high_is_easy else -1.0
        for edge, carried in self.edges:
            above = sign * (value - edge)
            if above > 0 or (above == 0 and self.edge_is_easier):
                return carried
        return self.beyond


@dataclass(frozen=True, slots=True)
class GradeTable:
    """School grades by step, the highest grade of each band, so that a target is never met by half a band."""

    steps: Steps[float]
    source: str
    published: bool
    """False where the formula's authors gave no school grades and the table is borrowed or read into the bands."""


def _bands(edges: tuple[tuple[float, str], ...], beyond: str, *, easy: bool = True, on: bool = True) -> Steps[str]:
    return Steps(edges, beyond, high_is_easy=easy, edge_is_easier=on)


FLESCH = _bands(
    ((90, "very-easy"), (80, "easy"), (70, "fairly-easy"), (60, "normal"), (50, "fairly-difficult"), (30, "difficult")),
    "very-difficult",
)
"""Flesch 1948."""
INFLESZ = _bands(
    ((80, "very-easy"), (65, "fairly-easy"), (55, "normal"), (40, "somewhat-difficult")), "very-difficult", on=False
)
"""Barrio-Cantalejo et al. 2008, An Sist Sanit Navar 31:135; a value on an edge belongs to the harder band."""
GULPEASE = _bands(
    ((80, "easy"), (60, "hard-after-primary"), (40, "hard-after-lower-secondary")), "hard-after-upper-secondary"
)
"""Lucisano & Piemontese 1988: below 80 hard for primary leavers, below 60 for lower, below 40 for upper secondary."""
BRAZILIAN = _bands(((75, "very-easy"), (50, "easy"), (25, "difficult")), "very-difficult")
"""Martins et al. 1996."""
LIX_DANISH = _bands(((24, "very-easy"), (34, "easy"), (44, "normal"), (54, "difficult")), "very-difficult", easy=False)
"""Danish and Norwegian use; printed as <= 24, 25-34, 35-44, 45-54, >= 55: between two, the harder."""
LIX_SWEDISH = _bands(
    ((30, "very-easy"), (40, "easy"), (50, "normal"), (60, "difficult")), "very-difficult", easy=False, on=False
)
"""Swedish use; printed as 0-29, 30-39, 40-49, 50-59, 60 and more."""
SCHOOL_GRADE = _bands(
    ((5, "very-easy"), (6, "easy"), (7, "fairly-easy"), (9, "normal"), (12, "fairly-difficult"), (16, "difficult")),
    "very-difficult",
    easy=False,
)
"""Formulas that give a grade: Flesch's own grades by band, read the other way."""

_FLESCH_STEPS = Steps(((90, 5.0), (80, 6.0), (70, 7.0), (60, 9.0), (50, 12.0), (30, COLLEGE)), GRADUATE, True)

BORROWED_FLESCH_GRADES = GradeTable(
    _FLESCH_STEPS, "no school grades published for this formula; Flesch's table is borrowed", False
)
INFLESZ_GRADES = GradeTable(
    Steps(((80, 4.0), (65, 6.0), (55, 9.0), (40, 12.0)), COLLEGE, True, False),
    "no school grades published; the two easy bands are texts for primary school (six years), the rest is our reading",
    False,
)
GULPEASE_GRADES = GradeTable(
    Steps(((80, 5.0), (60, 8.0), (40, 13.0)), GRADUATE, True),
    "Lucisano & Piemontese 1988: end of primary (5 years), lower secondary (8), upper secondary (13)",
    True,
)
BRAZILIAN_GRADES = GradeTable(
    Steps(((75, 4.0), (50, 8.0), (25, COLLEGE)), GRADUATE, True),
    "Martins et al. 1996: years 1-4, years 5-8, secondary school and university, academic fields",
    True,
)
LIX_GRADES = GradeTable(
    Steps(
        ((34, 4.0), (38, 5.0), (41, 6.0), (44, 7.0), (48, 8.0), (51, 9.0), (54, 10.0), (57, 11.0)), 12.0, False, False
    ),
    "Anderson 1983, J Reading 26:490, as coded in an R package: under 34 is below 5th grade, 34 to 37 5th, and so on",
    True,
)

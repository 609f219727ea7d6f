"""The reading level of texts in a language, by that language's own published formula.

Holds which formula and tables serve which language.  Never gives an English score for another language, never rounds
the value, and never says that a text is easy to understand: a formula sees only lengths.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass

from handouts.readability import bands, formulas
from handouts.readability.bands import GradeTable, Steps
from handouts.readability.counting import count
from handouts.readability.counts import Counts
from handouts.readability.language import scored_language

SHOWN_DECIMALS = 1
"""Decimals of a value as it is shown and held against a target (published examples show one)."""


@dataclass(frozen=True, slots=True)
class Formula:
    """A formula, the scale that it speaks in and the tables that its scale is read by."""

    name: str
    compute: Callable[[Counts], float]
    scale: str
    """``grade`` (school year, higher is harder), ``ease`` (higher is easier) or ``difficulty`` (higher is harder)."""
    bands: Steps[str]
    grades: GradeTable | None
    """None: the value is a school grade itself."""
    source: str


@dataclass(frozen=True, slots=True)
class Level:
    """What one formula says of one text or several."""

    language: str
    """The scored language, for example ``pt`` for ``pt-BR``."""
    formula: str
    value: float
    """As the formula gives it, not rounded; may lie outside the printed scale."""
    scale: str
    """``grade``, ``ease`` or ``difficulty``."""
    band: str
    """One of ``bands.BANDS``."""
    grade_equivalent: float | None
    """US school grade: the value itself, or the highest grade of its band."""
    source: str
    counts: Counts


def _lix(table: Steps[str]) -> Formula:
    return Formula("LIX", formulas.lix, "difficulty", table, bands.LIX_GRADES, "Bjornsson 1968")


FORMULAS: Mapping[str, Formula] = {
    "en": Formula("Flesch-Kincaid", formulas.flesch_kincaid_grade, "grade", bands.SCHOOL_GRADE, None, "Kincaid et al. 1975"),
    "es": Formula(
        "Szigriszt-Pazos", formulas.szigriszt_pazos, "ease", bands.INFLESZ, bands.INFLESZ_GRADES,
        "Szigriszt Pazos 1993; bands Barrio-Cantalejo et al. 2008",
    ),
    "fr": Formula("Kandel-Moles form A", formulas.kandel_moles_a, "ease", bands.FLESCH, bands.BORROWED_FLESCH_GRADES, "Kandel & Moles 1958"),
    "de": Formula("Wiener Sachtextformel 1", formulas.wiener_sachtextformel, "grade", bands.SCHOOL_GRADE, None, "Bamberger & Vanecek 1984"),
    "it": Formula("Gulpease", formulas.gulpease, "ease", bands.GULPEASE, bands.GULPEASE_GRADES, "Lucisano & Piemontese 1988"),
    "pt": Formula("Flesch, Brazilian Portuguese", formulas.flesch_brazilian, "ease", bands.BRAZILIAN, bands.BRAZILIAN_GRADES, "Martins et al. 1996"),
    "ru": Formula("Flesch, Russian (Oborneva)", formulas.flesch_russian, "ease", bands.FLESCH, bands.BORROWED_FLESCH_GRADES, "Oborneva 2006"),
    "ar": Formula("OSMAN", formulas.osman, "ease", bands.FLESCH, bands.BORROWED_FLESCH_GRADES, "El-Haj & Rayson 2016"),
    "sv": _lix(bands.LIX_SWEDISH),
    **dict.fromkeys(("da", "nb", "nn", "no"), _lix(bands.LIX_DANISH)),
}  # fmt: skip
"""Language to the formula that a library is held to."""


def level_of(language: str, formula: Formula, counts: Counts) -> Level | None:
    """What one formula says of counts; None for a text without a word."""
    if not counts.words:
        return None
    value = formula.compute(counts)
    shown = round(value, SHOWN_DECIMALS)
    table = formula.grades
    return Level(
        language=language,
        formula=formula.name,
        value=value,
        scale=formula.scale,
        band=formula.bands.find(shown),
        grade_equivalent=value if table is None else table.steps.find(shown),
        source=formula.source,
        counts=counts,
    )


def score(language: str, texts: Iterable[str]) -> Level | None:
    """The level by the language's formula, over all texts taken together.

    ``language`` is a BCP 47 tag; regional ones resolve.  None for a language without a formula tried on such texts,
    and for texts without a word.
    """
    scored, counts = scored_language(language), count(language, texts)
    if scored is None or counts is None:
        return None
    return level_of(scored, FORMULAS[scored], counts)


def within(level: Level, school_grade: float) -> bool:
    """Whether a level is at or below a US school grade, both at the one decimal that is shown.

    A formula with a grade is compared as it stands; another by the highest grade of its band (``GradeTable.source``).
    """
    if level.grade_equivalent is None:
        return False
    return round(level.grade_equivalent, SHOWN_DECIMALS) <= round(school_grade, SHOWN_DECIMALS)

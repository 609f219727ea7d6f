"""The reading level of texts in a language, by that language's own published formula.

Holds which formulas and tables serve which language.  Never gives an English score for another language, never rounds
the value, and never says that a text is easy to understand: a formula sees only lengths.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from functools import partial

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
    applies: Callable[[Counts], bool] = lambda counts: counts.words > 0


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
    grade_source: str
    """Where the school grade comes from, and whether it is published for this formula at all."""
    grade_published: bool
    counts: Counts


def _wiener(number: int) -> Formula:
    return Formula(
        f"Wiener Sachtextformel {number}",
        partial(formulas.wiener_sachtextformel, number=number),
        "grade",
        bands.SCHOOL_GRADE,
        None,
        "Bamberger & Vanecek 1984",
    )


def _lix(table: Steps[str]) -> Formula:
    return Formula("LIX", formulas.lix, "difficulty", table, bands.LIX_GRADES, "Bjornsson 1968")


FLESCH_KINCAID = Formula(
    "Flesch-Kincaid", formulas.flesch_kincaid_grade, "grade", bands.SCHOOL_GRADE, None, "Kincaid et al. 1975"
)
FLESCH = Formula(
    "Flesch Reading Ease", formulas.flesch_reading_ease, "ease", bands.FLESCH, bands.FLESCH_GRADES, "Flesch 1948"
)
SMOG = Formula("SMOG", formulas.smog_exact, "grade", bands.SCHOOL_GRADE, None, "McLaughlin 1969", formulas.smog_applies)
SZIGRISZT = Formula(
    "Szigriszt-Pazos",
    formulas.szigriszt_pazos,
    "ease",
    bands.INFLESZ,
    bands.INFLESZ_GRADES,
    "Szigriszt Pazos 1993; bands Barrio-Cantalejo et al. 2008",
)
FERNANDEZ_HUERTA = Formula(
    "Fernandez-Huerta",
    formulas.fernandez_huerta,
    "ease",
    bands.FLESCH,
    bands.FERNANDEZ_HUERTA_GRADES,
    "Fernandez Huerta 1959",
)
KANDEL_MOLES = Formula(
    "Kandel-Moles form A",
    formulas.kandel_moles_a,
    "ease",
    bands.FLESCH,
    bands.BORROWED_FLESCH_GRADES,
    "Kandel & Moles 1958",
)
AMSTAD = Formula("Amstad", formulas.amstad, "ease", bands.FLESCH, bands.GERMAN_FLESCH_GRADES, "Amstad 1978")
GULPEASE = Formula(
    "Gulpease", formulas.gulpease, "ease", bands.GULPEASE, bands.GULPEASE_GRADES, "Lucisano & Piemontese 1988"
)
BRAZILIAN = Formula(
    "Flesch, Brazilian Portuguese",
    formulas.flesch_brazilian,
    "ease",
    bands.BRAZILIAN,
    bands.BRAZILIAN_GRADES,
    "Martins et al. 1996",
)
OBORNEVA = Formula(
    "Flesch, Russian (Oborneva)",
    formulas.flesch_russian,
    "ease",
    bands.FLESCH,
    bands.BORROWED_FLESCH_GRADES,
    "Oborneva 2006",
)
OSMAN = Formula("OSMAN", formulas.osman, "ease", bands.FLESCH, bands.BORROWED_FLESCH_GRADES, "El-Haj & Rayson 2016")

FORMULAS: dict[str, tuple[Formula, ...]] = {
    "en": (FLESCH_KINCAID, FLESCH, SMOG, _lix(bands.LIX_DANISH)),
    "es": (SZIGRISZT, FERNANDEZ_HUERTA, _lix(bands.LIX_DANISH)),
    "fr": (KANDEL_MOLES, _lix(bands.LIX_DANISH)),
    "de": (_wiener(1), _wiener(2), _wiener(3), _wiener(4), AMSTAD, _lix(bands.LIX_DANISH)),
    "it": (GULPEASE, _lix(bands.LIX_DANISH)),
    "pt": (BRAZILIAN, _lix(bands.LIX_DANISH)),
    "ru": (OBORNEVA, _lix(bands.LIX_DANISH)),
    "ar": (OSMAN,),
    "sv": (_lix(bands.LIX_SWEDISH),),
    "da": (_lix(bands.LIX_DANISH),),
    "nb": (_lix(bands.LIX_DANISH),),
    "nn": (_lix(bands.LIX_DANISH),),
    "no": (_lix(bands.LIX_DANISH),),
}
"""Language to its formulas; the first is the one that a library is held to."""


def level_of(language: str, formula: Formula, counts: Counts) -> Level | None:
    """What one formula says of counts; None where it is not defined for so little text."""
    if not counts.words or not formula.applies(counts):
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
        grade_source="the formula gives a school grade" if table is None else table.source,
        grade_published=table is None or table.published,
        counts=counts,
    )


def scores(language: str, texts: Iterable[str]) -> tuple[Level, ...]:
    """Every formula of the language that is defined for texts so short, the main one first; empty if not scored."""
    scored, counts = scored_language(language), count(language, texts)
    if scored is None or counts is None:
        return ()
    levels = (level_of(scored, formula, counts) for formula in FORMULAS[scored])
    return tuple(level for level in levels if level is not None)


def score(language: str, texts: Iterable[str]) -> Level | None:
    """The level by the language's main formula, over all texts taken together.

    ``language`` is a BCP 47 tag; regional ones resolve.  None for a language without a formula tried on such texts,
    and for texts without a word.
    """
    scored, counts = scored_language(language), count(language, texts)
    if scored is None or counts is None:
        return None
    return level_of(scored, FORMULAS[scored][0], counts)


def within(level: Level, school_grade: float) -> bool:
    """Whether a level is at or below a US school grade, both at the one decimal that is shown.

    A formula with a grade is compared as it stands; another by the highest grade of its band (``grade_source``).
    """
    if level.grade_equivalent is None:
        return False
    return round(level.grade_equivalent, SHOWN_DECIMALS) <= round(school_grade, SHOWN_DECIMALS)

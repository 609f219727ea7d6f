"""Published formulas against worked examples, fed by counts."""

from __future__ import annotations

import pytest

from handouts.readability.counts import NOTHING, Counts
from handouts.readability.formulas import (
    flesch_brazilian,
    flesch_kincaid_grade,
    flesch_russian,
    gulpease,
    kandel_moles_a,
    lix,
    osman,
    szigriszt_pazos,
    wiener_sachtextformel,
)


@pytest.mark.parametrize(
    ("words", "sentences", "syllables", "grade"),
    [
        (13, 1, 24, 11.2646),  # platypus sentence, published 11.3; textstat 0.7.13
        (6, 1, 6, -1.45),  # "The cat sat on the mat."; textstat 0.7.13
        (100, 6, 150, 8.6100),  # by hand from the formula
        (46, 5, 57, 2.6197),  # sample EASY; textstat 0.7.13
        (25, 3, 73, 22.1160),  # sample HARD as textstat 0.7.13 counts it
        (46, 5, 54, 1.8502),  # EASY as the package readability 0.3.2 counts it
        (1, 1, 1, -3.40),  # floor: one word of one syllable
    ],
)
def test_flesch(words: int, sentences: int, syllables: int, grade: float) -> None:
    """Flesch-Kincaid grade, to four decimals."""
    assert flesch_kincaid_grade(Counts(words, sentences, syllables)) == pytest.approx(grade, abs=5e-5)


def test_spanish() -> None:
    """Counts 27/4/61: Szigriszt-Pazos as the package legibilidad 0.21 gives it."""
    assert szigriszt_pazos(Counts(27, 4, 61)) == pytest.approx(59.33, abs=5e-3)


def test_french_is_form_a() -> None:
    """Counts 28/4/47: form A gives 76.3521 (textstat 0.7.13); form B would give 86.81."""
    assert kandel_moles_a(Counts(28, 4, 47)) == pytest.approx(76.3521, abs=5e-5)


def test_german() -> None:
    """Counts 37/4/54, 2 of three syllables, 5 long, 22 of one (textstat 0.7.13)."""
    counts = Counts(37, 4, 54, polysyllables=2, monosyllables=22, long_words=5)
    assert wiener_sachtextformel(counts) == pytest.approx(1.5259, abs=5e-5)


def test_italian_counts_letters_without_punctuation() -> None:
    """Counts 29/4, 152 letters: 77.9655 by the formula (textstat counts the punctuation too and gives 76.586)."""
    assert gulpease(Counts(29, 4, letters=152)) == pytest.approx(77.9655, abs=5e-5)


def test_portuguese_is_not_english() -> None:
    """Counts 28/4/55: 75.5514, 42 points above the English constants (which textstat uses: 33.55)."""
    assert flesch_brazilian(Counts(28, 4, 55)) == pytest.approx(75.5514, abs=5e-5)


def test_russian() -> None:
    """Counts 20/4/40 by hand: 206.835 - 1.3 x 5 - 60.1 x 2."""
    assert flesch_russian(Counts(20, 4, 40)) == pytest.approx(80.135)


@pytest.mark.parametrize(
    ("counts", "value"),
    [
        (Counts(46, 5, long_words=7), 24.4174),  # EASY; textstat 0.7.13 and readability 0.3.2 agree
        (Counts(25, 3, long_words=18), 80.3333),  # HARD; textstat 0.7.13
        (Counts(20, 1, long_words=0, colons=1), 10.0),  # a colon ends a unit (Bjornsson 1968)
    ],
)
def test_lix(counts: Counts, value: float) -> None:
    """LIX from words, sentences and words of more than six letters."""
    assert lix(counts) == pytest.approx(value, abs=5e-5)


def test_osman() -> None:
    """Ten words, one sentence, 30 weighted syllables, 1 complex, 1 formal, 2 long: 200.791 - 10.15 - 24.181 x 3.4."""
    counts = Counts(10, 1, 30, complex_words=1, faseeh_words=1, words_over_five=2)
    assert osman(counts) == pytest.approx(108.4256)


def test_empty_text_divides_nothing() -> None:
    """No formula divides by zero words or zero sentences."""
    assert gulpease(NOTHING) == 89.0
    assert lix(NOTHING) == 0.0
    assert osman(NOTHING) == 200.791

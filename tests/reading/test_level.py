"""Which language is scored by which formula, worked examples by text, and the comparison with a clinic's target."""

from __future__ import annotations

from dataclasses import replace

import pytest

from handouts.readability import BANDS, SCRIPTS, Level, count, score, scored_language, within
from handouts.readability.level import FORMULAS
from tests.reading.samples import EASY, HARD, PLATYPUS, SPANISH

GRADE_TOLERANCE = 1.0
"""Stated: a text's grade is within one school grade of what another counter gives (counters differ by 0.8)."""


def level_of(language: str, *texts: str) -> Level:
    """The level, where there must be one."""
    level = score(language, texts)
    assert level is not None
    return level


@pytest.mark.parametrize(
    ("text", "grade"),
    [(EASY, 2.6197), (PLATYPUS, 11.2646), ("The cat sat on the mat.", -1.45), (HARD, 22.1160)],
)
def test_worked_examples_by_text(text: str, grade: float) -> None:
    """The published and textstat values of the worked examples, within the stated tolerance."""
    assert level_of("en", text).value == pytest.approx(grade, abs=GRADE_TOLERANCE)


def test_worked_examples_counted_by_hand() -> None:
    """EASY has 57 syllables and HARD 75 by hand; the counter agrees exactly."""
    for text, words, sentences, syllables in ((EASY, 46, 5, 57), (HARD, 25, 3, 75)):
        counts = count("en", [text])
        assert counts is not None
        assert (counts.words, counts.sentences, counts.syllables) == (words, sentences, syllables)


def test_spanish_sample() -> None:
    """Szigriszt-Pazos 59.33 "normal" by text, as by counts."""
    level = level_of("es-MX", SPANISH)
    assert (level.formula, level.band) == ("Szigriszt-Pazos", "normal")
    assert level.value == pytest.approx(59.33, abs=5e-3)


@pytest.mark.parametrize(
    ("tag", "language"),
    [
        ("en", "en"), ("en-GB", "en"), ("EN_us", "en"), ("pt-BR", "pt"), ("es-MX", "es"), ("ar-EG", "ar"),
        ("ru-Cyrl-RU", "ru"), ("de-CH-1996", "de"), ("nb-NO", "nb"),
        ("vi", None), ("zh", None), ("zh-Hans", None), ("zh-Hant-TW", None), ("ht", None), ("fil", None), ("tl", None),
        ("pl", None), ("en-XA", None), ("ar-XB", None), ("en-x-long", None), ("ru-Latn", None), ("x-klingon", None),
        ("", None), ("english language", None), ("e", None), ("--", None),
    ],
)  # fmt: skip
def test_language_tags(tag: str, language: str | None) -> None:
    """Regional tags resolve; other languages, other scripts and pseudo-languages are not scored."""
    assert scored_language(tag) == language


@pytest.mark.parametrize("tag", ["vi", "zh-Hans", "ht", "fil", "pl", "en-XA"])
def test_no_english_score_for_other_languages(tag: str) -> None:
    """A language without a formula has no level, even for English words."""
    assert score(tag, [EASY]) is None
    assert count(tag, [EASY]) is None


def test_a_text_without_words_has_no_level() -> None:
    """Nothing to count is no level, rather than a perfect one."""
    assert score("en", []) is None
    assert score("en", ["", "## Title only", "—"]) is None


def test_formula_of_each_language() -> None:
    """The formula that a library is held to, by language; every scored language has one."""
    main = {language: formula.name for language, formula in FORMULAS.items()}
    assert main == {
        "en": "Flesch-Kincaid", "es": "Szigriszt-Pazos", "fr": "Kandel-Moles form A", "de": "Wiener Sachtextformel 1",
        "it": "Gulpease", "pt": "Flesch, Brazilian Portuguese", "ru": "Flesch, Russian (Oborneva)", "ar": "OSMAN",
        "sv": "LIX", "da": "LIX", "nb": "LIX", "nn": "LIX", "no": "LIX",
    }  # fmt: skip
    assert set(main) == set(SCRIPTS)


def test_swedish_and_danish_tables_differ() -> None:
    """One value, two national tables: 35.6 is "easy" in Swedish use and "normal" in Danish."""
    text = "Stå rakt bakom stolen. " * 3 + "Lyft hälarna långsamt upp."
    assert level_of("sv", text).value == level_of("da", text).value == pytest.approx(4 + 100 * 2 / 16)
    text = "Lyft hälarna långsamt upp och håll kvar."
    assert level_of("sv", text).value == pytest.approx(7 + 200 / 7)
    assert (level_of("sv", text).band, level_of("da", text).band) == ("easy", "normal")


@pytest.mark.parametrize(
    ("language", "text", "value", "band"),
    [
        # le-vez(2) le(1) ge-nou(2) len-te-ment(3); po-sez(2) le(1) pied(1)
        # sur(1) le(1) sol(1): 10 words, 2 sentences, 15 syllables: 207 - 1.015 x 5 - 73.6 x 1.5
        ("fr", "Levez le genou lentement. Posez le pied sur le sol.", 91.525, "very-easy"),
        # 10 words, 2 sentences, 35 letters: 89 + (600 - 350)/10
        ("it", "Alza il piede piano. Posa la mano su la sedia.", 114.0, "easy"),
        # 8 words, 2 sentences; le-van-te o jo-e-lho de-va-gar 3+1+3+3, res-pi-re fun-do e pau-se 3+2+1+2: 18 syllables
        ("pt", "Levante o joelho devagar. Respire fundo e pause.", 54.4250, "easy"),
        # 6 words, 2 sentences; мед-лен-но (3) под-ни-ми-те (4) но-гу (2) о-пус-ти-те (4) но-гу (2) вниз (1)
        ("ru", "Медленно поднимите ногу. Опустите ногу вниз.", 42.6683, "difficult"),
    ],
)
def test_other_languages_by_hand(language: str, text: str, value: float, band: str) -> None:
    """A small text in each language, its counts and its value worked out by hand."""
    level = level_of(language, text)
    assert level.value == pytest.approx(value, abs=5e-4)
    assert level.band == band


def test_german_by_hand() -> None:
    """Seven words, two sentences, none of three syllables, no long one, five of one: 0.1672 x 3.5 - 0.0327 x 71.43 - 0.875."""
    level = level_of("de", "Heben Sie das Bein an. Dann Pause.")
    assert level.formula == "Wiener Sachtextformel 1"
    assert level.value == pytest.approx(0.1672 * 3.5 - 0.0327 * 500 / 7 - 0.875)


def test_within_compares_what_is_shown() -> None:
    """Grade 6.04 is shown as 6.0 and meets 6; 6.06 is shown as 6.1 and does not."""
    level = level_of("en", EASY)
    assert within(level, 6)
    assert within(level, 2.6)
    assert not within(level, 2.5)
    assert within(replace(level, grade_equivalent=6.04), 6)
    assert not within(replace(level, grade_equivalent=6.06), 6)
    assert not within(replace(level, grade_equivalent=None), 17)


def test_within_by_band() -> None:
    """Spanish sample, "normal": ninth grade by its band, so a target of 6 is not met and 9 is."""
    level = level_of("es", SPANISH)
    assert level.grade_equivalent == 9
    assert not within(level, 6)
    assert within(level, 9)


@pytest.mark.parametrize("language", sorted(SCRIPTS))
def test_levels_are_complete(language: str) -> None:
    """Each level names its band, scale and source."""
    level = level_of(language, *[EASY, SPANISH] * 4)
    assert level.band in BANDS
    assert level.scale in {"grade", "ease", "difficulty"}
    assert level.source
    assert level.grade_equivalent is not None
    assert level.language == language

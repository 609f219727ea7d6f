"""The same texts through an independent package (textstat 0.7.13), where it is right and where it is known to err."""

from __future__ import annotations

import importlib
from collections.abc import Iterator

import pytest
from textstat.textstat import textstatistics  # type: ignore[import-untyped]

from handouts.readability import count, score
from handouts.readability.formulas import flesch_kincaid_grade, gulpease, lix
from tests.reading.samples import CUES, EASY, PLATYPUS, SPANISH, dictionary


@pytest.fixture
def other(monkeypatch: pytest.MonkeyPatch) -> Iterator[textstatistics]:
    """textstat with the dictionary that it would otherwise fetch, taken from the installed package."""
    sounds = dictionary()
    counting = importlib.import_module("textstat.backend.counts._count_syllables")
    monkeypatch.setattr(counting, "get_cmudict", lambda language: sounds if language.startswith("en") else None)
    yield textstatistics()


@pytest.mark.parametrize("text", [EASY, PLATYPUS])
def test_english_agrees(other: textstatistics, text: str) -> None:
    """Sentences of three words and more: the same counts, so the same values."""
    counts = count("en", [text])
    assert counts is not None
    assert other.syllable_count(text) == counts.syllables
    assert other.flesch_kincaid_grade(text) == pytest.approx(flesch_kincaid_grade(counts))
    assert other.lix(text) == pytest.approx(lix(counts))


def test_short_cues_are_where_it_errs(other: textstatistics) -> None:
    """It drops sentences of two words and joins cues without a full stop; ours does neither."""
    text, bare = " ".join(CUES), "\n".join(cue.rstrip(".") for cue in CUES)
    assert (other.sentence_count(text), other.sentence_count(bare)) == (3, 1)
    assert other.flesch_kincaid_grade(bare) == pytest.approx(4.92, abs=5e-3)
    ours = score("en", CUES)
    assert ours is not None
    assert ours.counts.sentences == 5
    # 17 words, 5 sentences, 20 syllables by hand
    assert ours.value == pytest.approx(0.39 * 17 / 5 + 11.8 * 20 / 17 - 15.59)


def test_hyphenated_words_are_one_in_both(other: textstatistics) -> None:
    """A straight-leg lift: three words."""
    counts = count("en", ["A straight-leg lift."])
    assert counts is not None
    assert other.lexicon_count("A straight-leg lift.") == counts.words == 3


def test_hyphenation_points_are_not_syllables(other: textstatistics) -> None:
    """On the Spanish sample it finds fewer syllables than the 61 counted by hand."""
    other.set_lang("es")
    counts = count("es", [SPANISH])
    assert counts is not None
    assert other.syllable_count(SPANISH) < counts.syllables == 61


def test_punctuation_is_no_letter(other: textstatistics) -> None:
    """Gulpease from letters alone is above textstat's, which counts the full stops too."""
    text = "Alza il piede piano. Posa la mano su la sedia."
    other.set_lang("it")
    counts = count("it", [text])
    assert counts is not None
    assert counts.letters == sum(letter.isalpha() for letter in text)
    assert gulpease(counts) - other.gulpease_index(text) == pytest.approx(10 * 2 / counts.words)

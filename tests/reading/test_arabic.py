"""Arabic: marks as the authors of OSMAN count them, and the estimate for text without marks."""

from __future__ import annotations

import pytest

from handouts.readability import count, score
from handouts.readability.syllables.arabic import arabic_word
from tests.reading.samples import ARABIC

FATHA, SHADDA = "\u064e", "\u0651"


@pytest.mark.parametrize(
    ("word", "weight"),
    [
        ("كَتَبَ", 3),  # ka-ta-ba, three short: the authors' own example
        ("كِتَاب", 3),  # ki-taab, a short and a long one: the authors' own example
        ("مُسْتَقِيمًا", 6),  # mus-ta-qii-man: 1 + 1 + 2, tanween 2
        (f"م{SHADDA}{FATHA}ا", 4),  # a shadda typed before its vowel: long 2, stress 2
        (f"م{FATHA}{SHADDA}ا", 4),  # and in normal form, after it
    ],
)
def test_weight_of_marked_words(word: str, weight: int) -> None:
    """A short syllable is 1, a long or stressed one 2 (El-Haj & Rayson 2016, and their project page)."""
    assert arabic_word(word).weight == weight
    assert not arabic_word(word).estimated


def test_complex_and_formal_words() -> None:
    """More than four vowel marks is complex; a heavy word with a letter that speech drops is formal."""
    formal = arabic_word("شُؤُونِهِمَا")
    assert (formal.complex, formal.faseeh, formal.over_five) == (True, True, True)
    plain = arabic_word("يُسَاعِدُونَكُمْ")
    assert (plain.complex, plain.faseeh) == (True, False)
    light = arabic_word("ذَهَبَ")
    assert (light.complex, light.faseeh, light.over_five) == (False, False, False)


def test_unmarked_words_are_estimated_and_say_so() -> None:
    """Without marks the weight comes from the letters; one lone shadda does not make a word marked."""
    bare, lone = arabic_word("مستقيما"), arabic_word("الشدّات")
    assert bare.estimated
    assert lone.estimated
    assert bare.weight == pytest.approx(arabic_word("مُسْتَقِيمًا").weight, abs=1.7)


def test_level_names_its_estimate() -> None:
    """The level carries how many words were estimated."""
    level = score("ar-EG", [ARABIC])
    assert level is not None
    assert level.formula == "OSMAN"
    assert level.counts.estimated_words == level.counts.words == 16
    assert count("ar", [ARABIC]) == level.counts


def test_official_text_is_harder_than_a_cue() -> None:
    """A sentence of a resolution scores far below an instruction."""
    cue = score("ar", ["اجلس على الكرسي وضع قدميك على الأرض."])
    official = score("ar", ["اتخذت الجمعية العامة القرار بأغلبية أصوات الدول الأعضاء المشاركة في المؤتمر."])
    assert cue is not None
    assert official is not None
    assert (cue.band, official.band) == ("very-easy", "very-difficult")

"""Hard sentences: which one, how hard, and which words to mend."""

from __future__ import annotations

import pytest

from handouts.readability import hard_sentences
from tests.reading.samples import CUES, EASY, HARD, SPANISH

LONG = (
    "Stand tall and lift your heel and hold it there and then put it down and lift it up again and hold it there "
    "and then put it down and sit on the chair and rest your leg and start again when you like."
)


def test_easy_sentences_are_not_listed() -> None:
    """Nothing in easy text is above sixth grade."""
    assert hard_sentences("en", [EASY, *CUES], 6) == ()


def test_each_hard_sentence_with_its_words() -> None:
    """Index of text and sentence, word count, own grade, and the words with most syllables, longest first."""
    first, second, third = hard_sentences("en", [EASY, HARD], 6)
    assert [(one.text, one.sentence, one.words) for one in (first, second, third)] == [(1, 0, 9), (1, 1, 8), (1, 2, 8)]
    assert first.shown.startswith("Participants should")
    # 9 words, 1 sentence, 32 syllables by hand: 0.39 x 9 + 11.8 x 32/9 - 15.59
    assert first.level.value == pytest.approx(0.39 * 9 + 11.8 * 32 / 9 - 15.59)
    assert [(word.word, word.syllables) for word in first.costly] == [
        ("immediately", 5),
        ("evaluation", 5),
        ("Participants", 4),
    ]
    assert [word.word for word in third.costly] == ["instability", "inflammation", "Discontinue"]
    assert not any(one.cut for one in (first, second, third))


def test_a_long_sentence_of_short_words_is_to_be_cut() -> None:
    """Short words, many of them: the mend is to cut it, and no word is blamed."""
    (long,) = hard_sentences("en", ["Sit.", LONG], 6)
    assert (long.text, long.words, long.cut, long.costly) == (1, 44, True, ())


def test_a_word_is_named_once() -> None:
    """The same word in another case is one word to mend."""
    (one,) = hard_sentences("en", ["Rehabilitation needs rehabilitation and more REHABILITATION."], 6)
    assert [word.word for word in one.costly] == ["Rehabilitation"]


def test_very_short_sentences_are_passed_over() -> None:
    """Over a few words one long word makes the formula jump, so they are listed only on demand."""
    text = ["Exercise daily."]
    assert hard_sentences("en", text, 6) == ()
    assert [one.words for one in hard_sentences("en", text, 6, fewest_words=1)] == [2]


def test_the_target_counts() -> None:
    """A higher target lists fewer sentences."""
    listed = [len(hard_sentences("en", [EASY, HARD], most)) for most in (0, 6, 18, 35)]
    assert listed == sorted(listed, reverse=True)
    assert listed[0] > listed[1] == 3 > listed[3] == 0


def test_other_languages() -> None:
    """Spanish by syllables, Italian by letters, Swedish by letters alone, Vietnamese not at all."""
    spanish = hard_sentences("es", [SPANISH], 6)
    assert [one.sentence for one in spanish] == [0, 1, 2]
    assert [word.word for word in spanish[0].costly] == ["Acuéstese"]
    (italian,) = hard_sentences("it", ["Mantenere contemporaneamente l'allineamento della colonna vertebrale."], 6)
    assert italian.costly[0].word == "contemporaneamente"
    (swedish,) = hard_sentences("sv", ["Genomför rehabiliteringsövningarna sittande eller liggande."], 6)
    assert (swedish.costly[0].word, swedish.costly[0].syllables) == ("rehabiliteringsövningarna", 0)
    assert hard_sentences("vi", [HARD], 6) == ()

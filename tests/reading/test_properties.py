"""Whatever the characters: nothing raises, and counts stay consistent."""

from __future__ import annotations

import math

from hypothesis import given, settings
from hypothesis import strategies as st

from handouts.readability import (
    SCRIPTS,
    count,
    hard_sentences,
    plain,
    score,
    scored_language,
    sentences_of,
    within,
    words_of,
)
from handouts.readability.syllables import SYLLABLES

LANGUAGES = st.sampled_from(sorted(SCRIPTS))
MARKED = st.text(alphabet=st.sampled_from("abcäéиюسَّّ 0129.,:-–'’…!?*_[]()#\n\\١"))
ANY = st.one_of(st.text(), MARKED)
TEXTS = st.lists(ANY, max_size=4)


@settings(deadline=None)
@given(st.text(), TEXTS)
def test_no_tag_raises(tag: str, texts: list[str]) -> None:
    """Any text at all as a language tag: a level or none."""
    assert (score(tag, texts) is None) or scored_language(tag) is not None


@settings(deadline=None)
@given(LANGUAGES, TEXTS, st.floats(min_value=0, max_value=20))
def test_nothing_raises(language: str, texts: list[str], most: float) -> None:
    """Score, judgement and mending of any text."""
    if level := score(language, texts):
        assert math.isfinite(level.value)
        assert within(level, 1000) or level.value > 1000
    for hard in hard_sentences(language, texts, most, fewest_words=1):
        assert hard.shown in sentences_of(language, texts[hard.text])
        assert sentences_of(language, texts[hard.text])[hard.sentence] == hard.shown
        assert len(words_of(hard.shown)) == hard.words


@settings(deadline=None)
@given(LANGUAGES, TEXTS)
def test_counts_are_consistent(language: str, texts: list[str]) -> None:
    """No part is larger than its whole, and a text with words has sentences."""
    counts = count(language, texts)
    assert counts is not None
    assert (counts.words == 0) == (counts.sentences == 0)
    assert counts.sentences <= counts.words
    parts = (
        counts.monosyllables,
        counts.long_words,
        counts.complex_words,
        counts.faseeh_words,
        counts.words_over_five,
        counts.estimated_words,
    )
    assert all(0 <= part <= counts.words for part in parts)
    assert counts.polysyllables >= 0
    if language in SYLLABLES and language != "ru":
        assert counts.syllables >= counts.words
    if language in SYLLABLES:
        assert counts.polysyllables + counts.monosyllables <= counts.words
    assert counts.letters >= counts.long_words


@settings(deadline=None)
@given(LANGUAGES, TEXTS)
def test_texts_are_counted_one_by_one(language: str, texts: list[str]) -> None:
    """Counting together is the sum of counting apart."""
    apart = [count(language, [text]) for text in texts]
    together = count(language, texts)
    assert together is not None
    assert together.words == sum(one.words for one in apart if one)
    assert together.syllables == sum(one.syllables for one in apart if one)


@settings(deadline=None)
@given(LANGUAGES, ANY)
def test_no_word_is_lost_between_sentences(language: str, text: str) -> None:
    """The words of the sentences are the words of the text's blocks, in order."""
    found = [word for sentence in sentences_of(language, text) for word in words_of(sentence)]
    whole = count(language, [text])
    assert whole is not None
    assert len(found) == whole.words


@settings(deadline=None)
@given(ANY)
def test_plain_is_stable_on_plain_text(text: str) -> None:
    """Text without any sign of Markdown comes through with its words unchanged."""
    bare = "".join(" " if character in "*_[]()`\\!" else character for character in text)
    assert words_of(plain(bare)) == words_of(plain(plain(bare)))


@settings(deadline=None)
@given(st.sampled_from(sorted(SYLLABLES)), st.text(max_size=30))
def test_a_syllable_counter_takes_any_word(language: str, word: str) -> None:
    """At least one syllable for anything (Russian: none without a vowel), never more than characters."""
    syllables = SYLLABLES[language](word)
    assert syllables >= (0 if language == "ru" else 1)

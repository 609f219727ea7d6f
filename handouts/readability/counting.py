"""From texts to counts, by the counting rules of each language's formula.

Holds what a word, a figure and an abbreviation count: a figure is one syllable, and so is an English abbreviation (Flesch).
Leaves out: what the reader sees beside the text.  Never raises.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from functools import lru_cache

from handouts.readability.abbreviations import ABBREVIATIONS, ACRONYMS
from handouts.readability.counts import NOTHING, Counts
from handouts.readability.language import scored_language
from handouts.readability.syllables import SYLLABLES
from handouts.readability.syllables.arabic import arabic_word
from handouts.readability.syllables.english import english_syllables
from handouts.readability.text import sentences_of, words_of

POLYSYLLABLE = 3
"""Syllables from which a word is one of many (Bamberger & Vanecek 1984)."""
LONG_WORD = 6
"""Letters above which a word is long (Bjornsson 1968)."""
_LONGEST_ACRONYM = 5


@dataclass(frozen=True, slots=True)
class WordCount:
    """One word as it was counted."""

    word: str
    syllables: float
    """Syllables by the rule of the ease formula; Arabic: weight; 0 where the language is scored by letters alone."""
    letters: int
    polysyllables: int
    """1 for a word of three syllables or more, else 0."""


def _letters(word: str) -> int:
    return sum(character.isalnum() for character in word)


def _is_figure(word: str) -> bool:
    return any(character.isdigit() for character in word) and not any(character.isalpha() for character in word)


def _is_acronym(word: str) -> bool:
    """Capitals said letter by letter: a known one, or one without a vowel."""
    if word in ACRONYMS:
        return True
    return 1 < len(word) <= _LONGEST_ACRONYM and word.isalpha() and word.isupper() and not set("AEIOUY") & set(word)


def _is_address(word: str) -> bool:
    return word.startswith(("http://", "https://", "www."))


def _english_flesch(word: str) -> int:
    """Syllables of a word by Flesch's rule: figures, abbreviations and addresses are one."""
    if _is_figure(word) or _is_acronym(word) or _is_address(word) or word.casefold() in ABBREVIATIONS or "." in word:
        return 1
    parts = [part for part in word.replace("\u2011", "-").replace("\u2010", "-").split("-") if part]
    return sum(1 if any(c.isdigit() for c in part) else english_syllables(part) for part in parts) or 1


@lru_cache(maxsize=20_000)
def _word_count(language: str, word: str) -> WordCount:
    letters = _letters(word)
    if language == "ar":
        return WordCount(word, arabic_word(word).weight, arabic_word(word).letters, 0)
    counter = SYLLABLES.get(language)
    if counter is None:
        return WordCount(word, 0, letters, 0)
    if language == "en":
        syllables = _english_flesch(word)
    else:
        syllables = 1 if _is_figure(word) or _is_address(word) else counter(word)
    return WordCount(word, syllables, letters, int(syllables >= POLYSYLLABLE))


def word_counts(language: str, sentence: str) -> tuple[WordCount, ...]:
    """Each word of a plain sentence with what it counts; ``language`` is a scored language."""
    return tuple(_word_count(language, word) for word in words_of(sentence))


def _colons(sentence: str) -> int:
    return sum(token.endswith(":") for token in sentence.split(" ")[:-1])


def count_sentence(language: str, sentence: str) -> Counts:
    """Counts of one plain sentence; ``language`` is a scored language."""
    counted = word_counts(language, sentence)
    if not counted:
        return NOTHING
    arabic = [arabic_word(one.word) for one in counted] if language == "ar" else []
    return Counts(
        words=len(counted),
        sentences=1,
        syllables=round(sum(one.syllables for one in counted)),
        polysyllables=sum(one.polysyllables for one in counted),
        monosyllables=sum(one.syllables <= 1 for one in counted) if language in SYLLABLES else 0,
        letters=sum(one.letters for one in counted),
        long_words=sum(one.letters > LONG_WORD for one in counted),
        colons=_colons(sentence),
        complex_words=sum(one.complex for one in arabic),
        faseeh_words=sum(one.faseeh for one in arabic),
        words_over_five=sum(one.over_five for one in arabic),
        estimated_words=sum(one.estimated for one in arabic),
    )


def count(language: str, texts: Iterable[str]) -> Counts | None:
    """Counts of all texts together; None for a language that is not scored.  ``language`` is a BCP 47 tag."""
    scored = scored_language(language)
    if scored is None:
        return None
    total = NOTHING
    for text in texts:
        for sentence in sentences_of(scored, text):
            total += count_sentence(scored, sentence)
    return total

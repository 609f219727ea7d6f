"""The sentences that push a text over its target, and the words in them that cost most.

Holds what an author needs to mend one sentence.  Never rewrites, never judges words by meaning.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

from handouts.readability.counting import LONG_WORD, WordCount, count_sentence, word_counts
from handouts.readability.language import scored_language
from handouts.readability.level import FORMULAS, Formula, Level, level_of, within
from handouts.readability.text import sentences_of

FEWEST_WORDS = 5
"""Sentences shorter than this are not listed: over so few words one long word makes any formula jump.  Our choice."""
PLENTY_WORDS = 12
"""Words that are plenty for a sentence of a handout (the project's voice); cutting to this is what ``cut`` tries."""
MOST_WORDS_SHOWN = 3
_COSTLY_SYLLABLES = {"en": 3.0, "fr": 3.0, "de": 4.0, "ar": 5.0}
_COSTLY_SYLLABLES_ELSEWHERE = 4.0


@dataclass(frozen=True, slots=True)
class CostlyWord:
    """A word that a formula counts heavily."""

    word: str
    syllables: float
    """As counted; weight for Arabic; 0 where the language is scored by letters alone."""
    letters: int


@dataclass(frozen=True, slots=True)
class HardSentence:
    """A sentence above the target."""

    text: int
    """Index of its text among the texts given, from 0."""
    sentence: int
    """Index of the sentence in that text, from 0."""
    shown: str
    """The sentence, plain."""
    words: int
    level: Level
    """Its own level by the language's formula."""
    costly: tuple[CostlyWord, ...]
    """At most three words, the costliest first; empty if only length makes it hard."""
    cut: bool
    """Whether sentences of twelve such words would be within the target: then cutting it in two mends it."""


def _costly(language: str, counted: tuple[WordCount, ...]) -> tuple[CostlyWord, ...]:
    by_letters = language in {"it"} or all(one.syllables == 0 for one in counted)
    least = _COSTLY_SYLLABLES.get(language, _COSTLY_SYLLABLES_ELSEWHERE)
    heavy = [one for one in counted if (one.letters > LONG_WORD if by_letters else one.syllables >= least)]
    heavy.sort(key=(lambda one: -one.letters) if by_letters else (lambda one: (-one.syllables, -one.letters)))
    once = {one.word.casefold(): one for one in reversed(heavy)}
    kept = [one for one in heavy if once[one.word.casefold()] is one]
    return tuple(CostlyWord(one.word, one.syllables, one.letters) for one in kept[:MOST_WORDS_SHOWN])


def _mended_by_cutting(language: str, formula: Formula, level: Level, most: float) -> bool:
    """Whether the same words in sentences of ``PLENTY_WORDS`` would be within the target."""
    counts = level.counts
    if counts.words <= PLENTY_WORDS:
        return False
    pieces = -(-counts.words // PLENTY_WORDS)
    cut = level_of(language, formula, replace(counts, sentences=pieces))
    return cut is not None and within(cut, most)


def hard_sentences(
    language: str, texts: Iterable[str], most: float, fewest_words: int = FEWEST_WORDS
) -> tuple[HardSentence, ...]:
    """Sentences whose own level is above the US school grade ``most``, in reading order.

    Empty for a language that is not scored.  Sentences of fewer than ``fewest_words`` words are passed over.
    """
    scored = scored_language(language)
    if scored is None:
        return ()
    formula = FORMULAS[scored]
    found: list[HardSentence] = []
    for at, text in enumerate(texts):
        for index, sentence in enumerate(sentences_of(scored, text)):
            level = level_of(scored, formula, count_sentence(scored, sentence))
            if level is None or level.counts.words < fewest_words or within(level, most):
                continue
            costly = _costly(scored, word_counts(scored, sentence))
            cut = _mended_by_cutting(scored, formula, level, most)
            found.append(HardSentence(at, index, sentence, level.counts.words, level, costly, cut))
    return tuple(found)

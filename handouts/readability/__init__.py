"""Reading level by each language's own published formula, from plain text, without a dependency.

Holds no list of what a clinic wants: the target comes from its library.  Never scores a language by another's formula.
"""

from __future__ import annotations

from handouts.readability.bands import BANDS
from handouts.readability.counting import count
from handouts.readability.counts import Counts
from handouts.readability.language import SCRIPTS, scored_language
from handouts.readability.level import Level, score, within
from handouts.readability.sentences import CostlyWord, HardSentence, hard_sentences
from handouts.readability.text import plain, sentences_of, words_of

__all__ = [
    "BANDS",
    "SCRIPTS",
    "CostlyWord",
    "Counts",
    "HardSentence",
    "Level",
    "count",
    "hard_sentences",
    "plain",
    "score",
    "scored_language",
    "sentences_of",
    "within",
    "words_of",
]

"""Texts: only our small Markdown, and at a level that the patient follows."""

from __future__ import annotations

from collections.abc import Iterator

from handouts.library.texts import patient_sentences, walk_words
from handouts.markup import find_markup_problems, plain_text
from handouts.problems import Grade, Problem
from handouts.reading.level import score
from handouts.reading.sentences import hard_sentences
from handouts.rules.question import Question

LONGEST_SENTENCE = 20
"""Most words in a sentence of patient text ('twelve words are plenty, twenty the end': house style, no other source)."""


def check_markup(question: Question) -> Iterator[Problem]:
    """Does every text use only bold, italic and links that may be followed?"""
    library = question.library
    parts = (library.clinic, library.tiers, library.vocabulary, library.cautions, library.limits,
             library.exercises, library.programmes, library.bundles)
    for words in walk_words(parts):
        yield from find_markup_problems(words.text, words.place)

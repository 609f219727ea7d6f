"""Texts: only our small Markdown, and at a level that the patient follows."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from handouts.library.texts import (
    ROLE_MEND,
    looks_like_a_name,
    patient_sentences,
    running_sentences,
    standalone_sentences,
    walk_names,
    walk_words,
)
from handouts.model import Library, Words
from handouts.problems import Grade, Place, Problem
from handouts.readability import HardSentence, hard_sentences, score, scored_language, sentences_of, within, words_of
from handouts.rules.question import Question
from handouts.text.markup import find_markup_problems, plain_text

LONGEST_SENTENCE = 20
"""Most words in a sentence of patient text ('twelve words are plenty, twenty the end': house style, no other source)."""
SHORTEST_MEAN = {"en": 7, "es": 7, "fr": 7, "it": 7, "pt": 7, "de": 6, "nb": 6, "da": 6, "sv": 6}
"""Fewest words a sentence should have on average, by language (house style, no other source).

Not asked where a word says what takes two or three elsewhere (Arabic, Russian) or words are not set apart (Chinese)."""
FAR_BELOW = 2
"""School grades below the aim from which a text may well be longer (house style, no other source)."""
FEWEST_SENTENCES = 10
"""A text of fewer sentences has no rhythm yet (house style, no other source)."""
SHOWN_SENTENCES = 3
"""How many of the hardest sentences a problem names; the author mends these first."""


def check_markup(question: Question) -> Iterator[Problem]:
    """Does every text use only bold, italic and links that may be followed?"""
    library = question.library
    parts = (
        *(library.clinic, library.tiers, library.vocabulary, library.cautions, library.limits, library.conditions),
        *(library.exercises, library.programmes, library.bundles, *library.standalones.values()),
    )
    for text in walk_words(parts):
        yield from find_markup_problems(text.text, text.place)
    reviews = [item.review for item in library.exercises] + [item.review for item in library.programmes]
    reviews += [*(item.review for item in library.bundles), *(item.review for item in library.all_standalones)]
    for review in reviews:
        if looks_like_a_name(review.by.text):
            what = f"'{review.by}' reads like the name of a person"
            yield Problem(review.by.place, "person-named", what, ROLE_MEND)
    for text in walk_names(parts):
        if plain_text(text.text) != text.text:
            what = "bold, italic and links cannot be used in a name"
            yield Problem(text.place, "markup-not-allowed", what, "Write the words alone.")


def check_sentences(question: Question) -> Iterator[Problem]:
    """Is every sentence that a patient reads short enough to keep in mind?"""
    language = question.library.language
    for texts in _patient_texts(question.library):
        yield from question.call(find_long_sentences, texts, language)


def find_long_sentences(texts: Sequence[Words], language: str) -> tuple[Problem, ...]:
    """What is said of the sentences of some texts that are too long."""
    return tuple(_long_sentences(texts, language))


def _long_sentences(texts: Sequence[Words], language: str) -> Iterator[Problem]:
    for text in texts:
        for sentence in sentences_of(language, text.text):
            count = len(words_of(sentence))
            if count > LONGEST_SENTENCE:
                yield Problem(
                    text.place,
                    "long-sentence",
                    f"this sentence has {count} words, {LONGEST_SENTENCE} are the end",
                    "Make two sentences of it: one action each.",
                )


def _patient_texts(library: Library) -> Iterator[tuple[Words, ...]]:
    """What a patient reads, by the exercise, the caution, the programme in which it stands."""
    for exercise in library.exercises:
        yield patient_sentences(exercise)
    for caution in library.cautions:
        yield (caution.when, caution.do)
    for condition in library.conditions:
        yield (condition.asks,)
    for programme in library.programmes:
        inside = walk_words(tuple(block for section in programme.sections for block in section.blocks))
        conditions = (tier.enter_when for tier in programme.tiers)
        yield (programme.goal, programme.suits, *programme.cues, *programme.through_the_day, *conditions, *inside)
    yield from map(standalone_sentences, library.all_standalones)


def check_reading_level(question: Question) -> Iterator[Problem]:
    """Does every exercise, and everything without one, stay at or under its reading level?"""
    for exercise in question.library.exercises:
        grade = exercise.reading_level or question.library.clinic.reading_level
        texts, language = patient_sentences(exercise), question.library.language
        yield from question.call(find_hard_text, exercise.place, texts, grade, language)
    for item in question.library.all_standalones:
        grade, language = question.library.clinic.reading_level, question.library.language
        yield from question.call(find_hard_text, item.place, standalone_sentences(item), grade, language)


def find_hard_text(place: Place, texts: Sequence[Words], grade: float, language: str) -> tuple[Problem, ...]:
    """What is said of texts, at a place, that are harder than a grade."""
    return tuple(_hard_text(place, texts, grade, language))


def _hard_text(place: Place, texts: Sequence[Words], grade: float, language: str) -> Iterator[Problem]:
    plain = [plain_text(text.text) for text in texts]
    level = score(language, plain)
    if level is None or within(level, grade):
        return
    reached = level.value if level.scale == "grade" else level.grade_equivalent or level.value
    yield Problem(
        place,
        "reading-level",
        f"the text reads at grade {reached:.1f} by {level.formula}, the aim is {grade:g}",
        "Mend the sentences named in 'hard-sentence' first.",
    )
    hardest = sorted(hard_sentences(language, plain, grade), key=_cost, reverse=True)[:SHOWN_SENTENCES]
    for hard in hardest:
        mend = "Cut it in two." if hard.cut else _shorter(hard)
        yield Problem(
            texts[hard.text].place, "hard-sentence", f"this sentence is hard: '{hard.shown}'", mend, Grade.NOTICE
        )


def check_choppy(question: Question) -> Iterator[Problem]:
    """Does every exercise read as whole sentences, where its reading level leaves room for them?"""
    for exercise in question.library.exercises:
        grade = exercise.reading_level or question.library.clinic.reading_level
        texts, language = running_sentences(exercise), question.library.language
        yield from question.call(find_choppy_text, exercise.place, texts, grade, language)


def find_choppy_text(place: Place, texts: Sequence[Words], grade: float, language: str) -> tuple[Problem, ...]:
    """What is said of texts, at a place, that are choppier than they need to be for a grade."""
    return tuple(_choppy(place, texts, grade, language))


def _choppy(place: Place, texts: Sequence[Words], grade: float, language: str) -> Iterator[Problem]:
    wanted = SHORTEST_MEAN.get(scored_language(language) or "")
    level = score(language, [plain_text(text.text) for text in texts])
    if wanted is None or level is None or level.counts.sentences < FEWEST_SENTENCES:
        return
    mean = round(level.counts.words_a_sentence, 1)
    if mean >= wanted or not within(level, grade - FAR_BELOW):
        return
    yield Problem(
        place,
        "choppy-text",
        f"the text is choppy: {mean} words a sentence over {level.counts.sentences} "
        f"sentences, {wanted} are wanted, and its reading level leaves room for them",
        "Join sentences that belong together with words such as 'so', 'because' or 'until'.",
        Grade.NOTICE,
    )


def _cost(hard: HardSentence) -> float:
    return hard.level.grade_equivalent or hard.level.value


def _shorter(hard: HardSentence) -> str:
    costly = ", ".join(word.word for word in hard.costly)
    return f"Use shorter words for: {costly}." if costly else "Say it in fewer words."

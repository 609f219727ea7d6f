"""What a program decides of an exercise in one language: each answer with the words or counts that it rests on.

Where the instrument asks for judgement the answer is ``a person decides``; a fault that a program can
see may still be a no.  Counts what the library holds and what every sheet shows by its form.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property

from handouts.library.texts import patient_sentences
from handouts.markup import plain_text
from handouts.model import Call, Exercise, Library
from handouts.reading import Level, score, scored_language, sentences_of, within, words_of
from handouts.score.items import Answer, Decision
from handouts.weight import shown_weight

MOST_ITEMS = 7
"""Longest list without parts (CDC Clear Communication Index, item 8)."""
MOST_PARAGRAPH_WORDS = 60
"""Longest paragraph that is still a short chunk (house style, no other source)."""
MOST_STEP_SENTENCES, MOST_SENTENCE_WORDS = 3, 20
"""A small step: a thought or two in sentences that the house style allows (no other source)."""
_PART_NUMBER = re.compile(r"\d+[.,]\d|[½⅓¼¾]|\d+\s*/\s*\d+|\d\s*[%٪]")
_SUM_SIGN = re.compile(r"[%٪×÷½⅓¼¾]|\d+\s*/\s*\d+")
_SUM_WORDS = {
    "en": re.compile(r"\b(?:half (?:of|as)|twice (?:as|the)|double the|times as|percent|divided by|multiply)\b", re.I)
}
"""Words that leave arithmetic to the reader; other languages have no list here."""
_YOU = {"en": re.compile(r"\b(?:you|your|yours|yourself)\b", re.I)}


@dataclass(frozen=True)
class Material:
    """An exercise as a reader of one language has it."""

    exercise: Exercise
    library: Library
    """In the same language."""
    figure: str
    """What the figure shows in words; empty where there is none."""

    @cached_property
    def texts(self) -> tuple[str, ...]:
        """All running text."""
        cautions = (
            self.library.caution[ref.slug] for ref in self.exercise.cautions if ref.slug in self.library.caution
        )
        warned = (words for caution in cautions for words in (caution.when, caution.do))
        return tuple(plain_text(words.text) for words in (*patient_sentences(self.exercise), *warned))

    @cached_property
    def level(self) -> Level | None:
        """Its reading level; None where the language has no formula."""
        return score(self.library.language, [plain_text(words.text) for words in patient_sentences(self.exercise)])

    @property
    def language(self) -> str:
        """The language without region."""
        return scored_language(self.library.language) or self.library.language


def judge(material: Material) -> tuple[Decision, ...]:
    """A decision on every item of both instruments."""
    return (*_understand(material), *_act(material), *_communicate(material))


def _say(item: str, holds: bool, evidence: str) -> Decision:
    return Decision(item, Answer.YES if holds else Answer.NO, evidence)


def _waits(item: str, evidence: str = "") -> Decision:
    return Decision(item, Answer.WAITS, evidence)


def _na(item: str, evidence: str) -> Decision:
    return Decision(item, Answer.NOT_APPLICABLE, evidence)


def _understand(material: Material) -> Iterator[Decision]:
    exercise = material.exercise
    yield _say("P1", bool(exercise.why.text), f"title, and why: {exercise.why.text}")
    yield _waits("P2")
    yield _plain_words("P3", material)
    yield _waits("P4")
    yield _waits("P5", f"cues: {'; '.join(cue.text for cue in exercise.cues)}")
    yield _whole_numbers("P6", material)
    yield _no_sums("P7", material, wanted=True)
    yield _short_chunks("P8", exercise)
    yield _headings("P9", exercise)
    yield _say("P10", bool(exercise.steps), f"{len(exercise.steps)} numbered steps, from the first move to the last")
    yield _waits("P11", "the dose stands first in large type, the cues below it")
    yield _say("P12", _has_stop(material), "stop rules in a box with a sign; numbers of the dose large")
    yield from _pictures(material)
    yield _say("P19", True, "one table: boxes to tick, a row a week, a column a day")


def _pictures(material: Material) -> Iterator[Decision]:
    if not material.figure:
        yield _say("P15", False, "no figure")
        yield from (_na(name, "no figure") for name in ("P16", "P17", "P18"))
        return
    yield _say("P15", True, "a figure of start and end")
    yield _waits("P16", material.figure)
    yield _say("P17", True, f"title: {plain_text(material.exercise.title.text)}; described as: {material.figure}")
    yield _waits("P18")


def _act(material: Material) -> Iterator[Decision]:
    exercise = material.exercise
    yield _say("P20", bool(exercise.steps), exercise.steps[0].text if exercise.steps else "no step")
    yield _speaks_to_reader("P21", material)
    yield _small_steps("P22", material)
    yield _say("P23", True, "boxes to tick on each sheet")
    sums = _no_sums("P24", material, wanted=True)
    yield _na("P24", sums.evidence) if sums.answer is Answer.YES else _waits("P24", sums.evidence)
    yield _na("P25", "no chart")
    yield _say("P26", bool(material.figure), material.figure or "no figure")


def _communicate(material: Material) -> Iterator[Decision]:
    exercise = material.exercise
    yield _say("C1", True, f"one exercise: {plain_text(exercise.title.text)}")
    yield _say("C2", True, "the title stands first, with figure and dose")
    yield _say("C3", True, "the title is the largest text, the dose in large numbers")
    yield _say("C4", bool(material.figure), material.figure or "no figure")
    yield _say("C5", bool(exercise.steps), exercise.steps[0].text if exercise.steps else "no step")
    yield _waits("C6")
    yield _plain_words("C7", material)
    yield _lists("C8", exercise)
    yield _headings("C9", exercise)
    yield _say("C10", bool(exercise.why.text), "dose and why stand before the steps")
    yield _waits("C11", f"sources: {'; '.join(exercise.sources)}")
    yield _say("C12", bool(exercise.steps), f"{len(exercise.steps)} steps")
    yield _say("C13", bool(exercise.why.text), exercise.why.text)
    yield _how_and_when("C14", material)
    yield _whole_numbers("C15", material)
    yield _waits("C16", "each number of the dose has its unit in words")
    yield _no_sums("C17", material, wanted=False)
    yield from (_na(name, "the sheet is about an exercise, not about a risk") for name in ("C18", "C19", "C20"))


def _plain_words(item: str, material: Material) -> Decision:
    """Too hard is a no; easy enough is for a person to judge: a formula sees only lengths."""
    level, aim = material.level, material.exercise.reading_level or material.library.clinic.reading_level
    if level is None:
        return _waits(item, "no formula for this language")
    said = f"{level.formula} {level.value:.1f}, aim: grade {aim:g}"
    return _waits(item, said) if within(level, aim) else _say(item, False, said)


def _whole_numbers(item: str, material: Material) -> Decision:
    """Whole numbers only, in the text and in the dose."""
    found = [match[0] for text in material.texts for match in _PART_NUMBER.finditer(text)]
    weight = material.exercise.dose.weight_kg
    in_pounds = material.library.clinic.in_pounds
    shown = shown_weight(weight or 0, in_pounds)
    if shown != round(shown):
        found.append(f"{shown:g} {'lb' if in_pounds else 'kg'}")
    return _say(item, not found, f"parts of numbers: {', '.join(found)}" if found else "whole numbers only")


def _no_sums(item: str, material: Material, *, wanted: bool) -> Decision:
    """Whether nothing is left to be calculated (``wanted``), or whether something is; sure only with a word list."""
    words = _SUM_WORDS.get(material.language)
    found = [match[0] for text in material.texts for match in _SUM_SIGN.finditer(text)]
    found += [match[0] for text in material.texts for match in words.finditer(text)] if words else []
    if found:
        return _say(item, not wanted, f"asks for arithmetic: {', '.join(found)}")
    return _say(item, wanted, "no sign and no word of arithmetic") if words else _waits(item, "no sign of arithmetic")


def _lists(item: str, exercise: Exercise) -> Decision:
    """Lists are there, and none is too long; our Markdown has no list inside a list."""
    lengths = [
        len(block.items) for section in exercise.sections for block in section.blocks if block.kind != "paragraph"
    ]
    lengths += [len(exercise.cues), len(exercise.mistakes)]
    longest = max(lengths)
    return _say(item, bool(exercise.steps) and longest <= MOST_ITEMS, f"longest list: {longest}, at most {MOST_ITEMS}")


def _short_chunks(item: str, exercise: Exercise) -> Decision:
    lists = _lists(item, exercise)
    paragraphs = [
        len(text.text.split())
        for section in exercise.sections
        for block in section.blocks
        if block.kind == "paragraph"
        for text in block.items
    ]
    longest = max(paragraphs, default=0)
    evidence = f"{lists.evidence}; longest paragraph: {longest} words, at most {MOST_PARAGRAPH_WORDS}"
    return _say(item, lists.answer is Answer.YES and longest <= MOST_PARAGRAPH_WORDS, evidence)


def _headings(item: str, exercise: Exercise) -> Decision:
    """Each section has a heading of its own."""
    names = [section.heading.text for section in exercise.sections]
    repeated = sorted({name for name in names if names.count(name) > 1})
    holds = bool(names) and all(names) and not repeated
    return _say(item, holds, f"repeated: {', '.join(repeated)}" if repeated else f"headings: {', '.join(names)}")


def _speaks_to_reader(item: str, material: Material) -> Decision:
    words = _YOU.get(material.language)
    if words is None:
        return _waits(item)
    count = sum(len(words.findall(text)) for text in material.texts)
    return _say(item, count > 0, f"'you' and 'your': {count} times")


def _small_steps(item: str, material: Material) -> Decision:
    language = material.library.language
    for step in material.exercise.steps:
        sentences = sentences_of(language, plain_text(step.text))
        longest = max((len(words_of(sentence)) for sentence in sentences), default=0)
        if len(sentences) > MOST_STEP_SENTENCES or longest > MOST_SENTENCE_WORDS:
            return _say(item, False, f"a long step: {step.text}")
    count = len(material.exercise.steps)
    return _say(item, count > 1, f"{count} steps of at most {MOST_STEP_SENTENCES} sentences")


def _has_stop(material: Material) -> bool:
    known = material.library.caution
    return any(known[ref.slug].kind.value == "stop" for ref in material.exercise.cautions if ref.slug in known)


def _how_and_when(item: str, material: Material) -> Decision:
    """Steps, days a week, and a caution that says whom to call."""
    known, dose = material.library.caution, material.exercise.dose
    calls = [
        ref.slug for ref in material.exercise.cautions if ref.slug in known and known[ref.slug].call is not Call.NONE
    ]
    lacks = [
        name
        for name, there in (("steps", material.exercise.steps), ("days a week", dose.days), ("when to call", calls))
        if not there
    ]
    said = f"no {', no '.join(lacks)}" if lacks else f"steps, {dose.days} days a week, when to call: {', '.join(calls)}"
    return _say(item, not lacks, said)

"""What a program decides of an exercise in one language: each answer with the words or counts that it rests on.

Where the instrument asks for judgement the answer is ``a person decides``; a fault that a program can
see may still be a no.  A yes rests on something that was counted or read on this exercise's text and printed sheet and that
could have come out as a no; nothing is a yes because of how every sheet is made.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from handouts.model import Call, CautionKind, Dose, Exercise
from handouts.readability import sentences_of, within, words_of
from handouts.score.items import Answer, Decision
from handouts.score.material import Material, na, say, waits
from handouts.score.numbers import clear_numbers, explained, no_sums
from handouts.score.sheet import ScoredSheet
from handouts.text.markup import plain_text

MOST_ITEMS = 7
"""Longest list without parts (CDC Clear Communication Index, item 8)."""
MOST_PARAGRAPH_WORDS = 60
"""Longest paragraph that is still a short chunk (house style, no other source)."""
MOST_MESSAGE_SENTENCES = 3
"""A main message is a statement of one to three short sentences (CDC Clear Communication Index, scoring widget)."""
MOST_WORDS_BEFORE = 40
"""Words of title, equipment and the line beside the code that may stand before the main message (house style, no other source)."""
MOST_HEAD_WORDS = 3
"""Longest heading of a table that is still short (house style, no other source)."""
MOST_STEP_SENTENCES, MOST_SENTENCE_WORDS = 3, 20
"""A small step: a thought or two in sentences that the house style allows (no other source)."""
_YOU = {"en": re.compile(r"\b(?:you|your|yours|yourself)\b", re.I)}


def judge(material: Material) -> tuple[Decision, ...]:
    """A decision on every item of both instruments."""
    return (*_understand(material), *_act(material), *_communicate(material))


def _understand(material: Material) -> Iterator[Decision]:
    exercise = material.exercise
    yield _statement("P1", material)
    yield waits("P2")
    yield _plain_words("P3", material)
    yield waits("P4")
    yield waits("P5", f"cues: {'; '.join(cue.text for cue in exercise.cues)}")
    yield clear_numbers("P6", material)
    yield no_sums("P7", material, wanted=True)
    yield _short_chunks("P8", exercise)
    yield _headings("P9", exercise)
    yield waits("P10", _in_order(exercise)) if exercise.steps else say("P10", False, "no numbered step")
    yield waits("P11", "the dose stands above the steps in large type, the cues below")
    yield _cues_for_the_eye("P12", material)
    yield from _pictures(material)
    yield _short_heads("P19", material.sheet)


def _pictures(material: Material) -> Iterator[Decision]:
    if not material.figure:
        yield say("P15", False, "no figure")
        yield from (na(name, "no figure") for name in ("P16", "P17", "P18"))
        return
    yield say("P15", True, material.figure)
    yield waits("P16", material.figure)
    yield waits("P17", f"title: {plain_text(material.exercise.title.text)}; {_under_figure(material.sheet)}")
    yield waits("P18")


def _act(material: Material) -> Iterator[Decision]:
    exercise, sheet = material.exercise, material.sheet
    yield say("P20", bool(exercise.steps), exercise.steps[0].text if exercise.steps else "no step")
    yield _speaks_to_reader("P21", material)
    yield _small_steps("P22", material)
    yield say("P23", sheet.boxes > 0, f"boxes to tick: {sheet.boxes}")
    sums = no_sums("P24", material, wanted=True)
    yield na("P24", sums.evidence) if sums.answer is Answer.YES else waits("P24", sums.evidence)
    yield na("P25", "no chart")
    yield waits("P26", material.figure) if material.figure else say("P26", False, "no figure")


def _communicate(material: Material) -> Iterator[Decision]:
    exercise, sheet = material.exercise, material.sheet
    yield _statement("C1", material)
    yield _message_first("C2", material)
    yield waits("C3", f"title in the largest type, then: {plain_text(exercise.why.text)}")
    yield waits("C4", f"{material.figure} {_under_figure(sheet)}") if material.figure else say("C4", False, "no figure")
    yield say("C5", bool(exercise.steps), exercise.steps[0].text if exercise.steps else "no step")
    yield waits("C6", f"{plain_text(exercise.why.text)} {exercise.steps[0].text if exercise.steps else ''}".strip())
    yield _plain_words("C7", material)
    yield _lists("C8", exercise)
    yield _headings("C9", exercise)
    yield waits("C10", f"before the steps: why ({plain_text(exercise.why.text)}), dose ({sheet.dose})")
    yield waits("C11", f"sources: {'; '.join(exercise.sources)}")
    yield _behaviour("C12", exercise)
    yield waits("C13", plain_text(exercise.why.text))
    yield _how_and_when("C14", material)
    yield clear_numbers("C15", material)
    yield explained("C16", material)
    yield no_sums("C17", material, wanted=False)
    yield from (na(name, "the sheet is about an exercise, not about a risk") for name in ("C18", "C19", "C20"))


def _statement(item: str, material: Material) -> Decision:
    """The ``why`` as main message: one to three short sentences that are more than the title."""
    why, title = plain_text(material.exercise.why.text), plain_text(material.exercise.title.text)
    language = material.library.language
    sentences = sentences_of(language, why)
    longest = max((len(words_of(sentence)) for sentence in sentences), default=0)
    short = 1 <= len(sentences) <= MOST_MESSAGE_SENTENCES and longest <= MOST_SENTENCE_WORDS
    told = [word.casefold() for word in words_of(why)] != [word.casefold() for word in words_of(title)]
    said = f"{len(sentences)} sentences, the longest {longest} words: {why}"
    return say(item, short and told, said if told else f"only the title again: {why}")


def _message_first(item: str, material: Material) -> Decision:
    """Where the main message stands on the printed sheet."""
    sheet = material.sheet
    if not sheet.first:
        return say(item, False, "the why does not stand before the dose, the picture and the steps")
    count = len(sheet.before.split())
    return say(
        item,
        count <= MOST_WORDS_BEFORE,
        f"before the why stand {count} words, at most {MOST_WORDS_BEFORE}: {sheet.before}",
    )


def _in_order(exercise: Exercise) -> str:
    return f"{len(exercise.steps)} numbered steps, from '{exercise.steps[0].text}' to '{exercise.steps[-1].text}'"


def _under_figure(sheet: ScoredSheet) -> str:
    return f"under it: {sheet.notes}" if sheet.notes else "no words under it"


def _cues_for_the_eye(item: str, material: Material) -> Decision:
    """Stop rules stand in a box with a sign of its own; without a stop rule there is no such box."""
    known = material.library.caution
    stops = [
        ref.slug for ref in material.exercise.cautions if ref.slug in known and known[ref.slug].kind is CautionKind.STOP
    ]
    return say(
        item,
        bool(stops),
        f"in a box with a sign: {', '.join(stops)}" if stops else "no stop rule, so no box with a sign",
    )


def _short_heads(item: str, sheet: ScoredSheet) -> Decision:
    """Short headings over the columns of the table to tick."""
    if not sheet.heads:
        return na(item, "no table")
    longest = max(len(head.split()) for head in sheet.heads)
    said = (
        f"{len(sheet.heads)} headings, the longest {longest} words, at most {MOST_HEAD_WORDS}: {', '.join(sheet.heads)}"
    )
    return say(item, all(sheet.heads) and longest <= MOST_HEAD_WORDS, said)


def _behaviour(item: str, exercise: Exercise) -> Decision:
    """What to do, and on how many days."""
    often = _how_often(exercise.dose)
    return say(item, bool(exercise.steps and often), f"{len(exercise.steps)} steps, {often or 'no days a week'}")


def _how_often(dose: Dose) -> str:
    """On how many days a week, or that the clinician says it; empty where nobody does."""
    if dose.is_open:
        return "a dose that the clinician sets"
    return f"{dose.days} days a week" if dose.days else ""


def _plain_words(item: str, material: Material) -> Decision:
    """Too hard is a no; easy enough is for a person to judge: a formula sees only lengths."""
    level, aim = material.level, material.exercise.reading_level or material.library.clinic.reading_level
    if level is None:
        return waits(item, "no formula for this language")
    said = f"{level.formula} {level.value:.1f}, aim: grade {aim:g}"
    return waits(item, said) if within(level, aim) else say(item, False, said)


def _lists(item: str, exercise: Exercise) -> Decision:
    """Lists are there, and none is too long; our Markdown has no list inside a list."""
    lengths = [
        len(block.items) for section in exercise.sections for block in section.blocks if block.kind != "paragraph"
    ]
    lengths += [len(exercise.cues), len(exercise.mistakes)]
    longest = max(lengths)
    return say(item, bool(exercise.steps) and longest <= MOST_ITEMS, f"longest list: {longest}, at most {MOST_ITEMS}")


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
    return say(item, lists.answer is Answer.YES and longest <= MOST_PARAGRAPH_WORDS, evidence)


def _headings(item: str, exercise: Exercise) -> Decision:
    """Each section has a heading of its own; whether it tells what stands below, and holds one idea, is for a person."""
    names = [section.heading.text for section in exercise.sections]
    repeated = sorted({name for name in names if names.count(name) > 1})
    holds = bool(names) and all(names) and not repeated
    said = f"repeated: {', '.join(repeated)}" if repeated else f"headings: {', '.join(names)}"
    return waits(item, said) if holds else say(item, False, said)


def _speaks_to_reader(item: str, material: Material) -> Decision:
    words = _YOU.get(material.language)
    if words is None:
        return waits(item)
    count = sum(len(words.findall(text)) for text in material.texts)
    return say(item, count > 0, f"'you' and 'your': {count} times")


def _small_steps(item: str, material: Material) -> Decision:
    language = material.library.language
    for step in material.exercise.steps:
        sentences = sentences_of(language, plain_text(step.text))
        longest = max((len(words_of(sentence)) for sentence in sentences), default=0)
        if len(sentences) > MOST_STEP_SENTENCES or longest > MOST_SENTENCE_WORDS:
            return say(item, False, f"a long step: {step.text}")
    count = len(material.exercise.steps)
    return say(item, count > 1, f"{count} steps of at most {MOST_STEP_SENTENCES} sentences")


def _how_and_when(item: str, material: Material) -> Decision:
    """Steps, days a week, and a caution that says whom to call."""
    known, often = material.library.caution, _how_often(material.exercise.dose)
    calls = [
        ref.slug for ref in material.exercise.cautions if ref.slug in known and known[ref.slug].call is not Call.NONE
    ]
    lacks = [
        name
        for name, there in (("steps", material.exercise.steps), ("days a week", often), ("when to call", calls))
        if not there
    ]
    said = f"no {', no '.join(lacks)}" if lacks else f"steps, {often}, when to call: {', '.join(calls)}"
    return say(item, not lacks, said)

"""What persons answered: ``score.yaml``, each answer with role, day and the version of the text that was read.

An answer to a text that has changed since does not count; it is shown as reopened.  Roles only, never a name.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from datetime import date

from handouts.ledger.stamp import ALPHABET, STAMP_CHARACTERS
from handouts.library.clinic_shapes import LANGUAGE_PATTERN
from handouts.library.scalars import CODE_PATTERN
from handouts.library.shapes import Choice, Day, ListOf, RecordOf, Text, field_of
from handouts.model import Record
from handouts.problems import Problem
from handouts.score.items import ITEMS, Answer, Decision
from handouts.source.nodes import compose, read_text

FILE = "score.yaml"
MAX_BYTES = 8 * 1024 * 1024
"""Largest file read, in bytes: 20 answers to 300 exercises in 6 languages need about 5 MiB."""


@dataclass(frozen=True, kw_only=True)
class PersonAnswer(Record):
    """One answer of a person."""

    item: str
    code: str
    language: str
    answer: Answer
    by: str
    on: date
    version: str
    """Stamp of the exercise in that language as it was read."""

    @property
    def key(self) -> tuple[str, str, str]:
        """What is answered: language, code, item."""
        return (self.language, self.code, self.item)


_ANSWER = RecordOf(
    PersonAnswer,
    "an answer",
    {
        "item": field_of(Choice(tuple(ITEMS)), "the item, as P2 or C11", "item"),
        "code": field_of(Text(4, CODE_PATTERN, "a code of four characters"), "the exercise", "code"),
        "language": field_of(Text(12, LANGUAGE_PATTERN, "a language tag"), "the language that was read", "language"),
        "answer": field_of(Choice(("yes", "no", "n/a"), Answer), "yes, no or n/a", "answer"),
        "by": field_of(Text(80, wanted="a role"), "role of who answered, never a name", "by"),
        "on": field_of(Day(), "the day", "on"),
        "version": field_of(
            Text(STAMP_CHARACTERS, f"[{ALPHABET}]{{{STAMP_CHARACTERS}}}", "a version stamp"), "what was read", "version"
        ),
    },
)
ANSWERS = RecordOf(dict, "the answers", {"answers": field_of(ListOf(_ANSWER, 0, 100_000), "all answers", "answers")})


def read_answers(data: bytes, file: str) -> tuple[tuple[PersonAnswer, ...], list[Problem]]:
    """The answers of a file; none, with problems, where it cannot be read whole."""
    text, problems = read_text(data, file)
    if problems:
        return (), problems
    root, problems = compose(text, file, most_bytes=MAX_BYTES)
    found = ANSWERS.read(root, problems) if root is not None else None
    return (found["answers"] if found and not problems else ()), problems


def write_answers(answers: Iterable[PersonAnswer]) -> bytes:
    """The file, sorted, the latest answer to each question only."""
    latest = {each.key: each for each in sorted(answers, key=lambda each: each.on)}
    lines = ["answers:" if latest else "answers: []"]
    for each in sorted(latest.values(), key=lambda each: each.key):
        by = each.by.replace("\\", "\\\\").replace('"', '\\"')
        lines.append(
            f'  - {{item: {each.item}, code: "{each.code}", language: {each.language}, answer: {each.answer.value}, '
            f'by: "{by}", on: {each.on}, version: "{each.version}"}}'
        )
    return ("\n".join(lines) + "\n").encode()


def with_answers(
    decisions: Iterable[Decision], answers: Mapping[str, PersonAnswer], version: str
) -> tuple[Decision, ...]:
    """The program's decisions, with a person's in place of those that wait; ``answers`` by item, ``version`` the present."""
    found = []
    for decision in decisions:
        given = answers.get(decision.item)
        if given is None or decision.answer is not Answer.WAITS:
            found.append(decision)
        elif given.version != version:
            found.append(
                replace(decision, evidence=f"answered {given.on} by {given.by}, but the text has changed since")
            )
        else:
            found.append(Decision(decision.item, given.answer, decision.evidence, f"{given.by}, {given.on}"))
    return tuple(found)

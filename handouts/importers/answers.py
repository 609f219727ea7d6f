"""What a person is asked about a table or a document, and what was answered: kept in the library, asked once.

An answer is kept by its topic and what it is about, so the same word, dose or sentence is never asked about again.
"""

from __future__ import annotations

import json
import re
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field

from handouts.problems import Problem
from handouts.source.nodes import Mapping as MappingNode
from handouts.source.nodes import Scalar, compose, read_text

FILE = "import.yaml"
LEAVE, NEW = "-", "+"
"""The answers that leave something out, and that add an author's word to the vocabulary or a sentence to the cautions."""
TOPICS = {
    "columns": "which key a column of a table gives",
    "terms": "which word of the library an author's word is, as 'regions: lower back'",
    "doses": "a dose in words, as it is written in a file",
    "cautions": "which cautions a sentence says",
    "gaps": "what holds where a file says nothing: for all, or for one exercise as 'TITLE: key'",
}
_HEAD = "# What 'handouts import' asked, and what was answered. Change an answer here, or delete its line to be asked again.\n"


@dataclass(frozen=True, slots=True)
class ImportQuestion:
    """One thing that a person decides."""

    topic: str
    about: str
    text: str
    """The question in words."""
    guess: str = ""
    """What is answered by Enter; empty where nothing was guessed."""
    choices: Mapping[str, str] = field(default_factory=dict)
    """Names that may be answered, each with its words; empty where any text may."""
    several: bool = False
    """Whether more than one name may be answered, with commas between."""
    is_plain: bool = False
    """Whether the guess may be confirmed together with others: all of it was read, and it is short."""
    is_wrong: Callable[[str], str] = field(default=lambda _: "", compare=False)
    """What is wrong with an answer; empty where nothing is."""


class Answers:
    """What was answered so far, and what is asked on the way."""

    def __init__(self, given: Mapping[str, Mapping[str, str]] | None = None) -> None:
        self.given: dict[str, dict[str, str]] = {topic: dict((given or {}).get(topic, {})) for topic in TOPICS}
        self.asked: dict[tuple[str, str], ImportQuestion] = {}

    def ask(self, question: ImportQuestion) -> str | None:
        """The answer to a question; None where there is none yet, and it is noted."""
        found = self.given[question.topic].get(question.about)
        if found is not None and not self.check(question, found):
            return found
        self.asked.setdefault((question.topic, question.about), question)
        return None

    @staticmethod
    def check(question: ImportQuestion, answer: str) -> str:
        """What is wrong with an answer, in words; empty where nothing is."""
        if answer == LEAVE:
            return ""
        if question.choices:
            names = [name.strip() for name in answer.split(",")] if question.several else [answer]
            unknown = [name for name in names if name not in question.choices]
            return f"'{unknown[0]}' is none of them" if unknown else ""
        return question.is_wrong(answer)

    def add(self, question: ImportQuestion, answer: str) -> None:
        """Keep an answer."""
        self.given[question.topic][question.about] = answer


def read_answers(data: bytes, file: str) -> tuple[Answers, list[Problem]]:
    """The answers in a library's ``import.yaml``."""
    text, problems = read_text(data, file)
    node, found = compose(text, file) if not problems else (None, [])
    problems += found
    given: dict[str, dict[str, str]] = {}
    for entry in node.entries if node else ():
        if entry.key not in TOPICS or not isinstance(entry.value, MappingNode):
            mend = f"Write one of {', '.join(TOPICS)} with lines 'what is asked: answer' below it."
            problems.append(Problem(entry.place, "import-answers", f"'{entry.key}' is no topic of answers", mend))
            continue
        given[entry.key] = {each.key: each.value.text for each in entry.value.entries if isinstance(each.value, Scalar)}
    return Answers(given), problems


def write_answers(answers: Answers) -> bytes:
    """The answers as a file: one a line, sorted, so that two people's answers merge."""
    lines = [_HEAD]
    for topic, given in answers.given.items():
        if given:
            lines.append(f"{topic}:  # {TOPICS[topic]}\n")
            lines += [f"  {_quote(about)}: {_quote(answer)}\n" for about, answer in sorted(given.items())]
    return "".join(lines).encode()


def _quote(text: str) -> str:
    plain = re.fullmatch(r"[A-Za-z][A-Za-z0-9 ,./-]*", text) and text == text.strip()
    return text if plain else json.dumps(text, ensure_ascii=False)


def first_line(texts: Iterable[str], most: int = 3) -> str:
    """A few of several texts, and how many more there are."""
    listed = list(dict.fromkeys(texts))
    more = len(listed) - most
    return ", ".join(listed[:most]) + (f" and {more} more" if more > 0 else "")

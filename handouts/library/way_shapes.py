"""How what must be mastered first, and what is easier or harder, is typed in an exercise's file."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Callable
from dataclasses import dataclass

from handouts import model
from handouts.library.shapes import (
    CODE_PATTERN,
    SLUG_PATTERN,
    ExerciseName,
    Name,
    Problems,
    Prose,
    RecordOf,
    Schema,
    field_of,
    scalar_text,
    wrong,
)
from handouts.problems import Problem
from handouts.source.nodes import Mapping, Node, Scalar, Sequence

MAX_WAYS, MAX_AFTER, MAX_CHANGE = 4, 5, 120
"""Ways of one kind, names in ``after``, and characters of a sentence: a sheet has little room for them."""
_MEND = "Write the exercise's file name or code, such as heel-raise or H7K2, or a whole sentence with its full stop."


def is_name(text: str) -> bool:
    """Whether a text can be the file name or the code of an exercise."""
    return len(text) <= 64 and re.fullmatch(f"{SLUG_PATTERN}|{CODE_PATTERN}", text) is not None


_WHOLE_STEP = RecordOf(
    model.WholeStep,
    "a whole step",
    {
        "all of": field_of(Name(), "the tier whose exercises must all be mastered first", "tier"),
        "programme": field_of(Name(), "the programme whose step it is", "programme"),
    },
)


@dataclass(frozen=True, slots=True)
class NeedShape:
    """What must be mastered first: an exercise, or all exercises of a step of a programme."""

    wanted: str = "an exercise, or `{all of: TIER, programme: NAME}`"

    def read(self, node: Node, problems: Problems) -> model.Ref | model.WholeStep | None:
        found: model.Ref | model.WholeStep | None
        if isinstance(node, Mapping):
            found = _WHOLE_STEP.read(node, problems)
        else:
            found = ExerciseName().read(node, problems)
        return found

    def schema(self) -> Schema:
        return {"anyOf": [ExerciseName().schema(), _WHOLE_STEP.schema()]}


@dataclass(frozen=True, slots=True)
class WaysShape:
    """Other exercises, sentences that change this one, or a list of both."""

    make: Callable[..., model.Way]

    @property
    def wanted(self) -> str:
        """How it is written, in a few words."""
        return (
            f"a sentence of at most {MAX_CHANGE} characters, or a list of at most {MAX_WAYS}: exercises, sentences, "
            "`{exercise: NAME, change: SENTENCE}`"
        )

    def read(self, node: Node, problems: Problems) -> tuple[model.Way, ...] | None:
        nodes = node.items if isinstance(node, Sequence) else (node,)
        if len(nodes) > MAX_WAYS:
            what = f"this list has {len(nodes)} entries, at most {MAX_WAYS} are wanted"
            problems.append(wrong(node, what, "Keep those that help most."))
            return None
        return tuple(way for item in nodes if (way := self._read_way(item, problems)) is not None)

    def _read_way(self, node: Node, problems: Problems) -> model.Way | None:
        if not isinstance(node, Scalar):
            found: model.Way | None = self._record().read(node, problems)
            return found
        text = scalar_text(node, problems, "an exercise or a sentence")
        if text is None:
            return None
        if is_name(text):
            return self.make(place=node.place, places={"exercise": node.place}, exercise=model.Ref(text, node.place))
        words = _Sentence().read(node, problems)
        return None if words is None else self.make(place=node.place, places={"change": node.place}, change=words)

    def _record(self) -> RecordOf:
        return RecordOf(
            self.make,
            "an easier or harder exercise",
            {
                "exercise": field_of(ExerciseName(), "the other exercise", "exercise"),
                "change": field_of(_Sentence(), "what is different there, a sentence", "change"),
            },
        )

    def schema(self) -> Schema:
        way = {"anyOf": [_Sentence().schema(), self._record().schema()]}
        return {"anyOf": [_Sentence().schema(), {"type": "array", "items": way, "maxItems": MAX_WAYS}]}


@dataclass(frozen=True, slots=True)
class _Sentence:
    """A whole sentence for readers."""

    def read(self, node: Node, problems: Problems) -> model.Words | None:
        words = Prose(MAX_CHANGE).read(node, problems)
        if words is not None and not unicodedata.category(words.text.rstrip("*_")[-1:] or " ").startswith("P"):
            what = f"'{words.text}' is neither the name of an exercise nor a whole sentence"
            problems.append(Problem(node.place, "way-unclear", what, _MEND))
            return None
        return words

    def schema(self) -> Schema:
        return Prose(MAX_CHANGE).schema()

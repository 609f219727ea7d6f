"""What is judged: an exercise as a reader of one language has it, and how a decision on an item is made."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

from handouts.library.texts import patient_sentences
from handouts.model import Exercise, Library
from handouts.readability import Level, score, scored_language
from handouts.score.items import Answer, Decision
from handouts.score.sheet import ScoredSheet
from handouts.text.markup import plain_text


@dataclass(frozen=True)
class Material:
    """An exercise as a reader of one language has it."""

    exercise: Exercise
    library: Library
    """In the same language."""
    figure: str
    """What the figure shows in words; empty where there is none."""
    sheet: ScoredSheet
    """What its printed sheet shows."""

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


def say(item: str, holds: bool, evidence: str) -> Decision:
    """A yes or a no."""
    return Decision(item, Answer.YES if holds else Answer.NO, evidence)


def waits(item: str, evidence: str = "") -> Decision:
    """A person decides."""
    return Decision(item, Answer.WAITS, evidence)


def na(item: str, evidence: str) -> Decision:
    """Does not apply."""
    return Decision(item, Answer.NOT_APPLICABLE, evidence)

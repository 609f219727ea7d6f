"""What is easier must be easier, and what is harder harder: less effort, no more load, no harder position, no more things.

What one exercise names holds in both directions, so a pair is judged once for each time that it is written.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import chain

from handouts.dose.progression import find_cycles
from handouts.dose.weight import write_weight
from handouts.model import Exercise, Library, Span, Way
from handouts.problems import Grade, Problem
from handouts.rules.question import Question

NOTHING = "none"


@dataclass(frozen=True, slots=True)
class _Pair:
    """An exercise, the one that it names, and which of the two is meant to be easier."""

    library: Library
    exercise: Exercise
    other: Exercise
    way: Way
    word: str
    """``easier`` or ``harder``: where the other is named."""

    @property
    def easy(self) -> Exercise:
        return self.other if self.word == "easier" else self.exercise

    @property
    def hard(self) -> Exercise:
        return self.exercise if self.word == "easier" else self.other

    def problem(self, rule: str, what: str, mend: str, grade: Grade = Grade.ERROR) -> Problem:
        place = self.way.exercise.place if self.way.exercise else self.way.place
        return Problem(place, f"{self.word}-{rule}", f"'{self.other.slug}' {what}", mend, grade)

    def unlike(self, rule: str, name: str, there: str, here: str) -> Problem:
        """The two have values that do not fit."""
        what = f"is not {self.word}: its {name} is {there}, and that of this exercise is {here}"
        return self.problem(rule, what, f"Name another exercise, correct one of the two, or write a sentence in '{self.word}'.")


def check_progressions(question: Question) -> Iterator[Problem]:
    """Does every easier exercise ask for less, and every harder one for more?"""
    for exercise in question.library.exercises:
        for word, ways in (("easier", exercise.easier), ("harder", exercise.harder)):
            for way in ways:
                other = question.library.exercise.get(way.exercise.slug) if way.exercise else None
                if other is not None:
                    yield from _judge(_Pair(question.library, exercise, other, way, word))


def _judge(pair: _Pair) -> Iterator[Problem]:
    if pair.other.slug == pair.exercise.slug:
        yield pair.problem("itself", f"is this exercise itself, as {pair.word} than itself", "Name another, or write a sentence.")
        return
    yield from chain(_effort(pair), _load(pair), _position(pair), _equipment(pair), _region(pair))


def _effort(pair: _Pair) -> Iterator[Problem]:
    easy, hard = pair.easy.dose.effort, pair.hard.dose.effort
    if pair.easy.dose.is_open or pair.hard.dose.is_open:
        return  # the clinician sets the effort, and sees both
    if easy is None or hard is None:
        lacking = pair.easy if easy is None else pair.hard
        what = f"cannot be compared: '{lacking.slug}' has no effort in its dose"
        yield pair.problem("unknown", what, f"Add 'effort' to the dose of '{lacking.slug}'.", Grade.NOTICE)
    elif easy == hard or easy.low > hard.low or easy.high > hard.high:
        yield pair.unlike("effort", "effort", _span(pair.other.dose.effort), _span(pair.exercise.dose.effort))


def _span(span: Span | None) -> str:
    if span is None:
        return NOTHING
    return f"{span.low:g}" if span.low == span.high else f"{span.low:g} to {span.high:g}"


def _load(pair: _Pair) -> Iterator[Problem]:
    if (pair.easy.dose.weight_kg or 0) > (pair.hard.dose.weight_kg or 0):
        yield pair.unlike("load", "weight", _weight(pair.other), _weight(pair.exercise))
    order = {term.slug: rank for rank, term in enumerate(pair.library.vocabulary.bands, 1)}
    easy, hard = (order.get(each.dose.band.slug, 0) if each.dose.band else 0 for each in (pair.easy, pair.hard))
    if easy > hard:
        yield pair.unlike("load", "band", _band(pair.other), _band(pair.exercise))


def _weight(exercise: Exercise) -> str:
    return write_weight(exercise.dose.weight_kg) if exercise.dose.weight_kg else NOTHING


def _band(exercise: Exercise) -> str:
    return f"'{exercise.dose.band}'" if exercise.dose.band else NOTHING


def _position(pair: _Pair) -> Iterator[Problem]:
    easy, hard = (pair.library.position.get(each.position.slug) for each in (pair.easy, pair.hard))
    if easy is None or hard is None or easy == hard:
        return
    if easy.rank is None or hard.rank is None:
        lacking = easy if easy.rank is None else hard
        what = f"cannot be compared: the position '{lacking.slug}' has no rank"
        yield pair.problem("unknown", what, "Give each position a 'rank' in vocabulary.yaml, 1 the easiest.", Grade.NOTICE)
    elif easy.rank > hard.rank:
        there, here = (f"'{each.position}' of rank {pair.library.position[each.position.slug].rank}" for each in (pair.other, pair.exercise))
        yield pair.unlike("position", "position", there, here)


def _equipment(pair: _Pair) -> Iterator[Problem]:
    known = {ref.slug for ref in pair.hard.equipment}
    extra = [ref.slug for ref in pair.easy.equipment if ref.slug not in known]
    if extra:
        things = ", ".join(f"'{slug}'" for slug in extra)
        needs = f"needs {things}, which this exercise does not" if pair.word == "easier" else f"does not need {things}, which this exercise does"
        mend = f"Name another exercise, correct 'equipment' in one of the two, or write a sentence in '{pair.word}'."
        yield pair.problem("equipment", f"is not {pair.word}: it {needs}", mend)


def _region(pair: _Pair) -> Iterator[Problem]:
    first, all_of = pair.easy.regions[0].slug, [ref.slug for ref in pair.hard.regions]
    if first not in all_of:
        there = first if pair.word == "easier" else ", ".join(all_of)
        here = ", ".join(all_of) if pair.word == "easier" else first
        what = f"is of another region: it works {there}, and this exercise {here}"
        yield pair.problem("region", what, "Name an exercise for the same part of the body; its main region stands first in 'regions'.")


def check_progression_rings(question: Question) -> Iterator[Problem]:
    """Is no exercise easier than itself, through others?"""
    edges = {slug: [option.slug for option in options if option.slug] for slug, options in question.progression.easier.items()}
    for ring in find_cycles(edges):
        exercise = question.library.exercise[ring[0]]
        if len(ring) > 1:
            yield Problem(
                exercise.at("easier"),
                "easier-ring",
                f"each of these exercises is named as easier than the others: {', '.join(ring)}",
                "Take one of them out of 'easier' or 'harder' of another; what one names holds in both directions.",
            )


def check_something_easier(question: Question) -> Iterator[Problem]:
    """Does every exercise say what is easier?"""
    for exercise in question.library.exercises:
        if not exercise.easier and not question.progression.easier[exercise.slug]:
            yield Problem(
                exercise.place,
                "nothing-easier",
                "nothing says how to make this exercise easier",
                "Write 'easier' with an exercise of less effort, or with a sentence such as 'Keep two fingers on the counter.'",
                Grade.NOTICE,
            )

"""What serves where a thing is missing at home: names, and substitutes that serve nowhere."""

from __future__ import annotations

from collections.abc import Iterator

from handouts.problems import Grade, Problem, suggest
from handouts.rules.question import Question


def check_substitute_names(question: Question) -> Iterator[Problem]:
    """Is every thing of a substitute declared, and is it another one?"""
    known = question.library.term["equipment"]
    for item in question.library.vocabulary.substitutes:
        for ref in (item.thing, item.take):
            if ref.slug not in known:
                yield Problem(ref.place, "unknown-name", f"'{ref.slug}' is not declared in 'equipment' of vocabulary.yaml", suggest(ref.slug, known))
        if item.thing == item.take:
            yield Problem(item.take.place, "substitute-same", f"'{item.take}' cannot take its own place", "Name another thing.")


def check_substitutes_serve(question: Question) -> Iterator[Problem]:
    """Does every substitute serve in an exercise, and does each exercise that it names need the thing?"""
    library = question.library
    for item in library.vocabulary.substitutes:
        needing = {exercise.slug for exercise in library.exercises if item.thing in exercise.equipment}
        for ref in item.exercises:
            if ref.slug in library.exercise and ref.slug not in needing:
                what = f"'{ref.slug}' does not need '{item.thing}'"
                yield Problem(ref.place, "substitute-idle", what, "Take it out, or name an exercise that needs it.")
        if not needing and item.thing.slug in library.term["equipment"]:
            what, mend = f"no exercise needs '{item.thing}'", "Take the substitute out until there is such an exercise."
            yield Problem(item.place, "substitute-idle", what, mend, Grade.NOTICE)

"""What serves where a thing is missing at home: names, substitutes that serve nowhere or bring a caution, and those of bundles."""

from __future__ import annotations

from collections.abc import Iterator

from handouts.model import Exercise, Library, Substitute
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
    """Does every substitute serve where it is named, in exercises and in bundles, with the cautions of what is taken?"""
    library = question.library
    yield from _check_cautions(library)
    yield from _check_free(library)
    yield from _check_picks(library)
    for item in library.vocabulary.substitutes:
        needing = {exercise.slug for exercise in library.exercises if item.thing in exercise.equipment}
        for ref in item.exercises:
            if ref.slug in library.exercise and ref.slug not in needing:
                what = f"'{ref.slug}' does not need '{item.thing}'"
                yield Problem(ref.place, "substitute-idle", what, "Take it out, or name an exercise that needs it.")
        if not needing and item.thing.slug in library.term["equipment"]:
            what, mend = f"no exercise needs '{item.thing}'", "Take the substitute out until there is such an exercise."
            yield Problem(item.place, "substitute-idle", what, mend, Grade.NOTICE)


def _serves(item: Substitute, exercise: Exercise) -> bool:
    return item.thing in exercise.equipment and (not item.exercises or any(ref.slug == exercise.slug for ref in item.exercises))


def _check_cautions(library: Library) -> Iterator[Problem]:
    """What is taken has cautions of its own: an exercise in which it serves must carry them too."""
    for item in library.vocabulary.substitutes:
        term = library.term["equipment"].get(item.take.slug)
        for exercise in library.exercises:
            carried = {ref.slug for ref in exercise.cautions}
            for caution in term.cautions if term and _serves(item, exercise) else ():
                if caution.slug not in carried:
                    what = f"'{item.take}' brings the caution '{caution}', which '{exercise.slug}' does not carry"
                    yield Problem(item.take.place, "substitute-caution", what, "Add the caution to the exercise, or name exercises that carry it.")


def _check_free(library: Library) -> Iterator[Problem]:
    """One thing cannot serve twice: what is taken is not needed in the exercise already, nor in place of another of its things."""
    for exercise in library.exercises:
        uses = {ref.slug: ref for ref in exercise.equipment}
        for item in library.vocabulary.substitutes:
            if _serves(item, exercise) and (other := uses.setdefault(item.take.slug, item.thing)).slug != item.thing.slug:
                why = "is needed there already" if other.slug == item.take.slug else f"takes the place of '{other}' there already"
                what = f"'{item.take}' cannot take the place of '{item.thing}' in '{exercise.slug}': it {why}"
                mend = "Take another thing, declared in 'equipment' under its own name, as 'large-towel' beside 'towel'."
                yield Problem(item.take.place, "substitute-needed", what, mend)


def _check_picks(library: Library) -> Iterator[Problem]:
    known = {item.slug: item for item in library.vocabulary.substitutes}
    for bundle in library.bundles:
        for pick in bundle.picks:
            exercise, things = library.exercise.get(pick.exercise.slug), set[str]()
            for ref in pick.substitutes:
                item = known.get(ref.slug)
                if item is None:
                    yield Problem(ref.place, "unknown-name", f"'{ref}' is not declared in 'substitutes' of vocabulary.yaml", suggest(ref.slug, known))
                elif exercise and not _serves(item, exercise):
                    what = f"the substitute '{ref}' does not serve in '{exercise.slug}'"
                    yield Problem(ref.place, "substitute-idle", what, "Take it out, or name one that serves there.")
                elif item.thing.slug in things:
                    yield Problem(ref.place, "substitute-twice", f"'{item.thing}' has a substitute here already", "Keep one of the two.")
                else:
                    things.add(item.thing.slug)

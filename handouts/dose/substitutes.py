"""What is taken in place of things that are missing at home: in words, and among what is fetched.

``templates/scripts/src/bundle/substitutes.js`` is the twin.
"""

from __future__ import annotations

from dataclasses import replace

from handouts.dose.arithmetic import given_dose
from handouts.dose.phrase import Voice
from handouts.model import Dose, Exercise, Library, Pick, Substitute
from handouts.text.markup import plain_text


def substitutes_of(pick: Pick, library: Library) -> tuple[Substitute, ...]:
    """What is taken in place of things in a pick, in the order of the vocabulary."""
    chosen = {ref.slug for ref in pick.substitutes}
    return tuple(item for item in library.vocabulary.substitutes if item.slug in chosen)


def picked_exercise(exercise: Exercise, pick: Pick, library: Library) -> Exercise:
    """The exercise, which needs what is taken and not what is missing."""
    take = {item.thing.slug: item.take for item in substitutes_of(pick, library)}
    if not take:
        return exercise
    things = {ref.slug: ref for each in exercise.equipment for ref in (take.get(each.slug, each),)}
    return replace(exercise, equipment=tuple(things.values()))


def given_pick(exercise: Exercise, pick: Pick, library: Library) -> tuple[Exercise, Dose]:
    """What a pick gives: its exercise with what is taken in place of things, and its dose."""
    return picked_exercise(exercise, pick, library), given_dose(exercise, pick)


def has_numbers(substitute: Substitute) -> bool:
    """Whether its words give a number, which may differ from the dose's."""
    return any(character.isnumeric() for character in substitute.change.text)


def name_substitute(substitute: Substitute, library: Library, voice: Voice) -> str:
    """What is taken in place of which thing, and what changes."""
    names = library.term["equipment"]
    thing, take = (names[ref.slug].name.text for ref in (substitute.thing, substitute.take))
    return voice.say("dose.instead", thing=thing, take=take, change=plain_text(substitute.change.text))


def say_substitutes(pick: Pick, dose: Dose, library: Library, voice: Voice) -> tuple[str, ...]:
    """A sentence or two for each, and where they may differ from the dose, which of both counts."""
    chosen = substitutes_of(pick, library)
    counts = any(map(has_numbers, chosen)) or (bool(chosen) and dose.band is not None)
    lines = tuple(name_substitute(item, library, voice) for item in chosen)
    return (*lines, voice.say("dose.instead_counts")) if counts else lines

"""What is easier or harder, in words: the author's sentence, else what differs: position, load, things, effort."""

from __future__ import annotations

from collections.abc import Iterable

from handouts.dose.phrase import dose_names, effort_line, load_phrase
from handouts.dose.progression import Option
from handouts.model import Exercise, Library
from handouts.text.markup import plain_text
from handouts.words.wording import Wording


def options_json(
    options: Iterable[Option], exercise: Exercise, library: Library, wording: Wording
) -> list[tuple[str, str]]:
    """Each way for a page's script: the other exercise's code (empty where this one is changed), and what changes."""
    return [
        (library.exercise[option.slug].code if option.slug else "", plain_change(option, exercise, library, wording))
        for option in options
    ]


def plain_change(option: Option, exercise: Exercise, library: Library, wording: Wording) -> str:
    """What changes, without markup."""
    if option.change is not None:
        return plain_text(option.change.text)
    return differences(exercise, library.exercise[option.slug], library, wording) if option.slug else ""


def differences(exercise: Exercise, other: Exercise, library: Library, wording: Wording) -> str:
    """What is different in the other exercise: "What changes: standing, no step, effort 2 to 4 out of 10".

    Empty where nothing of this differs.
    """
    found: list[str] = []
    if other.position != exercise.position:
        found.append(library.term["positions"][other.position.slug].name.text)
    here, there = ([ref.slug for ref in each.equipment] for each in (exercise, other))
    before, after = (_load(each, library, wording) for each in (exercise, other))
    if before != after and (after or here == there):
        found.append(after or wording.say("site.no_load"))
    things = library.term["equipment"]
    found += [things[slug].name.text for slug in there if slug not in here]
    found += [wording.say("site.without", thing=things[slug].name.text) for slug in here if slug not in there]
    if other.dose.effort != exercise.dose.effort and other.dose.effort:
        found.append(effort_line(other.dose.effort, wording))
    return wording.say("site.changes", changes=wording.join(found)) if found else ""


def _load(exercise: Exercise, library: Library, wording: Wording) -> str:
    return load_phrase(exercise.dose, wording, dose_names(exercise.dose, library))

"""What a picture shows, against what its exercise says is needed.

A picture itself is checked where it is computed (``handouts.figure.checks``).
"""

from __future__ import annotations

from collections.abc import Iterator

from handouts.figure import read_figure
from handouts.figure.pose.names import PROP_ALIASES, PROPS
from handouts.figure.pose.things import THINGS
from handouts.problems import Grade, Problem
from handouts.rules.question import Question

_WORKED_WITH = frozenset({"band", "strap", "exercise-ball", "weighted-ball", "towel", "stick", "roll",
                          *(name for name, thing in THINGS.items() if thing.worked_with)})  # fmt: skip
"""Props that the exercise is done with: a picture without them, or a list without them, shows another exercise."""
LEAST_WORDS = 20
"""Letters below which words can only name a picture, not say what it shows; common practice, no source."""
_LAIN_ON = "mat"
"""Drawn under all who lie; a bed or a carpet does as well, so that no exercise has to name it."""


def _prop(slug: str) -> str:
    """The prop that a word of the vocabulary names, or ''."""
    name = PROP_ALIASES.get(slug, slug)
    return name if name in PROPS else ""


def check_own_pictures(question: Question) -> Iterator[Problem]:
    """Is each exercise shown in one way, and do the words for its own picture say more than its title?"""
    for exercise in question.library.exercises:
        picture = exercise.picture
        if picture is None:
            continue
        if exercise.figure is not None and exercise.figure.entries:
            what = "the exercise has a figure and the clinic's own picture, and readers see only one"
            yield Problem(exercise.at("picture"), "two-pictures", what, "Keep the one that shows it better, and take the other out.")
        if _letters(picture.words.text) in _letters(exercise.title.text) or len(_letters(picture.words.text)) < LEAST_WORDS:
            what = f"the words for the picture, '{picture.words}', do not say what it shows"
            yield Problem(picture.words.place, "picture-words", what, "Say what is seen in it: who is where, what moves, and which way.")


def _letters(text: str) -> str:
    """A text without its case and its signs, to be compared."""
    return "".join(letter for letter in text.casefold() if letter.isalnum())


def check_equipment_drawn(question: Question) -> Iterator[Problem]:
    """Does each exercise name the things that its picture shows, and does the picture show what it is done with?"""
    declared = {_prop(slug): slug for slug in question.library.term["equipment"] if _prop(slug)}
    for exercise in question.library.exercises:
        spec = read_figure(exercise.figure)[0] if exercise.figure is not None else None
        if spec is None:
            continue
        needed = {_prop(ref.slug): ref for ref in exercise.equipment}
        drawn = {use.name: use for use in spec.props}
        for name, use in drawn.items():
            worked_with = name in _WORKED_WITH
            if name in needed or name == _LAIN_ON or not (worked_with or name in declared):
                continue
            word = declared.get(name, name)
            first = "" if name in declared else f"Declare '{word}' in 'equipment' of vocabulary.yaml. "
            yield Problem(
                use.place,
                "equipment-not-named",
                f"the picture shows a {name}, and the exercise does not name '{word}' among its equipment",
                f"{first}Add '{word}' to 'equipment', or take the {name} out of the picture.",
                Grade.ERROR if worked_with else Grade.NOTICE,
            )
        for name, ref in needed.items():
            if name in _WORKED_WITH and name not in drawn:
                yield Problem(
                    ref.place,
                    "equipment-not-drawn",
                    f"the exercise needs '{ref.slug}', and its picture shows none",
                    f"Add '{name}' to the figure's props with the words that say where it is, or take it out of 'equipment'.",
                )

"""When a patient is ready for the next exercise: the author's sentence, or the one made of what is measured.

Says what is to be reached; never that it is reached.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from handouts.dose.phrase import dose_line
from handouts.library.dose_shapes import READY_MEASURES
from handouts.model import Exercise, Library, Words
from handouts.publication.function_tests import say_value
from handouts.words.wording import Wording

_KEYS = {field.attribute: key for key, field in READY_MEASURES.fields.items()}
"""By the name of a field in the model its name in a file."""

_NOT_MEASURED = (
    "reps", "hold_seconds", "time_seconds", "distance_metres", "weight_kg", "band",
    "reps_to", "rate", "pace_words", "warm_up_seconds", "cool_down_seconds"
)  # fmt: skip
"""Fields of a dose that its measures do not take over."""


def ready_words(exercise: Exercise, library: Library, wording: Wording) -> Words | None:
    """The condition for the next exercise; None where nothing was written or measured."""
    if exercise.ready_when is not None or exercise.ready_measures is None:
        return exercise.ready_when
    sentences = [criterion["says"] for criterion in criteria_json(exercise, library, wording)]
    text = sentences[0] if sentences else ""
    for sentence in sentences[1:]:
        text = wording.say("steps.and_then", first=text, second=sentence)
    return Words(text, exercise.at("ready_measures")) if text else None


def criteria_json(exercise: Exercise, library: Library, wording: Wording) -> list[dict[str, Any]]:
    """Each criterion as a page script weighs it against a log (``bundle/criteria.js``): a sentence, and its numbers.

    Seconds and metres, by the names of a dose in a file.
    """
    measures = exercise.ready_measures
    if measures is None:
        return []
    found: list[dict[str, Any]] = []
    if measures.amounts:
        dose = replace(exercise.dose, **_counted(exercise))
        says = wording.count("course.ready_amount", measures.days, amount=dose_line(dose, wording))
        amounts = {_KEYS[name]: value for name, value in measures.amounts.items()}
        found.append({"kind": "amount", "says": says, "sets": measures.sets, "days": measures.days, **amounts})
    for kind, most in (("pain", measures.pain), ("pain_next_day", measures.pain_next_day), ("effort", measures.effort)):
        if most is not None:
            found.append({"kind": kind, "says": wording.say(f"course.ready_{kind}", n=wording.number(most)), "most": most})
    if measures.test is not None and measures.result is not None:
        test = library.test.get(measures.test.slug)
        name = test.title.text if test else wording.say("course.our_test")
        value = say_value(wording, test, measures.result) if test else wording.number(measures.result)
        least = "at_most" if test and test.better == "less" else "at_least"
        found.append({"kind": "test", "says": wording.say(f"course.ready_{least}", test=name, value=value)})
    return found


def _counted(exercise: Exercise) -> dict[str, Any]:
    """What the dose counts, as it is to be reached."""
    assert exercise.ready_measures is not None
    counted = dict.fromkeys(_NOT_MEASURED)
    return counted | {"sets": exercise.ready_measures.sets} | exercise.ready_measures.amounts

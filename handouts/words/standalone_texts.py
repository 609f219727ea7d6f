"""The texts of what holds no exercise: tests of function, advice sheets, lessons, classes; and how a text is declared."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from handouts.model import (
    ClassPart,
    ClassPlan,
    ClassStation,
    FunctionTest,
    Leaflet,
    Lesson,
    MeasurementError,
    Norms,
    Watched,
)


@dataclass(frozen=True, slots=True)
class TextKind:
    """A text of a record: the name in its context, the note, and whether equal texts are one message everywhere."""

    name: str
    note: str
    shared: bool = False


INNER = TextKind("", "")
"""A field that holds records with texts of their own."""
STANDALONE_KINDS: Mapping[type, str] = {FunctionTest: "test", Leaflet: "leaflet", Lesson: "lesson", ClassPlan: "class"}
"""The kind of each thing that holds no exercise."""
STANDALONE_TEXTS: Mapping[type, dict[str, TextKind]] = {
    FunctionTest: {
        "title": TextKind("title", "Title of a test of function, as clinicians and patients call it."),
        "suits": TextKind("for", "Whom the test suits."),
        "measures": TextKind("measures", "What the test tells about the patient's day."),
        "sections": INNER,
        "norms": INNER,
        "error": INNER,
        "review": INNER,
    },
    Leaflet: {
        "title": TextKind("title", "Title of an advice sheet."),
        "suits": TextKind("for", "Whom the advice suits."),
        "why": TextKind("why", "What the advice is good for in daily life."),
        "points": TextKind("point", "What to keep in mind of an advice sheet: one short sentence."),
        "sections": INNER,
        "come_back": TextKind("come-back", "When to come back to the clinic: one sentence after the heading 'Come back when'."),
        "review": INNER,
    },
    Lesson: {
        "title": TextKind("title", "Title of a card for clinicians: how an exercise is taught."),
        "suits": TextKind("for", "Who may teach it."),
        "set_up": TextKind("set-up", "Set-up before the exercise is taught. For clinicians."),
        "watch": INNER,
        "hands": TextKind("hands", "A cue that the clinician gives by hand. For clinicians."),
        "regress_when": TextKind("regress-when", "When to go back to something easier. For clinicians."),
        "questions": TextKind("ask-back", "What the patient is asked to say or show in return: one short sentence, read aloud."),
        "sections": INNER,
        "review": INNER,
    },
    ClassPlan: {
        "title": TextKind("title", "Title of a class: several people do the same stations by the clock."),
        "suits": TextKind("for", "Whom the class suits."),
        "warm_up": INNER,
        "stations": INNER,
        "cool_down": INNER,
        "regress_when": TextKind("regress-when", "When someone in a class goes down a level. For who leads it."),
        "sections": INNER,
        "review": INNER,
    },
    ClassPart: {"do": TextKind("together", "What all in a class do together, before or after the stations. For who leads it: one sentence.")},
    ClassStation: {"watch": TextKind("watch", "What who leads a class watches at a station: one sentence.")},
    Watched: {
        "where": TextKind("watch-from", "Where the clinician looks from: “the side”. Stands alone in a narrow column."),
        "see": TextKind("watch-see", "What the clinician looks for from: “{where}”"),
    },
    Norms: {"says": TextKind("norm", "What a result above or below the value for one's age means.")},
    MeasurementError: {"who": TextKind("error-who", "In which people the error of the test was found. For clinicians.")},
}
"""The texts of each kind of record, in the order in which a translator should meet them."""

"""What the files of tests of function, of advice sheets, of lessons and of classes may hold."""

from __future__ import annotations

from handouts import model
from handouts.library.dose_shapes import SECONDS
from handouts.library.limit_shapes import STATUS
from handouts.library.programme_shapes import CODE, REVIEW, SOURCES
from handouts.library.shapes import (
    Choice,
    ExerciseName,
    Field,
    Flag,
    ListOf,
    Name,
    Number,
    Prose,
    Quantity,
    RecordOf,
    Text,
    Whole,
    field_of,
    optional,
)

MOST_RESULT = 10000
"""Largest result of a test, in its unit."""
_SOURCE = Text(400)

_COMMON: dict[str, Field] = {
    "code": field_of(CODE, "permanent code, printed on every sheet", "code"),
    "title": field_of(Prose(70, "a title"), "what it is called", "title"),
    "for": field_of(Prose(300), "whom it suits", "suits"),
}
_KEPT_UP: dict[str, Field] = {
    "cautions": field_of(ListOf(Name(), 1, 16), "cautions and stop rules, from cautions.yaml", "cautions"),
    "review": field_of(REVIEW, "when and by which role it was reviewed", "review"),
    "sources": field_of(SOURCES, "where it comes from", "sources"),
}

_NORM = RecordOf(
    model.Norm,
    "a norm",
    {
        "sex": optional(Choice(("women", "men")), "whose value it is; everyone's where left out", "sex"),
        "from": field_of(Whole(0, 120), "youngest age in years", "from_age"),
        "to": optional(Whole(0, 120), "oldest age in years; that age and over where left out", "to_age"),
        "value": field_of(Number(0, MOST_RESULT), "the value, in the unit of the test", "value"),
    },
)
_NORMS = RecordOf(
    model.Norms,
    "norms",
    {
        "says": field_of(Prose(200), "what a result above or below the value means", "says"),
        "rows": field_of(ListOf(_NORM, 1, 40), "a value for each sex and age", "rows"),
        "source": field_of(_SOURCE, "where the values come from", "source"),
        "status": field_of(STATUS, "whether they were read in the source itself", "status"),
    },
)
_ERROR = RecordOf(
    model.MeasurementError,
    "the error of a measurement",
    {
        "change": field_of(
            Number(0.01, MOST_RESULT), "the change that is still within the test's own error, in its unit", "change"
        ),
        "confidence": optional(Whole(50, 99), "of 100 people who did not change, how many stay within it", "confidence"),
        "who": field_of(Prose(160), "in which people it was found", "who"),
        "source": field_of(_SOURCE, "where it comes from", "source"),
        "status": field_of(STATUS, "whether it was read in the source itself", "status"),
    },
)
_SYMMETRY = RecordOf(
    model.Symmetry,
    "symmetry",
    {
        "percent": field_of(Whole(50, 100), "least share of the other side, in percent", "percent"),
        "source": field_of(_SOURCE, "where it comes from", "source"),
        "status": field_of(STATUS, "whether it was read in the source itself", "status"),
    },
)

FUNCTION_TEST = RecordOf(
    model.FunctionTest,
    "a test of function",
    {
        **_COMMON,
        "measures": field_of(Prose(300), "what it tells about the patient's day", "measures"),
        "equipment": optional(ListOf(Name(), 0, 6), "things to fetch first, from vocabulary.yaml", "equipment"),
        "unit": field_of(Choice(("times", "seconds", "cm", "points")), "what is counted", "unit"),
        "better": optional(Choice(("more", "less")), "whether more or less is better; more where left out", "better"),
        "each side": optional(Flag(), "yes where left and right have a result each", "each_side"),
        "tries": optional(Whole(1, 10), "the best of so many tries is the result; 1 where left out", "tries"),
        "most": optional(Number(1, MOST_RESULT), "the result at which the test ends", "most"),
        "norms": optional(_NORMS, "values to compare a result with", "norms"),
        "error": optional(_ERROR, "the test's own error: which change may be chance", "error"),
        "symmetry": optional(_SYMMETRY, "how alike both sides are to be", "symmetry"),
        **_KEPT_UP,
    },
)

LEAFLET = RecordOf(
    model.Leaflet,
    "an advice sheet",
    {
        **_COMMON,
        "why": field_of(Prose(300), "what it is good for in the patient's day", "why"),
        "points": field_of(ListOf(Prose(140), 1, 5), "what to keep in mind of it, one short sentence each", "points"),
        "programme": optional(Name(), "the programme at whose end it is handed out", "programme"),
        "keep": optional(ListOf(ExerciseName(), 0, 3), "exercises to keep up, each in its own dose", "keep"),
        "come back when": optional(ListOf(Prose(160), 0, 6), "when to come back, one sentence each", "come_back"),
        **_KEPT_UP,
    },
)

_WATCHED = RecordOf(
    model.Watched,
    "what to watch",
    {
        "from": field_of(Prose(60, "where to stand"), "where to look from", "where"),
        "see": field_of(Prose(160), "what to look for", "see"),
    },
)

LESSON = RecordOf(
    model.Lesson,
    "a lesson",
    {
        **_COMMON,
        "exercise": field_of(ExerciseName(), "the exercise that is taught", "exercise"),
        "set up": field_of(ListOf(Prose(160), 1, 5), "room, things and first position, one sentence each", "set_up"),
        "watch": field_of(ListOf(_WATCHED, 1, 5), "what to watch, and from where", "watch"),
        "hands": optional(Prose(200), "the cue by hand", "hands"),
        "regress when": field_of(Prose(200), "when to go back to something easier", "regress_when"),
        "ask back": field_of(ListOf(Prose(140), 1, 5), "what the patient is asked to say or show in return", "questions"),
        **_KEPT_UP,
        "cautions": optional(ListOf(Name(), 0, 16), "cautions beside those of the exercise, from cautions.yaml", "cautions"),
    },
)

_CLASS_PART = RecordOf(
    model.ClassPart,
    "a part of a class",
    {
        "time": field_of(Quantity(SECONDS, 30, 3600), "how long it takes", "seconds"),
        "do": field_of(ListOf(Prose(160), 1, 6), "what all do together, one sentence each", "do"),
    },
)
_STATION = RecordOf(
    model.ClassStation,
    "a station",
    {
        "levels": field_of(ListOf(ExerciseName(), 2, 3), "two or three exercises, the easiest first", "levels"),
        "watch": optional(ListOf(Prose(160), 0, 3), "what to watch, beside the first mistake of each exercise", "watch"),
    },
)

CLASS = RecordOf(
    model.ClassPlan,
    "a class",
    {
        **_COMMON,
        "equipment": field_of(ListOf(Name(), 0, 16), "what the room has, from vocabulary.yaml", "equipment"),
        "positions": optional(ListOf(Name(), 0, 16), "positions that all can get into, from vocabulary.yaml; any where left out", "positions"),
        "people": optional(Whole(2, 60), "how many come at most", "people"),
        "work": field_of(Quantity(SECONDS, 10, 600), "work at a station", "work_seconds"),
        "rest": field_of(Quantity(SECONDS, 5, 600), "rest and change of stations before each work", "rest_seconds"),
        "rounds": optional(Whole(1, 10), "how often all stations are done; 1 where left out", "rounds"),
        "between rounds": optional(Quantity(SECONDS, 5, 900), "rest before a further round; 'rest' where left out", "between_seconds"),
        "warm up": optional(_CLASS_PART, "before the stations", "warm_up"),
        "stations": field_of(ListOf(_STATION, 2, 16), "the stations, in the order in which people change", "stations"),
        "cool down": optional(_CLASS_PART, "after the stations", "cool_down"),
        "regress when": field_of(Prose(200), "when someone goes down a level", "regress_when"),
        **_KEPT_UP,
        "cautions": optional(ListOf(Name(), 0, 16), "cautions beside those of the exercises, from cautions.yaml", "cautions"),
    },
)

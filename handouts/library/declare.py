"""What each file kind of a library may hold: one declaration for the reader, the editor's schema and the reference.

Bounds here are those of a sensible value, not of a good dose: good doses are content, and the clinic's.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from handouts import model
from handouts.library.clinic_shapes import CLINIC, TIERS, VOCABULARY
from handouts.library.dose_shapes import DOSE, DOSE_CHANGE, DOSE_RANGE
from handouts.library.limit_shapes import LIMIT
from handouts.library.shapes import (
    CODE_PATTERN,
    Choice,
    Day,
    ExerciseName,
    ListOf,
    Name,
    Number,
    Prose,
    RawMapping,
    RecordOf,
    Slug,
    Text,
    Whole,
    field_of,
    optional,
)
from handouts.library.way_shapes import MAX_AFTER, NeedShape, WaysShape

_REVIEW = RecordOf(
    model.Review,
    "review",
    {
        "on": field_of(Day(), "day of the last clinical review, as 2026-09-14", "on"),
        "by": field_of(Prose(80, "a role, not a person's name"), "role of the reviewer, never a person's name", "by"),
        "months": optional(Whole(1, 60), "months for which the review stands; the clinic's where left out", "months"),
    },
)
_MISTAKE = RecordOf(
    model.Mistake,
    "a mistake",
    {
        "see": field_of(Prose(160), "what one sees or feels when it goes wrong", "see"),
        "do": field_of(Prose(160), "what to do instead", "do"),
    },
)
_CODE = Text(4, CODE_PATTERN, "four characters from 2-9 and A-Z without I and O, one a letter at least")
_SOURCES = ListOf(Text(300), 1, 12)

EXERCISE = RecordOf(
    model.Exercise,
    "an exercise",
    {
        "code": field_of(_CODE, "permanent code, printed on every sheet", "code"),
        "title": field_of(Prose(70, "a title"), "what the movement is called", "title"),
        "tier": field_of(Name(), "its tier, from tiers.yaml", "tier"),
        "regions": field_of(ListOf(Name(), 1, 5), "parts of the body, from vocabulary.yaml", "regions"),
        "purpose": field_of(Name(), "what it trains, from vocabulary.yaml", "purpose"),
        "position": field_of(Name(), "starting position, from vocabulary.yaml", "position"),
        "equipment": field_of(ListOf(Name(), 0, 6), "things to fetch first, from vocabulary.yaml", "equipment"),
        "why": field_of(Prose(300), "what it is good for in the patient's day", "why"),
        "also called": optional(ListOf(Prose(40), 0, 12), "other words that someone may search for", "also_called"),
        "dose": field_of(DOSE, "sets, repetitions or hold, side, tempo, rest, days a week, effort", "dose"),
        "dose range": optional(DOSE_RANGE, "how far a clinician may move the dose", "dose_range"),
        "cues": field_of(ListOf(Prose(140), 1, 5), "what to think of, one short sentence each", "cues"),
        "feel": field_of(Prose(240), "what it should feel like, where, how strong", "feel"),
        "mistakes": field_of(ListOf(_MISTAKE, 1, 5), "what people get wrong", "mistakes"),
        "cautions": field_of(ListOf(Name(), 1, 12), "cautions and stop rules, from cautions.yaml", "cautions"),
        "after": optional(ListOf(NeedShape(), 0, MAX_AFTER), "what must be mastered first", "after"),
        "easier": optional(WaysShape(model.Easier), "what is easier: less effort, no more load", "easier"),
        "harder": optional(WaysShape(model.Harder), "what is harder", "harder"),
        "ready when": optional(Prose(300), "what must be true before the next exercise", "ready_when"),
        "demands": optional(ListOf(Name(), 0, 8), "what else it asks of the body, for movement limits", "demands"),
        "reading level": optional(Number(1, 18), "highest US school grade, where not the clinic's", "reading_level"),
        "review": field_of(_REVIEW, "when and by which role it was reviewed", "review"),
        "sources": field_of(_SOURCES, "where the exercise and its dose come from", "sources"),
        "figure": optional(RawMapping("figure"), "the pose in clinical joint angles", "figure"),
    },
)

_PROGRAMME_TIER = RecordOf(
    model.ProgrammeTier,
    "a tier of a programme",
    {
        "tier": field_of(Name(), "the tier, from tiers.yaml", "tier"),
        "enter when": field_of(Prose(300), "the condition for entering this tier", "enter_when"),
        "exercises": field_of(ListOf(ExerciseName(), 1, 30), "its exercises, in order", "exercises"),
    },
)

PROGRAMME = RecordOf(
    model.Programme,
    "a programme",
    {
        "code": field_of(_CODE, "permanent code, printed on every booklet", "code"),
        "title": field_of(Prose(70, "a title"), "what the programme is called", "title"),
        "goal": field_of(Prose(400), "its purpose in two sentences", "goal"),
        "for": field_of(Prose(300), "whom it suits", "suits"),
        "weeks": field_of(Whole(1, 52), "how many weeks it usually takes", "weeks"),
        "cautions": optional(ListOf(Name(), 0, 16), "cautions for the whole programme", "cautions"),
        "tiers": field_of(ListOf(_PROGRAMME_TIER, 1, 12), "its tiers from easiest to hardest", "tiers"),
        "review": field_of(_REVIEW, "when and by which role it was reviewed", "review"),
        "sources": field_of(_SOURCES, "where the programme comes from", "sources"),
    },
)

_PICK = RecordOf(
    model.Pick,
    "an exercise of a bundle",
    {
        "exercise": field_of(ExerciseName(), "the exercise", "exercise"),
        "dose": optional(DOSE_CHANGE, "the numbers of the dose that differ", "change"),
    },
    short=lambda ref: {"exercise": ref, "places": {"exercise": ref.place}},
)

BUNDLE = RecordOf(
    model.Bundle,
    "a bundle",
    {
        "title": field_of(Prose(70, "a title"), "what the bundle is called", "title"),
        "for": field_of(Prose(300), "whom it suits", "suits"),
        "exercises": field_of(ListOf(_PICK, 1, 12), "its exercises, in order", "picks"),
        "weeks": field_of(Whole(1, 6), "weeks of the tick table", "weeks"),
        "review": field_of(_REVIEW, "when and by which role it was reviewed", "review"),
    },
)

CAUTIONS = ListOf(
    RecordOf(
        model.Caution,
        "a caution",
        {
            "slug": field_of(Slug(), "the name by which exercises refer to it", "slug"),
            "kind": field_of(
                Choice(("care", "ask", "stop"), model.CautionKind), "take care, ask first, or stop", "kind"
            ),
            "when": field_of(Prose(300), "the sign or the condition", "when"),
            "do": field_of(Prose(300), "the action", "do"),
            "call": optional(Choice(("none", "clinic", "emergency"), model.Call), "whom to call", "call"),
            "source": field_of(Text(300), "where the rule comes from", "source"),
        },
    ),
    1,
    200,
)

def _only_list(key: str, shape: ListOf, says: str) -> RecordOf:
    """A file that holds one list under one key."""
    return RecordOf(_keep_list, f"the file of {key}", {key: field_of(shape, says, "items")})


def _keep_list(items: tuple[Any, ...] = (), **_: Any) -> tuple[Any, ...]:
    return items


FILES: Mapping[str, RecordOf] = {
    "clinic": CLINIC,
    "tiers": _only_list("tiers", TIERS, "the clinic's tiers, in order"),
    "vocabulary": VOCABULARY,
    "cautions": _only_list("cautions", CAUTIONS, "reusable cautions and stop rules"),
    "limits": _only_list("limits", ListOf(LIMIT, 0, 60), "movement limits, each with its source"),
    "exercise": EXERCISE,
    "programme": PROGRAMME,
    "bundle": BUNDLE,
}
"""Every file kind of a library by name."""

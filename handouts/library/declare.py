"""What each file kind of a library may hold: one declaration for the reader, the editor's schema and the reference.

Bounds here are those of a sensible value, not of a good dose: good doses are content, and the clinic's.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from handouts import model
from handouts.library.clinic_shapes import CLINIC, TIERS
from handouts.library.condition_shapes import CONDITION
from handouts.library.dose_shapes import DOSE, DOSE_RANGE, READY_MEASURES
from handouts.library.limit_shapes import LIMIT
from handouts.library.programme_shapes import BUNDLE, CODE, PROGRAMME, REVIEW, SOURCES
from handouts.library.shapes import (
    Choice,
    ListOf,
    Name,
    Number,
    Prose,
    RawMapping,
    RecordOf,
    Slug,
    Text,
    field_of,
    optional,
)
from handouts.library.standalone_shapes import CLASS, FUNCTION_TEST, LEAFLET, LESSON
from handouts.library.vocabulary_shapes import VOCABULARY
from handouts.library.way_shapes import MAX_AFTER, NeedShape, WaysShape

_MISTAKE = RecordOf(
    model.Mistake,
    "a mistake",
    {
        "see": field_of(Prose(160), "what one sees or feels when it goes wrong", "see"),
        "do": field_of(Prose(160), "what to do instead", "do"),
        "figure": optional(RawMapping("fault"), "what differs from the exercise's own figure; drawn small, with a cross", "figure"),
    },
)

_PICTURE_NAME = r"[a-z0-9]+(?:-[a-z0-9]+)*\.(?:png|jpe?g|webp)"
_OWN_PICTURE = RecordOf(
    model.OwnPicture,
    "a picture",
    {
        "file": field_of(
            Text(80, _PICTURE_NAME, "the name of a PNG, JPEG or WebP file, in small letters"),
            "a PNG, JPEG or WebP file in the folder `pictures`",
            "file_name",
        ),
        "words": field_of(Prose(300), "what it shows, for people who cannot see it", "words"),
        "source": field_of(Text(120), "who made it, and where it comes from", "source"),
        "licence": field_of(Text(80), "why the clinic may print it", "licence"),
    },
)

EXERCISE = RecordOf(
    model.Exercise,
    "an exercise",
    {
        "code": field_of(CODE, "permanent code, printed on every sheet", "code"),
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
        "cautions": field_of(ListOf(Name(), 1, 14), "cautions and stop rules, from cautions.yaml", "cautions"),
        "after": optional(ListOf(NeedShape(), 0, MAX_AFTER), "what must be mastered first", "after"),
        "easier": optional(WaysShape(model.Easier), "what is easier: less effort, no more load", "easier"),
        "harder": optional(WaysShape(model.Harder), "what is harder", "harder"),
        "ready when": optional(Prose(300), "what must be true before the next exercise", "ready_when"),
        "ready measured": optional(
            READY_MEASURES, "what of it can be measured; where 'ready when' is left out, its sentence is made of this", "ready_measures"
        ),
        "demands": optional(ListOf(Name(), 0, 8), "what else it asks of the body, for movement limits", "demands"),
        "reading level": optional(Number(1, 18), "highest US school grade, where not the clinic's", "reading_level"),
        "review": field_of(REVIEW, "when and by which role it was reviewed", "review"),
        "sources": field_of(SOURCES, "where the exercise and its dose come from", "sources"),
        "figure": optional(
            RawMapping("figure", "none"), "the pose in clinical joint angles; `none` where no figure serves", "figure"
        ),
        "picture": optional(_OWN_PICTURE, "the clinic's own picture, where no figure serves", "picture"),
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
    "conditions": _only_list("conditions", ListOf(CONDITION, 0, 60), "what to ask a patient about first, each with its source"),
    "exercise": EXERCISE,
    "programme": PROGRAMME,
    "bundle": BUNDLE,
    "test": FUNCTION_TEST,
    "leaflet": LEAFLET,
    "lesson": LESSON,
    "class": CLASS,
}
"""Every file kind of a library by name."""

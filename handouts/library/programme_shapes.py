"""What the files of programmes and of ready-made bundles may hold, and what exercises have in common with them."""

from __future__ import annotations

from handouts import model
from handouts.library.dose_shapes import DOSE_CHANGE, MAX_REST_SECONDS, SECONDS
from handouts.library.shapes import (
    CODE_PATTERN,
    Choice,
    Day,
    ExerciseName,
    ListOf,
    Name,
    Prose,
    Quantity,
    RecordOf,
    Text,
    Whole,
    field_of,
    optional,
)
from handouts.library.stage_shapes import STAGE, STAGE_RULE

MOST_GIVEN = 6
"""Tests and leaflets handed over with a bundle, at most: as a bundle code holds."""

REVIEW = RecordOf(
    model.Review,
    "review",
    {
        "on": field_of(Day(), "day of the last clinical review, as 2026-09-14", "on"),
        "by": field_of(Prose(80, "a role, not a person's name"), "role of the reviewer, never a person's name", "by"),
        "months": optional(Whole(1, 60), "months for which the review stands; the clinic's where left out", "months"),
    },
)
CODE = Text(4, CODE_PATTERN, "four characters from 2-9 and A-Z without I and O, one a letter at least")
SOURCES = ListOf(Text(300), 1, 12)

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
        "code": field_of(CODE, "permanent code, printed on every booklet", "code"),
        "title": field_of(Prose(70, "a title"), "what the programme is called", "title"),
        "goal": field_of(Prose(400), "its purpose in two sentences", "goal"),
        "for": field_of(Prose(300), "whom it suits", "suits"),
        "weeks": field_of(Whole(1, 52), "how many weeks it usually takes", "weeks"),
        "cautions": optional(ListOf(Name(), 0, 16), "cautions for the whole programme", "cautions"),
        "cues": optional(
            ListOf(Prose(140), 0, 5), "what to think of in each of its exercises, one short sentence each", "cues"
        ),
        "through the day": optional(
            ListOf(Prose(240), 0, 5), "what to do in daily life beside the exercises", "through_the_day"
        ),
        "tiers": field_of(ListOf(_PROGRAMME_TIER, 1, 12), "its tiers from easiest to hardest", "tiers"),
        "stages": optional(
            ListOf(STAGE_RULE, 0, 7), "how doses go on over the weeks, for the clinician to accept or change", "stage_rules"
        ),
        "review": field_of(REVIEW, "when and by which role it was reviewed", "review"),
        "sources": field_of(SOURCES, "where the programme comes from", "sources"),
    },
)

_PICK = RecordOf(
    model.Pick,
    "an exercise of a bundle",
    {
        "exercise": field_of(ExerciseName(), "the exercise", "exercise"),
        "dose": optional(DOSE_CHANGE, "the numbers of the dose that differ", "change"),
        "stages": optional(ListOf(STAGE, 0, 7), "how the dose goes on over the weeks", "stages"),
        "part": optional(
            Choice(tuple(part.value for part in model.PartKind), model.PartKind), "the part of the session; the main part where left out", "part"
        ),
        "substitutes": optional(
            ListOf(Name(), 0, 4), "what is taken in place of things that are missing, from 'substitutes' in vocabulary.yaml", "substitutes"
        ),
    },
    short=lambda ref: {"exercise": ref, "places": {"exercise": ref.place}},
)

BUNDLE = RecordOf(
    model.Bundle,
    "a bundle",
    {
        "title": field_of(Prose(70, "a title"), "what the bundle is called", "title"),
        "for": field_of(Prose(300), "whom it suits", "suits"),
        "programme": optional(Name(), "the programme that it belongs to, whose cautions and cues it has", "programme"),
        "tier": optional(Name(), "the tier of that programme that it is for", "tier"),
        "cautions": optional(ListOf(Name(), 0, 16), "cautions for the whole bundle", "cautions"),
        "exercises": field_of(ListOf(_PICK, 1, 12), "its exercises, in order", "picks"),
        "weeks": field_of(Whole(1, 12), "weeks of the tick table", "weeks"),
        "cue": optional(Name(), "what the session hangs on, from 'session cues' in clinic.yaml", "cue"),
        "rest between rounds": optional(Quantity(SECONDS, 0, MAX_REST_SECONDS), "rest after each round but the last", "round_rest_seconds"),
        "tests": optional(ListOf(Name(), 0, MOST_GIVEN), "tests of function that are handed over with it", "tests"),
        "leaflets": optional(ListOf(Name(), 0, MOST_GIVEN), "leaflets that are handed over with it", "leaflets"),
        "review": field_of(REVIEW, "when and by which role it was reviewed", "review"),
    },
)

"""How a movement limit is typed in ``limits.yaml``: its phases, each with bounds on motions, positions or demands."""

from __future__ import annotations

from handouts import model
from handouts.library.shapes import (
    Choice,
    Flag,
    ListOf,
    Name,
    Number,
    Prose,
    RecordOf,
    Slug,
    Text,
    Whole,
    field_of,
    optional,
)

BOUND = RecordOf(
    model.Bound,
    "a bound",
    {
        "motion": optional(Text(60), "a joint motion in clinical words, such as hip flexion", "motion"),
        "at most": optional(Number(-180, 180), "largest angle in degrees that is allowed", "most"),
        "position": optional(Name(), "a starting position to avoid", "position"),
        "demand": optional(Text(60), "a demand to avoid, as exercises declare it", "demand"),
        "together": optional(Text(40), "bounds with the same word count only when all are exceeded", "together"),
    },
)
_PHASE = RecordOf(
    model.LimitPhase,
    "a phase of a limit",
    {
        "name": field_of(Prose(120), "what the phase is called", "name"),
        "from week": optional(Whole(0, 520), "first week in which it holds", "from_week"),
        "to week": optional(Whole(0, 520), "last week in which it holds", "to_week"),
        "bounds": field_of(ListOf(BOUND, 1, 20), "what may not be exceeded", "bounds"),
    },
)
LIMIT = RecordOf(
    model.Limit,
    "a limit",
    {
        "slug": field_of(Slug(), "its short name", "slug"),
        "name": field_of(Prose(80), "what clinicians see", "name"),
        "says": field_of(Prose(500), "the limit in words", "says"),
        "source": field_of(Text(400), "where it comes from", "source"),
        "status": field_of(Choice(("confirmed", "from memory")), "whether the source was read", "status"),
        "phases": field_of(ListOf(_PHASE, 1, 12), "its phases in order", "phases"),
        "default": optional(Flag(), "no where the clinic uses another version of the same limit", "default"),
    },
)

"""What files may say of a plan over weeks: its stages, a programme's rule for them, the bound of growth, what a session hangs on."""

from __future__ import annotations

from handouts import model
from handouts.library.dose_shapes import DOSE_CHANGE, METRES, SECONDS, WeightShape
from handouts.library.limit_shapes import STATUS
from handouts.library.shapes import ListOf, Prose, Quantity, RecordOf, Slug, Text, Whole, field_of, optional

_WEEK = optional(
    Whole(2, 12), "the week of the plan in which it begins; left out: when the stage before is easy ('next dose' in clinic.yaml)", "week"
)
STAGE_RULE = RecordOf(
    model.StageRule,
    "a stage of a programme",
    {
        "from week": _WEEK,
        "sets": optional(Whole(1, 3), "sets that are added", "sets"),
        "reps": optional(Whole(1, 20), "repetitions that are added to a set", "reps"),
        "hold": optional(Quantity(SECONDS, 1, 60), "what is added to a hold", "hold_seconds"),
        "time": optional(Quantity(SECONDS, 1, 600), "what is added to a time", "time_seconds"),
        "distance": optional(Quantity(METRES, 1, 1000), "what is added to a distance", "distance_metres"),
        "weight": optional(WeightShape(), "weight that is added", "weight_kg"),
        "days": optional(Whole(1, 6), "days a week that are added", "days"),
    },
)
STAGE = RecordOf(
    model.DoseStage,
    "a stage",
    {
        "from week": _WEEK,
        "dose": field_of(
            RecordOf(
                model.DoseChange,
                "a stage's dose",
                {key: DOSE_CHANGE.fields[key] for key in ("sets", "reps", "hold", "time", "distance", "weight", "days", "rest")},
            ),
            "the numbers that differ from the stage before",
            "change",
        ),
    },
)
GROWTH = RecordOf(
    model.Growth,
    "the bound of growth",
    {
        "percent a week": field_of(
            Whole(1, 300),
            "sets times what is counted, days a week, and the weight where there is one; a bundle's landings and running too",
            "percent",
        ),
        "source": field_of(Text(300), "where the bound comes from", "source"),
        "status": field_of(STATUS, "whether it was read in the source itself", "status"),
    },
)
SESSION_CUES = ListOf(
    RecordOf(
        model.SessionCue,
        "a cue",
        {
            "slug": field_of(Slug(), "a short name that never changes", "slug"),
            "name": field_of(Prose(40), "when, as in 'after breakfast'", "name"),
        },
    ),
    0,
    12,
)

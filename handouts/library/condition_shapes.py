"""How a condition is typed in ``conditions.yaml``: what to ask, and rules that name what exercises it touches."""

from __future__ import annotations

from handouts import model
from handouts.library.limit_shapes import STATUS
from handouts.library.shapes import ListOf, Name, Prose, RecordOf, Slug, Text, field_of, optional

_RULE = RecordOf(
    model.ConditionRule,
    "a rule of a condition",
    {
        "says": field_of(Prose(300), "what to ask or to change, for the clinician", "says"),
        "positions": optional(ListOf(Name(), 1, 12), "starting positions, from vocabulary.yaml", "positions"),
        "equipment": optional(ListOf(Name(), 1, 12), "things to fetch, from vocabulary.yaml", "equipment"),
        "demands": optional(ListOf(Name(), 1, 12), "demands, from vocabulary.yaml", "demands"),
        "cautions": optional(ListOf(Name(), 1, 12), "cautions that an exercise carries, from cautions.yaml", "cautions"),
        "limits": optional(ListOf(Name(), 1, 12), "movement limits that an exercise may exceed, from limits.yaml", "limits"),
        "exercises": optional(ListOf(Name(), 1, 30), "exercises by name", "exercises"),
        "source": optional(Text(400), "where the rule comes from, where not from the condition's source", "source"),
        "status": optional(STATUS, "whether the rule was read in a source, where not as the condition", "status"),
    },
)
CONDITION = RecordOf(
    model.PatientCondition,
    "a condition",
    {
        "slug": field_of(Slug(), "its short name", "slug"),
        "name": field_of(Prose(80), "what clinicians tick", "name"),
        "asks": field_of(Prose(300), "what to ask the patient", "asks"),
        "rules": field_of(ListOf(_RULE, 1, 12), "which exercises need a question or a change; any of what a rule names is enough", "rules"),
        "source": field_of(Text(400), "where it comes from", "source"),
        "status": field_of(STATUS, "whether it was read in the source itself", "status"),
    },
)

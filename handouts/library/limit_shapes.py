"""How a movement limit is typed in ``limits.yaml``: its phases, each with bounds on motions, positions or demands.

Says how it is written; what a bound means and whether it is whole, other rooms say.
"""

from __future__ import annotations

from dataclasses import dataclass

from handouts import model
from handouts.dose.weight import kilograms_of
from handouts.library.shapes import (
    Choice,
    Flag,
    ListOf,
    Name,
    Number,
    Problems,
    Prose,
    RecordOf,
    Schema,
    Slug,
    Text,
    Whole,
    field_of,
    optional,
)
from handouts.source.nodes import Node

MAX_KILOGRAMS, MAX_POUNDS = 300, 660


@dataclass(frozen=True, slots=True)
class MotionName:
    """The clinical name of a joint motion, with its place; whether it exists, a rule asks."""

    wanted: str = "the clinical name of a motion"

    def read(self, node: Node, problems: Problems) -> model.Ref | None:
        text = Text(60).read(node, problems)
        return None if text is None else model.Ref(text, node.place)

    def schema(self) -> Schema:
        return Text(60).schema()


@dataclass(frozen=True, slots=True)
class PoundsShape:
    """A number of pounds to the hundredth, as kilograms."""

    wanted: str = f"a number from 0 to {MAX_POUNDS}"

    def read(self, node: Node, problems: Problems) -> float | None:
        number = Number(0, MAX_POUNDS).read(node, problems)
        return None if number is None else kilograms_of(number, "lb")

    def schema(self) -> Schema:
        return Number(0, MAX_POUNDS).schema()


BOUND = RecordOf(
    model.Bound,
    "a bound",
    {
        "motion": optional(MotionName(), "a joint motion in clinical words, such as hip flexion", "motion"),
        "at most": optional(Whole(0, 180), "largest angle in degrees that is allowed", "most"),
        "at least": optional(Whole(0, 180), "smallest angle in degrees that is allowed", "least"),
        "position": optional(Name(), "a starting position to avoid, from vocabulary.yaml", "position"),
        "demand": optional(Name(), "a demand to avoid, from vocabulary.yaml", "demand"),
        "kilograms at most": optional(Number(0, MAX_KILOGRAMS), "heaviest weight allowed, in kilograms", "most_weight_kg"),
        "pounds at most": optional(
            PoundsShape(), "heaviest weight allowed, in pounds", "most_weight_kg"
        ),
        "together": optional(
            Text(40), "bounds with the same word count only when all are exceeded at once on one side", "together"
        ),
    },
)
STATUS = Choice(("confirmed", "read in a summary", "from memory", "clinic's choice"))
"""Whether a number was read in its source."""
_PHASE = RecordOf(
    model.LimitPhase,
    "a phase of a limit",
    {
        "name": field_of(Prose(120), "what the phase is called", "name"),
        "from week": optional(Whole(0, 520), "first week in which it holds", "from_week"),
        "to week": optional(Whole(0, 520), "last week in which it holds", "to_week"),
        "bounds": field_of(ListOf(BOUND, 0, 20), "what may not be exceeded; [] where nothing is bound", "bounds"),
        "source": optional(Text(400), "where this phase comes from, where not from the limit's source", "source"),
        "status": optional(STATUS, "whether this phase was read in a source, where not as the limit", "status"),
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
        "status": field_of(STATUS, "whether it was read in the source itself", "status"),
        "phases": field_of(ListOf(_PHASE, 1, 12), "its phases in order", "phases"),
        "group": optional(Text(60), "a word shared by the versions of one limit where sources disagree", "group"),
        "caution": optional(Name(), "the caution that exercises need which may exceed it, from cautions.yaml", "caution"),
        "default": optional(Flag(), "no where the clinic does not use this limit, or not this version", "default"),
    },
)

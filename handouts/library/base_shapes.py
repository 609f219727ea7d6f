"""What a clinic says in ``clinic.yaml`` of the library that it stands on."""

from __future__ import annotations

import re
from dataclasses import dataclass

from handouts.library.dose_shapes import DOSE_CHANGE
from handouts.library.scalars import CODE_CHARACTERS
from handouts.library.shapes import (
    CODE_PATTERN,
    SLUG_PATTERN,
    ExerciseName,
    Field,
    ListOf,
    Problems,
    Schema,
    Text,
    optional,
    wrong,
)
from handouts.model import OwnDose, OwnOrder, Ref
from handouts.problems import Problem
from handouts.source.bases import PATH_PATTERN, PATH_WANTED
from handouts.source.nodes import Entry, Mapping, Node

OWN_KEYS = ("name", "about", "site", "locations")
"""Keys of ``clinic.yaml`` that every clinic writes for itself: with the base's its sheets would lead to the base."""
MOST_CHANGES = 1000
"""Most things that a clinic changes, orders or leaves out."""
_EXERCISES = ListOf(ExerciseName(), 1, 30)


@dataclass(frozen=True, slots=True)
class OwnDosesShape:
    """What differs of a dose, by the code of its exercise."""

    wanted: str = "keys of a changed dose by code, as `{H7K2: {sets: 2}}`"

    def read(self, node: Node, problems: Problems) -> tuple[OwnDose, ...] | None:
        found = []
        for entry in _entries(node, CODE_PATTERN, "the code of an exercise", problems):
            change = DOSE_CHANGE.read(entry.value, problems)
            if change is not None:
                found.append(OwnDose(place=entry.place, code=entry.key, change=change))
        return tuple(found)

    def schema(self) -> Schema:
        return {"type": "object", "propertyNames": {"pattern": f"^{CODE_PATTERN}$"}, "additionalProperties": DOSE_CHANGE.schema()}


@dataclass(frozen=True, slots=True)
class OwnOrderShape:
    """Exercises in order: of a bundle by its name, of a programme by its code and its tiers."""

    wanted: str = "lists of exercises by name, or by code and tier, as `{first-days: [step-up], P5T4: {build: [step-up]}}`"

    def read(self, node: Node, problems: Problems) -> tuple[OwnOrder, ...] | None:
        found = []
        for entry in _entries(node, f"{CODE_PATTERN}|{SLUG_PATTERN}", "the code of a programme, or the name of a bundle", problems):
            steps = self._steps(entry, problems)
            if steps:
                found.append(OwnOrder(place=entry.place, name=entry.key, steps=steps))
        return tuple(found)

    def _steps(self, entry: Entry, problems: Problems) -> tuple[tuple[str, tuple[Ref, ...]], ...]:
        if not isinstance(entry.value, Mapping):
            exercises = _EXERCISES.read(entry.value, problems)
            return (("", exercises),) if exercises else ()
        rows = _entries(entry.value, SLUG_PATTERN, "the name of a tier", problems)
        return tuple((each.key, exercises) for each in rows if (exercises := _EXERCISES.read(each.value, problems)))

    def schema(self) -> Schema:
        steps: Schema = {"type": "object", "additionalProperties": _EXERCISES.schema()}
        return {"type": "object", "additionalProperties": {"anyOf": [_EXERCISES.schema(), steps]}}


@dataclass(frozen=True, slots=True)
class CodeOrName:
    """The code of something, or the name of a bundle."""

    wanted: str = "a code of four characters, or the name of a bundle"

    def read(self, node: Node, problems: Problems) -> Ref | None:
        text = Text(64, f"{CODE_PATTERN}|{SLUG_PATTERN}", self.wanted).read(node, problems)
        return None if text is None else Ref(text, node.place)

    def schema(self) -> Schema:
        return {"type": "string", "pattern": f"^(?:{CODE_PATTERN}|{SLUG_PATTERN})$"}


def _entries(node: Node, pattern: str, wanted: str, problems: Problems) -> list[Entry]:
    """The lines of a group of keys whose keys fit a pattern; a problem for each that does not."""
    if not isinstance(node, Mapping) or len(node.entries) > MOST_CHANGES:
        problems.append(wrong(node, "a group of keys is wanted here", f"Write 'key: value' lines, indented; each key is {wanted}."))
        return []
    for entry in node.entries:
        if not re.fullmatch(pattern, entry.key):
            problems.append(Problem(entry.place, "wrong-value", f"'{entry.key}' is not {wanted}", f"Write {wanted}."))
    return [entry for entry in node.entries if re.fullmatch(pattern, entry.key)]


BASE_FIELDS: dict[str, Field] = {
    "base": optional(
        Text(400, PATH_PATTERN, PATH_WANTED), "the folder of a library that this one stands on, as ../shared-library", "stands_on"
    ),
    "doses": optional(OwnDosesShape(), "what is different here of the base's doses, by the code of the exercise", "own_doses"),
    "order": optional(
        OwnOrderShape(),
        "the exercises of the base's programmes (by code and tier) and bundles (by name) that this clinic has in another order, or others",
        "own_order",
    ),
    "left out": optional(
        ListOf(CodeOrName(), 0, MOST_CHANGES), "codes of what the base has and this clinic has not; bundles by name", "left_out"
    ),
    "codes kept free": optional(
        ListOf(Text(1, f"[{CODE_CHARACTERS[8:]}]", "a letter that codes may begin with"), 1, 12),
        "first letters of codes that this library never gives, for clinics that stand on it",
        "codes_kept_free",
    ),
}
"""Keys of ``clinic.yaml``; all but the last only where the library stands on another."""

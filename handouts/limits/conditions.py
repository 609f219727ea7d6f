"""Which exercises the rules of a condition touch, and by what: positions, things, demands, cautions, movement limits, names.

What cannot be judged is told as such; an exercise that is missing here was not named by the rules, which is no more than that.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from handouts.limits.demands import DERIVED_DEMANDS, demands_of
from handouts.limits.record import Findings
from handouts.limits.shown import ShownMotion
from handouts.model import ConditionRule, Exercise, Library, PatientCondition


@dataclass(frozen=True, slots=True)
class ConditionReason:
    """Why a rule touches an exercise."""

    kind: str
    """The list of the rule that names it: ``positions``, ``equipment``, ``demands``, ``cautions``, ``limits`` or ``exercises``."""
    name: str
    """The slug in that list."""
    is_unknown: bool = False
    """Whether it cannot be judged, because the exercise has no figure."""


Touched = Mapping[str, tuple[tuple[tuple[ConditionReason, tuple[str, ...]], ...], ...]]
"""By condition, for each of its rules, why it touches exercises: each reason with their slugs."""


def find_touched(library: Library, shown: Mapping[str, ShownMotion], findings: Findings) -> Touched:
    """What the rules of each condition touch; ``shown`` is what figures show, ``findings`` what limits are exceeded."""
    demands = {item.slug: demands_of(item, figure.facts if (figure := shown.get(item.slug)) else None) for item in library.exercises}
    names = {item.slug: own_names(item) for item in library.exercises}

    def reason(exercise: Exercise, kind: str, name: str) -> ConditionReason | None:
        if kind == "demands":
            unknown = exercise.slug not in shown and name in DERIVED_DEMANDS and name not in demands[exercise.slug]
            return ConditionReason(kind, name, unknown) if unknown or name in demands[exercise.slug] else None
        if kind == "limits":
            found = [each for each in findings.get(exercise.slug, ()) if each.limit == name]
            return ConditionReason(kind, name, all(each.is_unknown for each in found)) if found else None
        return ConditionReason(kind, name) if name in names[exercise.slug][kind] else None

    def of_rule(rule: ConditionRule) -> tuple[tuple[ConditionReason, tuple[str, ...]], ...]:
        found: dict[ConditionReason, list[str]] = {}
        for kind, refs in rule.named.items():
            for ref in refs:
                for exercise in library.exercises:
                    why = reason(exercise, kind, ref.slug)
                    if why is not None:
                        found.setdefault(why, []).append(exercise.slug)
        return tuple((why, tuple(slugs)) for why, slugs in found.items())

    return {item.slug: tuple(map(of_rule, item.rules)) for item in library.conditions}


def own_names(exercise: Exercise) -> dict[str, frozenset[str]]:
    """What an exercise names by itself, by the lists of a rule; its demands are those that its author declared."""
    return {
        "positions": frozenset({exercise.position.slug}),
        "equipment": frozenset(ref.slug for ref in exercise.equipment),
        "demands": frozenset(ref.slug for ref in exercise.demands),
        "cautions": frozenset(ref.slug for ref in exercise.cautions),
        "exercises": frozenset({exercise.slug}),
    }


def is_judged_by_files(condition: PatientCondition) -> bool:
    """Whether files alone say what a condition touches: none of its rules asks a figure."""
    return not any(rule.limits or any(ref.slug in DERIVED_DEMANDS for ref in rule.demands) for rule in condition.rules)

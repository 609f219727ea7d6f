"""Which exercises the rules of a condition touch, and by what: positions, things, demands, cautions, movement limits, names.

What cannot be judged is told as such; an exercise that is missing here was not named by the rules, which is no more than that.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from handouts.limits.demands import DERIVED_DEMANDS, demands_of
from handouts.limits.record import Findings
from handouts.limits.shown import ShownMotion
from handouts.model import Condition, ConditionRule, Exercise, Library


@dataclass(frozen=True, slots=True)
class Touch:
    """Why a rule touches an exercise."""

    kind: str
    """The list of the rule that names it: ``positions``, ``equipment``, ``demands``, ``cautions``, ``limits`` or ``exercises``."""
    name: str
    """The slug in that list."""
    is_unknown: bool = False
    """Whether it cannot be judged, because the exercise has no figure."""


Touched = Mapping[str, tuple[tuple[tuple[Touch, tuple[str, ...]], ...], ...]]
"""By condition, for each of its rules, why it touches exercises: each reason with their slugs."""


def find_touched(library: Library, shown: Mapping[str, ShownMotion], findings: Findings) -> Touched:
    """What the rules of each condition touch; ``shown`` is what figures show, ``findings`` what limits are exceeded."""
    demands = {item.slug: demands_of(item, figure.facts if (figure := shown.get(item.slug)) else None) for item in library.exercises}

    def touches(exercise: Exercise, rule: ConditionRule) -> Iterator[Touch]:
        own = own_names(exercise)
        for kind in ("positions", "equipment", "cautions", "exercises"):
            yield from (Touch(kind, ref.slug) for ref in getattr(rule, kind) if ref.slug in own[kind])
        for ref in rule.demands:
            unknown = exercise.slug not in shown and ref.slug in DERIVED_DEMANDS and ref.slug not in demands[exercise.slug]
            if unknown or ref.slug in demands[exercise.slug]:
                yield Touch("demands", ref.slug, unknown)
        for ref in rule.limits:
            found = [each for each in findings.get(exercise.slug, ()) if each.limit == ref.slug]
            if found:
                yield Touch("limits", ref.slug, all(each.is_unknown for each in found))

    def of_rule(rule: ConditionRule) -> tuple[tuple[Touch, tuple[str, ...]], ...]:
        found: dict[Touch, list[str]] = {}
        for exercise in library.exercises:
            for touch in touches(exercise, rule):
                found.setdefault(touch, []).append(exercise.slug)
        return tuple((touch, tuple(slugs)) for touch, slugs in found.items())

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


def is_judged_by_files(condition: Condition) -> bool:
    """Whether files alone say what a condition touches: none of its rules asks a figure."""
    return not any(rule.limits or any(ref.slug in DERIVED_DEMANDS for ref in rule.demands) for rule in condition.rules)

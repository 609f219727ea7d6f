"""Movement limits of a whole library as plain values for ``check --json``.

Only what was found and what could not be judged; an exercise that is missing here was not found to exceed
anything by what its figure shows and its author declared, which is no more than that.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from handouts.limits.demands import needless_demands
from handouts.limits.find import TOLERANCE_DEGREES, BoundSubject, Finding, find_conflicts
from handouts.limits.shown import ShownMotion
from handouts.model import Exercise, Library, Limit
from handouts.problems import Grade, Problem
from handouts.tasks.calling import Caller, call_now

Findings = Mapping[str, tuple[Finding, ...]]
"""By exercise slug what it may exceed."""


def find_all(library: Library, shown: Mapping[str, ShownMotion], call: Caller = call_now) -> Findings:
    """By exercise what it may exceed of all limits, those that the clinic does not use included."""
    return {item.slug: call(find_conflicts, item, shown.get(item.slug), library.limits) for item in library.exercises}


def check_demands(library: Library, shown: Mapping[str, ShownMotion]) -> tuple[Problem, ...]:
    """Demands that an author declared though the figure tells them."""
    return tuple(
        Problem(
            ref.place,
            "needless-demand",
            f"the figure tells the demand '{ref.slug}' by itself",
            "Take it out, so that it cannot disagree with the figure.",
            Grade.NOTICE,
        )
        for exercise in library.exercises
        if exercise.slug in shown
        for ref in needless_demands(exercise, shown[exercise.slug].facts)
    )


def limits_record(library: Library, found: Findings) -> dict[str, Any]:
    """Limits, what exercises may exceed of them (``find_all``), and which could not be checked against which."""
    limits = {limit.slug: limit for limit in library.limits}
    return {
        "note": library.clinic.defer.surgeon.text,
        "degrees past a bound that are not reported": TOLERANCE_DEGREES,
        "limits": [_limit(limit) for limit in library.limits],
        "may exceed": [
            _finding(exercise, limits[finding.limit], finding)
            for exercise in library.exercises
            for finding in found[exercise.slug]
            if not finding.is_unknown
        ],
        "could not be checked": [
            {"exercise": exercise.slug, "limit": finding.limit, "phase": _phase_name(limits, finding)}
            for exercise in library.exercises
            for finding in found[exercise.slug]
            if finding.is_unknown
        ],
    }


def _phase_name(limits: Mapping[str, Limit], finding: Finding) -> str:
    return limits[finding.limit].phases[finding.phase].name.text


def _limit(limit: Limit) -> dict[str, Any]:
    return {
        "slug": limit.slug,
        "name": limit.name.text,
        "used": limit.default,
        "group": limit.group,
        "source": limit.source,
        "status": limit.status,
        "caution": limit.caution.slug if limit.caution else None,
        "phases": [
            {
                "name": phase.name.text,
                "from week": phase.from_week,
                "to week": phase.to_week,
                "source": phase.source or limit.source,
                "status": phase.status or limit.status,
            }
            for phase in limit.phases
        ],
    }


def _finding(exercise: Exercise, limit: Limit, finding: Finding) -> dict[str, Any]:
    return {
        "exercise": exercise.slug,
        "limit": limit.slug,
        "used": limit.default,
        "phase": limit.phases[finding.phase].name.text,
        "at": finding.moment.value,
        "side": finding.whose.value,
        "exceeds": [
            {part.what.value: part.name}
            | (
                {}
                if part.over is None
                else {
                    "reached": part.reached,
                    "at least" if part.below else "at most": part.allowed,
                    "over": part.over,
                    "unit": "kg" if part.what is BoundSubject.WEIGHT else "degrees",
                }
            )
            for part in finding.parts
        ],
    }

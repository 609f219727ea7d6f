"""Programmes: no step takes longer than the clinic's session."""

from __future__ import annotations

from collections.abc import Iterator

from handouts.dose.session import SessionTotals, add_up_session
from handouts.problems import Grade, Problem
from handouts.rules.question import Question


def check_programme_length(question: Question) -> Iterator[Problem]:
    """Does every tier of a programme stay within the clinic's minutes and number of exercises?"""
    library = question.library
    policy = library.clinic.session
    for programme in library.programmes:
        for tier in programme.tiers:
            known = [library.exercise[ref.slug] for ref in tier.exercises if ref.slug in library.exercise]
            totals = add_up_session([(exercise, exercise.dose) for exercise in known], policy)
            seconds = totals.seconds
            if seconds > policy.minutes * 60:
                yield Problem(
                    tier.at("exercises"),
                    "tier-long",
                    f"a session of the tier '{tier.tier}' takes {show_minutes(seconds, policy.minutes)} minutes{not_known(totals)}, "
                    f"the clinic advises at most {policy.minutes}",
                    "Take some out, or make doses smaller.",
                    Grade.NOTICE,
                )
            if len(known) > policy.exercises:
                yield Problem(
                    tier.at("exercises"),
                    "tier-many",
                    f"the tier '{tier.tier}' holds {len(known)} exercises, the clinic advises at most {policy.exercises}",
                    "Take some out.",
                    Grade.NOTICE,
                )


def show_minutes(seconds: int, most: int) -> str:
    """Seconds as whole minutes; with tenths where they would read like the limit of ``most`` minutes."""
    return f"{seconds / 60:.0f}" if round(seconds / 60) > most else f"{seconds / 60:.1f}"


def not_known(totals: SessionTotals) -> str:
    """What the minutes of a session do not hold; empty where they hold all."""
    return " without what is done by occasion" if totals.by_occasion else ""

"""What must be mastered first: no cycle, no jump over a tier, nothing from a later tier, no dead ends."""

from __future__ import annotations

from collections.abc import Iterator

from handouts.dose.progression import find_cycles
from handouts.model import Library, Ref, WholeStep
from handouts.problems import Grade, Place, Problem
from handouts.rules.question import Question


def check_cycles(question: Question) -> Iterator[Problem]:
    """Does no exercise come before itself?"""
    for ring in find_cycles(question.progression.needs):
        exercise = question.library.exercise[ring[0]]
        yield Problem(
            exercise.at("after"),
            "progression-ring",
            f"these exercises come before one another: {', '.join(ring)}",
            "Take one of them out of the 'after' of another.",
        )


def check_tier_order(question: Question) -> Iterator[Problem]:
    """Does every exercise build on one of its own tier or of the tier before?"""
    library = question.library
    for exercise in library.exercises:
        rank = library.tier_rank.get(exercise.tier.slug)
        for need in exercise.after:
            name, tier, place = _named(need, library)
            other = library.tier_rank.get(tier)
            if rank is None or other is None:
                continue
            if other > rank:
                yield Problem(
                    place,
                    "progression-later-tier",
                    f"{name} is in the later tier '{tier}', but comes before this exercise in '{exercise.tier}'",
                    "Move one of the two to another tier, or delete the name here.",
                )
            elif rank - other > 1:
                yield Problem(
                    place,
                    "progression-jump",
                    f"this exercise in '{exercise.tier}' builds directly on {name} in '{tier}' and jumps over a tier",
                    "Name an exercise of the tier between them.",
                )


def _named(need: Ref | WholeStep, library: Library) -> tuple[str, str, Place]:
    """What must be mastered first, as it is told, its tier (empty where unknown), and where it is named."""
    if isinstance(need, WholeStep):
        return f"the whole step '{need.tier}'", need.tier.slug, need.tier.place
    known = library.exercise.get(need.slug)
    return f"'{need.slug}'", known.tier.slug if known else "", need.place


def check_ready_when(question: Question) -> Iterator[Problem]:
    """Does every exercise but the last of its line say when the patient is ready for the next?"""
    for exercise in question.library.exercises:
        harder = question.progression.opens.get(exercise.slug, ())
        if harder and exercise.ready_when is None and exercise.ready_measures is None:
            yield Problem(
                exercise.place,
                "ready-when-missing",
                f"'{harder[0]}' comes after this exercise, but nothing says when the patient is ready for it",
                "Add 'ready when' with a condition that the patient can check.",
            )


def check_programme_tiers(question: Question) -> Iterator[Problem]:
    """Do a programme's tiers come in the clinic's order, and hold only exercises of their own tier?"""
    library = question.library
    for programme in library.programmes:
        last = -1
        for tier in programme.tiers:
            rank = library.tier_rank.get(tier.tier.slug)
            if rank is None:
                continue
            if rank <= last:
                yield Problem(
                    tier.tier.place,
                    "programme-tier-order",
                    f"the tier '{tier.tier}' stands out of the order of tiers.yaml",
                    "Put the tiers in order, each once.",
                )
            last = max(last, rank)
            for ref in tier.exercises:
                exercise = library.exercise.get(ref.slug)
                if exercise and exercise.tier != tier.tier and exercise.tier.slug in library.tier_rank:
                    yield Problem(
                        ref.place,
                        "programme-other-tier",
                        f"'{ref.slug}' belongs to the tier '{exercise.tier}', not to '{tier.tier}'",
                        "Move it to that tier of the programme, or change its 'tier'.",
                    )


def check_in_programme(question: Question) -> Iterator[Problem]:
    """Does every exercise belong to a programme?"""
    if any(name.startswith("programmes/") for name in question.library.unread):
        return  # what such a programme holds is not known
    for exercise in question.library.exercises:
        if exercise.slug not in question.library.programmes_of:
            yield Problem(
                exercise.place,
                "in-no-programme",
                "no programme uses this exercise",
                "Add it to a tier of a programme.",
                Grade.NOTICE,
            )


def check_programme_whole(question: Question) -> Iterator[Problem]:
    """Does a programme hold what its exercises build on?"""
    for programme in question.library.programmes:
        held = set(programme.exercise_slugs)
        for tier in programme.tiers:
            for ref in tier.exercises:
                easier = question.progression.needs.get(ref.slug, ())
                if easier and not held.intersection(easier):
                    yield Problem(
                        ref.place,
                        "programme-gap",
                        f"'{ref.slug}' builds on '{easier[0]}', which this programme does not hold",
                        f"Add '{easier[0]}' to the programme.",
                    )

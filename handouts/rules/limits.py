"""Movement limits: their names, their versions, their bounds, their weeks."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from handouts.limits import MOTIONS
from handouts.model import Bound, Limit, LimitPhase
from handouts.problems import Problem, suggest
from handouts.rules.question import Question


def _phases(question: Question) -> Iterator[LimitPhase]:
    for limit in question.library.limits:
        yield from limit.phases


def _bounds(question: Question) -> Iterator[Bound]:
    for phase in _phases(question):
        yield from phase.bounds


def check_motions(question: Question) -> Iterator[Problem]:
    """Is every motion that a bound names one that figures know?"""
    for bound in _bounds(question):
        ref = bound.motion
        if ref is not None and ref.slug not in MOTIONS:
            yield Problem(
                ref.place, "unknown-motion", f"no figure has a motion '{ref.slug}'", suggest(ref.slug, MOTIONS)
            )


def check_demands(question: Question) -> Iterator[Problem]:
    """Is every demand of a limit or an exercise, and every position of a limit, declared in vocabulary.yaml?"""
    terms = question.library.term
    demands = [ref for exercise in question.library.exercises for ref in exercise.demands]
    demands += [bound.demand for bound in _bounds(question) if bound.demand]
    positions = [bound.position for bound in _bounds(question) if bound.position]
    for name, refs in (("demands", demands), ("positions", positions)):
        for ref in refs:
            if ref.slug not in terms[name]:
                what = f"'{ref.slug}' is not declared in '{name}' of vocabulary.yaml"
                yield Problem(ref.place, "unknown-name", what, suggest(ref.slug, terms[name]))


def check_limit_groups(question: Question) -> Iterator[Problem]:
    """Does the clinic use exactly one of the versions of a limit?"""
    groups: dict[str, list[Limit]] = {}
    for limit in question.library.limits:
        if limit.group is not None:
            groups.setdefault(limit.group, []).append(limit)
    for name, versions in groups.items():
        used = [limit for limit in versions if limit.default]
        if len(used) != 1:
            slugs = ", ".join(limit.slug for limit in used) or "none"
            yield Problem(
                versions[0].at("group"),
                "limit-group",
                f"the clinic uses {len(used)} of the {len(versions)} versions in '{name}' ({slugs})",
                "Write 'default: no' in all of them but one.",
            )


def check_bounds(question: Question) -> Iterator[Problem]:
    """Does every bound say what may not be exceeded, with the numbers that belong to it?"""
    for bound in _bounds(question):
        numbers = bound.most is not None or bound.least is not None
        other = bound.position or bound.demand or bound.most_weight_kg is not None
        if bound.motion is not None and not numbers:
            yield Problem(
                bound.motion.place,
                "limit-bound",
                f"the bound on '{bound.motion}' has no number",
                "Add 'at most' or 'at least', in degrees.",
            )
        elif bound.motion is None and numbers:
            yield Problem(bound.place, "limit-bound", "the bound has degrees and no motion", "Add 'motion'.")
        elif bound.motion is None and not other:
            what = "the bound does not say what it bounds"
            yield Problem(bound.place, "limit-bound", what, "Add a motion, a position, a demand or a weight.")


def check_combinations(question: Question) -> Iterator[Problem]:
    """Does every word in 'together' join at least two bounds of its phase?"""
    for phase in _phases(question):
        counts = Counter(bound.together for bound in phase.bounds if bound.together)
        for bound in phase.bounds:
            if bound.together and counts[bound.together] == 1:
                yield Problem(
                    bound.at("together"),
                    "limit-alone",
                    f"'{bound.together}' joins this bound to no other one of its phase",
                    "Write the same word in the bounds that count only together, or take it out.",
                )


def check_weeks(question: Question) -> Iterator[Problem]:
    """Do the phases of a limit follow one another, none before the last one has ended?"""
    for limit in question.library.limits:
        after: int | None = -1
        for phase in limit.phases:
            first, last = phase.from_week or 0, phase.to_week
            if last is not None and last < first:
                what = f"the phase ends in week {last}, before it begins in week {first}"
                yield Problem(phase.at("to_week"), "limit-weeks", what, "Exchange the two, or correct one.")
            elif after is None or first <= after:
                ended = "has no last week" if after is None else f"lasts through week {after}"
                yield Problem(
                    phase.at("from_week"),
                    "limit-weeks",
                    f"the phase begins in week {first}, and the one before it {ended}",
                    "Let each phase begin after the one before it: a week belongs to one phase.",
                )
            after = last

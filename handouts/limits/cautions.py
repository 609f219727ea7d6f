"""Whether an exercise carries the cautions that its own movement asks for.

A limit names its caution in ``limits.yaml``, a demand its cautions in ``vocabulary.yaml``.  Regions, positions and
equipment need no figure: a rule of the library asks for theirs.  Slight excesses ask for nothing.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from handouts.limits.demands import demands_of
from handouts.limits.find import BoundSubject, Finding, LimitCondition
from handouts.limits.record import Findings, find_all
from handouts.limits.shown import ShownMotion
from handouts.model import Exercise, Library, Limit
from handouts.problems import Problem
from handouts.tasks.calling import Caller


def hold_to_limits(library: Library, shown: Mapping[str, ShownMotion], call: Caller) -> tuple[Findings, tuple[Problem, ...]]:
    """What exercises may exceed of the limits, and the cautions that they lack; ``call`` asks about each."""
    findings = find_all(library, shown, call)
    return findings, check_limit_cautions(library, shown, findings)


def check_limit_cautions(library: Library, shown: Mapping[str, ShownMotion], findings: Findings) -> tuple[Problem, ...]:
    """The cautions that exercises lack: of the limits in use that they may exceed, and of their demands."""
    return tuple(
        problem
        for exercise in library.exercises
        for problem in (
            *_for_limits(exercise, library.limits_in_use, findings.get(exercise.slug, ())),
            *_for_demands(exercise, library, shown.get(exercise.slug)),
        )
    )


def _for_limits(exercise: Exercise, limits: Sequence[Limit], findings: Sequence[Finding]) -> Iterator[Problem]:
    carried = {ref.slug for ref in exercise.cautions}
    for limit in limits:
        if limit.caution is None or limit.caution.slug in carried:
            continue
        certain = [each for each in findings if each.limit == limit.slug and not each.is_unknown and not each.is_slight]
        if not certain:
            continue
        carried.add(limit.caution.slug)
        worst = max(certain, key=lambda each: each.over)
        what = " and ".join(_say(part) for part in _telling(worst.parts))
        yield Problem(
            exercise.at("cautions"),
            "limit-caution",
            f"'{exercise.slug}' may exceed the limit '{limit.slug}' ({what}) and lacks its caution '{limit.caution.slug}'",
            f"Add '{limit.caution.slug}' to its cautions, or mend the figure.",
        )


def _for_demands(exercise: Exercise, library: Library, shown: ShownMotion | None) -> Iterator[Problem]:
    carried = {ref.slug for ref in exercise.cautions}
    for demand in demands_of(exercise, shown.facts if shown else None):
        term = library.term["demands"].get(demand)
        for ref in term.cautions if term else ():
            if ref.slug not in carried:
                carried.add(ref.slug)
                yield Problem(
                    exercise.at("cautions"),
                    "brought-caution",
                    f"the demand '{demand}' brings the caution '{ref.slug}', and '{exercise.slug}' lacks it",
                    f"Add '{ref.slug}' to its cautions, or take it from '{demand}' in vocabulary.yaml.",
                )


def _telling(parts: Sequence[LimitCondition]) -> Sequence[LimitCondition]:
    """A demand beside an angle only tells when the angle counts."""
    angles = [part for part in parts if part.what is BoundSubject.MOTION]
    return angles or parts


def _say(part: LimitCondition) -> str:
    if part.reached is None or part.allowed is None:
        return f"{part.what.value} '{part.name}'"
    unit = "kg" if part.what is BoundSubject.WEIGHT else "degrees"
    bound = "at least" if part.below else "at most"
    return f"{part.name} of {part.reached:g}, {bound} {part.allowed:g} {unit}"

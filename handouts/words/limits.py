"""Movement limits in words, for clinicians: findings, bounds, where they come from.

Says what was found and what could not be judged, and never more than that.
"""

from __future__ import annotations

from collections.abc import Sequence

from handouts.dose.phrase import exact_weight_phrase
from handouts.limits import BAND, BoundSubject, Finding, LimitCondition, Moment, Whose
from handouts.model import Bound, Library
from handouts.words.wording import Wording

_STATUS = {"confirmed": "confirmed", "read in a summary": "summary", "from memory": "memory", "clinic's choice": "choice"}


def limits_are_whole(library: Library, source: Library) -> bool:
    """Whether a language has the words of every limit, position and demand; a part of them would say too little."""
    lists = ("positions", "demands")
    return len(library.limits) == len(source.limits) and all(
        len(library.term[name]) == len(source.term[name]) for name in lists
    )


def motion_name(name: str, wording: Wording) -> str:
    """A clinical motion in the language: 'hip flexion' -> 'Hip flexion'."""
    return wording.say(f"limits.{name.replace(' ', '_')}")


def say_finding(finding: Finding, library: Library, wording: Wording, *, named: bool = False) -> str:
    """One finding in one line: 'Hip flexion to about 96°; the limit is 90° (at the start, both sides)'.

    ``named``: as it is where the clinician names the side that is trained.
    """
    if finding.is_unknown:
        return wording.say("limits.unknown")
    parts = finding.parts
    if any(part.what is BoundSubject.MOTION for part in parts):
        # A demand beside an angle only tells when the angle counts.
        parts = tuple(part for part in parts if part.what is not BoundSubject.DEMAND)
    line = _part(parts[0], library, wording)
    for part in parts[1:]:
        line = wording.say("limits.together", first=line, second=_part(part, library, wording))
    detail = _detail(finding.moment, finding.named if named else finding.whose, wording)
    return wording.say("limits.detail", found=line, detail=detail) if detail else line


def say_findings(findings: Sequence[Finding], library: Library, wording: Wording, *, named: bool = False) -> str:
    """Several findings in one line, one after the other; equal ones once."""
    lines = tuple(dict.fromkeys(say_finding(finding, library, wording, named=named) for finding in findings))
    if len(lines) == 1:
        return lines[0]
    line = lines[0].rstrip(".")
    for other in lines[1:]:
        line = wording.say("limits.and_then", first=line, second=other.rstrip("."))
    return line


def _part(part: LimitCondition, library: Library, wording: Wording) -> str:
    if part.what is BoundSubject.POSITION:
        return wording.say("limits.position", position=library.term["positions"][part.name].name.text)
    if part.what is BoundSubject.DEMAND:
        name = library.term["demands"][part.name].name.text
        return name[:1].upper() + name[1:]
    if part.name == BAND and part.what is BoundSubject.WEIGHT:
        return wording.say("limits.band")
    if part.what is BoundSubject.WEIGHT:
        heaviest, most = (exact_weight_phrase(kilograms or 0.0, wording) for kilograms in (part.reached, part.allowed))
        return wording.say("limits.weight", reached=heaviest, allowed=most)
    reached, allowed = wording.number(part.reached or 0.0), wording.number(part.allowed or 0.0)
    if not part.allowed and not part.below:
        return wording.say("limits.past_neutral", motion=motion_name(part.name, wording), reached=reached)
    return wording.say(
        "limits.below" if part.below else "limits.above",
        motion=motion_name(part.name, wording),
        reached=reached,
        allowed=allowed,
    )


def _detail(moment: Moment, whose: Whose, wording: Wording) -> str:
    """When in the movement, and on which side."""
    when = "" if moment is Moment.THROUGHOUT else wording.say(f"limits.at_{moment.value}")
    side = "" if whose is Whose.BODY else wording.say(f"limits.side_{whose.value}")
    return wording.say("limits.two_details", first=when, second=side) if when and side else when or side


def say_bounds(bounds: Sequence[Bound], library: Library, wording: Wording) -> str:
    """One bound, or several that count only together: 'Hip flexion up to 90°'."""
    said = tuple(_bound(bound, library, wording) for bound in bounds)
    return said[0] if len(said) == 1 else wording.say("limits.bound_together", bounds=wording.join(said))


def _bound(bound: Bound, library: Library, wording: Wording) -> str:
    number = wording.number
    demand = library.term["demands"][bound.demand.slug].name.text if bound.demand else ""
    position = library.term["positions"][bound.position.slug].name.text if bound.position else ""
    core = ""
    if bound.motion is not None:
        motion = motion_name(bound.motion.slug, wording)
        if bound.most is not None and bound.least is not None:
            core = wording.say("limits.bound_between", motion=motion, least=number(bound.least), most=number(bound.most))
        elif bound.most is not None:
            core = wording.say("limits.bound_most", motion=motion, degrees=number(bound.most))
        elif bound.least is not None:
            core = wording.say("limits.bound_least", motion=motion, degrees=number(bound.least))
    elif bound.most_weight_kg is not None:
        core = wording.say("limits.bound_weight", weight=exact_weight_phrase(bound.most_weight_kg, wording))
    for thing in (demand, position):
        if thing:
            core = (
                wording.say("limits.bound_with", thing=thing, bound=core)
                if core
                else wording.say("limits.bound_avoid", thing=thing)
            )
    return core


def say_status(status: str, wording: Wording) -> str:
    """Whether the numbers of a limit or of a phase were read in their source."""
    return wording.say(f"limits.status_{_STATUS[status]}")

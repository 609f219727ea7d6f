"""Whether a picture shows what the author says it must show.

Each claim is measured in the solved pose; a message holds what was measured.  Never reads words of a claim
(``handouts.figure.pose.claims`` does).
"""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.typing import NDArray

from handouts.figure.body.joints import INDEX, motion_name
from handouts.figure.body.sites import Plane
from handouts.figure.checks.check_input import SIDE_WORDS, CheckInput
from handouts.figure.pose.motion import point_places
from handouts.figure.pose.spec import Claim, Named
from handouts.problems import Problem

Array = NDArray[np.floating[Any]]
LEVEL = 0.06
"""Metres in which two points count as level: what a reader of a printed figure takes for the same height."""
NEAR = 0.10
"""Metres between two points, or from a point down to a thing, that count as near: the points lie inside the body."""
OVER = 0.12
"""Metres aside in which one point counts as over or under another."""
IN_LINE = 170.0
"""Least angle at the middle one of three points that count as one line, degrees."""
_UPRIGHT = 0.7
"""Least level share of the way that the hips face, of a body that counts as upright: cosine of 45 degrees."""
STILL = 0.03
"""Metres by which a point that stays where it is may move."""


OVER_EDGE = 0.03
"""Metres past the edge of a top at which a point still counts as over it."""


def past_edge(place: Array, edges: tuple[float, float, float, float]) -> float:
    """How far a place lies outside a top, metres; negative inside."""
    x0, x1, z0, z1 = edges
    return float(max(x0 - place[0], place[0] - x1, z0 - place[2], place[2] - z1))


def _frames(case: CheckInput, when: str) -> tuple[int, ...]:
    last = len(case.motion.frames) - 1
    return {"start": (0,), "end": (last,), "via": case.motion.pictures[1:-1], "always": tuple(range(last + 1))}[when]


def _height(case: CheckInput, other: Named, number: int) -> float | None:
    """How high a thing is, metres; None where the name is a point's."""
    surface = case.motion.worlds[number].surfaces.get(other.name)
    if other.side or not isinstance(surface, Plane) or surface.normal[1] < 1:
        return None
    return surface.offset


def _at(case: CheckInput, point: Named, number: int) -> Array:
    place: Array = point_places(case.body, (case.motion.frames[number],), point)[0]
    return place


def _said(point: Named) -> str:
    return f"{SIDE_WORDS[point.side]}{point.name}"


def _millimetres(metres: float) -> str:
    return f"{abs(metres) * 1000:.0f} mm"


def _forward(case: CheckInput, number: int) -> Array:
    """The way on level ground that counts as to the front: where the body faces; toward the head where it is level."""
    turn = case.motion.frames[number].state.turn
    way = turn[:, 0] * [1, 0, 1]
    if np.linalg.norm(way) < _UPRIGHT:
        way = turn[:, 1] * [1, 0, 1]
    found: Array = way / np.linalg.norm(way)
    return found


def _against_thing(claim: Claim, here: Array, high: float) -> str:
    up = float(here[1]) - high
    holds = {"above": up > 0, "below": up < 0, "level": abs(up) <= LEVEL, "near": abs(up) <= NEAR}[claim.relation]
    return "" if holds else f"it is {_millimetres(up)} {'above' if up > 0 else 'below'} the {claim.others[0].name}"


def _against_point(case: CheckInput, claim: Claim, number: int) -> str:
    here, there = _at(case, claim.subject, number), _at(case, claim.others[0], number)
    apart, other = here - there, _said(claim.others[0])
    up = float(apart[1])
    if claim.relation in ("above", "below", "level"):
        holds = {"above": up > 0, "below": up < 0, "level": abs(up) <= LEVEL}[claim.relation]
        return "" if holds else f"it is {_millimetres(up)} {'above' if up > 0 else 'below'} the {other}"
    if claim.relation == "near":
        far = float(np.linalg.norm(apart))
        return "" if far <= NEAR else f"it is {_millimetres(far)} from the {other}"
    if claim.relation in ("front", "behind"):
        ahead = float(apart @ _forward(case, number))
        holds = ahead > 0 if claim.relation == "front" else ahead < 0
        return "" if holds else f"it is {_millimetres(ahead)} {'in front of' if ahead > 0 else 'behind'} the {other}"
    if claim.relation in ("over", "under"):
        aside = float(np.linalg.norm(apart[[0, 2]]))
        if (up > 0) != (claim.relation == "over"):
            return f"it is {_millimetres(up)} {'above' if up > 0 else 'below'} the {other}"
        return "" if aside <= OVER else f"it is {_millimetres(aside)} aside of the {other}"
    across = case.motion.frames[number].state.turn[:, 2] * (-1 if claim.subject.side == "l" else 1)
    out = float(apart @ across)
    holds = out > 0 if claim.relation == "outside" else out < 0
    return "" if holds else f"it is {_millimetres(out)} {'outside' if out > 0 else 'inside'} the {other}"


def _in_line(case: CheckInput, claim: Claim, number: int) -> str:
    """Seen from the side: how wide the body is there counts for nothing."""
    here, one, two = (_at(case, point, number) for point in (claim.subject, *claim.others))
    across = case.motion.frames[number].state.turn[:, 2]
    first, second = (way - (way @ across) * across for way in (one - here, two - here))
    cosine = first @ second / (np.linalg.norm(first) * np.linalg.norm(second))
    degrees = float(np.degrees(np.arccos(np.clip(cosine, -1, 1))))
    return "" if degrees >= IN_LINE else f"the line bends there by {180 - degrees:.0f} degrees"


def _move(case: CheckInput, claim: Claim) -> str:
    numbers = _frames(case, "always")
    places = np.array([_at(case, claim.subject, number) for number in numbers])
    if claim.relation == "still":
        far = float(np.linalg.norm(places - places[0], axis=1).max())
        return "" if far <= STILL else f"it moves {_millimetres(far)}"
    up = float(places[-1, 1] - places[0, 1])
    holds = up * 100 >= claim.low if claim.relation == "rises" else -up * 100 >= claim.low
    return "" if holds else f"it {'rises' if up > 0 else 'sinks'} {_millimetres(up)}"


def _angle(case: CheckInput, claim: Claim, number: int) -> str:
    index = INDEX[claim.variable]
    value = float(case.motion.frames[number].state.angles[index])
    if claim.low - 0.5 <= value <= claim.high + 0.5:
        return ""
    return f"{motion_name(index, round(value))} is {abs(value):.0f} degrees"


def _measure(case: CheckInput, claim: Claim, number: int) -> str:
    """What is measured where the claim does not hold, else nothing."""
    if claim.relation == "angle":
        return _angle(case, claim, number)
    if claim.relation == "line":
        return _in_line(case, claim, number)
    high = _height(case, claim.others[0], number)
    if high is not None:
        here, edges = _at(case, claim.subject, number), case.motion.worlds[number].edges.get(claim.others[0].name)
        past = past_edge(here, edges) if edges and claim.relation in ("above", "near") else 0.0
        if past > OVER_EDGE:
            return f"it is {_millimetres(past)} past the edge of the {claim.others[0].name}"
        return _against_thing(claim, here, high)
    return _against_point(case, claim, number)


def check_shows(case: CheckInput) -> list[Problem]:
    """Each picture shows what the figure says that it must show."""
    found = []
    for claim in case.spec.shows:
        if claim.relation in ("rises", "sinks", "still"):
            said, where = _move(case, claim), "from picture 1 to 2"
        else:
            said, where = "", ""
            for number in _frames(case, claim.when):
                said, where = _measure(case, claim, number), f"in {case.frame_name(number)}"
                if said:
                    break
        if said:
            found.append(
                Problem(
                    claim.place,
                    "figure-shows",
                    f"the picture must show '{claim.subject}: {claim.text}', but {said} {where}",
                    "Change the angles of the figure; or, where the picture is right, this line and the words of the "
                    "exercise that say so.",
                )
            )
    return found

"""What is wrong with a picture: nothing moves, the path is seen edge-on, a region is hidden, the side is another.

Never judges the pose; ``handouts.figure.checks.pose_checks`` does.
"""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.typing import NDArray

from handouts.figure.body.sites import POINTS
from handouts.figure.checks.check_input import SIDE_WORDS, CheckInput
from handouts.figure.checks.claim_checks import check_shows
from handouts.figure.checks.pose_checks import POSE_CHECKS
from handouts.figure.checks.prop_checks import PROP_CHECKS
from handouts.figure.checks.use_checks import USE_CHECKS
from handouts.figure.draw.camera import UNITS_PER_METRE, camera
from handouts.figure.pose.motion import point_places
from handouts.figure.pose.names import VIEWS
from handouts.figure.pose.spec import Named
from handouts.problems import Grade, Problem

Array = NDArray[np.floating[Any]]
SAME_POSE = 0.02
"""Metres that some part must move in the picture."""
SMALL = 0.10
"""Metres that some part must move in the picture to be seen at arm's length on a sheet: 3 mm of a figure 5 cm high; set by eye."""
EDGE_ON = 0.45
"""Least share of a path's true length that the picture must show."""


def _body_shift(case: CheckInput) -> float:
    view = camera(case.spec.view)[:2] / UNITS_PER_METRE
    first, last = case.motion.frames[0].centres @ view.T, case.motion.frames[-1].centres @ view.T
    return float(np.linalg.norm(first - last, axis=1).max())


def check_same_pose(case: CheckInput) -> list[Problem]:
    """The two pictures differ."""
    if not case.spec.moves or _body_shift(case) >= SAME_POSE:
        return []
    return [
        Problem(
            case.spec.place_of("end"),
            "figure-same-pose",
            "the two pictures look the same: nothing moves 2 cm in this view",
            "Change the end pose or the view, or leave 'end' out for a position that is only held.",
        )
    ]


def check_small(case: CheckInput) -> list[Problem]:
    """A movement that is too small to see is shown larger."""
    shift = _body_shift(case)
    if not case.spec.moves or case.spec.via or not SAME_POSE <= shift < SMALL or "inset" in dict(case.spec.places):
        return []
    ends = (case.motion.frames[0], case.motion.frames[-1])
    points = [Named(name, side) for name, (segment, _) in POINTS.items() for side in (("r", "l") if segment.endswith(".") else ("",))]
    view = camera(case.spec.view)[:2]
    moved = {point: float(np.linalg.norm(np.diff(point_places(case.body, ends, point) @ view.T, axis=0))) for point in points}
    most = max(points, key=lambda point: moved[point])
    return [
        Problem(
            case.spec.place_of("end"),
            "figure-small",
            f"the movement is hard to see: nothing moves more than {shift * 100:.0f} cm in this view",
            f"Write 'inset: {most}' to show that part larger, or 'inset: none' where it is plain enough.",
            Grade.NOTICE,
        )
    ]


def check_edge_on(case: CheckInput) -> list[Problem]:
    """The movement is not seen edge-on."""
    found = []
    for point in case.spec.arrow:
        places = point_places(case.body, case.motion.frames, point)
        true = float(np.linalg.norm(np.diff(places, axis=0), axis=1).sum())
        if true < 0.05:
            continue

        def share(view: tuple[float, float], places: Array = places, true: float = true) -> float:
            flat = places @ (camera(view)[:2] / UNITS_PER_METRE).T
            return float(np.linalg.norm(np.diff(flat, axis=0), axis=1).sum()) / true

        if share(case.spec.view) < EDGE_ON:
            best = max(sorted(VIEWS), key=lambda name: share(VIEWS[name]))
            found.append(
                Problem(
                    case.spec.place_of("view"),
                    "figure-edge-on",
                    f"the path of '{point}' is seen edge-on: {share(case.spec.view) * 100:.0f} % of it shows",
                    f"Use the view '{best}', which shows {share(VIEWS[best]) * 100:.0f} %.",
                )
            )
    return found


def check_active(case: CheckInput) -> list[Problem]:
    """The muscles at work, and those that are stretched, can be seen."""
    hidden = [active for active in (*case.spec.active, *case.spec.stretched) if active.name not in case.shown_muscles]
    return [
        Problem(
            active.place,
            "figure-view",
            f"the region '{active}' cannot be seen from this view",
            "Turn the view toward it, or name a region that is seen.",
        )
        for active in hidden
    ]


def check_side(case: CheckInput) -> list[Problem]:
    """The side that the figure says is the side that moves."""
    side = case.spec.side
    moved = {angle.variable.split(".")[1] for angle in case.spec.end if angle.variable.count(".") == 2}
    if side and moved and side not in moved:
        return [
            Problem(
                case.spec.place_of("side"),
                "figure-side",
                f"the figure says the {SIDE_WORDS[side].strip()} side, but only the other side moves",
                "Change 'side', or type the angles for the other side.",
            )
        ]
    return []


PICTURE_CHECKS = (check_same_pose, check_small, check_edge_on, check_active, check_side, check_shows)


def check_figure(case: CheckInput) -> tuple[Problem, ...]:
    """All problems of a figure, in the order of the checks: of the pose for each base by itself, of the pictures for all."""
    sections = case.sections
    found = [problem for check in (*POSE_CHECKS, *PROP_CHECKS, *USE_CHECKS) for one in sections for problem in check(one)]
    places = [problem.place for problem in found if problem.rule == "figure-beyond"]
    found = [one for one in found if one.rule != "figure-beyond" or places.count(one.place) == len(sections)]
    return tuple(dict.fromkeys((*found, *(problem for check in PICTURE_CHECKS for problem in check(case)))))

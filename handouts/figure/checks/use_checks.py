"""Whether the picture shows things used where they are used: on the face that is seen, and within their edges.

Never judges the pose by itself; ``handouts.figure.checks.pose_checks`` does.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import product
from typing import Any

import numpy as np
from numpy.typing import NDArray

from handouts.figure.body.gaps import gaps
from handouts.figure.body.joints import SIDES
from handouts.figure.body.sites import GRIP, Plane
from handouts.figure.checks.check_input import SIDE_WORDS, CheckInput
from handouts.figure.checks.claim_checks import past_edge
from handouts.figure.draw.camera import UNITS_PER_METRE, camera
from handouts.figure.pose.contacts import Touching, expand
from handouts.figure.pose.spec import PropUse
from handouts.figure.pose.surroundings import PROP_OF, stand_in
from handouts.problems import Grade, Place, Problem

Array = NDArray[np.floating[Any]]
FROM_BEHIND = -0.12
"""Cosine between the way a face looks and the viewer below which the picture shows its back: 7 degrees past edge-on."""
PAST_EDGE = 0.015
"""Metres that the middle of a hand may lie past the edge of what it rests on."""
HOVERS = 0.09
"""Metres above a top, from the lowest part of a hand, up to which a reader takes the hand for one that should rest there."""
_DOOR = {"front": (-1.0, 0.0, 0.0), "back": (1.0, 0.0, 0.0), "right": (0.0, 0.0, -1.0)}
"""Where the face of a door looks that a band is tied to; a door without a word stands at the left."""
_TIED_BEHIND = "the band is tied to the side that nobody sees"
_LYING_HAND = ("palm", "kn", "fi1", "fi2")
_HAND_SITES = frozenset({"palm", "hand", GRIP})


def _touched(case: CheckInput, number: int) -> list[Touching]:
    """What touches in a picture."""
    return expand(case.spec.stations[case.motion.pictures.index(number)].contacts)


def _used_faces(case: CheckInput) -> Iterator[tuple[PropUse, str, Array]]:
    """Each upright face that is used: its prop, what is said of it, and the way it looks."""
    spec = case.spec
    on_wall = any(target == "wall" for number in case.motion.pictures for _, _, target in _touched(case, number))
    wall = case.motion.world.surfaces.get("wall")
    for use in spec.props:
        if use.name == "wall" and on_wall and isinstance(wall, Plane):
            yield use, "what touches it is behind it", np.array(wall.normal)
        elif use.name == "door" and spec.prop("band"):
            yield use, _TIED_BEHIND, np.array(next((_DOOR[word] for word in use.words if word in _DOOR), (0.0, 0.0, 1.0)))
        found = stand_in(use, spec.base, 0.0)
        band = spec.prop("band")
        if found and band and not {*found[1].anchors}.isdisjoint(band.words):
            yield use, _TIED_BEHIND, -np.array(found[2].x)


def check_used_face(case: CheckInput) -> list[Problem]:
    """What is touched on a wall, or tied to a door or post, is on the side that the picture shows."""
    yaw, rise = case.spec.view

    def toward(face: Array, degrees: float) -> float:
        return float(camera((degrees, rise))[2] @ face) / UNITS_PER_METRE

    found = []
    for use, said, face in _used_faces(case):
        if toward(face, yaw) >= FROM_BEHIND:
            continue
        better = next((one for one in (-yaw, 180 - yaw, yaw - 180) if toward(face, one) > 0), yaw + 180)
        found.append(
            Problem(
                use.place,
                "figure-from-behind",
                f"the {use.name} is seen from behind: {said}",
                f"Turn the view to the other side: view: [{better:g}, {rise:g}].",
            )
        )
    return found


def _hand_places(case: CheckInput, number: int, side: str) -> tuple[Array, Array]:
    """Centres and axes of the ellipsoids of palm and fingers, from the wrist to the tips."""
    lumps = [case.body.lumps[f"{name}.{side}"] for name in _LYING_HAND]
    frame = case.motion.frames[number]
    return frame.centres[lumps], frame.axes[lumps]


def _past_edge(name: str, word: str, thing: str, past: float, where: str, place: Place) -> Problem:
    return Problem(
        place,
        "figure-past-edge",
        f"the {name} rests {past * 1000:.0f} mm past the edge of the {word} in {where}",
        f"Bend the arm more or less, or set the {thing} nearer or further away with a distance in metres.",
    )


def _hovers(side: str, word: str, high: float, where: str, place: Place) -> Problem:
    return Problem(
        place,
        "figure-hovers",
        f"the {SIDE_WORDS[side]}hand is {high * 1000:.0f} mm above the {word} in {where} and does not touch it",
        f"Write the contact 'hand.{side} {word}' for a hand that rests there, or shows: {{hand.{side}: above {word}}} where it is meant.",
        Grade.NOTICE,
    )


def check_hands_on_tops(case: CheckInput) -> list[Problem]:
    """A hand that rests on a top lies within its edges, and one that is just above it is meant to be."""
    meant = {(one.subject.side, one.others[0].name) for one in case.spec.shows if one.subject.name == "hand" and one.relation == "above"}
    found: dict[tuple[str, str, str], Problem] = {}
    for number in case.motion.pictures:
        touched, world, where = _touched(case, number), case.motion.worlds[number], case.frame_name(number)
        for (word, edges), side in product(world.edges.items(), SIDES):
            top, use = world.surfaces[word], case.spec.prop(PROP_OF[word])
            assert isinstance(top, Plane) and use is not None
            centres, axes = _hand_places(case, number, side)
            past, high = past_edge(centres[:2].mean(axis=0), edges), float(gaps(top, centres, axes)[0].min())
            busy = [(site, target) for site, one, target in touched if one == side and site in _HAND_SITES]
            if past > PAST_EDGE and any(target == word and site != GRIP for site, target in busy):
                found.setdefault(("edge", side, word), _past_edge(f"{SIDE_WORDS[side]}hand", word, use.name, past, where, use.place))
            elif not busy and past <= 0 < high < HOVERS and (side, word) not in meant:
                found.setdefault(("hovers", side, word), _hovers(side, word, high, where, use.place))
    return list(found.values())


USE_CHECKS = (check_used_face, check_hands_on_tops)

"""What is wrong between the body and its props: a limb inside furniture, a ball that limbs go round.

Never judges the pose by itself; ``handouts.figure.checks.pose_checks`` does.
"""

from __future__ import annotations

import numpy as np

from handouts.figure.body.gaps import gaps
from handouts.figure.body.joints import SIDES
from handouts.figure.body.sites import GRIP, Sphere
from handouts.figure.checks.check_input import SIDE_WORDS, CheckInput
from handouts.figure.checks.pose_checks import part_name
from handouts.figure.pose.names import PROPS
from handouts.problems import Problem

INSIDE = 0.030
"""Metres a part of the body may reach into a chair, a counter or a step: flesh gives, and edges are rounded."""
NEAR = 0.030
"""Metres within which a part of the body counts as at the ball."""
ON_TOP = 0.35
"""Least upward share of the direction from the ball to what lies on it: sine of 20 degrees."""
BESIDE = 0.50
"""Least sideways share of the direction from the ball to what passes beside it: sine of 30 degrees."""
_LYING_ON = {"calves": ("calf", ("sh1", "sh2", "sh3")), "feet": ("foot", ("heel", "soleh", "soleb", "sh4"))}
"""For the words of an exercise ball: what lies on it, and its ellipsoids."""
_LEG = ("th2", "th3", "th4", "sh1", "sh2", "sh3", "sh4", "heel")
_ON_LEG = ("th", "sh", "sole", "toe", "heel", "ball", "mid", "collar", "patella", "glute")
_FINGERS = ("fi", "tb")
_HAND = ("palm", "kn", "wr", "fa3", *_FINGERS)


def _gripping(case: CheckInput, number: int, use: str) -> set[str]:
    """Ellipsoids of the hands that hold a prop in a frame."""
    names = {"seat": "chair"}
    contacts = case.spec.contacts if number == 0 else case.spec.end_contacts
    sides = {
        side
        for contact in contacts
        if contact.site.name == GRIP and names.get(contact.target, contact.target) == use
        for side in ((contact.site.side,) if contact.site.side else SIDES)
    }
    return {name for name in case.body.names if name.startswith(_HAND) and name.rpartition(".")[2] in sides}


def check_furniture(case: CheckInput) -> list[Problem]:
    """No limb reaches into a chair, a counter, a table, a step or a door."""
    worst: dict[tuple[str, str], tuple[float, str, str]] = {}
    for number, parts in case.furniture:
        frame = case.motion.frames[number]
        reach = np.linalg.norm(frame.axes, axis=2)
        for part in parts:
            assert part.room is not None
            middle, half = np.array(part.room[0]), np.array(part.room[1])
            deep = (half + reach - np.abs(frame.centres - middle)).min(axis=1)
            held = _gripping(case, number, part.use)
            for lump in np.flatnonzero(deep > INSIDE).tolist():
                name = case.body.names[lump]
                limb = ("leg " if name.startswith(_ON_LEG) else "upper ") + name.rpartition(".")[2]
                if name in held or name.startswith(_FINGERS) or deep[lump] <= worst.get((limb, part.use), (0.0,))[0]:
                    continue
                worst[limb, part.use] = (float(deep[lump]), part_name(name), case.frame_name(number))
    return [
        Problem(
            case.spec.place_of("props"),
            "figure-collision",
            f"the {name} goes {deep * 1000:.0f} mm into the {use} in {where}",
            f"Change the angles of that limb, or set the {use} further away with a distance in metres.",
        )
        for (_, use), (deep, name, where) in sorted(worst.items())
    ]


def check_ball(case: CheckInput) -> list[Problem]:
    """What should lie on the exercise ball lies on it; no legs go round it."""
    use = case.spec.prop("exercise-ball")
    if use is None:
        return []
    apart: dict[str, str] = {}
    round_it = ""
    for number in dict.fromkeys((0, len(case.motion.frames) - 1)):
        ball = case.motion.worlds[number].surfaces["ball"]
        assert isinstance(ball, Sphere)
        frame = case.motion.frames[number]
        gap, _, away = gaps(ball, frame.centres, frame.axes)

        def at(name: str, side: str) -> int:
            return case.body.lumps[f"{name}.{side}"]

        for word in use.words:
            site, lumps = _LYING_ON.get(word, ("", ()))
            for side in SIDES if site else ():
                if not any(gap[at(n, side)] < NEAR and away[at(n, side)][1] > ON_TOP for n in lumps):
                    apart.setdefault(f"{SIDE_WORDS[side]}{site}", case.frame_name(number))
        beside = [
            any(
                gap[at(name, side)] < NEAR
                and away[at(name, side)][1] < ON_TOP
                and sign * away[at(name, side)][2] > BESIDE
                for name in _LEG
            )
            for side, sign in (("r", 1), ("l", -1))
        ]
        if all(beside):
            round_it = round_it or case.frame_name(number)
    found = [
        Problem(
            use.place,
            "figure-ball",
            f"the {name} does not lie on the ball in {where}",
            "Lift the legs with more hip flexion, and add the contact, for example 'calf ball'; or set where the ball is.",
        )
        for name, where in apart.items()
    ]
    if round_it:
        found.append(
            Problem(
                use.place,
                "figure-ball",
                f"the legs go round the ball, one on each side of it, in {round_it}",
                "Lift the legs onto it with more hip flexion, or set the ball further away with a distance in metres.",
            )
        )
    return found


_MENDS = {
    "band": "Write both of its ends, for example {band: hand.r, door: left} or {band: hand.r foot.r}; or a loop, as loop-knees.",
    "strap": "Write both of its ends, for example {strap: foot.r hands}.",
    "towel": "Write where it is: under the head or a hand, at an elbow, or its two ends, as {towel: foot.r hands}.",
}
"""How to write a prop of which some words alone draw nothing."""


def check_props_drawn(case: CheckInput) -> list[Problem]:
    """Every prop that is written is in the picture."""
    return [
        Problem(
            use.place,
            "figure-not-drawn",
            f"the {use.name} is not drawn: its words do not say where it is",
            _MENDS.get(use.name, f"Write one of: {', '.join(PROPS[use.name].names)}; or take the {use.name} out."),
        )
        for use in case.spec.props
        if use.name not in case.drawn
    ]


PROP_CHECKS = (check_props_drawn, check_furniture, check_ball)

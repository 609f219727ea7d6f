"""What is wrong with a solved pose: range of motion, typed angles, contact, collision, balance.

Each check is one function from the figure's values to problems with a place and a mend.  A clean result says that
nothing was found, never that an exercise is right for anyone.
"""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.typing import NDArray
from shapely.geometry import MultiPoint, Point

from handouts.figure.body.angles import HIGH, LOW
from handouts.figure.body.gaps import gaps
from handouts.figure.body.joints import INDEX, VARIABLE_AXES, VARIABLES, motion_name, side_of, typed_angle
from handouts.figure.body.kinematics import centre_of_mass
from handouts.figure.body.separation import apart_names, apart_pairs
from handouts.figure.body.sites import ARM_SITES
from handouts.figure.checks.check_input import SIDE_WORDS, CheckInput
from handouts.figure.pose.joint_limits import highest_of
from handouts.figure.pose.residuals import pair_gaps
from handouts.figure.pose.spec import FigureSpec, over
from handouts.figure.pose.unwritten_joints import Stray, strays_of
from handouts.problems import Grade, Place, Problem

Array = NDArray[np.floating[Any]]
CONTACT_MISS = 0.010
"""Metres a contact may miss."""
SINK = 0.012
"""Metres the body may sink into the floor, a wall or a ball: soft tissue and shoe soles give."""
OVERLAP = 0.030
"""Metres two parts of the body may overlap: flesh gives where they press together."""
ANGLE_SLACK = 0.5
"""Degrees of rounding allowed past a range; the edge itself is in range."""
GIVEN_WAY = 18.0
"""Degrees by which a typed angle may give way to contacts before the author is told."""
SUPPORT_RIM = 0.02
"""Metres from the middle of a contact to its rim."""
_PARTS = {
    "fa": "forearm",
    "palm": "hand",
    "kn": "hand",
    "sec": "trunk",
    "skull": "head",
    "jaw": "head",
    "th": "thigh",
    "sh": "shin",
    "heel": "foot",
    "ball": "foot",
    "patella": "knee",
    "ua": "upper arm",
    "fi": "hand",
    "tb": "hand",
    "sole": "foot",
    "toe": "foot",
    "solet": "foot",
    "mid": "foot",
    "collar": "ankle",
    "glute": "buttock",
    "pec": "chest",
    "trap": "shoulder",
    "wr": "wrist",
    "neck": "neck",
    "brow": "head",
    "chin": "head",
    "nose": "head",
}
_ARM_JOINTS = frozenset({"shoulder", "elbow", "forearm", "wrist", "fingers"})


def part_name(lump: str) -> str:
    """The word for the part of the body that an ellipsoid belongs to, with its side."""
    name, _, side = lump.partition(".")
    stem = "sole" if name.startswith("sole") else name.rstrip("0123456789")
    return f"{SIDE_WORDS[side]}{_PARTS.get(name, _PARTS.get(stem, stem))}"


def _angle_place(spec: FigureSpec, variable: str) -> Place:
    for angle in (*spec.end, *spec.start):
        if angle.variable == variable:
            return angle.place
    return spec.place_of("end" if spec.moves else "base")


def check_range(case: CheckInput) -> list[Problem]:
    """Every angle, typed or solved, in every frame, within the normal range."""
    spec, high = case.spec, highest_of(case.spec)
    worst: dict[int, tuple[float, str]] = {}
    for number, frame in enumerate(case.motion.frames):
        outside = (frame.state.angles > high + ANGLE_SLACK) | (frame.state.angles < LOW - ANGLE_SLACK)
        for index in np.flatnonzero(outside).tolist():
            value = float(frame.state.angles[index])
            if index not in worst or abs(value) > abs(worst[index][0]):
                worst[index] = (value, case.frame_name(number))
    for where, angles in (("picture 1", spec.start), ("picture 2", spec.end)):
        for angle in angles:
            typed = INDEX[angle.variable]
            if not LOW[typed] <= angle.degrees <= high[typed]:
                worst[typed] = (angle.degrees, where)
    excused = {excuse.motion for excuse in spec.beyond}
    found = [
        Problem(
            excuse.place,
            "figure-beyond",
            f"'{excuse.motion}' stays within its normal range in this figure; the reason for it excuses nothing",
            f"Take it out of 'beyond', or name one of: {', '.join(sorted({motion_name(i, v) for i, (v, _) in worst.items()}))}."
            if worst
            else "Take it out of 'beyond'; no angle of this figure leaves its normal range.",
            Grade.NOTICE,
        )
        for excuse in spec.beyond
        if excuse.motion not in {motion_name(index, value) for index, (value, _) in worst.items()}
    ]
    for index, (value, where) in sorted(worst.items()):
        name = motion_name(index, value)
        most = high[index] if value > 0 else -LOW[index]
        side = SIDE_WORDS[VARIABLES[index].split(".")[1]] if VARIABLE_AXES[index].sided else ""
        if name in excused:
            continue
        loaded = " with weight on the foot" if high[index] > HIGH[index] else ""
        mend = (
            f"Bring the angle down to {most:g}, or give the reason: beyond: {{{name}: why}}."
            if most
            else "Change its sign; this joint does not bend that way."
        )
        found.append(
            Problem(
                _angle_place(spec, VARIABLES[index]),
                "figure-range-of-motion",
                f"{side}{name} is {abs(value):.0f} degrees in {where}; the normal range ends at {most:g}{loaded}",
                mend,
            )
        )
    return found


def check_typed(case: CheckInput) -> list[Problem]:
    """The angles that were typed come out, but for arms that hold on to something and follow."""
    spec = case.spec
    held = {
        side
        for contact in (*(one for station in spec.stations for one in station.contacts), *spec.end_contacts)
        if contact.site.name in ARM_SITES
        for side in ({contact.site.side} if contact.site.side else {"r", "l"})
    }
    found = []
    for number, station in zip(case.motion.pictures, spec.stations, strict=True):
        for angle in over(spec.start, station.angles):
            joint, side = angle.variable.split(".")[0], angle.variable.split(".")[1]
            value = float(case.motion.frames[number].state.angles[INDEX[angle.variable]])
            if (joint in _ARM_JOINTS and side in held) or abs(value - angle.degrees) <= GIVEN_WAY:
                continue
            name = motion_name(INDEX[angle.variable], angle.degrees)
            found.append(
                Problem(
                    angle.place,
                    "figure-contact",
                    f"{SIDE_WORDS.get(side, '')}{name} {abs(angle.degrees):g} cannot be kept with these contacts: it comes out "
                    f"{abs(value - angle.degrees):.0f} degrees different in {case.frame_name(number)}",
                    "Change the angle, or take out the contact that stands against it.",
                )
            )
    return found


def _written(spec: FigureSpec, index: int, degrees: float, at_end: bool) -> str:
    """What to write for a joint in a picture: what stands there already, and one more angle."""
    joint = VARIABLES[index].rpartition(".")[0]
    pose = spec.end if at_end else spec.start
    there = [angle for angle in pose if angle.variable.rpartition(".")[0] == joint]
    words = [typed_angle(INDEX[angle.variable], angle.degrees).partition(": ")[2] for angle in there]
    return f"{joint}: {' '.join([*words, typed_angle(index, degrees).partition(': ')[2]])}"


def check_strays(case: CheckInput) -> list[Problem]:
    """No joint that nobody wrote leaves its base position further than contacts need."""
    spec = case.spec
    last = len(case.motion.frames) - 1
    worst: dict[int, tuple[Stray, int]] = {}
    for number in dict.fromkeys((0, last)):
        for stray in strays_of(spec, case.motion.frames[number].state.angles, number > 0):
            known = worst.get(stray.index)
            if known is None or abs(stray.degrees - stray.base) > abs(known[0].degrees - known[0].base):
                worst[stray.index] = (stray, number)
    return [
        Problem(
            spec.place_of("end" if number and spec.end else "start" if spec.start else "base"),
            "figure-unwritten",
            f"{SIDE_WORDS[side_of(index)]}{motion_name(index, stray.degrees)} is not written and comes out at "
            f"{abs(stray.degrees):.0f} degrees in {case.frame_name(number)}; the base position has "
            f"{abs(stray.base):.0f}{'' if stray.base * stray.degrees >= 0 else ' the other way'}",
            f"Write '{_written(spec, index, stray.base, number > 0)}' to keep it and change what pushes it there, an "
            f"angle or a contact of the same limb; or write '{_written(spec, index, stray.degrees, number > 0)}' if it "
            "is meant.",
        )
        for index, (stray, number) in sorted(worst.items())
    ]


def check_contact(case: CheckInput) -> list[Problem]:
    """Every contact holds within 10 mm in every frame."""
    places = {}
    for contact in (*case.spec.end_contacts, *case.spec.contacts):
        for side in ("", ".r", ".l"):
            places[f"{contact.site.name}{side} {contact.target}"] = contact.site.place
    places |= {f"{one.point} {one.target}": one.point.place for one in case.spec.reach}
    places |= {f"{part} together": case.spec.place_of("together") for part in case.spec.together}
    worst: dict[str, tuple[float, str]] = {}
    for number, missed in enumerate(case.motion.misses(case.body)):
        for label, miss in missed:
            if miss > CONTACT_MISS and miss > worst.get(label, (0.0, ""))[0]:
                worst[label] = (miss, case.frame_name(number))
    return [
        Problem(
            places.get(label, case.spec.place_of("contacts")),
            "figure-contact",
            f"the contact '{label}' misses by {miss * 1000:.0f} mm in {where}",
            "Change the angles so that it can be reached, or take the contact out.",
        )
        for label, (miss, where) in worst.items()
    ]


def check_sink(case: CheckInput) -> list[Problem]:
    """No part goes through the floor, a wall or a ball."""
    worst: dict[tuple[str, str], tuple[float, str]] = {}
    for number, frame in enumerate(case.motion.frames):
        world = case.motion.worlds[number]
        for what, surface in world.keep_out:
            gap = gaps(surface, frame.centres, frame.axes)[0]
            lump = int(gap.argmin())
            key = (part_name(case.body.names[lump]), "floor" if what == "mat" and not case.spec.prop("mat") else what)
            if gap[lump] < -SINK and -gap[lump] > worst.get(key, (0.0, ""))[0]:
                worst[key] = (-float(gap[lump]), case.frame_name(number))
    return [
        Problem(
            case.spec.place_of("end" if case.spec.moves else "start"),
            "figure-collision",
            f"the {name} goes {deep * 1000:.0f} mm into the {what} in {where}",
            f"Change the angles of that limb, or let it rest on the {what} with a contact.",
        )
        for (name, what), (deep, where) in worst.items()
    ]


def check_overlap(case: CheckInput) -> list[Problem]:
    """No limb goes through the trunk or another limb."""
    pairs = np.array(apart_pairs(case.body))
    worst: dict[str, tuple[float, str]] = {}
    for number, frame in enumerate(case.motion.frames):
        gap = pair_gaps(pairs, frame.centres, frame.axes)[0]
        for one in np.flatnonzero(gap < -OVERLAP):
            first, second = apart_names()[one]
            name = f"{part_name(first)} and the {part_name(second)}"
            if -gap[one] > worst.get(name, (0.0, ""))[0]:
                worst[name] = (-float(gap[one]), case.frame_name(number))
    return [
        Problem(
            case.spec.place_of("end" if case.spec.moves else "start"),
            "figure-collision",
            f"the {name} go {deep * 1000:.0f} mm into each other in {where}",
            "Change the angles of one of them by a few degrees.",
        )
        for name, (deep, where) in sorted(worst.items())
    ]


def _is_free(case: CheckInput, number: int) -> bool:
    """Whether the body stands free in a frame: nothing but level ground under it, nothing in its hands."""
    spec = case.spec
    if spec.balance == "no" or not case.motion.base.balanced or (number and spec.flight):
        return False
    contacts = spec.stations[case.motion.pictures.index(number)].contacts
    return not any(
        contact.site.name in ARM_SITES or contact.target in ("wall", "doorway", "ball") for contact in contacts
    )


def check_balance(case: CheckInput) -> list[Problem]:
    """Where the body stands free, its centre of mass is over its support."""
    found = []
    pictures = case.motion.pictures
    for number in pictures:
        key = "start" if number == 0 else "end" if number == pictures[-1] else "via"
        if not _is_free(case, number) or (key != "end" and case.spec.balance == "end" and case.spec.moves):
            continue
        task, frame = case.motion.tasks[number], case.motion.frames[number]
        lumps = sorted({lump for touch in task.touches for lump in touch.lumps})
        if not lumps:
            continue
        reach = np.linalg.norm(frame.axes[lumps], axis=2)
        points = [
            (x + dx, z + dz)
            for (x, z), (rx, rz) in zip(frame.centres[lumps][:, [0, 2]], reach[:, [0, 2]], strict=True)
            for dx in (-rx, rx)
            for dz in (-rz, rz)
        ]
        centre = centre_of_mass(case.body, frame.placed)
        away = MultiPoint(points).convex_hull.distance(Point(centre[0], centre[2]))
        if away > SUPPORT_RIM:
            found.append(
                Problem(
                    case.spec.place_of(key),
                    "figure-balance",
                    f"the centre of mass is {away * 1000:.0f} mm outside the feet in {case.frame_name(number)}",
                    "Lean the trunk or move a leg back over the feet, or add the hand support.",
                )
            )
    return found


POSE_CHECKS = (
    check_range,
    check_typed,
    check_strays,
    check_contact,
    check_sink,
    check_overlap,
    check_balance,
)
"""All checks of the pose, in the order in which their problems are said."""

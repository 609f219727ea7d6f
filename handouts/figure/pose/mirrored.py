"""Left and right exchanged: of angles, contacts, words of props, and of a whole figure.

Pure; never reads a node and never solves.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from handouts.figure.body.joints import VARIABLES
from handouts.figure.pose.bases import BASES
from handouts.figure.pose.spec import Claim, Contact, FigureSpec, Named, PoseAngle, PropUse, Reach, Station
from handouts.problems import Place

_OTHER = {"r": "l", "l": "r"}
_AWAY = ("side", "turn")
"""Axes of trunk and neck whose sign says the side."""
_WORDS = {"left": "right", "right": "left", "beside": "beside-right", "beside-left": "beside-right", "beside-right": "beside-left",
          "edge-left": "edge-right", "edge-right": "edge-left"}  # fmt: skip
_BASES = {"side-lying": "side-lying-right", "side-lying-right": "side-lying"}
Pose = dict[str, float]
"""Degrees by variable."""


def other_side(text: str) -> str:
    """``foot.r`` as ``foot.l``; words without a side as they are."""
    name, dot, side = text.rpartition(".")
    return f"{name}.{_OTHER[side]}" if dot and side in _OTHER else text


def mirror_pose(pose: Pose) -> Pose:
    """A full pose with left and right exchanged."""
    found = {}
    for name, degrees in pose.items():
        joint, side, axis = name.split(".") if name.count(".") == 2 else (name.split(".")[0], "", name.split(".")[1])
        other = f"{joint}.{_OTHER[side]}.{axis}" if side else name
        found[other] = -degrees if not side and axis in _AWAY else degrees
    return found


def full_pose(base: str, *typed: Iterable[PoseAngle]) -> Pose:
    """Every angle of a base position with what was typed, later before earlier."""
    said = BASES[base].pose
    pose = {}
    for name in VARIABLES:
        joint, _, axis = name.rpartition(".")
        plain = f"{joint.partition('.')[0]}.{axis}"
        pose[name] = float(said.get(name, said.get(plain, 0.0)))
    return pose | {angle.variable: angle.degrees for angles in typed for angle in angles}


def what_differs(pose: Pose, other: Pose, place: Place) -> tuple[PoseAngle, ...]:
    """The angles of a pose that another one has differently."""
    return tuple(PoseAngle(name, degrees, place) for name, degrees in pose.items() if degrees != other[name])


def mirror_named(one: Named) -> Named:
    """A part of the other side."""
    if one.name in ("side.l", "side.r"):
        return replace(one, name=other_side(one.name))
    return replace(one, side=_OTHER.get(one.side, ""))


def mirror_contacts(contacts: tuple[Contact, ...]) -> tuple[Contact, ...]:
    """What touches, on the other side."""
    return tuple(replace(one, site=mirror_named(one.site)) for one in contacts)


def mirror_end(spec: FigureSpec, place: Place, *, has_end_contacts: bool) -> FigureSpec:
    """Picture 2 as picture 1 with left and right exchanged; what is written for the end stands before that."""
    start = full_pose(spec.base, spec.start)
    written = {angle.variable for angle in spec.end}
    end = tuple(angle for angle in what_differs(mirror_pose(start), start, place) if angle.variable not in written)
    contacts = spec.end_contacts if has_end_contacts else mirror_contacts(spec.contacts)
    return replace(spec, end=(*end, *spec.end), end_contacts=contacts, moves=True)


def mirror_start(spec: FigureSpec, place: Place, *, has_contacts: bool) -> FigureSpec:
    """Picture 1 as picture 2 with left and right exchanged; ``end`` is written from the base position."""
    end = full_pose(spec.base, spec.end)
    start = mirror_pose(end)
    written = {angle.variable: angle for angle in spec.end}
    changed = tuple(written.get(angle.variable, angle) for angle in what_differs(end, start, place))
    contacts = spec.contacts if has_contacts else mirror_contacts(spec.end_contacts)
    usual = full_pose(spec.base)
    return replace(spec, start=what_differs(start, usual, place), end=changed, contacts=contacts)


def _mirror_claim(claim: Claim) -> Claim:
    others = tuple(map(mirror_named, claim.others))
    low, high = claim.low, claim.high
    joint, _, axis = claim.variable.rpartition(".")
    if joint in ("trunk", "neck") and axis in _AWAY:
        low, high = -high, -low
    variable = f"{other_side(joint)}.{axis}" if claim.variable else ""
    return replace(claim, subject=mirror_named(claim.subject), others=others, variable=variable, low=low, high=high)


def _mirror_stations(spec: FigureSpec, place: Place) -> tuple[Station, ...]:
    """The pictures after the first; the angles of each differ from its own base, or from the first picture on the same base."""
    found, base, start = [], spec.base, spec.start
    for one in spec.stations[1:]:
        contacts, other = mirror_contacts(one.contacts), _BASES.get(one.base, one.base)
        if one.base:
            base, start = one.base, one.angles
            under = full_pose(other)
        else:
            under = mirror_pose(full_pose(base, start))
        pose = mirror_pose(full_pose(base, start, () if one.base else one.angles))
        found.append(Station(what_differs(pose, under, place), contacts, other))
    return tuple(found)


def mirror_both(spec: FigureSpec, place: Place) -> FigureSpec:
    """Both pictures with left and right exchanged, seen from the other side: the mirror image of the figure."""
    base = _BASES.get(spec.base, spec.base)
    start = mirror_pose(full_pose(spec.base, spec.start))
    *via, last = _mirror_stations(spec, place) or (Station((), ()),)
    yaw, rise = spec.view
    yaw = 180 - yaw if yaw >= 0 else -180 - yaw
    return replace(
        spec, base=base, view=(yaw, rise),
        props=tuple(PropUse(use.name, tuple(other_side(_WORDS.get(word, word)) for word in use.words), use.place) for use in spec.props),
        contacts=mirror_contacts(spec.contacts), end_contacts=mirror_contacts(spec.end_contacts),
        start=what_differs(start, full_pose(base), place), end=last.angles, end_base=last.base,
        slide=tuple(map(mirror_named, spec.slide)), pin=tuple(map(mirror_named, spec.pin)), arrow=tuple(map(mirror_named, spec.arrow)),
        active=tuple(map(mirror_named, spec.active)), stretched=tuple(map(mirror_named, spec.stretched)), side=_OTHER.get(spec.side, ""),
        shows=tuple(map(_mirror_claim, spec.shows)), without=tuple(map(other_side, spec.without)),
        via=tuple(via),
        inset=mirror_named(spec.inset) if spec.inset else None,
        reach=tuple(Reach(mirror_named(one.point), mirror_named(one.target)) for one in spec.reach),
    )  # fmt: skip

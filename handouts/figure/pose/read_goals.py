"""Goals as an author types them: what a part reaches, what stays together, what is the mirror of what.

A thing that is reached becomes a contact of picture 2.  Never stops at the first fault.
"""

from __future__ import annotations

from dataclasses import replace

from handouts.figure.body.people import without_points
from handouts.figure.body.sites import BODY_TARGETS, GRIP, LIMB_SITES, POINTS
from handouts.figure.pose.mirrored import mirror_both, mirror_end, mirror_start
from handouts.figure.pose.names import MIRRORS, TOGETHER, nearest, normal, target_names
from handouts.figure.pose.spec import Contact, FigureSpec, Named, Reach
from handouts.figure.pose.surroundings import HELD, PROP_OF
from handouts.figure.pose.typed import YES, WordReader, split_side
from handouts.problems import Place
from handouts.source.nodes import Mapping, Node, Scalar

_SIDES = ("r", "l")
_SAME = {"feet": "feet", "foot": "feet", "knees": "knees", "knee": "knees", "hands": "hands", "hand": "hands"}
_POINTS_TOGETHER = {"feet": "foot", "knees": "knee", "hands": "hand"}


def _is_sided(name: str) -> bool:
    return name in POINTS and POINTS[name][0].endswith(".")


def _target(reader: WordReader, point: Named, scalar: Scalar) -> Named | None:
    """What a point reaches: another point, by default of the same side, or a thing."""
    name, side = split_side(scalar.text)
    name = {"exercise-ball": "ball"}.get(name, name)
    if name in POINTS:
        if side and not _is_sided(name):
            reader.wrong(scalar.place, f"'{scalar.text}' has no right and left", f"Write '{name}'.")
        elif _is_sided(name) and not (side or point.side):
            reader.wrong(scalar.place, f"'{scalar.text}' does not say which side", f"Write {name}.r or {name}.l.")
        else:
            found = Named(name, (side or point.side) if _is_sided(name) else "", scalar.place)
            if found != point:
                return found
            reader.wrong(scalar.place, f"'{point}' cannot reach itself", "Name another part of the body, or a thing.")
    elif name not in target_names() or side:
        reader.wrong(scalar.place, f"'{scalar.text}' is nothing that can be reached", nearest(name, (*POINTS, *target_names())))
    elif name in BODY_TARGETS and point.name != "hand":
        mend = f"Write hand.r or hand.l, or reach one of: {', '.join(POINTS)}."
        reader.wrong(scalar.place, f"'{name}' is a place for a hand, and '{point}' is none", mend)
    elif name in PROP_OF and point.name not in LIMB_SITES:
        reader.wrong(scalar.place, f"'{point}' cannot reach a thing", "Name a part of a limb: hand, elbow, knee, ankle, heel, toes or foot.")
    else:
        return Named(name, "", scalar.place)
    return None


def read_reach(reader: WordReader, node: Node | None, without: tuple[str, ...]) -> tuple[Reach, ...]:
    """The goals of picture 2; a part without a side means both."""
    if node is None:
        return ()
    if not isinstance(node, Mapping):
        reader.wrong(node.place, "what is reached is written as a part and its goal", "Write for example {hand.l: toes.r}.")
        return ()
    found = []
    for entry in node.entries:
        name, side = split_side(entry.key)
        if name not in POINTS or (side and not _is_sided(name)):
            reader.wrong(entry.place, f"'{entry.key}' is no part of the body that reaches", nearest(name, POINTS))
            continue
        if not isinstance(entry.value, Scalar):
            reader.wrong(entry.value.place, "one goal is wanted here", "Write a part of the body or a thing, for example toes.r or wall.")
            continue
        faults = len(reader.problems)
        for one in (side,) if side or not _is_sided(name) else _SIDES:
            point = Named(name, one, entry.place)
            target = _target(reader, point, entry.value) if len(reader.problems) == faults else None
            for end in (point, target) if target else ():
                if (end.name, end.side or "r") in without_points(without):
                    reader.wrong(end.place, f"'{end}' is not there", "Name a part that is there, or take the limb out of 'without'.")
            if target:
                found.append(Reach(point, target))
    return tuple(found)


def reached_contacts(reach: tuple[Reach, ...], contacts: tuple[Contact, ...]) -> tuple[Contact, ...]:
    """The contacts of picture 2 with the things that are reached, in place of what those parts touched before."""
    added = []
    for one in reach:
        thing = one.target.name
        if thing in POINTS:
            continue
        site = GRIP if one.point.name == "hand" and (thing in HELD or thing in BODY_TARGETS) else one.point.name
        added.append(Contact(Named(site, one.point.side, one.point.place), thing))
    taken = {(contact.site.name, contact.site.side) for contact in added}
    return (*(one for one in contacts if (one.site.name, one.site.side) not in taken), *added)


def read_together(reader: WordReader, node: Node | None, without: tuple[str, ...]) -> tuple[str, ...]:
    """Parts that touch those of the other side."""
    found = []
    for scalar in reader.scalars(node):
        name = _SAME.get(normal(scalar.text), "")
        if not name:
            reader.wrong(scalar.place, f"'{scalar.text}' are no parts that can stay together", nearest(scalar.text, TOGETHER))
        elif any((_POINTS_TOGETHER[name], side) in without_points(without) for side in _SIDES):
            what = f"the {name} cannot stay together: one of them is not there"
            reader.wrong(scalar.place, what, "Take the word out, or the limb out of 'without'.")
        else:
            found.append(name)
    return tuple(dict.fromkeys(found))


def apply_mirror(reader: WordReader, node: Mapping, spec: FigureSpec) -> FigureSpec:
    """The figure with what its 'mirror' says."""
    found = node.get("mirror")
    if found is None:
        return spec
    word, place = normal(found.text) if isinstance(found, Scalar) else "", found.place
    if word in YES:
        word = "end"
    if word not in MIRRORS:
        said = found.text if isinstance(found, Scalar) else "this"
        reader.wrong(place, f"'{said}' does not say what is mirrored", f"Write one of: {', '.join(MIRRORS)}.")
    elif word == "both":
        return mirror_both(spec, place)
    elif len(spec.sections) > 1:
        what = f"'mirror: {word}' makes one picture of the other, and these stand on bases of their own"
        reader.wrong(place, what, "Write mirror: both, or the angles of each picture.")
    elif word == "start" and (node.get("start") is not None or node.get("end") is None):
        what = "picture 1 is the mirror of picture 2, so 'start' cannot be written too" if node.get("start") else "there is no picture 2 to mirror"
        reader.wrong(place, what, "Write the angles of picture 2 under 'end', from the base position; or write mirror: end.")
    elif word == "start":
        return mirror_start(spec, place, has_contacts=node.get("contacts") is not None)
    else:
        return _seen_to_move(reader, mirror_end(spec, place, has_end_contacts=node.get("end-contacts") is not None), place)
    return spec


def _seen_to_move(reader: WordReader, spec: FigureSpec, place: Place) -> FigureSpec:
    if not spec.end and spec.contacts == spec.end_contacts:
        what = "picture 1 is the same with left and right exchanged, so nothing would move"
        reader.wrong(place, what, "Write one side of picture 1 differently, for example start: {hip.r: flex 40}.")
    return replace(spec, moves=True)

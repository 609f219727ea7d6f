"""From the ``figure:`` node of an exercise to a ``FigureSpec``, with a problem for every word that is not known.

Never computes a pose and never stops at the first fault.
"""

from __future__ import annotations

from handouts.figure.body.joints import JOINTS, SIDED, SIDES
from handouts.figure.body.muscles import MUSCLE_ALIASES, MUSCLES
from handouts.figure.body.people import ENDS, PEOPLE, without_points, without_sites
from handouts.figure.body.sites import ALIASES, POINTS
from handouts.figure.pose.bases import BASES
from handouts.figure.pose.claims import EXAMPLE, read_claim
from handouts.figure.pose.drawn import carrier, check_drawn
from handouts.figure.pose.names import KEYS, MOST_VIA, USUAL_VIEW, VIEWS, muscle_names, nearest, normal, site_names
from handouts.figure.pose.read_goals import apply_mirror, reached_contacts, read_reach, read_together
from handouts.figure.pose.spec import Claim, Contact, Excuse, FigureSpec, Named, PropUse, Station
from handouts.figure.pose.typed import NO, YES, WordReader, split_side
from handouts.problems import Place, Problem
from handouts.source.nodes import Entry, Mapping, Node, Scalar, Sequence


def _view(reader: WordReader, node: Node | None, base: str) -> tuple[tuple[float, float], str]:
    usual = USUAL_VIEW.get(base, "lying")
    if node is None:
        return VIEWS[usual], usual
    if isinstance(node, Sequence):
        if len(node.items) == 2:
            return (reader.number(node.items[0], 20, -180, 180), reader.number(node.items[1], 8, -30, 90)), ""
        reader.wrong(node.place, "a view has two angles", "Write [yaw, elevation], for example [20, 8].")
    elif isinstance(node, Scalar):
        if normal(node.text) in VIEWS:
            return VIEWS[normal(node.text)], normal(node.text)
        reader.wrong(node.place, f"'{node.text}' is not a view", nearest(normal(node.text), VIEWS))
    else:
        reader.wrong(node.place, "a view is one word or two angles", "Write for example side, or [20, 8].")
    return VIEWS[usual], usual


_LYING = "Write supine (on the back), prone (on the front) or side-lying."
"""The mend where only 'lying' stands: on which side changes everything."""


def _base(reader: WordReader, node: Mapping) -> str:
    found = node.get("base")
    if not isinstance(found, Scalar):
        reader.wrong(node.place, "the figure has no base position", nearest("", BASES))
        return "standing"
    name = {
        "crook": "crook-lying",
        "hook-lying": "crook-lying",
        "side-lying-left": "side-lying",
        "seated": "sitting",
        "on-all-fours": "all-fours",
    }.get(normal(found.text), normal(found.text))
    if name not in BASES:
        reader.wrong(found.place, f"'{found.text}' is not a base position", _LYING if name == "lying" else nearest(name, BASES))
        return "standing"
    return name


def _arrow(reader: WordReader, node: Node | None) -> tuple[Named, ...]:
    if isinstance(node, Scalar) and normal(node.text) in NO:
        return ()
    found = [reader.named(scalar, tuple(POINTS), "point that moves") for scalar in reader.scalars(node)]
    return tuple(point for point in found if point)


def _active(reader: WordReader, node: Node | None) -> tuple[Named, ...]:
    found = []
    for scalar in reader.scalars(node):
        if one := reader.named(scalar, muscle_names(), "muscle region"):
            name = MUSCLE_ALIASES.get(one.name, one.name)
            found.append(Named(name, one.side if MUSCLES[name].sided else "", one.place))
    return tuple(found)


def _sites(reader: WordReader, node: Node | None) -> tuple[Named, ...]:
    found = []
    for scalar in reader.scalars(node):
        if one := reader.named(scalar, site_names(), "part of the body that can touch"):
            found.append(Named(ALIASES.get(one.name, one.name), one.side, one.place))
    return tuple(found)


def _contacts(reader: WordReader, node: Node | None, usual: tuple[Contact, ...]) -> tuple[Contact, ...]:
    if node is None:
        return usual
    found = [reader.contact(scalar) for scalar in reader.scalars(node) if normal(scalar.text) not in NO]
    return tuple(contact for contact in found if contact)


def _usual_contacts(reader: WordReader, base: str, props: tuple[PropUse, ...], place: Place) -> tuple[Contact, ...]:
    """What a base position rests on, with what carries the body in place of the mat or the chair."""
    found = []
    for contact in BASES[base].contacts:
        site, target = contact.split(" ")
        found.append(reader.contact(Scalar(f"{site} {carrier(props, base, target)}", place)))
    return tuple(contact for contact in found if contact)


def _props(reader: WordReader, node: Mapping, base: str, others: tuple[str, ...]) -> tuple[PropUse, ...]:
    """The props that are written, and those that the base positions of its pictures bring."""
    read = [reader.prop(e.key, e.place, e.value) for e in _entries(reader, node.get("props"), "{chair: seat}")]
    props = [use for use in read if use]
    for name in dict.fromkeys(name for one in (base, *others) for name in BASES[one].props):
        carried = "seat" if name == "chair" else name
        if name not in [use.name for use in props] and carrier(tuple(props), base, carried) == carried:
            props.append(PropUse(name, ("seat",) if name == "chair" else (), node.place))
    return tuple(props)


def _balance(reader: WordReader, node: Node | None) -> str:
    if node is None:
        return ""
    if not isinstance(node, Scalar):
        reader.wrong(node.place, "one word is wanted here", "Write yes, no, start or end.")
        return ""
    word = normal(node.text)
    if word in YES:
        return "yes"
    if word in NO:
        return "no"
    if word in ("start", "end"):
        return word
    reader.wrong(node.place, f"'{node.text}' does not say when the balance counts", "Write yes, no, start or end.")
    return ""


def _side(reader: WordReader, node: Node | None) -> str:
    if node is None:
        return ""
    word = normal(node.text) if isinstance(node, Scalar) else ""
    if word not in ("r", "l", "right", "left"):
        reader.wrong(node.place, "this is not a side", "Write r or l.")
        return ""
    return word[0]


def _person(reader: WordReader, node: Node | None) -> str:
    if node is None:
        return ""
    word = normal(node.text) if isinstance(node, Scalar) else ""
    if word not in PEOPLE:
        reader.wrong(node.place, "this is nobody who can be drawn", f"Write one of: {', '.join(sorted(PEOPLE))}.")
        return ""
    return word


def _without(reader: WordReader, node: Node | None) -> tuple[str, ...]:
    """Limbs that end early."""
    found = []
    for scalar in reader.scalars(node):
        name, side = split_side(scalar.text)
        if name in ENDS and side:
            found.append(f"{name}.{side}")
        else:
            reader.wrong(scalar.place, f"'{scalar.text}' does not say where a limb ends",
                         f"Write one of: {', '.join(sorted(ENDS))}, with .r or .l: shank.r ends below the right knee.")  # fmt: skip
    return tuple(dict.fromkeys(found))


def _there(reader: WordReader, contacts: tuple[Contact, ...], without: tuple[str, ...], *, typed: bool) -> tuple[Contact, ...]:
    """Contacts of what is there: what a base position says of both sides holds for the other one."""
    gone = without_sites(without)
    found = []
    for contact in contacts:
        site = contact.site
        here = tuple(side for side in ((site.side,) if site.side else SIDES) if (site.name, side) not in gone)
        if len(here) == len((site.side,) if site.side else SIDES):
            found.append(contact)
        elif here:
            found += [Contact(Named(site.name, side, site.place), contact.target) for side in here]
        elif typed:
            reader.wrong(site.place, f"the contact '{site} {contact.target}' is one of a part that is not there",
                         "Take the contact out, or the limb out of 'without'.", "figure-not-drawn")  # fmt: skip
    return tuple(found)


def _between(node: Mapping) -> tuple[Node, ...]:
    """What is written of the pictures between the first and the last."""
    via = node.get("via")
    return via.items if isinstance(via, Sequence) else () if via is None else (via,)


def _own_base(reader: WordReader, node: Node | None, *, is_read: bool = True) -> tuple[str, Node | None]:
    """The base position of a picture, '' where it has none of its own, and what is left of the picture."""
    if not isinstance(node, Mapping) or node.get("base") is None:
        return "", node
    base = _base(reader if is_read else WordReader(), node)
    return base, Mapping(tuple(entry for entry in node.entries if entry.key != "base"), node.place)


def _same_head_end(reader: WordReader, node: Mapping, bases: tuple[str, ...]) -> None:
    """Nobody is turned end for end between two pictures: a body on its back or on its right side has its head left, any other right."""
    named = [base for base in bases if base]
    for before, after in zip(named, named[1:], strict=False):
        ends = [BASES[base].turn[0][1] for base in (before, after)]
        if ends[0] * ends[1] < 0:
            reader.wrong(
                node.place,
                f"between '{before}' and '{after}' the body is turned end for end: the head lies left in the one and right in the other",
                "Write side-lying-right beside supine, side-lying beside prone or all-fours; 'mirror: both' shows the other side.",
            )


def _via(reader: WordReader, items: tuple[Node, ...], contacts: tuple[Contact, ...], props: tuple[PropUse, ...]) -> tuple[Station, ...]:
    """The pictures between the first and the last; what touches is as in the picture before, or as the picture's own base has it, unless written."""
    found: list[Station] = []
    if len(items) > MOST_VIA:
        reader.wrong(items[MOST_VIA].place, f"these are {len(items)} pictures between the first and the last", f"Write at most {MOST_VIA}.")
    for written in items[:MOST_VIA]:
        base, item = _own_base(reader, written)
        assert item is not None
        contacts = _usual_contacts(reader, base, props, item.place) if base else contacts
        entries = _entries(reader, item, "{knee: 60, hip: 50}")
        touching = next((entry.value for entry in entries if entry.key == "contacts"), None)
        contacts = _contacts(reader, touching, contacts)
        pose = Mapping(tuple(entry for entry in entries if entry.key != "contacts"), item.place)
        found.append(Station(reader.pose(pose), contacts, base))
    return tuple(found)


def _shows(reader: WordReader, node: Node | None) -> tuple[Claim, ...]:
    """What the pictures must show; a name without a side stands for both sides."""
    found: list[Claim] = []
    for entry in _entries(reader, node, "{ankle.r: below seat}"):
        name, side = split_side(entry.key)
        sided = name in SIDED or (name in POINTS and POINTS[name][0].endswith("."))
        if (name not in POINTS and name not in JOINTS) or (side and not sided):
            reader.wrong(
                entry.place, f"'{entry.key}' is no point or joint of the body", nearest(name, (*POINTS, *JOINTS))
            )
            continue
        for scalar in reader.scalars(entry.value):
            claims = [
                read_claim(Named(name, one, scalar.place), scalar.text, scalar.place)
                for one in ((side,) if side else SIDES if sided else ("",))
            ]
            if isinstance(claims[0], str):
                reader.wrong(scalar.place, f"'{entry.key}: {scalar.text}' {claims[0]}", EXAMPLE)
            found += [claim for claim in claims if isinstance(claim, Claim)]
    return tuple(dict.fromkeys(found))


def _entries(reader: WordReader, node: Node | None, example: str) -> tuple[Entry, ...]:
    """The entries of a group of keys; none where it is left out."""
    if node is None or isinstance(node, Mapping):
        return node.entries if node else ()
    reader.wrong(node.place, "a group of keys is wanted here", f"Write for example {example}.")
    return ()


def read_figure(node: Mapping) -> tuple[FigureSpec | None, list[Problem]]:
    """The figure of an exercise, or None with problems where nothing can be drawn from it."""
    reader = WordReader()
    for entry in node.entries:
        if entry.key not in KEYS:
            reader.wrong(entry.place, f"'{entry.key}' is not a key of a figure", nearest(entry.key, KEYS), "figure-key")
    base = _base(reader, node)
    end_base, end_node = _own_base(reader, node.get("end"))
    others = tuple(name for item in _between(node) if (name := _own_base(reader, item, is_read=False)[0]))
    props = _props(reader, node, base, (*others, *((end_base,) if end_base else ())))
    contacts = _contacts(reader, node.get("contacts"), _usual_contacts(reader, base, props, node.place))
    end_usual = _usual_contacts(reader, end_base, props, node.place) if end_base else contacts
    end_contacts = _contacts(reader, node.get("end-contacts"), end_usual)
    person, without = _person(reader, node.get("person")), _without(reader, node.get("without"))
    if without:
        contacts = _there(reader, contacts, without, typed=node.get("contacts") is not None)
        end_contacts = _there(reader, end_contacts, without, typed=node.get("end-contacts") is not None)
    reach, together = read_reach(reader, node.get("reach"), without), read_together(reader, node.get("together"), without)
    end_contacts = reached_contacts(reach, end_contacts)
    via = _via(reader, _between(node), contacts, props)
    if via and not end_base and node.get("end-contacts") is None and any(station.base for station in via):
        end_contacts = via[-1].contacts
    _same_head_end(reader, node, (base, *(station.base for station in via), end_base))
    reader.problems += check_drawn((*contacts, *end_contacts, *(one for station in via for one in station.contacts)), props, base)
    if base == "side-lying" and any(contact.site.name == "side.r" for contact in contacts):
        base = "side-lying-right"
    beyond_node = node.get("beyond")
    excuses = tuple(
        Excuse(entry.key.strip().lower(), " ".join(scalar.text for scalar in reader.scalars(entry.value)), entry.place)
        for entry in _entries(reader, beyond_node, "{knee flexion: deep squat}")
    )
    if via and node.get("end") is None:
        mend = "Write 'end' too: the angles of the last picture, or {} for the first once more."
        reader.wrong(node.place, "there are pictures between, but no last one", mend)
    view, view_name = _view(reader, node.get("view"), base)
    spec = FigureSpec(
        base,
        view,
        view_name,
        props,
        contacts,
        end_contacts,
        reader.pose(node.get("start")),
        reader.pose(end_node),
        _sites(reader, node.get("slide")),
        _sites(reader, node.get("pin")),
        _arrow(reader, node.get("arrow")),
        _active(reader, node.get("active")),
        reader.number(node.get("lean"), 0.0, -60, 80),
        _balance(reader, node.get("balance")),
        _side(reader, node.get("side")),
        excuses,
        end_node is not None or bool(reach),
        _shows(reader, node.get("shows")),
        _active(reader, node.get("stretched")),
        person,
        without,
        via,
        next(iter(_arrow(reader, node.get("inset"))), None),
        reader.number(node.get("flight"), 0.0, 0.0, 0.6),
        reach,
        together,
        end_base,
        node.place,
        tuple((entry.key, entry.place) for entry in node.entries),
    )
    spec = apply_mirror(reader, node, spec)
    for point in spec.arrow:
        if (point.name, point.side or "r") in without_points(without):
            reader.wrong(point.place, f"the arrow follows '{point}', which is not there", "Name a point that is there, or 'none'.")
    if spec.flight and not (spec.moves and any(one.target == "floor" for one in end_contacts)):
        mend = "Write 'end', and the end contact as it would be on the ground, for example 'toes floor'; or take 'flight' out."
        reader.wrong(spec.place_of("flight"), "'flight' lifts nothing: no part touches the floor at the end", mend)
    return (spec if not reader.problems else None), reader.problems

"""From the ``figure:`` node of an exercise to a ``FigureSpec``, with a problem for every word that is not known.

Never computes a pose and never stops at the first fault.
"""

from __future__ import annotations

import re

from handouts.figure.bases import BASES
from handouts.figure.joints import (
    HIGH,
    INDEX,
    JOINTS,
    LOW,
    PLAIN_AXIS,
    SIDED,
    SIDES,
    joint_tokens,
    token_value,
    variable,
)
from handouts.figure.muscles import MUSCLE_ALIASES, MUSCLES
from handouts.figure.names import (
    KEYS,
    PROP_ALIASES,
    PROP_WORDS,
    USUAL_VIEW,
    VIEWS,
    muscle_names,
    normal,
    site_names,
    target_names,
)
from handouts.figure.sites import ALIASES, BODY_SITES, GRIP, LIMB_SITES, POINTS
from handouts.figure.spec import Contact, Excuse, FigureSpec, Named, PoseAngle, PropUse
from handouts.problems import Place, Problem, suggest
from handouts.source.nodes import Mapping, Node, Scalar, Sequence

_YES = frozenset({"yes", "true", "on"})
_NO = frozenset({"no", "false", "off", "none"})
_TERM = re.compile(r"([a-z][a-z-]*)\s+(-?[0-9]+(?:\.[0-9]+)?)")
_NUMBER = re.compile(r"-?[0-9]{1,6}(?:\.[0-9]{1,6})?")
"""Digits of ASCII only: Python's own float takes 1_0, inf and digits of other scripts."""
MOST_ANGLE = 200.0
"""Degrees: larger numbers are slips of the pen."""


class _Reader:
    """Reads one figure and gathers problems."""

    def __init__(self) -> None:
        self.problems: list[Problem] = []

    def wrong(self, place: Place, what: str, mend: str, rule: str = "figure-word") -> None:
        """Note a problem."""
        self.problems.append(Problem(place, rule, what, mend))

    def scalars(self, node: Node | None) -> list[Scalar]:
        """A scalar or a list of scalars as a list."""
        if node is None:
            return []
        if isinstance(node, Scalar):
            return [node]
        if isinstance(node, Sequence):
            plain = [item for item in node.items if isinstance(item, Scalar)]
            if len(plain) == len(node.items):
                return plain
        self.wrong(node.place, "a word or a list of words is wanted here", "Write one word, or words in [brackets].")
        return []

    def number(self, node: Node | None, usual: float, low: float, high: float) -> float:
        """A number within bounds."""
        if node is None:
            return usual
        fits = isinstance(node, Scalar) and _NUMBER.fullmatch(node.text.strip())
        value = float(fits.group()) if fits else float("nan")
        if not low <= value <= high:
            self.wrong(node.place, "this is not a number that fits here", f"Write a number from {low:g} to {high:g}.")
            return usual
        return value

    def named(self, scalar: Scalar, known: tuple[str, ...], kind: str, sided: bool = True) -> Named | None:
        """A name with an optional side."""
        name, side = split_side(scalar.text)
        if name not in known:
            self.wrong(scalar.place, f"'{scalar.text}' is not a {kind}", suggest(name, known))
            return None
        if side and not sided:
            self.wrong(scalar.place, f"'{name}' has no side", f"Write '{name}'.")
            return None
        return Named(name, side, scalar.place)

    def contact(self, scalar: Scalar) -> Contact | None:
        """``site target``."""
        words = scalar.text.split()
        if len(words) != 2:
            self.wrong(
                scalar.place,
                f"'{scalar.text}' is not a contact",
                "Write the part of the body and what it touches, for example 'foot floor'.",
            )
            return None
        name, side = split_side(words[0])
        name = ALIASES.get(name, name)
        if name == "side":
            name, side = f"side.{side or 'l'}", ""
        if name not in (*LIMB_SITES, *BODY_SITES, GRIP):
            self.wrong(
                scalar.place, f"'{words[0]}' is not a part of the body that can touch", suggest(name, site_names())
            )
            return None
        target = {"exercise-ball": "ball", "bench": "seat"}.get(normal(words[1]), normal(words[1]))
        if target not in target_names():
            self.wrong(
                scalar.place, f"'{words[1]}' is not a thing that can be touched", suggest(target, target_names())
            )
            return None
        return Contact(Named(name, side, scalar.place), target)

    def pose(self, node: Node | None) -> tuple[PoseAngle, ...]:
        """``joint[.side]: number`` or ``joint: flex 45 abd 10``."""
        if node is None:
            return ()
        if not isinstance(node, Mapping):
            self.wrong(node.place, "a pose is written as joints with angles", "Write for example {hip.r: flex 45}.")
            return ()
        found: list[PoseAngle] = []
        for entry in node.entries:
            joint, side = split_side(entry.key)
            if joint not in JOINTS or (side and joint not in SIDED):
                self.wrong(entry.place, f"'{entry.key}' is not a joint", suggest(joint, JOINTS))
            elif isinstance(entry.value, Scalar):
                found += self.angles(joint, side, entry.value)
            else:
                self.wrong(
                    entry.value.place, "an angle is wanted here", "Write a number, or for example 'flex 45 abd 10'."
                )
        return tuple(found)

    def angles(self, joint: str, side: str, scalar: Scalar) -> list[PoseAngle]:
        """The angles of one joint."""
        text = scalar.text.strip().lower()
        terms: list[tuple[str, float]] = []
        if _NUMBER.fullmatch(text):
            terms = [(PLAIN_AXIS[joint], float(text))]
        else:
            matches = _TERM.findall(text)
            if not matches or _TERM.sub("", text).strip(" ,"):
                self.wrong(
                    scalar.place,
                    f"'{scalar.text}' is not an angle of the {joint}",
                    f"Write a number of degrees, or one of {', '.join(joint_tokens(joint))} with degrees.",
                )
                return []
            for token, degrees in matches:
                if token not in joint_tokens(joint):
                    self.wrong(
                        scalar.place, f"the {joint} has no motion '{token}'", suggest(token, joint_tokens(joint))
                    )
                else:
                    terms.append(token_value(joint, token, float(degrees)))
        found = []
        for axis, degrees in terms:
            if abs(degrees) > MOST_ANGLE:
                self.wrong(scalar.place, f"{degrees:g} degrees is no angle of a joint", "Write the angle in degrees.")
                continue
            for one in ((side,) if side else SIDES) if joint in SIDED else ("",):
                found.append(PoseAngle(variable(joint, one, axis), degrees, scalar.place))
        return found

    def prop(self, key: str, place: Place, node: Node) -> PropUse | None:
        """One prop with its words."""
        name = PROP_ALIASES.get(normal(key), normal(key))
        if name not in PROP_WORDS:
            self.wrong(place, f"'{key}' is not a prop", suggest(name, PROP_WORDS))
            return None
        words = []
        for scalar in self.scalars(node):
            for typed in scalar.text.replace(",", " ").split():
                point, side = split_side(typed)
                point = ALIASES.get(point, point)
                word = normal(typed)
                if point in POINTS and word not in PROP_WORDS[name]:
                    word = f"{point}.{side}" if side else point
                if word in _NO:
                    return None
                if word in PROP_WORDS[name] or point in POINTS or _NUMBER.fullmatch(word):
                    words.append(word)
                elif word not in _YES:
                    known = (*PROP_WORDS[name], *POINTS)
                    self.wrong(scalar.place, f"'{word}' does not say how the {name} is used", suggest(word, known))
        return PropUse(name, tuple(words), place)


def split_side(text: str) -> tuple[str, str]:
    """``ankle.r`` as ('ankle', 'r'); other words with an empty side."""
    name, dot, side = text.strip().lower().rpartition(".")
    if dot and side in ("r", "l", "right", "left"):
        return normal(name), side[0]
    return normal(text), ""


def _view(reader: _Reader, node: Node | None, base: str) -> tuple[tuple[float, float], str]:
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
        reader.wrong(node.place, f"'{node.text}' is not a view", suggest(normal(node.text), VIEWS))
    return VIEWS[usual], usual


def _base(reader: _Reader, node: Mapping) -> str:
    found = node.get("base")
    if not isinstance(found, Scalar):
        reader.wrong(node.place, "the figure has no base position", suggest("", BASES))
        return "standing"
    name = {
        "crook": "crook-lying",
        "hook-lying": "crook-lying",
        "side-lying-left": "side-lying",
        "seated": "sitting",
        "on-all-fours": "all-fours",
    }.get(normal(found.text), normal(found.text))
    if name not in BASES:
        reader.wrong(found.place, f"'{found.text}' is not a base position", suggest(name, BASES))
        return "standing"
    return name


def _arrow(reader: _Reader, node: Node | None) -> tuple[Named, ...]:
    if isinstance(node, Scalar) and normal(node.text) in _NO:
        return ()
    found = [reader.named(scalar, tuple(POINTS), "point that moves") for scalar in reader.scalars(node)]
    return tuple(point for point in found if point)


def _active(reader: _Reader, node: Node | None) -> tuple[Named, ...]:
    found = []
    for scalar in reader.scalars(node):
        if one := reader.named(scalar, muscle_names(), "muscle region"):
            name = MUSCLE_ALIASES.get(one.name, one.name)
            found.append(Named(name, one.side if MUSCLES[name].sided else "", one.place))
    return tuple(found)


def _sites(reader: _Reader, node: Node | None) -> tuple[Named, ...]:
    found = []
    for scalar in reader.scalars(node):
        if one := reader.named(scalar, site_names(), "part of the body that can touch"):
            found.append(Named(ALIASES.get(one.name, one.name), one.side, one.place))
    return tuple(found)


def _contacts(reader: _Reader, node: Node | None, usual: tuple[Contact, ...]) -> tuple[Contact, ...]:
    if node is None:
        return usual
    found = [reader.contact(scalar) for scalar in reader.scalars(node) if normal(scalar.text) not in _NO]
    return tuple(contact for contact in found if contact)


def _balance(reader: _Reader, node: Node | None) -> str:
    if not isinstance(node, Scalar):
        return ""
    word = normal(node.text)
    if word in _YES:
        return "yes"
    if word in _NO:
        return "no"
    if word in ("start", "end"):
        return word
    reader.wrong(node.place, f"'{node.text}' does not say when the balance counts", "Write yes, no, start or end.")
    return ""


def read_figure(node: Mapping) -> tuple[FigureSpec | None, list[Problem]]:
    """The figure of an exercise, or None with problems where nothing can be drawn from it."""
    reader = _Reader()
    for entry in node.entries:
        if entry.key not in KEYS:
            reader.wrong(entry.place, f"'{entry.key}' is not a key of a figure", suggest(entry.key, KEYS), "figure-key")
    base = _base(reader, node)
    usual = tuple(c for text in BASES[base].contacts if (c := reader.contact(Scalar(text, node.place))))
    contacts = _contacts(reader, node.get("contacts"), usual)
    if base == "side-lying" and any(contact.site.name == "side.r" for contact in contacts):
        base = "side-lying-right"
    props_node, beyond_node = node.get("props"), node.get("beyond")
    props = (
        [reader.prop(e.key, e.place, e.value) for e in props_node.entries] if isinstance(props_node, Mapping) else []
    )
    for name in BASES[base].props:
        if name not in [use.name for use in props if use]:
            props.append(PropUse(name, ("seat",) if name == "chair" else (), node.place))
    excuses = (
        tuple(Excuse(e.key.strip().lower(), e.value.text) for e in beyond_node.entries if isinstance(e.value, Scalar))
        if isinstance(beyond_node, Mapping)
        else ()
    )
    view, view_name = _view(reader, node.get("view"), base)
    side_node = node.get("side")
    side = normal(side_node.text)[:1] if isinstance(side_node, Scalar) else ""
    end_node = node.get("end")
    spec = FigureSpec(
        base,
        view,
        view_name,
        tuple(use for use in props if use),
        contacts,
        _contacts(reader, node.get("end-contacts"), contacts),
        reader.pose(node.get("start")),
        reader.pose(end_node),
        _sites(reader, node.get("slide")),
        _sites(reader, node.get("pin")),
        _arrow(reader, node.get("arrow")),
        _active(reader, node.get("active")),
        reader.number(node.get("lean"), 0.0, -60, 80),
        _balance(reader, node.get("balance")),
        side if side in SIDES else "",
        excuses,
        end_node is not None,
        node.place,
        tuple((entry.key, entry.place) for entry in node.entries),
    )
    return (spec if not reader.problems else None), reader.problems


__all__ = ["HIGH", "INDEX", "LOW", "read_figure", "split_side"]

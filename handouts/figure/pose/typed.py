"""The words of a figure as an author types them, one by one: numbers, names with sides, contacts, angles, props.

Gathers a problem for every word that is not known; never stops at the first fault.
"""

from __future__ import annotations

import re

from handouts.figure.body.joints import JOINTS, PLAIN_AXIS, SIDED, SIDES, joint_tokens, token_value, variable
from handouts.figure.body.sites import ALIASES, BODY_SITES, GRIP, LIMB_SITES
from handouts.figure.pose.names import PROP_ALIASES, PROPS, nearest, normal, site_names, target_names
from handouts.figure.pose.spec import Contact, Named, PoseAngle, PropUse
from handouts.problems import Place, Problem
from handouts.source.nodes import Mapping, Node, Scalar, Sequence

YES = frozenset({"yes", "true", "on"})
NO = frozenset({"no", "false", "off", "none"})
_TERM = re.compile(r"([a-z][a-z-]*)\s+(-?[0-9]+(?:\.[0-9]+)?)")
_NUMBER = re.compile(r"-?[0-9]{1,6}(?:\.[0-9]{1,6})?")
"""Digits of ASCII only: Python's own float takes 1_0, inf and digits of other scripts."""
MOST_ANGLE = 200.0
"""Degrees: larger numbers are slips of the pen."""


class WordReader:
    """Reads the words of one figure and gathers problems."""

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

    def named(self, scalar: Scalar, known: tuple[str, ...], kind: str) -> Named | None:
        """A name with an optional side."""
        name, side = split_side(scalar.text)
        if name not in known:
            self.wrong(scalar.place, f"'{scalar.text}' is not a {kind}", nearest(name, known))
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
                scalar.place, f"'{words[0]}' is not a part of the body that can touch", nearest(name, site_names())
            )
            return None
        target = {"exercise-ball": "ball"}.get(normal(words[1]), normal(words[1]))
        if target not in target_names():
            self.wrong(
                scalar.place, f"'{words[1]}' is not a thing that can be touched", nearest(target, target_names())
            )
            return None
        return Contact(Named(name, side, scalar.place), target)

    def pose(self, node: Node | None) -> tuple[PoseAngle, ...]:
        """``joint[.side]: number`` or ``joint: flex 45 abd 10``; what is written for one side stands before what is written for both."""
        if node is None:
            return ()
        if not isinstance(node, Mapping):
            self.wrong(node.place, "a pose is written as joints with angles", "Write for example {hip.r: flex 45}.")
            return ()
        both: list[PoseAngle] = []
        sided: list[PoseAngle] = []
        for entry in node.entries:
            joint, side = split_side(entry.key)
            if joint not in JOINTS or (side and joint not in SIDED):
                self.wrong(entry.place, f"'{entry.key}' is not a joint", nearest(joint, JOINTS))
            elif isinstance(entry.value, Scalar):
                (sided if side else both).extend(self.angles(joint, side, entry.value))
            else:
                self.wrong(
                    entry.value.place, "an angle is wanted here", "Write a number, or for example 'flex 45 abd 10'."
                )
        given = {angle.variable for angle in sided}
        return (*(angle for angle in both if angle.variable not in given), *sided)

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
                        scalar.place, f"the {joint} has no motion '{token}'", nearest(token, joint_tokens(joint))
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
        if name not in PROPS:
            self.wrong(place, f"'{key}' is not a prop", nearest(name, PROPS))
            return None
        kind, words = PROPS[name], []
        for scalar in self.scalars(node):
            for typed in scalar.text.replace(",", " ").split():
                point, side = split_side(typed)
                point = ALIASES.get(point, point)
                word = normal(typed)
                if point in kind.points and word not in kind.words:
                    word = f"{point}.{side}" if side else point
                if word in NO:
                    return None
                if word in kind.words or point in kind.points or (kind.distance and _NUMBER.fullmatch(word)):
                    words.append(word)
                elif word not in YES:
                    mend = (
                        f"Take the number out: a {name} stands at no distance."
                        if _NUMBER.fullmatch(word)
                        else nearest(word, kind.names)
                    )
                    self.wrong(scalar.place, f"'{word}' does not say how the {name} is used", mend)
        return PropUse(name, tuple(words), place)


def split_side(text: str) -> tuple[str, str]:
    """``ankle.r`` as ('ankle', 'r'); other words with an empty side."""
    name, dot, side = text.strip().lower().rpartition(".")
    if dot and side in ("r", "l", "right", "left"):
        return normal(name), side[0]
    return normal(text), ""

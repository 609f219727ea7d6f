"""What an author does on the bench as a change of the figure's text, as short as a person would write it.

What is as the base position or picture 1 has it is left out; both sides of one angle are one entry.  Pure.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from typing import Any

from handouts.figure.body.joints import PLAIN_AXIS, SIDED, SIDES, VARIABLES, joint_tokens, token_value
from handouts.figure.pose.bases import BASES
from handouts.figure.pose.contacts import sides_of
from handouts.figure.pose.mirrored import full_pose
from handouts.figure.pose.names import KEYS, normal
from handouts.figure.pose.read import read_figure
from handouts.figure.pose.spec import Contact, FigureSpec
from handouts.figure.pose.typed import WordReader, split_side
from handouts.posing.yaml_edits import rename_key, set_items, set_key
from handouts.source.nodes import Mapping as Written
from handouts.source.nodes import Sequence, compose

FILE = "figure"
"""The name under which problems of the text stand."""
Pose = dict[str, float]
POSES = {1: "start", 2: "end"}
_NEAR = 0.5
"""Degrees within which an angle counts as the same."""
_LISTS = ("arrow", "active", "stretched", "slide", "pin", "together")


class EditError(ValueError):
    """A change that the text does not allow, in words for the author."""


def read_text(text: str) -> Written:
    """The figure's text as a node; raises ``EditError`` where it is none."""
    node, problems = compose(text, FILE)
    if node is None:
        raise EditError(f"line {problems[0].place.line}: {problems[0].what}. {problems[0].mend}")
    return node


def written_pose(node: Written, picture: int) -> Pose:
    """The angles that stand in the text for a picture, degrees by variable."""
    return {angle.variable: angle.degrees for angle in WordReader().pose(node.get(POSES[picture]))}


def base_pose(node: Written) -> Pose:
    """The angles of the base position."""
    found = node.get("base")
    name = normal(getattr(found, "text", "standing"))
    return full_pose(name if name in BASES else "standing")


def spec_of(node: Written) -> FigureSpec | None:
    """The spec of the text; None where it has problems."""
    return read_figure(node)[0]


def set_angle(text: str, picture: int, variable: str, degrees: float | None) -> str:
    """An angle of a picture, or None for what it has without being written."""
    if variable not in VARIABLES:
        raise EditError(f"'{variable}' is no angle of a joint.")
    return set_angles(text, picture, {variable: degrees})


def set_angles(text: str, picture: int, angles: Mapping[str, float | None]) -> str:
    """Angles of a picture; what is then as it would be without being written is left out, and what picture 2 repeats."""
    node = read_text(text)
    base, start, end = base_pose(node), written_pose(node, 1), written_pose(node, 2)
    pose = start if picture == 1 else end
    for name, degrees in angles.items():
        usual = base[name] if picture == 1 else start.get(name, base[name])
        if degrees is None or abs(degrees - usual) < _NEAR:
            pose.pop(name, None)
        else:
            pose[name] = degrees
        if picture == 1 and name in end and abs(end[name] - start.get(name, base[name])) < _NEAR:
            del end[name]
            text = _write_joint(text, 2, name, end)
        text = _write_joint(text, picture, name, pose)
    return text


def _write_joint(text: str, picture: int, variable: str, pose: Pose) -> str:
    """The text with all angles of one joint in a picture as a person would write them."""
    joint = variable.split(".", maxsplit=1)[0]
    wanted = _joint_texts(joint, pose)
    node, key = read_text(text), POSES[picture]
    group = node.get(key)
    there = [entry.key for entry in group.entries if split_side(entry.key)[0] == joint] if isinstance(group, Written) else []
    reader = WordReader()
    for name in there:
        plain, side = split_side(name)
        now = f"{plain}.{side}" if side else plain
        if now not in wanted:
            fresh = next((one for one in wanted if one not in there), None)
            text = set_key(text, (key, name), None) if fresh is None else rename_key(text, (key, name), fresh, wanted.pop(fresh))
            continue
        said = wanted.pop(now)
        assert isinstance(group, Written)
        value = group.get(name)
        if _angles(reader, joint, side, getattr(value, "text", "")) != _angles(reader, joint, side, said):
            text = set_key(text, (key, name), said)
    for name, said in wanted.items():
        text = set_key(text, (key, name), said, KEYS)
    return _without_empty(text, key)


def _angles(reader: WordReader, joint: str, side: str, said: str) -> Pose:
    node, _ = compose(f"{joint}{'.' + side if side else ''}: {said}", FILE)
    return {one.variable: one.degrees for one in reader.pose(node)}


def _without_empty(text: str, key: str) -> str:
    """A pose without an angle is left out, but for an end that has contacts of its own."""
    node = read_text(text)
    group = node.get(key)
    if not isinstance(group, Written) or group.entries:
        return text
    return set_key(text, (key,), "{}" if key == "end" and node.get("end-contacts") is not None else None)


def _joint_texts(joint: str, pose: Pose) -> dict[str, str]:
    """What to write for a joint, by key: one entry where both sides are alike."""
    if joint not in SIDED:
        axes = {name.split(".")[1]: degrees for name, degrees in pose.items() if name.split(".")[0] == joint}
        return {joint: _axes_text(joint, axes)} if axes else {}
    sides = {
        side: {name.split(".")[2]: degrees for name, degrees in pose.items() if name.startswith(f"{joint}.{side}.")} for side in SIDES
    }
    if sides["r"] == sides["l"]:
        return {joint: _axes_text(joint, sides["r"])} if sides["r"] else {}
    return {f"{joint}.{side}": _axes_text(joint, axes) for side, axes in sides.items() if axes}


def _axes_text(joint: str, axes: Pose) -> str:
    """``40`` for the plain axis alone, else ``flex 40 abd 10``."""
    if set(axes) == {PLAIN_AXIS[joint]}:
        return f"{axes[PLAIN_AXIS[joint]]:g}"
    found = []
    for axis, degrees in axes.items():
        tokens = [token for token in joint_tokens(joint) if token_value(joint, token, 1.0)[0] == axis]
        token = next((one for one in tokens if token_value(joint, one, 1.0)[1] == (1.0 if degrees >= 0 else -1.0)), tokens[0])
        found.append(f"{token} {degrees * token_value(joint, token, 1.0)[1]:g}")
    return " ".join(found)


Touch = tuple[str, str]
"""A site with its side, and what it touches."""


def touches(contacts: Iterable[Contact]) -> list[Touch]:
    """Contacts side by side: ``foot.r floor`` and ``foot.l floor`` for 'foot floor'."""
    return [(f"{one.site.name}.{side}" if side else one.site.name, one.target) for one in contacts for side in sides_of(one.site)]


def contact_texts(found: Iterable[Touch]) -> list[str]:
    """Contacts as they are written: one for both sides."""
    left = list(dict.fromkeys(found))
    said = []
    while left:
        site, target = left.pop(0)
        name, _, side = site.rpartition(".")
        other = (f"{name}.{'l' if side == 'r' else 'r'}", target)
        if name and side in SIDES and name != "side" and other in left:
            left.remove(other)
            site = name
        said.append(f"{site} {target}")
    return said


def contacts_of(text: str, picture: int) -> list[Touch]:
    """What touches in a picture, written or by its base."""
    spec = spec_of(_bare(read_text(text)))
    if spec is None:
        raise EditError("The contacts cannot be read: mend the problems of the text first.")
    return touches(spec.contacts if picture == 1 else spec.end_contacts)


def _bare(node: Written) -> Written:
    """The figure without what changes contacts when it is read, or is no matter for them."""
    kept = ("base", "props", "contacts", "end-contacts", "end", "without")
    return Written(tuple(entry for entry in node.entries if entry.key in kept), node.place)


def set_contacts(text: str, picture: int, found: list[Touch]) -> str:
    """What touches in a picture; left out where the base position, or picture 1, has the same."""
    key = "contacts" if picture == 1 else "end-contacts"
    usual = contacts_of(set_key(text, (key,), None), picture)
    if sorted(found) == sorted(usual):
        return set_key(text, (key,), None)
    node = read_text(text)
    items = tuple(contact_texts(found)) or ("none",)
    group = node.get(key)
    if isinstance(group, Sequence) and sorted(contacts_of(text, picture)) == sorted(found):
        return text
    return set_items(text, key, items, KEYS)


def set_contact(text: str, picture: int, said: str, on: bool) -> str:
    """A contact of a picture added or taken out; picture 2 keeps its own."""
    reader = WordReader()
    node, _ = compose(f"contacts: [{said}]", FILE)
    group = node.get("contacts") if node else None
    one = reader.contact(reader.scalars(group)[0]) if group is not None and reader.scalars(group) else None
    if one is None:
        raise EditError(f"{reader.problems[0].what}. {reader.problems[0].mend}" if reader.problems else f"'{said}' is no contact.")
    mine = touches((one,))
    found = [touch for touch in contacts_of(text, picture) if touch not in mine] + (mine if on else [])
    later = contacts_of(text, 2) if picture == 1 and read_text(text).get("end") is not None else None
    text = set_contacts(text, picture, found)
    return text if later is None else set_contacts(text, 2, later)


def set_prop(text: str, name: str, words: str | None) -> str:
    """A thing of the picture with its words, or without it."""
    if words is not None and " " in words.strip():
        words = f"[{', '.join(words.split())}]"
    text = set_key(text, ("props", name), words, KEYS)
    props = read_text(text).get("props")
    return set_key(text, ("props",), None) if isinstance(props, Written) and not props.entries else text


def set_word(text: str, key: str, words: str | None) -> str:
    """A key with one word or a list of words; None or nothing takes it out."""
    if key not in KEYS:
        raise EditError(f"'{key}' is no key of a figure.")
    words = (words or "").strip()
    if key in _LISTS and words:
        items = tuple(word.strip() for word in words.split(",") if word.strip())
        if key == "arrow" and len(items) == 1:
            return set_key(text, (key,), items[0], KEYS)
        return set_items(text, key, items, KEYS)
    if key == "view" and "," in words:
        words = f"[{', '.join(part.strip(' []') for part in words.split(','))}]"
    return set_key(text, (key,), words or None, KEYS)


def set_second(text: str, on: bool) -> str:
    """Picture 2 added, or taken out with all that belongs to it."""
    if on:
        return text if read_text(text).get("end") is not None else set_key(text, ("end",), "{}", KEYS)
    for key in ("end", "end-contacts", "arrow", "slide", "reach", "mirror"):
        text = set_key(text, (key,), None)
    return text


EDITS: Mapping[str, Callable[..., str]] = {
    "angle": set_angle, "contact": set_contact, "prop": set_prop, "word": set_word, "second": set_second,
}  # fmt: skip
"""What may be asked for, by its name: each takes the text and named values."""
_TAKES: Mapping[str, Mapping[str, type | tuple[type, ...]]] = {
    "angle": {"picture": int, "variable": str, "degrees": (int, float, type(None))},
    "contact": {"picture": int, "said": str, "on": bool},
    "prop": {"name": str, "words": (str, type(None))},
    "word": {"key": str, "words": (str, type(None))},
    "second": {"on": bool},
}
_SAFE = frozenset("abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789 .,-[]+")
"""Letters that a value of the bench may hold: nothing by which YAML would read another thing."""


def apply_edit(text: str, edit: Mapping[str, Any]) -> str:
    """The text after one edit of the page; raises ``EditError`` for what is none."""
    kind = edit.get("edit")
    takes = _TAKES.get(kind) if isinstance(kind, str) else None
    if takes is None or set(edit) != {"edit", *takes} or not all(isinstance(edit[name], of) for name, of in takes.items()):
        raise EditError("This is no edit of a figure.")
    values = {name: edit[name] for name in takes}
    if any(isinstance(value, str) and not _SAFE.issuperset(value) for value in values.values()) or values.get("picture", 1) not in POSES:
        raise EditError("A value holds a sign that no word of a figure has.")
    return EDITS[str(kind)](text, **values)



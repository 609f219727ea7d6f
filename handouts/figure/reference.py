"""All words that a figure may be described with, as text: made from the declarations, so that none is left out.

Never reads a figure and never draws one.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from textwrap import wrap

from handouts.figure.body.angles import angles_of
from handouts.figure.body.joints import (
    AXES,
    INDEX,
    JOINTS,
    PLAIN_AXIS,
    SIDED,
    VARIABLE_AXES,
    joint_tokens,
    side_of,
    token_value,
    typed_angle,
)
from handouts.figure.body.muscles import MUSCLE_ALIASES, MUSCLES
from handouts.figure.body.sites import ALIASES, BODY_SITES, BODY_TARGETS, GRIP, LIMB_SITES, POINTS
from handouts.figure.pose.bases import BASES, Base
from handouts.figure.pose.claims import BETWEEN_POINTS, MOVES, SHAPES, WHEN
from handouts.figure.pose.faults import FAULT_HELP
from handouts.figure.pose.names import KEY_HELP, PROP_ALIASES, PROPS, VIEWS
from handouts.figure.pose.surroundings import HELD, PROP_OF

WIDTH = 100
"""Letters a line."""


def _listed(name: str, words: Iterable[str]) -> Iterator[str]:
    """A name and what belongs to it, wrapped below it."""
    yield from wrap(f"  {name}: {', '.join(words)}", WIDTH, subsequent_indent="      ", break_on_hyphens=False)


def _also(aliases: dict[str, str], name: str) -> list[str]:
    return [alias for alias, meant in sorted(aliases.items()) if meant == name]


def base_words(base: Base) -> list[str]:
    """A base position: the angles that it brings, one joint after another, and what it rests on."""
    pose = angles_of(base.pose)
    alike = {axis.joint for axis in AXES if axis.sided and all(pose[INDEX[f"{axis.joint}.r.{one.axis}"]] == pose[INDEX[f"{axis.joint}.l.{one.axis}"]]
             for one in AXES if one.joint == axis.joint)}  # fmt: skip
    joints: dict[str, list[str]] = {}
    for name, number in INDEX.items():
        joint, side = VARIABLE_AXES[number].joint, side_of(number)
        if not pose[number] or (side == "l" and joint in alike):
            continue
        words = typed_angle(number, float(pose[number])).partition(": ")[2]
        joints.setdefault(joint if joint in alike else name.rpartition(".")[0], []).append(words)
    angles = [f"{joint}: {' '.join(words)}" for joint, words in joints.items()]
    return [*angles, "rests on " + ", ".join(base.contacts)]


def motion_words(joint: str, token: str) -> str:
    """What a word of a joint means, and where its normal range ends."""
    axis, sign = token_value(joint, token, 1.0)
    found = next(one for one in VARIABLE_AXES if one.joint == joint and one.axis == axis)
    most, name = (found.most_positive, found.positive) if sign > 0 else (found.most_negative, found.negative)
    return f"{name}, to {most}"


def plain_words(joint: str) -> str:
    """What a number alone means."""
    plain = next(one for one in AXES if one.joint == joint and one.axis == PLAIN_AXIS[joint])
    return f"a number alone: {plain.positive}"


def _joint(joint: str) -> Iterator[str]:
    words = [f"{token} ({motion_words(joint, token)})" for token in joint_tokens(joint)]
    yield from _listed(f"{joint}.r, {joint}.l" if joint in SIDED else joint, [*words, plain_words(joint)])


def claim_words() -> dict[str, list[str]]:
    """What may stand under 'shows', by what it is said of."""
    return {
        "of a point": [*BETWEEN_POINTS, *MOVES, "rises at least 5 cm"],
        "of a joint": [*SHAPES, "20 to 40", "abd at most 30"],
        "when": ["in picture 2, if nothing is said", *WHEN],
    }


def _target(name: str) -> str:
    prop = PROP_OF[name]
    return f"{name} (props: {prop})" if prop and prop != name else name


def figure_words() -> str:
    """Every word of a figure, by the key under which it stands."""
    lines = ["KEYS OF A FIGURE"]
    for key, meaning in KEY_HELP.items():
        lines += _listed(key, [meaning])
    lines += ["", "KEYS OF A MISTAKE'S FIGURE (only what differs from the exercise's own figure)"]
    lines += _listed("mark", [FAULT_HELP["mark"]])
    lines += _listed("as in a figure", [key for key in FAULT_HELP if key != "mark"])
    lines += ["", "BASE (a full pose, in degrees; what you write for start and end stands before it)"]
    for base in BASES.values():
        lines += _listed(base.name, base_words(base))
    lines += ["", "JOINTS (start, end; degrees, with the end of the normal range; without .r or .l both sides)"]
    for joint in JOINTS:
        lines += _joint(joint)
    lines += ["", "CONTACTS (a part of the body and what it touches, as 'foot floor'; parts of a limb take .r or .l)"]
    lines += _listed("parts of a limb", [*LIMB_SITES, GRIP])
    lines += _listed("parts of the trunk", BODY_SITES)
    lines += _listed("the same", [f"{alias} = {name}" for alias, name in sorted(ALIASES.items())])
    lines += _listed("things, where they are in the picture", [_target(name) for name in PROP_OF])
    lines += _listed("things that a hand can grip", sorted(HELD))
    lines += _listed("places on the body, for the hand", BODY_TARGETS)
    lines += ["", "PROPS (a thing, and the words that say how it stands or where on the body it is)"]
    for name, kind in PROPS.items():
        also = _also(PROP_ALIASES, name)
        points = "any point" if len(kind.points) == len(POINTS) else ", ".join(kind.points)
        words = [*kind.words, *([points] if points else []), *(["a number: how far away, in metres"] if kind.distance else [])]
        lines += _listed(f"{name} (also {', '.join(also)})" if also else name, words)
    lines += ["", "POINTS (arrow, and where bands, straps and towels end; those of a limb take .r or .l)"]
    lines += _listed("points", POINTS)
    lines += ["", "VIEWS (or [yaw, elevation] in degrees; yaw 0 sees the right side, 90 the front)"]
    lines += _listed("view", [f"{name} [{yaw}, {up}]" for name, (yaw, up) in VIEWS.items()])
    lines += ["", "REGIONS (active, stretched; most take .r or .l)"]
    for name in MUSCLES:
        lines += _listed(name, _also(MUSCLE_ALIASES, name) or ["no other word"])
    lines += ["", "SHOWS (what the pictures must show, measured by 'check')"]
    for name, words in claim_words().items():
        lines += _listed(name, words)
    return "\n".join(lines) + "\n"

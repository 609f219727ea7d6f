"""What a figure shows, in words, from the facts of its pose: the alternative text in a page's language.

Says position and the largest movements with their angles; never says how to do an exercise.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from handouts.figure.pose.fact_values import Facts, Movement
from handouts.words.wording import Wording

MOST_MOVEMENTS = 3
"""Movements named, the largest first; more than three are not kept in mind when heard."""
LEAST_RISE = 0.08
"""Metres by which the hips must rise or sink before it is said; below it the joints tell enough."""

_BASES = {
    "standing": "figure.standing",
    "sitting": "figure.sitting",
    "long-sitting": "figure.long_sitting",
    "reclined": "figure.reclined",
    "all-fours": "figure.all_fours",
    "kneeling": "figure.kneeling",
    "half-kneeling": "figure.half_kneeling",
}
_LYING = {
    "back": "figure.back",
    "front": "figure.front",
    "left side": "figure.left_side",
    "right side": "figure.right_side",
}
_LIMBS = {
    "hip": "leg",
    "knee": "knee",
    "ankle": "foot",
    "shoulder": "arm",
    "elbow": "elbow",
    "trunk": "trunk",
    "neck": "head",
}
# Clinical motion to the words for reaching it; a joint that goes back towards zero has words of its own below.
_WORDS = {
    "hip flexion": "forward",
    "hip extension": "backward",
    "hip abduction": "outward",
    "hip adduction": "inward",
    "hip internal rotation": "turned_in",
    "hip external rotation": "turned_out",
    "knee flexion": "bends",
    "ankle dorsiflexion": "toes_up",
    "ankle plantarflexion": "toes_down",
    "ankle inversion": "sole_in",
    "ankle eversion": "sole_out",
    "shoulder flexion": "forward",
    "shoulder extension": "backward",
    "shoulder abduction": "outward",
    "shoulder adduction": "inward",
    "shoulder internal rotation": "turned_in",
    "shoulder external rotation": "turned_out",
    "shoulder horizontal adduction": "inward",
    "shoulder horizontal abduction": "outward",
    "elbow flexion": "bends",
    "trunk flexion": "bows",
    "trunk extension": "arches",
    "trunk side bend to the right": "sideways",
    "trunk side bend to the left": "sideways",
    "trunk rotation to the right": "turns",
    "trunk rotation to the left": "turns",
    "neck flexion": "bows",
    "neck extension": "arches",
    "neck side bend to the right": "sideways",
    "neck side bend to the left": "sideways",
    "neck rotation to the right": "turns",
    "neck rotation to the left": "turns",
}
_ENDING = {"shank": "leg", "thigh": "leg", "forearm": "arm", "upper-arm": "arm"}
"""The limb that ends early, by the part of it in which it ends."""
_STRAIGHTENS = {"hip flexion", "knee flexion", "elbow flexion"}
"""Motions whose way back has a word of its own; of other joints the way back is not told."""


_OTHER = {"r": "l", "l": "r", "left side": "right side", "right side": "left side"}


def describe_figure(facts: Facts, wording: Wording, *, mirrored: bool = False) -> str:
    """The alternative text: position, what the hips do, and the largest movements to their end in degrees."""
    if mirrored:
        facts = _other_way(facts)
    count = sum(each.pictures for each in facts.each_base)
    parts = [_pictures(facts, count, wording), *_position(facts, wording)]
    parts += [_end_line(end, wording) for end in facts.without]
    if facts.in_air:
        parts.append(wording.say("figure.in_air"))
    if abs(facts.pelvis_rise) >= LEAST_RISE and not (facts.in_air and facts.pelvis_rise > 0):
        parts.append(wording.say(_whole_body(facts)))
    number = 1
    for each in facts.each_base:
        if number > 1:
            parts += [wording.say("figure.picture", number=wording.number(number)), *_position(each, wording)]
        for which, movements in enumerate((*each.via, each.movements)[: each.pictures - 1]):
            number += 1
            parts += [wording.say("figure.picture", number=wording.number(number))] if count > 2 else []
            is_back = 0 < which == len(each.via) and movements == each.via[-1]
            parts += [wording.say("figure.as_first")] if is_back else _lines(movements, wording)
        number += 1
    parts += [wording.say("figure.enlarged")] if facts.enlarged else []
    return " ".join(parts)


def _position(facts: Facts, wording: Wording) -> list[str]:
    """The base position."""
    base = _LYING.get(facts.lying_on) or _BASES.get(facts.base)
    if facts.base == "sitting" and all(name != "chair" for name, _ in facts.props):
        base = "figure.seated"
    return [wording.say(base)] if base else []


def _other_way(facts: Facts) -> Facts:
    """The facts of the mirror image."""
    lying_on, via = _OTHER.get(facts.lying_on, facts.lying_on), tuple(map(_mirrored, facts.via))
    without = tuple(f"{end[:-1]}{_OTHER[end[-1]]}" for end in facts.without)
    later = tuple(map(_other_way, facts.later))
    return replace(facts, lying_on=lying_on, movements=_mirrored(facts.movements), via=via, without=without, later=later)


def _mirrored(movements: tuple[Movement, ...]) -> tuple[Movement, ...]:
    return tuple(replace(move, side=_OTHER.get(move.side, move.side)) for move in movements)


def _pictures(facts: Facts, count: int, wording: Wording) -> str:
    if count > 2:
        return wording.say("figure.several", last=wording.number(count))
    return wording.say("figure.two" if facts.moves else "figure.one")


def _lines(movements: Iterable[Movement], wording: Wording) -> list[str]:
    return [_movement_line(group, wording) for group in _largest(movements)]


def explain_signs(facts: Facts, wording: Wording) -> str:
    """What stripes and dots in the picture mean; empty where it has neither."""
    said = (("figure.key_active", facts.active), ("figure.key_stretched", facts.stretched))
    return " ".join(wording.say(key) for key, regions in said if regions)


def _whole_body(facts: Facts) -> str:
    if facts.pelvis_rise < 0:
        return "figure.sinks"
    return "figure.pelvis_up" if facts.lying_on else "figure.stands_up"


def _largest(movements: Iterable[Movement]) -> list[list[Movement]]:
    """The movements to be told, left and right of the same angle together."""
    groups: dict[tuple[str, float], list[Movement]] = {}
    for move in movements:
        if move.motion in _WORDS and move.joint in _LIMBS and (move.typed or not groups) and _told(move):
            groups.setdefault((move.motion, move.end), []).append(move)
    return list(groups.values())[:MOST_MOVEMENTS]


def _told(move: Movement) -> bool:
    return abs(move.end) > abs(move.start) or move.motion in _STRAIGHTENS


def _end_line(end: str, wording: Wording) -> str:
    part, _, side = end.rpartition(".")
    return wording.say(f"figure.ends_{part.replace('-', '_')}", limb=wording.say(f"figure.{_ENDING[part]}_{side}"))


def _movement_line(group: list[Movement], wording: Wording) -> str:
    move = group[0]
    side = "both" if len(group) > 1 else move.side
    limb = f"figure.{_LIMBS[move.joint]}" + (f"_{side}" if side else "")
    back = abs(move.end) < abs(move.start)
    return wording.say(
        "figure.moves",
        limb=wording.say(limb),
        movement=wording.say(f"figure.{'straightens' if back else _WORDS[move.motion]}"),
        degrees=wording.number(round(abs(move.end))),
    )

"""What a picture must show, as an author types it: ``shows: {ankle.r: below seat, knee.r: straight}``.

A claim is about one point of the body or one joint, in picture 1, in the last one, in those between, or all the way.  Only reads the words;
``handouts.figure.checks.claim_checks`` measures.
"""

from __future__ import annotations

import re
from dataclasses import replace

from handouts.figure.body.joints import JOINTS, PLAIN_AXIS, SIDED, joint_tokens, token_value, variable
from handouts.figure.body.sites import POINTS
from handouts.figure.pose.names import normal
from handouts.figure.pose.spec import Claim, Named
from handouts.problems import Place

THINGS = ("floor", "mat", "seat", "step", "stool", "counter", "table")
"""Things whose height can be named, whether or not they stand in the picture."""
WHEN = {"at the start": "start", "at the end": "end", "on the way": "via", "all the way": "always"}
"""The words that end a claim; without them it holds for picture 2, or for the one picture."""
BETWEEN_POINTS = {
    "above": "above", "below": "below", "level with": "level", "in front of": "front", "past": "front",
    "behind": "behind", "over": "over", "under": "under", "outside": "outside", "inside": "inside", "near": "near",
    "in line with": "line",
}  # fmt: skip
"""How a point stands to another point or thing: the words, and the relation."""
MOVES = ("rises", "sinks", "still")
SHAPES = {"straight": (-10.0, 10.0), "almost straight": (-20.0, 20.0), "bent": (20.0, 160.0),
          "at a right angle": (75.0, 105.0)}  # fmt: skip
"""Words for the main angle of a joint, in degrees from and to; 10 degrees are what an eye takes for straight."""
EXAMPLE = "Write for example 'below seat', 'past toes.l', 'straight', 'abd 20 to 30' or 'rises at least 5 cm'."
_RANGE = re.compile(r"(?:([a-z-]+) )?(?:(-?\d+) to (-?\d+)|at most (-?\d+)|at least (-?\d+))")
_BY = re.compile(r"(rises|sinks) at least (\d+) cm")


def _point(text: str, side: str) -> Named | None:
    """A point, by default of the side of the subject; or a thing."""
    name, dot, typed = text.rpartition(".")
    name, given = (name, typed) if dot and typed in ("r", "l") else (text, "")
    name = normal(name)
    if not given and name in THINGS:
        return Named(name)
    if name not in POINTS:
        return None
    return Named(name, given or (side if POINTS[name][0].endswith(".") else ""))


def read_claim(key: Named, text: str, place: Place) -> Claim | str:
    """The claim of one line, or what is wrong with it in words that follow the line.

    A point in the middle of the body has no side, whatever the key says.
    """
    found = _read(key, text, place)
    if isinstance(found, Claim) and found.relation != "angle" and not POINTS[key.name][0].endswith("."):
        return replace(found, subject=replace(key, side=""))
    return found


def _read(key: Named, text: str, place: Place) -> Claim | str:
    words = " ".join(text.lower().split())
    rest, when = words, "end"
    for ending, value in WHEN.items():
        if words.endswith(ending):
            rest, when = words.removesuffix(ending).strip(), value
    moves = _BY.fullmatch(rest)
    if key.name in POINTS and (rest in MOVES or moves):
        low = float(moves.group(2)) if moves else 2.0
        return Claim(key, moves.group(1) if moves else rest, (), when, words, low=low, place=place)
    for start, relation in BETWEEN_POINTS.items():
        if key.name in POINTS and rest.startswith(f"{start} "):
            found = [_point(part, key.side) for part in rest.removeprefix(f"{start} ").split(" and ")]
            others = tuple(one for one in found if one is not None)
            wanted = 2 if relation == "line" else 1
            if len(others) == len(found) == wanted and (
                relation in ("above", "below", "level", "near") or all(one.name in POINTS for one in others)
            ):
                return Claim(key, relation, others, when, words, place=place)
            return f"names no {'two points' if wanted == 2 else 'point or thing'} to measure it against"
    return _angle(key, rest, when, words, place)


def _angle(key: Named, rest: str, when: str, words: str, place: Place) -> Claim | str:
    if key.name not in JOINTS:
        return "is nothing that can be measured"
    side = key.side if key.name in SIDED else ""
    if rest in SHAPES:
        low, high = SHAPES[rest]
        return Claim(key, "angle", (), when, words, variable(key.name, side, PLAIN_AXIS[key.name]), low, high, place)
    match = _RANGE.fullmatch(rest)
    if not match or (match[1] and match[1] not in joint_tokens(key.name)):
        return "is nothing that can be measured"
    axis, sign = token_value(key.name, match[1], 1.0) if match[1] else (PLAIN_AXIS[key.name], 1.0)
    ends = [
        float(match[2]) if match[2] else float(match[5]) if match[5] else -400.0,
        float(match[3]) if match[3] else float(match[4]) if match[4] else 400.0,
    ]
    low, high = sorted(sign * end for end in ends)
    return Claim(key, "angle", (), when, words, variable(key.name, side, axis), low, high, place)

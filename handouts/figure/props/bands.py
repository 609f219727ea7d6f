"""Resistance bands and what they are tied to, straps, and towels."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from handouts.figure.body.joints import SIDES
from handouts.figure.body.sites import POINTS
from handouts.figure.draw.silhouette import PartOutline
from handouts.figure.pose.spec import PropUse
from handouts.figure.props.declared import cuff
from handouts.figure.props.scene import BAND, CLOTH, WOOD, Array, Builder, PropScene
from handouts.figure.props.solids import ball, box, cylinder, ellipsoid_part, nearer, tube

_BAND_NEARER = 0.20
"""A band wraps over the body: it is ordered as if it were this much nearer to the viewer."""
_HELD_NEARER = 0.05
"""The same for a band that leads away from a hand."""
_HALF_BAR, _STRAP = 0.060, 0.135
"""Half the length of the bar of a band's handle, and of its straps to the knot."""


def _door_anchor(setting: PropScene, use: PropUse) -> Array:
    height = 0.20 if "low" in use.words else 1.85 if "high" in use.words else None
    hands = [setting.point("hand", side) for side in SIDES]
    first = setting.motion.frames[0]
    y = (
        height
        if height is not None
        else float(
            max(
                first.placed.origins[setting.body.numbers[f"hand.{side}"]][1]
                for side in SIDES
                if _bound(setting, "hand", side)
            )
            if _any_bound(setting)
            else 1.0
        )
    )
    assert hands
    x = (
        float(np.mean([setting.lump("mid.r", first)[0], setting.lump("mid.l", first)[0]]))
        if setting.spec.base != "standing"
        else 0.30
    )
    if "front" in use.words:
        return np.array([0.84, y, 0.0])
    if "back" in use.words:
        return np.array([-0.85, y, 0.0])
    return np.array([x, y, 0.68 if "right" in use.words else -0.66])


def _bound(setting: PropScene, point: str, side: str) -> bool:
    band = setting.spec.prop("band")
    return band is not None and (f"{point}.{side}" in band.words or point in band.words)


def _any_bound(setting: PropScene) -> bool:
    return any(_bound(setting, "hand", side) for side in SIDES)


def _door(setting: PropScene, use: PropUse) -> list[PartOutline]:
    anchor = _door_anchor(setting, use)
    high = max(0.75 if "low" in use.words else 1.35, float(anchor[1]) + 0.15)
    if "front" in use.words or "back" in use.words:
        out = 1 if "front" in use.words else -1
        found = [
            box(
                setting.view,
                "door",
                (float(anchor[0]) + out * 0.03, high / 2, 0.0),
                (0.05, high, 0.34),
                tones=WOOD,
                layer=-6,
            )
        ]
    else:
        out = 1 if "right" in use.words else -1
        found = [
            box(
                setting.view,
                "door",
                (float(anchor[0]), high / 2, float(anchor[2]) + out * 0.03),
                (0.34, high, 0.05),
                tones=WOOD,
                layer=-6,
            )
        ]
    found.append(ball(setting.view, "knob", anchor, 0.028, "prop-side"))
    return found


def _end(setting: PropScene, word: str) -> list[Array]:
    """The places a word of a band means."""
    if word == "door":
        door = setting.spec.prop("door")
        return [_door_anchor(setting, door)] if door else []
    if word in setting.motion.world.anchors:
        return [np.array(setting.motion.world.anchors[word])]
    if word == "floor":
        return [np.array([0.0, 0.01, 0.0])]
    name, _, side = word.partition(".")
    if name not in POINTS:
        return []
    sides = (side,) if side else SIDES if POINTS[name][0].endswith(".") else ("",)
    if name in _CUFFS:
        return [_cuff_middle(setting, name, one) for one in sides]
    return [setting.grip(one) if name == "hand" else setting.point(name, one) for one in sides]


_CUFFS = {"ankle": ("sh4", 0.035), "knee": ("th3", 0.0)}
"""Where a band goes round a limb: an ellipsoid, and how far above it the band is, metres."""


def _cuff_middle(setting: PropScene, name: str, side: str) -> Array:
    lump, above = _CUFFS[name]
    along = setting.frame.axes[setting.body.lumps[f"{lump}.{side}"]][:, 1]
    place: Array = setting.lump(f"{lump}.{side}") + along / np.linalg.norm(along) * above
    return place


_LOOPS = {
    "loop-knees": (("th3", "th4"), 0.30),
    "loop-ankles": (("sh3", "sh4"), 0.20),
    "loop-feet": (("mid", "ball"), 0.5),
}


def _loop(setting: PropScene, word: str) -> list[PartOutline]:
    (one, two), share = _LOOPS[word]
    places = []
    for side in SIDES:
        first, second = setting.lump(f"{one}.{side}"), setting.lump(f"{two}.{side}")
        places.append(first * (1 - share) + second * share)
    away = (places[0] - places[1]) / (np.linalg.norm(places[0] - places[1]) + 1e-9)
    girth = 0.072 if word == "loop-knees" else 0.042 if word == "loop-ankles" else 0.05
    front = setting.frame.placed.rotations[setting.body.numbers["shank.r"]][:, 0]
    ends = [places[0] + away * girth * 0.92, places[1] - away * girth * 0.92]
    rope = [ends[0], places[0] + front * girth * 0.98, places[1] + front * girth * 0.98, ends[1]]
    return [tube(setting.view, word, np.array(rope), 0.017, BAND)]


def _band(setting: PropScene, use: PropUse) -> list[PartOutline]:
    found: list[PartOutline] = []
    for word in use.words:
        if word in _LOOPS:
            found += _loop(setting, word)
    ends = [place for word in use.words if word not in _LOOPS for place in _end(setting, word)]
    door = setting.spec.prop("door")
    if door and ends and "door" not in use.words:
        ends.append(_door_anchor(setting, door))
    held = [side for side in SIDES if _bound(setting, "hand", side)]
    grips = {side: setting.grip(side) for side in held}
    others = [end for end in ends if not any(np.allclose(end, grip) for grip in grips.values())]
    if held and others:
        # A handle: a bar in the fist, a strap from each of its ends to a knot, and the band from there.
        for side in held:
            hand = setting.frame.placed.rotations[setting.body.numbers[f"hand.{side}"]]
            grip, along = grips[side], hand[:, 0] * _HALF_BAR
            other = min(others, key=lambda end, grip=grip: float(np.linalg.norm(end - grip)))  # type: ignore[misc]
            knot = grip + (other - grip) / (np.linalg.norm(other - grip) + 1e-9) * _STRAP
            for number, end in enumerate((grip + along, grip - along)):
                strap = tube(setting.view, f"handle-strap{number}{side}", np.array([end, knot]), 0.0075, BAND)
                found.append(replace(strap, held=side))
            found.append(nearer(tube(setting.view, f"band{side}", np.array([knot, other]), 0.012, BAND), _HELD_NEARER))
        if len(others) >= 2:
            found.append(nearer(tube(setting.view, "band", np.array(others), 0.013, BAND), _BAND_NEARER))
    elif len(ends) >= 2:
        found.append(nearer(tube(setting.view, "band", np.array(ends), 0.013, BAND), _BAND_NEARER))
    for side in SIDES:
        if side in held:
            hand = setting.frame.placed.rotations[setting.body.numbers[f"hand.{side}"]]
            grip, along = setting.grip(side), hand[:, 0] * (_HALF_BAR + 0.004)
            handle = tube(setting.view, f"handle{side}", np.array([grip - along, grip + along]), 0.013, BAND)
            found.append(replace(handle, held=side))
        for name, (lump, above) in _CUFFS.items():
            if _bound(setting, name, side):
                found.append(cuff(setting, lump, side, BAND, wider=1.12, high=0.022, above=above))
    return found


def _rope(setting: PropScene, use: PropUse) -> list[PartOutline]:
    """A towel or a strap: between the hands, or from the hands round a foot or another point."""
    both = "hands" in use.words or "hand" in use.words
    hands = [setting.grip(side) for side in SIDES if both or (f"hand.{side}" in use.words and len(use.words) > 1)]
    others = [place for word in use.words if not word.startswith("hand") for place in _end(setting, word)]
    tone = CLOTH if use.name == "towel" else BAND
    found = []
    if others and hands:
        for other in others:
            for number, hand in enumerate(hands):
                found.append(tube(setting.view, f"{use.name}{number}", np.array([hand, other]), 0.016, tone))
    elif len(hands) == 2:
        found.append(tube(setting.view, use.name, np.array(hands), 0.018, tone))
    elif len(others) >= 2:
        found.append(tube(setting.view, use.name, np.array(others), 0.016, tone))
    elif use.name == "towel":
        found += [_pad(setting, word) for word in use.words if word.partition(".")[0] in _PADDED]
    return found


_PADDED = frozenset({"elbow", "head", "hand", "hands"})
"""What a folded towel lies at, or under."""


def _pad(setting: PropScene, word: str) -> PartOutline:
    """A small folded towel: at the inner side of an elbow, under the head, or under a hand."""
    name, _, side = word.partition(".")
    if name == "elbow":
        turn = setting.toward_trunk(side or "r")
        at = setting.point("elbow", side or "r") + turn[:, 2] * 0.045 + turn[:, 1] * 0.05
        return ellipsoid_part(setting.view, "towel", at, turn * np.array([0.11, 0.085, 0.03]), CLOTH)
    if name == "head":
        head = setting.lump("brow", setting.motion.frames[0])
        floor = setting.level("mat")
        return cylinder(
            setting.view,
            "towel",
            np.array([head[0] + 0.02, floor + 0.03, head[2]]),
            np.array([0.0, 0.0, 1.0]),
            length=0.36,
            radius=0.032,
            tone=CLOTH,
        )
    at = setting.lump(f"palm.{side or 'r'}") - np.array([0.0, 0.014, 0.0])
    return ellipsoid_part(setting.view, "towel", at, np.diag([0.16, 0.012, 0.11]), CLOTH)


BANDS: dict[str, Builder] = {"door": _door, "band": _band, "towel": _rope, "strap": _rope}

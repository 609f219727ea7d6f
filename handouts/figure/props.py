"""Props as parts of the drawing, placed to fit the solved motion.

Sizes come from ``handouts.figure.world``.  Each prop has one small builder; the table at the end names them.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from handouts.figure import world as sizes
from handouts.figure.body import Body
from handouts.figure.joints import SIDES
from handouts.figure.kinematics import local_point
from handouts.figure.motion import Motion
from handouts.figure.silhouette import Part
from handouts.figure.sites import POINTS, Plane, Sphere
from handouts.figure.solids import ball, box, cylinder, ellipsoid_part, nearer, tube, wedge
from handouts.figure.solver import Solved
from handouts.figure.spec import FigureSpec, PropUse

Array = NDArray[np.float64]
_BAND_NEARER = 0.20
"""A band wraps over the body: it is ordered as if it were this much nearer to the viewer, metres."""
WOOD, MAT, CLOTH, BAND = ("prop", "prop-side"), ("mat", "mat-side"), "cloth", "band"


@dataclass(frozen=True, eq=False, slots=True)
class Setting:
    """What a prop builder may look at: the frame drawn, and the whole motion for a place that fits all of it."""

    spec: FigureSpec
    body: Body
    motion: Motion
    frame: Solved
    view: Array

    def lump(self, name: str, frame: Solved | None = None) -> Array:
        """World centre of an ellipsoid."""
        return (frame or self.frame).centres[self.body.lumps[name]]

    def point(self, name: str, side: str) -> Array:
        """World place of a named point."""
        segment, offset = POINTS[name]
        z = 1 if side == "r" else -1
        return local_point(self.body, self.frame.placed, segment + side if segment.endswith(".") else segment,
                           (offset[0], offset[1], offset[2] * z))  # fmt: skip

    def grip(self, side: str) -> Array:
        """The middle of a closed hand."""
        return local_point(self.body, self.frame.placed, f"hand.{side}", (0.0, -0.058, -0.016 * (1 if side == "r" else -1)))


Builder = Callable[[Setting, PropUse], list[Part]]


def _mat(setting: Setting, use: PropUse) -> list[Part]:
    ends = (setting.motion.frames[0], setting.motion.frames[-1])
    low = np.vstack([frame.centres[frame.centres[:, 1] < 0.32] for frame in ends])
    x0, x1 = float(low[:, 0].min()) - 0.08, float(low[:, 0].max()) + 0.08
    z = float(np.median(ends[0].centres[:, 2])) if setting.spec.base.startswith("side") else 0.0
    return [box(setting.view, "mat", ((x0 + x1) / 2, sizes.MAT_THICK / 2, z), (x1 - x0, sizes.MAT_THICK, 0.62), MAT, -5)]


def _chair_at(setting: Setting, x: float, z: float, facing: int, turned: bool = False) -> list[Part]:
    """A chair with its seat centre at (x, z); ``facing`` 1 when a sitter looks along X; ``turned`` looks along Z."""
    view, wide, leg, seat = setting.view, sizes.CHAIR_WIDTH, 0.034, sizes.SEAT_HEIGHT
    top = sizes.CHAIR_BACK_HEIGHT
    half = wide / 2 - leg / 2
    found = []

    def at(dx: float, dz: float) -> tuple[float, float]:
        return (x + dz, z + dx) if turned else (x + dx, z + dz)

    for one in (-1, 1):
        for two in (-1, 1):
            px, pz = at(one * half, two * half)
            found.append(box(view, f"leg{one}{two}", (px, (seat - 0.04) / 2, pz), (leg, seat - 0.04, leg), WOOD))
            if one * facing < 0:
                found.append(box(view, f"post{two}", (px, (seat + top) / 2, pz), (leg, top - seat, leg), WOOD))
    found.append(box(view, "seat", (x, seat - 0.02, z), (wide, 0.04, wide), WOOD))
    rx, rz = at(-facing * half, 0.0)
    size = (wide - 2 * leg, 0.14, leg * 0.8) if turned else (leg * 0.8, 0.14, wide - 2 * leg)
    found.append(box(view, "rail", (rx, top - 0.08, rz), size, WOOD))
    return found


def _chair(setting: Setting, use: PropUse) -> list[Part]:
    first = setting.motion.frames[0]
    if "support" in use.words or "front" in use.words:
        front = setting.motion.world.handholds["chair"]["r"][0]
        return _chair_at(setting, front + sizes.CHAIR_WIDTH / 2 - 0.017, 0.0, 1)
    if any(word.startswith("beside") for word in use.words):
        z = 0.61 if "beside-right" in use.words else -0.61
        return _chair_at(setting, 0.05, z, -1 if z < 0 else 1, turned=True)
    if "behind" in use.words:
        return _chair_at(setting, float(first.centres[:, 0].min()) - 0.24, 0.0, 1)
    seats = [setting.lump(f"glute.{side}", first) for side in SIDES]
    return _chair_at(setting, float(np.mean([seat[0] for seat in seats])) + 0.06, 0.0, 1)


def _stool(setting: Setting, use: PropUse) -> list[Part]:
    feet = min((setting.lump(f"soleh.{side}", frame) for side in SIDES for frame in setting.motion.frames),
               key=lambda place: abs(place[1] - sizes.STOOL_HEIGHT))  # fmt: skip
    return [box(setting.view, "stool", (float(feet[0]), sizes.STOOL_HEIGHT / 2, float(feet[2])),
                (0.38, sizes.STOOL_HEIGHT, 0.40), WOOD)]  # fmt: skip


def _counter(setting: Setting, use: PropUse) -> list[Part]:
    place = setting.motion.world.handholds["counter"]["r"]
    top, deep, wide = sizes.COUNTER_HEIGHT, 0.46, 0.90
    if "left" in use.words or "right" in use.words:
        out = 1 if place[2] > 0 else -1
        z = place[2] - out * 0.07
        low, slab = (0.05, z + out * (deep / 2 + 0.03)), (0.05, z + out * deep / 2)
        return [box(setting.view, "cupboard", (low[0], (top - 0.04) / 2, low[1]), (wide - 0.06, top - 0.04, deep - 0.06), WOOD),
                box(setting.view, "top", (slab[0], top - 0.02, slab[1]), (wide, 0.04, deep), WOOD)]  # fmt: skip
    x = place[0] - 0.07
    return [box(setting.view, "cupboard", (x + deep / 2 + 0.03, (top - 0.04) / 2, 0), (deep - 0.06, top - 0.04, wide - 0.06), WOOD),
            box(setting.view, "top", (x + deep / 2, top - 0.02, 0), (deep, 0.04, wide), WOOD)]  # fmt: skip


def _table(setting: Setting, use: PropUse) -> list[Part]:
    x = setting.motion.world.handholds["table"]["r"][0] - 0.10
    top, deep, wide, leg = sizes.TABLE_HEIGHT, 0.60, 0.84, 0.045
    found = [box(setting.view, f"leg{one}{two}", (x + deep / 2 + one * (deep / 2 - leg), (top - 0.04) / 2, two * (wide / 2 - leg)),
                 (leg, top - 0.04, leg), WOOD) for one in (-1, 1) for two in (-1, 1)]  # fmt: skip
    return [*found, box(setting.view, "top", (x + deep / 2, top - 0.02, 0), (deep, 0.04, wide), WOOD)]


def _wall(setting: Setting, use: PropUse) -> list[Part]:
    plane = setting.motion.world.surfaces["wall"]
    assert isinstance(plane, Plane)
    thick, high, long = 0.06, 1.76, 0.80
    face = plane.normal[0] * plane.offset + plane.normal[2] * plane.offset
    if plane.normal[0]:
        x = face - plane.normal[0] * thick / 2
        return [box(setting.view, "wall", (x, high / 2, 0.0), (thick, high, long), WOOD, -6)]
    middle = float(np.median(setting.motion.frames[0].centres[:, 0]))
    return [box(setting.view, "wall", (middle, high / 2, face - plane.normal[2] * thick / 2), (long, high, thick), WOOD, -6)]


def _doorway(setting: Setting, use: PropUse) -> list[Part]:
    plane = setting.motion.world.surfaces["doorway"]
    assert isinstance(plane, Plane)
    face = plane.normal[0] * plane.offset
    hands = [abs(float(setting.lump(f"fa2.{side}", setting.motion.frames[0])[2])) for side in SIDES]
    post, high, half = 0.09, 1.95, max(sizes.DOOR_HALF_WIDTH, max(hands))
    found = [box(setting.view, f"jamb{side}", (face + 0.05, high / 2, side * half), (0.10, high, post), WOOD) for side in (-1, 1)]
    return [*found, box(setting.view, "lintel", (face + 0.05, high + 0.045, 0), (0.10, 0.09, 2 * half + post), WOOD)]


def _step(setting: Setting, use: PropUse) -> list[Part]:
    first, high = setting.motion.frames[0], sizes.step_height(use.words)
    feet = [setting.lump(f"{name}.{side}", frame) for frame in (first, setting.motion.frames[-1]) for side in SIDES
            for name in ("soleh", "soleb") if abs(setting.lump(f"soleh.{side}", frame)[1] - high) < 0.06
            or abs(setting.lump(f"soleb.{side}", frame)[1] - high) < 0.03]  # fmt: skip
    xs = [float(foot[0]) for foot in feet] or [0.2]
    x = (min(xs) + max(xs)) / 2
    only_toes = [contact.site.name in ("toes", "ball") for contact in setting.spec.contacts if contact.target == "step"]
    if only_toes and all(only_toes):
        x = max(xs) - 0.045 + sizes.STEP_DEPTH / 2
    elif "under" in use.words:
        x = max(xs) + 0.12 - sizes.STEP_DEPTH / 2
    return [box(setting.view, "step", (x, high / 2, 0), (sizes.STEP_DEPTH, high, sizes.STEP_WIDTH), WOOD)]


def _rail(setting: Setting, use: PropUse) -> list[Part]:
    place = setting.motion.world.handholds["rail"]["r"]
    across = (0, 0, 0.42) if "left" not in use.words and "right" not in use.words else (0.50, 0, 0)
    middle = np.array([place[0], sizes.RAIL_HEIGHT, 0.0 if across[2] else place[2]])
    ends = [middle - np.array(across), middle + np.array(across)]
    posts = [tube(setting.view, f"rail post{number}", np.array([[end[0], 0.0, end[2]], end]), 0.016, "prop-side", flat_ends=False)
             for number, end in enumerate(middle + np.array(across) * share for share in (-0.8, 0.8))]  # fmt: skip
    return [*posts, tube(setting.view, "rail top", np.array(ends), 0.021, "prop-side", flat_ends=False)]


def _slope(setting: Setting, use: PropUse) -> list[Part]:
    low = np.vstack([frame.centres[:, 0] for frame in (setting.motion.frames[0], setting.motion.frames[-1])])
    x0, x1 = float(low.min()) - 0.16, float(low.max()) + 0.16
    return [wedge(setting.view, "slope", (x0, x1), math.tan(math.radians(sizes.SLOPE)), 0.34, WOOD)]


def _door_anchor(setting: Setting, use: PropUse) -> Array:
    height = 0.20 if "low" in use.words else 1.85 if "high" in use.words else None
    hands = [setting.point("hand", side) for side in SIDES]
    first = setting.motion.frames[0]
    y = height if height is not None else float(max(first.placed.origins[setting.body.numbers[f"hand.{side}"]][1] for side in SIDES
                                                    if _bound(setting, "hand", side)) if _any_bound(setting) else 1.0)  # fmt: skip
    assert hands
    x = float(np.mean([setting.lump("mid.r", first)[0], setting.lump("mid.l", first)[0]])) if setting.spec.base != "standing" else 0.30
    if "front" in use.words:
        return np.array([0.95, y, 0.0])
    if "back" in use.words:
        return np.array([-0.85, y, 0.0])
    return np.array([x, y, 0.85 if "right" in use.words else -0.80])


def _bound(setting: Setting, point: str, side: str) -> bool:
    band = setting.spec.prop("band")
    return band is not None and (f"{point}.{side}" in band.words or point in band.words)


def _any_bound(setting: Setting) -> bool:
    return any(_bound(setting, "hand", side) for side in SIDES)


def _door(setting: Setting, use: PropUse) -> list[Part]:
    anchor = _door_anchor(setting, use)
    high = max(1.35, float(anchor[1]) + 0.15)
    if "front" in use.words or "back" in use.words:
        out = 1 if "front" in use.words else -1
        found = [box(setting.view, "door", (float(anchor[0]) + out * 0.03, high / 2, 0.0), (0.05, high, 0.34), WOOD, -6)]
    else:
        out = 1 if "right" in use.words else -1
        found = [box(setting.view, "door", (float(anchor[0]), high / 2, float(anchor[2]) + out * 0.03), (0.34, high, 0.05), WOOD, -6)]
    found.append(ball(setting.view, "knob", anchor, 0.028, "prop-side"))
    return found


def _end(setting: Setting, word: str) -> list[Array]:
    """The places a word of a band means."""
    if word == "door":
        door = setting.spec.prop("door")
        return [_door_anchor(setting, door)] if door else []
    if word == "floor":
        return [np.array([0.0, 0.01, 0.0])]
    name, _, side = word.partition(".")
    if name not in POINTS:
        return []
    sides = (side,) if side else SIDES
    return [setting.grip(one) if name == "hand" else setting.point(name, one) for one in sides]


_LOOPS = {"loop-knees": (("th3", "th4"), 0.30), "loop-ankles": (("sh3", "sh4"), 0.20), "loop-feet": (("mid", "ball"), 0.5)}


def _loop(setting: Setting, word: str) -> list[Part]:
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


def _band(setting: Setting, use: PropUse) -> list[Part]:
    found: list[Part] = []
    for word in use.words:
        if word in _LOOPS:
            found += _loop(setting, word)
    ends = [place for word in use.words if word not in _LOOPS for place in _end(setting, word)]
    door = setting.spec.prop("door")
    if door and ends and "door" not in use.words:
        ends.append(_door_anchor(setting, door))
    if len(ends) == 3:
        ends = [ends[0], ends[2], ends[1]]
    if len(ends) >= 2:
        found.append(nearer(tube(setting.view, "band", np.array(ends), 0.013, BAND), _BAND_NEARER))
    for side in SIDES:
        if _bound(setting, "hand", side):
            hand = setting.frame.placed.rotations[setting.body.numbers[f"hand.{side}"]]
            grip, along = setting.grip(side), hand[:, 0] * 0.062
            found.append(tube(setting.view, f"handle{side}", np.array([grip - along, grip + along]), 0.014, BAND))
        if _bound(setting, "ankle", side) or _bound(setting, "knee", side):
            name = "sh4" if _bound(setting, "ankle", side) else "th3"
            found.append(_cuff(setting, name, side, BAND, 1.12, 0.022))
    return found


def _cuff(setting: Setting, lump: str, side: str, tone: str, wider: float, high: float) -> Part:
    number = setting.body.lumps[f"{lump}.{side}"]
    axes = setting.frame.axes[number]
    half = axes / np.linalg.norm(axes, axis=0)
    girth = np.linalg.norm(axes, axis=0)[0] * wider + 0.004
    middle = setting.frame.centres[number] + half[:, 1] * (0.035 if lump == "sh4" else 0.0)
    return cylinder(setting.view, f"cuff {lump}{side}", middle, tuple(half[:, 1]), 2 * high, float(girth), tone)


def _exercise_ball(setting: Setting, use: PropUse) -> list[Part]:
    number = next(n for n, frame in enumerate(setting.motion.frames) if frame is setting.frame)
    surface = setting.motion.worlds[number].surfaces["ball"]
    assert isinstance(surface, Sphere)
    return [ball(setting.view, "ball", np.array(surface.centre), surface.radius, "ball")]


def _weighted_ball(setting: Setting, use: PropUse) -> list[Part]:
    hands = [local_point(setting.body, setting.frame.placed, f"hand.{side}", (0.0, -0.050, 0.0)) for side in SIDES]
    return [ball(setting.view, "weighted ball", (hands[0] + hands[1]) / 2, sizes.WEIGHTED_BALL, "cloth")]


def _weight(setting: Setting, use: PropUse) -> list[Part]:
    found = []
    for side in SIDES:
        if "hands" in use.words or "hand" in use.words or f"hand.{side}" in use.words:
            along = setting.frame.placed.rotations[setting.body.numbers[f"hand.{side}"]][:, 0]
            grip = setting.grip(side)
            found.append(tube(setting.view, f"bar{side}", np.array([grip - along * 0.07, grip + along * 0.07]), 0.014, "sole"))
            for end in (-1, 1):
                found.append(cylinder(setting.view, f"disc{side}{end}", grip + along * 0.07 * end, tuple(along), 0.035, 0.038, "sole"))
    return found


def _ankle_weight(setting: Setting, use: PropUse) -> list[Part]:
    return [_cuff(setting, "sh4", side, "cloth", 1.20, 0.045) for side in SIDES
            if "ankles" in use.words or "ankle" in use.words or f"ankle.{side}" in use.words]  # fmt: skip


def _roll(setting: Setting, use: PropUse) -> list[Part]:
    if "between-knees" in use.words:
        knees = [setting.point("knee", side) for side in SIDES]
        thigh = setting.frame.placed.rotations[setting.body.numbers["thigh.r"]]
        axes = thigh * np.array([0.075, 0.075, max(0.03, float(np.linalg.norm(knees[0] - knees[1])) / 2 - 0.03)])
        return [ellipsoid_part(setting.view, "roll", (knees[0] + knees[1]) / 2 + thigh[:, 1] * 0.03, axes, CLOTH)]
    found = []
    for side in SIDES:
        if f"knee.{side}" in use.words or f"ankle.{side}" in use.words:
            name = "knee" if f"knee.{side}" in use.words else "ankle"
            first = setting.motion.frames[0]
            joint = first.placed.origins[setting.body.numbers[f"{'shank' if name == 'knee' else 'foot'}.{side}"]]
            floor = sizes.MAT_THICK if setting.spec.prop("mat") else 0.0
            at = np.array([joint[0] - (0.0 if name == "knee" else 0.03), floor + sizes.ROLL, joint[2]])
            if name == "knee" and setting.spec.base == "sitting":
                at = np.array([joint[0] - 0.06, sizes.SEAT_HEIGHT + sizes.ROLL, joint[2]])
            found.append(cylinder(setting.view, f"roll{side}", at, (0, 0, 1), 0.26, sizes.ROLL, CLOTH))
    return found


def _rope(setting: Setting, use: PropUse) -> list[Part]:
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
        found += [_pad(setting, word) for word in use.words]
    return found


def _pad(setting: Setting, word: str) -> Part:
    """A small folded towel: at the inner side of an elbow, under the head, or under a hand."""
    name, _, side = word.partition(".")
    if name == "elbow":
        arm = setting.frame.placed.rotations[setting.body.numbers[f"uarm.{side or 'r'}"]]
        inward = arm[:, 2] * (-1 if side == "r" else 1)
        at = setting.point("elbow", side or "r") + inward * 0.045 + arm[:, 1] * 0.05
        return ellipsoid_part(setting.view, "towel", at, arm * np.array([0.065, 0.075, 0.03]), CLOTH)
    if name == "head":
        head = setting.lump("brow", setting.motion.frames[0])
        floor = sizes.MAT_THICK if setting.spec.prop("mat") else 0.0
        return cylinder(setting.view, "towel", np.array([head[0] + 0.02, floor + 0.03, head[2]]), (0, 0, 1), 0.26, 0.032, CLOTH)
    at = setting.lump(f"palm.{side or 'r'}") - np.array([0.0, 0.014, 0.0])
    return ellipsoid_part(setting.view, "towel", at, np.diag([0.16, 0.012, 0.11]), CLOTH)


def _stick(setting: Setting, use: PropUse) -> list[Part]:
    hands = np.array([setting.grip(side) for side in SIDES])
    away = (hands[0] - hands[1]) / (np.linalg.norm(hands[0] - hands[1]) + 1e-9)
    return [tube(setting.view, "stick", np.array([hands[1] - away * 0.16, hands[0] + away * 0.16]), 0.012, "stick")]


def _pillow(setting: Setting, use: PropUse) -> list[Part]:
    if "knees" in use.words:
        knees = [setting.point("knee", side) for side in SIDES]
        thigh = setting.frame.placed.rotations[setting.body.numbers["thigh.r"]]
        half = max(0.035, float(np.linalg.norm(knees[0] - knees[1])) / 2 - 0.035)
        return [ellipsoid_part(setting.view, "pillow", (knees[0] + knees[1]) / 2 + thigh[:, 1] * 0.06, thigh * np.array([0.09, 0.13, half]), CLOTH)]
    floor = sizes.MAT_THICK if setting.spec.prop("mat") else 0.0
    found = []
    for word in use.words:
        name, _, side = word.partition(".")
        if name in ("foot", "ankle", "knee", "heel"):
            lump = {"foot": "mid", "heel": "heel", "ankle": "sh3", "knee": "th4"}[name]
            for one in (side,) if side else SIDES:
                at = setting.lump(f"{lump}.{one}", setting.motion.frames[0])
                found.append(ellipsoid_part(setting.view, f"pillow{word}{one}", np.array([at[0], floor + sizes.PILLOW / 2, at[2]]),
                                            np.diag([0.21, sizes.PILLOW / 2 + 0.012, 0.15]), CLOTH))  # fmt: skip
    if found:
        return found
    head = setting.lump("skull", setting.motion.frames[0])
    top = float(head[1]) - 0.075
    middle = np.array([head[0] - 0.01, floor + max(0.03, (top - floor) / 2), head[2]])
    return [ellipsoid_part(setting.view, "pillow", middle, np.diag([0.20, max(0.035, (top - floor) / 2 + 0.01), 0.26]), CLOTH)]


BUILDERS: dict[str, Builder] = {
    "mat": _mat, "chair": _chair, "stool": _stool, "counter": _counter, "table": _table, "wall": _wall,
    "doorway": _doorway, "step": _step, "door": _door, "band": _band, "exercise-ball": _exercise_ball,
    "weighted-ball": _weighted_ball, "weight": _weight, "ankle-weight": _ankle_weight, "roll": _roll,
    "towel": _rope, "strap": _rope, "stick": _stick, "pillow": _pillow,
    "rail": _rail, "slope": _slope,
}  # fmt: skip


def prop_parts(setting: Setting) -> tuple[Part, ...]:
    """All props of a figure as parts, in the frame drawn."""
    return tuple(part for use in setting.spec.props for part in BUILDERS[use.name](setting, use))

"""Frames settled for drawing: hands and feet lie on what they touch, and the head turns so that an eye is seen.

The solver has tolerances, and knows a hand as ellipsoids of which the lowest touches; a drawing shows each millimetre.
Checks and facts keep the solved frames; pictures, props, arrows and the animation use these.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any

import numpy as np
from numpy.typing import NDArray

from handouts.figure.body.body import Body
from handouts.figure.body.joints import INDEX, SIDES
from handouts.figure.body.kinematics import rotation_of
from handouts.figure.body.sites import BODY_TARGETS, GRIP, Plane, Sphere, Surface
from handouts.figure.draw.camera import UNITS_PER_METRE
from handouts.figure.draw.grips import CLOSED, LENGTH, PALM_HALF, Grasp, on_surface, round_bar
from handouts.figure.pose.contacts import body_target
from handouts.figure.pose.motion import SolvedMotion
from handouts.figure.pose.residuals import FrameTask
from handouts.figure.pose.solver import Solved
from handouts.figure.pose.spec import FigureSpec
from handouts.figure.pose.surroundings import ABOVE_BAR, World
from handouts.figure.pose.things import THINGS

Array = NDArray[np.floating[Any]]
_HANDS, _FEET = frozenset({"palm", "hand", GRIP}), frozenset({"foot", "toes", "ball"})
_ROUND_LIMB = {"other-elbow": 0.037, "other-wrist": 0.027, "own-ankle": 0.034, "other-shoulder": 0.045, "own-shoulder": 0.045}
"""Places on the body that a hand closes round, and the limb's radius, metres."""
_HELD = {"stick": 0.012, "band": 0.014, "strap": 0.012, "towel": 0.012,
         **{name: thing.radius for name, thing in THINGS.items() if thing.radius}}  # fmt: skip
"""What is held in a fist, and its radius, metres."""
IN_HAND = (0.0, -0.0605, -0.0168)
"""The middle of a closed hand in the frame of its segment, fractions of stature; z toward the palm side."""
MOST = 0.105
"""How far a hand may be moved, metres: a contact that misses by more is a problem of the pose, which is shown as it is."""
_FORE = (("fa0", 0.0), ("fa1", 0.25), ("fa2", 0.62), ("fa3", 0.98), ("wr", 1.0))
"""How the way of a hand is shared along its forearm."""
_SHANK = (("sh4", 1.0), ("sh3", 0.8), ("sh2", 0.5), ("sh1", 0.25))
"""How the rise of a foot is shared along its shank."""
_SEEN_EYE, _MOST_TURN, _FROM_BEHIND = 74.0, 32.0, 150.0
"""Degrees: to the side of the viewer up to which an eye is seen; the most that a head is turned; where turning stops helping."""
_FINGERS = ("palm", "kn", "fi1", "fi2", "tb0", "tb1", "tb2")
_RESTING = ("skull", "brow", "jaw", "nose")
"""What of a head touches what it lies on."""
_HEAD = ("neck2", "skull", "brow", "jaw", "chin", "nose0", "nose")


@dataclass(frozen=True, eq=False, slots=True)
class SettledFrame:
    """A frame to draw, and what each hand does, by side."""

    frame: Solved
    grasps: dict[str, Grasp]


@dataclass(frozen=True, eq=False, slots=True)
class _Hand:
    """A hand as solved: its side, frame (columns r, d, p), wrist, direction of the forearm, and length in metres."""

    side: str
    frame: Array
    wrist: Array
    fore: Array
    length: float
    thumb: Array
    """Where the thumb points, from frame to frame the same way round a bar."""


@dataclass(frozen=True, slots=True)
class _Contact:
    """A condition of a frame: what touches or holds what, and the surface, if it is one."""

    site: str
    side: str
    target: str
    surface: Surface | None


def _contacts(task: FrameTask) -> list[_Contact]:
    """What touches in a frame, as the solver was told."""
    given = {touch.label: touch.surface for touch in task.touches} | {grip.label: None for grip in task.grips}
    found = []
    for label, surface in given.items():
        site, target = label.split(" ")
        name, _, side = site.partition(".")
        found.append(_Contact(name, side, target, surface))
    return found


def _hand(body: Body, frame: Solved, side: str, before: SettledFrame | None) -> _Hand:
    number, elbow = body.numbers[f"hand.{side}"], frame.placed.origins[body.numbers[f"farm.{side}"]]
    turn, wrist = frame.placed.rotations[number], frame.placed.origins[number]
    fore = (wrist - elbow) / np.linalg.norm(wrist - elbow)
    own = _swapped(turn, side)
    thumb = before.grasps[side].frame[:, 0] if before and before.grasps[side].grip in CLOSED else own[:, 0]
    return _Hand(side, own, wrist, fore, LENGTH * body.stature, thumb)


def _swapped(turn: Array, side: str) -> Array:
    """From the axes of a hand's segment to the columns r, d, p, and back."""
    return np.column_stack([turn[:, 0], -turn[:, 1], -turn[:, 2] * (1 if side == "r" else -1)])


def _under(hand: _Hand, surface: Surface) -> tuple[Array, float]:
    """The plane under a hand, as the way out of it and its offset: for a ball, the one that touches it under the palm."""
    if isinstance(surface, Plane):
        return np.array(surface.normal), surface.offset
    assert isinstance(surface, Sphere)
    middle = np.array(surface.centre)
    away = hand.wrist + hand.frame[:, 1] * 0.45 * hand.length - middle
    outward = away / np.linalg.norm(away)
    return outward, float(outward @ middle) + surface.radius


def _lying(hand: _Hand, surface: Surface, grip: str, palm_down: bool = True) -> Grasp:
    """A hand on a surface, its fingers as the forearm and the solved hand point."""
    outward, offset = _under(hand, surface)
    along = hand.frame[:, 1] - outward * (hand.frame[:, 1] @ outward)
    fore = hand.fore - outward * (hand.fore @ outward)
    if np.linalg.norm(fore) > 0.45:
        along = fore + 0.6 * along
    elif np.linalg.norm(along) < 0.3:
        along = np.array([0.0, 1.0, 0.0]) if abs(outward[1]) < 0.5 else np.array([1.0, 0.0, 0.0])
    wrist = hand.wrist + outward * (PALM_HALF * 1.05 * hand.length + offset - float(hand.wrist @ outward))
    return Grasp(grip, on_surface(outward, along, hand.side, palm_down), wrist)


def _on_body(hand: _Hand, body: Body, frame: Solved, target: str) -> Grasp:
    """A hand on a limb: closed round a thin one, laid on a thick one."""
    number, offset = body_target(body, target, hand.side)
    turn, origin = frame.placed.rotations[number], frame.placed.origins[number]
    axis, place = turn[:, 1], origin + turn @ (np.array(offset) * body.stature)
    if target in _ROUND_LIMB:
        middle = origin + axis * (offset[1] * body.stature)
        return round_bar(hand.frame, middle, axis, _ROUND_LIMB[target], side=hand.side, grip="hook", length=hand.length, thumb=hand.thumb)
    out = place - origin
    out = out - axis * (out @ axis)
    out = out / (np.linalg.norm(out) + 1e-9)
    return _lying(hand, Plane((float(out[0]), float(out[1]), float(out[2])), float(out @ place)), "drape")


def _on_bar(hand: _Hand, world: World, target: str) -> Grasp:
    axis, radius = world.bars[target]
    middle = np.array(world.handholds[target][hand.side]) - np.array([0.0, ABOVE_BAR, 0.0])
    grasp = round_bar(hand.frame, middle, np.array(axis), radius, side=hand.side, grip="fist", length=hand.length, thumb=hand.thumb)
    if np.linalg.norm(grasp.wrist - hand.wrist) <= MOST:
        return grasp
    # The solved fingers lie along the bar: of all ways round it, the wrist takes the one that is nearest to it.
    turns = [rotation_of(grasp.frame[:, 0] * angle) for angle in np.radians(np.arange(0, 360, 10))]
    wrists = [middle + turn @ (grasp.wrist - middle) for turn in turns]
    best = min(range(len(turns)), key=lambda one: float(np.linalg.norm(wrists[one] - hand.wrist)))
    return replace(grasp, frame=turns[best] @ grasp.frame, wrist=wrists[best])


def _held(spec: FigureSpec, side: str) -> str:
    """What a hand holds, or ''."""
    for use in spec.props:
        pad = use.name == "towel" and len(use.words) == 1 and use.words[0].startswith("hand.")
        if use.name in _HELD and not pad and not {"hands", "hand", f"hand.{side}"}.isdisjoint(use.words):
            return use.name
    return ""


def _in_hand(body: Body, frame: Solved, side: str) -> Array:
    number, z = body.numbers[f"hand.{side}"], 1 if side == "r" else -1
    place: Array = frame.placed.origins[number] + frame.placed.rotations[number] @ (
        np.array([*IN_HAND[:2], IN_HAND[2] * z]) * body.stature
    )
    return place


def _grasp(hand: _Hand, spec: FigureSpec, body: Body, frame: Solved, world: World, touched: list[_Contact]) -> Grasp:
    """What a hand does in a frame."""
    for contact in touched:
        target = contact.target
        if contact.side != hand.side or contact.site not in _HANDS:
            continue
        if target in BODY_TARGETS:
            return _on_body(hand, body, frame, target)
        if contact.site == GRIP and target in world.bars:
            return _on_bar(hand, world, target)
        surface = contact.surface or world.surfaces[target]
        # A hand that rests with its palm up lies on its back; 'palm' says which side is meant.
        back = contact.site == "hand" and float(hand.frame[:, 2] @ _under(hand, surface)[0]) > 0.3
        grip = "open" if back else "flat" if isinstance(surface, Plane) else "drape"
        return _lying(hand, surface, grip, not back)
    held, middle = _held(spec, hand.side), _in_hand(body, frame, hand.side)
    if not held:
        return Grasp("open", hand.frame, hand.wrist)
    across = hand.frame[:, 0]
    if held == "stick":
        across = middle - _in_hand(body, frame, "l" if hand.side == "r" else "r")
    return round_bar(hand.frame, middle, across, _HELD[held], side=hand.side, grip="fist", length=hand.length, thumb=hand.thumb)


@dataclass(eq=False, slots=True)
class _Work:
    """A frame while it is settled: ellipsoids and placed segments that may be written to."""

    body: Body
    centres: Array
    axes: Array
    origins: Array
    rotations: Array

    def turn(self, names: list[str], pivot: Array, turn: Array) -> None:
        """Turn ellipsoids about a place."""
        numbers = [self.body.lumps[name] for name in names]
        self.centres[numbers] = (self.centres[numbers] - pivot) @ turn.T + pivot
        self.axes[numbers] = turn @ self.axes[numbers]

    def shift(self, shares: tuple[tuple[str, float], ...], side: str, way: Array) -> None:
        """Move ellipsoids of a side, each by its share."""
        for name, share in shares:
            self.centres[self.body.lumps[f"{name}.{side}"]] += way * share


def _turn_between(one: Array, two: Array) -> Array:
    """The shortest turn from one direction to another."""
    axis = np.cross(one, two)
    size = float(np.linalg.norm(axis))
    return rotation_of(axis / size * np.arctan2(size, float(one @ two))) if size > 1e-6 else np.eye(3)


def _set_hand(work: _Work, grasp: Grasp, side: str) -> Grasp:
    """The hand's segment as it is drawn, for what it holds and for arrows; the forearm follows."""
    hand = work.body.numbers[f"hand.{side}"]
    shift = grasp.wrist - work.origins[hand]
    shift *= min(1.0, MOST / (float(np.linalg.norm(shift)) + 1e-9))
    grasp = replace(grasp, wrist=work.origins[hand] + shift)
    work.shift(_FORE, side, shift)
    turn = _swapped(grasp.frame, side)
    names = [f"{name}.{side}" for name in _FINGERS]
    work.turn(names, work.origins[hand], turn @ work.rotations[hand].T)
    work.centres[[work.body.lumps[name] for name in names]] += shift
    work.origins[hand], work.rotations[hand] = grasp.wrist, turn
    return grasp


def _set_foot(work: _Work, side: str, site: str, plane: Plane) -> None:
    """A foot that stands is flat on its floor; one on its toes does not roll."""
    foot, toes = work.body.numbers[f"foot.{side}"], work.body.numbers[f"toes.{side}"]
    turn, pivot, normal = work.rotations[foot], work.origins[foot].copy(), np.array(plane.normal)
    if site == "foot":
        fix = _turn_between(turn[:, 1], normal)
    else:
        level = turn[:, 2] - normal * (turn[:, 2] @ normal)
        fix = _turn_between(turn[:, 2], level / np.linalg.norm(level))
    names = [f"{name}.{side}" for name in ("heel", "mid", "ball", "soleh", "soleb", "toe", "solet")]
    work.turn(names, pivot, fix)
    bend = _turn_between(fix @ work.rotations[toes][:, 1], normal) if site == "foot" else np.eye(3)
    knuckle = fix @ (work.origins[toes] - pivot) + pivot
    work.turn([f"toe.{side}", f"solet.{side}"], knuckle, bend)
    soles = [work.body.lumps[f"{name}.{side}"] for name in (("soleh", "soleb") if site == "foot" else ("soleb",))]
    reach = np.linalg.norm(np.einsum("nji,j->ni", work.axes[soles], normal), axis=1)
    down = -normal * (float((work.centres[soles] @ normal - reach).min()) - plane.offset)
    work.centres[[work.body.lumps[name] for name in (*names, f"collar.{side}")]] += down
    work.shift(_SHANK, side, down)
    work.origins[toes] = knuckle
    for number, turned in ((foot, fix), (toes, bend @ fix)):
        work.origins[number] += down
        work.rotations[number] = turned @ work.rotations[number]


def _moves_neck(motion: SolvedMotion) -> bool:
    """Whether the neck is a part of the exercise: then the head shows the movement, not its face."""
    first, last = motion.tasks[0].angles, motion.tasks[-1].angles
    names = [name for name in INDEX if name.startswith("neck")]
    return any(abs(last[INDEX[name]] - first[INDEX[name]]) > 3 for name in names) or abs(last[INDEX["neck.turn"]]) > 3


def _turn_head(work: _Work, view: Array) -> None:
    """Turn the head about its own long axis until an eye can be seen, no farther than a neck likes."""
    head = work.body.numbers["head"]
    turn = work.rotations[head]
    toward = view[2] / UNITS_PER_METRE @ turn
    aside = float(np.degrees(np.arctan2(toward[2], toward[0])))
    far = abs(aside)
    degrees = min(_MOST_TURN, max(0.0, far - _SEEN_EYE), max(0.0, _FROM_BEHIND - far)) * float(np.sign(aside))
    # From above the head or below the chin a turn shows nothing more.
    degrees *= float(np.clip((0.85 - abs(float(toward[1]))) / 0.15, 0.0, 1.0))
    if degrees:
        spin = rotation_of(turn[:, 1] * np.radians(-degrees))
        work.turn(list(_HEAD), work.origins[head], spin)
        work.rotations[head] = spin @ turn


_MOST_SUNK = 0.03
"""How far a head that was turned is let down to what it lies on, metres."""


def _lay_head(work: _Work, plane: Plane) -> None:
    """A head that lies, and was turned to be seen, touches what it lies on."""
    normal, lumps = np.array(plane.normal), [work.body.lumps[name] for name in _RESTING]
    reach = np.linalg.norm(np.einsum("nji,j->ni", work.axes[lumps], normal), axis=1)
    gap = float((work.centres[lumps] @ normal - reach).min()) - plane.offset
    down = -normal * float(np.clip(gap, -_MOST_SUNK, _MOST_SUNK))
    work.centres[[work.body.lumps[name] for name in _HEAD]] += down
    work.origins[work.body.numbers["head"]] += down


def settle(spec: FigureSpec, body: Body, motion: SolvedMotion, number: int, view: Array, before: SettledFrame | None) -> SettledFrame:
    """Frame ``number`` of a motion as it is drawn under a camera matrix; ``before`` is the frame before it."""
    frame, task = motion.frames[number], motion.tasks[number]
    world = motion.worlds[min(number, len(motion.worlds) - 1)]
    placed = frame.placed
    work = _Work(body, frame.centres.copy(), frame.axes.copy(), placed.origins.copy(), placed.rotations.copy())
    touched = _contacts(task)
    for contact in touched:
        if contact.site in _FEET and isinstance(contact.surface, Plane) and contact.surface.normal[1] > 0.9:
            _set_foot(work, contact.side, contact.site, contact.surface)
    grasps = {
        side: _set_hand(work, _grasp(_hand(body, frame, side, before), spec, body, frame, world, touched), side)
        for side in SIDES
    }
    if not _moves_neck(motion):
        _turn_head(work, view)
        for contact in touched:
            if contact.site == "head" and isinstance(contact.surface, Plane):
                _lay_head(work, contact.surface)
    drawn = replace(placed, origins=work.origins, rotations=work.rotations)
    return SettledFrame(replace(frame, centres=work.centres, axes=work.axes, placed=drawn), grasps)


def settle_all(spec: FigureSpec, body: Body, motion: SolvedMotion, view: Array) -> tuple[SettledFrame, ...]:
    """All frames of a motion as they are drawn."""
    found: list[SettledFrame] = []
    for number in range(len(motion.frames)):
        found.append(settle(spec, body, motion, number, view, found[-1] if found else None))
    return tuple(found)

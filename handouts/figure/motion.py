"""From a figure's spec to solved frames: start, the way between, and end.

Builds the task of each frame (what touches, what stays, what may give) and solves them in order, each from
the one before.  Never draws.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from handouts.figure.apart import apart_pairs
from handouts.figure.bases import BASES, Base
from handouts.figure.body import Body
from handouts.figure.joints import INDEX, SIDES, VARIABLES, Angles
from handouts.figure.kinematics import local_point, rotation_about
from handouts.figure.residuals import Grip, Pin, Span, State, Task, Touch
from handouts.figure.sites import (
    ARM_SITES,
    BODY_PIN,
    BODY_SITES,
    BODY_TARGETS,
    GRIP,
    LEG_SITES,
    LIMB_PINS,
    LIMB_SITES,
    POINTS,
    Plane,
    Surface,
)
from handouts.figure.solver import Solved, misses, solve
from handouts.figure.spec import Contact, FigureSpec, Named
from handouts.figure.world import WEIGHTED_BALL, World, make_world

Array = NDArray[np.float64]
BETWEEN = 5
"""Frames solved between start and end."""
STEP_LIFT = 0.06
"""How high a stepping foot is lifted, metres."""
_GRIP_OFFSET = (0.0, -0.058, -0.018)
"""The middle of a closed hand, fractions of stature; z toward the palm side."""


@dataclass(frozen=True, slots=True)
class Motion:
    """Solved frames from start to end, the tasks they answer, and the world they stand in."""

    frames: tuple[Solved, ...]
    tasks: tuple[Task, ...]
    worlds: tuple[World, ...]
    base: Base

    @property
    def world(self) -> World:
        """The world at the start."""
        return self.worlds[0]

    def misses(self, body: Body) -> tuple[tuple[tuple[str, float], ...], ...]:
        """For each frame, contacts and how many metres each misses."""
        return tuple(misses(body, task, frame) for task, frame in zip(self.tasks, self.frames, strict=True))


def _sides(site: Named) -> tuple[str, ...]:
    if site.name in BODY_SITES:
        return ("",)
    return (site.side,) if site.side else SIDES


def _expand(contacts: tuple[Contact, ...]) -> list[tuple[str, str, str]]:
    """Site, side, target, once for each side."""
    return [(c.site.name, side, c.target) for c in contacts for side in _sides(c.site)]


def _groups(body: Body, site: str, side: str) -> list[tuple[int, ...]]:
    if site in BODY_SITES:
        return [tuple(body.lumps[name] for name in group) for group in BODY_SITES[site]]
    return [tuple(body.lumps[f"{name}.{side}"] for name in group) for group in LIMB_SITES[site]]


def _touches(body: Body, world: World, contacts: list[tuple[str, str, str]]) -> tuple[Touch, ...]:
    return tuple(
        Touch(" ".join((f"{site}.{side}" if side else site, target)), group, world.surfaces[target])
        for site, side, target in contacts
        if site != GRIP and target in world.surfaces
        for group in _groups(body, site, side)
    )


def _body_target(body: Body, target: str, side: str) -> tuple[int, tuple[float, float, float]]:
    segment, offset = BODY_TARGETS[target]
    z = 1 if side == "r" else -1
    if segment.endswith("."):
        segment += side
    elif segment.endswith("!"):
        side = "l" if side == "r" else "r"
        segment, z = f"{segment[:-1]}.{side}", -z
    return body.numbers[segment], (offset[0], offset[1], offset[2] * z)


def _grips(body: Body, world: World, contacts: list[tuple[str, str, str]]) -> tuple[Grip, ...]:
    found = []
    for site, side, target in contacts:
        z = 1 if side == "r" else -1
        offset = (_GRIP_OFFSET[0], _GRIP_OFFSET[1], _GRIP_OFFSET[2] * z)
        label = f"{site}.{side} {target}" if side else f"{site} {target}"
        if target in BODY_TARGETS:
            segment, place = _body_target(body, target, side)
            found.append(Grip(label, body.numbers[f"hand.{side}"], offset, place, segment))
        elif site == GRIP:
            holds = world.handholds.get(target)
            if holds:
                found.append(Grip(label, body.numbers[f"hand.{side}"], offset, holds[side]))
    return tuple(found)


def _softness(spec: FigureSpec, base: Base, contacts: list[tuple[str, str, str]]) -> Angles:
    """How far each angle may give from what was typed, degrees."""
    arms = {side for site, side, _ in contacts if site in ARM_SITES}
    legs = {side for site, side, _ in contacts if site in LEG_SITES}
    if any(use.name in ("weighted-ball", "stick", "roll") and "hands" in use.words for use in spec.props):
        held = 4.0
    else:
        held = 1.0
    authored = {angle.variable for angle in (*spec.start, *spec.end)}
    free = {"neck": (1.5, 1.5), "trunk": (2.0, 2.0), "shoulder": (30.0, held), "elbow": (30.0, held),
            "forearm": (30.0, 1.0), "wrist": (12.0, 1.0), "fingers": (4.0, 0.5), "ankle": (14.0, 2.0),
            "toes": (40.0, 1.0), "hip": (5.0, 1.0), "knee": (5.0, 1.0)}  # fmt: skip
    found = np.empty(len(VARIABLES))
    for name, number in INDEX.items():
        joint, side = name.split(".")[0], name.split(".")[1]
        busy = side in (arms if joint in ("shoulder", "elbow", "forearm", "wrist", "fingers") else legs)
        soft = free[joint][0 if busy else 1]
        if busy or joint in ("trunk",):
            soft = base.soft.get(joint, soft)
        if name in authored:
            soft = min(soft, 6.0 if joint in ("shoulder", "elbow", "wrist", "forearm") and side in arms else 2.0)
            if joint in ("hip", "knee", "ankle") and busy:
                soft = max(soft, min(base.soft.get(joint, 2.0), 6.0))
        found[number] = soft
    return found


def _tangents(surface: Surface) -> tuple[tuple[float, float, float], ...]:
    if isinstance(surface, Plane):
        return tuple(way for way, part in zip(((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0)), surface.normal,
                                              strict=True) if abs(part) < 0.5)  # fmt: skip
    return ((1.0, 0.0, 0.0), (0.0, 0.0, 1.0))


_STAYS = frozenset(frozenset(pair) for pair in (
    ("foot", "toes"), ("foot", "heel"), ("foot", "ball"), ("palm", "hand"), ("shin", "knee"), ("back", "upper-back"),
    ("back", "trunk-back"), ("back", "head")))  # fmt: skip
"""Pairs of sites of which one becomes the other while the contact lasts."""


def _kept(before: list[tuple[str, str, str]], after: list[tuple[str, str, str]]) -> list[tuple[str, str, str]]:
    """The contacts of the end that last all the way from the start."""
    return [
        (site, side, target) for site, side, target in after
        if any((side, target) == (old_side, old_target) and (site == old or frozenset((site, old)) in _STAYS)
               for old, old_side, old_target in before)
    ]  # fmt: skip


def _stepping(spec: FigureSpec, base: Base, touches: tuple[Touch, ...], share: float) -> tuple[Touch, ...]:
    """A foot that slides while standing is lifted over the ground on its way."""
    steps = {f"{one.name}.{side}" for one in spec.slide for side in _sides(one) if one.name in ("foot", "toes", "heel")}
    if base.name != "standing" or not steps:
        return touches
    lift = STEP_LIFT * float(np.sin(np.pi * share))
    return tuple(
        replace(touch, surface=replace(touch.surface, offset=touch.surface.offset + lift))
        if touch.label.split()[0] in steps and isinstance(touch.surface, Plane) else touch
        for touch in touches
    )  # fmt: skip


def _pins(spec: FigureSpec, body: Body, world: World, first: Solved, before: list[tuple[str, str, str]],
          after: list[tuple[str, str, str]]) -> tuple[Pin, ...]:  # fmt: skip
    """What touches at start and end alike stays where it is, unless it may slide."""
    slide = {(one.name, side) for one in spec.slide for side in _sides(one)}
    found: dict[int, Pin] = {}
    for site, side, target in before:
        for other, other_side, other_target in after:
            same = site == other or frozenset((site, other)) in _STAYS
            if not same or (side, target) != (other_side, other_target) or (site, side) in slide or site == GRIP:
                continue
            if target not in world.surfaces or target == "ball":
                continue
            if site in BODY_SITES:
                lumps = [body.lumps[BODY_PIN[site]]]
            else:
                kept = LIMB_PINS[other] if {site, other} != {"foot", "heel"} else ("soleh",)
                lumps = [body.lumps[f"{name}.{side}"] for name in kept]
            for lump in lumps:
                found[lump] = Pin(lump, tuple(first.centres[lump]), _tangents(world.surfaces[target]))
    if BASES[spec.base].lying and not any(one.name in ("back", "front", "side") for one in spec.slide):
        lump = body.lumps["sec6"]
        found.setdefault(lump, Pin(lump, tuple(first.centres[lump]), ((1.0, 0.0, 0.0), (0.0, 0.0, 1.0))))
    return tuple(found[lump] for lump in sorted(found))


def _spans(spec: FigureSpec, body: Body, solved: Solved | None) -> tuple[Span, ...]:
    """Things held in both hands keep the hands apart."""
    right, left = body.numbers["hand.r"], body.numbers["hand.l"]
    inner = (0.0, -0.050, 0.014)
    ball = spec.prop("weighted-ball")
    if ball and "hands" in ball.words:
        return (Span(right, (0.0, -0.050, -0.012), left, (0.0, -0.050, 0.012), 2 * WEIGHTED_BALL),)
    if solved is not None and any(use.name in ("stick", "towel") and "hands" in use.words for use in spec.props):
        apart = float(np.linalg.norm(solved.placed.origins[right] - solved.placed.origins[left]))
        return (Span(right, (0.0, 0.0, 0.0), left, (0.0, 0.0, 0.0), apart),) if inner else ()
    return ()


def _poses(spec: FigureSpec, base: Base) -> tuple[Angles, Angles]:
    start = base.pose()
    for angle in spec.start:
        start[INDEX[angle.variable]] = angle.degrees
    end = start.copy()
    for angle in spec.end:
        end[INDEX[angle.variable]] = angle.degrees
    return start, end


def _balance(spec: FigureSpec, base: Base, contacts: list[tuple[str, str, str]], at_end: bool) -> tuple[float, bool]:
    """How near the middle of its support the centre of mass should be (metres; 0 not at all), and whether it must be over it."""
    asked = spec.balance in ("yes", "end" if at_end else "start")
    leaning = any(target in ("wall", "doorway", "ball") for _, _, target in contacts)
    held = any(site in ARM_SITES and target not in BODY_TARGETS for site, _, target in contacts)
    if asked:
        return 0.03, True
    if not base.balanced or leaning or spec.balance == "no" or spec.lean:
        return 0.0, False
    if held or (spec.balance and not asked):
        return 0.12, False
    return 0.06, True


def _rests(spec: FigureSpec, base: Base, contacts: list[tuple[str, str, str]]) -> list[tuple[str, str, str]]:
    """Where arms and head rest in a base position, unless the author uses them otherwise."""
    taken = {side for site, side, _ in contacts if site in ARM_SITES}
    given = {site for site, _, _ in contacts}
    typed = {angle.variable.split(".")[1] for angle in (*spec.start, *spec.end)
             if angle.variable.startswith(("shoulder", "elbow"))}  # fmt: skip
    found = []
    for text in base.rests:
        site, target = text.split()
        name, _, side = site.partition(".")
        for one in ("",) if name in BODY_SITES else (side,) if side else SIDES:
            if one not in taken | typed and name not in given:
                found.append((name, one, target))
    return found


def _hold(spec: FigureSpec, base: Base, contacts: list[tuple[str, str, str]]) -> tuple[float, float, float]:
    """How firmly the pelvis keeps its tilt: loose in the forward plane where typed hips set it against standing legs."""
    legs = {side for site, side, _ in contacts if site in LEG_SITES or site == "seat"}
    hips = {angle.variable.split(".")[1] for angle in (*spec.start, *spec.end) if angle.variable.endswith("flex")
            and angle.variable.startswith("hip")}  # fmt: skip
    if not base.lying and legs & hips and base.name != "all-fours":
        return base.hold[0], base.hold[1], 40.0
    return base.hold


def _first_task(spec: FigureSpec, body: Body, base: Base, world: World) -> Task:
    start, _ = _poses(spec, base)
    contacts = _expand(spec.contacts)
    contacts += _rests(spec, base, contacts)
    turn = base.turn @ rotation_about(2, -spec.lean)
    height = base.height * body.stature
    firm = (2.0, 2.0, 2.0) if any(t == "wall" for _, _, t in contacts) else _hold(spec, base, contacts)
    x = -0.10 if any(t == "wall" for _, _, t in contacts) else 0.0
    sideways = 0.5 if any(t == "wall" for _, _, t in contacts) else 0.05
    return Task(
        start, _softness(spec, base, contacts), turn, np.array([x, height, 0.0]), firm, (sideways, 1.0, 0.03),
        _touches(body, world, contacts), _grips(body, world, contacts), (), _spans(spec, body, None), world.keep_out,
        *_balance(spec, base, contacts, False), apart_pairs(body),
    )  # fmt: skip


def solve_motion(spec: FigureSpec, body: Body) -> Motion:
    """All frames of a figure."""
    base, world = BASES[spec.base], make_world(spec)
    first = _first_task(spec, body, base, world)
    solved = solve(body, first, State(first.turn, first.position, first.angles))
    frames, tasks = [solved], [first]
    if not spec.moves:
        return Motion(tuple(frames), tuple(tasks), (world,), base)
    start, end = _poses(spec, base)
    before, after = _expand(spec.contacts), _expand(spec.end_contacts)
    resting = _rests(spec, base, before)
    worlds = [world]
    moving = replace(
        first,
        grips=_grips(body, world, after + resting),
        pins=_pins(spec, body, world, solved, before, after),
        spans=_spans(spec, body, solved),
        softness=_softness(spec, base, after + before + _rests(spec, base, before)),
        position=solved.state.position,
        position_softness=(0.5, 1.0, 0.05),
        turn_softness=(2.0, 2.0, 25.0) if any(target == "wall" for _, _, target in after) else _hold(spec, base, after),
        balance=_balance(spec, base, after, True)[0],
        inside=_balance(spec, base, after, True)[1],
    )
    for share in np.linspace(0, 1, BETWEEN + 2)[1:]:
        here = make_world(spec, float(share))
        now = (after if share == 1 else _kept(before, after)) + resting
        task = replace(moving, angles=start * (1 - share) + end * share, keep_out=here.keep_out,
                       touches=_stepping(spec, base, _touches(body, here, now), float(share)),
                       grips=_grips(body, here, now))  # fmt: skip
        if share < 1 and spec.balance == "end":
            task = replace(task, balance=0.12, inside=False)
        solved = solve(body, task, solved.state)
        frames.append(solved)
        tasks.append(task)
        worlds.append(here)
    return Motion(tuple(frames), tuple(tasks), tuple(worlds), base)


def point_places(body: Body, frames: tuple[Solved, ...], point: Named) -> Array:
    """World places (n, 3) of a named point over the frames, metres; a point with sides and no side means the right."""
    segment, offset = POINTS[point.name]
    side = point.side or "r"
    if segment.endswith("."):
        segment += side
    z = 1 if side == "r" else -1
    return np.array([local_point(body, frame.placed, segment, (offset[0], offset[1], offset[2] * z)) for frame in frames])

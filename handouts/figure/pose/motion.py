"""From a figure's spec to solved frames: start, the way between, and end.

Builds the task of each frame and solves them in order, each from the one before.  Never draws.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any

import numpy as np
from numpy.typing import NDArray

from handouts.figure.body.angles import Angles, angles_of
from handouts.figure.body.body import Body
from handouts.figure.body.joints import INDEX
from handouts.figure.body.kinematics import local_point, rotation_about, rotation_of, vector_of
from handouts.figure.body.separation import apart_pairs
from handouts.figure.body.sites import POINTS
from handouts.figure.pose.bases import BASES, Base
from handouts.figure.pose.contacts import (
    Touching,
    expand,
    footholds_of,
    grips_of,
    kept_contacts,
    pins_of,
    rests_of,
    spans_of,
    stepping,
    touches_of,
)
from handouts.figure.pose.goals import bent_guess, goal_variables, meets_of, turns_freely, with_goals
from handouts.figure.pose.joint_limits import highest_of
from handouts.figure.pose.residuals import FrameTask, Pin, State
from handouts.figure.pose.solver import Solved, misses, solve
from handouts.figure.pose.spec import FigureSpec, Named, Station, over
from handouts.figure.pose.stiffness import balance_of, hold_of, softness_of
from handouts.figure.pose.surroundings import World, level_of, make_world
from handouts.figure.pose.unwritten_joints import strays_of

Array = NDArray[np.floating[Any]]
BETWEEN = 5
"""Frames solved between start and end."""


@dataclass(frozen=True, slots=True)
class SolvedMotion:
    """Solved frames from start to end, the tasks they answer, and the world they stand in."""

    frames: tuple[Solved, ...]
    tasks: tuple[FrameTask, ...]
    worlds: tuple[World, ...]
    base: Base
    step: int = BETWEEN + 1
    """Frames from one picture to the next."""

    @property
    def pictures(self) -> tuple[int, ...]:
        """The numbers of the frames that are pictures."""
        return tuple(range(0, len(self.frames), self.step))

    @property
    def world(self) -> World:
        """The world at the start."""
        return self.worlds[0]

    def misses(self, body: Body) -> tuple[tuple[tuple[str, float], ...], ...]:
        """For each frame, contacts and how many metres each misses."""
        return tuple(misses(body, task, frame) for task, frame in zip(self.tasks, self.frames, strict=True))


def _pose(spec: FigureSpec, base: Base, station: Station) -> Angles:
    """The angles of a picture as they are written."""
    found = angles_of(base.pose)
    for angle in (*spec.start, *station.angles):
        found[INDEX[angle.variable]] = angle.degrees
    return found


_HAND_FROM_MIDDLE = 0.112
"""How far from the middle a hand is set where both lie on one table top, fractions of stature: below its shoulder."""


def _hands_apart(body: Body, contacts: list[Touching]) -> tuple[Pin, ...]:
    """Both palms on one table top stay as wide apart as the shoulders; without this the solver lets them cross.

    On a wall or a floor the typed angles say how wide the hands are.
    """
    both = {(side, target) for site, side, target in contacts if site in ("palm", "hand")}
    return tuple(
        Pin(body.lumps[f"palm.{side}"], (0.0, 0.0, _HAND_FROM_MIDDLE * z * body.stature), ((0.0, 0.0, 1.0),))
        for side, z in (("r", 1), ("l", -1))
        for target in ("counter", "table")
        if both >= {("r", target), ("l", target)}
    )


def _first_task(spec: FigureSpec, body: Body, base: Base, world: World) -> FrameTask:
    start = _pose(spec, base, spec.stations[0])
    contacts = expand(spec.contacts)
    contacts += rests_of(spec, base, contacts)
    turn = np.array(base.turn) @ rotation_about(2, -spec.lean)
    height = base.height * body.stature + level_of(spec)
    firm = (2.0, 2.0, 2.0) if any(t == "wall" for _, _, t in contacts) else hold_of(spec, base, contacts)
    x = -0.10 if any(t == "wall" for _, _, t in contacts) else 0.0
    sideways = 0.5 if any(t == "wall" for _, _, t in contacts) else 0.05
    return FrameTask(
        start,
        with_goals(spec, softness_of(spec, base, contacts), at_end=False),
        turn,
        np.array([x, height, 0.0]),
        firm,
        (sideways, 1.0, 0.03),
        touches_of(body, world, contacts),
        grips_of(body, world, contacts),
        (*_hands_apart(body, contacts), *footholds_of(body, world, contacts)),
        spans_of(spec, body, None),
        world.solid,
        *balance_of(spec, base, contacts, False),
        apart_pairs(body),
        highest_of(spec),
        meets_of(spec, body, at_end=False),
    )


def _hold_at_end(spec: FigureSpec, base: Base, contacts: list[Touching], is_last: bool) -> tuple[float, float, float]:
    """How firmly the pelvis keeps its tilt on the way: loosely forward where it tilts for a goal."""
    held = hold_of(spec, base, contacts)
    return (held[0], held[1], max(held[2], 40.0)) if is_last and turns_freely(spec) and not base.lying else held


def _with_reached(spec: FigureSpec, body: Body, task: FrameTask, contacts: list[Touching], begun: Solved) -> Angles:
    """The angles of the last picture with those that reach its goals, so that the way there is as even as if they had been written."""
    world = make_world(spec, 1.0)
    aim = replace(
        task, keep_out=world.solid, grips=grips_of(body, world, contacts), touches=touches_of(body, world, contacts),
        pins=(*task.pins, *footholds_of(body, world, contacts)), meets=meets_of(spec, body, at_end=True),
    )  # fmt: skip
    tried = [solve(body, aim, guess) for guess in (begun.state, bent_guess(spec, begun.state))]
    found, end = goal_variables(spec), task.angles.copy()
    end[found] = min(tried, key=lambda one: one.cost).state.angles[found]
    return end


@dataclass(frozen=True, slots=True)
class _Reached:
    """A solved frame, the task that it answers, and the world in which it stands."""

    frame: Solved
    task: FrameTask
    world: World


def solve_motion(spec: FigureSpec, body: Body, between: int = BETWEEN) -> SolvedMotion:
    """All frames of a figure, with so many ``between`` its pictures."""
    found: list[_Reached] = []
    for section in spec.sections:
        reached = _solve_section(section, body, between)
        found += [*_turn_over(body, found[-1], reached[0], between), *reached] if found else reached
    frames, tasks, worlds = (tuple(getattr(one, name) for one in found) for name in ("frame", "task", "world"))
    return SolvedMotion(frames, tasks, worlds, BASES[spec.base], between + 1)


def sections_of(spec: FigureSpec, motion: SolvedMotion) -> tuple[tuple[FigureSpec, SolvedMotion, int], ...]:
    """Each row of pictures on one base as a figure of its own, its part of the motion, and how many pictures stand before it."""
    found, before = [], 0
    for one in spec.sections:
        last = before + len(one.stations) - 1
        part = slice(before * motion.step, last * motion.step + 1)
        own = replace(motion, frames=motion.frames[part], tasks=motion.tasks[part], worlds=motion.worlds[part], base=BASES[one.base])
        found.append((one, own, before))
        before = last + 1
    return tuple(found) if len(found) > 1 else ((spec, motion, 0),)


_LOOSE = 4.0
"""Degrees and tenths of a metre by which a body may leave the even way between two pictures with bases of their own, to go round what is solid."""


def _turn_over(body: Body, before: _Reached, after: _Reached, between: int) -> list[_Reached]:
    """The way to a picture with a base of its own: in one even turn, out of what is solid, and touching nothing."""
    here, there = before.frame.state, after.frame.state
    turning = vector_of(there.turn @ here.turn.T)
    free = replace(
        after.task, touches=(), grips=(), pins=(), spans=(), meets=(), balance=0.0, inside=False, softness=np.full_like(here.angles, _LOOSE),
        position_softness=(_LOOSE / 40, _LOOSE / 10, _LOOSE / 40), turn_softness=(_LOOSE, _LOOSE, _LOOSE),
    )  # fmt: skip
    found = []
    for share in np.linspace(0, 1, between + 2)[1:-1]:
        state = State(
            rotation_of(float(share) * turning) @ here.turn,
            here.position * (1 - share) + there.position * share,
            here.angles * (1 - share) + there.angles * share,
        )
        task = replace(free, turn=state.turn, position=state.position, angles=state.angles)
        found.append(_Reached(solve(body, task, state), task, after.world))
    return found


def _solve_section(spec: FigureSpec, body: Body, between: int) -> list[_Reached]:
    """The frames of pictures on one base."""
    base, world = BASES[spec.base], make_world(spec)
    first = _first_task(spec, body, base, world)
    solved = solve(body, first, State(first.turn, first.position, first.angles))
    if spec.end and strays_of(spec, solved.state.angles, at_end=False):
        # What is written for the end alone is kept at the start as well, unless that drives another joint away.
        contacts = expand(spec.contacts)
        contacts += rests_of(spec, base, contacts)
        first = replace(first, softness=with_goals(spec, softness_of(spec, base, contacts, spec.start), at_end=False))
        solved = solve(body, first, State(first.turn, first.position, first.angles))
    found = [_Reached(solved, first, world)]
    stations = spec.stations
    for number, (here, there) in enumerate(zip(stations, stations[1:], strict=False)):
        leg = replace(spec, contacts=here.contacts, end_contacts=there.contacts, start=over(spec.start, here.angles), end=there.angles)
        way = _leg(leg, body, base, found[-1], (_pose(spec, base, here), _pose(spec, base, there)), (number, len(stations) - 1), between)
        found[-1:] = way
    return found


def _leg(
    spec: FigureSpec, body: Body, base: Base, begun: _Reached, poses: tuple[Angles, Angles], which: tuple[int, int], between: int
) -> list[_Reached]:
    """The way from one picture to the next, both included; ``spec`` starts at the one and ends at the other, leg ``which`` of so many."""
    start, end = poses
    is_last = which[0] == which[1] - 1
    solved, first, world = begun.frame, begun.task, begun.world
    before, after = expand(spec.contacts), expand(spec.end_contacts)
    resting = rests_of(spec, base, before)
    found = [begun]
    moving = replace(
        first,
        grips=grips_of(body, world, after + resting),
        pins=pins_of(spec, body, world, solved, before=before, after=after),
        spans=spans_of(spec, body, solved),
        softness=with_goals(spec, softness_of(spec, base, after + before + rests_of(spec, base, before)), at_end=is_last),
        position=solved.state.position,
        position_softness=(0.5, 1.0, 0.05),
        turn_softness=(2.0, 2.0, 25.0)
        if any(target == "wall" for _, _, target in after)
        else _hold_at_end(spec, base, after, is_last),
        balance=balance_of(spec, base, after, True)[0],
        inside=balance_of(spec, base, after, True)[1],
    )
    if which[0] == 0 and not any(target == "wall" for _, _, target in before):
        # The start is settled under the conditions of the way, so that the movement begins without a jump.
        settled = replace(
            moving,
            angles=start,
            touches=first.touches,
            grips=first.grips,
            pins=(*moving.pins, *first.pins),
            balance=first.balance,
            inside=first.inside,
            softness=first.softness,
        )
        solved = solve(body, settled, solved.state)
        found = [_Reached(solved, settled, world)]
    if spec.reach and is_last:
        end = _with_reached(spec, body, replace(moving, angles=end), after + resting, solved)
        found = [_Reached(solved, settled, world)]
    for share in np.linspace(0, 1, between + 2)[1:]:
        done = float((which[0] + share) / which[1])
        here = make_world(spec, done)
        now = (after if share == 1 else kept_contacts(before, after)) + resting
        task = replace(
            moving,
            angles=start * (1 - share) + end * share,
            keep_out=here.solid,
            touches=stepping(spec, base, touches_of(body, here, now), float(share)),
            grips=grips_of(body, here, now),
            pins=(*moving.pins, *footholds_of(body, here, now)),
            meets=meets_of(spec, body, at_end=is_last and share == 1),
        )
        if done < 1 and spec.balance == "end":
            task = replace(task, balance=0.12, inside=False)
        solved = solve(body, task, _onward([one.frame.state for one in found[-2:]]))
        found.append(_Reached(solved, task, here))
    return found


def _onward(states: list[State]) -> State:
    """The next state of a steady movement, from the last two: nearer to the answer than where it stands."""
    if len(states) < 2:
        return states[-1]
    before, now = states
    return State(now.turn @ before.turn.T @ now.turn, 2 * now.position - before.position, 2 * now.angles - before.angles)


def point_places(body: Body, frames: tuple[Solved, ...], point: Named) -> Array:
    """World places (n, 3) of a named point over the frames, metres; a point with sides and no side means the right."""
    segment, offset = POINTS[point.name]
    side = point.side or "r"
    if segment.endswith("."):
        segment += side
    z = 1 if side == "r" else -1
    return np.array(
        [local_point(body, frame.placed, segment, (offset[0], offset[1], offset[2] * z)) for frame in frames]
    )

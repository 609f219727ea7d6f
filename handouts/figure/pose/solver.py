"""A damped Gauss-Newton solver for poses, and the misses that are left.

Deterministic: the same task gives the same pose to the last bit on one machine.  Never reads content.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from handouts.figure.body.body import Body
from handouts.figure.body.gaps import gaps
from handouts.figure.body.kinematics import Placed, ellipsoids, place, rotation_of
from handouts.figure.body.linear import solve_positive
from handouts.figure.pose.residuals import FrameTask, State, pair_gaps, residuals

Array = NDArray[np.floating[Any]]

MOST_STEPS = 40
GOOD_ENOUGH = 1e-3
"""Fall of the sum of squares, relative and absolute, below which a step counts as idle."""
IDLE_STEPS = 2
"""Idle steps in a row after which solving stops."""


@dataclass(frozen=True, slots=True)
class Solved:
    """A solved frame: the pose, its placement, and its ellipsoids (centres and axes, metres)."""

    state: State
    placed: Placed
    centres: Array
    axes: Array
    cost: float


def _moved(state: State, step: Array) -> State:
    return State(rotation_of(step[3:6]) @ state.turn, state.position + step[:3], state.angles + step[6:])


def solve(body: Body, task: FrameTask, guess: State) -> Solved:
    """The pose that satisfies a task best, from a first guess."""
    state = guess
    placed = place(body, state.angles, state.turn, state.position)
    values, jacobian = residuals(body, task, state, placed)
    cost, damping = float(values @ values), 1e-3
    # Scale of a step: 5 cm, 3 degrees of the pelvis, 5 degrees of a joint.
    scale = np.concatenate([np.full(3, 0.05), np.full(3, 0.05), np.full(len(state.angles), 5.0)])
    idle = 0
    for _ in range(MOST_STEPS):
        scaled = jacobian * scale
        normal, slope = scaled.T @ scaled, scaled.T @ values
        improved = False
        for _ in range(8):
            step = -solve_positive(normal + damping * np.eye(len(slope)), slope) * scale
            step *= min(
                1.0, 0.6 / max(1e-9, float(np.linalg.norm(step[3:6]))), 40 / max(1e-9, float(np.abs(step[6:]).max()))
            )
            trial = _moved(state, step)
            trial_placed = place(body, trial.angles, trial.turn, trial.position)
            trial_values, trial_jacobian = residuals(body, task, trial, trial_placed)
            trial_cost = float(trial_values @ trial_values)
            if trial_cost < cost:
                improved = True
                break
            damping = max(damping, 1e-3) * 6
        if not improved:
            break
        fall = cost - trial_cost
        state, placed, values, jacobian, cost = trial, trial_placed, trial_values, trial_jacobian, trial_cost
        damping *= 0.3
        idle = idle + 1 if fall < GOOD_ENOUGH * (cost + 1) else 0
        if idle == IDLE_STEPS:
            break
    centres, axes = ellipsoids(body, placed)
    return Solved(state, placed, centres, axes, cost)


def misses(body: Body, task: FrameTask, solved: Solved) -> tuple[tuple[str, float], ...]:
    """What was asked to touch or hold and by how many metres it does not, largest first."""
    found: dict[str, float] = {}
    for touch in task.touches:
        gap = gaps(touch.surface, solved.centres, solved.axes)[0]
        miss = abs(float(min(gap[list(touch.lumps)])))
        found[touch.label] = max(found.get(touch.label, 0.0), miss)
    placed = solved.placed
    for grip in task.grips:

        def at(segment: int, offset: tuple[float, float, float]) -> Array:
            point: Array = placed.origins[segment] + placed.rotations[segment] @ (np.array(offset) * body.stature)
            return point

        target = np.array(grip.target) if grip.target_segment < 0 else at(grip.target_segment, grip.target)
        found[grip.label] = float(np.linalg.norm(at(grip.segment, grip.offset) - target))
    for meet in task.meets:
        apart = abs(float(pair_gaps(meet.pairs, solved.centres, solved.axes)[0].min()))
        found[meet.label] = max(found.get(meet.label, 0.0), apart)
    return tuple(sorted(found.items(), key=lambda item: (-item[1], item[0])))

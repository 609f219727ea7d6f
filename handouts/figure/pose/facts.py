"""What a solved motion says in numbers: the largest angle of each joint, and facts for a text in any language.

Never composes a sentence and never judges: the words and the limits are other rooms.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import replace

from handouts.figure.body.joints import VARIABLE_AXES, VARIABLES, motion_name, side_of
from handouts.figure.body.sites import LEG_SITES
from handouts.figure.pose.fact_values import Extreme, Facts, Movement
from handouts.figure.pose.goals import freed
from handouts.figure.pose.motion import SolvedMotion, sections_of
from handouts.figure.pose.spec import FigureSpec, PoseAngle

_LYING = {
    "supine": "back",
    "crook-lying": "back",
    "prone": "front",
    "side-lying": "left side",
    "side-lying-right": "right side",
}
_LEAST_CHANGE = 6.0
"""Degrees below which a joint is not said to move."""


def _phase(frame: int, count: int) -> str:
    return "start" if frame == 0 else "end" if frame == count - 1 else "moving"


def joint_angles(motion: SolvedMotion) -> tuple[Mapping[str, float], ...]:
    """For each frame the signed angle of every variable (``hip.r.flex``) in degrees, rounded to 0.1."""
    return tuple(
        {name: round(float(value), 1) for name, value in zip(VARIABLES, frame.state.angles, strict=True)}
        for frame in motion.frames
    )


def largest_angles(motion: SolvedMotion) -> dict[str, Extreme]:
    """For each clinical motion the largest angle reached, e.g. 'hip flexion' -> 52.1 degrees, right, at the end."""
    found: dict[str, Extreme] = {}
    for number, frame in enumerate(motion.frames):
        for index, value in enumerate(frame.state.angles):
            if VARIABLE_AXES[index].joint == "fingers" or abs(value) < 0.5:
                continue
            name, degrees = motion_name(index, float(value)), round(abs(float(value)), 1)
            if name not in found or degrees > found[name].degrees:
                found[name] = Extreme(degrees, side_of(index), _phase(number, len(motion.frames)))
    return dict(sorted(found.items()))


def _movements(motion: SolvedMotion, number: int, written: tuple[PoseAngle, ...], sought: Collection[str] = ()) -> tuple[Movement, ...]:
    """What differs in a frame from the first; what is written of it, or ``sought`` for a goal, stands first."""
    first, last = motion.frames[0].state.angles, motion.frames[number].state.angles
    typed = {angle.variable for angle in written} | set(sought)
    found = []
    for index, name in enumerate(VARIABLES):
        start, end = round(float(first[index]), 1), round(float(last[index]), 1)
        if abs(end - start) >= _LEAST_CHANGE and VARIABLE_AXES[index].joint != "fingers":
            larger = end if abs(end) >= abs(start) else start
            found.append(
                Movement(
                    VARIABLE_AXES[index].joint, motion_name(index, larger), side_of(index), start, end, name in typed
                )
            )
    return tuple(sorted(found, key=lambda move: (not move.typed, -abs(move.end - move.start), move.motion, move.side)))


def _sides_at_end(spec: FigureSpec, sites: Collection[str]) -> set[str]:
    """Sides of which one of these sites touches something at the end."""
    touching = [contact.site.side for contact in spec.end_contacts if contact.site.name in sites]
    return {side for one in touching for side in (one or "rl")}


def _open_chain(spec: FigureSpec, movements: tuple[Movement, ...]) -> tuple[str, ...]:
    legs, hands = _sides_at_end(spec, LEG_SITES), _sides_at_end(spec, ("palm", "grip", "hand"))
    found = {
        f"{move.joint}.{move.side}"
        for move in movements
        if (move.joint in ("hip", "knee", "ankle") and move.side not in legs)
        or (move.joint in ("shoulder", "elbow", "wrist") and move.side not in hands)
    }
    return tuple(sorted(found))


def make_facts(spec: FigureSpec, motion: SolvedMotion) -> Facts:
    """The facts of a solved figure, those of each base position by themselves."""
    first, *later = (_facts_on(one, part) for one, part, _ in sections_of(spec, motion))
    return replace(first, moves=spec.moves, later=tuple(later))


def _facts_on(spec: FigureSpec, motion: SolvedMotion) -> Facts:
    """The facts of pictures on one base."""
    via = tuple(_movements(motion, number, station.angles) for number, station in zip(motion.pictures[1:], spec.via, strict=False))
    movements = _movements(motion, -1, spec.end, freed(spec, at_end=True)) or (via[-1] if via else ())
    first, last = motion.frames[0], motion.frames[-1]
    base = "side-lying" if spec.base.startswith("side-lying") else spec.base
    return Facts(
        base,
        _LYING.get(spec.base, ""),
        spec.side,
        spec.moves,
        movements,
        tuple((use.name, use.words) for use in spec.props),
        tuple(f"{contact.site} {contact.target}" for contact in spec.contacts),
        tuple(f"{contact.site} {contact.target}" for contact in spec.end_contacts),
        tuple(str(active) for active in spec.active),
        _open_chain(spec, movements),
        round(float(last.state.position[1] - first.state.position[1]), 3),
        via,
        tuple(str(one) for one in spec.stretched),
        spec.inset is not None,
        spec.flight > 0,
        spec.without,
        len(spec.stations),
    )

"""What an exercise asks of the body beside joint angles: derived from its figure, or declared by its author.

How a movement feels, how fast it is and whether someone helps cannot be seen in a pose; authors declare it.
Without a declaration a shoulder that moves counts as moved by its own strength, unless the arm only balances the
body or its hand rests where it is.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass

from handouts.figure.body.sites import LEG_SITES
from handouts.figure.pose.fact_values import Facts, Movement
from handouts.model import Exercise, Ref, Side

SIDES = ("r", "l")
NO_SIDE = frozenset({""})
_LOADS = ("weight", "weighted-ball", "band", "kettlebell", "ankle-weight")
_HANDS = ("palm", "forearm", "grip")
_GROUND = ("mat", "floor", "bed", "plinth", "bench")
_LEANED_ON: Mapping[str, tuple[str, ...]] = {
    "all-fours": _GROUND, "long-sitting": _GROUND, "prone": _GROUND,
    "kneeling": (*_GROUND, "ball", "chair"), "half-kneeling": (*_GROUND, "ball", "chair"),
    "reclined": _GROUND, "sitting": ("armrest",), "standing": ("walking-frame", "cane"),
}  # fmt: skip
"""By base what hands lean on, so that they carry weight."""
BALANCING_DEGREES = 30.0
"""A free arm that moves less far, of which no muscle is marked, only balances the body (common practice, no source)."""
RESTING_DEGREES = 60.0
"""A shoulder above a hand that keeps its place moves so far when the body sways, squats or rises (common practice, no
source)."""
ACROSS_DEGREES = 30.0
"""Horizontal adduction from which the arm crosses the body (common practice, no source)."""
_ARM_MUSCLES = frozenset({"deltoid", "rotator-cuff", "shoulder-blades", "trapezius", "chest", "biceps", "triceps"})
_PELVIS = ("back", "seat", "front", "pelvis", "trunk-back")
"""Sites whose contact holds the pelvis; a bridge has none of them."""
_HELPED = ("passive-shoulder", "assisted-shoulder")

SIDED_DEMANDS = frozenset({
    "passive-shoulder", "assisted-shoulder", "active-shoulder", "resisted-shoulder", "weight-on-arms",
    "weight-on-leg", "whole-weight-on-leg", "open-chain-knee-extension", "arm-across-body",
})  # fmt: skip
"""Demands that belong to a limb; the others belong to the whole body."""


@dataclass(frozen=True, slots=True)
class ExerciseFacts:
    """An exercise and the facts of its figure; of a figure alone, nothing is declared."""

    exercise: Exercise | None
    facts: Facts

    @property
    def declared(self) -> frozenset[str]:
        """Slugs of the demands that the author declared."""
        return frozenset(ref.slug for ref in self.exercise.demands) if self.exercise else frozenset()


def trained_side(facts: Facts) -> str:
    """The side that exercises in the picture: where most muscles are marked, else most joints move; '' where neither tells."""
    marked = [name.rpartition(".")[2] for name in (*facts.active, *facts.stretched) if "." in name]
    moved = [move.side for each in facts.each_base for move in each.movements if move.typed and move.side]
    for found in (marked, moved):
        right, left = found.count("r"), found.count("l")
        if right != left:
            return "r" if right > left else "l"
    return ""


def worked_side(facts: Facts) -> str:
    """The side that exercises in the picture; where it does not tell, right: limits are then held against one side alike."""
    return trained_side(facts) or SIDES[0]


def _moves(facts: Facts, joint: str) -> list[Movement]:
    """Movements of a joint that were typed, or that a fixed hand or foot forces; a free limb moves only as typed."""
    return [
        move
        for move in facts.movements
        if move.joint == joint and (move.typed or f"{joint}.{move.side}" not in facts.open_chain)
    ]


def _moving_arms(case: ExerciseFacts) -> frozenset[str]:
    """Arms that exercise: their muscles are marked, or they move farther than balance or a resting hand asks."""
    return frozenset(move.side for move in _moves(case.facts, "shoulder") if _exercises(move, case.facts))


def _exercises(move: Movement, facts: Facts) -> bool:
    sides = {side for name, _, side in (each.partition(".") for each in facts.active) if name in _ARM_MUSCLES}
    if move.typed and sides & {"", move.side}:
        return True
    least = BALANCING_DEGREES if f"{move.joint}.{move.side}" in facts.open_chain else RESTING_DEGREES
    return abs(move.end - move.start) >= least


def _arms_across(case: ExerciseFacts) -> frozenset[str]:
    return frozenset(
        move.side
        for move in case.facts.movements
        if move.typed and move.motion == "shoulder horizontal adduction" and max(move.start, move.end) >= ACROSS_DEGREES
    )


def _active_arms(case: ExerciseFacts) -> frozenset[str]:
    arms = _moving_arms(case)
    if not case.declared.intersection(_HELPED):
        return arms
    if case.exercise is not None and case.exercise.dose.side is Side.ONE:
        return arms - {worked_side(case.facts)}
    return frozenset()


def _loaded_hands(facts: Facts) -> frozenset[str]:
    found: set[str] = set()
    for name, words in facts.props:
        if name in _LOADS:
            for word in words:
                point, _, side = word.partition(".")
                if point in ("hand", "hands", "wrist", "wrists"):
                    found |= {side} if side else set(SIDES)
    return frozenset(found)


def _resisted_arms(case: ExerciseFacts) -> frozenset[str]:
    moved = {move.side for joint in ("shoulder", "elbow") for move in _moves(case.facts, joint)}
    return _loaded_hands(case.facts) & moved


def _load_in_hands(case: ExerciseFacts) -> frozenset[str]:
    return NO_SIDE if _loaded_hands(case.facts) else frozenset()


def _sides_on(
    contacts: tuple[str, ...], sites: tuple[str, ...] | frozenset[str], targets: tuple[str, ...] = ()
) -> frozenset[str]:
    """Sides of the sites that touch something, of ``targets`` where given."""
    found: set[str] = set()
    for contact in contacts:
        site, _, target = contact.partition(" ")
        name, _, side = site.partition(".")
        if name in sites and (not targets or target in targets):
            found |= {side} if side else set(SIDES)
    return frozenset(found)


def _both_ends(facts: Facts) -> tuple[tuple[str, ...], ...]:
    return (facts.contacts, facts.end_contacts)


def _arms_bearing(case: ExerciseFacts) -> frozenset[str]:
    under = _LEANED_ON.get(case.facts.base)
    if under is None:
        return frozenset()
    return frozenset().union(*(_sides_on(contacts, _HANDS, under) for contacts in _both_ends(case.facts)))


def _upright(facts: Facts) -> tuple[tuple[str, ...], ...]:
    """The contacts of the moments in which legs carry the body: upright, or the pelvis off the mat or the chair."""
    if facts.base in ("standing", "kneeling", "half-kneeling", "all-fours"):
        return _both_ends(facts)
    if facts.base in ("sitting", "crook-lying", "supine"):
        return tuple(contacts for contacts in _both_ends(facts) if not _touches(contacts, _PELVIS))
    return ()


def _touches(contacts: tuple[str, ...], sites: tuple[str, ...]) -> bool:
    return any(contact.partition(" ")[0].partition(".")[0] in sites for contact in contacts)


def _legs_bearing(case: ExerciseFacts) -> frozenset[str]:
    return frozenset().union(*(_sides_on(contacts, _LEGS) for contacts in _upright(case.facts)))


def _legs_alone(case: ExerciseFacts) -> frozenset[str]:
    """Legs that stand alone at the start or at the end."""
    if case.facts.base not in ("standing", "sitting"):
        return frozenset()
    stands = (_sides_on(contacts, _LEGS) for contacts in _upright(case.facts))
    return frozenset().union(*(sides for sides in stands if len(sides) == 1))


def _open_knees(case: ExerciseFacts) -> frozenset[str]:
    """Knees that straighten with a free foot, or move so while the front of the thigh works."""
    facts = case.facts
    works = {name.rpartition(".")[2] if "." in name else "" for name in facts.active if name.startswith("quads")}
    return frozenset(
        move.side
        for move in facts.movements
        if move.joint == "knee"
        and move.typed
        and f"knee.{move.side}" in facts.open_chain
        and (move.end < move.start or works & {"", move.side})
    )


def _head_turns(case: ExerciseFacts) -> frozenset[str]:
    turns = any(move.joint == "neck" and move.typed and "rotation" in move.motion for move in case.facts.movements)
    return NO_SIDE if turns else frozenset()


def _lies_down(case: ExerciseFacts) -> frozenset[str]:
    return NO_SIDE if case.facts.lying_on else frozenset()


_LEGS = frozenset(LEG_SITES)
IMPLIES: Mapping[str, str] = {"whole-weight-on-leg": "weight-on-leg", "resisted-shoulder": "active-shoulder"}
"""What asks the first asks the second too."""
DERIVED: Mapping[str, Callable[[ExerciseFacts], frozenset[str]]] = {
    "active-shoulder": _active_arms,
    "resisted-shoulder": _resisted_arms,
    "load-in-hands": _load_in_hands,
    "weight-on-arms": _arms_bearing,
    "arm-across-body": _arms_across,
    "weight-on-leg": _legs_bearing,
    "whole-weight-on-leg": _legs_alone,
    "open-chain-knee-extension": _open_knees,
    "head-turn": _head_turns,
    "lie-to-sit": _lies_down,
}
"""Demands that a figure tells of one base, each with what finds the sides (``''`` for the whole body)."""
DERIVED_DEMANDS = frozenset(DERIVED)


def _asked(slug: str, case: ExerciseFacts) -> frozenset[str]:
    """The sides of which the figure asks something, on any of its bases."""
    return frozenset().union(*(DERIVED[slug](ExerciseFacts(case.exercise, facts)) for facts in case.facts.each_base))


def told_by_figure(facts: Facts, declared: frozenset[str] = frozenset()) -> frozenset[str]:
    """The demands that a figure tells by itself; of an exercise that ``declared`` help for the shoulder, no strength of its own."""
    case = ExerciseFacts(None, facts)
    found = {slug for slug in DERIVED if _asked(slug, case)}
    found -= {"active-shoulder"} if declared.intersection(_HELPED) else set()
    return frozenset(found | {IMPLIES[slug] for slug in found if slug in IMPLIES})


def demands_of(exercise: Exercise, facts: Facts | None) -> Mapping[str, frozenset[str]]:
    """Every demand of an exercise, declared or derived, with the sides that it asks it of."""
    found = {slug: _declared_sides(slug, exercise, facts) for slug in (ref.slug for ref in exercise.demands)}
    if facts is not None:
        case = ExerciseFacts(exercise, facts)
        for slug in DERIVED:
            found[slug] = found.get(slug, frozenset()) | _asked(slug, case)
    for slug, implied in IMPLIES.items():
        found[implied] = found.get(implied, frozenset()) | found.get(slug, frozenset())
    return {slug: sides for slug, sides in found.items() if sides}


def needless_demands(exercise: Exercise, facts: Facts) -> tuple[Ref, ...]:
    """Declared demands that the figure tells by itself."""
    case = ExerciseFacts(exercise, facts)
    return tuple(
        ref
        for ref in exercise.demands
        if ref.slug in DERIVED and _declared_sides(ref.slug, exercise, facts) <= _asked(ref.slug, case)
    )


def _declared_sides(slug: str, exercise: Exercise, facts: Facts | None) -> frozenset[str]:
    if slug not in SIDED_DEMANDS:
        return NO_SIDE
    if exercise.dose.side is Side.ONE:
        return frozenset({worked_side(facts) if facts is not None else SIDES[0]})
    return frozenset(SIDES)

"""What touches, what is held and what stays: an author's contacts as conditions for the solver.

A contact here is (site, side, target); the side is '' for sites of the trunk.  Never solves.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from handouts.figure.body.body import Body
from handouts.figure.body.joints import SIDES
from handouts.figure.body.people import without_sites
from handouts.figure.body.sites import (
    ARM_POINTS,
    ARM_SITES,
    BODY_PIN,
    BODY_SITES,
    BODY_TARGETS,
    GRIP,
    LIMB_PINS,
    LIMB_SITES,
    Plane,
    Surface,
)
from handouts.figure.pose.bases import BASES, Base
from handouts.figure.pose.residuals import Grip, Pin, PointDistance, Touch
from handouts.figure.pose.solver import Solved
from handouts.figure.pose.spec import Contact, FigureSpec, Named
from handouts.figure.pose.surroundings import WEIGHTED_BALL, World
from handouts.figure.pose.things import THINGS

Touching = tuple[str, str, str]
"""Site, side, target."""
STEP_LIFT = 0.06
"""How high a stepping foot is lifted, metres."""
_GRIP_OFFSET = (0.0, -0.058, -0.018)
"""The middle of a closed hand, fractions of stature; z toward the palm side."""


def sides_of(site: Named) -> tuple[str, ...]:
    if site.name in BODY_SITES:
        return ("",)
    return (site.side,) if site.side else SIDES


def expand(contacts: tuple[Contact, ...]) -> list[Touching]:
    """Site, side, target, once for each side."""
    return [(c.site.name, side, c.target) for c in contacts for side in sides_of(c.site)]


def _groups(body: Body, site: str, side: str) -> list[tuple[int, ...]]:
    if site in BODY_SITES:
        return [tuple(body.lumps[name] for name in group) for group in BODY_SITES[site]]
    return [tuple(body.lumps[f"{name}.{side}"] for name in group) for group in LIMB_SITES[site]]


_FROM_EDGE = 0.06
"""Metres from the edge of a top to the middle of the palm and of the fingers that rest on it."""


def _touch(body: Body, world: World, contact: Touching, group: tuple[int, ...]) -> Touch:
    """A contact of one group of ellipsoids; palm and fingers of a hand on a top stay within its edges."""
    site, side, target = contact
    touch = Touch(" ".join((f"{site}.{side}" if side else site, target)), group, world.surfaces[target])
    if site not in ("palm", "hand") or target not in world.edges:
        return touch
    x0, x1, z0, z1 = world.edges[target]
    x, z = min(_FROM_EDGE, (x1 - x0) / 4), min(_FROM_EDGE, (z1 - z0) / 4)
    within = tuple(lump for lump in (body.lumps[f"palm.{side}"], body.lumps[f"fi1.{side}"]) if lump in group)
    return replace(touch, within=within, edges=(x0 + x, x1 - x, z0 + z, z1 - z), beside=z0 * z1 > 0)


def touches_of(body: Body, world: World, contacts: list[Touching]) -> tuple[Touch, ...]:
    return tuple(
        _touch(body, world, contact, group)
        for contact in contacts
        if contact[0] != GRIP and contact[2] in world.surfaces
        for group in _groups(body, *contact[:2])
    )


def body_target(body: Body, target: str, side: str) -> tuple[int, tuple[float, float, float]]:
    """The segment and the offset (fractions of stature) of a place on the body that a hand of a side may hold."""
    segment, offset = BODY_TARGETS[target]
    z = 1 if side == "r" else -1
    if segment.endswith("."):
        segment += side
    elif segment.endswith("!"):
        side = "l" if side == "r" else "r"
        segment, z = f"{segment[:-1]}.{side}", -z
    return body.numbers[segment], (offset[0], offset[1], offset[2] * z)


def grips_of(body: Body, world: World, contacts: list[Touching]) -> tuple[Grip, ...]:
    found = []
    for site, side, target in contacts:
        z = 1 if side == "r" else -1
        offset = (_GRIP_OFFSET[0], _GRIP_OFFSET[1], _GRIP_OFFSET[2] * z)
        label = f"{site}.{side} {target}" if side else f"{site} {target}"
        if target in BODY_TARGETS:
            segment, place = body_target(body, target, side)
            found.append(Grip(label, body.numbers[f"hand.{side}"], offset, place, segment))
        elif site == GRIP:
            holds = world.handholds.get(target)
            if holds:
                found.append(Grip(label, body.numbers[f"hand.{side}"], offset, holds[side]))
    return tuple(found)


_ON_PEDAL = frozenset({"foot", "toes", "ball"})


def footholds_of(body: Body, world: World, contacts: list[Touching]) -> tuple[Pin, ...]:
    """The ball of a foot stands at its place."""
    return tuple(
        Pin(body.lumps[f"soleb.{side}"], world.footholds[target][side], ((1.0, 0.0, 0.0), (0.0, 0.0, 1.0)))
        for site, side, target in contacts
        if site in _ON_PEDAL and target in world.footholds
    )


def _tangents(surface: Surface) -> tuple[tuple[float, float, float], ...]:
    if isinstance(surface, Plane):
        return tuple(
            way
            for way, part in zip(((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0)), surface.normal, strict=True)
            if abs(part) < 0.5
        )
    return ((1.0, 0.0, 0.0), (0.0, 0.0, 1.0))


_STAYS = frozenset(
    frozenset(pair)
    for pair in (
        ("foot", "toes"),
        ("foot", "heel"),
        ("foot", "ball"),
        ("palm", "hand"),
        ("shin", "knee"),
        ("back", "upper-back"),
        ("back", "trunk-back"),
        ("back", "head"),
    )
)
"""Pairs of sites of which one becomes the other while the contact lasts."""


def kept_contacts(before: list[Touching], after: list[Touching]) -> list[Touching]:
    """The contacts of the end that last all the way from the start."""
    return [
        (site, side, target)
        for site, side, target in after
        if any(
            (side, target) == (old_side, old_target) and (site == old or frozenset((site, old)) in _STAYS)
            for old, old_side, old_target in before
        )
    ]


def stepping(spec: FigureSpec, base: Base, touches: tuple[Touch, ...], share: float) -> tuple[Touch, ...]:
    """A foot that slides while standing is lifted over the ground on its way."""
    steps = {
        f"{one.name}.{side}" for one in spec.slide for side in sides_of(one) if one.name in ("foot", "toes", "heel")
    }
    if base.name != "standing" or not steps:
        return touches
    lift = STEP_LIFT * float(np.sin(np.pi * share))
    return tuple(
        replace(touch, surface=replace(touch.surface, offset=touch.surface.offset + lift))
        if touch.label.split()[0] in steps and isinstance(touch.surface, Plane)
        else touch
        for touch in touches
    )


def pins_of(
    spec: FigureSpec, body: Body, world: World, first: Solved, *, before: list[Touching], after: list[Touching]
) -> tuple[Pin, ...]:
    """What touches at start and end alike stays where it is, unless it may slide."""
    slide = {(one.name, side) for one in spec.slide for side in sides_of(one)}
    found: dict[int, Pin] = {}
    for site, side, target in before:
        for other, other_side, other_target in after:
            same = site == other or frozenset((site, other)) in _STAYS
            if not same or (side, target) != (other_side, other_target) or (site, side) in slide or site == GRIP:
                continue
            if target not in world.surfaces or target == "ball" or target in world.footholds:
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


def reaching_arms(spec: FigureSpec) -> frozenset[str]:
    """Sides of the arms that serve a goal, and so rest on nothing."""
    ends = [end for one in spec.reach for end in (one.point, one.target)]
    both = frozenset(SIDES) if "hands" in spec.together else frozenset[str]()
    return both | {end.side for end in ends if end.name in ARM_POINTS and end.side}


def rests_of(spec: FigureSpec, base: Base, contacts: list[Touching]) -> list[Touching]:
    """Where arms and head rest in a base position, unless the author uses them otherwise: a head does not rest where the trunk is bent."""
    taken = {side for site, side, _ in contacts if site in ARM_SITES}
    given = {site for site, _, _ in contacts}
    typed = {
        angle.variable.split(".")[1]
        for angle in (*spec.start, *spec.end)
        if angle.variable.startswith(("shoulder", "elbow"))
    }
    typed |= reaching_arms(spec)
    gone = without_sites(spec.without)
    bent = any(angle.variable.startswith("trunk.") for angle in (*spec.start, *spec.end))
    found = []
    for text in base.rests:
        site, target = text.split()
        if site == "head" and bent:
            continue
        name, _, side = site.partition(".")
        for one in ("",) if name in BODY_SITES else (side,) if side else SIDES:
            if one not in taken | typed and name not in given and (name, one) not in gone:
                found.append((name, one, target))
    return found


def spans_of(spec: FigureSpec, body: Body, solved: Solved | None) -> tuple[PointDistance, ...]:
    """Things held in both hands keep the hands apart."""
    right, left = body.numbers["hand.r"], body.numbers["hand.l"]
    inner = (0.0, -0.050, 0.014)
    ball = spec.prop("weighted-ball")
    if ball and "hands" in ball.words:
        return (PointDistance(right, (0.0, -0.050, -0.012), left, (0.0, -0.050, 0.012), 2 * WEIGHTED_BALL),)
    for use in spec.props:
        thing = THINGS.get(use.name)
        if thing is not None and thing.apart and "hands" in use.words:
            return (PointDistance(right, _GRIP_OFFSET, left, (*_GRIP_OFFSET[:2], -_GRIP_OFFSET[2]), thing.apart),)
    if solved is not None and any(use.name in ("stick", "towel") and "hands" in use.words for use in spec.props):
        apart = float(np.linalg.norm(solved.placed.origins[right] - solved.placed.origins[left]))
        return (PointDistance(right, (0.0, 0.0, 0.0), left, (0.0, 0.0, 0.0), apart),) if inner else ()
    return ()

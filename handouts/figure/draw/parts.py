"""Parts of the drawn body: which ellipsoids make each, its tone, what it joins and what must lie over it.

A part is the hull of neighbouring ellipsoids along chains.  Never computes an outline
(``handouts.figure.draw.silhouette`` does).
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from handouts.figure.body.joints import SIDES

Chain = tuple[str, ...]


@dataclass(frozen=True, slots=True)
class PartPlan:
    """How a part is made: hulls of ellipsoids, tone, side, and the closing and opening radii in cm."""

    name: str
    hulls: tuple[Chain, ...]
    tone: str
    side: str = ""
    closing: float = 1.2
    opening: float = 0.35


@dataclass(frozen=True, slots=True)
class Join:
    """Two parts that are one piece: the segment whose origin is the joint, and the joint's radius (of stature)."""

    first: str
    second: str
    segment: str
    radius: float


def _pairs(names: list[str]) -> tuple[Chain, ...]:
    return tuple(zip(names, names[1:], strict=False))


def _trunk() -> list[PartPlan]:
    sections = [f"sec{number}" for number in range(10)]
    shirt = list(_pairs(sections[2:]))
    pelvis: list[Chain] = [*_pairs(sections[:3])]
    for side in SIDES:
        shirt += [("sec7", f"trap.{side}"), ("sec8", f"trap.{side}"), ("sec6", f"pec.{side}"), ("sec7", f"pec.{side}")]
        pelvis += [(section, f"glute.{side}") for section in sections[:3]]
    return [PartPlan("shirt", tuple(shirt), "shirt", closing=3.0),
            PartPlan("pelvis", tuple(pelvis), "trousers", closing=2.0)]  # fmt: skip


def _leg(side: str) -> list[PartPlan]:
    def of(*names: str) -> Chain:
        return tuple(f"{name}.{side}" for name in names)

    thigh = [f"th{number}.{side}" for number in range(5)]
    shank = [f"sh{number}.{side}" for number in range(5)]
    shoe = (of("collar", "heel"), of("collar", "mid"), of("heel", "mid"), of("mid", "ball"), of("heel", "mid", "ball"),
            of("ball", "toe"))  # fmt: skip
    return [
        PartPlan(f"thigh.{side}", (*_pairs(thigh), of("th3", "patella"), of("th4", "patella")), "trousers", side),
        PartPlan(f"shank.{side}", (*_pairs(shank), of("sh0", "patella"), of("sh1", "patella")), "trousers", side),
        PartPlan(f"shoe.{side}", shoe, "shoe", side, closing=1.5, opening=0.2),
        PartPlan(f"sole.{side}", (of("soleh", "soleb"), of("soleb", "solet")), "sole", side, closing=0, opening=0),
    ]


def _arm(side: str) -> list[PartPlan]:
    def of(*names: str) -> Chain:
        return tuple(f"{name}.{side}" for name in names)

    upper = [f"ua{number}.{side}" for number in range(5)]
    fore = [f"fa{number}.{side}" for number in range(4)]
    hand = (of("wr", "palm"), of("palm", "kn"), of("kn", "fi1"), of("fi1", "fi2"), of("wr", "tb0"), of("tb0", "palm"),
            of("tb0", "tb1"), of("tb1", "tb2"))  # fmt: skip
    return [
        PartPlan(f"sleeve.{side}", (of("cuff0", "cuff1"), of("cuff1", "cuff2"), of("trap", "cuff0")), "shirt", side,
                 opening=0),
        PartPlan(f"uarm.{side}", _pairs(upper[1:]), "skin", side),
        PartPlan(f"farm.{side}", (*_pairs(fore), of("fa3", "wr")), "skin", side),
        PartPlan(f"hand.{side}", hand, "skin", side, closing=0.5, opening=0),
    ]  # fmt: skip


@cache
def part_plans() -> tuple[PartPlan, ...]:
    """All parts of the body but the hair."""
    plans = _trunk()
    for side in SIDES:
        plans += _leg(side) + _arm(side)
    plans.append(PartPlan("neck", (("neck0", "neck1"), ("neck1", "neck2")), "skin"))
    plans.append(PartPlan("head", (("skull", "brow"), ("brow", "jaw"), ("jaw", "chin"), ("nose0", "nose")), "skin",
                          closing=1.0, opening=0.2))  # fmt: skip
    return tuple(plans)


@cache
def joins() -> tuple[Join, ...]:
    """Which parts are one piece."""
    found = [Join("neck", "head", "head", 0.05)]
    for side in SIDES:
        found += [
            Join("pelvis", f"thigh.{side}", f"thigh.{side}", 0.072),
            Join(f"thigh.{side}", f"shank.{side}", f"shank.{side}", 0.058),
            Join("shirt", f"sleeve.{side}", f"uarm.{side}", 0.050),
            Join(f"uarm.{side}", f"farm.{side}", f"farm.{side}", 0.032),
            Join(f"farm.{side}", f"hand.{side}", f"hand.{side}", 0.026),
        ]
    return tuple(found)


@cache
def layers() -> tuple[tuple[str, str], ...]:
    """Pairs of parts of which the second always lies over the first: clothes over skin, shirt over trousers."""
    found = [("pelvis", "shirt"), ("head", "hair")]
    for side in SIDES:
        found += [(f"uarm.{side}", f"sleeve.{side}"), (f"shoe.{side}", f"shank.{side}"),
                  (f"shank.{side}", f"prop cuff sh4{side}"), (f"thigh.{side}", f"prop cuff th3{side}"),
                  (f"farm.{side}", f"prop cuff fa3{side}"), (f"hand.{side}", f"prop cuff fa3{side}")]  # fmt: skip
    return tuple(found)


CUFFS = (("ua0", 0.0, "ua0", 1.04), ("ua1", 0.0, "ua1", 1.05), ("ua2", 0.0, "ua2", 1.12))
"""The sleeve follows the upper arm's ellipsoids, a little wider."""
EXCUSED = frozenset({"shirt", "pelvis", "neck", "head", "hair"})
"""Parts of the trunk, which never count as limbs."""

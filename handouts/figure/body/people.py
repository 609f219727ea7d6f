"""Who is drawn: widths and girths as factors of the usual body, hair, and limbs that end early.

Joints stand where they do in every body, so that contacts and angles are the same; a child is drawn with a larger head and slighter
shoulders, and things beside it are as small as it is.  The factors were set by eye.  Never poses or draws.
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Person:
    """Factors of the usual body: girth of all, widths of shoulders, waist and hips, depth of the chest, girth of limbs, the head."""

    girth: float = 1.0
    shoulders: float = 1.0
    waist: float = 1.0
    hips: float = 1.0
    chest: float = 1.0
    limbs: float = 1.0
    head: float = 1.0
    hair: str = "short"
    grey: bool = False


USUAL = Person()
PEOPLE: dict[str, Person] = {
    "woman": Person(girth=0.97, shoulders=0.92, waist=0.93, hips=1.07, chest=1.12, limbs=0.95, hair="bob"),
    "man": Person(girth=1.03, shoulders=1.07, waist=1.06, hips=0.97, limbs=1.05),
    "older": Person(girth=0.98, shoulders=0.95, waist=1.08, chest=0.96, limbs=0.93, hair="bun", grey=True),
    "large": Person(girth=1.18, shoulders=0.98, waist=1.15, hips=0.97, limbs=0.93),
    "child": Person(girth=0.96, shoulders=0.88, waist=1.04, hips=0.92, chest=0.94, limbs=0.94, head=1.14),
}
"""People that a clinic or an exercise may choose, by the word that is typed."""

ENDS = {
    "shank": (("foot", "heel", "toes", "ball", "foot-top", "ankle", "shin"), ("shoe", "sole"), ("ankle", "heel", "toes", "foot"), ("foot",)),
    "thigh": (("foot", "heel", "toes", "ball", "foot-top", "ankle", "shin", "knee", "calf", "back-of-knee"), ("shoe", "sole", "shank"),
              ("ankle", "heel", "toes", "foot", "knee"), ("foot", "shank")),
    "forearm": (("palm", "hand", "grip"), ("hand",), ("hand", "wrist"), ("hand",)),
    "upper-arm": (("palm", "hand", "grip", "forearm", "elbow"), ("hand", "farm"), ("hand", "wrist", "elbow"), ("hand", "farm")),
}  # fmt: skip
"""Where a limb may end early: in this segment.  Sites that then touch nothing, parts not drawn, points and segments that are not there."""


def without_sites(without: tuple[str, ...]) -> frozenset[tuple[str, str]]:
    """Sites (name, side) that are not there; ``without`` as typed, for example 'shank.r'."""
    return frozenset((site, end[-1]) for end in without for site in ENDS[end[:-2]][0])


def without_parts(without: tuple[str, ...]) -> frozenset[str]:
    """Drawn parts that are not there, with their side."""
    return frozenset(f"{part}.{end[-1]}" for end in without for part in ENDS[end[:-2]][1])


def without_points(without: tuple[str, ...]) -> frozenset[tuple[str, str]]:
    """Points (name, side) that are not there."""
    return frozenset((point, end[-1]) for end in without for point in ENDS[end[:-2]][2])


def without_segments(without: tuple[str, ...]) -> frozenset[str]:
    """Segments of which no mass is there."""
    return frozenset(f"{segment}.{end[-1]}" for end in without for segment in ENDS[end[:-2]][3])

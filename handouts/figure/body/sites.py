"""Sites of the body that can touch something, points that can be marked, and the surfaces they touch.

Names here are the words that authors type.  Lengths in metres unless said; offsets on the body are
fractions of stature.
"""

from __future__ import annotations

from dataclasses import dataclass

LIMB_SITES: dict[str, tuple[tuple[str, ...], ...]] = {
    "foot": (("soleh",), ("soleb",), ("solet",)),
    "heel": (("soleh", "heel"),),
    "toes": (("soleb",), ("solet",)),
    "ball": (("soleb",),),
    "knee": (("patella", "th4", "sh0"),),
    "foot-top": (("toe", "ball", "mid"),),
    "shin": (("patella", "sh0", "th4"), ("toe", "ball")),
    "calf": (("sh1", "sh2"),),
    "ankle": (("sh4", "sh3"),),
    "thigh": (("th1", "th2", "th3"),),
    "back-of-knee": (("th4", "sh0"),),
    "palm": (("palm",), ("kn",), ("fi1",), ("fi2",)),
    "hand": (("palm", "kn", "fi1", "fi2", "tb2"),),
    "forearm": (("fa1",), ("fa3",)),
    "elbow": (("ua4", "fa0"),),
    "upper-arm": (("ua1", "ua2", "ua3"),),
    "seat": (("glute",),),
}
"""For each site, groups of ellipsoids (without the side); the lowest of each group touches."""

BODY_SITES: dict[str, tuple[tuple[str, ...], ...]] = {
    "back": (("glute.r", "glute.l"), ("sec7", "sec6", "trap.r", "trap.l"), ("skull",)),
    "pelvis": (("glute.r", "glute.l", "sec1"),),
    "upper-back": (("sec7", "sec6", "trap.r", "trap.l"),),
    "trunk-back": (("glute.r", "glute.l"), ("sec7", "sec6", "trap.r", "trap.l")),
    "head": (("skull", "brow", "jaw", "nose"),),
    "front": (("sec1", "sec2", "th1.r", "th1.l"), ("sec6", "sec7", "pec.r", "pec.l")),
    "belly": (("sec2", "sec1", "th0.r", "th0.l"),),
    "side.l": (("th0.l", "th1.l", "sec1", "sec2"), ("sec6", "pec.l", "trap.l", "ua0.l", "ua1.l")),
    "side.r": (("th0.r", "th1.r", "sec1", "sec2"), ("sec6", "pec.r", "trap.r", "ua0.r", "ua1.r")),
}
BODY_PIN = {"back": "sec6", "trunk-back": "sec6", "upper-back": "sec6", "front": "sec6", "side.l": "sec6",
            "side.r": "sec6", "pelvis": "sec1", "head": "skull", "belly": "sec1"}  # fmt: skip
"""The ellipsoid that keeps its place while a site of the trunk stays in contact."""
LIMB_PINS: dict[str, tuple[str, ...]] = {
    "foot": ("soleb", "soleh"), "toes": ("soleb",), "ball": ("soleb",), "heel": ("soleh",), "palm": ("palm",),
    "hand": ("palm",), "knee": ("patella",), "shin": ("patella",), "elbow": ("ua4",), "forearm": ("fa0",),
    "seat": ("glute",), "foot-top": ("ball",), "back-of-knee": (), "calf": (), "thigh": (), "ankle": (),
    "upper-arm": (),
}  # fmt: skip
ALIASES = {"feet": "foot", "heels": "heel", "hands": "hand", "palms": "palm", "knees": "knee", "shins": "shin",
           "forearms": "forearm", "elbows": "elbow", "side-l": "side.l", "side-r": "side.r", "bottom": "seat",
           "hips": "seat"}  # fmt: skip
GRIP = "grip"
"""The site that takes hold of something with the hand."""

ARM_SITES = frozenset(("palm", "hand", "forearm", "elbow", "upper-arm", GRIP))
ARM_POINTS = ("hand", "wrist", "elbow", "shoulder")
LEG_SITES = frozenset(("foot", "heel", "toes", "ball", "knee", "foot-top", "shin", "calf", "ankle", "back-of-knee",
                       "thigh"))  # fmt: skip

BODY_TARGETS: dict[str, tuple[str, tuple[float, float, float]]] = {
    "front-thigh": ("thigh.l", (0.050, -0.20, 0.012)),
    "own-thigh": ("thigh.", (0.058, -0.17, 0.0)),
    "other-thigh": ("thigh!", (0.058, -0.17, 0.0)),
    "hips": ("sp2", (0.012, 0.006, 0.106)),
    "own-knee": ("thigh.", (0.046, -0.235, 0.0)),
    "own-shin": ("shank.", (0.044, -0.080, 0.012)),
    "own-ankle": ("shank.", (-0.030, -0.235, 0.0)),
    "back-of-thigh": ("thigh.", (-0.058, -0.17, 0.0)),
    "other-hand": ("hand!", (0.0, -0.045, 0.0)),
    "other-elbow": ("uarm!", (-0.014, -0.180, 0.0)),
    "other-wrist": ("farm!", (0.0, -0.135, 0.0)),
    "own-shoulder": ("clav.", (0.035, 0.010, 0.0)),
    "other-shoulder": ("clav!", (0.040, 0.010, 0.0)),
    "chest": ("sp6", (0.070, 0.0, 0.030)),
    "head": ("head", (-0.040, 0.060, 0.050)),
    "chin": ("head", (0.058, -0.012, 0.004)),
    "belly": ("sp3", (0.072, 0.0, 0.022)),
    "low-back": ("sp3", (-0.068, 0.0, 0.022)),
    "other-knee": ("thigh!", (0.046, -0.235, 0.0)),
    "other-shin": ("shank!", (0.044, -0.080, 0.012)),
    "other-ankle": ("shank!", (-0.030, -0.235, 0.0)),
    "own-foot": ("foot.", (0.060, 0.014, 0.0)),
    "other-foot": ("foot!", (0.060, 0.014, 0.0)),
    "own-toes": ("toes.", (0.036, 0.006, 0.0)),
    "other-toes": ("toes!", (0.036, 0.006, 0.0)),
}
"""Places on the body that a hand can hold: segment ('.' own side, '!' other side) and offset."""

POINTS: dict[str, tuple[str, tuple[float, float, float]]] = {
    "hip": ("sp1", (0, 0, 0)),
    "pelvis": ("sp1", (0, 0, 0)),
    "hip-joint": ("thigh.", (0, 0, 0.02)),
    "waist": ("sp3", (0, 0, 0)),
    "chest": ("sp6", (0.03, 0, 0)),
    "shoulder": ("uarm.", (0, 0, 0)),
    "head": ("head", (0.0, 0.045, 0)),
    "nose": ("head", (0.065, 0.025, 0)),
    "chin": ("head", (0.045, -0.018, 0)),
    "knee": ("shank.", (0, 0, 0)),
    "ankle": ("foot.", (0, 0, 0)),
    "heel": ("foot.", (-0.030, -0.024, 0)),
    "toes": ("toes.", (0.035, 0.0, 0)),
    "foot": ("foot.", (0.060, -0.015, 0)),
    "elbow": ("farm.", (0, 0, 0)),
    "hand": ("hand.", (0, -0.050, 0)),
    "wrist": ("hand.", (0, 0, 0)),
    "thigh": ("thigh.", (0.0, -0.12, 0)),
}
"""Points that an arrow can follow or a band can end at."""


@dataclass(frozen=True, slots=True)
class Plane:
    """A flat surface: unit ``normal`` out of the solid, ``offset`` along it, metres."""

    normal: tuple[float, float, float]
    offset: float
    rim: tuple[float, float, float, float] | None = None
    """Least and largest x, least and largest z of a level surface that ends; None where it does not."""


@dataclass(frozen=True, slots=True)
class Sphere:
    """A ball: centre and radius, metres."""

    centre: tuple[float, float, float]
    radius: float


Surface = Plane | Sphere

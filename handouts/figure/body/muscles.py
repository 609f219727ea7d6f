"""Muscle regions: where each lies on the surface of the body.

A region goes from where to where along a segment, and between which angles round it.  Regions are pictures of where a muscle lies,
set by eye on drawings of surface anatomy, not anatomy in detail.  Never says what a muscle does.
"""

from __future__ import annotations

from dataclasses import dataclass

Row = tuple[float, float, float]
"""Where along the segment, and the two angles round its axis, degrees: 0 in front, 90 outside, 180 behind, -90 inside.

Along a limb: share of its length; along the trunk: height over the hips, fractions of stature; on a buttock: -1 below to 1 above;
along a foot: 0 at the heel, 1 at the ball, with 0 degrees on its top.
"""


@dataclass(frozen=True, slots=True)
class Muscle:
    """A region: on which segment, its rows, and the parts that show it."""

    segment: str
    """'thigh', 'shank', 'uarm', 'farm', 'foot', 'neck', 'trunk' or 'glute'."""
    rows: tuple[Row, ...]
    shown_on: tuple[str, ...]
    sided: bool = True
    deep: bool = False
    """Whether it is shown through the body, as a dashed outline, where it lies on the far side."""


MUSCLES: dict[str, Muscle] = {
    "calf": Muscle("shank", ((0.00, 130, 230), (0.08, 96, 264), (0.22, 78, 282), (0.38, 80, 280), (0.50, 94, 266), (0.61, 140, 220)), ("shank",)),
    "shin": Muscle("shank", ((0.06, 12, 40), (0.15, -6, 72), (0.35, -6, 78), (0.60, 0, 64), (0.80, 14, 38)), ("shank",)),
    "quads": Muscle("thigh", ((0.10, -12, 38), (0.22, -55, 78), (0.42, -72, 92), (0.66, -70, 86), (0.86, -56, 64), (0.97, -24, 24)), ("thigh",)),
    "hamstrings": Muscle("thigh", ((0.14, 140, 212), (0.26, 104, 250), (0.48, 96, 258), (0.72, 98, 256), (0.90, 112, 246), (1.0, 146, 212)),
                         ("thigh",)),
    "adductors": Muscle("thigh", ((0.02, -110, -62), (0.20, -140, -42), (0.45, -132, -52), (0.66, -112, -76)), ("thigh",)),
    "glutes": Muscle("glute", ((0.90, 140, 205), (0.60, 80, 238), (0.10, 62, 248), (-0.35, 66, 246), (-0.72, 90, 232), (-0.93, 140, 205)),
                     ("pelvis", "thigh")),
    "hip-abductors": Muscle("trunk", ((0.052, 52, 124), (0.034, 32, 134), (0.008, 44, 128), (-0.026, 60, 114), (-0.050, 78, 102)),
                            ("pelvis", "thigh")),
    "hip-rotators": Muscle("trunk", ((0.034, 130, 165), (0.012, 104, 168), (-0.012, 96, 150), (-0.030, 96, 120)), ("pelvis", "thigh")),
    "hip-flexors": Muscle("thigh", ((-0.20, 10, 40), (-0.08, -10, 62), (0.04, -20, 80), (0.14, -12, 68), (0.22, 10, 40)),
                          ("pelvis", "thigh", "shirt")),
    "abs": Muscle("trunk", ((0.190, -12, 12), (0.175, -46, 46), (0.12, -72, 72), (0.06, -70, 70), (0.02, -44, 44), (0.004, -12, 12)),
                  ("shirt", "pelvis"), sided=False),
    "waist": Muscle("trunk", ((0.172, 66, 104), (0.145, 38, 126), (0.095, 34, 128), (0.05, 52, 116)), ("shirt",)),
    "back": Muscle("trunk", ((0.215, 150, 210), (0.17, 116, 244), (0.10, 106, 254), (0.05, 112, 248), (0.03, 140, 220)),
                   ("shirt", "pelvis"), sided=False),
    "shoulder-blades": Muscle("trunk", ((0.288, 140, 166), (0.272, 122, 173), (0.245, 116, 174), (0.215, 124, 172), (0.185, 148, 168)),
                              ("shirt",), deep=True),
    "chest": Muscle("trunk", ((0.274, 36, 62), (0.256, 14, 82), (0.225, 8, 84), (0.195, 10, 64), (0.178, 22, 46)), ("shirt",)),
    "triceps": Muscle("uarm", ((0.18, 150, 206), (0.34, 108, 240), (0.56, 100, 244), (0.76, 116, 230), (0.95, 156, 200)), ("uarm", "sleeve")),
    "biceps": Muscle("uarm", ((0.28, -24, 24), (0.44, -62, 66), (0.66, -64, 68), (0.84, -48, 48), (0.97, -14, 14)), ("uarm", "sleeve")),
    "rotator-cuff": Muscle("trunk", ((0.285, 112, 150), (0.268, 104, 166), (0.245, 108, 164), (0.220, 128, 156)), ("shirt", "sleeve"), deep=True),
    "deltoid": Muscle("uarm", ((-0.14, 30, 130), (-0.04, -30, 180), (0.12, -44, 190), (0.30, -22, 168), (0.46, 34, 134), (0.58, 78, 102)),
                      ("sleeve", "uarm", "shirt")),
    "rear-deltoid": Muscle("uarm", ((-0.20, 118, 172), (-0.06, 76, 205), (0.12, 62, 212), (0.30, 62, 190), (0.46, 70, 146), (0.60, 84, 104)),
                           ("sleeve", "uarm", "shirt")),
    "forearm": Muscle("farm", ((0.02, 40, 110), (0.15, 20, 150), (0.38, 28, 140), (0.66, 62, 108)), ("farm",)),
    "neck-front": Muscle("neck", ((0.05, -40, 40), (0.35, -62, 62), (0.70, -58, 58), (0.95, -30, 30)), ("neck",), sided=False),
    "neck-back": Muscle("neck", ((0.00, 110, 250), (0.35, 118, 242), (0.70, 122, 238), (1.0, 140, 220)), ("neck",), sided=False),
    "trapezius": Muscle("trunk", ((0.306, 24, 178), (0.294, 34, 178), (0.276, 100, 178), (0.250, 150, 178)), ("shirt",)),
    "foot": Muscle("foot", ((0.10, -140, 140), (0.30, -165, 165), (0.70, -165, 165), (0.90, -140, 140)), ("shoe",)),
}  # fmt: skip

MUSCLE_ALIASES = {
    "quad": "quads", "quadriceps": "quads", "front-of-thigh": "quads", "back-of-thigh": "hamstrings",
    "hamstring": "hamstrings", "glute": "glutes", "buttock": "glutes", "buttocks": "glutes", "glute-max": "glutes",
    "glute-med": "hip-abductors", "outer-hip": "hip-abductors", "hip-abductor": "hip-abductors",
    "hip-flexor": "hip-flexors", "core": "abs", "abdominals": "abs", "belly": "abs", "obliques": "waist",
    "spine": "back", "lower-back": "back", "back-extensors": "back", "upper-back": "shoulder-blades",
    "scapula": "shoulder-blades", "rhomboids": "shoulder-blades", "pecs": "chest", "rot-cuff": "rotator-cuff",
    "cuff": "rotator-cuff", "shoulder": "deltoid", "deltoids": "deltoid",
    "posterior-deltoid": "rear-deltoid", "back-of-shoulder": "rear-deltoid", "calves": "calf", "shins": "shin",
    "tibialis": "shin", "groin": "adductors", "inner-thigh": "adductors", "hip-adductors": "adductors",
    "deep-neck-flexors": "neck-front", "neck": "neck-back", "piriformis": "hip-rotators", "lats": "waist",
    "upper-trapezius": "trapezius", "wrist-extensors": "forearm", "serratus": "chest", "arch": "foot",
    "hip-external-rotators": "hip-rotators", "foot-arch": "foot",
}  # fmt: skip
"""Other words for the same region."""

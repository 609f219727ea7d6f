"""Muscle regions: where each lies on the body and from where it can be seen.

A region is one or more ellipsoids on a segment (fractions of stature).  They are pictures of a region, not
anatomy in detail.  Never says what a muscle does.
"""

from __future__ import annotations

from dataclasses import dataclass

Lobe = tuple[float, float, float, float, float, float]
"""Centre x, y, z and half axes x, y, z; z is to the outside on a sided region."""


@dataclass(frozen=True, slots=True)
class Muscle:
    """A region: segment ('.' takes the side), lobes, the parts that show it, and the way it faces (zeros: all)."""

    segment: str
    lobes: tuple[Lobe, ...]
    shown_on: tuple[str, ...]
    faces: tuple[float, float, float]
    sided: bool = True


MUSCLES: dict[str, Muscle] = {
    "calf": Muscle("shank.", ((-0.014, -0.050, 0, 0.027, 0.046, 0.030), (-0.010, -0.095, 0, 0.022, 0.040, 0.025)),
                   ("shank",), (-1, 0, 0)),
    "shin": Muscle("shank.", ((0.014, -0.060, 0.006, 0.018, 0.050, 0.020), (0.010, -0.120, 0.004, 0.014, 0.040, 0.016)),
                   ("shank",), (1, 0, 0.3)),
    "quads": Muscle("thigh.", ((0.024, -0.080, 0, 0.028, 0.055, 0.036), (0.020, -0.165, 0, 0.024, 0.050, 0.031)),
                    ("thigh",), (1, 0, 0)),
    "hamstrings": Muscle("thigh.", ((-0.024, -0.095, 0, 0.024, 0.050, 0.034), (-0.016, -0.17, 0, 0.021, 0.050, 0.028)),
                         ("thigh",), (-1, 0, 0)),
    "adductors": Muscle("thigh.", ((0.002, -0.060, -0.028, 0.030, 0.045, 0.022),
                (0.002, -0.12, -0.024, 0.024, 0.05, 0.018)),
                        ("thigh",), (0.2, 0, -1)),
    "glutes": Muscle("sp1", ((-0.045, -0.012, 0.045, 0.036, 0.042, 0.038),), ("pelvis", "thigh"), (-1, 0, 0.4)),
    "hip-abductors": Muscle("sp1", ((-0.012, 0.026, 0.070, 0.036, 0.030, 0.036),
                (-0.008, -0.010, 0.078, 0.032, 0.030, 0.032)),
                            ("pelvis", "thigh"), (-0.3, 0, 1)),
    "hip-rotators": Muscle("sp1", ((-0.030, 0.004, 0.070, 0.030, 0.026, 0.034),), ("pelvis", "thigh"), (-0.6, 0, 1)),
    "hip-flexors": Muscle("sp1", ((0.042, 0.006, 0.050, 0.024, 0.040, 0.028),
                (0.046, -0.040, 0.052, 0.022, 0.032, 0.026)),
                          ("pelvis", "thigh"), (1, 0, 0.4)),
    "abs": Muscle("sp4", ((0.046, 0.045, 0, 0.020, 0.045, 0.046), (0.046, -0.035, 0, 0.020, 0.050, 0.046)),
                  ("shirt",), (1, 0, 0), sided=False),
    "waist": Muscle("sp4", ((0.010, 0.02, 0.064, 0.034, 0.05, 0.024), (0.010, -0.035, 0.064, 0.034, 0.04, 0.024)),
                    ("shirt",), (0.2, 0, 1)),
    "back": Muscle("sp4", ((-0.044, 0.04, 0, 0.022, 0.055, 0.042), (-0.044, -0.045, 0, 0.022, 0.050, 0.042)),
                   ("shirt",), (-1, 0, 0), sided=False),
    "shoulder-blades": Muscle("sp7", ((-0.050, -0.020, 0.040, 0.024, 0.040, 0.036),), ("shirt",), (-1, 0, 0.2)),
    "chest": Muscle("sp7", ((0.034, -0.030, 0.045, 0.028, 0.034, 0.044),), ("shirt",), (1, 0, 0.2)),
    "triceps": Muscle("uarm.", ((-0.016, -0.075, 0, 0.017, 0.036, 0.022), (-0.012, -0.125, 0, 0.014, 0.032, 0.018)),
                      ("uarm", "sleeve"), (-1, 0, 0.3)),
    "biceps": Muscle("uarm.", ((0.014, -0.085, 0, 0.016, 0.036, 0.020), (0.011, -0.13, 0, 0.013, 0.030, 0.017)),
                     ("uarm", "sleeve"), (1, 0, 0.3)),
    "rotator-cuff": Muscle("uarm.", ((-0.004, -0.008, 0.002, 0.028, 0.026, 0.030),
                (-0.002, -0.040, 0.006, 0.025, 0.022, 0.026)),
                           ("sleeve", "shirt"), (0, 0, 0)),
    "deltoid": Muscle("uarm.", ((0.0, -0.030, 0.008, 0.030, 0.044, 0.028),), ("sleeve",), (0, 0, 0)),
    "forearm": Muscle("farm.", ((-0.004, -0.040, 0.006, 0.018, 0.034, 0.018),
                (-0.002, -0.08, 0.004, 0.014, 0.03, 0.014)),
                      ("farm",), (0, 0, 1)),
    "neck-front": Muscle("neck", ((0.020, 0.020, 0, 0.014, 0.026, 0.022),), ("neck",), (1, 0, 0), sided=False),
    "neck-back": Muscle("neck", ((-0.020, 0.018, 0, 0.014, 0.026, 0.024),), ("neck",), (-1, 0, 0), sided=False),
    "trapezius": Muscle("clav.", ((-0.008, 0.010, -0.030, 0.022, 0.018, 0.030),), ("shirt",), (-0.3, 0.6, 0)),
    "foot": Muscle("foot.", ((0.030, -0.020, 0, 0.030, 0.014, 0.018),), ("shoe",), (0, 0, 1)),
}  # fmt: skip

MUSCLE_ALIASES = {
    "quad": "quads", "quadriceps": "quads", "front-of-thigh": "quads", "back-of-thigh": "hamstrings",
    "hamstring": "hamstrings", "glute": "glutes", "buttock": "glutes", "buttocks": "glutes", "glute-max": "glutes",
    "glute-med": "hip-abductors", "outer-hip": "hip-abductors", "hip-abductor": "hip-abductors",
    "hip-flexor": "hip-flexors", "core": "abs", "abdominals": "abs", "belly": "abs", "obliques": "waist",
    "spine": "back", "lower-back": "back", "back-extensors": "back", "upper-back": "shoulder-blades",
    "scapula": "shoulder-blades", "rhomboids": "shoulder-blades", "pecs": "chest", "rot-cuff": "rotator-cuff",
    "cuff": "rotator-cuff", "shoulder": "deltoid", "deltoids": "deltoid", "calves": "calf", "shins": "shin",
    "tibialis": "shin", "groin": "adductors", "inner-thigh": "adductors", "hip-adductors": "adductors",
    "deep-neck-flexors": "neck-front", "neck": "neck-back", "piriformis": "hip-rotators", "lats": "waist",
    "upper-trapezius": "trapezius", "wrist-extensors": "forearm", "serratus": "chest", "arch": "foot",
    "hip-external-rotators": "hip-rotators", "foot-arch": "foot",
}  # fmt: skip
"""Other words for the same region."""

"""Joint angles: their names, clinical signs, normal ranges and the tokens that authors type.

Angles are in degrees with clinical signs.  A variable is ``joint[.side].axis``, for example
``hip.r.flex``; positive means the first motion of the axis (flexion), negative the second (extension).
Never holds a pose.
"""

from __future__ import annotations

from dataclasses import dataclass

SIDES = ("r", "l")


@dataclass(frozen=True, slots=True)
class Axis:
    """One axis of one joint with the names of both motions and their normal range in degrees."""

    joint: str
    axis: str
    positive: str
    most_positive: float
    negative: str
    most_negative: float
    sided: bool = True


# Ranges, degrees.  Shoulder, elbow, forearm and wrist: American Academy of Orthopaedic Surgeons (AAOS) as tabulated by
# Norkin and White, Measurement of Joint Motion, appendix A.  Hip, knee, trunk and the shoulder's horizontal motions:
# the same, from memory.  Ankle: World Journal of Orthopedics 2017;8(1):21-29, table 5.  Neck: design ceilings of the
# cervical spine.  Toes, fingers and the wrist's deviations: AAOS, read at second hand.  Adduction of the shoulder and
# extension of the fingers: common practice, no source.  Shoulder blade (as the clavicle turns at the breastbone), pelvic tilt
# and glide of the head: from memory.  The row of each is in ``tests/figure/test_checks.py``.
AXES: tuple[Axis, ...] = (
    Axis("trunk", "flex", "trunk flexion", 80, "trunk extension", 25, sided=False),
    Axis("trunk", "side", "trunk side bend to the right", 35, "trunk side bend to the left", 35, sided=False),
    Axis("trunk", "turn", "trunk rotation to the right", 45, "trunk rotation to the left", 45, sided=False),
    Axis("neck", "flex", "neck flexion", 64, "neck extension", 63, sided=False),
    Axis("neck", "side", "neck side bend to the right", 49, "neck side bend to the left", 49, sided=False),
    Axis("neck", "turn", "neck rotation to the right", 80, "neck rotation to the left", 80, sided=False),
    Axis("neck", "glide", "forward glide of the head", 25, "backward glide of the head", 20, sided=False),
    Axis("pelvis", "tilt", "backward pelvic tilt", 20, "forward pelvic tilt", 20, sided=False),
    Axis("hip", "flex", "hip flexion", 120, "hip extension", 30),
    Axis("hip", "abd", "hip abduction", 45, "hip adduction", 30),
    Axis("hip", "ir", "hip internal rotation", 45, "hip external rotation", 45),
    Axis("knee", "flex", "knee flexion", 135, "knee hyperextension", 0),
    Axis("ankle", "df", "ankle dorsiflexion", 20, "ankle plantarflexion", 50),
    Axis("ankle", "inv", "ankle inversion", 35, "ankle eversion", 15),
    Axis("toes", "ext", "toe extension", 70, "toe flexion", 45),
    Axis("blade", "up", "shoulder blade elevation", 40, "shoulder blade depression", 10),
    Axis("blade", "fwd", "shoulder blade protraction", 25, "shoulder blade retraction", 25),
    Axis("shoulder", "flex", "shoulder flexion", 180, "shoulder extension", 60),
    Axis("shoulder", "abd", "shoulder abduction", 180, "shoulder adduction", 45),
    Axis("shoulder", "ir", "shoulder internal rotation", 70, "shoulder external rotation", 90),
    Axis("shoulder", "had", "shoulder horizontal adduction", 135, "shoulder horizontal abduction", 45),
    Axis("elbow", "flex", "elbow flexion", 150, "elbow hyperextension", 0),
    Axis("forearm", "pro", "forearm pronation", 80, "forearm supination", 80),
    Axis("wrist", "flex", "wrist flexion", 80, "wrist extension", 70),
    Axis("wrist", "dev", "wrist radial deviation", 20, "wrist ulnar deviation", 30),
    Axis("fingers", "curl", "finger flexion", 100, "finger extension", 10),
)

JOINTS = tuple(dict.fromkeys(axis.joint for axis in AXES))
SIDED = frozenset(axis.joint for axis in AXES if axis.sided)


def _expand() -> tuple[tuple[str, ...], tuple[Axis, ...]]:
    names, axes = [], []
    for side in ("", *SIDES):
        for axis in AXES:
            if axis.sided == bool(side):
                names.append(".".join(part for part in (axis.joint, side, axis.axis) if part))
                axes.append(axis)
    return tuple(names), tuple(axes)


VARIABLES, VARIABLE_AXES = _expand()
INDEX = {name: number for number, name in enumerate(VARIABLES)}

# Token -> (axis, sign).
TOKENS = {
    "flex": ("flex", 1.0), "ext": ("flex", -1.0), "abd": ("abd", 1.0), "add": ("abd", -1.0),
    "ir": ("ir", 1.0), "er": ("ir", -1.0), "df": ("df", 1.0), "pf": ("df", -1.0),
    "inv": ("inv", 1.0), "ev": ("inv", -1.0), "had": ("had", 1.0), "hab": ("had", -1.0),
    "pro": ("pro", 1.0), "sup": ("pro", -1.0), "curl": ("curl", 1.0), "rad": ("dev", 1.0), "uln": ("dev", -1.0),
    "fwd": ("fwd", 1.0), "back": ("fwd", -1.0), "up": ("up", 1.0), "down": ("up", -1.0),
    "glide": ("glide", 1.0), "tuck": ("glide", -1.0), "post": ("tilt", 1.0), "ant": ("tilt", -1.0),
    "side-r": ("side", 1.0), "side-l": ("side", -1.0), "turn-r": ("turn", 1.0), "turn-l": ("turn", -1.0),
}  # fmt: skip
PLAIN_AXIS = {
    "trunk": "flex", "neck": "flex", "hip": "flex", "knee": "flex", "ankle": "df", "toes": "ext",
    "pelvis": "tilt", "blade": "up", "shoulder": "flex", "elbow": "flex", "forearm": "pro", "wrist": "flex", "fingers": "curl",
}  # fmt: skip
"""The axis that a bare number means."""


def joint_tokens(joint: str) -> tuple[str, ...]:
    """The tokens that may be typed for a joint."""
    axes = {axis.axis for axis in AXES if axis.joint == joint}
    found = [token for token, (axis, _) in TOKENS.items() if axis in axes]
    if joint == "toes":
        found += ["ext", "flex"]
    return tuple(found)


def token_value(joint: str, token: str, degrees: float) -> tuple[str, float]:
    """Axis name and signed angle of a typed token.  The toes count extension as positive."""
    if joint == "toes":
        return "ext", degrees if token == "ext" else -degrees
    axis, sign = TOKENS[token]
    return axis, sign * degrees


def variable(joint: str, side: str, axis: str) -> str:
    """The name of a variable; ``side`` is '' for the trunk and the neck."""
    return f"{joint}.{side}.{axis}" if side else f"{joint}.{axis}"


def typed_angle(index: int, degrees: float) -> str:
    """A variable at a signed angle, in whole degrees, as an author writes it: ``hip.r: abd 45``."""
    axis = VARIABLE_AXES[index]
    sign = 1.0 if degrees >= 0 else -1.0
    tokens = {"ext": 1.0, "flex": -1.0} if axis.joint == "toes" else None
    token = (
        next(name for name, value in tokens.items() if value == sign)
        if tokens
        else next(name for name, (key, value) in TOKENS.items() if key == axis.axis and value == sign)
    )
    side = side_of(index)
    return f"{axis.joint}{'.' + side if side else ''}: {token} {abs(round(degrees))}"


def motion_name(index: int, degrees: float) -> str:
    """The clinical name of the motion of a variable at a signed angle."""
    axis = VARIABLE_AXES[index]
    return axis.positive if degrees >= 0 else axis.negative


def side_of(index: int) -> str:
    """'r', 'l' or '' for a variable."""
    parts = VARIABLES[index].split(".")
    return parts[1] if len(parts) == 3 else ""

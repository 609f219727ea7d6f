"""Which parts of the body must not pass through each other.

Pairs of ellipsoids of parts that are no neighbours.  Never judges a pose; ``handouts.figure.checks.pose_checks`` does.
"""

from __future__ import annotations

from functools import cache

from handouts.figure.body.body import Body
from handouts.figure.body.joints import SIDES

_TRUNK = ("sec1", "sec2", "sec3", "sec4", "sec5", "sec6")
_FACE = ("skull", "jaw")
_ARM = ("fa1", "fa2", "palm", "kn")
_THIGH = ("th1", "th2", "th3")
_SHANK = ("sh1", "sh2", "sh3")


def _names() -> tuple[tuple[str, str], ...]:
    found: list[tuple[str, str]] = []
    for side in SIDES:
        other = "l" if side == "r" else "r"
        found += [(f"{arm}.{side}", trunk) for arm in _ARM for trunk in (*_TRUNK, *_FACE)]
        found += [(f"{arm}.{side}", f"{leg}.{leg_side}") for arm in _ARM for leg in _THIGH for leg_side in SIDES]
        if side == "r":
            found += [
                (f"{one}.r", f"{two}.l")
                for one in (*_THIGH, *_SHANK, "heel", "ball")
                for two in (*_THIGH, *_SHANK, "heel", "ball")
                if (one in _THIGH[1:]) == (two in _THIGH[1:])
            ]
            found += [(f"{one}.r", f"{two}.l") for one in _ARM for two in _ARM[:2]]
        found += [(f"{thigh}.{side}", trunk) for thigh in ("th3", "patella") for trunk in ("sec4", "sec5", "sec6")]
        found += [(f"ua4.{side}", trunk) for trunk in _TRUNK[2:]]
        assert other
    return tuple(found)


@cache
def apart_names() -> tuple[tuple[str, str], ...]:
    """The pairs by name, for messages."""
    return _names()


@cache
def _pairs(names: tuple[str, ...]) -> tuple[tuple[int, int], ...]:
    numbers = {name: number for number, name in enumerate(names)}
    return tuple((numbers[first], numbers[second]) for first, second in apart_names())


def apart_pairs(body: Body) -> tuple[tuple[int, int], ...]:
    """The pairs by number."""
    return _pairs(body.names)

"""All joint angles of a pose as one array, and the ends of their normal ranges."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np
from numpy.typing import NDArray

from handouts.figure.body.joints import INDEX, VARIABLE_AXES, VARIABLES

Angles = NDArray[np.float64]
"""One value for each of ``VARIABLES``, degrees."""
LOW: Angles = np.array([-axis.most_negative for axis in VARIABLE_AXES], dtype=float)
HIGH: Angles = np.array([axis.most_positive for axis in VARIABLE_AXES], dtype=float)


def angles_of(named: Mapping[str, float]) -> Angles:
    """Angles from names with or without a side; a name without a side means both sides."""
    found = np.zeros(len(VARIABLES))
    for name, value in named.items():
        joint, _, axis = name.partition(".")
        for key in (name,) if name in INDEX else (f"{joint}.r.{axis}", f"{joint}.l.{axis}"):
            found[INDEX[key]] = value
    return found

"""All joint angles of a pose as one array, and the ends of their normal ranges."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from handouts.figure.body.joints import VARIABLE_AXES

Angles = NDArray[np.float64]
"""One value for each of ``VARIABLES``, degrees."""
LOW: Angles = np.array([-axis.most_negative for axis in VARIABLE_AXES], dtype=float)
HIGH: Angles = np.array([axis.most_positive for axis in VARIABLE_AXES], dtype=float)

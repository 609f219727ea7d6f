"""The camera: an orthographic view by yaw and elevation, from metres to drawing units.

Drawing units are 2 mm of the body; x grows to the right, y down (as in SVG), depth toward the viewer.
"""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.floating[Any]]

UNITS_PER_METRE = 500.0
"""Drawing units in a metre: whole units are then fine enough (2 mm) for every outline."""
CM = UNITS_PER_METRE / 100


def camera(view: tuple[float, float]) -> Array:
    """The matrix (3, 3) from world metres to (x right, y down, depth) in drawing units; yaw 0 sees the right side."""
    yaw, rise = np.radians(view)
    depth = np.array([np.sin(yaw) * np.cos(rise), np.sin(rise), np.cos(yaw) * np.cos(rise)])
    right = np.array([np.cos(yaw), 0.0, -np.sin(yaw)])
    up = np.cross(depth, right)
    return np.array([right, -up, depth]) * UNITS_PER_METRE


_RING = 24
_ANGLES = np.linspace(0, 2 * np.pi, _RING, endpoint=False)
_CIRCLE = np.column_stack([np.cos(_ANGLES), np.sin(_ANGLES)])


def outline_rings(centres: Array, axes: Array) -> Array:
    """Outlines (n, ring, 2) of ellipsoids given in view space: centres (n, 3), half axes as columns (n, 3, 3)."""
    spread = np.einsum("nik,njk->nij", axes[:, :2], axes[:, :2])
    across = np.einsum("rk,nki->nri", _CIRCLE, spread)
    reach = np.sqrt(np.einsum("nri,ri->nr", across, _CIRCLE))
    made: Array = centres[:, None, :2] + across / reach[:, :, None]
    return made

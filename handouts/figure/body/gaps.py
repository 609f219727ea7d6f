"""How far parts of the body are from a surface."""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.typing import NDArray

from handouts.figure.body.sites import Plane, Surface

Array = NDArray[np.floating[Any]]


_BESIDE = 1.0
"""Gap of what is beyond the rim of a surface, metres: nothing touches there."""


def gaps(surface: Surface, centres: Array, axes: Array) -> tuple[Array, Array, Array]:
    """Gap of ellipsoids (n,) to a surface in metres, nearest points (n, 3) and directions away from it (n, 3)."""
    if isinstance(surface, Plane):
        normals = np.broadcast_to(np.array(surface.normal), centres.shape)
        offsets: Array | float = surface.offset
    else:
        away = centres - np.array(surface.centre)
        normals = away / np.linalg.norm(away, axis=1)[:, None]
        offsets = normals @ np.array(surface.centre) + surface.radius
    across = np.einsum("nji,nj->ni", axes, normals)
    reach = np.linalg.norm(across, axis=1)
    nearest = centres - np.einsum("nij,nj->ni", axes, across) / reach[:, None]
    gap = np.einsum("ni,ni->n", centres, normals) - reach - offsets
    if isinstance(surface, Plane) and surface.rim is not None:
        x0, x1, z0, z1 = surface.rim
        x, z = centres[:, 0], centres[:, 2]
        gap = np.where((x > x0) & (x < x1) & (z > z0) & (z < z1), gap, np.maximum(gap, _BESIDE))
    return gap, nearest, normals

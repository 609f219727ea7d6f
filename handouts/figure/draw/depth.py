"""What lies over what: a coarse depth map of every part, and the order of painting.

Two parts are compared where they overlap, cell by cell; cycles are broken at the weakest comparison.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
import shapely
from numpy.typing import NDArray

from handouts.figure.draw.parts import layers
from handouts.figure.draw.silhouette import PartOutline

Array = NDArray[np.floating[Any]]
Hints = dict[tuple[str, str], float]
"""(lower part, higher part) -> how surely."""
_HINT = 1e-3
"""What an order from another frame counts against one seen in this frame."""
CELL = 4.0
"""Width of a cell of the depth map in drawing units (8 mm)."""
_MOST = 30.0
"""Depth differences are capped here (6 cm), so that one deep cell does not decide."""


@dataclass(frozen=True, eq=False, slots=True)
class DepthMap:
    """The depth of one part: its top left cell and an array (rows, columns), -inf where it is not."""

    row: int
    column: int
    depth: Array


def _grid(part: PartOutline) -> tuple[int, int, Array, Array]:
    x0, y0, x1, y1 = part.polygon.bounds
    column, row = int(np.floor(x0 / CELL)), int(np.floor(y0 / CELL))
    columns, rows = int(np.ceil(x1 / CELL)) - column + 1, int(np.ceil(y1 / CELL)) - row + 1
    xs = (column + np.arange(columns) + 0.5) * CELL
    ys = (row + np.arange(rows) + 0.5) * CELL
    return row, column, xs, ys


def depth_map(part: PartOutline) -> DepthMap:
    """The depth map of a part within its outline."""
    row, column, xs, ys = _grid(part)
    best = np.full((len(ys), len(xs)), -np.inf)
    if part.faces:
        for face in part.faces:
            inside = shapely.contains_xy(
                shapely.polygons(face.corners), xs[None, :].repeat(len(ys), 0), ys[:, None].repeat(len(xs), 1)
            )
            a, b, c = face.plane
            best = np.where(inside, np.maximum(best, a * xs[None, :] + b * ys[:, None] + c), best)
        return DepthMap(row, column, best)
    assert part.centres is not None and part.inverses is not None
    # |inverse (dx, dy, dz)| = 1, solved for dz, for all ellipsoids (m) and cells (rows, columns) at once.
    dx = xs[None, None, :] - part.centres[:, 0, None, None]
    dy = ys[None, :, None] - part.centres[:, 1, None, None]
    products = np.einsum("nki,nkj->nij", part.inverses, part.inverses)[:, :, :, None, None]
    a = products[:, 2, 2]
    b = dx * products[:, 0, 2] + dy * products[:, 1, 2]
    c = dx * (dx * products[:, 0, 0] + 2 * dy * products[:, 0, 1]) + dy * dy * products[:, 1, 1] - 1
    root = b * b - a * c
    with np.errstate(invalid="ignore"):
        z = (np.sqrt(root) - b) / a + part.centres[:, 2, None, None]
    return DepthMap(row, column, np.where(root >= 0, z, -np.inf).max(axis=0))


def _compare(first: DepthMap, second: DepthMap) -> tuple[float, int]:
    """Mean depth of the first over the second where both are, and the number of such cells."""
    row0, column0 = max(first.row, second.row), max(first.column, second.column)
    row1 = min(first.row + first.depth.shape[0], second.row + second.depth.shape[0])
    column1 = min(first.column + first.depth.shape[1], second.column + second.depth.shape[1])
    if row1 <= row0 or column1 <= column0:
        return 0.0, 0
    one = first.depth[row0 - first.row : row1 - first.row, column0 - first.column : column1 - first.column]
    two = second.depth[row0 - second.row : row1 - second.row, column0 - second.column : column1 - second.column]
    both = np.isfinite(one) & np.isfinite(two)
    count = int(both.sum())
    if not count:
        return 0.0, 0
    return float(np.clip(one[both] - two[both], -_MOST, _MOST).mean()), count


def _is_in_fist(thing: PartOutline, hand: PartOutline) -> bool:
    return bool(thing.held) and hand.name.startswith("hand.") and hand.side in thing.held


def _weights(parts: tuple[PartOutline, ...], maps: list[DepthMap]) -> dict[tuple[int, int], float]:
    """(i, j) -> how surely part i lies under part j."""
    forced = set(layers())
    found: dict[tuple[int, int], float] = {}
    for i, first in enumerate(parts):
        for j in range(i + 1, len(parts)):
            second = parts[j]
            if (first.name, second.name) in forced or _is_in_fist(first, second):
                found[(i, j)] = 1e6
            elif (second.name, first.name) in forced or _is_in_fist(second, first):
                found[(j, i)] = 1e6
            elif first.layer != second.layer:
                found[(i, j) if first.layer < second.layer else (j, i)] = 1e5
            else:
                over, cells = _compare(maps[i], maps[j])
                if cells:
                    found[(j, i) if over > 0 else (i, j)] = abs(over) * float(np.sqrt(cells)) + 1e-6
    return found


def painting_order(parts: tuple[PartOutline, ...], hints: Hints | None = None) -> tuple[tuple[PartOutline, ...], Hints]:
    """The parts from back to front, and what lies under what by name.

    ``hints`` from another frame of the same motion order parts that do not overlap in this one, so that one
    order serves the whole movement where it can.
    """
    maps = [depth_map(part) for part in parts]
    under: dict[int, dict[int, float]] = {number: {} for number in range(len(parts))}
    weights = _weights(parts, maps)
    numbers = {part.name: number for number, part in enumerate(parts)}
    for (low_name, high_name), weight in (hints or {}).items():
        low, high = numbers.get(low_name), numbers.get(high_name)
        if low is not None and high is not None and (low, high) not in weights and (high, low) not in weights:
            weights[(low, high)] = _HINT * weight
    for (low, high), weight in weights.items():
        under[high][low] = weight
    left, found = list(range(len(parts))), []
    while left:
        waiting = {number: sum(weight for low, weight in under[number].items() if low in left) for number in left}
        number = min(left, key=lambda one: (waiting[one], one))
        found.append(parts[number])
        left.remove(number)
    return tuple(found), {(parts[low].name, parts[high].name): weight for (low, high), weight in weights.items()}

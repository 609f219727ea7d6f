"""Small systems of equations, solved step by step here and not by LAPACK.

The LAPACK that comes with numpy is another one in each of its releases, and its last digits with it; a solver that goes on
from them draws another line. So a picture would depend on the release of numpy, and so on the Python that it is made for.
"""

from __future__ import annotations

from typing import Any

import numpy as np
import numpy.typing as npt

Array = npt.NDArray[np.floating[Any]]
TINY = 1e-12
"""Share of the largest square below which points count as lying on one line."""


def solve_positive(matrix: Array, right: Array) -> Array:
    """The solution of a positive definite system (n, n) and (n,), by elimination without exchange of rows.

    Unknowns that stand alone in their row are not eliminated, but divided: the same digits, sooner.
    Source: Golub and Van Loan, Matrix Computations, 4.1 and 4.2 (no exchange is needed for a positive definite matrix); from memory.
    """
    coupled = np.flatnonzero(np.count_nonzero(matrix, axis=0) > 1)
    if len(coupled) == len(right):
        return _eliminate(matrix, right)
    alone: Array = right / matrix.diagonal()
    alone[coupled] = _eliminate(matrix[np.ix_(coupled, coupled)], right[coupled])
    return alone


def _eliminate(matrix: Array, right: Array) -> Array:
    size = len(right)
    rows = np.empty((size, size + 1))
    rows[:, :size], rows[:, size] = matrix, right
    for at in range(size - 1):
        below = rows[at + 1 :]
        below[:, at + 1 :] -= np.multiply.outer(below[:, at] / rows[at, at], rows[at, at + 1 :])
    found = rows[:, size]
    for at in range(size - 1, -1, -1):
        found[at] /= rows[at, at]
        found[:at] -= found[at] * rows[:at, at]
    return found.copy()


def inverse(matrices: Array) -> Array:
    """The inverse of each matrix of three rows: (…, 3, 3), by cofactors."""
    one, two, three = (matrices[..., :, at] for at in range(3))
    rows = np.stack([cross(two, three), cross(three, one), cross(one, two)], axis=-2)
    volume = (one * rows[..., 0, :]).sum(axis=-1)
    return np.asarray(rows / volume[..., None, None])


def cross(one: Array, two: Array) -> Array:
    """The cross product of vectors (…, 3)."""
    (a, b, c), (d, e, f) = (tuple(each[..., at] for at in range(3)) for each in (one, two))
    return np.stack([b * f - c * e, c * d - a * f, a * e - b * d], axis=-1)


def fit_plane(points: Array, values: Array) -> Array:
    """By least squares the numbers (3, k) that give values (n, k) of points (n, 2): value = x row 0 + y row 1 + row 2.

    Of points on one line the flattest answer is taken.
    """
    middle, mean = points.mean(axis=0), values.mean(axis=0)
    (x, y), rest = (points - middle).T, values - mean
    xx, xy, yy = (x * x).sum(), (x * y).sum(), (y * y).sum()
    least = TINY * max(xx, yy, TINY)
    xx, yy = xx + least, yy + least
    across, down = (x[:, None] * rest).sum(axis=0), (y[:, None] * rest).sum(axis=0)
    area = xx * yy - xy * xy
    first, second = (yy * across - xy * down) / area, (xx * down - xy * across) / area
    return np.stack([first, second, mean - middle[0] * first - middle[1] * second])

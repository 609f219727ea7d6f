"""Small systems are solved by the program itself, as exactly as LAPACK does it, so that a picture depends on no release of numpy.

Seen: with numpy 2.4.6 (Python 3.11) and 2.5.5 (3.12) the pictures of about 38 of 44 figures differed; ``solve``, ``lstsq`` and ``svd`` of the same numbers gave
other last digits, and nothing else that the figures use did.
"""

from __future__ import annotations

import re
from pathlib import Path

import numpy as np
import pytest

from handouts.figure.body.linear import fit_plane, inverse, solve_positive

PACKAGE = Path(__file__).parents[2] / "handouts"
LAPACK = r"linalg\.(?!norm\b)\w+|from numpy\.linalg|polyfit|np\.roots"
"""Everything of ``numpy.linalg`` but the norm is LAPACK's (NumPy reference, Linear algebra)."""


def test_nothing_asks_lapack() -> None:
    """No module of the program calls a solver whose last digits are another library's."""
    found = {str(path.relative_to(PACKAGE)): re.findall(LAPACK, path.read_text(encoding="utf-8")) for path in PACKAGE.rglob("*.py")}
    assert {path: names for path, names in found.items() if names} == {}


@pytest.mark.parametrize("size", [1, 2, 3, 17, 44, 70])
@pytest.mark.parametrize("damping", [1e-3, 1e-9])
def test_positive_systems(size: int, damping: float) -> None:
    """The residual is as small as LAPACK's, within a factor; the arguments stay as they are."""
    chance = np.random.default_rng(size)
    rows = chance.normal(size=(max(2, size // 2), size)) * 10.0 ** chance.uniform(-2, 2, size)
    matrix, right = rows.T @ rows + damping * np.eye(size), chance.normal(size=size)
    before = matrix.copy(), right.copy()
    own, theirs = solve_positive(matrix, right), np.linalg.solve(matrix, right)
    scale = np.abs(matrix).max() * np.abs(theirs).max() + np.abs(right).max()
    assert np.abs(matrix @ own - right).max() / scale < 1e-13
    assert (matrix == before[0]).all() and (right == before[1]).all()


def test_inverses() -> None:
    """Of one matrix and of many, mirrored ones too."""
    many = np.random.default_rng(3).normal(size=(60, 3, 3))
    assert np.allclose(inverse(many) @ many, np.eye(3), atol=1e-10)
    assert np.array_equal(inverse(many[7]), inverse(many)[7])
    assert np.allclose(inverse(np.diag([1.0, -2.0, 4.0])), np.diag([1.0, -0.5, 0.25]))


def test_planes() -> None:
    """What least squares give, for points far from the origin and several values at once; on one line the flattest answer."""
    chance = np.random.default_rng(5)
    points, values = chance.normal(size=(48, 2)) * 80 + 400, chance.normal(size=(48, 3))
    design = np.column_stack([points, np.ones(48)])
    assert np.allclose(fit_plane(points, values), np.linalg.lstsq(design, values, rcond=None)[0], atol=1e-9)
    line = np.column_stack([np.arange(5.0), np.zeros(5)])
    assert np.allclose(fit_plane(line, 2 * line[:, :1] + 1), [[2.0], [0.0], [1.0]], atol=1e-6)

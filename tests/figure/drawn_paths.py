"""What the paths of a figure fill, read back from their text: areas in drawing units."""

from __future__ import annotations

import re

import numpy as np
from shapely.geometry import Polygon
from shapely.geometry.base import BaseGeometry
from shapely.ops import unary_union

from handouts.figure import Figure

_TOKEN = re.compile(r"[Mlhvcsz]|-?\d+")
_TAKES = {"M": 2, "l": 2, "h": 1, "v": 1, "c": 6, "s": 4}


def _curve(start: complex, one: complex, two: complex, end: complex) -> list[complex]:
    t = np.linspace(0, 1, 9)[1:]
    return list((1 - t) ** 3 * start + 3 * (1 - t) ** 2 * t * one + 3 * (1 - t) * t**2 * two + t**3 * end)


def area_of(path: str) -> BaseGeometry:
    """The area that a path text fills: M, and relative l, h, v, c and s, as ``handouts.figure.draw.curves`` writes them."""
    assert "".join(_TOKEN.findall(path)) == path.replace(" ", "")
    rings: list[list[complex]] = []
    at, handle, command, numbers = 0j, 0j, "", []
    for token in _TOKEN.findall(path):
        if token.isalpha():
            assert not numbers, path
            command = token
            continue
        numbers.append(int(token))
        if len(numbers) < _TAKES[command]:
            continue
        if command in "hv":
            numbers = [numbers[0], 0] if command == "h" else [0, numbers[0]]
        pairs = [complex(x, y) for x, y in zip(numbers[::2], numbers[1::2], strict=True)]
        if command == "M":
            at = handle = pairs[0]
            rings.append([at])
        elif command in "lhv":
            at = handle = at + pairs[0]
            rings[-1].append(at)
        else:
            first = at + pairs[0] if command == "c" else 2 * at - handle
            handle, end = at + pairs[-2], at + pairs[-1]
            rings[-1] += _curve(at, first, handle, end)
            at = end
        numbers = []
    return unary_union([Polygon([(p.real, p.imag) for p in ring]).buffer(0) for ring in rings if len(ring) > 2])


def area_drawn(figure: Figure, *roles: str) -> BaseGeometry:
    """What the last panel fills with some roles."""
    return unary_union([area_of(mark.path) for mark in figure.panels[-1].marks if mark.role in roles])

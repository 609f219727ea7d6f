"""The sign of the site as a PNG, for phones that take no SVG as an icon: painted here, deterministic to the byte.

The drawing is that of ``templates/icon.svg``: a round square in the clinic's colour, and white steps.
"""

from __future__ import annotations

import re
import struct
import zlib
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]

_POINT = re.compile(r"([MHVhv])\s*(-?[\d.]+)(?:[ ,](-?[\d.]+))?")


class IconError(ValueError):
    """The sign holds more than this module paints."""


def icon_png(svg: str, side: int) -> bytes:
    """The sign at ``side`` by ``side`` pixels, full to the edge, so that a phone may cut its own shape from it."""
    size, colour, points, width = _read(svg)
    pixel = size / side
    places: Array = (np.arange(side, dtype=np.float64) + 0.5) * pixel
    nearest = np.minimum.reduce([_near(places, one, two) for one, two in pairwise(points)])
    share = np.clip(0.5 + (width / 2 - np.sqrt(nearest)) / pixel, 0.0, 1.0)
    ground = np.array(colour, dtype=float)
    pixels = np.rint(ground + (255 - ground) * share[:, :, None]).astype(np.uint8)
    return _png(side, b"".join(b"\0" + row.tobytes() for row in pixels))


def _near(places: Array, one: tuple[float, float], two: tuple[float, float]) -> Array:
    """Squared distance of every place (y, x) from a stretch."""
    dx, dy = two[0] - one[0], two[1] - one[1]
    x, y = places[None, :] - one[0], places[:, None] - one[1]
    along = np.clip((x * dx + y * dy) / (dx * dx + dy * dy), 0.0, 1.0)
    found: Array = (x - along * dx) ** 2 + (y - along * dy) ** 2
    return found


def _read(svg: str) -> tuple[float, tuple[int, int, int], list[tuple[float, float]], float]:
    """Side of the drawing, ground colour, points of the line, its width."""
    box = re.search(r'viewBox="0 0 ([\d.]+) ', svg)
    ground = re.search(r'<rect[^>]*fill="#([0-9a-fA-F]{6})"', svg)
    line = re.search(r'<path d="([^"]+)"[^>]*stroke-width="([\d.]+)"', svg)
    if not box or not ground or not line:
        raise IconError("the sign is not a square with one line on it")
    points: list[tuple[float, float]] = []
    for letter, first, second in _POINT.findall(line[1]):
        x, y = points[-1] if points else (0.0, 0.0)
        value = float(first)
        moves = {
            "M": (value, float(second or 0)),
            "H": (value, y),
            "V": (x, value),
            "h": (x + value, y),
            "v": (x, y + value),
        }
        points.append(moves[letter])
    red, green, blue = bytes.fromhex(ground[1])
    return float(box[1]), (red, green, blue), points, float(line[2])


def _png(side: int, rows: bytes) -> bytes:
    """8-bit RGB, no interlace (ISO/IEC 15948)."""
    head = struct.pack(">IIBBBBB", side, side, 8, 2, 0, 0, 0)
    parts = ((b"IHDR", head), (b"IDAT", zlib.compress(rows, 9)), (b"IEND", b""))
    chunks = (
        struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data)) for kind, data in parts
    )
    return b"\x89PNG\r\n\x1a\n" + b"".join(chunks)

"""The data mask of a QR code (ISO/IEC 18004, 7.8): which of the eight gives the lowest penalty, in a tenth of the time.

Modules are bytes of one long integer, row by row from the top, so that a mask, a count or a comparison of neighbours is one
operation on all of them.  Penalties are those of table 11, format and version information left out as 7.8 has it.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import cache

MASKS: tuple[Callable[[int, int], bool], ...] = (
    lambda i, j: (i + j) % 2 == 0,
    lambda i, _: i % 2 == 0,
    lambda _, j: j % 3 == 0,
    lambda i, j: (i + j) % 3 == 0,
    lambda i, j: (i // 2 + j // 3) % 2 == 0,
    lambda i, j: i * j % 2 + i * j % 3 == 0,
    lambda i, j: (i * j % 2 + i * j % 3) % 2 == 0,
    lambda i, j: ((i + j) % 2 + i * j % 3) % 2 == 0,
)
"""Whether a mask turns the module in row i and column j (table 10)."""
_RUN = re.compile(rb"\x00{5,}|\x01{5,}")
_FINDER = re.compile(rb"(?<=\x00{4})\x01\x00\x01\x01\x01\x00\x01|\x01\x00\x01\x01\x01\x00\x01(?=\x00{4})")
"""The row 1 : 1 : 3 : 1 : 1 beside four light modules."""
_EDGE = b"\2"
_LIGHT = b"\0\0\0\0"
"""What is beyond the edge counts as light."""
_LEVEL_M = 0b00
"""Bits of the error level (table 12)."""


@dataclass(frozen=True, slots=True)
class _Layout:
    """What the codes of a size share."""

    turned: tuple[int, ...]
    """For each mask the modules that it turns."""
    scored: int
    """Every bit of the modules that count for the penalty."""
    pairs: int
    """The lowest bit of every module that has one to its right and one below."""


def settle_mask(rows: Sequence[Sequence[int]]) -> tuple[bytes, ...]:
    """A code of error level M that was made with mask 0, as its best mask has it; 1 is a dark module."""
    side = len(rows)
    layout = _layout(side)
    start = int.from_bytes(b"".join(map(bytes, rows)), "big")
    plain = (start ^ layout.turned[0]) & layout.scored
    penalties = [_penalty(plain ^ turned, side, layout.pairs) for turned in layout.turned]
    best = penalties.index(min(penalties))
    made = bytearray((start ^ layout.turned[0] ^ layout.turned[best]).to_bytes(side * side, "big"))
    change = _format(0) ^ _format(best)
    for bit in range(15):
        for row, column in _format_places(bit, side) if change >> bit & 1 else ():
            made[row * side + column] ^= 1
    return tuple(bytes(made[at : at + side]) for at in range(0, side * side, side))


def _penalty(code: int, side: int, pairs: int) -> int:
    data = code.to_bytes(side * side, "big")
    lines = [data[at : at + side] for at in range(0, side * side, side)] + [data[at::side] for at in range(side)]
    runs = sum(len(run) - 2 for run in _RUN.findall(_EDGE.join(lines)))
    finders = len(_FINDER.findall((_LIGHT + _EDGE + _LIGHT).join((b"", *lines, b""))))
    beside, below = code ^ code >> 8, code ^ code >> 8 * side
    blocks = pairs.bit_count() - ((beside | below | below >> 8) & pairs).bit_count()
    return runs + 3 * blocks + 40 * finders + 10 * int(abs(code.bit_count() / side**2 * 100 - 50) / 5)


@cache
def _layout(side: int) -> _Layout:
    free = [[True] * side for _ in range(side)]
    info = [[False] * side for _ in range(side)]

    def take(top: int, left: int, height: int, width: int, *, says: bool = False) -> None:
        for i in range(max(top, 0), min(top + height, side)):
            for j in range(max(left, 0), min(left + width, side)):
                free[i][j] = False
                info[i][j] = says

    for top, left in ((0, 0), (0, side - 8), (side - 8, 0)):
        take(top, left, 9, 9)  # finder patterns with what is around them
    take(6, 0, 1, side)
    take(0, 6, side, 1)
    for bit in range(15):
        for row, column in _format_places(bit, side):
            info[row][column] = True
    info[side - 8][8] = True  # the dark module, which is set with the format
    middles = _alignment(side)
    corners = {(6, 6), (6, side - 7), (side - 7, 6)}
    for row in middles:
        for column in middles:
            if (row, column) not in corners:
                take(row - 2, column - 2, 5, 5)
    if side > 41:
        take(0, side - 11, 6, 3, says=True)
        take(side - 11, 0, 3, 6, says=True)
    cells = [(i, j) for i in range(side) for j in range(side)]
    return _Layout(
        tuple(int.from_bytes(bytes(free[i][j] and mask(i, j) for i, j in cells), "big") for mask in MASKS),
        int.from_bytes(bytes(0 if info[i][j] else 1 for i, j in cells), "big"),
        # a module's right and lower neighbours are lower bytes; shifted down, they meet at the neighbour's place
        int.from_bytes(bytes(i > 0 and j > 0 for i, j in cells), "big"),
    )


def _alignment(side: int) -> list[int]:
    """Rows and columns of the middles of alignment patterns (annex E, table E.1)."""
    version = (side - 17) // 4
    if version == 1:
        return []
    count = version // 7 + 2
    step = 26 if version == 32 else (version * 4 + count * 2 + 1) // (count * 2 - 2) * 2
    return [6, *sorted(side - 7 - step * each for each in range(count - 1))]


def _format(mask: int) -> int:
    """The 15 bits that say error level and mask (7.9: BCH code, generator 10100110111, turned by 101010000010010)."""
    data = _LEVEL_M << 3 | mask
    rest = data
    for _ in range(10):
        rest = rest << 1 ^ (rest >> 9) * 0b10100110111
    return (data << 10 | rest) ^ 0b101010000010010


def _format_places(bit: int, side: int) -> tuple[tuple[int, int], tuple[int, int]]:
    """Row and column of both modules of a bit (figure 25)."""
    if bit < 8:
        return (bit if bit < 6 else bit + 1, 8), (8, side - 1 - bit)
    return (8, 7 if bit == 8 else 14 - bit), (side - 15 + bit, 8)

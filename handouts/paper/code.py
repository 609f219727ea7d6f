"""The QR code of a sheet, as inline SVG in real millimetres."""

from __future__ import annotations

from collections.abc import Sequence
from functools import cache
from typing import Any

import numpy as np
import segno
from markupsafe import Markup, escape
from numpy.lib.stride_tricks import sliding_window_view
from numpy.typing import NDArray

MODULE_MM = 0.42
"""Side of one module in millimetres; at least 0.396 (GS1 General Specifications 5.12.3.1)."""
QUIET_ZONE = 4
"""Empty modules on each side (ISO/IEC 18004)."""
ERROR_LEVEL = "m"
"""Up to 15 % of the code may be damaged (ISO/IEC 18004)."""

Modules = NDArray[np.uint8]
_FINDER = 1 << np.arange(14, -1, -1)
"""Four modules, seven of a finder (dark, light, three dark, light, dark), four modules, as bits of a number."""
_BEFORE, _MIDDLE, _AFTER, _LIKE_FINDER = 0b1111 << 11, 0b1111111 << 4, 0b1111, 0b1011101 << 4


def draw_code(parts: Sequence[str], title: str) -> Markup:
    """A QR code of a text as SVG with its quiet zone; ``parts`` are joined, each in the mode that suits it.

    ``title`` is its alternative text.
    """
    content: Any = parts[0] if len(parts) == 1 else list(parts)  # segno takes parts, its type hints do not say so
    code = segno.make(content, error=ERROR_LEVEL, micro=False, boost_error=False, mask=0)
    rows = best_masked(np.array(code.matrix, dtype=np.uint8), int(code.version)).tolist()
    side = len(rows) + 2 * QUIET_ZONE
    path = "".join(
        f"M{start + QUIET_ZONE} {y + QUIET_ZONE}h{end - start}v1h{start - end}z"
        for y, row in enumerate(rows)
        for start, end in _runs(row)
    )
    length = f"{side * MODULE_MM:.2f}mm"
    return Markup(
        f'<svg xmlns="http://www.w3.org/2000/svg" class="qr" width="{length}" height="{length}" viewBox="0 0 {side} {side}">'
        f'<title>{escape(title)}</title><path d="{path}"/></svg>'
    )


def best_masked(symbol: Modules, version: int) -> Modules:
    """A symbol with mask 0 in the mask of ISO/IEC 18004:2015 7.8.3 with the lowest penalty; 1 is dark.

    The eight masks are compared at once: segno, which compares them module by module, needs five times as long.
    """
    masked = symbol ^ _mask_changes(version)
    return np.asarray(masked[int(np.argmin(penalties(masked)))])


@cache
def _mask_changes(version: int) -> Modules:
    """What changes from mask 0 to each of the 8 masks, format information included: the same for every content."""
    made = [
        segno.make("0", version=version, error=ERROR_LEVEL, boost_error=False, mask=mask).matrix for mask in range(8)
    ]
    symbols = np.array(made, dtype=np.uint8)
    return np.asarray(symbols ^ symbols[0])


def penalties(symbols: Modules) -> NDArray[np.int64]:
    """The penalty of each symbol (symbol, row, column) by table 11 of ISO/IEC 18004:2015."""
    lines = np.concatenate((symbols, symbols.transpose(0, 2, 1)), axis=1)
    windows = sliding_window_view(lines, 5, axis=2).sum(axis=3)
    same = (windows == 0) | (windows == 5)
    # A run of 5 and more gives its length less 2: each window of 5 in it gives 1, its first window 2 more.
    first = same[:, :, 1:] & ~((windows[:, :, :-1] == windows[:, :, 1:]) & same[:, :, :-1])
    runs = same.sum(axis=(1, 2)) + 2 * (same[:, :, 0].sum(axis=1) + first.sum(axis=(1, 2)))
    blocks = symbols[:, 1:, 1:] + symbols[:, 1:, :-1] + symbols[:, :-1, 1:] + symbols[:, :-1, :-1]
    squares = ((blocks == 0) | (blocks == 4)).sum(axis=(1, 2))
    padded = np.pad(lines, ((0, 0), (0, 0), (QUIET_ZONE, QUIET_ZONE)))
    numbers = sliding_window_view(padded, _FINDER.size, axis=2) @ _FINDER
    like_finder = ((numbers & _MIDDLE == _LIKE_FINDER) & ((numbers & _BEFORE == 0) | (numbers & _AFTER == 0))).sum(axis=(1, 2))
    share = symbols.mean(axis=(1, 2)) * 100
    balance = (np.abs(share - 50) // 5).astype(np.int64)
    return np.asarray(runs + 3 * squares + 40 * like_finder + 10 * balance, dtype=np.int64)


def _runs(row: Sequence[int]) -> list[tuple[int, int]]:
    """Neighbouring dark modules of a row as start and end."""
    runs: list[tuple[int, int]] = []
    for x, dark in enumerate(row):
        if dark and runs and runs[-1][1] == x:
            runs[-1] = (runs[-1][0], x + 1)
        elif dark:
            runs.append((x, x + 1))
    return runs

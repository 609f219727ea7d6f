"""The QR code of a sheet, as inline SVG in real millimetres."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import segno
from markupsafe import Markup, escape

from handouts.paper.geometry import module_of

QUIET_ZONE = 4
"""Empty modules on each side (ISO/IEC 18004)."""
ERROR_LEVEL, LEAST_LEVEL = "m", "l"
"""How much of a code may be damaged (ISO/IEC 18004): up to 15 % of a patient's own, 7 % of an address alone, and more where it costs no module."""


def draw_code(parts: Sequence[str], title: str) -> Markup:
    """A QR code of a text as SVG with its quiet zone; ``parts`` are joined, each in the mode that suits it.

    ``title`` is its alternative text.
    """
    content: Any = parts[0] if len(parts) == 1 else list(parts)  # segno takes parts, its type hints do not say so
    alone = len(parts) == 1
    rows = segno.make(content, error=LEAST_LEVEL if alone else ERROR_LEVEL, micro=False, boost_error=alone).matrix
    side = len(rows) + 2 * QUIET_ZONE
    path = "".join(
        f"M{start + QUIET_ZONE} {y + QUIET_ZONE}h{end - start}v1h{start - end}z"
        for y, row in enumerate(rows)
        for start, end in _runs(row)
    )
    length = f"{side * module_of(len(rows)):.2f}mm"
    return Markup(
        f'<svg xmlns="http://www.w3.org/2000/svg" class="qr" width="{length}" height="{length}" viewBox="0 0 {side} {side}">'
        f'<title>{escape(title)}</title><path d="{path}"/></svg>'
    )


def _runs(row: Sequence[int]) -> list[tuple[int, int]]:
    """Neighbouring dark modules of a row as start and end."""
    runs: list[tuple[int, int]] = []
    for x, dark in enumerate(row):
        if dark and runs and runs[-1][1] == x:
            runs[-1] = (runs[-1][0], x + 1)
        elif dark:
            runs.append((x, x + 1))
    return runs

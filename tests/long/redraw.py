"""How long the posing bench takes to redraw: ``python tests/long/redraw.py [EVERY]`` over the gallery, or each so-manieth movement of it.

Milliseconds of processor time in one warm process, so that other work on the machine counts less: while the right hand is dragged (each
request another place), and when it is let go (the whole drawing and all checks).  Ends with 1 where a median is over ``MOST``.
"""

from __future__ import annotations

import sys
import time
from pathlib import Path
from statistics import median

sys.path.insert(0, str(Path(__file__).parents[2]))

from handouts.gallery.movements import read_movements
from handouts.posing.answer import answer

MOST = 150.0
"""Milliseconds: what still feels as if it moved with the hand."""
SMALL = 6.0
"""Drawing units from one request to the next."""


def measure(text: str) -> tuple[float, float]:
    """Milliseconds for a redraw while something is dragged, and for the one that follows."""
    first = answer({"text": text})
    picture = len(first["handles"])
    x, y, _ = first["handles"][-1]["hand.r"]
    asked = [{"picture": picture, "point": "hand.r", "x": x + SMALL * step, "y": y - SMALL * step} for step in range(4)]
    answer({"text": text, "drag": asked[0], "quick": picture})  # the pose from which it is dragged is solved once
    begun = time.process_time()
    for drag in asked[1:]:
        answer({"text": text, "drag": drag, "quick": picture})
    quick = (time.process_time() - begun) / len(asked[1:]) * 1000
    begun = time.process_time()
    answer({"text": text, "drag": asked[-1]})
    return quick, (time.process_time() - begun) * 1000


def main(arguments: list[str]) -> int:
    """Measure and print."""
    movements = read_movements()[:: int(arguments[0]) if arguments else 1]
    measure(movements[0].figure)
    found = [measure(movement.figure) for movement in movements]
    for name, column in zip(("while dragged", "when let go"), zip(*found, strict=True), strict=True):
        print(f"{name}: median {median(column):.0f} ms, most {max(column):.0f} ms, {len(column)} movements")
    return int(max(median(column) for column in zip(*found, strict=True)) > MOST)


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))

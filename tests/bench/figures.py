"""How long a figure takes and how many bytes it has.

``python -m tests.bench.figures [FILE...]`` prints one line a figure and the medians; milliseconds are processor
time of one process, cold (solved, drawn and checked anew), so that other work on the machine counts less.
"""

from __future__ import annotations

import gzip
import json
import sys
import time
from pathlib import Path
from statistics import median

from handouts.figure.animation import motion_data
from handouts.figure.compute import compute_figure
from handouts.figure.contact_sheet import figure_nodes
from handouts.figure.pose.read import read_figure
from handouts.figure.svg import svg_of


def measure(text: str, file: str) -> list[tuple[str, float, int, int, int]]:
    """Name, milliseconds, bytes, compressed bytes, and compressed bytes with the motion, of each figure of a file."""
    found = []
    for name, node in figure_nodes(text, file):
        spec, _ = read_figure(node)
        if spec is None:
            continue
        begun = time.process_time()
        figure = compute_figure(spec)
        drawn = svg_of(figure, name, name, name).encode()
        taken = (time.process_time() - begun) * 1000
        motion = json.dumps(motion_data(figure), separators=(",", ":")).encode()
        found.append((name, taken, len(drawn), len(gzip.compress(drawn)), len(gzip.compress(drawn + motion))))
    return found


def main(arguments: list[str]) -> int:
    """Print the table."""
    files = [Path(name) for name in arguments] or sorted(Path("content/exercises").glob("*.md"))
    rows = [row for file in files for row in measure(file.read_text("utf-8"), str(file))]
    print(f"{'figure':32}{'ms':>7}{'bytes':>8}{'gzip':>7}{'and motion':>12}")
    for name, taken, plain, packed, moving in [*rows, ("median", *(median(column) for column in list(zip(*rows))[1:]))]:
        print(f"{name:32}{taken:7.0f}{plain:8.0f}{packed:7.0f}{moving:12.0f}")
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))

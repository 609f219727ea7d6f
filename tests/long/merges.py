"""Two authors change the same library for fifty steps on branches of their own, and git merges them at random.

    python tests/long/merges.py [SEEDS] [STEPS]

Prints what was changed, how many merges stay, and how many are refused by a message that names the line; ends with 1 on a fault.
"""

from __future__ import annotations

import random
import sys
from collections import Counter
from pathlib import Path
from tempfile import TemporaryDirectory

sys.path.insert(0, str(Path(__file__).parents[2]))

from tests.git.merging import TwoAuthors
from tests.small_library import TEXTS


def main(seeds: int, steps: int) -> int:
    """Each seed is a library of its own."""
    counts, rules, faults = Counter[str](), Counter[str](), 0
    for seed in range(seeds):
        with TemporaryDirectory(prefix="merges-", ignore_cleanup_errors=True) as folder:
            work = TwoAuthors(Path(folder) / "lib", random.Random(seed))
            try:
                work.begin(dict(TEXTS))
                work.run(steps)
            except AssertionError as fault:
                faults += 1
                print(f"seed {seed}: {str(fault).splitlines()[0][:300]}")
            counts += work.counts
            rules += work.rules
            print(f"seed {seed}: {work.counts['merges that stay']} stay, {work.counts['merges refused by name']} refused", flush=True)
    for name, number in sorted(counts.items()):
        print(f"{number:5} {name}")
    print("refused by:", dict(rules))
    print(f"{faults} faults")
    return 1 if faults else 0


if __name__ == "__main__":
    sys.exit(main(*(int(word) for word in (*sys.argv[1:], *("4", "50")[len(sys.argv) - 1 :]))))

"""Many mutants of one target without a guide: ``python tests/long/mutants.py TARGET [COUNT] [SEED]``, 100,000 by default.

The cases of ``tests/fuzz/test_fuzz.py`` in any number; needs nothing but the project, and is about three times
as fast as ``fuzz.py``, which looks for new branches.  Prints each fault with its case; ends with 1 where there is one.
"""

from __future__ import annotations

import sys
import time
from pathlib import Path
from random import Random

sys.path.insert(0, str(Path(__file__).parents[2]))

from tests.fuzz.mutate import mutate, seeds
from tests.fuzz.targets import TARGETS

MOST_SECONDS = 2.0
"""Most processor time that one case may take."""


def main() -> int:
    """Runs all cases."""
    name = sys.argv[1]
    count = int(sys.argv[2]) if len(sys.argv) > 2 else 100_000
    seed = sys.argv[3] if len(sys.argv) > 3 else "1"
    random, whole, target = Random(f"{name} {seed}"), seeds(name), TARGETS[name]
    faults, slowest = 0, 0.0
    for number in range(1, count + 1):
        data = mutate(random.choice(whole), random)
        start = time.process_time()
        try:
            target(data)
        except Exception as fault:
            faults += 1
            print(f"case {number}: {type(fault).__name__}: {str(fault)[:500]}\n{data!r}")
        spent = time.process_time() - start
        slowest = max(slowest, spent)
        faults += spent > MOST_SECONDS
        if number % 10_000 == 0 or number == count:
            print(f"{name}: {number:,} cases, {faults} faults, slowest {slowest:.3f} s", flush=True)
    return 1 if faults else 0


if __name__ == "__main__":
    sys.exit(main())

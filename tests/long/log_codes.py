"""A long run of codes of logs: ``python tests/long/log_codes.py [COUNT] [SEED]``, 100,000 by default.

COUNT random logs of random plans are written by the script, read by the script and by a second reader; each is damaged once
and read again.  Prints how many were read otherwise than they were written; ends with 1 where any was.
"""

from __future__ import annotations

import sys
from pathlib import Path
from random import Random

sys.path.insert(0, str(Path(__file__).parents[2]))

from tests.bundle.test_log_code import count_wrong

BATCH = 2_000


def main() -> int:
    """Runs all batches."""
    count = int(sys.argv[1]) if len(sys.argv) > 1 else 100_000
    random = Random(int(sys.argv[2]) if len(sys.argv) > 2 else 1)
    wrong = 0
    for done in range(0, count, BATCH):
        wrong += count_wrong(min(BATCH, count - done), random)
        print(f"{min(done + BATCH, count):,} logs, {wrong} wrong", file=sys.stderr, flush=True)
    print(f"{count:,} logs written, read twice and damaged once: {wrong} wrong")
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main())

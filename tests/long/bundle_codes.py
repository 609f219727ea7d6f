"""A long run of bundle codes on both sides: ``python tests/long/bundle_codes.py [COUNT] [SEED]``, 100,000 by default.

COUNT random bundles are written and read by Python and by the script (through node), in versions 3 and 4; COUNT codes of versions
1 and 2, which are written here by the specification; COUNT sealed nonsense codes and COUNT damaged links likewise; COUNT pairs of an old and a new dose of the library are read, with and
without the old one in the ledger.  Prints what it counted; ends with 1 where the sides differ, where an accident was
accepted as another bundle, where a dose left its range, or where a code showed another dose than it was given with.
"""

from __future__ import annotations

import sys
from collections import Counter
from pathlib import Path
from random import Random
from typing import Any

sys.path.insert(0, str(Path(__file__).parents[2]))

from handouts.bundle.code import decode_bundle, encode_bundle
from handouts.bundle.values import OpenedBundle
from tests.bundle.sample import SAMPLE, answer_json, by_script, damage, random_bundle, random_former, read_pairs
from tests.bundle.test_code import assert_within, random_nonsense

BATCH = 10_000


def run_batch(count: int, random: Random, tally: Counter[str]) -> int:
    """One batch of each kind; the number of faults."""
    bundles = [random_bundle(random) for _ in range(count)]
    codes = [str(encode_bundle(bundle, SAMPLE)) for bundle in bundles]
    hurt = [damage(code, random) for code in codes]
    nonsense = [random_nonsense(random) for _ in range(count)]
    former = [random_former(random, random.choice((1, 2))) for _ in range(count)]
    texts = codes + hurt + nonsense + [code for code, _ in former]
    theirs = by_script(bundles, texts)
    answers: list[Any] = [decode_bundle(text, SAMPLE) for text in texts]
    mine = ([answer_json(encode_bundle(bundle, SAMPLE)) for bundle in bundles], [answer_json(answer) for answer in answers])
    faults = sum(one != other for side, twin in zip(theirs, mine, strict=True) for one, other in zip(side, twin, strict=True))
    faults += sum(answer != wanted for answer, (_, wanted) in zip(mine[1][3 * count :], former, strict=True))
    tally.update(f"version {'23456789'.index(code[0])}: written" for code in (*codes, *(code for code, _ in former)))
    for kind, group in (("whole", answers[:count]), ("damaged", answers[count : 2 * count]), ("nonsense", answers[2 * count : 3 * count])):
        for answer in group:
            tally["with a tempo"] += isinstance(answer, OpenedBundle) and any(pick.change and pick.change.tempo for pick in answer.bundle.picks)
            tally[f"{kind}: {'accepted' if isinstance(answer, OpenedBundle) else answer.kind.value}"] += 1
            if isinstance(answer, OpenedBundle):
                assert_within(answer)
    for whole, harmed in zip(answers[:count], answers[count : 2 * count], strict=True):
        faults += isinstance(harmed, OpenedBundle) and harmed != whole
    pairs = read_pairs(count, random)
    tally.update({f"pairs, {name}": number for name, number in pairs.items()})
    return faults + pairs["wrong"]


def main() -> int:
    """Runs all batches."""
    count = int(sys.argv[1]) if len(sys.argv) > 1 else 100_000
    random = Random(int(sys.argv[2]) if len(sys.argv) > 2 else 1)
    tally: Counter[str] = Counter()
    faults = 0
    for done in range(0, count, BATCH):
        faults += run_batch(min(BATCH, count - done), random, tally)
        print(f"{min(done + BATCH, count):,} of each kind, {faults} faults", file=sys.stderr, flush=True)
    for name, number in sorted(tally.items()):
        print(f"{number:>9,}  {name}")
    print(f"{faults:>9,}  faults (sides differ, an accident read as another bundle, or another dose than was given)")
    return 1 if faults else 0


if __name__ == "__main__":
    sys.exit(main())

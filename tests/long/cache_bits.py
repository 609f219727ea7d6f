"""Damages kept results: ``python tests/long/cache_bits.py [ENTRIES] [FLIPS] [SEED]``, 10 and 100,000 by default.

Every bit of ENTRIES objects of different sizes, and of a journal with a batch for each, is flipped, one at a time; each file is cut to
every length and moved to every other one's place; FLIPS times between one and eight random bits are flipped.  Counts what was served
all the same, and ends with 1 where that is more than nothing.
"""

from __future__ import annotations

import sys
import tempfile
from collections.abc import Iterator
from pathlib import Path
from random import Random

sys.path.insert(0, str(Path(__file__).parents[2]))

from handouts.store.journal import Batch, JournalRow, read_batches, replace_batches
from handouts.store.objects import Objects
from tests.faults.publishing import memory

SIZES = (0, 1, 7, 32, 33, 64, 200, 500, 1000, 1500)
"""Bytes of the bodies, in turn."""


def flip(data: bytes, bits: set[int]) -> bytes:
    """The data with some bits flipped."""
    damaged = bytearray(data)
    for bit in bits:
        damaged[bit // 8] ^= 1 << bit % 8
    return bytes(damaged)


def damages(whole: list[bytes], random: Random, flips: int) -> Iterator[tuple[str, int, bytes]]:
    """A kind of damage, the number of a file, and what stands in its place."""
    for number, data in enumerate(whole):
        yield from (("one bit", number, flip(data, {bit})) for bit in range(len(data) * 8))
        yield from (("cut", number, data[:length]) for length in range(len(data)))
        yield from (("moved", number, other) for other in whole if other != data)
    sizes = [len(data) for data in whole]
    for number in random.choices(range(len(whole)), sizes, k=flips):
        yield "random bits", number, flip(whole[number], set(random.sample(range(sizes[number] * 8), min(sizes[number] * 8, random.randint(1, 8)))))


class Kept:
    """Objects, and a journal with a batch for each."""

    def __init__(self, folder: Path, entries: int, random: Random) -> None:
        self.objects, self.journal = Objects(folder), folder / "journal"
        self.bodies = [random.randbytes(SIZES[number % len(SIZES)]) for number in range(entries)]
        self.names = [self.objects.put(body) for body in self.bodies]
        self.batches = [Batch(f"task {name}", b"code", 0, {name.encode(): JournalRow(body[:40])}) for name, body in zip(self.names, self.bodies, strict=True)]
        replace_batches(self.journal, self.batches)
        self.paths = [*dict.fromkeys(map(self.objects.path, self.names)), self.journal]

    def serves_wrong(self, number: int) -> bool:
        """Whether a damaged file is served: an object at all, of a journal a batch that is not among those that were kept."""
        if self.paths[number] == self.journal:
            return any(batch not in self.batches for batch in read_batches(self.journal))
        return self.objects.get(self.paths[number].parent.name + self.paths[number].name) is not None


def count_served(entries: int, flips: int, seed: int) -> dict[str, tuple[int, int]]:
    """For each kind of damage how many were tried, and how many served."""
    random, tally = Random(seed), dict[str, tuple[int, int]]()
    with tempfile.TemporaryDirectory(dir=memory()) as folder:
        kept = Kept(Path(folder), entries, random)
        whole = [path.read_bytes() for path in kept.paths]
        for kind, number, data in damages(whole, random, flips):
            kept.paths[number].write_bytes(data)
            tried, served = tally.get(kind, (0, 0))
            tally[kind] = tried + 1, served + kept.serves_wrong(number)
            kept.paths[number].write_bytes(whole[number])
        if any(kept.objects.get(name) != body for name, body in zip(kept.names, kept.bodies, strict=True)) or list(read_batches(kept.journal)) != kept.batches:
            raise RuntimeError("a whole entry was not served")
    return tally


def main() -> int:
    """Counts and prints."""
    entries, flips, seed = (int(word) for word in (*sys.argv[1:], *("10", "100000", "1")[len(sys.argv) - 1 :]))
    tally = count_served(entries, flips, seed)
    for kind, (tried, served) in tally.items():
        print(f"{tried:>9,} {kind}: {served} served")
    return 1 if any(served for _, served in tally.values()) else 0


if __name__ == "__main__":
    sys.exit(main())

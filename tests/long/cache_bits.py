"""Damages kept results: ``python tests/long/cache_bits.py [ENTRIES] [FLIPS] [SEED]``, 10 and 100,000 by default.

Every bit of ENTRIES entries of different sizes is flipped, one at a time; each entry is cut to every length and
moved to every other entry's key; FLIPS times between one and eight random bits are flipped.  Counts what was
served all the same, and ends with 1 where that is more than nothing.
"""

from __future__ import annotations

import sys
import tempfile
from collections.abc import Iterator
from pathlib import Path
from random import Random

sys.path.insert(0, str(Path(__file__).parents[2]))

from handouts.store.cache import Cache, key_of
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
    """A kind of damage, the number of an entry, and what stands in its place."""
    for number, data in enumerate(whole):
        yield from (("one bit", number, flip(data, {bit})) for bit in range(len(data) * 8))
        yield from (("cut", number, data[:length]) for length in range(len(data)))
        yield from (("moved", number, other) for other in whole if other != data)
    for _ in range(flips):
        number = random.randrange(len(whole))
        bits = len(whole[number]) * 8
        yield "random bits", number, flip(whole[number], set(random.sample(range(bits), random.randint(1, 8))))


def count_served(entries: int, flips: int, seed: int) -> dict[str, tuple[int, int]]:
    """For each kind of damage how many were tried, and how many served."""
    random, tally = Random(seed), dict[str, tuple[int, int]]()
    with tempfile.TemporaryDirectory(dir=memory()) as folder:
        cache, keys = Cache(Path(folder)), [key_of("entry", str(number)) for number in range(entries)]
        for number, key in enumerate(keys):
            cache.put(key, random.randbytes(SIZES[number % len(SIZES)]))
        paths = [Path(folder, key[:2], key[2:]) for key in keys]
        whole = [path.read_bytes() for path in paths]
        for kind, number, data in damages(whole, random, flips):
            paths[number].write_bytes(data)
            tried, served = tally.get(kind, (0, 0))
            tally[kind] = tried + 1, served + (cache.get(keys[number]) is not None)
            paths[number].write_bytes(whole[number])
        if any(cache.get(key) is None for key in keys):
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

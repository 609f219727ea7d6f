"""What was looked at before and found without fault: digests of questions, kept between builds as one entry of a cache.

Only that nothing was found is kept.  Whatever has a problem is looked at again, so its place and its words are
those of now.  What is kept holds for one program and its packages.  Nothing here knows what is asked.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from hashlib import blake2b

from handouts.cache import NOTHING_KEPT, Cache, key_of
from handouts.problems import Problem
from handouts.program import keep_own, read_own

DIGEST_BYTES = 16
"""Length of the digest of a question: two of 1e9 questions are alike by chance once in 1e20."""
_ENTRY = key_of("sound")


class Sound:
    """The questions that found nothing: those of the last time, and those of this time."""

    def __init__(self, cache: Cache = NOTHING_KEPT) -> None:
        self.cache = cache
        digests = read_own(cache, _ENTRY)
        self.before = {digests[at : at + DIGEST_BYTES] for at in range(0, len(digests), DIGEST_BYTES)}
        self.now: set[bytes] = set()

    def find(self, question: Iterable[str], find: Callable[[], Iterable[Problem]]) -> tuple[Problem, ...]:
        """What ``find`` finds; it is not asked where it found nothing before.

        ``question`` holds all that the answer depends on but for places and the program; its first part says
        who asks.
        """
        parts = tuple(question)
        lengths = ",".join(str(len(part)) for part in parts)
        digest = blake2b("\n".join((lengths, *parts)).encode("utf-8", "surrogatepass"), digest_size=DIGEST_BYTES).digest()
        found = () if digest in self.before or digest in self.now else tuple(find())
        if not found:
            self.now.add(digest)
        return found

    def write(self) -> None:
        """Keep what found nothing this time, and forget what was not asked."""
        if self.now != self.before:
            keep_own(self.cache, _ENTRY, b"".join(sorted(self.now)))

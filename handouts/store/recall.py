"""Small results kept between builds, many in one entry of a cache: what was asked for again is not made again.

A result is known by a digest of all that it depends on but for the program, its packages; for another program nothing
is known.  What was not asked for in a build is forgotten after it.  Nothing here knows what is kept.
"""

from __future__ import annotations

import json
from collections.abc import Callable

from handouts.store.cache import NOTHING_KEPT, Cache, key_of
from handouts.store.program import keep_own, read_own


class Recall:
    """The results of one name: those of the last build, and those of this one."""

    def __init__(self, cache: Cache = NOTHING_KEPT, name: str = "") -> None:
        self._cache, self._entry = cache, key_of("recall", name)
        self._before = self._read()
        self._now: dict[str, bytes] = {}

    def _read(self) -> dict[str, bytes]:
        head, _, rest = read_own(self._cache, self._entry).partition(b"\n")
        found, at = {}, 0
        for key, length in json.loads(head or b"[]"):
            found[key] = rest[at : at + length]
            at += length
        return found

    def ask(self, key: str, make: Callable[[], bytes]) -> bytes:
        """The result of a key, made where it is not known."""
        found = self._now.get(key)
        if found is None:
            found = self._before.get(key)
            found = make() if found is None else found
            self._now[key] = found
        return found

    def write(self) -> None:
        """Keep what was asked for, and forget the rest."""
        if self._now.keys() != self._before.keys():
            head = json.dumps([(key, len(data)) for key, data in self._now.items()], separators=(",", ":"))
            keep_own(self._cache, self._entry, b"".join((head.encode(), b"\n", *self._now.values())))

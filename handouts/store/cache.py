"""Results kept between builds by the hash of all that they depend on; every entry is verified when it is read.

An entry is the SHA-256 of key and body, then the body.  A damaged, cut or moved entry is a miss, never
a wrong result.  Nothing here knows what is kept.
"""

from __future__ import annotations

import hashlib
import shutil
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path

from handouts.store.whole_file import FRESH, write_whole

HASH_BYTES = 32
"""Length of a SHA-256 digest."""


def key_of(*parts: bytes | str) -> str:
    """A key for inputs: each part's length counts, so that no two lists of parts give one key."""
    digest = hashlib.sha256()
    for part in parts:
        data = part.encode() if isinstance(part, str) else part
        digest.update(len(data).to_bytes(8, "big"))
        digest.update(data)
    return digest.hexdigest()


@dataclass(frozen=True, slots=True)
class Cache:
    """A folder of results; ``None`` as folder keeps nothing."""

    folder: Path | None

    def get(self, key: str) -> bytes | None:
        """The result of a key, or None where there is none or it is damaged."""
        if self.folder is None:
            return None
        try:
            data = self._path(key).read_bytes()
        except OSError:
            return None
        body = data[HASH_BYTES:]
        return body if data[:HASH_BYTES] == _seal(key, body) else None

    def put(self, key: str, body: bytes) -> None:
        """Keep a result; a full or read-only disk is no fault, the result is made again next time."""
        if self.folder is None:
            return
        with suppress(OSError):
            write_whole(self.folder, self._path(key), _seal(key, body) + body)

    def _path(self, key: str) -> Path:
        assert self.folder is not None
        return self.folder / key[:2] / key[2:]


NOTHING_KEPT = Cache(None)
"""Where nothing is kept."""


def _seal(key: str, body: bytes) -> bytes:
    return hashlib.sha256(key.encode() + b"\n" + body).digest()


def sweep(root: Path | None) -> None:
    """Remove half-written entries that killed builds left in the caches of a folder; one being written now is lost too."""
    for folder in root.rglob(FRESH) if root else ():
        shutil.rmtree(folder, ignore_errors=True)

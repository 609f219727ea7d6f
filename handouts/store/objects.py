"""Files known by the SHA-256 of their bytes, which is held to on every read: a damaged one is as if it were not there.

A published file is a further name of one where the disk has such names, so an object has the rights of a published file, and
nothing is ever written into one.
"""

from __future__ import annotations

import hashlib
import stat
from collections.abc import Container
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path

from handouts.store.whole_file import write_whole

OBJECTS = "objects"
"""Folder of the objects."""
MODE = 0o644
"""Rights of an object, whatever the umask: a web server, which is another user, may read it."""


@dataclass(frozen=True, slots=True)
class Objects:
    """The objects of a store; ``None`` as folder keeps nothing."""

    folder: Path | None

    def get(self, name: str) -> bytes | None:
        """The bytes with a digest; None where there are none or they are damaged."""
        if self.folder is None:
            return None
        try:
            data = self.path(name).read_bytes()
        except OSError:
            return None
        return data if hashlib.sha256(data).hexdigest() == name else None

    def put(self, data: bytes) -> str:
        """Keep bytes, and give their name; raises ``OSError`` where the disk does not take them."""
        name = hashlib.sha256(data).hexdigest()
        if self.folder is not None and not self._stands(name):
            write_whole(self.folder, self.path(name), data, MODE)
        return name

    def drop_others(self, names: Container[str]) -> None:
        """Remove every object but these."""
        for path in list(self.folder.glob(f"{OBJECTS}/*/*")) if self.folder else ():
            if f"{path.parent.name}{path.name}" not in names:
                with suppress(OSError):
                    path.unlink()

    def path(self, name: str) -> Path:
        """Where the object with a digest stands, if it does."""
        assert self.folder is not None
        return Path(f"{self.folder}/{OBJECTS}/{name[:2]}/{name[2:]}")

    def _stands(self, name: str) -> bool:
        """Whether an object is there as it should be; what holds it under another name keeps it."""
        with suppress(OSError):
            status = self.path(name).lstat()
            return stat.S_ISREG(status.st_mode) and stat.S_IMODE(status.st_mode) == MODE and self.get(name) is not None
        return False


NOTHING_KEPT = Objects(None)
"""Where nothing is kept."""

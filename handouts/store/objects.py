"""Files known by the SHA-256 of their bytes, which is held to on every read: a damaged one is as if it were not there."""

from __future__ import annotations

import hashlib
from collections.abc import Container
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path

from handouts.store.whole_file import write_whole

OBJECTS = "objects"
"""Folder of the objects."""


@dataclass(frozen=True, slots=True)
class Objects:
    """The objects of a store."""

    folder: Path

    def get(self, name: str) -> bytes | None:
        """The bytes with a digest; None where there are none or they are damaged."""
        try:
            data = self._path(name).read_bytes()
        except OSError:
            return None
        return data if hashlib.sha256(data).hexdigest() == name else None

    def put(self, data: bytes) -> str:
        """Keep bytes, and give their name; raises ``OSError`` where the disk does not take them."""
        name = hashlib.sha256(data).hexdigest()
        write_whole(self.folder, self._path(name), data)
        return name

    def drop_others(self, names: Container[str]) -> None:
        """Remove every object but these."""
        for path in list(self.folder.glob(f"{OBJECTS}/*/*")):
            if f"{path.parent.name}{path.name}" not in names:
                with suppress(OSError):
                    path.unlink()

    def _path(self, name: str) -> Path:
        return self.folder / OBJECTS / name[:2] / name[2:]

"""A file of a store, written whole or not at all: beside its place first, then moved there."""

from __future__ import annotations

import os
import shutil
from contextlib import suppress
from pathlib import Path

FRESH = ".new"
"""Folder in which files are written before they are moved to their place."""


def write_whole(folder: Path, path: Path, data: bytes, mode: int | None = None) -> None:
    """Put bytes at a path below a folder, with some rights.

    Raises ``OSError``; then what stood there is as it was, and nothing is left beside it.
    """
    fresh = folder / FRESH / f"{'.'.join(path.relative_to(folder).parts)}.{os.getpid()}"
    try:
        fresh.parent.mkdir(parents=True, exist_ok=True)
        path.parent.mkdir(parents=True, exist_ok=True)
        with fresh.open("wb") as stream:
            if mode is not None:
                os.fchmod(stream.fileno(), mode)
            stream.write(data)
        fresh.replace(path)
    except OSError:
        with suppress(OSError):
            fresh.unlink()
        raise


def sweep(*folders: Path) -> None:
    """Remove what killed builds left half-written; a file that another build writes now is lost too."""
    for folder in folders:
        shutil.rmtree(folder / FRESH, ignore_errors=True)

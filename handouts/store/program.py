"""Digests of the program itself: its own sources and catalogues, Python, and the packages that are installed.

What a program keeps for itself in a cache stands behind them: for another program it is not there.
"""

from __future__ import annotations

import platform
import sys
from functools import cache
from pathlib import Path

from handouts import __version__
from handouts.store.cache import HASH_BYTES, Cache, key_of

_PACKAGE = Path(__file__).parents[1]


@cache
def program_digest() -> str:
    """The digest of every source file and catalogue of the package."""
    parts: list[bytes | str] = [__version__]
    for path in sorted(_PACKAGE.rglob("*")):
        if path.suffix in (".py", ".po", ".json", ".yaml", ".txt") and "_templates" not in path.parts:
            parts += [path.relative_to(_PACKAGE).as_posix(), path.read_bytes()]
    return key_of(*parts)


@cache
def packages_digest() -> str:
    """The digest of Python, the machine's kind, and the name and version of every installed package."""
    folders = (Path(entry) for entry in sys.path if entry.endswith("-packages"))
    found = {item.name for folder in folders if folder.is_dir() for item in folder.glob("*.dist-info")}
    return key_of(sys.version, platform.machine(), sys.platform, *sorted(found))


def read_own(cache: Cache, entry: str) -> bytes:
    """What this program, with these packages, kept in an entry of a cache; nothing where another one did."""
    body = cache.get(entry)
    return body[HASH_BYTES:] if body is not None and body[:HASH_BYTES] == _signature() else b""


def keep_own(cache: Cache, entry: str, body: bytes) -> None:
    """Keep something in an entry of a cache, for this program with these packages only."""
    if cache.folder is not None:
        cache.put(entry, _signature() + body)


def _signature() -> bytes:
    return bytes.fromhex(key_of(program_digest(), packages_digest()))

"""The manifest of a site: every file with its size and SHA-256, and whether a folder is exactly that.

It stands inside the site, so that both change in one rename.  Never writes; whoever writes a site hands
over what was written.
"""

from __future__ import annotations

import errno
import hashlib
import json
import os
import stat
from collections.abc import Mapping
from concurrent.futures import ThreadPoolExecutor
from functools import partial
from pathlib import Path

MANIFEST = "manifest.json"
"""Its name at the top of a site; it lists every file but itself."""
READERS = 8
"""Files read or flushed at one time: a disk flushes many at once for the price of a few."""

Written = Mapping[str, tuple[int, str]]
"""Path with ``/`` to size in bytes and SHA-256."""


def digest_of(data: bytes) -> str:
    """SHA-256 in hexadecimal digits."""
    return hashlib.sha256(data).hexdigest()


def manifest_of(written: Written) -> bytes:
    """The manifest: every path with its size in bytes and SHA-256, sorted."""
    rows = {path: {"bytes": size, "sha256": digest} for path, (size, digest) in sorted(written.items())}
    return (json.dumps(rows, indent=0, ensure_ascii=False) + "\n").encode()


def read_manifest(site: Path) -> Written | None:
    """What a site should hold; None where there is no manifest that can be read."""
    try:
        rows = json.loads((site / MANIFEST).read_bytes())
        return {str(path): (int(row["bytes"]), str(row["sha256"])) for path, row in rows.items()}
    except (OSError, ValueError, TypeError, KeyError, AttributeError):
        return None


def site_digest(site: Path) -> str:
    """SHA-256 of a site's manifest, which stands for all its bytes; empty where there is none."""
    try:
        return digest_of((site / MANIFEST).read_bytes())
    except OSError:
        return ""


def find_damage(
    site: Path, written: Written | None = None, *, flush: bool = False, may_hold_more: bool = False
) -> str | None:
    """The first way in which a folder is not what ``written`` says (default: its manifest), None where it is whole.

    ``may_hold_more``: files beside those of the manifest are no damage.
    ``flush`` also brings every file and folder to the disk.  Raises ``OSError`` where that fails.
    """
    expected = read_manifest(site) if written is None else written
    if expected is None:
        return f"'{MANIFEST}' is missing or damaged"
    folders, files = _walk(site)
    wrong = {*expected, MANIFEST} - files if may_hold_more else {*expected, MANIFEST} ^ files
    for path in sorted(wrong):
        return f"'{path}' is {'not in its manifest' if path in files else 'missing'}"
    with ThreadPoolExecutor(READERS) as pool:
        for path, found in zip(expected, pool.map(partial(_read, site, flush), expected), strict=True):
            if found != expected[path]:
                return f"'{path}' has other bytes than were written"
        if flush:
            _read(site, flush, MANIFEST)
            list(pool.map(flush_folder, reversed(folders)))
    return None


def _walk(site: Path) -> tuple[list[Path], set[str]]:
    """The folders of a site, itself first, and the paths of all else in it; no link is followed."""

    def fail(error: OSError) -> None:
        raise error

    folders, files = [], set[str]()
    for folder, inner, names in os.walk(site, onerror=fail):
        folders.append(Path(folder))
        links = [name for name in inner if Path(folder, name).is_symlink()]
        files |= {Path(folder, name).relative_to(site).as_posix() for name in (*names, *links)}
    return folders, files


def _read(site: Path, flush: bool, path: str) -> tuple[int, str] | None:
    """Size and SHA-256 of a file as it stands on the disk; a link or a device is never read.

    None where it cannot be read; where it is to be flushed that raises ``OSError``.
    """
    try:
        handle = os.open(site / path, os.O_RDONLY | getattr(os, "O_NOFOLLOW", 0) | getattr(os, "O_NONBLOCK", 0))
        with os.fdopen(handle, "rb") as stream:
            if not stat.S_ISREG(os.fstat(handle).st_mode):
                return None
            data = stream.read()
            if flush:
                os.fsync(handle)
    except OSError:
        if flush:
            raise
        return None
    return len(data), digest_of(data)


def flush_folder(folder: Path) -> None:
    """Bring the names in a folder to the disk; some file systems know no such thing (EINVAL)."""
    handle = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(handle)
    except OSError as error:
        if error.errno != errno.EINVAL:
            raise
    finally:
        os.close(handle)

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
from collections.abc import Container, Iterable, Iterator, Mapping
from concurrent.futures import ThreadPoolExecutor
from functools import partial
from pathlib import Path

MANIFEST = "manifest.json"
"""Its name at the top of a site; it lists every file but itself."""
READERS = 8
"""Files read or flushed at one time: a disk flushes many at once for the price of a few."""
FILE_MODE, FOLDER_MODE = 0o644, 0o755
"""Rights of what is published, whatever the umask: a web server, which is another user, reads it."""

Written = Mapping[str, tuple[int, str]]
"""Path with ``/`` to size in bytes and SHA-256."""


def digest_of(data: bytes) -> str:
    """SHA-256 in hexadecimal digits."""
    return hashlib.sha256(data).hexdigest()


def manifest_of(written: Written) -> bytes:
    """The manifest: every path with its size in bytes and SHA-256, sorted."""
    rows = (
        f'{json.dumps(path, ensure_ascii=False)}: {{\n"bytes": {size},\n"sha256": "{digest}"\n}}'
        for path, (size, digest) in sorted(written.items())
    )
    return ("{\n" + ",\n".join(rows) + "\n}\n").encode()


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


def find_damage(site: Path, written: Written | None = None, *, may_hold_more: bool = False) -> str | None:
    """The first way in which a folder is not what ``written`` says (default: its manifest), None where it is whole.

    Every file is read.  ``may_hold_more``: files beside those of the manifest are no damage.
    """
    expected = read_manifest(site) if written is None else written
    if expected is None:
        return f"'{MANIFEST}' is missing or damaged"
    return look_at(site, expected, may_hold_more=may_hold_more)


def look_at(
    site: Path,
    expected: Written,
    untouched: Container[str] = (),
    since_ns: int = 0,
    *,
    flush: Iterable[str] | None = None,
    may_hold_more: bool = False,
) -> str | None:
    """The first way in which a folder does not hold exactly the expected files and a manifest.

    Files that were ``untouched`` count as whole, and as flushed, where they have their size and nobody wrote into them after
    a time in nanoseconds; all others are read.  ``flush`` also brings what is read, and the folders that it names, to the
    disk.  Raises ``OSError`` where that fails.
    """

    def is_as_before(path: str, entry: os.DirEntry[str]) -> bool:
        status = entry.stat(follow_symlinks=False)
        return path in expected and is_of_size(status, expected[path][0]) and status.st_mtime_ns < since_ns

    found = {path: path in untouched and is_as_before(path, entry) for path, entry in walk_files(str(site))}
    wrong = {*expected, MANIFEST} - found.keys() if may_hold_more else {*expected, MANIFEST} ^ found.keys()
    for path in sorted(wrong):
        return f"'{path}' is {'not in its manifest' if path in found else 'missing'}"
    rest = [path for path in expected if not found[path]]
    with ThreadPoolExecutor(READERS) as pool:
        for path, entry in zip(rest, pool.map(partial(_read, site, flush is not None), rest), strict=True):
            if entry != expected[path]:
                return f"'{path}' has other bytes than were written"
        if flush is not None:
            _read(site, True, MANIFEST)
            list(pool.map(flush_folder, (site / folder for folder in flush)))
    return None


def walk_files(folder: str, prefix: str = "") -> Iterator[tuple[str, os.DirEntry[str]]]:
    """Whatever is no folder below a folder, with its path; no link is followed.  Raises ``OSError``."""
    with os.scandir(folder) as entries:
        for entry in entries:
            if entry.is_dir(follow_symlinks=False):
                yield from walk_files(entry.path, f"{prefix}{entry.name}/")
            else:
                yield f"{prefix}{entry.name}", entry


def is_of_size(status: os.stat_result, size: int) -> bool:
    """Whether a file is one (no link, no pipe, no device) of so many bytes."""
    return stat.S_ISREG(status.st_mode) and status.st_size == size


def read_file(path: Path | str, *, flush: bool = False) -> bytes | None:
    """The bytes of a file as it stands on the disk; a link or a device is never read.

    None where it cannot be read; where it is to be flushed that raises ``OSError``.
    """
    try:
        handle = os.open(path, os.O_RDONLY | getattr(os, "O_NOFOLLOW", 0) | getattr(os, "O_NONBLOCK", 0))
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
    return data


def _read(site: Path, flush: bool, path: str) -> tuple[int, str] | None:
    """Size and SHA-256 of a file."""
    data = read_file(f"{site}/{path}", flush=flush)
    return None if data is None else (len(data), digest_of(data))


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

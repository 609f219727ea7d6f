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
import time
from collections.abc import Container, Iterable, Iterator, Mapping
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from functools import partial
from pathlib import Path
from types import MappingProxyType
from typing import NamedTuple

MANIFEST = "manifest.json"
"""Its name at the top of a site; it lists every file but itself."""
READERS = 8
"""Files read or flushed at one time: a disk flushes many at once for the price of a few."""
FILE_MODE, FOLDER_MODE = 0o644, 0o755
"""Rights of what is published, whatever the umask: a web server, which is another user, reads it."""
TICK_NS = 50_000_000
"""Clocks of disks step by up to 10 ms (Linux, CONFIG_HZ=100): two writes in one step leave the same times behind."""

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
    return look_at(site, expected, may_hold_more=may_hold_more).damage


class Mark(NamedTuple):
    """What the file system tells of a regular file without reading it; whoever writes into the file changes it."""

    inode: int
    size: int
    written_ns: int
    """When its bytes were last written, as it says; may be set by anyone."""
    changed_ns: int
    """When anything of it was last changed, a name of it too; set by the system only."""

    def is_of(self, other: Mark) -> bool:
        """Whether both are of one file with the same bytes; one of them may have gained or lost a name since."""
        return self[:3] == other[:3]


@dataclass(frozen=True, slots=True)
class FolderState:
    """What was found at a look at a folder."""

    damage: str | None
    """The first way in which it is not what it should be."""
    marks: Mapping[str, Mark]
    """Of every file as it was verified; without those that were changed a moment before, as clocks of disks are coarse."""


def look_at(
    site: Path,
    expected: Written,
    known: Mapping[str, Mark] = MappingProxyType({}),
    *,
    flush: Iterable[str] | None = None,
    may_hold_more: bool = False,
) -> FolderState:
    """Whether a folder holds exactly the expected files and a manifest.

    Files in ``known`` count as whole, and as flushed, where they are still the file of their mark; all others
    are read.  ``flush`` also brings what is read, and the folders that it names, to the disk.  Raises ``OSError``
    where that fails.
    """
    settled, found = time.time_ns() - TICK_NS, dict(_marks_in(str(site), known))
    wrong = {*expected, MANIFEST} - found.keys() if may_hold_more else {*expected, MANIFEST} ^ found.keys()
    for path in sorted(wrong):
        return FolderState(f"'{path}' is {'not in its manifest' if path in found else 'missing'}", {})
    marks = {path: mark for path, mark in found.items() if mark and mark.is_of(known[path])}
    rest = [path for path in expected if path not in marks]
    with ThreadPoolExecutor(READERS) as pool:
        for path, (entry, mark) in zip(rest, pool.map(partial(_read, site, flush is not None), rest), strict=True):
            if entry != expected[path] or mark is None:
                return FolderState(f"'{path}' has other bytes than were written", {})
            marks[path] = mark
        if flush is not None:
            _read(site, True, MANIFEST)
            list(pool.map(flush_folder, (site / folder for folder in flush)))
    return FolderState(None, {path: mark for path, mark in marks.items() if mark.changed_ns < settled})


def _marks_in(site: str, known: Container[str]) -> Iterator[tuple[str, Mark | None]]:
    """Every file of a site by its path, with the marks of those that are known; no link is followed."""
    for path, entry in walk_files(site):
        yield path, mark_of(entry.stat(follow_symlinks=False)) if path in known else None


def walk_files(folder: str, prefix: str = "") -> Iterator[tuple[str, os.DirEntry[str]]]:
    """Whatever is no folder below a folder, with its path; no link is followed.  Raises ``OSError``."""
    with os.scandir(folder) as entries:
        for entry in entries:
            if entry.is_dir(follow_symlinks=False):
                yield from walk_files(entry.path, f"{prefix}{entry.name}/")
            else:
                yield f"{prefix}{entry.name}", entry


def mark_of(status: os.stat_result) -> Mark | None:
    """The mark of a file; None where it is a link, a pipe or a device."""
    regular = stat.S_ISREG(status.st_mode)
    return Mark(status.st_ino, status.st_size, status.st_mtime_ns, status.st_ctime_ns) if regular else None


def read_file(path: Path, *, flush: bool = False) -> tuple[bytes, Mark] | None:
    """The bytes of a file as it stands on the disk, and its mark; a link or a device is never read.

    None where it cannot be read; where it is to be flushed that raises ``OSError``.
    """
    try:
        handle = os.open(path, os.O_RDONLY | getattr(os, "O_NOFOLLOW", 0) | getattr(os, "O_NONBLOCK", 0))
        with os.fdopen(handle, "rb") as stream:
            mark = mark_of(os.fstat(handle))
            if mark is None:
                return None
            data = stream.read()
            if flush:
                os.fsync(handle)
    except OSError:
        if flush:
            raise
        return None
    return data, mark


def _read(site: Path, flush: bool, path: str) -> tuple[tuple[int, str] | None, Mark | None]:
    """Size and SHA-256 of a file, and its mark from before it was read."""
    found = read_file(site / path, flush=flush)
    return (None, None) if found is None else ((len(found[0]), digest_of(found[0])), found[1])


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

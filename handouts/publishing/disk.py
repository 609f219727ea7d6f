"""Single writes to the disk, each whole or not at all, and a fault of the disk as a problem with a mend.

Knows folders and bytes; never what is published, and never deletes what it did not make.
"""

from __future__ import annotations

import ctypes
import errno
import os
import shutil
from collections.abc import Iterable, Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

from handouts.problems import Place, Problem
from handouts.publishing.manifest import flush_folder, read_manifest

ASIDE = ".aside"
"""Where a folder waits while two change places, on systems that cannot do that in one step."""
RENAME_EXCHANGE = 2
"""Flag of renameat2(2): both names swap in one step (Linux 3.15)."""
AT_FDCWD = -100
APART = (errno.EXDEV, errno.EBUSY)
"""A folder on another disk, or one where another disk begins, cannot be renamed."""
FULL = (errno.ENOSPC, errno.EDQUOT)
NO_LINKS = (errno.EXDEV, errno.EMLINK, errno.EPERM, errno.ENOTSUP, errno.ENOSYS)
"""A file cannot have a further name here: other disk, too many names, not ours, a disk without links.  It is copied."""


class PublishError(Exception):
    """Something could not be written; what was published is as it was, or ``problem`` says that it is not."""

    def __init__(self, problem: Problem) -> None:
        super().__init__(problem.what)
        self.problem = problem


@contextmanager
def as_problem(out: Path, written: int | None = None, *, after: str = "") -> Iterator[None]:
    """A fault of the disk as a problem with a mend; ``written``: bytes of the new site so far; ``after``: what is done."""
    try:
        yield
    except OSError as error:
        raise PublishError(_disk_problem(out, error, written, after)) from error


def _disk_problem(out: Path, error: OSError, written: int | None, after: str) -> Problem:
    mends = {
        errno.EROFS: "Choose a folder that can be written.",
        errno.EACCES: "Choose a folder that you may write, or change its permissions.",
        errno.EPERM: "Choose a folder that you may write, or change its permissions.",
        errno.EEXIST: "Choose another folder: nothing is written over a file.",
        errno.ENAMETOOLONG: "Choose a folder with a shorter path.",
        **dict.fromkeys(APART, "Keep 'site' on the disk of the folder around it, or choose another folder."),
        **dict.fromkeys(FULL, "Free some space: a build needs room for another copy of the site."),
    }
    mend = mends.get(error.errno or 0, "Mend the disk or choose another folder.")
    what = f"{after}, but the folder could not be tidied" if after else "the folder cannot be written"
    room = _say_room(out, written) if error.errno in FULL and written is not None else ""
    return Problem(Place(str(out)), "cannot-write", f"{what}: {error.strerror}{room}", mend)


def _say_room(out: Path, written: int) -> str:
    """How much was needed and found, in MB."""
    former = read_manifest(out / "site")
    known = f", the published one has {sum(size for size, _ in former.values()) / 1e6:.1f} MB" if former else ""
    return f" ({written / 1e6:.1f} MB of the new site were written{known}, {shutil.disk_usage(out).free / 1e6:.1f} MB are free)"


def exchange(first: Path, second: Path) -> None:
    """Swap two folders in one step; where the system cannot, in three renames (``recover`` knows each half-way state)."""
    libc = ctypes.CDLL(None, use_errno=True)
    renameat2 = getattr(libc, "renameat2", None)
    if renameat2 is not None:
        done = renameat2(AT_FDCWD, os.fsencode(first), AT_FDCWD, os.fsencode(second), RENAME_EXCHANGE)
        if done == 0:
            return
        if ctypes.get_errno() not in (errno.ENOSYS, errno.EINVAL):
            raise OSError(ctypes.get_errno(), os.strerror(ctypes.get_errno()))
    aside = first.with_name(ASIDE)
    second.rename(aside)
    try:
        flush_folder(aside.parent)  # each rename before the next, or a power cut might keep the later one only
        first.rename(second)
    except OSError:
        aside.rename(second)
        raise
    with suppress(OSError):  # the swap is done; ``recover`` does the rest
        flush_folder(aside.parent)
    with suppress(OSError):
        aside.rename(first)


def fresh_of(target: Path) -> Path:
    """Where the new content of a file is made."""
    return target.with_name(f".{target.name}.new")


def prepare(target: Path, data: bytes) -> None:
    """The new content of a file, beside it and on the disk; never into what stands there, which may be a link."""
    fresh = fresh_of(target)
    fresh.unlink(missing_ok=True)
    try:
        with fresh.open("xb") as stream:
            stream.write(data)
            stream.flush()
            os.fsync(stream.fileno())
    except BaseException:
        with suppress(OSError):
            fresh.unlink()
        raise


def replace(target: Path, data: bytes) -> None:
    """New content for one file, whole or not at all."""
    prepare(target, data)
    try:
        fresh_of(target).replace(target)
    except OSError:
        with suppress(OSError):
            fresh_of(target).unlink()
        raise
    flush_folder(target.parent)


def write_files(folder: Path, files: Iterable[tuple[str, bytes]]) -> None:
    """Write single files that are not a site (a new library): all or none, never over another.  Raises ``PublishError``."""
    made: list[Path] = []
    try:
        with as_problem(folder):
            for path, data in files:
                target = folder / path
                target.parent.mkdir(parents=True, exist_ok=True)
                with target.open("xb") as stream:
                    made.append(target)
                    stream.write(data)
    except BaseException:
        for target in made:
            with suppress(OSError):  # a folder that holds something stays
                target.unlink()
                target.parent.rmdir()
                folder.rmdir()
        raise

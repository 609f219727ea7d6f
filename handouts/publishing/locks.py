"""Locks of folders: one command at a time writes into one.

A lock (``flock``) goes with its process, so a dead one never blocks.  The file says who holds it, for people only.
"""

from __future__ import annotations

import errno
import os
import time
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

from handouts.problems import Place, Problem
from handouts.publishing.disk import PublishError
from handouts.tasks.progress import SILENT, Progress

LOCK = ".lock"
NO_LOCKS = (errno.ENOLCK, errno.EOPNOTSUPP, errno.ENOTSUP, errno.ENOSYS)
"""What a network disk answers that keeps no locks."""
STEP_SECONDS = 0.05
"""How often a held lock is tried again."""
MOST_LETTERS = 80
"""Longest name of a holder that is read, in bytes."""


class _HeldError(Exception):
    """Another process holds the lock."""


@contextmanager
def hold_folder(folder: Path, holder: str, wait_seconds: float, progress: Progress = SILENT) -> Iterator[None]:
    """Keep other commands out of a folder; where one is at work there wait, then raise ``PublishError``.

    The file of the lock is gone afterwards.  Raises ``OSError`` where the folder cannot be written.
    """
    path = folder / LOCK
    with progress.stage("waiting for another command that writes here"):
        handle = _wait_for(path, holder, time.monotonic() + wait_seconds)
    try:
        yield
    finally:
        with suppress(OSError):
            path.unlink()
        os.close(handle)


def _wait_for(path: Path, holder: str, deadline: float) -> int:
    """The lock once it is free; a time of ``time.monotonic`` says how long it is waited for."""
    while True:
        try:
            handle = open_lock(path, holder)
        except _HeldError as other:
            if time.monotonic() >= deadline:
                what, mend = f"another command is writing here: {other}", "Run it again when that has ended."
                raise PublishError(Problem(Place(str(path.parent)), "locked", what, mend)) from None
            time.sleep(STEP_SECONDS)
            continue
        if _is_the_file(handle, path):
            return handle
        os.close(handle)  # who held it took the file away, and another may be held by now


def hold_at_once(path: Path, holder: str) -> int:
    """The lock of a file that stays, as a handle to close; raises ``PublishError`` where another process holds it."""
    try:
        return open_lock(path, holder)
    except _HeldError as other:
        what = f"another build ({other}) is writing here"
        raise PublishError(Problem(Place(str(path.parent)), "locked", what, "Wait until it has ended.")) from None


def open_lock(path: Path, holder: str) -> int:
    """Take the lock now; a link is not followed."""
    import fcntl  # POSIX only; named as an exception in tests/test_layers.py

    flags = os.O_CREAT | os.O_NOFOLLOW | os.O_CLOEXEC
    try:
        handle, writes = os.open(path, os.O_RDWR | flags, 0o666), True
    except PermissionError:  # a file that another user left; a lock needs no right to write
        handle, writes = os.open(path, os.O_RDONLY | os.O_NOFOLLOW | os.O_CLOEXEC), False
    try:
        fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
        if writes:
            os.ftruncate(handle, 0)
            os.write(handle, holder.encode()[:MOST_LETTERS])
    except BlockingIOError:
        name = os.read(handle, MOST_LETTERS).decode(errors="replace").strip() or "unknown"
        os.close(handle)
        raise _HeldError(name) from None
    except OSError as error:
        os.close(handle)
        if error.errno not in NO_LOCKS:
            raise
        what = "this folder is on a disk without file locks, so two commands could write at once"
        mend = "Keep it on a disk that has them, such as one of this machine."
        raise PublishError(Problem(Place(str(path.parent)), "no-locks", what, mend)) from error
    return handle


def _is_the_file(handle: int, path: Path) -> bool:
    with suppress(FileNotFoundError):
        return os.path.samestat(os.fstat(handle), os.lstat(path))
    return False

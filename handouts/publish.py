"""The writing edge: a whole site is made in a staging folder beside the target and swapped in with one rename.

Until the swap the published site is untouched; after it the former site stays as ``.previous``.  A
staging folder left by a killed build is removed by the next one.  A lock (``flock``) keeps two builds
apart; it goes with its process, so a dead one never blocks.
"""

from __future__ import annotations

import ctypes
import errno
import hashlib
import json
import os
import shutil
from collections.abc import Iterable, Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path, PurePosixPath

from handouts.problems import Place, Problem

MARK = ".handouts"
"""File that marks a folder as ours; a folder with files and without it is never touched."""
OWN = (".gitignore", ".cache", ".lock")
"""What may stand in an output folder before the first build: checking keeps drawings there."""
STAGING, PREVIOUS, LOCK, MANIFEST = ".staging", ".previous", ".lock", "manifest.json"
RENAME_EXCHANGE = 2
"""Flag of renameat2(2): both names swap in one step (Linux 3.15)."""
AT_FDCWD = -100


class PublishError(Exception):
    """The site could not be written; the published one is as it was.  ``problem`` says why."""

    def __init__(self, problem: Problem) -> None:
        super().__init__(problem.what)
        self.problem = problem


@contextmanager
def hold_lock(out: Path) -> Iterator[None]:
    """Keep other builds out of a folder; raises ``PublishError`` where one is at work there."""
    import fcntl  # POSIX only; named as an exception in tests/test_layers.py

    _make_ours(out)
    try:
        handle = os.open(out / LOCK, os.O_RDWR | os.O_CREAT, 0o644)
    except OSError as error:
        raise PublishError(_disk_problem(out, error)) from error
    try:
        try:
            fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except OSError as error:
            holder = os.read(handle, 40).decode(errors="replace").strip() or "unknown"
            raise PublishError(
                Problem(
                    Place(str(out)),
                    "locked",
                    f"another build (process {holder}) is writing here",
                    "Wait until it has ended.",
                )
            ) from error
        os.ftruncate(handle, 0)
        os.write(handle, f"{os.getpid()}\n".encode())
        yield
    finally:
        os.close(handle)


def _make_ours(out: Path) -> None:
    """The output folder, made where it is missing; refused where it holds files that no build wrote."""
    try:
        out.mkdir(parents=True, exist_ok=True)
        strangers = [item.name for item in out.iterdir() if item.name not in OWN]
        if strangers and not (out / MARK).exists():
            raise PublishError(
                Problem(
                    Place(str(out)),
                    "not-ours",
                    f"the folder holds files that no build wrote, such as '{sorted(strangers)[0]}'",
                    "Choose an empty folder with --to.",
                )
            )
        (out / MARK).touch()
    except OSError as error:
        raise PublishError(_disk_problem(out, error)) from error


def _disk_problem(out: Path, error: OSError) -> Problem:
    mends = {
        errno.ENOSPC: "Free some space: a build needs room for a second copy of the site.",
        errno.EROFS: "Choose a folder that can be written with --to.",
        errno.EACCES: "Choose a folder that you may write with --to, or change its permissions.",
    }
    mend = mends.get(error.errno or 0, "Mend the disk or choose another folder with --to.")
    return Problem(Place(str(out)), "cannot-write", f"the folder cannot be written: {error.strerror}", mend)


@dataclass(slots=True)
class Staging:
    """A site in the making: files are written one by one, each path once; ``swap_in`` flushes them all to the disk."""

    root: Path
    written: dict[str, tuple[int, str]] = field(default_factory=dict)
    """Path to size and SHA-256 of what was written."""

    def write(self, path: str, data: bytes) -> None:
        """Write one file; ``path`` is relative, with ``/``.  Raises ``PublishError`` or ``ValueError`` (a fault of ours)."""
        parts = PurePosixPath(path)
        if parts.is_absolute() or ".." in parts.parts or str(parts) != path or path in self.written:
            raise ValueError(f"{path!r} cannot be written twice or outside the site")
        target = self.root / path
        try:
            target.parent.mkdir(parents=True, exist_ok=True)
            with target.open("xb") as stream:
                stream.write(data)
        except OSError as error:
            raise PublishError(_disk_problem(self.root.parent, error)) from error
        self.written[path] = (len(data), hashlib.sha256(data).hexdigest())


def manifest_of(written: dict[str, tuple[int, str]]) -> bytes:
    """The manifest: every path with its size in bytes and SHA-256, sorted."""
    rows = {path: {"bytes": size, "sha256": digest} for path, (size, digest) in sorted(written.items())}
    return (json.dumps(rows, indent=0, ensure_ascii=False) + "\n").encode()


@contextmanager
def stage(out: Path) -> Iterator[Staging]:
    """A staging folder for one site; removed where the block raises, swapped in by ``swap_in``."""
    root = out / STAGING
    try:
        recover(out)
        shutil.rmtree(root, ignore_errors=True)
        root.mkdir()
    except OSError as error:
        raise PublishError(_disk_problem(out, error)) from error
    try:
        yield Staging(root)
    finally:
        shutil.rmtree(root, ignore_errors=True)


def recover(out: Path) -> bool:
    """Put the previous site back where a kill between two renames left none; tells whether it did."""
    if not (out / "site").exists() and (out / PREVIOUS).exists():
        (out / PREVIOUS).rename(out / "site")
        return True
    return False


def swap_in(out: Path, staging: Staging, report: bytes) -> None:
    """Verify the staged site against what was written, then make it the published one in one rename."""
    site, previous = out / "site", out / PREVIOUS
    try:
        _flush_site(staging)
        _verify(staging)
        if site.exists():
            _exchange(staging.root, site, previous)
            if staging.root.exists():  # swapped in one step: the former site stands in the staging folder
                shutil.rmtree(previous, ignore_errors=True)
                staging.root.rename(previous)
        else:
            staging.root.rename(site)
        for name, data in ((MANIFEST, manifest_of(staging.written)), ("report.json", report)):
            _replace(out / name, data)
        _flush_folder(out)
    except OSError as error:
        raise PublishError(_disk_problem(out, error)) from error


def go_back(out: Path) -> bool:
    """Make the previous site the published one again; the present one becomes the previous.  False where there is none."""
    site, previous = out / "site", out / PREVIOUS
    if not previous.exists():
        return False
    _exchange(previous, site, out / STAGING)
    if not previous.exists() and (out / STAGING).exists():
        (out / STAGING).rename(previous)
    return True


def _verify(staging: Staging) -> None:
    """Read every staged file back; a difference is a fault of the disk."""
    for path, (size, digest) in staging.written.items():
        data = (staging.root / path).read_bytes()
        if len(data) != size or hashlib.sha256(data).hexdigest() != digest:
            raise OSError(errno.EIO, f"'{path}' was not written whole")


def _exchange(first: Path, second: Path, aside: Path) -> None:
    """Swap two folders in one step; where the system cannot, in two renames with ``aside`` between them."""
    libc = ctypes.CDLL(None, use_errno=True)
    renameat2 = getattr(libc, "renameat2", None)
    if renameat2 is not None:
        done = renameat2(AT_FDCWD, os.fsencode(first), AT_FDCWD, os.fsencode(second), RENAME_EXCHANGE)
        if done == 0:
            return
        if ctypes.get_errno() not in (errno.ENOSYS, errno.EINVAL):
            raise OSError(ctypes.get_errno(), os.strerror(ctypes.get_errno()))
    shutil.rmtree(aside, ignore_errors=True)
    second.rename(aside)
    first.rename(second)


def _replace(target: Path, data: bytes) -> None:
    fresh = target.with_name(f".{target.name}.new")
    with fresh.open("wb") as stream:
        stream.write(data)
        stream.flush()
        os.fsync(stream.fileno())
    fresh.replace(target)


def _flush_site(staging: Staging) -> None:
    """Every file and folder of a staged site to the disk: in one call where the system has it, else one by one."""
    syncfs = getattr(ctypes.CDLL(None, use_errno=True), "syncfs", None)  # syncfs(2), Linux
    if syncfs is not None:
        handle = os.open(staging.root, os.O_RDONLY)
        try:
            if syncfs(handle) != 0:
                raise OSError(ctypes.get_errno(), os.strerror(ctypes.get_errno()))
        finally:
            os.close(handle)
        return
    for path in staging.written:
        with (staging.root / path).open("rb") as stream:
            os.fsync(stream.fileno())
    for folder, _, _ in os.walk(staging.root):
        _flush_folder(Path(folder))


def _flush_folder(folder: Path) -> None:
    handle = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)


def replace_files(folder: Path, files: Mapping[str, bytes]) -> None:
    """Write files of a library anew, each whole or not at all; raises ``PublishError``."""
    try:
        for path, data in files.items():
            (folder / path).parent.mkdir(parents=True, exist_ok=True)
            _replace(folder / path, data)
    except OSError as error:
        raise PublishError(_disk_problem(folder, error)) from error


def write_files(folder: Path, files: Iterable[tuple[str, bytes]]) -> None:
    """Write single files that are not a site (a figure, a new library); never overwrites."""
    for path, data in files:
        target = folder / path
        target.parent.mkdir(parents=True, exist_ok=True)
        with target.open("xb") as stream:
            stream.write(data)

"""The writing edge: a whole site is made in a staging folder beside the target and swapped in with one rename.

Until the swap the published site is untouched; after it the former site stays as ``.previous``.  What a
killed build left behind is taken up or removed by the next one.  A lock (``flock``) keeps two builds
apart; it goes with its process, so a dead one never blocks.
"""

from __future__ import annotations

import errno
import os
import shutil
import unicodedata
from collections.abc import Iterator, Mapping
from contextlib import contextmanager, suppress
from dataclasses import dataclass, field
from functools import cached_property
from pathlib import Path, PurePosixPath

from handouts.disk import ASIDE, PublishError, as_problem, exchange, fresh_of, prepare, replace
from handouts.manifest import MANIFEST, digest_of, find_damage, flush_folder, manifest_of, site_digest
from handouts.problems import Place, Problem

MARK = ".handouts"
"""File that marks a folder as ours; a folder with files and without it is never touched.  Holds the digest of the site."""
OWN = (".gitignore", ".cache", ".lock")
"""What may stand in an output folder before the first build: checking keeps drawings there."""
SITE, STAGING, PREVIOUS, LOCK, REPORT = "site", ".staging", ".previous", ".lock", "report.json"


@contextmanager
def hold_lock(out: Path) -> Iterator[None]:
    """Keep other builds out of a folder and tidy it; raises ``PublishError`` where another is at work there."""
    import fcntl  # POSIX only; named as an exception in tests/test_layers.py

    with as_problem(out):
        _make_ours(out)
        handle = os.open(out / LOCK, os.O_RDWR | os.O_CREAT, 0o644)
    try:
        with as_problem(out):
            try:
                fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
            except BlockingIOError as error:
                holder = os.read(handle, 40).decode(errors="replace").strip() or "unknown"
                what = f"another build (process {holder}) is writing here"
                raise PublishError(Problem(Place(str(out)), "locked", what, "Wait until it has ended.")) from error
            os.ftruncate(handle, 0)
            os.write(handle, f"{os.getpid()}\n".encode())
            recover(out)
        yield
    finally:
        os.close(handle)


def _make_ours(out: Path) -> None:
    """The output folder, made where it is missing; refused where it holds files that no build wrote."""
    if out.exists() and not out.is_dir():
        raise _refusal(out, "there is a file of this name")
    out.mkdir(parents=True, exist_ok=True)
    strangers = [item.name for item in out.iterdir() if item.name not in OWN]
    if strangers and not (out / MARK).exists():
        raise _refusal(out, f"the folder holds files that no build wrote, such as '{sorted(strangers)[0]}'")
    for name in (SITE, PREVIOUS, STAGING, ASIDE):
        if (out / name).is_symlink() or ((out / name).exists() and not (out / name).is_dir()):
            raise _refusal(out, f"'{name}' in it is a link or a file, and no build made it")
    if not (out / MARK).exists():
        (out / MARK).touch()
        flush_folder(out)  # or a power cut might keep our files without the mark


def _published(out: Path) -> str:
    """The digest of the site that was published last, as the mark tells it; empty where there was none."""
    try:
        return (out / MARK).read_text(encoding="ascii", errors="replace").strip()
    except FileNotFoundError:
        return ""


def _refusal(out: Path, what: str) -> PublishError:
    return PublishError(Problem(Place(str(out)), "not-ours", what, "Choose an empty folder with --to."))


@dataclass(frozen=True)
class StagedFiles(Mapping[str, bytes]):
    """The files of a site in the making, by path."""

    root: Path
    paths: tuple[str, ...]

    def __getitem__(self, path: str) -> bytes:
        return (self.root / path).read_bytes()

    def __iter__(self) -> Iterator[str]:
        return iter(self.paths)

    def __len__(self) -> int:
        return len(self.paths)

    def __contains__(self, path: object) -> bool:
        return path in self._known

    @cached_property
    def _known(self) -> frozenset[str]:
        return frozenset(self.paths)


@dataclass(slots=True)
class Staging:
    """A site in the making: files are written one by one, each path once; nothing is on the disk before ``swap_in``."""

    root: Path
    written: dict[str, tuple[int, str]] = field(default_factory=dict)
    """Path to size and SHA-256 of what was written."""
    size: int = 0
    """Bytes written so far."""
    folded: set[str] = field(default_factory=lambda: {MANIFEST})
    """Paths as a disk sees them that does not tell capitals apart."""

    def write(self, path: str, data: bytes) -> None:
        """Write one file; ``path`` is relative, with ``/``.  Raises ``PublishError`` or ``ValueError`` (a fault of ours)."""
        parts, folded = PurePosixPath(path), unicodedata.normalize("NFKC", path.casefold())
        if parts.is_absolute() or ".." in parts.parts or str(parts) != path or folded in self.folded:
            raise ValueError(f"{path!r} cannot be written twice or outside the site")
        target = self.root / path
        with as_problem(self.root.parent, self.size):
            target.parent.mkdir(parents=True, exist_ok=True)
            with target.open("xb") as stream:
                stream.write(data)
        self.written[path] = (len(data), digest_of(data))
        self.folded.add(folded)
        self.size += len(data)

    @property
    def files(self) -> Mapping[str, bytes]:
        """What was written so far, read when it is asked for."""
        return StagedFiles(self.root, tuple(self.written))

    @property
    def digest(self) -> str:
        """SHA-256 of the manifest of what was written so far."""
        return digest_of(manifest_of(self.written))


@contextmanager
def stage(out: Path) -> Iterator[Staging]:
    """A staging folder for one site; removed where the block raises, swapped in by ``swap_in``."""
    root = out / STAGING
    with as_problem(out, 0):
        root.mkdir()
    try:
        yield Staging(root)
    finally:
        if not _is_former(out):
            _clear(out)


def recover(out: Path) -> None:
    """Take up what a killed build left: finish a swap that had begun, remove what was never published."""
    site, previous, staging = (out / name for name in (SITE, PREVIOUS, STAGING))
    _end_exchange(out)
    if not site.exists() and previous.exists():
        previous.rename(site)
    if staging.exists() and site.exists() and _is_former(out) and find_damage(staging) is None:
        _put_behind(out)
    shutil.rmtree(out / ASIDE, ignore_errors=True)
    _clear(out)
    if _published(out) != site_digest(site):
        replace(out / MARK, f"{site_digest(site)}\n".encode())


def _end_exchange(out: Path) -> None:
    """Where a swap in three renames was cut off, the folder that waits aside goes to the place that is empty."""
    if (out / ASIDE).exists():
        empty = next((name for name in (SITE, PREVIOUS, STAGING) if not (out / name).exists()), None)
        if empty is not None:
            (out / ASIDE).rename(out / empty)


def _clear(out: Path) -> None:
    """Remove what was made and not published."""
    shutil.rmtree(out / STAGING, ignore_errors=True)
    for name in (REPORT, MARK):
        with suppress(OSError):
            fresh_of(out / name).unlink()


def _is_former(out: Path) -> bool:
    """Whether the staging folder holds the site that was published: the kill came after the swap."""
    return site_digest(out / SITE) != site_digest(out / STAGING) == _published(out)


def swap_in(out: Path, staging: Staging, report: bytes) -> bool:
    """Verify the staged site against what was written, flush it, then make it the published one in one rename.

    Where the published site is whole and has the same bytes it stays, and so does the previous one; tells
    whether the site was swapped.  All that takes room on the disk is done before the swap.
    """
    site = out / SITE
    with as_problem(out, staging.size):
        other = staging.digest != site_digest(site)
        changed = other or find_damage(site) is not None
        prepare(out / REPORT, report)
        if changed:
            prepare(out / MARK, f"{staging.digest}\n".encode())
            (staging.root / MANIFEST).write_bytes(manifest_of(staging.written))
            fault = find_damage(staging.root, staging.written, flush=True)
            if fault is not None:
                raise OSError(errno.EIO, fault)
            _swap(staging.root, site)
    with as_problem(out, after="the new site is published"):
        _end_exchange(out)
        flush_folder(out)
        if other and staging.root.exists():  # the former site stands there
            _put_behind(out)
        for name in (MARK, REPORT) if changed else (REPORT,):
            fresh_of(out / name).replace(out / name)
        flush_folder(out)
    return changed


def _swap(staging: Path, site: Path) -> None:
    if site.exists():
        exchange(staging, site)
    else:
        staging.rename(site)


def _put_behind(out: Path) -> None:
    """The former site, in the staging folder, becomes the previous one; the one before goes."""
    staging, previous = out / STAGING, out / PREVIOUS
    if previous.exists():
        exchange(staging, previous)
        flush_folder(out)
        shutil.rmtree(staging, ignore_errors=True)
    else:
        staging.rename(previous)
        flush_folder(out)


def go_back(out: Path) -> bool:
    """Make the previous site the published one again; the present one becomes the previous.  False where there is none.

    Raises ``PublishError`` where the previous site is not whole.
    """
    site, previous = out / SITE, out / PREVIOUS
    with as_problem(out):
        if not previous.exists():
            return False
        fault = find_damage(previous, may_hold_more=True)
        if fault is not None:
            what = f"the previous site is not whole: {fault}"
            raise PublishError(Problem(Place(str(out)), "damaged", what, "Build the site again instead."))
        exchange(previous, site)
    with as_problem(out, after="the previous site is published again"):
        flush_folder(out)
        replace(out / MARK, f"{site_digest(site)}\n".encode())
    return True

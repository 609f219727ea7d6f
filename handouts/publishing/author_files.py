"""Files that people own: written under the lock of their library, and only where they are as they were read.

New content is made beside the file under a name that nobody can guess, brought to the disk, and takes the file's
place in one rename; rights, owner and group stay.  Whatever fails, the file has its old bytes.
"""

from __future__ import annotations

import errno
import os
import re
import secrets
import stat
from collections.abc import Callable, Iterable, Iterator, Mapping
from contextlib import ExitStack, contextmanager, suppress
from dataclasses import dataclass
from pathlib import Path

from handouts.problems import Place, Problem
from handouts.publishing.disk import APART, FULL, NO_LINKS, PublishError
from handouts.publishing.locks import hold_folder
from handouts.publishing.manifest import flush_folder
from handouts.tasks.progress import SILENT, Progress

WAIT_SECONDS = 10.0
"""How long a command waits for another that writes into the same library."""
LEFT = re.compile(r"\.handouts-[0-9a-f]{16}\.new")
"""What a killed command leaves behind; the next one that writes there removes it."""
Change = Callable[[bytes | None], bytes]
"""The new bytes of a file from those it has now; None where there is none."""


class ChangedError(PublishError):
    """A file is not what was read any more; nothing was written over it."""


@dataclass(frozen=True, slots=True)
class HeldLibrary:
    """A library whose lock this command holds."""

    root: Path

    def read(self, path: str) -> bytes | None:
        """A file as it is now; None where there is none."""
        with as_file_problem(self.root / path):
            return read_regular(self.root / path)

    def revise(self, path: str, change: Change) -> None:
        """New bytes for a file from those it has now."""
        self._write({path: change})

    def replace(self, files: Mapping[str, bytes], read: Mapping[str, bytes]) -> None:
        """New bytes for files that are still as they were ``read``, all or none; raises ``ChangedError``."""

        def unless_changed(path: str, data: bytes) -> Change:
            def change(found: bytes | None) -> bytes:
                if found != read.get(path):
                    raise self._changed(path)
                return data

            return change

        self._write({path: unless_changed(path, data) for path, data in files.items()})

    def add(self, files: Iterable[tuple[str, bytes]]) -> None:
        """New files, each whole, all or none, never over another.  Raises ``PublishError``."""
        made: list[Path] = []
        try:
            for path, data in files:
                target = self.root / path
                with as_file_problem(target):
                    target.parent.mkdir(parents=True, exist_ok=True)
                    put_new(target, data)
                    made.append(target)
        except BaseException:
            for target in made:
                with suppress(OSError):
                    target.unlink()
            for folder in {target.parent for target in made} - {self.root}:
                with suppress(OSError):  # one that holds something stays
                    folder.rmdir()
            raise

    def _changed(self, path: str, done: Iterable[str] = ()) -> ChangedError:
        written = f"only {', '.join(done)} was written" if done else "nothing was written"
        what = f"the file was changed while this command ran, so {written}"
        return ChangedError(Problem(Place(f"{self.root.name}/{path}"), "changed-meanwhile", what, "Run it again."))

    def _write(self, changes: Mapping[str, Change]) -> None:
        made: dict[str, tuple[Path, bytes | None]] = {}
        done: list[str] = []
        try:
            for folder in dict.fromkeys((self.root / path).parent for path in changes):  # before anything is made there
                with as_file_problem(folder):
                    folder.mkdir(parents=True, exist_ok=True)
                    remove_left(folder)
            for path, change in changes.items():
                target = self.root / path
                with as_file_problem(target):
                    found = read_regular(target)
                data = change(found)
                if data != found:
                    with as_file_problem(target):
                        made[path] = (write_beside(target, data), found)
            for path, (fresh, found) in made.items():
                if self.read(path) != found:
                    raise self._changed(path, done)
                with as_file_problem(self.root / path):
                    fresh.replace(self.root / path)
                    done.append(path)
                    flush_folder((self.root / path).parent)
        finally:
            for fresh, _ in made.values():
                with suppress(OSError):
                    fresh.unlink()


@contextmanager
def hold_library(
    root: Path, command: str, *, make: bool = False, progress: Progress = SILENT
) -> Iterator[HeldLibrary]:
    """Keep other commands from writing into a library; ``make``: where there is no folder there will be one.

    Raises ``PublishError`` where another command is at work there for longer than ``WAIT_SECONDS``.
    """
    is_new = make and not root.exists()
    with ExitStack() as stack:
        with as_file_problem(root):
            if is_new:
                root.mkdir(parents=True, exist_ok=True)
            stack.enter_context(hold_folder(root, f"'handouts {command}' (process {os.getpid()})", WAIT_SECONDS, progress))
        try:
            yield HeldLibrary(root)
        finally:
            stack.close()
            if is_new:
                with suppress(OSError):  # what was written keeps it
                    root.rmdir()


@contextmanager
def as_file_problem(path: Path) -> Iterator[None]:
    """A fault of the disk at a file or folder that a person owns, as a problem with a mend."""
    try:
        yield
    except OSError as error:
        number = error.errno or 0
        what = f"'{path.name or path}' cannot be written: {error.strerror or error}"
        mend = MENDS.get(number, "Mend the disk, or name another place.")
        raise PublishError(Problem(Place(str(path)), "cannot-write", what, mend)) from error


MENDS = {
    **dict.fromkeys(FULL, "Free some space; the file is as it was."),
    **dict.fromkeys((errno.EACCES, errno.EPERM), "Ask who owns it for the right to write there; the folder counts too."),
    errno.EROFS: "Copy it to a disk that can be written.",
    **dict.fromkeys(APART, "Keep the file on the disk of the folder around it."),
    errno.ELOOP: "Delete the link that stands in its place.",
    errno.ENAMETOOLONG: "Choose a shorter name.",
    errno.EISDIR: "Name a file; there is a folder of this name.",
    errno.ENOTDIR: "Name a folder; there is a file of this name.",
    errno.EEXIST: "Choose another name: nothing is written over what is there.",
}
"""What to do about a fault, by its number."""


def read_regular(path: Path) -> bytes | None:
    """The bytes of an ordinary file; None where there is none.  Raises ``OSError``, for a link too."""
    try:
        handle = os.open(path, os.O_RDONLY | os.O_NOFOLLOW | os.O_NONBLOCK | os.O_CLOEXEC)
    except FileNotFoundError:
        return None
    with os.fdopen(handle, "rb") as stream:
        if not stat.S_ISREG(os.fstat(handle).st_mode):
            raise OSError(errno.EINVAL, "it is no ordinary file")
        return stream.read()


def write_beside(target: Path, data: bytes) -> Path:
    """A new file beside another, on the disk, with the other's rights, owner and group where there is one."""
    fresh = target.with_name(f".handouts-{secrets.token_hex(8)}.new")
    former = target.lstat() if target.exists() else None
    mode = 0o666 if former is None else 0o600
    handle = os.open(fresh, os.O_WRONLY | os.O_CREAT | os.O_EXCL | os.O_NOFOLLOW | os.O_CLOEXEC, mode)
    try:
        with os.fdopen(handle, "wb") as stream:
            stream.write(data)
            if former is not None:
                _take_rights(handle, former)
            stream.flush()
            os.fsync(handle)
    except BaseException:
        with suppress(OSError):
            fresh.unlink()
        raise
    return fresh


def put_new(target: Path, data: bytes) -> None:
    """A new file, whole or not at all; raises ``OSError``, also where there is something of this name."""
    if target.exists():
        raise OSError(errno.EEXIST, os.strerror(errno.EEXIST))
    fresh = write_beside(target, data)
    try:
        try:
            os.link(fresh, target)
        except OSError as error:
            if error.errno not in NO_LINKS or target.exists():
                raise
            fresh.replace(target)
    finally:
        with suppress(OSError):
            fresh.unlink()
    try:
        flush_folder(target.parent)
    except OSError:
        target.unlink()
        raise


def replace_if(target: Path, found: bytes, data: bytes) -> None:
    """New bytes for a file that has still those that were found; raises ``ChangedError`` or ``OSError``."""
    fresh = write_beside(target, data)
    try:
        if read_regular(target) != found:
            what = "the file was changed while this command ran, so nothing was written"
            raise ChangedError(Problem(Place(str(target)), "changed-meanwhile", what, "Run it again."))
        fresh.replace(target)
        flush_folder(target.parent)
    finally:
        with suppress(OSError):
            fresh.unlink()


def _take_rights(handle: int, former: os.stat_result) -> None:
    """The rights, owner and group of a former file, as far as this user may give them."""
    mode, own = stat.S_IMODE(former.st_mode), os.fstat(handle)
    if own.st_gid != former.st_gid:
        try:
            os.fchown(handle, -1, former.st_gid)
        except OSError:  # another group gets no more than everybody has
            mode = mode & ~0o070 | (mode & 0o007) << 3
    if own.st_uid != former.st_uid:
        with suppress(OSError):
            os.fchown(handle, former.st_uid, -1)
    with suppress(OSError):  # some disks know no rights
        os.fchmod(handle, mode)


def remove_left(folder: Path) -> None:
    """Remove what killed commands left in a folder; only under its lock, as others may be at work with such a file."""
    for entry in list(os.scandir(folder)):
        if LEFT.fullmatch(entry.name):
            with suppress(OSError):
                Path(entry.path).unlink()

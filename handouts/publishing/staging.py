"""A site in the making: a folder in which every file is new, or a further name of a file of the published site.

Nothing is ever written into a file that stands there, as it may be published under another name; a file is made anew
or not at all.  What was published before the previous site is kept as a spare: most of its files are those
of the published site, so it becomes the folder of the next one and only what differs is changed in it.
"""

from __future__ import annotations

import errno
import os
import shutil
import stat
import unicodedata
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from functools import cached_property
from pathlib import Path, PurePosixPath

from handouts.publishing.disk import NO_LINKS, as_problem
from handouts.publishing.manifest import (
    FILE_MODE,
    FOLDER_MODE,
    MANIFEST,
    FolderState,
    Mark,
    digest_of,
    flush_folder,
    look_at,
    manifest_of,
    mark_of,
    read_file,
    walk_files,
)
from handouts.publishing.untouched import Standing


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
    """A site in the making: each path is written or taken over once; nothing is on the disk before ``verify``."""

    root: Path
    standing: Standing
    written: dict[str, tuple[int, str]] = field(default_factory=dict)
    """Path to size and SHA-256 of what was written."""
    size: int = 0
    """Bytes written so far, without what was taken over."""
    folded: set[str] = field(default_factory=lambda: {MANIFEST})
    """Paths as a disk sees them that does not tell capitals apart."""
    _listed: tuple[int, bytes] = (-1, b"")
    """The manifest that was asked for last, of so many files; what was written once stays as it is."""
    _is_spare: bool = False
    """Whether the folder is one of a former site."""
    _spare: set[str] = field(default_factory=set)
    """Files that stand here already as further names of published ones, and that nobody asked for yet."""
    _whole: dict[str, Mark] = field(default_factory=dict)
    """Files that were taken over without being read."""
    _folders: set[str] = field(default_factory=lambda: {""})
    """Folders that are known to be there."""
    _changed: set[str] = field(default_factory=lambda: {""})
    """Folders in which a name came or went."""

    def adopt(self, spare: Path) -> None:
        """Begin with the files of the spare that are files of the published site too, or with an empty folder."""
        if not (self.standing.marks and spare.is_dir()):
            shutil.rmtree(spare, ignore_errors=True)
            _make_public_folder(self.root)
            return
        spare.rename(self.root)
        self.root.chmod(FOLDER_MODE)
        self._is_spare = True
        flush_folder(self.root.parent)  # or after a power cut one folder might have two names
        for path, entry in list(walk_files(str(self.root))):
            mark = self.standing.marks.get(path)
            if mark is not None and entry.inode() == mark.inode:
                self._spare.add(path)
            else:
                self._remove(path)

    def write(self, path: str, data: bytes) -> None:
        """Write one file; ``path`` is relative, with ``/``.  Raises ``PublishError`` or ``ValueError`` (a fault of ours).

        Where the published site has the same bytes there and nobody touched them, its file is taken over.
        """
        self._claim(path)
        entry = (len(data), digest_of(data))
        if self.standing.manifest.get(path) != entry or not self._take_untouched(path):
            self._create(path, data)
        self.written[path] = entry

    def take_over(self, path: str, expected: str = "") -> bool:
        """Take over a file of the published site, with this SHA-256 where one is expected.

        False where there is none, or it is not what its manifest says.
        """
        entry = self.standing.manifest.get(path)
        if entry is None or entry[1] != (expected or entry[1]):
            return False
        if not self._take_untouched(path):
            found = read_file(self.standing.site / path)
            if found is None or (len(found[0]), digest_of(found[0])) != entry:
                return False
            if not self._is_public(path) or not self._link(path):
                self._create(path, found[0])
        self._claim(path)
        self.written[path] = entry
        return True

    def _claim(self, path: str) -> None:
        parts, folded = PurePosixPath(path), unicodedata.normalize("NFKC", path.casefold())
        if parts.is_absolute() or ".." in parts.parts or str(parts) != path or folded in self.folded:
            raise ValueError(f"{path!r} cannot be written twice or outside the site")
        self.folded.add(folded)

    def _take_untouched(self, path: str) -> bool:
        """Take over a file that has the mark with which it was verified; False where it has another or must be read."""
        mark = self.standing.marks.get(path)
        if mark is None or self.standing.needs_reading(path):
            return False
        try:
            status = os.lstat(self.standing.site / path)
        except OSError:
            return False
        if mark_of(status) != mark or stat.S_IMODE(status.st_mode) != FILE_MODE or not (path in self._spare or self._link(path)):
            return False
        self._spare.discard(path)
        self._whole[path] = mark
        return True

    def _is_public(self, path: str) -> bool:
        """Whether a published file has the rights of one; where it has others it is made anew."""
        try:
            return stat.S_IMODE(os.lstat(self.standing.site / path).st_mode) == FILE_MODE
        except OSError:
            return False

    def is_standing_public(self) -> bool:
        """Whether every file of the published site that was written here too has the rights of one."""
        return all(map(self._is_public, (*self.written, MANIFEST)))

    def _link(self, path: str) -> bool:
        """A further name for a published file; False where it can have none, or where there is no such file."""
        with as_problem(self.root.parent, self.size):
            self._make_room(path)
            try:
                os.link(self.standing.site / path, self.root / path, follow_symlinks=False)
            except OSError as error:
                if error.errno in (*NO_LINKS, errno.ENOENT):
                    return False
                raise
        return True

    def _create(self, path: str, data: bytes) -> None:
        with as_problem(self.root.parent, self.size):
            self._make_room(path)
            _write_public(self.root / path, data)
        self.size += len(data)

    def _make_room(self, path: str) -> None:
        """See that the folder of a file is there and nothing stands in the file's place."""
        if path in self._spare:
            self._remove(path)
        elif self._is_spare and (self.root / path).is_dir():
            for each in [each for each in self._spare if each.startswith(f"{path}/")]:
                self._remove(each)
            for folder, _, _ in os.walk(self.root / path, topdown=False):
                Path(folder).rmdir()
                self._changed.discard(Path(folder).relative_to(self.root).as_posix())
        self._make_folder(path.rpartition("/")[0])

    def _make_folder(self, folder: str) -> None:
        if folder not in self._folders:
            above = folder.rpartition("/")[0]
            self._make_folder(above)
            if folder in self._spare:
                self._remove(folder)
            _make_public_folder(self.root / folder)
            self._folders.add(folder)
            self._changed.add(above)
        self._changed.add(folder)

    def _remove(self, path: str) -> None:
        (self.root / path).unlink()
        self._spare.discard(path)
        self._changed.add(path.rpartition("/")[0])

    def tidy(self) -> None:
        """Remove what the spare had and nobody asked for, and folders in which nothing is left."""
        for path in list(self._spare):
            self._remove(path)
        for folder in sorted(self._changed - {""}, reverse=True):
            self._remove_empty(folder)

    def _remove_empty(self, folder: str) -> None:
        """Remove a folder where it is empty, and those around it that are empty then."""
        while folder:
            try:
                (self.root / folder).rmdir()
            except OSError:
                return
            self._changed.discard(folder)
            folder = folder.rpartition("/")[0]
            self._changed.add(folder)

    def verify(self) -> FolderState:
        """Write the manifest, hold everything to it, and bring all that is new to the disk.  Raises ``OSError``."""
        _write_public(self.root / MANIFEST, self.manifest)
        return look_at(self.root, self.written, self._whole, flush=sorted(self._changed, reverse=True))

    def look_at_standing(self) -> FolderState:
        """Whether the published site is exactly what was written here."""
        return look_at(self.standing.site, self.written, self._whole)

    @property
    def files(self) -> Mapping[str, bytes]:
        """What was written so far, read when it is asked for."""
        return StagedFiles(self.root, tuple(self.written))

    @property
    def manifest(self) -> bytes:
        """The manifest of what was written so far."""
        if self._listed[0] != len(self.written):
            self._listed = (len(self.written), manifest_of(self.written))
        return self._listed[1]

    @property
    def digest(self) -> str:
        """SHA-256 of the manifest of what was written so far."""
        return digest_of(self.manifest)


def _make_public_folder(folder: Path) -> None:
    """A folder that a web server reads, whatever the umask."""
    folder.mkdir(exist_ok=True)
    folder.chmod(FOLDER_MODE)


def _write_public(path: Path, data: bytes) -> None:
    """A new file that a web server reads, whatever the umask."""
    with path.open("xb") as stream:
        os.fchmod(stream.fileno(), FILE_MODE)
        stream.write(data)

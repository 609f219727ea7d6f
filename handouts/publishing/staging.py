"""A site in the making: a folder in which every file is a further name of one that is kept or published, or new.

Nothing is ever written into a file that stands there, as it may have other names; a file is made anew or not at all.
What was published before the previous site is kept as a spare: most of its files are those of the published site, so it
becomes the folder of the next one and only what differs is changed in it.
"""

from __future__ import annotations

import errno
import os
import shutil
import stat
import unicodedata
from collections.abc import Iterator, Mapping
from contextlib import suppress
from dataclasses import dataclass, field
from functools import cached_property
from pathlib import Path
from zlib import crc32

from handouts.publishing.disk import NO_LINKS, as_problem
from handouts.publishing.manifest import (
    FILE_MODE,
    FOLDER_MODE,
    MANIFEST,
    Written,
    digest_of,
    flush_folder,
    is_of_size,
    look_at,
    manifest_of,
    read_file,
    walk_files,
)
from handouts.store.objects import NOTHING_KEPT, Objects

TURNS = 16
"""One untouched file in so many is read at each build: bytes that change on a disk without being written (rot) are found so."""


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


@dataclass(frozen=True, slots=True)
class Standing:
    """The published site, before another one takes its place."""

    site: Path
    manifest: Written = field(default_factory=dict)
    """What should stand in it; empty where that is not known."""
    since_ns: int = 0
    """When all of it was verified last, by the clock of its disk; 0 where that is not known.

    Whoever writes into a file, replaces it or sets its times back changes when it was changed last (ctime), which nobody can set.
    """

    def find(self, path: str) -> tuple[os.stat_result, bool] | None:
        """A published file of the size that it should have, and whether nobody touched it since it was verified; None where there is none."""
        try:
            status = os.lstat(f"{self.site}/{path}")
        except OSError:
            return None
        if not is_of_size(status, self.manifest[path][0]) or stat.S_IMODE(status.st_mode) != FILE_MODE:
            return None
        return status, status.st_ctime_ns < self.since_ns and crc32(path.encode()) % TURNS != self.since_ns // 1_000_000 % TURNS


@dataclass(slots=True)
class Staging:
    """A site in the making: each path is written or taken over once; nothing is on the disk before ``verify``."""

    root: Path
    standing: Standing
    kept: Objects = NOTHING_KEPT
    """Where the files of sites are kept."""
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
    _whole: set[str] = field(default_factory=set)
    """Files that were taken over without being read."""
    _folders: set[str] = field(default_factory=lambda: {""})
    """Folders that are known to be there."""
    _changed: set[str] = field(default_factory=lambda: {""})
    """Folders in which a name came or went."""

    def adopt(self, spare: Path) -> None:
        """Begin with the files of the spare that are files of the published site too, or with an empty folder."""
        if not (self.standing.since_ns and spare.is_dir()):
            shutil.rmtree(spare, ignore_errors=True)
            _make_public_folder(str(self.root))
            return
        spare.rename(self.root)
        self.root.chmod(FOLDER_MODE)
        self._is_spare = True
        flush_folder(self.root.parent)  # or after a power cut one folder might have two names
        for path, entry in list(walk_files(str(self.root))):
            found = self.standing.find(path) if path in self.standing.manifest else None
            if found is not None and entry.inode() == found[0].st_ino:
                self._spare.add(path)
            else:
                self._remove(path)

    def write(self, path: str, data: bytes) -> None:
        """Write one file; ``path`` is relative, with ``/``.  Raises ``PublishError`` or ``ValueError`` (a fault of ours).

        Where the published site has the same bytes there, its file is taken over.
        """
        self._claim(path)
        entry = (len(data), digest_of(data))
        if self.standing.manifest.get(path) != entry or not self._take_published(path):
            self._create(path, data)
        self.written[path] = entry

    def take_over(self, path: str, expected: str = "") -> bool:
        """Take over what the published site has at a path, with this SHA-256 where one is expected, or else what is kept with it.

        False where there is neither.
        """
        entry = self.standing.manifest.get(path)
        name = expected or (entry[1] if entry else "")
        if entry is None or entry[1] != name or not self._take_published(path):
            data = self.kept.get(name)
            if data is None:
                return False
            entry = (len(data), name)
            self._create(path, data)
        self._claim(path)
        self.written[path] = entry
        return True

    def _claim(self, path: str) -> None:
        folded = path.lower() if path.isascii() else unicodedata.normalize("NFKC", path.casefold())
        if folded in self.folded or not {"", ".", ".."}.isdisjoint(path.split("/")):
            raise ValueError(f"{path!r} cannot be written twice or outside the site")
        self.folded.add(folded)

    def _take_published(self, path: str) -> bool:
        """Take over a published file; False where it is not what its manifest says, or has other rights."""
        found = self.standing.find(path)
        if found is None:
            return False
        if found[1] and (path in self._spare or self._link(f"{self.standing.site}/{path}", path)):
            self._spare.discard(path)
            self._whole.add(path)
            return True
        data = read_file(f"{self.standing.site}/{path}")
        if data is None or (len(data), digest_of(data)) != self.standing.manifest[path]:
            return False
        if not self._link(f"{self.standing.site}/{path}", path):
            self._create(path, data)
        return True

    def _is_public(self, path: str) -> bool:
        """Whether a published file has the rights of one; where it has others it is made anew."""
        try:
            return stat.S_IMODE(os.lstat(f"{self.standing.site}/{path}").st_mode) == FILE_MODE
        except OSError:
            return False

    def is_standing_public(self) -> bool:
        """Whether every file of the published site that was written here too has the rights of one."""
        return all(map(self._is_public, (*self.written, MANIFEST)))

    def _link(self, source: str, path: str) -> bool:
        """A further name for a file; False where it can have none, or where there is no such file."""
        with as_problem(self.root.parent, self.size):
            self._make_room(path)
            try:
                os.link(source, f"{self.root}/{path}", follow_symlinks=False)
            except OSError as error:
                if error.errno in (*NO_LINKS, errno.ENOENT):
                    return False
                raise
        return True

    def _create(self, path: str, data: bytes) -> None:
        """A file that the published site has not: a further name of the one that is kept, or a new one."""
        name = ""
        with suppress(OSError):  # what cannot be kept is published all the same
            name = self.kept.put(data) if self.kept.folder else ""
        if not (name and self._link(str(self.kept.path(name)), path)):
            with as_problem(self.root.parent, self.size):
                self._make_room(path)
                _write_public(f"{self.root}/{path}", data)
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
            _make_public_folder(f"{self.root}/{folder}" if folder else str(self.root))
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

    def verify(self) -> str | None:
        """Write the manifest, hold everything to it, and bring all that is new to the disk; tells what is damaged.  Raises ``OSError``."""
        _write_public(f"{self.root}/{MANIFEST}", self.manifest)
        return look_at(self.root, self.written, self._whole, self.standing.since_ns, flush=sorted(self._changed, reverse=True))

    def find_damage_standing(self) -> str | None:
        """How the published site is not exactly what was written here."""
        return look_at(self.standing.site, self.written, self._whole, self.standing.since_ns)

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


def _make_public_folder(folder: str) -> None:
    """A folder that a web server reads, whatever the umask."""
    path = Path(folder)
    path.mkdir(exist_ok=True)
    path.chmod(FOLDER_MODE)


def _write_public(path: str, data: bytes) -> None:
    """A new file that a web server reads, whatever the umask."""
    with Path(path).open("xb") as stream:
        os.fchmod(stream.fileno(), FILE_MODE)
        stream.write(data)

"""The reading edge: folders on disk to mappings from path to bytes.  Never follows a link, never opens a device."""

from __future__ import annotations

import errno
import os
import stat
from dataclasses import dataclass, field
from pathlib import Path

from handouts.problems import Grade, Place, Problem

MAX_FILE_BYTES = 8 * 1024 * 1024
"""Largest file read from a library, in bytes; a translation catalogue of 1,000 exercises needs about 5 MB."""
MAX_ALL_BYTES = 256 * 1024 * 1024
"""Most bytes read of one library: 1,000 exercises in ten languages need about 60 MB."""
MAX_FILES = 20_000
"""Most files of one library; 1,000 exercises in ten languages are about 1,100."""
OUTPUT_MARK = ".handouts"
"""File that marks a folder as output of this program; such a folder in a library is no part of it."""
OF_SYSTEMS = ("thumbs.db", "desktop.ini", "ehthumbs.db")
"""What Windows leaves in the folders that it shows, in small letters; it means nothing."""
MAX_DEPTH = 8
"""Deepest folder inside a library; a library needs 1."""


@dataclass(slots=True)
class _Found:
    """What was read so far."""

    name: str
    files: dict[str, bytes] = field(default_factory=dict)
    problems: list[Problem] = field(default_factory=list)
    seen: int = 0
    bytes: int = 0

    def wrong(self, path: str, rule: str, what: str, mend: str, grade: Grade = Grade.ERROR) -> None:
        """Note a problem."""
        self.problems.append(Problem(Place(f"{self.name}/{path}" if path else self.name), rule, what, mend, grade))

    @property
    def full(self) -> bool:
        """Whether no more is read."""
        return self.seen > MAX_FILES or self.bytes > MAX_ALL_BYTES


def read_folder(root: Path, name: str) -> tuple[dict[str, bytes], list[Problem]]:
    """Every regular file below ``root`` by its path with ``/``; hidden files are passed over, and what builds wrote.

    ``name`` stands before each path in a problem.
    """
    if not root.is_dir():
        return {}, [Problem(Place(name), "no-folder", f"there is no folder '{root}'", "Name the library's folder.")]
    found = _Found(name)
    _walk(root, "", found)
    if found.full:
        limit = MAX_ALL_BYTES // 1024 // 1024
        what = f"this folder holds more than {MAX_FILES} files or {limit} MiB"
        found.wrong("", "too-many", what, "Name the library's own folder, and take out what is not part of it.")
    return found.files, found.problems


def _walk(folder: Path, prefix: str, found: _Found) -> None:
    try:
        entries = sorted(os.scandir(folder), key=lambda item: item.name)
    except OSError as error:
        found.wrong(prefix.rstrip("/"), "unreadable", f"the folder cannot be read: {error.strerror}", _PERMISSIONS)
        return
    if prefix and any(entry.name == OUTPUT_MARK for entry in entries):
        return
    if prefix and not entries:
        mend = "Delete it, or put into it what belongs there."
        found.wrong(prefix.rstrip("/"), "empty-folder", "there is nothing in this folder", mend, Grade.NOTICE)
    for entry in entries:
        if entry.name.startswith(".") or entry.name.endswith("~") or entry.name.lower() in OF_SYSTEMS:
            continue
        found.seen += 1
        if found.full:
            return
        _take(entry, f"{prefix}{entry.name}", found)


_PERMISSIONS = "Check its permissions."


def _take(entry: os.DirEntry[str], path: str, found: _Found) -> None:
    try:
        entry.name.encode()
        mode, size = (status := entry.stat(follow_symlinks=False)).st_mode, status.st_size
    except UnicodeEncodeError:
        found.wrong(path, "file-name", f"the name '{path}' is not UTF-8 text", "Give it a name of plain letters.")
        return
    except OSError as error:
        found.wrong(path, "unreadable", f"'{path}' cannot be read: {error.strerror}", _PERMISSIONS)
        return
    if stat.S_ISLNK(mode):
        found.wrong(path, "link", f"'{path}' is a link to another place", "Put the file itself into the library.")
    elif stat.S_ISDIR(mode) and path.count("/") + 1 >= MAX_DEPTH:
        found.wrong(path, "too-deep", f"folders are nested more than {MAX_DEPTH - 1} deep", "Take this folder out.")
    elif stat.S_ISDIR(mode):
        _walk(Path(entry.path), f"{path}/", found)
    elif not stat.S_ISREG(mode):
        found.wrong(path, "not-a-file", f"'{path}' is not an ordinary file", "Take it out of the library.")
    elif size > MAX_FILE_BYTES:
        limit = MAX_FILE_BYTES // 1024 // 1024
        found.wrong(path, "too-long", f"'{path}' is larger than {limit} MiB", "Split it, or take it out.")
    else:
        _read_into(entry.path, path, found)


def _read_into(source: str, path: str, found: _Found) -> None:
    """Reads what is still an ordinary file when it is opened, and no more of it than fits."""
    try:
        handle = os.open(source, os.O_RDONLY | getattr(os, "O_NOFOLLOW", 0) | getattr(os, "O_NONBLOCK", 0))
        with os.fdopen(handle, "rb") as stream:
            if not stat.S_ISREG(os.fstat(handle).st_mode):
                raise OSError(errno.EINVAL, "it is no ordinary file")
            data = stream.read(MAX_FILE_BYTES + 1)
            if len(data) > MAX_FILE_BYTES:
                raise OSError(errno.EFBIG, "it grows while it is read")
    except OSError as error:
        found.wrong(path, "unreadable", f"'{path}' cannot be read: {error.strerror}", _PERMISSIONS)
        return
    found.bytes += len(data)
    found.files[path] = data


def read_file(path: Path, most: int = MAX_ALL_BYTES) -> tuple[bytes, list[Problem]]:
    """One file that a person named; no bytes and a problem where it cannot be read or has more than ``most`` bytes."""
    try:
        if not stat.S_ISREG(path.stat().st_mode):
            return b"", [Problem(Place(str(path)), "not-a-file", f"'{path}' is not an ordinary file", "Name a file.")]
        with path.open("rb") as stream:
            data = stream.read(most + 1)
    except OSError as error:
        what = f"'{path}' cannot be read: {error.strerror}"
        return b"", [Problem(Place(str(path)), "unreadable", what, "Check its name and its permissions.")]
    if len(data) > most:
        what = f"'{path}' is larger than {most // 1024 // 1024} MiB"
        return b"", [Problem(Place(str(path)), "too-long", what, "Split it.")]
    return data, []

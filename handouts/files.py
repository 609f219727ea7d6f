"""The reading edge: folders on disk to mappings from path to bytes.  Never follows a link, never opens a device."""

from __future__ import annotations

import os
import stat
from pathlib import Path

from handouts.problems import Place, Problem

MAX_FILE_BYTES = 8 * 1024 * 1024
"""Largest file read from a library, in bytes; a translation catalogue of 1,000 exercises needs about 5 MB."""


def read_folder(root: Path, name: str) -> tuple[dict[str, bytes], list[Problem]]:
    """Every regular file below ``root`` by its path with ``/``; hidden files are passed over.

    ``name`` stands before each path in a problem.
    """
    files: dict[str, bytes] = {}
    problems: list[Problem] = []
    if not root.is_dir():
        return {}, [Problem(Place(name), "no-folder", f"there is no folder '{root}'", "Name the library's folder.")]
    _walk(root, "", name, files, problems)
    return files, problems


def _walk(folder: Path, prefix: str, name: str, files: dict[str, bytes], problems: list[Problem]) -> None:
    for entry in sorted(os.scandir(folder), key=lambda item: item.name):
        if entry.name.startswith(".") or entry.name.endswith("~"):
            continue
        path = f"{prefix}{entry.name}"
        place = Place(f"{name}/{path}")
        mode = entry.stat(follow_symlinks=False).st_mode
        if stat.S_ISLNK(mode):
            problems.append(
                Problem(place, "link", f"'{path}' is a link to another place", "Put the file itself into the library.")
            )
        elif stat.S_ISDIR(mode):
            _walk(Path(entry.path), f"{path}/", name, files, problems)
        elif not stat.S_ISREG(mode):
            problems.append(
                Problem(place, "not-a-file", f"'{path}' is not an ordinary file", "Take it out of the library.")
            )
        elif entry.stat(follow_symlinks=False).st_size > MAX_FILE_BYTES:
            limit = MAX_FILE_BYTES // 1024 // 1024
            problems.append(
                Problem(place, "too-long", f"'{path}' is larger than {limit} MiB", "Split it, or take it out.")
            )
        else:
            _read_into(entry.path, path, place, files, problems)


def _read_into(source: str, path: str, place: Place, files: dict[str, bytes], problems: list[Problem]) -> None:
    try:
        handle = os.open(source, os.O_RDONLY | getattr(os, "O_NOFOLLOW", 0))
        with os.fdopen(handle, "rb") as stream:
            files[path] = stream.read()
    except OSError as error:
        problems.append(
            Problem(place, "unreadable", f"'{path}' cannot be read: {error.strerror}", "Check its permissions.")
        )

"""Power loss by replay of a log of steps: what was not flushed may be on the disk or not, in any order.

The model is the strict one: data of a file is certain after fsync of the file, a name after fsync of its
folder; before that each change of a name, and each written piece of a file from its start, may have reached
the disk or not.  A rename or an exchange inside one folder is one change.  Source: fsync(2), rename(2); the model
of Pillai et al., "All File Systems Are Not Created Equal", OSDI 2014.
"""

from __future__ import annotations

import os
from collections.abc import Iterable
from dataclasses import dataclass, field
from pathlib import Path
from random import Random

from tests.faults.layer import Step

Tree = dict[str, "bytes | Tree"]
"""A folder: names to bytes or folders."""


@dataclass(eq=False)
class File:
    """Bytes that are certain, and pieces written since."""

    certain: bytes = b""
    pieces: list[bytes | None] = field(default_factory=list)
    """Appended bytes; None cuts the file to nothing."""

    def content(self, count: int) -> bytes:
        """The bytes with the first ``count`` pieces."""
        data = self.certain
        for piece in self.pieces[:count]:
            data = b"" if piece is None else data + piece
        return data


@dataclass(eq=False)
class Folder:
    """Names that are certain, and changes since; each change sets or removes (None) some names at once."""

    certain: dict[str, File | Folder] = field(default_factory=dict)
    changes: list[dict[str, File | Folder | None]] = field(default_factory=list)

    def names(self, chosen: Iterable[int]) -> dict[str, File | Folder]:
        """The names with the chosen changes, in their order."""
        names = dict(self.certain)
        for number in chosen:
            for name, item in self.changes[number].items():
                if item is None:
                    names.pop(name, None)
                else:
                    names[name] = item
        return names

    def now(self) -> dict[str, File | Folder]:
        """The names as running programs see them."""
        return self.names(range(len(self.changes)))


def read_disk(path: Path, known: dict[int, File] | None = None) -> Folder:
    """A folder on the disk, all of it certain; a file with several names is one."""
    files = {} if known is None else known
    return Folder({
        item.name: read_disk(item, files) if item.is_dir() else files.setdefault(item.stat().st_ino, File(item.read_bytes()))
        for item in path.iterdir()
    })


def find(root: Folder, path: str) -> File | Folder:
    """What stands at a path now."""
    item: File | Folder = root
    for name in filter(None, path.split("/")):
        assert isinstance(item, Folder)
        item = item.now()[name]
    return item


def apply_step(root: Folder, step: Step) -> None:
    """One step of the log."""
    place, _, name = step.path.rpartition("/")
    parent = find(root, place)
    assert isinstance(parent, Folder)
    there = parent.now().get(name)
    if step.kind in ("mkdir", "create") and there is None:
        parent.changes.append({name: Folder() if step.kind == "mkdir" else File()})
    elif step.kind in ("unlink", "rmdir"):
        parent.changes.append({name: None})
    elif step.kind == "link":
        other, _, to = step.more.rpartition("/")
        into = find(root, other)
        assert isinstance(into, Folder) and isinstance(there, File)
        into.changes.append({to: there})
    elif step.kind in ("rename", "exchange"):
        to_place, _, to = step.more.rpartition("/")
        assert there is not None
        if to_place != place:  # two changes, each of which may be lost
            into = find(root, to_place)
            assert isinstance(into, Folder) and step.kind == "rename"
            parent.changes.append({name: None})
            into.changes.append({to: there})
            return
        parent.changes.append({name: parent.now()[to] if step.kind == "exchange" else None, to: there})
    elif step.kind == "write" and isinstance(there, File):
        there.pieces.append(step.more)
    elif (step.kind == "create" and step.more) or step.kind == "truncate":
        assert isinstance(there, File)
        there.pieces.append(None)
    elif step.kind == "fsync":
        flush(find(root, step.path))


def flush(item: File | Folder) -> None:
    """fsync: what there is now is certain."""
    if isinstance(item, File):
        item.certain, item.pieces = item.content(len(item.pieces)), []
    else:
        item.certain, item.changes = item.now(), []


def after_loss(item: File | Folder, random: Random, keep: float, keep_data: float) -> bytes | Tree:
    """A state that the disk may be in: each change is kept with chance ``keep``, data up to a piece with ``keep_data``."""
    if isinstance(item, File):
        return item.content(sum(random.random() < keep_data for _ in item.pieces))
    chosen = [number for number in range(len(item.changes)) if random.random() < keep]
    return {name: after_loss(each, random, keep, keep_data) for name, each in item.names(chosen).items()}


def states(root: Folder, random: Random, count: int) -> list[Tree]:
    """Nothing kept, all kept, names without data, data without names, and ``count`` states by chance."""
    chances = [(0.0, 0.0), (1.0, 1.0), (1.0, 0.0), (0.0, 1.0), *((random.random(), random.random()) for _ in range(count))]
    found = (after_loss(root, random, keep, keep_data) for keep, keep_data in chances)
    return [state for state in found if isinstance(state, dict)]


def write_disk(tree: Tree, path: Path) -> None:
    """A state as folders and files, for the next build."""
    os.mkdir(path)  # noqa: PTH102
    for name, item in tree.items():
        if isinstance(item, dict):
            write_disk(item, path / name)
        else:
            (path / name).write_bytes(item)


def flatten(tree: Tree, prefix: str = "") -> dict[str, bytes]:
    """Every file by its path."""
    files: dict[str, bytes] = {}
    for name, item in tree.items():
        files |= flatten(item, f"{prefix}{name}/") if isinstance(item, dict) else {f"{prefix}{name}": item}
    return files

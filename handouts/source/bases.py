"""The folders that a library stands on: read like its own, beside it, each file under its true name.  Never writes.

``clinic.yaml`` names the base by a path from the library's own folder (``base: ../shared-library``).  A link on that path,
a ring and a folder around or inside the library are refused.
"""

from __future__ import annotations

import posixpath
import re
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import TYPE_CHECKING

from handouts.problems import Place, Problem
from handouts.source.files import read_folder

if TYPE_CHECKING:
    from handouts.source.nodes import Scalar

KEY, HOLDER = "base", "clinic.yaml"
"""The key that names a base, and the file that it stands in."""
PATH_PATTERN = r"(?:\.\./){1,4}[^\W_.][\w .-]{0,80}(?:/[^\W_.][\w .-]{0,80}){0,4}/?"
"""A path that begins with ``../`` and names folders below."""
PATH_WANTED = "a path from this folder to that of the base, such as ../shared-library"
MOST_BASES = 3
"""Most libraries below a library; a clinic on a region's library on a country's has two."""


class LibraryFiles(dict[str, bytes]):
    """The files of a library by path, with those of the library that it stands on."""

    def __init__(self, files: Mapping[str, bytes], name: str) -> None:
        super().__init__(files)
        self.name = name
        """What stands before each path in a problem."""
        self.base: LibraryFiles | None = None
        self.is_whole = True
        """Whether the base that it names could be read."""
        self.path = ""
        """The base's folder, as ``clinic.yaml`` names it."""
        self.root = Path()

    def layers(self) -> Iterator[LibraryFiles]:
        """This library, then what it stands on, to the lowest."""
        yield self
        if self.base is not None:
            yield from self.base.layers()

    def named(self) -> dict[str, bytes]:
        """Every file of every layer by its true name."""
        return {f"{layer.name}/{path}": data for layer in self.layers() for path, data in layer.items()}


def read_with_base(root: Path, name: str, base: Path | None = None) -> tuple[LibraryFiles, list[Problem]]:
    """The files of a library and of what it stands on; ``base`` is a folder to take in place of the one that it names."""
    found, problems = _read(root, name)
    if not found.path:
        return found, problems
    if base is not None:
        found.base, more = read_with_base(base, str(base))
        found.is_whole = found.base.is_whole and bool(found.base)
        return found, problems + more
    problems += _stand(found, [root.resolve()])
    return found, problems


def _read(root: Path, name: str) -> tuple[LibraryFiles, list[Problem]]:
    files, problems = read_folder(root, name)
    found = LibraryFiles(files, name)
    found.root = root
    node = _find_key(files.get(HOLDER, b""), f"{name}/{HOLDER}")
    found.path = node.text.strip().rstrip("/") if node else ""
    return found, problems


def _find_key(data: bytes, file: str) -> Scalar | None:
    """The value of ``base``; None where there is none, or where the file cannot be read: its reader says why."""
    if not re.search(rb"\bbase[\"']?\s*:", data):
        return None
    from handouts.source.nodes import Scalar, compose, read_text

    text, _ = read_text(data, file)
    root, _ = compose(text, file)
    node = root.get(KEY) if root else None
    return node if isinstance(node, Scalar) else None


def _stand(found: LibraryFiles, chain: list[Path]) -> list[Problem]:
    """Reads what a library stands on; what is wrong with it is said where the base is named."""
    file = f"{found.name}/{HOLDER}"
    node = _find_key(found[HOLDER], file)
    assert node is not None
    found.is_whole = False
    if not re.fullmatch(PATH_PATTERN, node.text.strip()):
        return [Problem(node.place, "base-path", f"'{node.text}' is not {PATH_WANTED}", "Write it so; the folder lies beside this library's own.")]
    target, refused = _find_folder(chain[-1], found.path, node.place)
    if target is None:
        return refused
    refused = _judge(target, chain, node)
    if refused:
        return refused
    base, problems = _read(target, posixpath.normpath(posixpath.join(found.name, found.path)))
    if HOLDER not in base:
        what = f"the folder '{found.path}' holds no library"
        return [*problems, Problem(node.place, "base-missing", what, f"Name the folder in which the base's {HOLDER} stands.")]
    found.base, found.is_whole = base, True
    if base.path:
        problems += _stand(base, [*chain, target])
        found.is_whole = base.is_whole
    return problems


def _find_folder(root: Path, path: str, place: Place) -> tuple[Path | None, list[Problem]]:
    """The folder that a path leads to, step by step: no step may be a link."""
    here = root
    for part in path.split("/"):
        here = here.parent if part == ".." else here / part
        if part != ".." and here.is_symlink():
            what = f"'{part}' on the way to the base '{path}' is a link to another place"
            return None, [Problem(place, "base-link", what, "Name the folder itself.")]
    if not here.is_dir():
        what = f"there is no folder '{path}' beside this library"
        return None, [Problem(place, "base-missing", what, "Put the base there, or name the folder in which it stands.")]
    return here, []


def _judge(target: Path, chain: list[Path], node: Scalar) -> list[Problem]:
    """What is wrong with standing on a folder."""
    if target in chain:
        what = f"'{node.text}' leads back to a library that stands on this one, so there is nothing below"
        return [Problem(node.place, "base-ring", what, "Take 'base' out of one of them.")]
    if any(target in each.parents or each in target.parents for each in chain):
        what = f"the base '{node.text}' and a library that stands on it lie one inside the other"
        return [Problem(node.place, "base-inside", what, "Put them side by side, so that no file belongs to both.")]
    if len(chain) > MOST_BASES:
        what = f"more than {MOST_BASES} libraries stand on one another"
        return [Problem(node.place, "base-deep", what, "Join some of them.")]
    return []

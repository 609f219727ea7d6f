"""The single files of a clinic over those of its base: key by key, and entry by entry where a list has names.  Bytes in, values and problems out."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace
from typing import Any

from handouts.library.base_shapes import BASE_FIELDS, OWN_KEYS
from handouts.library.declare import FILES
from handouts.library.names import SINGLE_FILES
from handouts.problems import Problem
from handouts.source.bases import HOLDER, LibraryFiles
from handouts.source.nodes import Entry, Node, Scalar, Sequence, compose, read_text
from handouts.source.nodes import Mapping as MappingNode

NOT_TAKEN = frozenset({*OWN_KEYS, *BASE_FIELDS, "former sites", "taken off"})
"""Keys of ``clinic.yaml`` that tell of the library in which they stand."""
Singles = Mapping[str, MappingNode]
"""The keys of each single file by its path."""


def read_singles(files: LibraryFiles, problems: list[Problem]) -> Singles:
    """The single files of a library over those of all that it stands on; problems are those of its own files."""
    under = read_singles(files.base, []) if files.base is not None else {}
    found = dict(under)
    for path in SINGLE_FILES:
        if path not in files:
            continue
        text, wrong = read_text(files[path], f"{files.name}/{path}")
        node, more = compose(text, f"{files.name}/{path}") if not wrong else (None, [])
        problems += [*wrong, *more]
        if node is not None:
            base = under.get(path)
            found[path] = node if base is None else _clinic(node, base) if path == HOLDER else _lists(node, base)
    return found


def read_values(singles: Singles, problems: list[Problem]) -> dict[str, Any]:
    """The value of each single file, by its kind."""
    return {SINGLE_FILES[path]: FILES[SINGLE_FILES[path]].read(node, problems) for path, node in singles.items()}


def _clinic(own: MappingNode, base: MappingNode) -> MappingNode:
    """The clinic's keys, and of the base those that it does not write."""
    written = {entry.key for entry in own.entries}
    taken = [entry for entry in base.entries if entry.key not in written and entry.key not in NOT_TAKEN]
    return replace(own, entries=(*own.entries, *taken))


def _lists(own: MappingNode, base: MappingNode) -> MappingNode:
    """Lists of named entries: the base's in their order, each in the clinic's words where it has some; then the clinic's."""
    mine = {entry.key: entry for entry in own.entries}
    keys = list(dict.fromkeys((*(entry.key for entry in base.entries), *mine)))
    return replace(own, entries=tuple(_joined(mine.get(key), _entry(base.entries, key)) for key in keys))


def _entry(entries: Iterable[Entry], key: str) -> Entry | None:
    return next((entry for entry in entries if entry.key == key), None)


def _joined(own: Entry | None, base: Entry | None) -> Entry:
    if own is None or base is None:
        found = own or base
        assert found is not None
        return found
    if not (isinstance(own.value, Sequence) and isinstance(base.value, Sequence)):
        return own
    names = {name: item for item in own.value.items if (name := _name(item))}
    kept = tuple(names.get(_name(item), item) for item in base.value.items)
    there = {_name(item) for item in base.value.items}
    added = tuple(item for item in own.value.items if not _name(item) or _name(item) not in there)
    return replace(own, value=replace(own.value, items=(*kept, *added)))


def _name(node: Node) -> str:
    slug = node.get("slug") if isinstance(node, MappingNode) else None
    return slug.text if isinstance(slug, Scalar) else ""

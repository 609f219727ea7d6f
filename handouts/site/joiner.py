"""Joins ES modules into one classic script: browsers refuse modules from ``file://``.

Only what our own sources use is understood: top-level ``import { a, b } from "./x.js";`` and named
``export`` before ``function``, ``const``, ``let`` or ``class``.  Anything else about modules is refused,
so nothing is dropped silently.  Two modules may not declare the same top-level name.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from posixpath import dirname, join, normpath

_IMPORT = re.compile(r'^import \{([\w$,\s]+)\} from "(\.{1,2}/[\w./-]+\.js)";\n?', re.MULTILINE)
_EXPORT = re.compile(r"^export (?=(?:async )?function |const |let |class )", re.MULTILINE)
_DECLARED = re.compile(r"^(export )?(?:async )?(?:function\*?|const|let|class) ([\w$]+)", re.MULTILINE)
_LEFT_OVER = re.compile(r"^\s*(?:import|export)\b[^\n]*|\bimport\s*\([^\n]*|\bimport\.meta\b", re.MULTILINE)
_COMMENT = re.compile(r"^\s*/\*\*?.*?\*/\n?|^\s*//[^\n]*\n", re.MULTILINE | re.DOTALL)


class JoinError(ValueError):
    """A script that cannot be joined: which one, and why."""


def join_scripts(sources: Mapping[str, str], entry: str) -> str:
    """One strict classic script that runs ``entry`` after everything that it imports.

    ``sources`` maps paths with ``/`` to the text of modules.  Raises ``JoinError``.
    """
    order: list[str] = []
    _visit(sources, entry, (), order)
    owners: dict[str, str] = {}
    for path in order:
        for _, name in _DECLARED.findall(sources[path]):
            if name in owners:
                raise JoinError(f"{path}: '{name}' is also declared in {owners[name]}")
            owners[name] = path
    body = "\n".join(_strip(path, sources[path]) for path in order)
    return f'(function () {{\n"use strict";\n{body}}})();\n'


def _visit(sources: Mapping[str, str], path: str, above: tuple[str, ...], order: list[str]) -> None:
    if path in order:
        return
    if path in above:
        raise JoinError(f"{path}: imports itself through {' -> '.join(above)}")
    if path not in sources:
        raise JoinError(f"{above[-1] if above else path}: there is no script '{path}'")
    for names, address in _IMPORT.findall(sources[path]):
        target = normpath(join(dirname(path), address))
        _visit(sources, target, (*above, path), order)
        offered = {name for exported, name in _DECLARED.findall(sources[target]) if exported}
        for name in (word.strip() for word in names.split(",")):
            if name and name not in offered:
                raise JoinError(f"{path}: '{target}' does not export '{name}'")
    order.append(path)


def _strip(path: str, source: str) -> str:
    """A module without its imports, the word export, and comments that fill whole lines."""
    bare = _EXPORT.sub("", _IMPORT.sub("", _COMMENT.sub("", source)))
    left = _LEFT_OVER.search(bare)
    if left:
        raise JoinError(f"{path}: cannot join '{left[0].strip()}'")
    return re.sub(r"\n{2,}", "\n", bare).strip("\n") + "\n"

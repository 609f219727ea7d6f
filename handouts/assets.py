"""Where the project's own templates, styles, scripts, fonts and starter library are, in a checkout and in a wheel."""

from __future__ import annotations

from functools import cache
from pathlib import Path

from handouts.files import read_folder

_PACKAGE = Path(__file__).parent


def templates_root() -> Path:
    """The folder ``templates``: beside the package in a checkout, inside it in a wheel."""
    packed = _PACKAGE / "_templates"
    return packed if packed.is_dir() else _PACKAGE.parent / "templates"


@cache
def read_templates() -> dict[str, bytes]:
    """Every file of ``templates`` by its path with ``/``; read once in a process."""
    files, problems = read_folder(templates_root(), "templates")
    if problems:
        raise RuntimeError(f"the project's own templates cannot be read: {problems[0].what}")
    return files

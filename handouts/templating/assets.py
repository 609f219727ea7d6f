"""Where the project's own templates, styles, scripts, fonts and starter library are, in a checkout and in a wheel."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from pathlib import Path

from handouts.source.files import read_folder

_PACKAGE = Path(__file__).parents[1]


def templates_root() -> Path:
    """The folder ``templates``: beside the package in a checkout, inside it in a wheel."""
    packed = _PACKAGE / "_templates"
    return packed if packed.is_dir() else _PACKAGE.parent / "templates"


def read_templates(*only: tuple[str, ...]) -> dict[str, bytes]:
    """The files of ``templates`` by their path with ``/``: every one, or those at or below some paths.

    What a module reads here for itself it names as ``TEMPLATES``, by which the store knows that results depend on it.
    """
    return {path: data for path, data in _read_all().items() if all(path.startswith(paths) for paths in only)}


def read_example() -> dict[str, bytes]:
    """The files of the demo library by their path: beside the package in a checkout, inside it in a wheel."""
    packed = _PACKAGE / "_example"
    files, problems = read_folder(packed if packed.is_dir() else _PACKAGE.parent / "content", "example")
    if problems:
        raise RuntimeError(f"the example library cannot be read: {problems[0].what}")
    return files


def read_paper(name: str) -> str:
    """A paper for people who run the program: in a checkout beside ``templates``, in a wheel among them."""
    root = templates_root()
    places = (root / name, root / "papers" / name, root.parent / name)
    return next(path for path in places if path.is_file()).read_text("utf-8")


@cache
def _read_all() -> Mapping[str, bytes]:
    files, problems = read_folder(templates_root(), "templates")
    if problems:
        raise RuntimeError(f"the project's own templates cannot be read: {problems[0].what}")
    return files

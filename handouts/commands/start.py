"""``handouts start``: a small new library, complete and without problems, to begin from."""

from __future__ import annotations

import argparse
import re
import secrets
import sys
from collections.abc import Mapping
from pathlib import Path

from handouts.commands.report import CANNOT_RUN, DONE
from handouts.figure import figure_json_schema
from handouts.library.read import read_library
from handouts.library.scalars import CODE_CHARACTERS, CODE_PATTERN
from handouts.library.schema import schema_files
from handouts.publishing.author_files import hold_library
from handouts.publishing.locks import LOCK
from handouts.templating.assets import read_templates

STARTER = "starter/"
_CODE = re.compile(rb"(?<=^code: )([2-9A-Z]{4})$", re.MULTILINE)


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """The command's own options."""
    parser.add_argument("folder", type=Path, help="a folder that does not exist yet, or is empty")


def run(arguments: argparse.Namespace) -> int:
    """Write the starter library and the schemas for editors."""
    folder: Path = arguments.folder
    if folder.exists() and not folder.is_dir():
        return _refuse(folder)
    with hold_library(folder, "start", make=True) as held:
        if any(item.name != LOCK for item in folder.iterdir()):
            return _refuse(folder)
        held.add(with_own_codes(starter_files()).items())
    print(f"{folder}: a library with two exercises to change. Next: handouts preview {folder}")
    return DONE


def with_own_codes(files: Mapping[str, bytes]) -> dict[str, bytes]:
    """The files with new codes drawn by chance, so that the sheets of two clinics never share one."""
    known = [code for data in files.values() for code in _CODE.findall(data)]
    drawn: dict[bytes, bytes] = {}
    while len(drawn) < len(known):
        code = "".join(secrets.choice(CODE_CHARACTERS) for _ in range(4))
        if re.fullmatch(CODE_PATTERN, code) and code.encode() not in (*drawn.values(), *known):
            drawn[known[len(drawn)]] = code.encode()
    return {path: _CODE.sub(lambda found: drawn[found[1]], data) for path, data in files.items()}


def _refuse(folder: Path) -> int:
    print(f"handouts: '{folder}' exists and is not an empty folder. Name a new one.", file=sys.stderr)
    return CANNOT_RUN


def starter_files() -> dict[str, bytes]:
    """Every file of a new library."""
    starter = {path.removeprefix(STARTER): data for path, data in read_templates().items() if path.startswith(STARTER)}
    library, _ = read_library(starter)
    return {**starter, **schema_files({"figure": figure_json_schema()}, library)}

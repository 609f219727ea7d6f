"""``handouts start``: a small new library, complete and without problems, to begin from."""

from __future__ import annotations

import argparse
import re
import secrets
import sys
from collections.abc import Mapping
from pathlib import Path

from handouts.commands.report import CANNOT_RUN, DONE
from handouts.figure import figure_schemas
from handouts.library.read import read_library
from handouts.library.scalars import CODE_CHARACTERS, CODE_PATTERN
from handouts.library.schema import schema_files
from handouts.publishing.author_files import hold_library
from handouts.publishing.locks import LOCK
from handouts.templating.assets import read_example, read_templates

STARTER = "starter/"
PUBLISHED = ("ledger.yaml", "published.yaml")
"""Files that tell of publications; a new library has none yet."""
OF_GIT = (".git",)
"""What a folder may hold in which a library is begun: the history of an empty one."""
GIT_FILES = {
    ".gitattributes": b"""\
# These files are written by people and by handouts, one fact a line: git keeps the lines of both sides.
ledger.yaml merge=union
published.yaml merge=union
score.yaml merge=union
*.reviews.yaml merge=union
* text=auto eol=lf
""",
    ".gitignore": b"""\
# What a build makes can be made again.
/build/
.lock
.handouts*
""",
}
"""How git treats a library."""
_CODE = re.compile(rb"(?<=^code: )([2-9A-Z]{4})$", re.MULTILINE)
_CONTEXT = re.compile(rb'^(msgctxt "[a-z]+/)([2-9A-Z]{4})(?=/)', re.MULTILINE)
"""What translations keep their texts under."""


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """The command's own options."""
    parser.add_argument("folder", type=Path, help="a folder that does not exist yet, or is empty")
    says = "the demo library in place of two exercises: an invented clinic with programmes, limits and translations"
    parser.add_argument("--example", action="store_true", help=says)


def run(arguments: argparse.Namespace) -> int:
    """Write the starter library and the schemas for editors."""
    folder: Path = arguments.folder
    if folder.exists() and not folder.is_dir():
        return _refuse(folder)
    with hold_library(folder, "start", make=True) as held:
        if any(item.name not in (LOCK, *OF_GIT) for item in folder.iterdir()):
            return _refuse(folder)
        files = with_own_codes(example_files() if arguments.example else starter_files())
        held.add({**files, **GIT_FILES}.items())
    count = sum(path.startswith("exercises/") for path in files)
    what = f"the demo library, {count} exercises of an invented clinic" if arguments.example else "a library with two exercises to change"
    print(f"{folder}: {what}. Next: handouts preview {folder}")
    return DONE


def with_own_codes(files: Mapping[str, bytes]) -> dict[str, bytes]:
    """The files with new codes drawn by chance, so that the sheets of two clinics never share one."""
    known = [code for data in files.values() for code in _CODE.findall(data)]
    drawn: dict[bytes, bytes] = {}
    while len(drawn) < len(known):
        code = "".join(secrets.choice(CODE_CHARACTERS) for _ in range(4))
        if re.fullmatch(CODE_PATTERN, code) and code.encode() not in (*drawn.values(), *known):
            drawn[known[len(drawn)]] = code.encode()
    made = {path: _CODE.sub(lambda found: drawn[found[1]], data) for path, data in files.items()}
    return {path: _CONTEXT.sub(lambda found: found[1] + drawn.get(found[2], found[2]), data) for path, data in made.items()}


def _refuse(folder: Path) -> int:
    print(f"handouts: '{folder}' exists and is not an empty folder. Name a new one.", file=sys.stderr)
    return CANNOT_RUN


def example_files() -> dict[str, bytes]:
    """Every file of the demo library but what tells of its own publications."""
    own = {path: data for path, data in read_example().items() if path not in PUBLISHED}
    return {**own, **schema_files(figure_schemas())}


def starter_files() -> dict[str, bytes]:
    """Every file of a new library."""
    starter = {path.removeprefix(STARTER): data for path, data in read_templates().items() if path.startswith(STARTER)}
    library, _ = read_library(starter)
    return {**starter, **schema_files(figure_schemas(), library)}

"""``handouts start``: a small new library, complete and without problems, to begin from."""

from __future__ import annotations

import argparse
import os
import re
import secrets
import sys
from collections.abc import Mapping
from pathlib import Path

from handouts.bases.read import read_standing
from handouts.commands.report import CANNOT_RUN, DONE, print_problems
from handouts.figure import figure_schemas
from handouts.library.read import read_library
from handouts.library.scalars import CODE_CHARACTERS, CODE_PATTERN
from handouts.library.schema import schema_files
from handouts.publishing.author_files import hold_library
from handouts.publishing.locks import LOCK
from handouts.source.bases import HOLDER, PATH_PATTERN, read_with_base
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
    kind = parser.add_mutually_exclusive_group()
    kind.add_argument("--example", action="store_true", help=says)
    says = "a library that stands on the one in this folder: its own name, site and phone, and all else from there"
    kind.add_argument("--base", type=Path, metavar="FOLDER", help=says)


def run(arguments: argparse.Namespace) -> int:
    """Write the starter library and the schemas for editors."""
    folder: Path = arguments.folder
    if folder.exists() and not folder.is_dir():
        return _refuse(folder)
    base = _base_of(folder, arguments.base) if arguments.base else None
    if isinstance(base, str):
        print(f"handouts: {base}", file=sys.stderr)
        return CANNOT_RUN
    with hold_library(folder, "start", make=True) as held:
        if any(item.name not in (LOCK, *OF_GIT) for item in folder.iterdir()):
            return _refuse(folder)
        files = base or with_own_codes(example_files() if arguments.example else starter_files())
        held.add({**files, **GIT_FILES}.items())
    if base:
        what = f"a library that stands on {arguments.base}. Write your clinic's name, site and phone into {HOLDER}"
        print(f"{folder}: {what}. Next: handouts check {folder}")
        return DONE
    count = sum(path.startswith("exercises/") for path in files)
    what = f"the demo library, {count} exercises of an invented clinic" if arguments.example else "a library with two exercises to change"
    print(f"{folder}: {what}. Next: handouts preview {folder}")
    return DONE


def _base_of(folder: Path, base: Path) -> dict[str, bytes] | str:
    """The files of a library that stands on another, or why it cannot."""
    if not (base / HOLDER).is_file():
        return f"there is no library in '{base}'. Name the folder in which its {HOLDER} stands."
    path = Path(os.path.relpath(base.resolve(), folder.resolve())).as_posix()
    if not re.fullmatch(PATH_PATTERN, path):
        return f"'{folder}' cannot stand on '{base}': put the two folders side by side."
    files, _ = read_with_base(base, base.name)
    library, problems = read_standing(files, base.name)
    if library is None:
        print_problems(problems)
        return f"the library in '{base}' cannot be read. Mend it first: handouts check {base}"
    starter = read_templates()[f"{STARTER}{HOLDER}"].decode()
    return {
        HOLDER: clinic_on_base(starter, path, library.language).encode(),
        **schema_files(figure_schemas(), library, on_base=True),
    }


def clinic_on_base(starter: str, path: str, language: str) -> str:
    """The starter's ``clinic.yaml`` with the keys alone that a clinic on a base must write."""
    own = re.findall(r"(?m)^(?:#.*|(?:name|invented|about|site|locations):.*\n(?:[ ].*)*)", starter)
    lines = [line.rstrip("\n") for line in own]
    return "\n".join([*lines, f"base: {path}", f"languages: {{source: {language}}}", ""])


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

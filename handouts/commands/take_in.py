"""``handouts import``: a spreadsheet, saved as CSV, as the exercise files of a library."""

from __future__ import annotations

import argparse
import sys
from pathlib import Path

from handouts.commands.report import CANNOT_RUN, DONE, HAS_PROBLEMS, print_problems
from handouts.disk import write_files
from handouts.files import MAX_FILE_BYTES, read_folder
from handouts.intake.table import known_columns, take_in
from handouts.ledger.read import FILE, read_ledger
from handouts.library.read import read_library
from handouts.problems import has_errors


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """The command's own options."""
    parser.add_argument("table", type=Path, nargs="?", help="the CSV file: a row of names, then one row an exercise")
    parser.add_argument("folder", type=Path, nargs="?", help="folder of the library that the exercises are added to")
    parser.add_argument("--columns", action="store_true", help="print the columns that are understood")


def run(arguments: argparse.Namespace) -> int:
    """Write an exercise file for each row; never replaces one."""
    if arguments.columns:
        print("\n".join(known_columns()))
        return DONE
    if arguments.table is None or arguments.folder is None:
        print("handouts: name a CSV file and the folder of a library.", file=sys.stderr)
        return CANNOT_RUN
    try:
        if arguments.table.stat().st_size > MAX_FILE_BYTES:
            print(
                f"handouts: '{arguments.table}' is larger than {MAX_FILE_BYTES // 1024 // 1024} MiB.", file=sys.stderr
            )
            return CANNOT_RUN
        data = arguments.table.read_bytes()
    except OSError as error:
        print(f"handouts: '{arguments.table}' cannot be read: {error.strerror}.", file=sys.stderr)
        return CANNOT_RUN
    codes, slugs = _taken(arguments.folder)
    taken = take_in(data, arguments.table.name, codes, slugs)
    write_files(arguments.folder, taken.files.items())
    print_problems(taken.problems)
    print(
        f"{len(taken.files)} exercises written to {arguments.folder / 'exercises'}. Next: handouts check {arguments.folder}"
    )
    return HAS_PROBLEMS if has_errors(taken.problems) else DONE


def _taken(folder: Path) -> tuple[frozenset[str], frozenset[str]]:
    """Codes and names that the library has, or once had."""
    if not folder.is_dir():
        return frozenset(), frozenset()
    files, _ = read_folder(folder, folder.name)
    slugs = {path.removeprefix("exercises/").removesuffix(".md") for path in files if path.startswith("exercises/")}
    library, _ = read_library(files, folder.name)
    ledger, _ = read_ledger(files[FILE], FILE) if FILE in files else (None, [])
    codes = set(ledger.by_code) if ledger else set()
    if library:
        codes |= {item.code for item in library.exercises} | {item.code for item in library.programmes}
    return frozenset(codes), frozenset(slugs)

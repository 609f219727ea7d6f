"""``handouts import``: a spreadsheet saved as CSV, or documents, as the exercise files of a library."""

from __future__ import annotations

import argparse
import re
import sys
from collections.abc import Callable, Container, Sequence
from dataclasses import dataclass
from pathlib import Path

from handouts.commands.options import add_quiet
from handouts.commands.report import CANNOT_RUN, DONE, HAS_PROBLEMS, print_problems
from handouts.importers.draft import take_in_document
from handouts.importers.lines import MOST_BYTES, DocumentError, SourceLine, tidy
from handouts.importers.office import read_odt, read_word
from handouts.importers.plain import read_html, read_pdf, read_text
from handouts.importers.table import Taken, known_columns, take_in
from handouts.ledger.read import FILE, read_ledger
from handouts.library.read import read_library
from handouts.problems import Problem, has_errors
from handouts.publishing.author_files import HeldLibrary, hold_library
from handouts.source.files import read_folder
from handouts.tasks.progress import Progress
from handouts.workers import Bounds, LostTask, call_bounded

TABLES = (".csv", ".tsv")
BOUNDS = Bounds(processor_seconds=20, wall_seconds=120.0, memory_bytes=1024**3)
"""What reading one file may take; a leaflet takes less than a second and 100 MiB."""
DOCUMENTS: dict[str, Callable[[bytes], list[SourceLine]]] = {
    ".docx": read_word,
    ".odt": read_odt,
    ".html": read_html,
    ".htm": read_html,
    ".txt": read_text,
    ".md": read_text,
    ".pdf": read_pdf,
}
"""What reads each kind of document, by the end of its name."""


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """The command's own options."""
    parser.add_argument(
        "paths",
        type=Path,
        nargs="*",
        metavar="FILE",
        help=f"a CSV file, or documents ({', '.join(DOCUMENTS)}); the last one is the folder of the library",
    )
    add_quiet(parser)
    parser.add_argument("--columns", action="store_true", help="print the columns of a CSV file that are understood")


def run(arguments: argparse.Namespace) -> int:
    """Write an exercise file for each row or document; never replaces one."""
    if arguments.columns:
        print("\n".join(known_columns()))
        return DONE
    *files, folder = arguments.paths or [Path()]
    if not files or folder.is_file():
        print("handouts: name a CSV file or documents, and then the folder of a library.", file=sys.stderr)
        return CANNOT_RUN
    progress = Progress(arguments.quiet)
    with hold_library(folder, "import", make=True, progress=progress) as held:
        return _import(files, folder, held, progress)


def _import(files: Sequence[Path], folder: Path, held: HeldLibrary, progress: Progress) -> int:
    """Codes and names are chosen beside those that the library has, so it stays held."""
    codes, slugs = taken_names(folder)
    problems: list[Problem] = []
    written: list[str] = []
    refused = 0
    for file in files:
        try:
            with progress.stage(f"reading '{file.name}'"):
                taken = _take(file, codes, slugs)
        except DocumentError as reason:
            print(f"handouts: '{file}' cannot be read, because {reason}.", file=sys.stderr)
            refused += 1
            continue
        except OSError as error:
            print(f"handouts: '{file}' cannot be read: {error.strerror}.", file=sys.stderr)
            refused += 1
            continue
        held.add(taken.files.items())
        problems += taken.problems
        written += taken.files
        more_codes, more_slugs = taken_names(folder)
        codes, slugs = codes | more_codes | taken.codes, slugs | more_slugs
    print_problems(problems)
    count = f"{len(written)} exercise{'' if len(written) == 1 else 's'}"
    print(f"{count} written to {folder / 'exercises'}. Next: handouts check {folder}")
    return CANNOT_RUN if refused else HAS_PROBLEMS if has_errors(problems) else DONE


def _take(file: Path, codes: Container[str], slugs: Container[str]) -> Taken:
    """The exercises of one file; raises ``DocumentError`` or ``OSError`` where it cannot be read."""
    kind = file.suffix.lower()
    if kind not in DOCUMENTS and kind not in TABLES:
        raise DocumentError(f"'{kind}' is none of {', '.join((*TABLES, *DOCUMENTS))}")
    if file.stat().st_size > MOST_BYTES:
        raise DocumentError(f"it is larger than {MOST_BYTES // 1024 // 1024} MiB")
    foreign = _Foreign(kind, file.read_bytes(), file.name, codes, slugs)
    taken = call_bounded(_read, foreign, BOUNDS)
    if isinstance(taken, LostTask):
        raise DocumentError(f"reading it was given up: {taken.why}")
    if isinstance(taken, str):
        raise DocumentError(taken)
    return taken


@dataclass(frozen=True, slots=True)
class _Foreign:
    """A file of somebody else, for a process of its own."""

    kind: str
    data: bytes
    name: str
    codes: Container[str]
    slugs: Container[str]


def _read(foreign: _Foreign) -> Taken | str:
    """The exercises of a file, or why it cannot be read, as the end of "…, because "."""
    try:
        if foreign.kind in TABLES:
            return take_in(foreign.data, foreign.name, foreign.codes, foreign.slugs)
        lines = tidy(DOCUMENTS[foreign.kind](foreign.data))
        return take_in_document(lines, foreign.name, foreign.codes, foreign.slugs)
    except DocumentError as reason:
        return str(reason)
    except (MemoryError, KeyboardInterrupt):
        raise
    except Exception as error:  # whatever a reader of foreign files stumbles over, its file is named and the others are read
        return f"its reader stumbles over it ({type(error).__name__})"


def taken_names(folder: Path) -> tuple[frozenset[str], frozenset[str]]:
    """Codes and names that the library has, or once had."""
    if not folder.is_dir():
        return frozenset(), frozenset()
    files, _ = read_folder(folder, folder.name)
    slugs = {path.removeprefix("exercises/").removesuffix(".md") for path in files if path.startswith("exercises/")}
    library, _ = read_library(files, folder.name)
    ledger, _ = read_ledger(files[FILE], FILE) if FILE in files else (None, [])
    codes = set(ledger.by_code) if ledger else set()
    # a draft that cannot be read as an exercise yet has its code all the same
    codes |= {code.decode() for data in files.values() for code in re.findall(rb"^code: (\w{4})$", data, re.MULTILINE)}
    if library:
        codes |= {item.code for item in library.exercises} | {item.code for item in library.programmes}
        codes |= {item.code for item in library.all_standalones}
    return frozenset(codes), frozenset(slugs)

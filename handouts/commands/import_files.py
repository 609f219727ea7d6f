"""``handouts import``: a spreadsheet, or documents, as the exercise files of a library."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from handouts.bases.read import read_standing
from handouts.commands.import_questions import Asker, show_waiting
from handouts.commands.options import add_quiet
from handouts.commands.report import CANNOT_RUN, DONE, HAS_PROBLEMS, print_problems
from handouts.importers.answers import FILE, Answers, read_answers
from handouts.importers.columns import known_columns
from handouts.importers.draft import take_in_document
from handouts.importers.known import Known, find_known
from handouts.importers.lines import MOST_BYTES, DocumentError, SourceLine, tidy
from handouts.importers.office import read_odt, read_word
from handouts.importers.pictures import count_pictures, read_pictures
from handouts.importers.plain import read_html, read_pdf, read_text
from handouts.importers.sheet import Sheet, read_sheet
from handouts.importers.table import ImportedFiles, take_in_table
from handouts.problems import Grade, Place, Problem, has_errors
from handouts.publishing.author_files import HeldLibrary, hold_library
from handouts.source.bases import read_with_base
from handouts.tasks.progress import Progress
from handouts.workers import Bounds, LostTask, call_bounded

TABLES = (".csv", ".tsv", ".xlsx")
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
        help=f"a table ({', '.join(TABLES)}), or documents ({', '.join(DOCUMENTS)}); the last one is the folder of the library",
    )
    add_quiet(parser)
    parser.add_argument("--columns", action="store_true", help="print the columns of a table that are understood")
    parser.add_argument("--update", action="store_true", help="change the exercises of a table that are there already, by code or title")
    parser.add_argument("--ask", action="store_true", help="ask what is not known, also where the answers come from a file or a pipe")
    parser.add_argument("--no-questions", action="store_true", help="ask nothing, write drafts with what is known")


def run(arguments: argparse.Namespace) -> int:
    """Write an exercise file for each row or exercise of a document; never replaces one but with ``--update``."""
    if arguments.columns:
        print("\n".join(known_columns()))
        return DONE
    *files, folder = arguments.paths or [Path()]
    if not files or folder.is_file():
        print("handouts: name a table or documents, and then the folder of a library.", file=sys.stderr)
        return CANNOT_RUN
    progress = Progress(arguments.quiet)
    sources, refused = _read_all(files, progress)
    may_ask = arguments.ask or (sys.stdin.isatty() and sys.stdout.isatty() and not arguments.no_questions)
    with hold_library(folder, "import", make=True, progress=progress) as held:
        return _import(sources, refused, held, may_ask, arguments.update)


@dataclass(frozen=True, slots=True)
class _Source:
    """What a file says, read in a process of its own."""

    name: str
    content: Sheet | tuple[SourceLine, ...]
    count: int
    """How many pictures the file holds."""
    pictures: Mapping[str, bytes]
    """Those that may be taken."""

    def take(self, known: Known, answers: Answers, update: bool) -> ImportedFiles:
        """Its exercises as far as is answered."""
        if isinstance(self.content, Sheet):
            return take_in_table(self.content, self.name, known, answers, update)
        return take_in_document(self.content, self.name, known, answers, self.pictures)

    def say_pictures(self, taken: ImportedFiles) -> list[Problem]:
        """That pictures were left out."""
        left = self.count - sum(path.startswith("pictures/") for path in taken.files)
        if left < 1:
            return []
        count = "1 picture of this file was" if left == 1 else f"{left} pictures of this file were"
        mend = "Put one into the folder 'pictures' and name it in 'picture:' with its source and why you may print it, or draw a figure."
        return [Problem(Place(self.name), "import-pictures", f"{count} left out", mend, Grade.NOTICE)]


def _read_all(files: Sequence[Path], progress: Progress) -> tuple[list[_Source], int]:
    """What the files say, and how many could not be read."""
    sources: list[_Source] = []
    for file in files:
        try:
            with progress.stage(f"reading '{file.name}'"):
                sources.append(_read_one(file))
        except DocumentError as reason:
            print(f"handouts: '{file}' cannot be read, because {reason}.", file=sys.stderr)
        except OSError as error:
            print(f"handouts: '{file}' cannot be read: {error.strerror}.", file=sys.stderr)
    return sources, len(files) - len(sources)


def _import(sources: Sequence[_Source], refused: int, held: HeldLibrary, may_ask: bool, update: bool) -> int:
    """Codes and names are chosen beside those that the library has, so it stays held."""
    folder, problems = held.root, list[Problem]()
    written = changed = 0
    kept = held.read(FILE)
    answers, found = read_answers(kept, f"{folder.name}/{FILE}") if kept is not None else (Answers(), [])
    problems += found
    asker = Asker(held, answers) if may_ask and not found else None
    for source in sources:
        known = known_of(folder)
        taken = _take(source, known, answers, update)
        while asker is not None and asker.ask(source.name):
            known = known_of(folder)
            taken = _take(source, known, answers, update)
        held.add(taken.files.items())
        if taken.changed:
            held.replace(taken.changed, {path: known.files[path] for path in taken.changed})
        problems += [*taken.problems, *source.say_pictures(taken)]
        written += sum(path.startswith("exercises/") for path in taken.files)
        changed += len(taken.changed)
        if not may_ask:
            show_waiting(answers, source.name)
    print_problems(problems)
    count = f"{written} exercise{'' if written == 1 else 's'}"
    also = f", {changed} changed" if update else ""
    print(f"{count} written to {folder / 'exercises'}{also}. Next: handouts check {folder}")
    return CANNOT_RUN if refused else HAS_PROBLEMS if has_errors(problems) else DONE


def _take(source: _Source, known: Known, answers: Answers, update: bool) -> ImportedFiles:
    answers.asked.clear()
    return source.take(known, answers, update)


def _read_one(file: Path) -> _Source:
    """What one file says; raises ``DocumentError`` or ``OSError`` where it cannot be read."""
    kind = file.suffix.lower()
    if kind not in DOCUMENTS and kind not in TABLES:
        raise DocumentError(f"'{kind}' is none of {', '.join((*TABLES, *DOCUMENTS))}")
    if file.stat().st_size > MOST_BYTES:
        raise DocumentError(f"it is larger than {MOST_BYTES // 1024 // 1024} MiB")
    found = call_bounded(_read, _Foreign(kind, file.read_bytes(), file.name), BOUNDS)
    if isinstance(found, LostTask):
        raise DocumentError(f"reading it was given up: {found.why}")
    if isinstance(found, str):
        raise DocumentError(found)
    return found


@dataclass(frozen=True, slots=True)
class _Foreign:
    """A file of somebody else, for a process of its own."""

    kind: str
    data: bytes
    name: str


def _read(foreign: _Foreign) -> _Source | str:
    """What a file says, or why it cannot be read, as the end of "…, because "."""
    try:
        is_table = foreign.kind in TABLES
        content = read_sheet(foreign.data, foreign.name, foreign.kind) if is_table else tidy(DOCUMENTS[foreign.kind](foreign.data))
        pictures = {} if isinstance(content, Sheet) or foreign.kind not in (".docx", ".odt") else read_pictures(foreign.data, content)
        return _Source(foreign.name, content, count_pictures(foreign.data, foreign.kind), pictures)
    except DocumentError as reason:
        return str(reason)
    except (MemoryError, KeyboardInterrupt):
        raise
    except Exception as error:  # whatever a reader of foreign files stumbles over, its file is named and the others are read
        return f"its reader stumbles over it ({type(error).__name__})"


def known_of(folder: Path) -> Known:
    """What the library has now, with what it stands on."""
    if not folder.is_dir():
        return find_known({}, folder.name)
    files, _ = read_with_base(folder, folder.name)
    return find_known(files, folder.name, read_standing(files, folder.name)[0] if files.base else None)

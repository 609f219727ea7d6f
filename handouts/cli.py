"""The command line: arguments to commands, and the exit status.

Each command is a room of ``handouts.commands`` with ``add_arguments`` and ``run``; it is imported when
it is asked for, so that ``check`` starts without the renderer.
"""

from __future__ import annotations

import argparse
import gc
import importlib
import sys
from collections.abc import Sequence

from handouts import __version__
from handouts.commands.report import CANNOT_RUN, HAS_PROBLEMS, refuse
from handouts.problems import PaperUnavailableError, show_text
from handouts.publishing.author_files import ChangedError
from handouts.publishing.disk import PublishError
from handouts.workers import WorkersError

COLLECTIONS = (50_000, 20, 20)
"""Thresholds of the garbage collector (``gc.set_threshold``).  What a command makes of a library lives
to its end: with the thresholds of Python 3.11 collection took a third of the time of reading one and freed next to nothing."""
COMMANDS: dict[str, tuple[str, str]] = {
    "check": (
        "say what is wrong in a library, and how to mend it",
        "handouts check content\nhandouts check content --json",
    ),
    "build": (
        "make the site and its sheets",
        "handouts build content\nhandouts build content --to /srv/handouts --jobs 4",
    ),
    "preview": (
        "show the site on this machine, made again as files are saved",
        "handouts preview content\nhandouts preview content --port 8080",
    ),
    "bundle": (
        "print one bundle: a code, a link, a file that holds one, or a ready-made bundle",
        "handouts bundle CODE --size large\nhandouts bundle shoulder-wall-and-band --language es --paper a4\n"
        "handouts bundle bundle.txt --chart",
    ),
    "poster": (
        "print a poster or pocket cards of a programme, or station cards of a class",
        "handouts poster steady-on-stairs --paper a2\nhandouts poster steady-on-stairs --as pocket --language es\n"
        "handouts poster stairs-circuit --paper a3",
    ),
    "words": (
        "gather texts for translation, tell their state, exchange them",
        "handouts words collect\nhandouts words state --json\nhandouts words export es es.xlf",
    ),
    "changes": (
        "say what a new version changes for patients and clinicians, before it goes out",
        "handouts changes\nhandouts changes --html changes.html\nhandouts changes --since 2026-09-14 --json",
    ),
    "ledger": (
        "write down what was published and who approved it, so that printed codes keep their meaning",
        "handouts ledger update\nhandouts ledger update --library content --to build\n"
        "handouts ledger update --approved-by 'clinical lead'",
    ),
    "base": (
        "say what a new base changes in a library that stands on it, and record reviews of what the library has in another way",
        "handouts base diff\nhandouts base diff ../shared-library-next --html base.html\nhandouts base review H7K2 --by 'lead physiotherapist'",
    ),
    "withdraw": (
        "publish something no more, and tell every sheet that names it why",
        "handouts withdraw H7K2 --why 'It strained the knee.'\n"
        "handouts withdraw H7K2 --why 'It strained the knee.' --replaced-by 5T5G --why-in es 'Forzaba la rodilla.'",
    ),
    "score": (
        "score every exercise by PEMAT-P and the CDC Clear Communication Index, the worst first",
        "handouts score\nhandouts score content --language es --all\n"
        "handouts score --answer P2=yes --code H7K2 --language en --by 'health literacy reviewer'",
    ),
    "figure": (
        "draw one figure, to look at while posing it",
        "handouts figure step-up --to step-up.png\nhandouts figure --to all.html",
    ),
    "new": (
        "begin an exercise file from a movement of the gallery, with its figure and marked gaps",
        "handouts new heel-slide --like heel-slide-supine\nhandouts new side-steps --like 'lateral band walk' --library our-library",
    ),
    "gallery": (
        "write the gallery of movements as pages, to search in and copy from",
        "handouts gallery --to gallery\nhandouts gallery --names",
    ),
    "import": (
        "make exercise files of a spreadsheet, one row an exercise, or drafts of documents",
        "handouts import exercises.csv our-library\nhandouts import --columns\nhandouts import leaflet.docx balance.pdf our-library",
    ),
    "editor": (
        "complete the keys of exercises and programmes in an editor that knows language servers",
        "handouts editor\nhandouts editor --server /opt/yaml-language-server/bin/yaml-language-server",
    ),
    "guide": (
        "print a paper that comes with the program: hosting, operations, the schema of what --json prints",
        "handouts guide operations\nhandouts guide json",
    ),
    "start": ("write a small new library to begin with", "handouts start our-library\nhandouts preview our-library"),
}
"""Each command with what it does and examples."""
STOPPED = 130
"""Exit status after Ctrl+C: 128 and the number of the signal, as shells have it (common practice)."""
ROOMS = {"import": "import_files"}
"""Modules of commands whose name is a word of Python's."""


def make_parser(wanted: str = "") -> argparse.ArgumentParser:
    """The parser of all commands, with the options of each, or of the one ``wanted`` alone."""
    parser = argparse.ArgumentParser(prog="handouts", description="Exercise handouts from a library of text files.")
    parser.add_argument("--version", action="version", version=f"handouts {__version__}")
    commands = parser.add_subparsers(dest="command", metavar="COMMAND", required=True)
    for name, (says, examples) in COMMANDS.items():
        command = commands.add_parser(
            name,
            help=says,
            description=f"{says[0].upper()}{says[1:]}.",
            epilog=f"examples:\n  {examples.replace(chr(10), chr(10) + '  ')}",
            formatter_class=argparse.RawDescriptionHelpFormatter,
        )
        if wanted and name != wanted:
            continue
        room = importlib.import_module(f"handouts.commands.{ROOMS.get(name, name)}")
        room.add_arguments(command)
        command.set_defaults(run=room.run)
    return parser


def main(words: Sequence[str] | None = None) -> int:
    """Run one command; gives 0 (done), 1 (the library has problems), 2 (the command could not run) or 130 (Ctrl+C)."""
    gc.set_threshold(*COLLECTIONS)
    given = sys.argv[1:] if words is None else words
    arguments = make_parser(next((word for word in given[:1] if word in COMMANDS), "")).parse_args(given)
    try:
        return int(arguments.run(arguments))
    except ChangedError as refusal:
        return refuse(arguments.command, [refusal.problem], getattr(arguments, "json", False), HAS_PROBLEMS)
    except PublishError as refusal:
        return refuse(arguments.command, [refusal.problem], getattr(arguments, "json", False), CANNOT_RUN)
    except WorkersError as refusal:
        print(f"handouts: {show_text(refusal.problem.what)}. {show_text(refusal.problem.mend)}", file=sys.stderr)
        return CANNOT_RUN
    except PaperUnavailableError as missing:
        print(f"handouts: {missing}", file=sys.stderr)
        return CANNOT_RUN
    except KeyboardInterrupt:
        print("handouts: stopped by Ctrl+C. Run the same command again.", file=sys.stderr)
        return STOPPED
    except BrokenPipeError:
        sys.stderr.close()
        return CANNOT_RUN

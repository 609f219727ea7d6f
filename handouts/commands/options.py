"""Options that several commands have, each read in one way."""

from __future__ import annotations

import argparse
import re
from datetime import date
from pathlib import Path
from typing import Any

from handouts.build.caches import SHARED, find_home
from handouts.build.settings import BUILD, DEFAULT_LIBRARY, find_library

MOST_JOBS = 256
"""More processes than any machine has use for."""
_NAMED = f"folder of the library (default: {DEFAULT_LIBRARY}; inside a library that one)"
_OUT = f"(default: {BUILD}; inside a library the one in it)"


def add_library(parser: argparse.ArgumentParser, *, alone: bool = True) -> None:
    """The library: ``--library FOLDER``, and where it is the only thing to name also just ``FOLDER``."""
    parser.add_argument("--library", type=find_library, default=DEFAULT_LIBRARY, help=_NAMED)
    add_quiet(parser)
    if alone:
        parser.add_argument("library", nargs="?", action=_Folder, default=argparse.SUPPRESS, help="the same")


def add_library_word(parser: argparse.ArgumentParser) -> None:
    """The library where it is the command's own subject."""
    parser.add_argument("library", nargs="?", default=DEFAULT_LIBRARY, type=find_library, help=_NAMED)
    add_quiet(parser)


def add_quiet(parser: argparse.ArgumentParser) -> None:
    """``--quiet``: nothing is shown of how far the work is."""
    parser.add_argument("--quiet", action="store_true", help="show nothing of how far the work is")


def add_out(parser: argparse.ArgumentParser, says: str) -> None:
    """``--to FOLDER``: of the build, of what is kept; ``Settings.of`` knows where it is when it is not named."""
    parser.add_argument("--to", type=Path, help=f"{says} {_OUT}")


def add_replace(parser: argparse.ArgumentParser) -> None:
    """``--replace``, for files that a person may have changed."""
    parser.add_argument("--replace", action="store_true", help="also write over a file that handouts did not write")


def add_cache(parser: argparse.ArgumentParser) -> None:
    """``--cache FOLDER`` and ``--no-cache``: where results are kept between builds."""
    home = find_home()
    one = parser.add_mutually_exclusive_group()
    says = f"keep results for the next time there (default: a folder in {home}, or {SHARED} where it is set)"
    one.add_argument("--cache", type=Path, metavar="FOLDER", help=says)
    one.add_argument("--no-cache", action="store_true", help="keep nothing and use nothing that was kept")


def add_fail_on(parser: argparse.ArgumentParser) -> None:
    """``--fail-on RULE``: a notice of this rule makes the exit status another one."""
    says = "end with 3 where a notice of this rule is given, as review-lapsed; 'notice' for any; may be repeated"
    parser.add_argument("--fail-on", action="append", default=[], metavar="RULE", type=_read_rule, help=says)


def _read_rule(word: str) -> str:
    if not re.fullmatch("[a-z0-9]+(?:-[a-z0-9]+)*", word):
        raise argparse.ArgumentTypeError(f"'{word}' is no rule; it stands in brackets behind its message, as review-lapsed")
    return word


def add_day(parser: argparse.ArgumentParser, says: str, name: str = "--today") -> None:
    """A day in place of the one that it is."""
    parser.add_argument(name, type=read_day, metavar="DAY", help=f"{says}, as 2026-09-14 (default: today)")


def read_day(word: str) -> date:
    """A day as a person writes it; the week and month forms of ISO 8601 are none."""
    try:
        day = date.fromisoformat(word)
    except ValueError:
        day = None
    if day is None or day.isoformat() != word:
        raise argparse.ArgumentTypeError(f"'{word}' is no day; write year, month and day, as 2026-09-14")
    return day


def add_jobs(parser: argparse.ArgumentParser, says: str) -> None:
    """How many processes work."""
    parser.add_argument("--jobs", type=_read_jobs, help=f"{says} (default: one a processor, at least 2)")


def _read_jobs(word: str) -> int:
    return _read_number(word, 1, MOST_JOBS, "number of processes; write one")


def read_port(word: str) -> int:
    """A port of this machine; 0 is any that is free."""
    return _read_number(word, 0, 65535, "port; write a number")


def _read_number(word: str, low: int, high: int, what: str) -> int:
    if not re.fullmatch("[0-9]{1,6}", word) or not low <= int(word) <= high:
        raise argparse.ArgumentTypeError(f"'{word}' is no {what} from {low} to {high}")
    return int(word)


class _Folder(argparse.Action):
    """Takes a folder where one is named; a ``type`` would also be asked for the default that leaves the option alone."""

    def __call__(self, _parser: Any, namespace: argparse.Namespace, values: Any, _option: str | None = None) -> None:
        setattr(namespace, self.dest, find_library(values))

"""``handouts ledger``: write down what was published, so that every printed code keeps its meaning."""

from __future__ import annotations

import argparse
import json
import sys
from pathlib import Path

from handouts.build.loading import load
from handouts.build.settings import Settings
from handouts.commands.options import add_day, add_library, add_out
from handouts.commands.report import CANNOT_RUN, DONE, HAS_PROBLEMS, print_problems
from handouts.ledger.entries import Ledger
from handouts.ledger.read import FILE
from handouts.ledger.stamp import stamps_of
from handouts.ledger.update import find_present, find_titles, say_update, update_ledger
from handouts.ledger.write import write_ledger
from handouts.problems import has_errors
from handouts.publishing.author_files import HeldLibrary, hold_library
from handouts.publishing.manifest import site_digest


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """The command's own options."""
    actions = parser.add_subparsers(dest="action", metavar="ACTION", required=True)
    says = "add to ledger.yaml what the last build published"
    update = actions.add_parser("update", help=says, description=says)
    add_library(update)
    add_out(update, "folder of the build")
    update.add_argument(
        "--unbuilt", action="store_true", help="the site was built elsewhere: take the library as it stands"
    )
    add_day(update, "day of the publication")


def run(arguments: argparse.Namespace) -> int:
    """Bring the ledger up to date."""
    settings = Settings.of(arguments)
    if not settings.library.is_dir():
        print_problems(load(settings).problems)
        return CANNOT_RUN
    with hold_library(settings.library, "ledger update", progress=settings.progress) as held:
        return _update(held, settings, arguments.unbuilt)


def _update(held: HeldLibrary, settings: Settings, unbuilt: bool) -> int:
    """Read, compare, write; what is in the file before anything is read is what may be replaced."""
    former = held.read(FILE)
    loaded = load(settings)
    if loaded.library is None or has_errors(loaded.problems):
        print_problems(loaded.problems)
        return HAS_PROBLEMS
    stamps = stamps_of(loaded.library)
    if not unbuilt and _built_version(settings.out) != stamps[""]:
        print(
            f"handouts: the site in '{settings.out}' was not built from the library as it stands. "
            "Build and publish it first; where that was done elsewhere, add --unbuilt.",
            file=sys.stderr,
        )
        return CANNOT_RUN
    before = loaded.history.ledger or Ledger()
    present = find_present(loaded.library, stamps, before)
    others = [each.library for each in loaded.translations[1:] if each.library]
    after = update_ledger(before, present, settings.today, find_titles(present, others))
    lines = say_update(before, after)
    if after != before or loaded.history.ledger is None:
        held.replace({FILE: write_ledger(after)}, {} if former is None else {FILE: former})
    same = "Nothing is new" if after == before else "Nothing but titles in other languages is new"
    print("\n".join(lines) or f"{same} since the ledger was written.")
    return DONE


def _built_version(out: Path) -> str | None:
    """The version stamp of the published site; None where the report is missing or of another site (after ``--back``)."""
    try:
        report = json.loads((out / "report.json").read_bytes())
    except (OSError, ValueError):
        return None
    known = isinstance(report, dict) and report.get("site") == site_digest(out / "site")
    found = report.get("version") if known else None
    return found if isinstance(found, str) else None

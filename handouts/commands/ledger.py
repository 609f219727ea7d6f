"""``handouts ledger``: write down what was published and who approved it, so that every printed code keeps its meaning."""

from __future__ import annotations

import argparse
import json
import sys
from collections.abc import Mapping
from dataclasses import replace
from datetime import date
from pathlib import Path
from typing import Any

from handouts.bases.own_changes import OWN_CHANGE
from handouts.build.loading import Loaded, load
from handouts.build.settings import Settings
from handouts.build.unwritten import DRAFT, as_present, read_items, still_unknown
from handouts.changes.beside import base_facts
from handouts.changes.facts import FILE as FACTS
from handouts.changes.facts import collect_facts, write_facts
from handouts.commands.options import add_day, add_library, add_out
from handouts.commands.report import CANNOT_RUN, DONE, HAS_PROBLEMS, print_problems
from handouts.commands.roles import read_role
from handouts.ledger.entries import Approval, Ledger
from handouts.ledger.read import FILE
from handouts.ledger.stamp import clinic_stamp, stamps_of
from handouts.ledger.update import approve, find_present, find_titles, say_update, update_ledger
from handouts.ledger.write import write_ledger
from handouts.model import ApprovalRule, Library
from handouts.problems import Grade, has_errors
from handouts.publishing.author_files import HeldLibrary, hold_library
from handouts.publishing.manifest import site_digest


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """The command's own options."""
    actions = parser.add_subparsers(dest="action", metavar="ACTION", required=True)
    says = "add to ledger.yaml what the last build published, and who approved it"
    update = actions.add_parser("update", help=says, description=says)
    add_library(update)
    add_out(update, "folder of the build")
    update.add_argument(
        "--unbuilt", action="store_true", help="the site was built elsewhere: take the library as it stands"
    )
    update.add_argument(
        "--built", action="store_true", help="take what was built, also where the library was changed since or the site was built anew"
    )
    update.add_argument(
        "--approved-by", type=read_role, metavar="ROLE", help="the library as it stands may go out, as this role says; never a name"
    )
    update.add_argument("--code", nargs="+", default=(), metavar="CODE", help="with --approved-by: these alone")
    add_day(update, "day of the publication, or of the approval")


def run(arguments: argparse.Namespace) -> int:
    """Bring the ledger up to date."""
    settings = Settings.of(arguments)
    if not settings.library.is_dir():
        print_problems(load(settings).problems)
        return CANNOT_RUN
    with hold_library(settings.library, "ledger update", progress=settings.progress) as held:
        return _update(held, settings, arguments)


def _update(held: HeldLibrary, settings: Settings, arguments: argparse.Namespace) -> int:
    """Read, compare, write; what is in the files before anything is read is what may be replaced."""
    former = {path: data for path in (FILE, FACTS) if (data := held.read(path)) is not None}
    loaded = load(settings)
    if loaded.library is None or has_errors(loaded.problems):
        print_problems(loaded.problems)
        return HAS_PROBLEMS
    waiting = [replace(each, grade=Grade.ERROR) for each in loaded.problems if each.rule == OWN_CHANGE]
    if waiting:
        print_problems(waiting)
        return HAS_PROBLEMS
    before = loaded.history.ledger or Ledger()
    if arguments.built:
        return _write(held, former, before, _with_built(before, settings.out))
    stamps = stamps_of(loaded.library)
    elsewhere = arguments.unbuilt or (arguments.approved_by and loaded.library.clinic.approval is ApprovalRule.REQUIRED)
    if not elsewhere and _is_draft(settings.out):
        what = f"the site in '{settings.out}' is a draft (it was built with --draft), so it was not published"
        print(f"handouts: {what}. Name the folder of the published one with --to.", file=sys.stderr)
        return CANNOT_RUN
    if not elsewhere and _built_version(settings.out) != stamps[""]:
        print(
            f"handouts: the site in '{settings.out}' was not built from the library as it stands. "
            "Build and publish it first; where that was done elsewhere, add --unbuilt; to write down what was built, add --built.",
            file=sys.stderr,
        )
        return CANNOT_RUN
    present = find_present(loaded.library, stamps, before)
    others = [each.library for each in loaded.translations[1:] if each.library]
    after = update_ledger(before, present, settings.today, find_titles(present, others))
    if arguments.approved_by:
        unknown = [code for code in arguments.code if code not in {item.code for item in present}]
        if unknown:
            print(f"handouts: there is no '{unknown[0]}' in the library. Name codes, or bundles by their file names.", file=sys.stderr)
            return CANNOT_RUN
        after = _approve(after, arguments.approved_by, settings.today, loaded, arguments.code)
    return _write(held, former, before, after, _facts_of(loaded, stamps))


def _approve(ledger: Ledger, role: str, on: date, loaded: Loaded, codes: tuple[str, ...]) -> Ledger:
    """The ledger with the approval of all, or of some codes alone; what waits for its review keeps what it had."""
    assert loaded.library is not None
    chosen = set(codes) or {item.code for item in loaded.history.present}
    approval = Approval(place=ledger.place, by=role, on=on)
    whole = loaded.whole or loaded.library
    return approve(ledger, approval, chosen, "" if codes else clinic_stamp(whole))


def _facts_of(loaded: Loaded, stamps: Mapping[str, str]) -> bytes:
    assert loaded.library is not None
    published: list[Library] = [each.library for each in loaded.translations if each.library]
    base = base_facts(loaded.library, loaded.own_changes)
    return write_facts({**collect_facts(loaded.library, published, loaded.history, stamps), **base})


def _write(held: HeldLibrary, former: Mapping[str, bytes], before: Ledger, after: Ledger, facts: bytes | None = None) -> int:
    """Both files, or neither; says what is new."""
    made = {FILE: write_ledger(after), **({} if facts is None else {FACTS: facts})}
    files = {path: data for path, data in made.items() if data != former.get(path)}  # also what an older program wrote in another form
    if files:
        held.replace(files, former)
    same = "Nothing is new" if after == before else "Nothing but titles in other languages is new"
    print("\n".join(say_update(before, after)) or f"{same} since the ledger was written.")
    return DONE


def _with_built(ledger: Ledger, out: Path) -> Ledger:
    """The ledger with every version that was built and that it does not know, in the order in which they were built."""
    items, older = read_items(out)
    for record in (*older, *still_unknown(items, ledger, ())):
        item, on = as_present(record, ledger.place)
        ledger = update_ledger(ledger, (item,), on)
    return ledger


def _report_of(out: Path) -> Mapping[str, Any]:
    """The report of the standing site; empty where it is missing or of another site (after ``--back``)."""
    try:
        report = json.loads((out / "report.json").read_bytes())
    except (OSError, ValueError):
        return {}
    return report if isinstance(report, dict) and report.get("site") == site_digest(out / "site") else {}


def _built_version(out: Path) -> str | None:
    """The version stamp of the standing site."""
    found = _report_of(out).get("version")
    return found if isinstance(found, str) else None


def _is_draft(out: Path) -> bool:
    return bool(_report_of(out).get(DRAFT))

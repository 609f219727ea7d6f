"""``handouts changes``: what a new version changes for patients and clinicians, before it goes out."""

from __future__ import annotations

import argparse
import re
import sys
from dataclasses import dataclass, replace
from datetime import date
from functools import partial
from pathlib import Path

from handouts.build.loading import Loaded, load
from handouts.build.settings import Settings
from handouts.changes.beside import base_facts, mark_base
from handouts.changes.compare import PresentLibrary, Publication, compare, state_of
from handouts.changes.facts import FILE, Facts, collect_facts, read_facts, say_dose
from handouts.changes.pages import compare_pages, record_pages, say_pages
from handouts.changes.show import as_html, as_record, as_text, make_report
from handouts.commands.options import add_cache, add_day, add_library_word, add_out, add_replace, read_day
from handouts.commands.output import Output
from handouts.commands.report import CANNOT_RUN, DONE, HAS_PROBLEMS, print_json, problem_record, refuse
from handouts.ledger.entries import Ledger, folder_of
from handouts.ledger.update import update_ledger
from handouts.model import ApprovalRule
from handouts.problems import Problem, has_errors
from handouts.source.files import read_folder
from handouts.templating.assets import read_templates

TEMPLATES = ("changes/",)
NO_FACTS = (
    "There is no published.yaml yet, so texts cannot be compared, only doses and the names of what changed; "
    "'handouts ledger update' writes it."
)
ONLY_NAMES = "Of this publication the ledger keeps doses and which parts changed, not every text."


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """The command's own options."""
    add_library_word(parser)
    add_cache(parser)
    add_out(parser, "folder of the build")
    parser.add_argument(
        "--since",
        metavar="VERSION",
        help="a version on a sheet, a day, as 2026-09-14, or the folder of a former library (default: the last publication)",
    )
    parser.add_argument(
        "--pages", nargs=2, type=Path, metavar=("OLD", "NEW"), help="compare what readers see on two built sites instead, as after an upgrade"
    )
    parser.add_argument("--html", type=Path, metavar="FILE", help="write it as a page to read and to sign")
    parser.add_argument("--json", action="store_true", help="print it as JSON, for tools")
    add_day(parser, "look as if it were this day")
    add_replace(parser)


def run(arguments: argparse.Namespace) -> int:
    """Compare a library with what was published."""
    settings = Settings.of(arguments)
    if arguments.pages:
        return _compare_pages(arguments)
    loaded = load(settings)
    if loaded.library is None or has_errors(loaded.problems):
        return refuse("changes", loaded.problems, arguments.json, HAS_PROBLEMS if settings.library.is_dir() else CANNOT_RUN)
    kept, problems = read_kept(settings.library)
    if problems:
        return refuse("changes", problems, arguments.json, HAS_PROBLEMS)
    base = find_publication(arguments.since, settings, loaded, kept)
    if isinstance(base, str):
        print(f"handouts: {base}", file=sys.stderr)
        return CANNOT_RUN
    facts, own = facts_of(loaded), loaded.own_changes
    held = {f"{folder_of(item.kind)}/{item.slug}" for item in loaded.history.held_back}
    present = {item.code: item for item in loaded.history.present if item.item not in held}
    codes = frozenset(item.code for item in loaded.history.present if item.item in held)
    ledger = base.ledger
    changes = compare(base.then, PresentLibrary(facts, present, partial(say_dose, loaded.library), codes), ledger)
    changes = mark_base(changes, loaded.library, own)
    titles = {owner: own["title"][0] for each in (base.then.facts, facts) for owner, own in each.items() if own.get("title")}
    signs = loaded.library.clinic.approval is ApprovalRule.REQUIRED
    report = make_report(settings.library.name, base.then, changes, titles, signs=signs, notes=base.notes)
    if arguments.html:
        Output.of(settings, arguments.replace).write(arguments.html, as_html(report, read_templates(TEMPLATES)))
    if arguments.json:
        problems = list(loaded.problems)
        print_json("changes", {**as_record(base.then, changes), "problems": [problem_record(each) for each in problems]})
    else:
        print(arguments.html or as_text(report))
    return DONE


def _compare_pages(arguments: argparse.Namespace) -> int:
    """Two built sites; ends with 1 where readers see a difference."""
    for folder in arguments.pages:
        if not (folder / "index.html").is_file():
            print(f"handouts: there is no site in '{folder}'. Name the folder with its index.html.", file=sys.stderr)
            return CANNOT_RUN
    found = compare_pages(*arguments.pages)
    if arguments.json:
        print_json("changes --pages", record_pages(found))
    else:
        print(say_pages(found))
    return HAS_PROBLEMS if found.differing or found.new or found.gone else DONE


@dataclass(frozen=True, slots=True)
class ComparedWith:
    """What is compared with."""

    then: Publication
    ledger: Ledger
    notes: tuple[str, ...] = ()


def facts_of(loaded: Loaded) -> Facts:
    """The facts of a library as it stands."""
    assert loaded.library is not None
    published = [each.library for each in loaded.translations if each.library]
    return {**collect_facts(loaded.library, published, loaded.history, loaded.stamps), **base_facts(loaded.library, loaded.own_changes)}


def read_kept(library: Path) -> tuple[Facts, list[Problem]]:
    """The facts of the last publication; none where there is no such file."""
    files, _ = read_folder(library, library.name)
    if FILE not in files:
        return {}, []
    facts, problems = read_facts(files[FILE], f"{library.name}/{FILE}")
    return facts or {}, problems


def find_publication(since: str | None, settings: Settings, loaded: Loaded, kept: Facts) -> ComparedWith | str:
    """The publication that was asked for, or what is wrong with the question."""
    ledger = loaded.history.ledger or Ledger()
    if since and Path(since).is_dir():
        former = load(Settings(Path(since), settings.out, settings.today, cache_folder=settings.cache_folder, keep=settings.keep))
        if former.library is None or has_errors(former.problems):
            return f"the library in '{since}' has errors: handouts check {since}"
        return of_folder(former, ledger, since)
    if since is None:
        return ComparedWith(state_of(ledger, kept), ledger, () if kept or not ledger.entries else (NO_FACTS,))
    on = _day_of(since, ledger)
    if on is None:
        return f"'{since}' is no version of the ledger, no day and no folder. Versions stand on sheets and in ledger.yaml."
    then, latest = state_of(ledger, kept, on), state_of(ledger, kept)
    if then.versions == latest.versions:
        return ComparedWith(latest, ledger, () if kept else (NO_FACTS,))
    return ComparedWith(then, ledger, (ONLY_NAMES,))


def of_folder(former: Loaded, ledger: Ledger, folder: str) -> ComparedWith:
    """A former library as a publication: what it has counts as published, whatever its ledger says."""
    own = update_ledger(Ledger(), former.history.present, date.min)
    entries = (*ledger.entries, *(entry for entry in own.entries if entry.code not in ledger.by_code))
    return ComparedWith(replace(state_of(own, facts_of(former)), on=None, label=folder), replace(ledger, entries=entries))


def _day_of(word: str, ledger: Ledger) -> date | None:
    """The day of a version, or a day as it is written."""
    for entry in ledger.entries:
        for version in entry.versions:
            if version.version == word.upper():
                return version.on
    if re.fullmatch("[0-9]{4}-[0-9]{2}-[0-9]{2}", word):
        try:
            return read_day(word)
        except argparse.ArgumentTypeError:
            return None
    return None


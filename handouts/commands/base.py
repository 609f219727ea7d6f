"""``handouts base``: what a new base changes in a library that stands on it, and the clinic's reviews of what it has in another way."""

from __future__ import annotations

import argparse
import sys
from dataclasses import replace
from datetime import date
from fnmatch import fnmatchcase
from functools import partial
from pathlib import Path

from handouts.bases.own_changes import FILE, OwnChange, read_own_reviews
from handouts.build.loading import Loaded, load
from handouts.build.settings import Settings, today
from handouts.changes.beside import mark_base, own_records, put_beside
from handouts.changes.compare import PresentLibrary, compare
from handouts.changes.facts import say_dose
from handouts.changes.show import as_html, as_record, as_text, make_report
from handouts.commands.changes import TEMPLATES, ComparedWith, facts_of, find_publication, of_folder, read_kept
from handouts.commands.options import add_cache, add_day, add_library, add_replace
from handouts.commands.output import Output
from handouts.commands.report import CANNOT_RUN, DONE, HAS_PROBLEMS, print_json, problem_record, refuse
from handouts.commands.roles import read_role
from handouts.ledger.entries import Ledger, folder_of
from handouts.model import ApprovalRule
from handouts.problems import has_errors, suggest
from handouts.publishing.author_files import ChangedError, hold_library
from handouts.templating.assets import read_templates
from handouts.words.messages import ROLE, collect_messages
from handouts.words.reviews import add_review, read_reviews, write_reviews

TOLD = ("language-lost",)
"""Errors of a build that the comparison tells in its own words: a language that a new base takes away."""


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """The command's own options."""
    actions = parser.add_subparsers(dest="action", metavar="ACTION", required=True)
    says = "say what a new base changes here: doses side by side, and which reviews it voids; writes nothing"
    diff = actions.add_parser("diff", help=says, description=says)
    diff.add_argument(
        "folders", nargs="*", type=Path, metavar="BASE",
        help="one: the new base, compared with the one that clinic.yaml names; two: the former and the new base; "
        "none: the base as it was at the last 'handouts ledger update' and as it is",
    )  # fmt: skip
    add_library(diff, alone=False)
    add_cache(diff)
    diff.add_argument("--html", type=Path, metavar="FILE", help="write it as a page to read and to sign")
    diff.add_argument("--json", action="store_true", help="print it as JSON, for tools")
    add_day(diff, "look as if it were this day")
    add_replace(diff)
    says = f"record in {FILE} that this clinic has reviewed what it has in another way than the base, beside the base as it is"
    review = actions.add_parser("review", help=says, description=says)
    review.add_argument("names", nargs="+", metavar="CODE", help="codes, and names of bundles; * for many")
    review.add_argument("--by", required=True, type=read_role, metavar="ROLE", help="the reviewer's role; never a name")
    add_library(review, alone=False)
    add_day(review, "the day", "--on")


def run(arguments: argparse.Namespace) -> int:
    """One action on a library that stands on another."""
    settings = Settings.of(arguments)
    action = f"base {arguments.action}"
    as_json = getattr(arguments, "json", False)
    if arguments.action == "diff" and len(arguments.folders) > 2:
        print("handouts: name at most two bases, the former and the new one.", file=sys.stderr)
        return CANNOT_RUN
    for folder in getattr(arguments, "folders", ()):
        if not (folder / "clinic.yaml").is_file():
            print(f"handouts: there is no library in '{folder}'. Name the folder of a base.", file=sys.stderr)
            return CANNOT_RUN
    if arguments.action == "diff" and arguments.folders:
        settings = replace(settings, base=arguments.folders[-1])
    loaded = load(settings)
    if loaded.library is None or has_errors(each for each in loaded.problems if each.rule not in TOLD):
        return refuse(action, loaded.problems, as_json, HAS_PROBLEMS if settings.library.is_dir() else CANNOT_RUN)
    if loaded.library.base is None:
        print(f"handouts: '{settings.library}' stands on no base. Name one in clinic.yaml, as base: ../shared-library.", file=sys.stderr)
        return CANNOT_RUN
    return _diff(arguments, settings, loaded) if arguments.action == "diff" else _review(arguments, settings, loaded)


def _diff(arguments: argparse.Namespace, settings: Settings, loaded: Loaded) -> int:
    """What readers of this clinic see in another way, and each own change beside the base."""
    assert loaded.library is not None
    former = _former(arguments, settings, loaded)
    if isinstance(former, int):
        return former
    facts = facts_of(loaded)
    held = {f"{folder_of(item.kind)}/{item.slug}" for item in loaded.history.held_back}
    present = {item.code: item for item in loaded.history.present if item.item not in held}
    codes = frozenset(item.code for item in loaded.history.present if item.item in held)
    changes = compare(former.then, PresentLibrary(facts, present, partial(say_dose, loaded.library), codes), former.ledger)
    changes = mark_base(changes, loaded.library, loaded.own_changes)
    reviews, _ = read_own_reviews(loaded.files)
    own = put_beside(loaded.own_changes, reviews, former.then.facts, facts)
    titles = {owner: said["title"][0] for each in (former.then.facts, facts) for owner, said in each.items() if said.get("title")}
    signs = loaded.library.clinic.approval is ApprovalRule.REQUIRED
    report = make_report(settings.library.name, former.then, changes, titles, signs=signs, notes=former.notes, own=own)
    if arguments.html:
        Output.of(settings, arguments.replace).write(arguments.html, as_html(report, read_templates(TEMPLATES)))
    if arguments.json:
        record = {**as_record(former.then, changes), "own": own_records(own)}
        print_json("base diff", {**record, "problems": [problem_record(each) for each in loaded.problems]})
    else:
        print(arguments.html or as_text(report))
    return DONE


def _former(arguments: argparse.Namespace, settings: Settings, loaded: Loaded) -> ComparedWith | int:
    """What the library was like on the former base; an exit status where that cannot be told."""
    ledger = loaded.history.ledger or Ledger()
    if not arguments.folders:
        kept, problems = read_kept(settings.library)
        found = find_publication(None, settings, loaded, kept) if not problems else ""
        return found if isinstance(found, ComparedWith) else refuse("base diff", problems, arguments.json, HAS_PROBLEMS)
    folder = arguments.folders[0] if len(arguments.folders) > 1 else None
    before = load(replace(settings, base=folder))
    if before.library is None or has_errors(each for each in before.problems if each.rule not in TOLD):
        return refuse("base diff", before.problems, arguments.json, HAS_PROBLEMS)
    name = f"the base in {folder}" if folder else f"the base {before.library.clinic.stands_on}"
    return of_folder(before, ledger, name)


def _review(arguments: argparse.Namespace, settings: Settings, loaded: Loaded) -> int:
    """Records a review of the changes that are named, all or none."""
    chosen: dict[str, OwnChange] = {}
    known = {change.owner.partition("/")[2]: change for change in loaded.own_changes}
    for word in arguments.names:
        found = {name: change for name, change in known.items() if fnmatchcase(name, word) or fnmatchcase(name, word.upper())}
        if not found:
            print(f"handouts: '{word}' is nothing that this library has in another way than its base. {suggest(word, known)}", file=sys.stderr)
            return CANNOT_RUN
        chosen |= found
    versions = {change.owner: change.version for change in chosen.values()}
    on: date = arguments.on or today()

    def change(found: bytes | None) -> bytes:
        """A record more than the file has now; others may have been added since it was read."""
        kept, problems = read_reviews(found, f"{settings.library.name}/{FILE}") if found is not None else ({}, [])
        if problems:
            raise ChangedError(problems[0])
        return write_reviews(add_review(kept, versions, arguments.by, on))

    with hold_library(settings.library, "base review", progress=settings.progress) as held:
        held.revise(FILE, change)
    for each in chosen.values():
        print(f"{each.item.title} ({each.owner.partition('/')[2]}): {each.says or 'its own file'}")
    print(f"{settings.library / FILE}: {len(versions)} reviewed by {arguments.by}")
    assert loaded.library is not None
    roles = {message.text for message in collect_messages(loaded.library) if message.name == ROLE}
    if loaded.library.clinic.languages.also and arguments.by not in roles:
        print(f"Next: handouts words collect {settings.library}, since '{arguments.by}' is to be translated.")
    return DONE

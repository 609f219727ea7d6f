"""``handouts withdraw``: something is published no more, from the next build on, and every sheet that names it is told why.

One line of the ledger does it: what was withdrawn stays in the library's files, and neither it nor any mention of it is published.
"""

from __future__ import annotations

import argparse
import sys
from collections.abc import Mapping, Sequence
from dataclasses import replace

from handouts.build.loading import Loaded, load
from handouts.build.settings import Settings
from handouts.commands.options import add_day, add_library
from handouts.commands.report import CANNOT_RUN, DONE, HAS_PROBLEMS, print_problems
from handouts.ledger.entries import Ledger, LedgerEntry, Withdrawal
from handouts.ledger.read import FILE, read_ledger
from handouts.ledger.update import Present, update_ledger
from handouts.ledger.write import write_ledger
from handouts.problems import has_errors, suggest
from handouts.publishing.author_files import HeldLibrary, hold_library
from handouts.rules.withdrawn import WithdrawalEffect, find_withdrawn, without


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """The command's own options."""
    parser.add_argument("code", help="a printed code, or the file name of a ready-made bundle")
    parser.add_argument("--why", required=True, help="the reason, one sentence that patients may read")
    parser.add_argument(
        "--why-in", nargs=2, action="append", default=[], metavar=("LANGUAGE", "REASON"), help="the reason in another language; may be repeated"
    )
    parser.add_argument("--replaced-by", metavar="CODE", help="what took its place: its code, or the file name of a ready-made bundle")
    add_library(parser, alone=False)
    add_day(parser, "day of the withdrawal")


def run(arguments: argparse.Namespace) -> int:
    """Withdraw one thing, with all that has nothing left without it; or change nothing."""
    settings = Settings.of(arguments)
    if not settings.library.is_dir():
        print_problems(load(settings).problems)
        return CANNOT_RUN
    with hold_library(settings.library, "withdraw", progress=settings.progress) as held:
        former = held.read(FILE)
        loaded = load(settings)
        if loaded.authored is None:
            print_problems(loaded.problems)
            return HAS_PROBLEMS
        ledger = loaded.history.ledger or Ledger()
        found = _find(arguments, ledger, loaded.history.by_code)
        if isinstance(found, str):
            print(f"handouts: {found}", file=sys.stderr)
            return CANNOT_RUN
        return _withdraw(held, former, loaded, found, arguments, settings)


def _find(arguments: argparse.Namespace, ledger: Ledger, present: Mapping[str, Present]) -> tuple[str, str | None] | str:
    """The codes of what goes and of what takes its place, or why that cannot be."""
    codes = [*dict.fromkeys((*ledger.by_code, *present))]
    code, heir = (_known(word, ledger, codes) if word else None for word in (arguments.code, arguments.replaced_by))
    if code is None:
        return f"there is no '{arguments.code}'. {suggest(arguments.code, codes)}"
    entry = ledger.by_code.get(code)
    if entry and entry.is_retired:
        return f"'{entry.title}' ({code}) is {'withdrawn' if entry.withdrawn else 'replaced'} already; its line in {FILE} says so."
    if code not in present:
        return f"'{code}' is not in the library as it stands. Write what became of it into its entry of {FILE}."
    if arguments.replaced_by and (heir is None or heir == code or heir not in present):
        others = [each for each in present if each != code]
        hint = suggest(arguments.replaced_by, others)
        return f"'{arguments.replaced_by}' cannot take its place: name something else that is in the library. {hint}"
    return code, heir


def _known(word: str, ledger: Ledger, codes: Sequence[str]) -> str | None:
    """The code that a word stands for; letters of a code may be small, and a bundle has all its names."""
    found = ledger.code_of(word)
    return next((each for each in (found, word.upper()) if each in codes), None)


def _withdraw(
    held: HeldLibrary, former: bytes | None, loaded: Loaded, found: tuple[str, str | None], arguments: argparse.Namespace, settings: Settings
) -> int:
    code, heir = found
    assert loaded.authored is not None
    before = loaded.history.ledger or Ledger()
    item = loaded.history.by_code[code]
    known = before if code in before.by_code else update_ledger(before, (item,), settings.today)
    why = Withdrawal(place=before.place, on=settings.today, why=" ".join(arguments.why.split()), translated=dict(arguments.why_in))
    ledger = _retire(known, (code,), why, heir)
    falls = _falls(loaded, before, ledger)
    along = [loaded.history.by_item[fall.item] for fall in falls if fall.item]
    missing = tuple(each for each in along if each.code not in ledger.by_code)
    ledger = _retire(update_ledger(ledger, missing, settings.today) if missing else ledger, [each.code for each in along], why, None)
    data = write_ledger(ledger)
    again, problems = read_ledger(data, f"{settings.library.name}/{FILE}")
    if again is None:
        print_problems(problems)
        print("Nothing was written.")
        return HAS_PROBLEMS
    held.replace({FILE: data}, {} if former is None else {FILE: former})
    print(f"{item.title} ({code}) is withdrawn: {why.why}")
    for fall in falls:
        print(f"  {fall.title} {fall.says}")
    lacking = [tag for tag in loaded.authored.clinic.languages.also if tag not in why.translated]
    if lacking:
        print(f"  The reason is shown in the source language in: {', '.join(lacking)}. Give it with --why-in, or in the entry in {FILE}.")
    print(f"Next: handouts build {settings.library}, copy the site, handouts ledger update.")
    print(f"To take it back, delete 'withdrawn' in its entry in {FILE}.")
    if has_errors(loaded.problems):
        print_problems(loaded.problems)
        print("The library has other errors: until they are mended no build can publish the withdrawal.")
        return HAS_PROBLEMS
    return DONE


def _retire(ledger: Ledger, codes: Sequence[str], why: Withdrawal, heir: str | None) -> Ledger:
    def retired(entry: LedgerEntry) -> LedgerEntry:
        return replace(entry, withdrawn=why, replaced_by=heir) if entry.code in codes else entry

    return replace(ledger, entries=tuple(map(retired, ledger.entries)))


def _falls(loaded: Loaded, before: Ledger, after: Ledger) -> tuple[WithdrawalEffect, ...]:
    """What this withdrawal means for others, and not what an earlier one meant."""
    assert loaded.authored is not None
    old = without(loaded.authored, find_withdrawn(loaded.authored, before)).falls
    return tuple(fall for fall in without(loaded.authored, find_withdrawn(loaded.authored, after)).falls if fall not in old)

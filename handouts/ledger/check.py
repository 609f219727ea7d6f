"""What must hold between a library and its ledger: a printed code never moves and never vanishes without a word."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping

from handouts.ledger.entries import BUNDLE, Ledger, LedgerEntry, folder_of
from handouts.ledger.history import follow
from handouts.ledger.parts import DEFINING
from handouts.ledger.update import Present
from handouts.problems import Grade, Place, Problem

SHOWN = 5
"""How many names a notice shows."""


def check_ledger(
    ledger: Ledger, present: tuple[Present, ...], unread: frozenset[str] = frozenset(), languages: tuple[str, ...] = ()
) -> list[Problem]:
    """Every problem between the library and its ledger.

    ``unread`` are files that could not be read (``programmes/stand-up``), ``languages`` those that the library is translated into.
    """
    now = {item.code: item for item in present}
    return [
        *_find_reused(ledger, now),
        *_find_dropped(ledger, now, unread),
        *_find_lost_replacements(ledger, now),
        *_find_untranslated(ledger, languages),
        *_find_behind(ledger, present),
    ]


def check_approvals(ledger: Ledger, present: Iterable[Present], clinic: str, place: Place) -> list[Problem]:
    """What a build would put on the site without anyone's approval; ``clinic`` is the stamp of the clinic's own words."""
    waiting = []
    for item in present:
        entry = ledger.by_code.get(item.code)
        if entry is None or not any(each.version == item.version and each.approved for each in entry.versions):
            waiting.append(item.slug)
    if clinic not in {each.version for each in ledger.clinic[-1:]}:
        waiting.append("the clinic's own words")
    if not waiting:
        return []
    names = ", ".join(waiting[:SHOWN]) + (" …" if len(waiting) > SHOWN else "")
    one = len(waiting) == 1
    what = f"{len(waiting)} {'thing is' if one else 'things are'} not approved as {'it stands' if one else 'they stand'} now: {names}"
    mend = "See 'handouts changes', then 'handouts ledger update --approved-by ROLE'; until then a build refuses."
    return [Problem(place, NOT_APPROVED, what, mend, Grade.NOTICE)]


NOT_APPROVED = "not-approved"
"""The rule that is a notice while one writes, and an error of a build."""


def _find_untranslated(ledger: Ledger, languages: tuple[str, ...]) -> Iterator[Problem]:
    """Can a patient read why something was withdrawn?"""
    for entry in ledger.entries:
        lacking = [tag for tag in languages if entry.withdrawn and entry.withdrawn.why_in(tag) is None]
        if lacking:
            yield Problem(
                entry.at("withdrawn"),
                "reason-not-translated",
                f"why '{entry.title}' was withdrawn cannot be read in: {', '.join(lacking)}",
                "Add 'translated: {es: \"…\"}' beside 'why'.",
                Grade.NOTICE,
            )


def _find_reused(ledger: Ledger, now: Mapping[str, Present]) -> Iterator[Problem]:
    """Does a code stand on something else than what it was printed on?"""
    for item in now.values():
        entry = ledger.by_code.get(item.code)
        if entry is None:
            continue
        reason = _why_other(ledger, entry, item, now)
        if reason:
            yield Problem(
                item.place,
                "code-reused",
                f"the code '{item.code}' was printed on '{entry.title}' and {reason}",
                "Give this a new code; say in ledger.yaml what became of the old one ('replaced by' or 'withdrawn').",
            )


def _why_other(ledger: Ledger, entry: LedgerEntry, item: Present, now: Mapping[str, Present]) -> str:
    """Why an item is not the one that its code was printed on; empty where it is."""
    if entry.kind != item.kind:
        return f"is now on a {item.kind}"
    if item.slug in entry.slugs:
        return ""
    if entry.is_retired:
        return "was withdrawn or replaced"
    others = [other for other in ledger.entries if other.kind == item.kind and other.code != item.code]
    owner = next((other for other in others if item.slug in other.slugs), None)
    if owner is not None:
        return f"now names '{item.slug}', which was printed with the code '{owner.code}'"
    heir = next((each for each in now.values() if each.kind == item.kind and each.slug == entry.slugs[-1]), None)
    if heir is not None:
        return f"'{heir.slug}' now has the code '{heir.code}'"
    before = entry.latest.parts
    if not any(before.get(part) == item.parts.get(part) for part in DEFINING if part in item.parts):
        return f"'{item.slug}' has none of its title, steps and figure"
    return ""


def _find_dropped(ledger: Ledger, now: Mapping[str, Present], unread: frozenset[str]) -> Iterator[Problem]:
    """Does the ledger say what became of each code that left the library?"""
    for entry in ledger.entries:
        if entry.code in now or entry.is_retired or f"{folder_of(entry.kind)}/{entry.slugs[-1]}" in unread:
            continue
        name = "NAME" if entry.kind == BUNDLE else "CODE"
        yield Problem(
            entry.place,
            "code-dropped",
            f"'{entry.title}' ({entry.code}) was published and is no longer in the library",
            f"Add 'replaced by: {name}' or " + "'withdrawn: {on: 2026-09-14, why: \"…\"}' to its entry.",
        )


def _find_lost_replacements(ledger: Ledger, now: Mapping[str, Present]) -> Iterator[Problem]:
    """Does each replacement lead to something that is published, or withdrawn with a reason?"""
    for entry in ledger.entries:
        if entry.replaced_by is None:
            continue
        last = follow(ledger, entry.code, now)
        if last in now or (last in ledger.by_code and ledger.by_code[last].replaced_by is None):
            continue
        ring = last in ledger.by_code
        yield Problem(
            entry.at("replaced_by"),
            "replacement-unknown",
            f"'{entry.title}' ({entry.code}) is replaced by "
            + ("something that it replaces itself" if ring else f"'{last}', which is not in the library"),
            "Write the code of an exercise or a programme of the library; for a bundle the name of another one.",
        )


def _find_behind(ledger: Ledger, present: tuple[Present, ...]) -> Iterator[Problem]:
    """Is everything in the library as it was last published?"""
    news = []
    for item in present:
        entry = ledger.by_code.get(item.code)
        if entry is None or entry.latest.version != item.version or entry.slugs[-1] != item.slug:
            news.append(item.slug)
    if news:
        names = ", ".join(news[:SHOWN]) + (" …" if len(news) > SHOWN else "")
        count = "1 thing is" if len(news) == 1 else f"{len(news)} things are"
        stands = "it stands" if len(news) == 1 else "they stand"
        yield Problem(
            ledger.place,
            "not-in-ledger",
            f"{count} not in the ledger as {stands} now: {names}",
            "Run 'handouts ledger update' when this is published.",
            Grade.NOTICE,
        )

"""What is different for readers between a publication and the library as it stands: item by item, in their words.  Pure.

Where the facts of that publication are kept, texts are compared; of an older one the ledger knows the dose and which
parts differ.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import date

from handouts.changes.facts import ADDRESS, BASE, DOSE, FIGURE, LANGUAGES, VERSION, Facts
from handouts.ledger.entries import BUNDLE, KINDS, Approval, Ledger, LedgerEntry, Version, folder_of
from handouts.ledger.history import follow
from handouts.ledger.parts import changed_parts
from handouts.ledger.update import Present
from handouts.model import Dose

SILENT = (ADDRESS, LANGUAGES, VERSION)
"""Facts that are told in another way than as then and now."""
OFF_PAPER = frozenset({"also-called", "role", "region", "purpose", LANGUAGES, ADDRESS, VERSION})
"""Facts that no sheet shows."""
ORDER = (
    "title", DOSE, "emergency-number", "phone", "emergency", "pain-rule", "when", "do", "caution", "heading", "step", "paragraph", "bullet",
    "exercises", FIGURE, "cue", "feel", "mistake", "mend", "position", "equipment", "easier", "harder", "way", "ready-when", "ready", "why",
)  # fmt: skip
"""Names of facts, those that matter most to a patient first; all others behind them."""


@dataclass(frozen=True, slots=True)
class Difference:
    """One part that is different: what it said and what it says."""

    name: str
    """Of a fact (``step``) or of a part of the ledger (``part:steps``)."""
    then: tuple[str, ...] = ()
    now: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Lead:
    """An address that leads elsewhere, and where; empty where it only says what became of it."""

    address: str
    to: str


@dataclass(frozen=True, slots=True)
class Change:
    """What changes of one thing."""

    owner: str
    """``exercise/H7K2``, ``bundle/first-days``, ``caution/dizziness``, ``clinic``."""
    title: str
    what: str
    """``added``, ``changed``, ``withdrawn``, ``replaced``, ``held back`` or ``gone``."""
    why: str = ""
    differences: tuple[Difference, ...] = ()
    gained: tuple[str, ...] = ()
    """Languages."""
    lost: tuple[str, ...] = ()
    leads: tuple[Lead, ...] = ()
    sheets: tuple[str, ...] = ()
    """Owners whose printed sheets are touched."""
    version: str = ""
    approved: Approval | None = None
    base: str = ""
    """What of it comes from the library that this one stands on, in words; empty where nothing does."""


@dataclass(frozen=True, slots=True)
class Publication:
    """A publication: its day, the version of each code, and its facts as far as they are kept."""

    on: date | None
    versions: Mapping[str, Version]
    facts: Facts
    is_latest: bool = True
    label: str = ""
    """What it is called where it has no day: the folder of a former library."""


@dataclass(frozen=True, slots=True)
class PresentLibrary:
    """The library as it stands."""

    facts: Facts
    present: Mapping[str, Present]
    """By code, without what is held back."""
    say_dose: Callable[[Dose], tuple[str, ...]]
    """A former dose in words."""
    held_back: frozenset[str] = frozenset()
    """Codes."""


def state_of(ledger: Ledger, facts: Facts, on: date | None = None) -> Publication:
    """The latest publication, or that of a day: what was the latest version then."""
    versions = {}
    for entry in ledger.entries:
        known = [each for each in entry.versions if on is None or each.on <= on]
        gone = entry.withdrawn.on if entry.withdrawn else entry.left
        if known and not (on and gone and gone <= on):
            versions[entry.code] = known[-1]
    days = [version.on for version in versions.values()]
    return Publication(on or max(days, default=None), versions, facts, on is None)


def compare(then: Publication, now: PresentLibrary, ledger: Ledger) -> tuple[Change, ...]:
    """Everything that is different: the clinic's own words first, then cautions, exercises, programmes, bundles."""
    then, now = replace(then, facts=_of_readers(then.facts)), replace(now, facts=_of_readers(now.facts))
    found = [*_of_words(then, now), *_of_items(then, now, ledger)]
    holders = _holders(now.facts)
    carried = [replace(change, sheets=_sheets(change, holders, now.facts)) for change in found]
    return tuple(sorted(carried, key=lambda change: (_RANK.get(change.owner.partition("/")[0], 3), change.title, change.owner)))


def _of_readers(facts: Facts) -> Facts:
    """The facts that readers see."""
    return {owner: own for owner, own in facts.items() if not owner.startswith(f"{BASE}/")}


_RANK = {"clinic": 0, "caution": 1, "tier": 2, "exercise": 4, "programme": 5, "bundle": 6, "test": 7, "leaflet": 8, "lesson": 9, "class": 10}


def _of_words(then: Publication, now: PresentLibrary) -> Iterator[Change]:
    """The words that many things share; only the latest publication's are kept."""
    if not then.is_latest or not then.facts:
        return
    for owner in dict.fromkeys((*then.facts, *now.facts)):
        if owner.partition("/")[0] in KINDS:
            continue
        before, after = then.facts.get(owner, {}), now.facts.get(owner, {})
        differences, gained, lost = find_differences(before, after), *_languages(before, after)
        if differences or gained or lost:
            what = "changed" if before and after else "added" if after else "gone"
            yield Change(owner, _title(owner, after or before), what, "", differences, gained, lost)


def _title(owner: str, facts: Mapping[str, tuple[str, ...]]) -> str:
    for name in ("title", "when", "name", "means"):
        if facts.get(name):
            return facts[name][0]
    return owner


def _of_items(then: Publication, now: PresentLibrary, ledger: Ledger) -> Iterator[Change]:
    for code, item in now.present.items():
        entry, version = ledger.by_code.get(code), then.versions.get(code)
        approved = entry.latest.approved if entry and entry.latest.version == item.version else None
        change = _of_item(then, now, item, version)
        if change:
            yield replace(change, version=item.version, approved=approved)
    for code in then.versions:
        entry = ledger.by_code[code]
        if code not in now.present and (not then.is_latest or not _was_gone(entry, then)):
            yield _gone(entry, then, now, ledger)


def _was_gone(entry: LedgerEntry, then: Publication) -> bool:
    """Whether the latest publication was without it already."""
    if then.facts:
        return _owner(entry.kind, entry.code, entry.slugs[-1]) not in then.facts
    return entry.left is not None


def _owner(kind: str, code: str, slug: str) -> str:
    return f"{kind}/{slug if kind == BUNDLE else code}"


def _of_item(then: Publication, now: PresentLibrary, item: Present, version: Version | None) -> Change | None:
    owner = _owner(item.kind, item.code, item.slug)
    after = now.facts.get(owner, {})
    if version is None:
        return Change(owner, item.title, "added", differences=find_differences({}, after), gained=after.get(LANGUAGES, ()))
    before = then.facts.get(owner, {})
    if before.get(VERSION) != (version.version,):  # a renamed bundle, or facts of another day
        before = next((own for own in then.facts.values() if own.get(VERSION) == (version.version,)), {})
    if before:
        differences, (gained, lost) = find_differences(before, after), _languages(before, after)
    else:
        parts = changed_parts(version.parts, item.parts) if version.version != item.version else ()
        doses = Difference(DOSE, now.say_dose(version.dose) if version.dose else (), after.get(DOSE, ()))
        is_said = version.dose is not None and doses.then != doses.now
        differences, gained, lost = tuple(doses if part == "dose" and is_said else Difference(f"part:{part}") for part in parts), (), ()
    leads = _moved(before.get(ADDRESS, ()), after)
    if not (differences or gained or lost or leads):
        return None
    return Change(owner, item.title, "changed", "", differences, gained, lost, leads)


def _moved(before: tuple[str, ...], after: Mapping[str, tuple[str, ...]]) -> tuple[Lead, ...]:
    (address,) = after.get(ADDRESS, ("",))
    if not before or before == (address,):
        return ()
    return tuple(Lead(f"{language}/{before[0]}/", f"{language}/{address}/") for language in after.get(LANGUAGES, ()))


def _gone(entry: LedgerEntry, then: Publication, now: PresentLibrary, ledger: Ledger) -> Change:
    owner = _owner(entry.kind, entry.code, entry.slugs[-1])
    facts = then.facts.get(owner, {})
    heir = now.present.get(follow(ledger, entry.code, now.present))
    languages = facts.get(LANGUAGES, ())
    to = f"{heir.item}/" if heir else ""
    leads = tuple(Lead(f"{language}/{folder_of(entry.kind)}/{entry.slugs[-1]}/", f"{language}/{to}" if to else "") for language in languages)
    if entry.code in now.held_back:
        return Change(owner, entry.title, "held back", "its review has ended", lost=languages, leads=leads)
    if entry.withdrawn:
        return Change(owner, entry.title, "withdrawn", entry.withdrawn.why, lost=languages, leads=leads)
    if entry.replaced_by:
        return Change(owner, entry.title, "replaced", f"replaced by {heir.title if heir else entry.replaced_by}", lost=languages, leads=leads)
    return Change(owner, entry.title, "gone", lost=languages, leads=leads)


def find_differences(before: Mapping[str, tuple[str, ...]], after: Mapping[str, tuple[str, ...]]) -> tuple[Difference, ...]:
    """The facts of one thing that differ, those that matter most to a patient first."""
    names = [name for name in dict.fromkeys((*ORDER, *before, *after)) if name not in SILENT]
    pairs = ((name, before.get(name, ()), after.get(name, ())) for name in names)
    return tuple(Difference(name, then, now) for name, then, now in pairs if then != now)


def _languages(before: Mapping[str, tuple[str, ...]], after: Mapping[str, tuple[str, ...]]) -> tuple[tuple[str, ...], tuple[str, ...]]:
    then, now = before.get(LANGUAGES, ()), after.get(LANGUAGES, ())
    return tuple(each for each in now if each not in then), tuple(each for each in then if each not in now)


def _holders(facts: Facts) -> dict[str, tuple[str, ...]]:
    """By the title of an exercise the programmes and bundles that hold it."""
    found: dict[str, list[str]] = {}
    for owner, own in facts.items():
        for line in own.get("exercises", ()):
            held = line.partition(": ")[2].split(", ") if owner.startswith("programme/") else [line.partition(": ")[0]]
            for title in held:
                found.setdefault(title, []).append(owner)
    return {title: tuple(dict.fromkeys(owners)) for title, owners in found.items()}


def _sheets(change: Change, holders: Mapping[str, tuple[str, ...]], facts: Facts) -> tuple[str, ...]:
    """Whose sheets are touched: of the thing itself, of what holds it, and of everything where the words stand on all."""
    kind = change.owner.partition("/")[0]
    if change.what == "added" or (change.what == "changed" and _only_off_paper(change.differences)):
        return ()
    if kind == "caution":
        return tuple(owner for owner, own in facts.items() if any(text.startswith(change.title) for text in own.get("caution", ())))
    if kind == "clinic":
        return tuple(owner for owner in facts if owner.partition("/")[0] in KINDS)
    if kind == "exercise":
        return (change.owner, *holders.get(change.title, ()))
    return (change.owner,) if kind in KINDS else ()


def _only_off_paper(differences: Iterable[Difference]) -> bool:
    names = {each.name for each in differences}
    return names <= OFF_PAPER or names <= {"part:place"}

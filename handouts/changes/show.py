"""What changes, for a person who signs it: as text, as one HTML page, as a record for tools."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from difflib import SequenceMatcher
from typing import Any

from handouts.changes.beside import BesideBase
from handouts.changes.compare import Change, Difference, Publication
from handouts.changes.facts import FIGURE
from handouts.templating.templates import template_environment
from handouts.words.wording import Wording

LABELS: Mapping[str, str] = {
    "dose": "the dose", "step": "how to do it", "paragraph": "how to do it: paragraphs", "bullet": "how to do it: lists",
    "heading": "headings", "caution": "the cautions, or when to stop", "figure": "the figure", "cue": "what to think of",
    "feel": "what it should feel like", "mistake": "what goes wrong", "mend": "what to do then", "ready-when": "when one is ready for more",
    "ready": "what is measured of that",
    "why": "what it is good for", "title": "the title", "easier": "what is easier", "harder": "what is harder",
    "way": "easier and harder exercises", "position": "the position", "equipment": "what one needs", "after": "what comes before it",
    "tier": "its step", "region": "parts of the body", "purpose": "what it trains", "exercises": "the exercises in it",
    "for": "whom it suits", "goal": "what one gets from it", "weeks": "how many weeks", "day": "what to do through the day",
    "enter-when": "when to begin a step", "also-called": "other names", "role": "who reviewed it", "when": "the sign", "do": "what to do",
    "emergency-number": "the emergency number", "emergency": "when to call it", "phone": "phone numbers", "where": "addresses",
    "hours": "opening hours", "site": "the address of the site", "pain-rule": "what is said about pain",
    "flare-when": "how much worse it is", "flare-do": "what to do then", "defer-surgeon": "that the surgeon's plan comes first",
    "defer-clinician": "that it does not replace the clinician",
}  # fmt: skip
"""What a fact is called; a name that is not here stands for itself."""
KINDS = {"programme": "booklet", "bundle": "bundle", "exercise": "sheet", "test": "card", "leaflet": "sheet", "lesson": "card", "class": "plan"}
"""What is printed of each kind."""
SHOWN = 12
"""How many sheets a line names."""


@dataclass(frozen=True, slots=True)
class DifferenceView:
    """A part, its lines that went and came, or what it was and is."""

    label: str
    then: tuple[str, ...] = ()
    now: tuple[str, ...] = ()
    kept: tuple[str, ...] = ()
    """What it was and is, where nothing went or came."""


@dataclass(frozen=True, slots=True)
class ChangedThing:
    """One thing, ready to be read."""

    title: str
    what: str
    differences: tuple[DifferenceView, ...]
    lines: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Report:
    """All that changes."""

    library: str
    since: str
    items: tuple[ChangedThing, ...]
    notes: tuple[str, ...] = field(default=())
    own: tuple[ChangedThing, ...] = ()
    """What the library has in another way than its base."""


def make_report(
    library: str,
    then: Publication,
    changes: Sequence[Change],
    titles: Mapping[str, str],
    *,
    signs: bool,
    notes: tuple[str, ...] = (),
    own: Sequence[BesideBase] = (),
) -> Report:
    """The report in English; ``titles`` are by owner, ``signs`` where the library asks for approvals."""
    since = f"since {then.label or then.on}" if then.label or then.on else "as nothing was published before"
    return Report(library, since, tuple(_view(change, titles, signs) for change in changes), notes, tuple(map(_view_own, own)))


def _view_own(each: BesideBase) -> ChangedThing:
    base = (_dose("the base's dose", each.base_dose_then, each.base_dose), _dose("the dose here", each.dose_then, each.dose))
    doses = base if each.dose != each.base_dose else ()
    others = tuple(replace(_difference(other), label=f"changed in the base: {_difference(other).label}") for other in each.differences)
    return ChangedThing(f"{each.title} ({each.name})", each.says, (*doses, *others), (each.review_says,))


def _view(change: Change, titles: Mapping[str, str], signs: bool) -> ChangedThing:
    return ChangedThing(
        f"{change.title} ({change.owner.partition('/')[2] or change.owner})",
        change.what + (f": {change.why}" if change.why else ""),
        tuple(_difference(each) for each in change.differences),
        tuple(_lines(change, titles, signs)),
    )


def _dose(label: str, then: tuple[str, ...], now: tuple[str, ...]) -> DifferenceView:
    return DifferenceView(label, kept=now) if then == now else DifferenceView(label, then, now)


def _difference(each: Difference) -> DifferenceView:
    if each.name.startswith("part:"):
        return DifferenceView(Wording("en").say(f"upkeep.part_{each.name.removeprefix('part:')}"))
    label = LABELS.get(each.name, each.name.replace("-", " "))
    if each.name == FIGURE:
        return DifferenceView(label)
    if each.name == "dose":
        return DifferenceView(label, ("; ".join(each.then),) if each.then else (), ("; ".join(each.now),) if each.now else ())
    then: list[str] = []
    now: list[str] = []
    for kind, first, last, begin, end in SequenceMatcher(None, each.then, each.now, autojunk=False).get_opcodes():
        if kind != "equal":
            then += each.then[first:last]
            now += each.now[begin:end]
    return DifferenceView(label, tuple(then), tuple(now)) if then or now else DifferenceView(f"{label}: their order")


def _lines(change: Change, titles: Mapping[str, str], signs: bool) -> Iterator[str]:
    if change.gained:
        yield f"{'in' if change.what == 'added' else 'now also in'}: {_names(change.gained)}"
    if change.lost:
        yield f"no longer in: {_names(change.lost)}"
    for lead in change.leads:
        yield f"{lead.address} leads to {lead.to}" if lead.to else f"{lead.address} says what became of it"
    if change.sheets:
        shown = [f"{titles.get(owner, owner)} ({KINDS[owner.partition('/')[0]]})" for owner in change.sheets[:SHOWN]]
        more = f" and {len(change.sheets) - SHOWN} more" if len(change.sheets) > SHOWN else ""
        yield f"printed sheets that are touched: {'; '.join(shown)}{more}"
    if change.base:
        yield change.base
    if change.approved:
        yield f"approved by {change.approved.by} on {change.approved.on}"
    elif signs and change.version:
        yield "not approved"


def _names(languages: Sequence[str]) -> str:
    return ", ".join(f"{Wording('en').name_of(each)} ({each})" for each in languages)


def as_text(report: Report) -> str:
    """The report as lines."""
    lines = [*report.notes]
    if not report.items:
        lines += [f"Nothing changes for readers {report.since}.", ""]
    else:
        lines += [f"What changes for readers {report.since}: {_count(report.items)}", "", *_say_things(report.items)]
    if report.own:
        lines += [f"In another way here than in the base: {_count(report.own)}", "", *_say_things(report.own)]
    return "\n".join(lines).rstrip("\n")


def _count(items: Sequence[ChangedThing]) -> str:
    return "1 thing" if len(items) == 1 else f"{len(items)} things"


def _say_things(items: Sequence[ChangedThing]) -> Iterator[str]:
    for item in items:
        yield f"{item.title}: {item.what}"
        for each in item.differences:
            yield f"  {each.label}"
            yield from (f"      {text}" for text in each.kept)
            yield from (f"    - {text}" for text in each.then)
            yield from (f"    + {text}" for text in each.now)
        yield from (f"  {line}" for line in item.lines)
        yield ""


def as_html(report: Report, templates: Mapping[str, bytes]) -> bytes:
    """The report as one page that needs no other file."""
    texts = {"changes.html": templates["changes/changes.html"].decode()}
    style = templates["changes/changes.css"].decode()
    return template_environment(texts).get_template("changes.html").render(view=report, style=style).encode()


def as_record(then: Publication, changes: Sequence[Change]) -> dict[str, Any]:
    """The report for tools."""
    return {
        "since": then.label or (then.on.isoformat() if then.on else None),
        "changes": [
            {
                "owner": change.owner,
                "title": change.title,
                "what": change.what,
                "why": change.why,
                "version": change.version,
                "differences": [
                    {"part": each.name.removeprefix("part:"), "then": list(each.then), "now": list(each.now)} for each in change.differences
                ],
                "languages gained": list(change.gained),
                "languages lost": list(change.lost),
                "addresses": [{"address": lead.address, "leads to": lead.to} for lead in change.leads],
                "sheets": list(change.sheets),
                "base": change.base or None,
                "approved": {"by": change.approved.by, "on": change.approved.on.isoformat()} if change.approved else None,
            }
            for change in changes
        ],
    }

"""Versions that were built and that the ledger does not know: what a report keeps of them, and the notice of them.

Which site was copied to readers only people know, so a version that was built is named until the ledger is brought up to date.
Reads reports; writes nothing.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping
from datetime import date
from pathlib import Path
from typing import Any

from handouts.ledger.entries import Ledger, folder_of
from handouts.ledger.history import History
from handouts.ledger.update import Present
from handouts.ledger.write import write_dose
from handouts.library.dose_shapes import DOSE
from handouts.model import Dose
from handouts.problems import Grade, Place, Problem
from handouts.publishing.manifest import site_digest
from handouts.publishing.publish import REPORT, SITE
from handouts.source.nodes import compose

ITEMS, BEFORE = "items", "built before"
"""Entries of a report: what the site has, and what earlier sites had that the ledger does not know."""
DRAFT = "draft"
"""Entry of the report of a trial, whose versions went to nobody."""
SHOWN = 5
"""How many versions a notice names."""


def item_records(present: Iterable[Present], ledger: Ledger | None, on: date) -> list[dict[str, Any]]:
    """What a site has, for its report."""
    known = ledger.by_code if ledger else {}
    return [
        {
            "code": item.code, "kind": item.kind, "slug": item.slug, "title": item.title, "version": item.version, "on": on.isoformat(),
            "after": known[item.code].latest.version if item.code in known else "",
            **({"dose": write_dose(item.dose)} if item.dose else {}),
            "parts": dict(item.parts),
        }
        for item in present
    ]  # fmt: skip


def read_items(out: Path) -> tuple[list[dict[str, Any]], list[dict[str, Any]]]:
    """What the standing site has, and what was built before it: as its report keeps them; nothing where the report is of another site."""
    try:
        report = json.loads((out / REPORT).read_bytes())
    except (OSError, ValueError):
        return [], []
    if not isinstance(report, dict) or report.get("site") != site_digest(out / SITE):
        return [], []
    items = () if report.get(DRAFT) else report.get(ITEMS, ())
    return list(items), list(report.get(BEFORE, ()))


def built_records(out: Path, history: History, on: date) -> dict[str, list[dict[str, Any]]]:
    """The entries of a report about versions: those of this site, and those built before that the ledger does not know."""
    held = {f"{folder_of(item.kind)}/{item.slug}" for item in history.held_back}
    now = [item for item in history.present if item.item not in held]
    items, before = read_items(out)
    return {ITEMS: item_records(now, history.ledger, on), BEFORE: still_unknown((*before, *items), history.ledger, now)}


def still_unknown(records: Iterable[Mapping[str, Any]], ledger: Ledger | None, now: Iterable[Present]) -> list[dict[str, Any]]:
    """The versions that no ledger has and that are not the present ones, each once; none from before the ledger's latest word."""
    known, present = ledger.by_code if ledger else {}, {item.code: item.version for item in now}
    found: dict[tuple[str, str], dict[str, Any]] = {}
    for record in records:
        code, version = record["code"], record["version"]
        entry = known.get(code)
        if version == present.get(code) or (entry and any(each.version == version for each in entry.versions)):
            continue
        if (entry.latest.version if entry else "") == record["after"]:
            found[code, version] = dict(record)
    return list(found.values())


def find_unwritten(out: Path, ledger: Ledger | None, now: Iterable[Present]) -> list[Problem]:
    """A notice of the versions that were built into ``out``, are not the present ones and stand in no ledger."""
    if ledger is None:
        return []
    items, before = read_items(out)
    records = still_unknown((*before, *items), ledger, now)
    if not records:
        return []
    names = ", ".join(f"{each['slug']} {each['version']} ({each['on']})" for each in records[:SHOWN])
    what = f"{len(records)} of the versions built in '{out}' {'is' if len(records) == 1 else 'are'} not in the ledger: {names}"
    mend = "Where they were copied to readers or printed: 'handouts ledger update --built' writes them down. Else do nothing."
    return [Problem(ledger.place, "version-not-in-ledger", what + (" …" if len(records) > SHOWN else ""), mend, Grade.NOTICE)]


def as_present(record: Mapping[str, Any], place: Place) -> tuple[Present, date]:
    """What a report keeps of a version, and the day on which it was built."""
    return (
        Present(
            record["code"], record["kind"], record["slug"], record["title"], record["version"],
            record["parts"], _dose(record.get("dose")), place,
        ),
        date.fromisoformat(record["on"]),
    )  # fmt: skip


def _dose(text: str | None) -> Dose | None:
    if text is None:
        return None
    node, problems = compose(f"dose: {text}", REPORT)
    value = node.get("dose") if node else None
    dose = DOSE.read(value, problems) if value else None
    return dose if isinstance(dose, Dose) else None

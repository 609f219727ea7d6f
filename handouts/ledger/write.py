"""A ledger as the text of its file: always the same for the same ledger, one version a line."""

from __future__ import annotations

import json
from collections.abc import Mapping

from handouts.dose.weight import write_weight
from handouts.ledger.entries import Approval, Ledger, LedgerEntry, Version
from handouts.ledger.read import FORMAT
from handouts.library.dose_shapes import OPEN_DOSE
from handouts.model import Dose, Side

_HEAD = """\
# Every code that was ever published, written by 'handouts ledger update'.
# Add by hand only what became of a code that left the library:
#   replaced by: H7K2                                   the code of what took its place; of a bundle its file name
#   withdrawn: {on: 2026-09-14, why: "One sentence."}   patients read the reason; in their language where
#                                                       you add it: translated: {es: "Una frase."}
# Never delete an entry: its code is printed on sheets that people keep.
"""


def write_ledger(ledger: Ledger) -> bytes:
    """The file."""
    head = _HEAD
    if ledger.clinic or any(each.approved for entry in ledger.entries for each in entry.versions):
        head += f"format: {FORMAT}\n"
    if ledger.clinic:
        approved = (f"  - {{version: {_quote(each.version)}, {_approval(each.approved)}}}\n" for each in ledger.clinic)
        head += "clinic:\n" + "".join(approved)
    lines = [head + ("codes:" if ledger.entries else "codes: []")]
    for entry in sorted(ledger.entries, key=lambda each: each.code):
        lines += _entry_lines(entry)
    return ("\n".join(lines) + "\n").encode()


def _entry_lines(entry: LedgerEntry) -> list[str]:
    """The lines of an entry; one that could stand in two entries names its code, so that git never takes it for a common line."""
    mine = f"  # {entry.code}"
    lines = [
        f"  - code: {_quote(entry.code)}",
        f"    kind: {entry.kind}{mine}",
        f"    title: {_quote(entry.title)}",
        f"    slugs: [{', '.join(_quote(slug) for slug in entry.slugs)}]",
    ]
    if entry.titles:
        lines.append(f"    titles:{mine}")
        lines += [f"      {tag}: {_quote(text)}" for tag, text in sorted(entry.titles.items())]
    if entry.replaced_by is not None:
        lines.append(f"    replaced by: {_quote(entry.replaced_by)}{mine}")
    if entry.withdrawn is not None:
        gone = entry.withdrawn
        translated = f", translated: {_by_language(gone.translated)}" if gone.translated else ""
        lines.append(f"    withdrawn: {{on: {gone.on}, why: {_quote(gone.why)}{translated}}}{mine}")
    if entry.left is not None:
        lines.append(f"    left: {entry.left}{mine}")
    return [*lines, f"    versions:{mine}", *(f"      - {_version(each)}" for each in entry.versions)]


def _by_language(texts: Mapping[str, str]) -> str:
    return "{" + ", ".join(f"{tag}: {_quote(text)}" for tag, text in texts.items()) + "}"


def _version(version: Version) -> str:
    parts = [f"version: {_quote(version.version)}", f"on: {version.on}"]
    if version.changed:
        parts.append(f"changed: [{', '.join(version.changed)}]")
    if version.dose is not None:
        parts.append(f"dose: {write_dose(version.dose)}")
    prints = ", ".join(f"{name}: {_quote(value)}" for name, value in version.parts.items())
    signed = [_approval(version.approved)] if version.approved else []
    return "{" + ", ".join([*parts, f"parts: {{{prints}}}", *signed]) + "}"


def _approval(approval: Approval) -> str:
    return f"approved: {{by: {_quote(approval.by)}, on: {approval.on}}}"


def _quote(text: str) -> str:
    """A text in double quotes; JSON's strings are YAML's."""
    return json.dumps(text, ensure_ascii=False)


def write_dose(dose: Dose) -> str:
    """A dose as an exercise's file has it; reading it gives the same dose."""
    if dose.is_open:
        return OPEN_DOSE
    tempo, effort = dose.tempo, dose.effort
    values = {
        "sets": dose.sets,
        "reps": dose.reps,
        "hold": _seconds(dose.hold_seconds),
        "time": _seconds(dose.time_seconds),
        "distance": f"{dose.distance_metres} m" if dose.distance_metres is not None else None,
        "side": dose.side.value if dose.side is not Side.TOGETHER else None,
        "tempo": "-".join(str(part) for part in (tempo.go, tempo.hold, tempo.back, tempo.pause)) if tempo else None,
        "rest": _seconds(dose.rest_seconds),
        "days": dose.days,
        "times": dose.times if dose.times != 1 else None,
        "effort": f"{effort.low:g}-{effort.high:g}" if effort else None,
        "weight": write_weight(dose.weight_kg) if dose.weight_kg is not None else None,
        "band": _quote(dose.band.slug) if dose.band else None,
        "limb": dose.limb.value if dose.limb else None,
        "pace": f"{dose.pace_metres_per_second:g} m/s" if dose.pace_metres_per_second is not None else None,
        "count": dose.counted.value if dose.counted else None,
        "reps up to": dose.reps_to,
        "a minute": dose.rate,
        "work": dose.work.value if dose.work else None,
        "pace words": _quote(dose.pace_words.slug) if dose.pace_words else None,
        "warm up": _seconds(dose.warm_up_seconds),
        "cool down": _seconds(dose.cool_down_seconds),
        "every": f"{dose.every_minutes} min" if dose.every_minutes is not None else None,
        "when": _quote(dose.occasion.slug) if dose.occasion else None,
        "rest days": dose.rest_days,
    }
    return "{" + ", ".join(f"{name}: {value}" for name, value in values.items() if value is not None) + "}"


def _seconds(value: int | None) -> str | None:
    return None if value is None else f"{value} s"

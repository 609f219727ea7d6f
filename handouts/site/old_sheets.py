"""What a patient with an old sheet is told: which version is present, and which parts are different now.

A sheet's QR code ends with its version as a fragment, and each former version is an element with that
name; the style sheet shows the one that the address names, so that no script is needed.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from handouts.ledger.history import Former
from handouts.site.setting import Edition, Setting


@dataclass(frozen=True, slots=True)
class OldSheet:
    """A former version as its holder is told of it."""

    version: str
    says: str
    same: str
    """Not empty where nothing is different now."""
    changed: tuple[str, ...]


def view_old_sheets(setting: Setting, former: Iterable[Former], now: str) -> tuple[OldSheet, ...]:
    """Every former version; ``now`` is the present one's stamp."""
    say = setting.speech.say
    return tuple(
        OldSheet(
            version=each.version,
            says=say("upkeep.old_sheet", old=each.version, date=setting.speech.date(each.on), now=now),
            same="" if each.changed else say("upkeep.same_again"),
            changed=tuple(say(f"upkeep.part_{part}") for part in each.changed),
        )
        for each in former
    )


def old_sheets_of(setting: Setting, item: str) -> tuple[OldSheet, ...]:
    """The former versions of ``exercises/SLUG`` or ``programmes/SLUG``."""
    return view_old_sheets(setting, setting.edition.history.former(item), setting.version_of(item)) if item else ()


def overdue_line(setting: Setting, item: str) -> str:
    """That the review of an item is over; empty where it is not."""
    ended = setting.edition.history.overdue.get(item)
    return setting.speech.say("upkeep.overdue", date=setting.speech.date(ended)) if ended else ""


def sheet_address(site: str, edition: Edition, page: str) -> str:
    """What a sheet's QR code opens: its page with the sheet's version, so that an old sheet is told what changed."""
    _, kind, slug = page.split("/")[:3]
    version = edition.versions.get(f"{kind}/{slug}", "") if kind in ("exercises", "programmes") else ""
    return f"{site}{page}#{version}" if version else site + page

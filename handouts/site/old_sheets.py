"""What a patient with an old sheet is told: which version is present, and which parts are different now.

A sheet's QR code ends with its version as a fragment, and each former version is an element with that
name; the style sheet shows the one that the address names, so that no script is needed.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from handouts.dose.phrase import dose_line, dose_names, frequency_line, join_parts
from handouts.ledger.history import Former
from handouts.model import Dose, OlderVersion
from handouts.site.context import Edition, LanguageSite
from handouts.words.wording import Wording


@dataclass(frozen=True, slots=True)
class OldSheet:
    """A former version as its holder is told of it."""

    version: str
    says: str
    same: str
    """Not empty where nothing is different now."""
    changed: tuple[str, ...]


def view_old_sheets(setting: LanguageSite, former: Iterable[Former], now: str) -> tuple[OldSheet, ...]:
    """Every former version; ``now`` is the present one's stamp."""
    say = setting.wording.say
    return tuple(
        OldSheet(
            version=each.version,
            says=say("upkeep.old_sheet", old=each.version, date=setting.wording.date(each.on), now=now),
            same="" if each.changed else say("upkeep.same_again"),
            changed=tuple(_say_part(setting, each, part) for part in each.changed),
        )
        for each in former
    )


def _say_part(setting: LanguageSite, former: Former, part: str) -> str:
    """What changed; a dose with what the sheet says and what holds now, where the two read differently."""
    say = setting.wording.say
    if part == "dose" and former.doses:
        then, now = (_say_dose(setting, dose) for dose in former.doses)
        if then != now:
            return say("upkeep.dose_then_now", then=then, now=now)
    return say(f"upkeep.part_{part}")


def _say_dose(setting: LanguageSite, dose: Dose) -> str:
    names = dose_names(dose, setting.library)
    parts = (dose_line(dose, setting.wording, names), frequency_line(dose, setting.wording, names))
    return join_parts(parts, setting.wording)


def old_sheets_of(setting: LanguageSite, item: str) -> tuple[OldSheet, ...]:
    """The former versions of ``exercises/SLUG`` and the like."""
    return view_old_sheets(setting, setting.edition.history.former(item), setting.version_of(item)) if item else ()


def overdue_line(setting: LanguageSite, item: str) -> str:
    """That the review of an item is over; empty where it is not."""
    ended = setting.edition.history.overdue.get(item)
    return setting.wording.say("upkeep.overdue", date=setting.wording.date(ended)) if ended else ""


def older_line(wording: Wording, older: OlderVersion | None) -> str:
    """That a text stands as it was, and since when; empty where it does not."""
    return wording.say("upkeep.older", date=wording.date(older.on)) if older else ""


def sheet_address(site: str, edition: Edition, page: str) -> str:
    """What a sheet's QR code opens: its page with the sheet's version, so that an old sheet is told what changed."""
    language, kind, slug = page.split("/")[:3]
    version = edition.in_language(language).versions.get(f"{kind}/{slug}", "")
    return f"{site}{page}#{version}" if version else site + page

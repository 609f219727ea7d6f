"""The review desk: what is held back, overdue or due soon, since or until when, and which role reviewed it last."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date

from handouts.model import Bundle, Exercise, Programme, Standalone
from handouts.publication.reviews import say_reviewer
from handouts.rules.safety import review_ends
from handouts.site.context import LanguageSite
from handouts.site.page_frame import PageFrame, make_frame
from handouts.site.paths import item_page, list_page, relative
from handouts.text.markup import plain_text

DESK = "desk"
"""Folder of the page below the source language."""


@dataclass(frozen=True, slots=True)
class DeskItem:
    """One thing that waits for a review."""

    title: str
    href: str
    """Empty for what is not published."""
    when: str


@dataclass(frozen=True, slots=True)
class DeskGroup:
    """Things at the same stage, the longest waiting first."""

    heading: str
    items: tuple[DeskItem, ...]


@dataclass(frozen=True, slots=True)
class DeskPage:
    """The review desk."""

    frame: PageFrame
    title: str
    lead: str
    groups: tuple[DeskGroup, ...]
    none: str


def make_desk_page(setting: LanguageSite, today: date) -> DeskPage:
    """The view of the desk on a day."""
    say, page = setting.wording.say, list_page(setting.language, DESK)
    lead = say("upkeep.desk_lead", date=setting.wording.date(today))
    held = sorted(setting.edition.history.held_back, key=lambda item: item.ended)
    notice = setting.library.clinic.review.notice_days
    waiting = sorted(_ends(setting), key=lambda row: row[0])
    overdue = [row for row in waiting if row[0] < today]
    due = [row for row in waiting if 0 <= (row[0] - today).days <= notice]
    groups = (
        DeskGroup(
            say("upkeep.desk_held_back"),
            tuple(DeskItem(plain_text(item.title), "", _when(setting, "since", item.ended, item.by)) for item in held),
        ),
        DeskGroup(say("upkeep.desk_overdue"), tuple(_item(setting, page, "since", *row) for row in overdue)),
        DeskGroup(say("upkeep.desk_due"), tuple(_item(setting, page, "until", *row) for row in due)),
    )
    shown = tuple(group for group in groups if group.items)
    return DeskPage(
        frame=make_frame(setting, page, say("upkeep.desk_title"), lead, strip=False, dated=True),
        title=say("upkeep.desk_title"),
        lead=lead,
        groups=shown,
        none="" if shown else say("upkeep.desk_none"),
    )


def _ends(setting: LanguageSite) -> Iterator[tuple[date, str, Exercise | Programme | Bundle | Standalone]]:
    """The end of each review with the kind and the thing."""
    library = setting.library
    rows: tuple[tuple[str, tuple[Exercise | Programme | Bundle | Standalone, ...]], ...] = (
        ("exercises", library.exercises),
        ("programmes", library.programmes),
        ("bundles", library.bundles),
        *library.standalones.items(),
    )
    for kind, items in rows:
        for item in items:
            yield review_ends(item.review, library.clinic.review.months), kind, item


def _item(
    setting: LanguageSite, page: str, word: str, end: date, kind: str, item: Exercise | Programme | Bundle | Standalone
) -> DeskItem:
    return DeskItem(
        plain_text(item.title.text),
        relative(page, item_page(setting.language, kind, item.slug)),
        _when(setting, word, end, say_reviewer(setting.wording, item.review)),
    )


def _when(setting: LanguageSite, word: str, end: date, role: str) -> str:
    return setting.wording.say(f"upkeep.desk_{word}", date=setting.wording.date(end), role=role)

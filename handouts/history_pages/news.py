"""What is new: every addition, change and withdrawal by day, as a page and as an Atom feed (RFC 4287)."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from itertools import groupby
from typing import Literal
from xml.sax.saxutils import escape, quoteattr

from handouts.history_pages.codes import Codes, code_page
from handouts.ledger.entries import BUNDLE, Ledger, LedgerEntry
from handouts.site.context import LanguageSite
from handouts.site.page_frame import PageFrame, make_frame
from handouts.site.paths import item_page, list_page, relative

NEWS = "new"
"""Folder of the page below its language."""
MOST = 200
"""How many entries a page and a feed show: two years of a library that changes twice a week."""
_INSIDE = ("exercises",)
"""What changed where only an exercise inside did: that is news of the exercise, once."""
What = Literal["added", "changed", "withdrawn", "replaced"]


@dataclass(frozen=True, slots=True)
class News:
    """One thing that happened to a code on a day."""

    on: date
    entry: LedgerEntry
    what: What
    version: str
    changed: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class NewsItem:
    """A line of the list."""

    anchor: str
    text: str
    href: str
    changed: tuple[str, ...]
    why: str
    why_language: str


@dataclass(frozen=True, slots=True)
class NewsDay:
    """What happened on a day."""

    date: str
    items: tuple[NewsItem, ...]


@dataclass(frozen=True, slots=True)
class NewsPage:
    """The list of news."""

    frame: PageFrame
    title: str
    lead: str
    feed: str
    days: tuple[NewsDay, ...]


def find_news(ledger: Ledger) -> tuple[News, ...]:
    """All that happened, the latest first."""
    found: list[News] = []
    for entry in ledger.entries:
        for number, version in enumerate(entry.versions):
            what: What = "changed" if number else "added"
            if not number or version.changed not in ((), _INSIDE):
                found.append(News(version.on, entry, what, version.version, version.changed))
        gone = _gone(ledger, entry)
        if gone:
            found.append(News(gone, entry, "withdrawn" if entry.withdrawn else "replaced", entry.latest.version))
    return tuple(sorted(found, key=lambda news: news.on, reverse=True))


def _gone(ledger: Ledger, entry: LedgerEntry) -> date | None:
    """The day on which an entry left; where no update has seen it gone, the first day of what replaced it."""
    if entry.withdrawn or entry.left:
        return entry.withdrawn.on if entry.withdrawn else entry.left
    heir = ledger.by_code.get(ledger.code_of(entry.replaced_by or ""))
    return max(heir.versions[0].on, entry.latest.on) if heir else None


def make_news_page(setting: LanguageSite, codes: Codes, news: Iterable[News]) -> NewsPage:
    """The view of the list in a language: what it does not publish is left out."""
    say, page = setting.wording.say, list_page(setting.language, NEWS)
    shown = shown_news(codes, news)
    return NewsPage(
        frame=make_frame(setting, page, say("upkeep.new_title"), say("upkeep.new_lead")),
        title=say("upkeep.new_title"),
        lead=say("upkeep.new_lead"),
        feed=relative(page, feed_path(setting.language)),
        days=tuple(
            NewsDay(setting.wording.date(day), tuple(_item(setting, codes, each) for each in items))
            for day, items in groupby(shown, key=lambda each: each.on)
        ),
    )


def shown_news(codes: Codes, news: Iterable[News]) -> tuple[News, ...]:
    """The news of what a language publishes, and of what left."""
    return tuple(each for each in news if each.entry.code in codes.here or each.what in ("withdrawn", "replaced"))[
        :MOST
    ]


def _item(setting: LanguageSite, codes: Codes, news: News) -> NewsItem:
    page = list_page(setting.language, NEWS)
    entry, language = news.entry, setting.language
    code, gone = entry.code, entry.withdrawn
    former = entry.titles.get(language, entry.title)
    target, title = codes.here.get(code, (_page_of_gone(language, entry), former))
    why = (gone.why_in(language) or gone.why) if gone and news.what == "withdrawn" else ""
    return NewsItem(
        anchor=f"{code}-{news.version}-{news.what}",
        text=setting.wording.say(f"upkeep.new_{news.what}", title=title),
        href=relative(page, target),
        changed=tuple(setting.wording.say(f"upkeep.part_{part}") for part in news.changed),
        why=why,
        why_language=setting.source.language if gone and gone.why_in(language) is None else language,
    )


def _page_of_gone(language: str, entry: LedgerEntry) -> str:
    """The page that says what became of something; a bundle has no code, so it is at its last address."""
    if entry.kind == BUNDLE:
        return item_page(language, "bundles", entry.slugs[-1])
    return code_page(language, entry.code)


def feed_path(language: str) -> str:
    """The path of a language's feed."""
    return f"{language}/{NEWS}/feed.xml"


def write_feed(setting: LanguageSite, codes: Codes, news: Iterable[News]) -> bytes:
    """The feed; its times are midnight in universal time, since the ledger knows days only."""
    say, clinic, page = setting.wording.say, setting.library.clinic, list_page(setting.language, NEWS)
    shown = shown_news(codes, news)
    address = clinic.site + page
    updated = max((each.on for each in shown), default=date(1970, 1, 1))
    title = say("site.page_title", title=say("upkeep.new_title"), clinic=clinic.name)
    lines = [
        '<?xml version="1.0" encoding="utf-8"?>',
        f'<feed xmlns="http://www.w3.org/2005/Atom" xml:lang={quoteattr(setting.language)}>',
        f"<id>{escape(address)}</id>",
        f"<title>{escape(title)}</title>",
        f"<updated>{updated}T00:00:00Z</updated>",
        f"<author><name>{escape(clinic.name)}</name></author>",
        f'<link rel="alternate" type="text/html" href={quoteattr(address)}/>',
        f'<link rel="self" type="application/atom+xml" href={quoteattr(clinic.site + feed_path(setting.language))}/>',
    ]
    for each in shown:
        lines += _entry(setting, codes, each, address)
    return ("\n".join([*lines, "</feed>"]) + "\n").encode()


def _entry(setting: LanguageSite, codes: Codes, news: News, address: str) -> list[str]:
    item, code = _item(setting, codes, news), news.entry.code
    target = codes.here[code][0] if code in codes.here else _page_of_gone(setting.language, news.entry)
    summary = setting.wording.join(item.changed) if item.changed else item.why
    return [
        "<entry>",
        f"<id>{escape(f'{address}#{item.anchor}')}</id>",
        f"<title>{escape(item.text)}</title>",
        f"<updated>{news.on}T00:00:00Z</updated>",
        f'<link rel="alternate" type="text/html" href={quoteattr(setting.library.clinic.site + target)}/>',
        *([f"<summary>{escape(summary)}</summary>"] if summary else []),
        "</entry>",
    ]

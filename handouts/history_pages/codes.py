"""The page of each printed code and of each former address: where it leads now, or what became of it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from handouts.ledger.entries import BUNDLE, STANDALONE, LedgerEntry, folder_of
from handouts.ledger.history import History, follow
from handouts.model import Bundle, Exercise, Library, Programme, Standalone
from handouts.site.context import LanguageSite
from handouts.site.old_sheets import OldSheet, view_old_sheets
from handouts.site.page_frame import PageFrame, make_frame
from handouts.site.paths import item_page, list_page, relative
from handouts.text.markup import plain_text

LISTED = {"bundles": BUNDLE, **STANDALONE}
"""Folders that have a list only where they hold something, each with the kind of what it holds."""


@dataclass(frozen=True, slots=True)
class LanguageLine:
    """A line, a link where it has an address, in the language of the page or in another one."""

    text: str
    href: str = ""
    language: str = ""
    """Not empty where it is not the page's."""


@dataclass(frozen=True, slots=True)
class CodePage:
    """Where a code or a former address leads."""

    frame: PageFrame
    title: str
    canonical: str
    """Address of the present page on the web; empty where there is none."""
    lines: tuple[LanguageLine, ...]
    versions: tuple[LanguageLine, ...]
    old_sheets: tuple[OldSheet, ...]


def code_page(language: str, code: str) -> str:
    """The path of the page of a code."""
    return f"{language}/code/{code}/index.html"


def all_codes(history: History) -> tuple[str, ...]:
    """Every code that was ever published, or will be by this build; a bundle has none."""
    former = history.ledger.entries if history.ledger else ()
    known = [(item.code, item.kind) for item in former] + [(item.code, item.kind) for item in history.present]
    return tuple(dict.fromkeys(code for code, kind in known if kind != BUNDLE))


def is_printed(history: History, code: str) -> bool:
    """Whether it is a code on a sheet; the name of a bundle is none."""
    known = (history.ledger.by_code.get(code) if history.ledger else None) or history.by_code.get(code)
    return known is not None and known.kind != BUNDLE


def former_addresses(library: Library, history: History) -> dict[str, str]:
    """Every address without a page in a language, with the code that it once showed or shows in another language."""
    taken = {f"exercises/{item.slug}" for item in library.exercises}
    taken |= {f"programmes/{item.slug}" for item in library.programmes}
    taken |= {f"bundles/{item.slug}" for item in library.bundles}
    taken |= {f"{folder}/{item.slug}" for folder, items in library.standalones.items() for item in items}
    found: dict[str, str] = {}
    for item, code in _known_items(history):
        if item not in taken:
            kind, slug = item.split("/")
            found[item_page(library.language, kind, slug)] = code
    return found


def _known_items(history: History) -> Iterator[tuple[str, str]]:
    """Every ``exercises/SLUG`` and the like there ever was, what is present last."""
    for entry in history.ledger.entries if history.ledger else ():
        for slug in entry.slugs:
            yield f"{folder_of(entry.kind)}/{slug}", entry.code
    for now in history.present:
        yield now.item, now.code


@dataclass(frozen=True, slots=True)
class Codes:
    """By code page and title of what a language publishes, and of what the source language does."""

    here: dict[str, tuple[str, str]]
    source: dict[str, tuple[str, str]]


def find_codes(setting: LanguageSite) -> Codes:
    """The codes as seen from a language; made once for all its pages."""
    codes = {item.item: item.code for item in setting.edition.history.present}
    return Codes(_codes_of(setting.library, codes), _codes_of(setting.source, codes))


def _codes_of(library: Library, codes: Mapping[str, str]) -> dict[str, tuple[str, str]]:
    """By code page and title of what a library publishes; ``codes`` are by ``exercises/SLUG`` and the like."""
    kinds: tuple[tuple[str, tuple[Exercise | Programme | Bundle | Standalone, ...]], ...] = (
        ("exercises", library.exercises),
        ("programmes", library.programmes),
        ("bundles", library.bundles),
        *library.standalones.items(),
    )
    pages = {}
    for kind, items in kinds:
        for item in items:
            page, title = item_page(library.language, kind, item.slug), plain_text(item.title.text)
            pages[codes[f"{kind}/{item.slug}"]] = (page, title)
    return pages


def make_code_page(setting: LanguageSite, codes: Codes, path: str, code: str) -> CodePage:
    """The view of the page of a code, or of a former address that showed it."""
    say, history = setting.wording.say, setting.edition.history
    here = codes.here
    title = say("upkeep.code_title", code=code) if is_printed(history, code) else say("site.nav_bundles")
    now = history.by_code.get(code)
    sheets = view_old_sheets(setting, history.former(now.item), now.version) if now and code in here else ()
    lines = _lines(setting, codes, path, code)
    return CodePage(
        frame=make_frame(setting, path, title, lines[0].text, stamp=now.item if now and code in here else ""),
        title=title,
        canonical=setting.library.clinic.site + here[code][0] if code in here else "",
        lines=lines,
        versions=tuple(
            LanguageLine(
                say("upkeep.version_of", version=each.version, date=setting.wording.date(each.on)), f"#{each.version}"
            )
            for each in (history.former(now.item) if sheets and now else ())
        ),
        old_sheets=sheets,
    )


def gone_lists(setting: LanguageSite) -> Iterator[str]:
    """The folders of which a language has nothing now and had something, so that the address of their list is known."""
    history, language = setting.edition.history, setting.language
    entries = history.ledger.entries if history.ledger else ()
    for folder, kind in LISTED.items():
        if _listed(setting.library, folder):
            continue
        was = any(each.kind == kind and (language == setting.source.language or language in each.titles) for each in entries)
        if was or any(each.kind == kind for each in history.held_back):
            yield folder


def make_gone_list(setting: LanguageSite, folder: str, path: str) -> CodePage:
    """The view of the list of a folder of which there is nothing at present."""
    say = setting.wording.say
    title = say(f"site.nav_{folder}")
    first = LanguageLine(say("upkeep.held_back"))
    if _listed(setting.source, folder) and setting.source is not setting.library:
        first = LanguageLine(say("upkeep.other_language", title=title), relative(path, list_page(setting.source.language, folder)))
    elif not any(each.kind == LISTED[folder] for each in setting.edition.history.held_back):
        first = LanguageLine(say("upkeep.present", title=say("site.nav_exercises")), relative(path, list_page(setting.language, "exercises")))
    return CodePage(make_frame(setting, path, title, first.text), title, "", (first,), (), ())


def _listed(library: Library, folder: str) -> tuple[Bundle | Standalone, ...]:
    return library.bundles if folder == "bundles" else library.standalones[folder]


def _lines(setting: LanguageSite, codes: Codes, path: str, code: str) -> tuple[LanguageLine, ...]:
    """What is said of a code, the first line what it is now."""
    say, history = setting.wording.say, setting.edition.history
    here, source = codes.here, codes.source
    entry = history.ledger.by_code.get(code) if history.ledger else None
    if code in here or code in source:
        moved = code in here and path not in (here[code][0], code_page(setting.language, code))
        first = (LanguageLine(say("upkeep.moved")),) if moved else ()
        return (*first, *_lead(setting, codes, path, code, "upkeep.present"))
    now = history.by_code.get(code)
    if entry is None or (now and any(f"{folder_of(item.kind)}/{item.slug}" == now.item for item in history.held_back)):
        return (LanguageLine(say("upkeep.held_back")),)
    return _retired(setting, codes, path, entry)


def _lead(setting: LanguageSite, codes: Codes, path: str, code: str, phrase: str) -> tuple[LanguageLine, ...]:
    """The link to a published code, in the source language where it is not in the page's."""
    say = setting.wording.say
    here, source = codes.here, codes.source
    if code in here:
        page, title = here[code]
        return (LanguageLine(say(phrase, title=title), relative(path, page)),)
    page, title = source[code]
    text = say("upkeep.other_language", title=title)
    return (LanguageLine(text, relative(path, page)),)


def _in_language(setting: LanguageSite, text: str, translated: str | None) -> LanguageLine:
    """A text of the ledger as translated, or in the source language."""
    return LanguageLine(translated) if translated else LanguageLine(text, language=setting.source.language)


def _retired(setting: LanguageSite, codes: Codes, path: str, entry: LedgerEntry) -> tuple[LanguageLine, ...]:
    say, ledger = setting.wording.say, setting.edition.history.ledger
    source, language = codes.source, setting.language
    lines = [_in_language(setting, entry.title, entry.titles.get(language))]
    heir = follow(ledger, entry.code, source) if ledger else entry.code
    last = ledger.by_code.get(heir, entry) if ledger else entry
    withdrawn = entry.withdrawn or (last.withdrawn if heir not in source else None)
    if withdrawn:
        lines.append(LanguageLine(say("upkeep.withdrawn", date=setting.wording.date(withdrawn.on))))
        lines.append(_in_language(setting, withdrawn.why, withdrawn.why_in(language)))
    elif entry.replaced_by:
        lines.append(LanguageLine(say("upkeep.replaced")))
    if heir in source and entry.replaced_by:
        lines += _lead(setting, codes, path, heir, "upkeep.replacement")
    elif not withdrawn:
        lines.append(LanguageLine(say("upkeep.held_back")))
    return tuple(lines)

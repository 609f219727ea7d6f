"""A small library's site at a later day, with the ledger that earlier publications left."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date

from handouts.history_pages.pages import HistoryPages
from handouts.ledger.check import check_ledger
from handouts.ledger.entries import Ledger
from handouts.ledger.history import History
from handouts.ledger.stamp import stamps_of
from handouts.ledger.update import find_present, update_ledger
from handouts.model import Library
from handouts.problems import has_errors
from handouts.rules.lapsed import sort_by_review
from handouts.site.context import Edition
from handouts.words.wording import Wording
from tests.builders import pseudo_library
from tests.site.making import MIRRORED, Drawings, asset_sources, lay_out_site
from tests.small_library import TEXTS, small_library

FIRST, LATER = date(2026, 9, 15), date(2026, 11, 25)


def publish(texts: Mapping[str, str] = TEXTS, on: date = FIRST, ledger: Ledger | None = None) -> Ledger:
    """The ledger after a publication."""
    library = small_library(texts)
    return update_ledger(ledger or Ledger(), find_present(library, stamps_of(library), ledger), on)


@dataclass(frozen=True, slots=True)
class Site:
    """The files of a site, and the stamps of what it shows."""

    files: Mapping[str, bytes]
    stamps: Mapping[str, str]

    def page(self, path: str) -> str:
        """The text of a page."""
        return self.files[path].decode()


def site_of(texts: Mapping[str, str] = TEXTS, ledger: Ledger | None = None, today: date = LATER, lacking: tuple[str, ...] = ()) -> Site:
    """The site in English and in a mirrored language, which lacks some exercises."""
    whole = small_library(texts)
    standing = sort_by_review(whole, today)
    library = standing.library
    stamps = {**stamps_of(whole), **stamps_of(library)}
    present = {item.code: item for each in (whole, library) for item in find_present(each, stamps, ledger)}
    history = History(ledger, tuple(present.values()), standing.held_back, standing.overdue)
    assert ledger is None or not has_errors(check_ledger(ledger, history.present))
    mirrored = pseudo_library(small_without(library, lacking), MIRRORED)
    libraries = (library, mirrored)
    wordings = {each.language: Wording(each.language) for each in libraries}
    edition = Edition(version=stamps[""], versions=stamps, history=history)
    annexes = (HistoryPages(library, history, today),)
    return Site(lay_out_site(libraries, wordings, Drawings(), asset_sources(), edition, site_parts=annexes), stamps)


def small_without(library: Library, lacking: tuple[str, ...]) -> Library:
    """A library as a language has it in which some exercises are not translated."""
    if not lacking:
        return library
    kept = tuple(replace(item, after=()) for item in library.exercises if item.slug not in lacking)
    return replace(library, exercises=kept, programmes=(), bundles=())

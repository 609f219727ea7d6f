"""The pages of codes, news and reviews as a part of the site; which of them there are follows from the history of the library."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from functools import partial
from typing import Any

from handouts.history_pages.codes import (
    all_codes,
    code_page,
    find_codes,
    former_addresses,
    gone_lists,
    make_code_page,
    make_gone_list,
)
from handouts.history_pages.news import NEWS, News, feed_path, find_news, make_news_page, write_feed
from handouts.history_pages.review_desk import DESK, make_desk_page
from handouts.history_pages.sitemap import PATH, write_sitemap
from handouts.ledger.entries import folder_of
from handouts.ledger.history import History
from handouts.ledger.update import update_ledger
from handouts.model import Library
from handouts.site.context import LanguageSite
from handouts.site.paths import COMPETENCE, list_page

Maker = tuple[str, partial[Any]]


@dataclass(frozen=True)
class HistoryPages:
    """Codes, former addresses, news, the review desk in the source language, and the site's map."""

    source: Library
    history: History
    today: date

    def list_pages(self, library: Library) -> tuple[str, ...]:
        """The paths of the pages that others may link to; a former address is none of them."""
        pages = [code_page(library.language, code) for code in all_codes(self.history)]
        if self.history.ledger is not None:
            pages.append(list_page(library.language, NEWS))
        if library.language == self.source.language:
            pages.append(list_page(library.language, DESK))
        return tuple(pages)

    def _news(self, history: History) -> tuple[News, ...]:
        """The news of a language, as the ledger will be when this build is published: they stand on the site that brings them."""
        if history.ledger is None:
            return ()
        held = {f"{folder_of(item.kind)}/{item.slug}" for item in history.held_back}
        present = tuple(each for each in history.present if each.item not in held)
        return find_news(update_ledger(history.ledger, present, self.today))

    def make(self, settings: tuple[LanguageSite, ...], files: dict[str, bytes]) -> dict[str, Maker]:
        """For each page its template and what makes its view; feeds and the map are added to ``files``."""
        makers: dict[str, Maker] = {}
        everywhere = self._news(self.history)
        for setting in settings:
            language, codes, own = setting.language, find_codes(setting), setting.edition.history
            setting.edition.reads.watch(f"codes {language}", codes)
            news = everywhere if own is self.history else self._news(own)
            for code in all_codes(self.history):
                path = code_page(language, code)
                makers[path] = ("code.html", partial(make_code_page, setting, codes, path, code))
            for path, code in former_addresses(setting.library, self.history).items():
                makers[path] = ("code.html", partial(make_code_page, setting, codes, path, code))
            for folder in gone_lists(setting):
                for path in (list_page(language, each) for each in (folder, *((COMPETENCE,) if folder == "lessons" else ()))):
                    makers[path] = ("code.html", partial(make_gone_list, setting, folder, path))
            if self.history.ledger is not None:
                makers[list_page(language, NEWS)] = ("news.html", partial(make_news_page, setting, codes, news))
                files[feed_path(language)] = write_feed(setting, codes, news)
            if language == self.source.language:
                makers[list_page(language, DESK)] = ("desk.html", partial(make_desk_page, setting, self.today))
        files[PATH] = write_sitemap(settings)
        return makers

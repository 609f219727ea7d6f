"""What the page of an exercise depends on, told without making its view; other pages depend on what they show.

The parts of a page here and what ``exercise_page`` reads must not drift apart: ``tests/test_work.py`` changes
every kind of input and compares the site with one that is made from nothing.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import cached_property
from typing import Any

from handouts.model import Exercise
from handouts.site.context import LanguageSite
from handouts.site.exercise_page import list_places
from handouts.site.paths import item_page
from handouts.tasks.work import PROGRAM, SHOWN, Parts, digest_of

LISTS = "clinic.yaml, tiers.yaml, vocabulary.yaml, cautions.yaml, limits.yaml"
"""Files that stand behind every page."""
ITEMS = ("exercises/", "programmes/", "bundles/", "code/")
"""Below a language: pages of single things."""


@dataclass(frozen=True, slots=True)
class Known:
    """What makes a view, with the values that the view follows from beside what all pages of its language share."""

    make: Callable[[], Any]
    values: Callable[[], object]

    def __call__(self) -> Any:
        """The view."""
        return self.make()


@dataclass(frozen=True)
class Depends:
    """The parts of a language's pages, each digested once."""

    setting: LanguageSite
    program: str
    """Digest of the program, its packages and its templates."""

    @property
    def words(self) -> str:
        """The files of translations behind a page; empty in the source language."""
        setting = self.setting
        own = setting.language != setting.source.language
        return f", words/{setting.language}.po, words/{setting.language}.reviews.yaml" if own else ""

    @cached_property
    def shared(self) -> Parts:
        """What every page of the language depends on."""
        setting = self.setting
        shown = sorted(page for page in setting.pages if not page.partition("/")[2].startswith(ITEMS) or _is_list(page))
        lists = (
            # search words are on no page
            (each.clinic, each.tiers, replace(each.vocabulary, search_words=()), each.cautions, each.limits)
            for each in (setting.library, setting.source)
        )
        around = (setting.names, shown, setting.assets.style, setting.assets.icon, setting.assets.scripts)
        marks = (setting.is_unreviewed(""), bool(setting.edition.pdfs))
        return {
            PROGRAM: self.program,
            f"{LISTS}{self.words}": digest_of(*lists),
            "the languages and lists of the site": digest_of(*around, *marks),
        }

    def exercise(self, exercise: Exercise) -> Parts:
        """The parts of an exercise's page.

        Its figure, its version, its movement limits and the paths of its PDFs follow from its own file, the
        lists and the program.
        """
        setting, item = self.setting, f"exercises/{exercise.slug}"
        edition, neighbours = setting.edition, setting.progression
        easier, harder = (
            [option.slug for option in side[exercise.slug]] for side in (neighbours.easier, neighbours.harder)
        )
        needs, opens = (side[exercise.slug] for side in (neighbours.needs, neighbours.opens))
        near = (*easier, "|", *harder, "|", *needs)
        rest = item_page("", "exercises", exercise.slug)
        return {
            **self.shared,
            f"{item}.md{self.words}": setting.digests[exercise.slug],
            **{f"exercises/{slug}.md{self.words}": setting.digests[slug] for slug in near if slug in setting.digests},
            "the order of easier and harder exercises, and what builds on what": digest_of(near, opens),
            f"programmes/{self.words}": digest_of(list_places(setting, exercise)),
            "the languages that have this page": digest_of(
                [each for each in setting.names if f"{each}{rest}" in setting.pages]
            ),
            "ledger.yaml": digest_of(edition.history.former(item), setting.version_of(item)),
            "the day, reviews and pictures": digest_of(
                edition.history.overdue.get(item), setting.is_unreviewed(item), edition.previews.get(exercise.slug)
            ),
        }

    def shown(self, view: object) -> Parts:
        """The parts of any other page: the program, and all that it shows."""
        return {PROGRAM: self.program, SHOWN: digest_of(view)}

    def known(self, page: Known) -> Parts:
        """The parts of a page whose values are known without its view."""
        return {**self.shared, SHOWN: digest_of(page.values())}


def _is_list(page: str) -> bool:
    """Whether a page lists things: ``LANG/exercises/index.html``."""
    return page.count("/") < 3

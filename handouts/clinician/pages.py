"""The clinician's pages as a part of the site: the page where a bundle is made.

Adds to what the site lays out; the site itself knows nothing of bundles for one patient.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import partial
from typing import Any

from handouts.bundle.catalogue import name_mark
from handouts.bundle.condition_data import ConditionFound
from handouts.bundle.page_data import BookInputs, LimitFound, make_book, side_mirrored
from handouts.bundle.past import catalogue_with_past
from handouts.clinician.sheets import add_pictures, sheets_page, write_sheets, write_style
from handouts.model import Library
from handouts.paper.assets import load_paper_assets
from handouts.publication.figures import FigureSource
from handouts.site.accent import LIGHT_GROUNDS, accent_on
from handouts.site.assets import MADE_SCRIPTS, add_asset
from handouts.site.context import LanguageSite
from handouts.site.handed import handed_out
from handouts.site.lay_out import READY
from handouts.site.list_pages import order_exercises
from handouts.site.old_sheets import older_line, overdue_line
from handouts.site.page_frame import WORKER_POLICY, PageFrame, make_frame
from handouts.site.paths import item_page, list_page, relative
from handouts.templating.templates import safe_json, template_environment
from handouts.text.markup import plain_text

MAKER = "bundle"
"""Folder of the page below its language."""
Limits = Callable[[Library], Sequence[LimitFound]]
"""Every limit whose findings were computed, in the library's language."""
Conditions = Callable[[Library], Sequence[ConditionFound]]
"""Every condition that can be ticked, with all that it touches, in the library's language."""


@dataclass(frozen=True, slots=True)
class MakerPage:
    """The page where a clinician makes a bundle; its script fills it."""

    frame: PageFrame
    style: str


def maker_page(language: str) -> str:
    """The path of the page of a language."""
    return list_page(language, MAKER)


@dataclass(frozen=True)
class ClinicianPages:
    """The clinician's pages of every language."""

    script: str
    """The script of the page where a bundle is made."""
    style: str
    """The style sheet ``bundle.css``."""
    sheets_script: str
    """The script of the sheets for the browser."""
    sheets_style: str
    """The style sheet ``sheets.css``."""
    limits: Limits
    conditions: Conditions
    paper_figures: FigureSource | None
    """The figures as sheets need them; without them no sheets are made for the browser."""

    def list_pages(self, library: Library) -> tuple[str, ...]:
        """The paths of the pages that are added for a library."""
        return (maker_page(library.language),)

    def make(self, settings: tuple[LanguageSite, ...], files: dict[str, bytes]) -> dict[str, tuple[str, partial[Any]]]:
        """For each page its template and what makes its view; assets are added to ``files``."""
        template_environment(load_paper_assets().templates, settings[0].edition.call)
        style = add_asset(files, "bundle", "css", self.style)
        script = add_asset(files, "bundle", "js", self.script)
        makers: dict[str, tuple[str, partial[Any]]] = {}
        lacking = {setting.language: _lacking(setting) for setting in settings}
        lost = {setting.language: _lost(setting) for setting in settings}
        for setting in settings:
            text = write_book(setting, self.limits(setting.library), self.conditions(setting.library), lacking, lost)
            book = add_asset(files, f"book.{setting.language}", "js", text)
            order = add_asset(files, f"search-order.{setting.language}", "js", write_order(setting))
            makers[maker_page(setting.language)] = (
                "bundle-maker.html",
                partial(_make_maker_page, setting, style, (setting.search_index, order, book, script)),
            )
            makers |= self._make_sheets(setting, book, files)
        return makers

    def _make_sheets(
        self, setting: LanguageSite, book: str, files: dict[str, bytes]
    ) -> dict[str, tuple[str, partial[Any]]]:
        """The sheets of a language for printing from the browser, in each type size."""
        if self.paper_figures is None:
            return {}
        accent = accent_on(setting.library.clinic.accent.lower(), LIGHT_GROUNDS, "#000000")
        text = write_style(files[setting.assets.style], self.sheets_style, accent)
        style = add_asset(files, "sheets", "css", text)
        script = add_asset(files, "sheets", "js", self.sheets_script)
        pictures = add_pictures(setting, self.paper_figures, files)
        sizes = setting.library.clinic.type_sizes
        setting.edition.reads.watch(f"pictures {setting.language}", pictures)
        return {
            sheets_page(setting.language, size): (READY, partial(write_sheets, setting, pictures, size, style, (book, script)))
            for size in sizes
        }


def nothing_found(_library: Library) -> tuple[()]:
    """Where nothing was computed for limits or conditions, none is offered."""
    return ()


def read_clinician_pages(
    files: Mapping[str, bytes], limits: Limits = nothing_found, paper_figures: FigureSource | None = None, conditions: Conditions = nothing_found
) -> ClinicianPages:
    """The pages from the files of the ``templates`` folder, by their path in it."""
    script, sheets_script = (files[f"{MADE_SCRIPTS}{name}.js"].decode() for name in ("bundle", "sheets"))
    style, sheets = files["styles/bundle.css"].decode(), files["styles/sheets.css"].decode()
    return ClinicianPages(script, style, sheets_script, sheets, limits, conditions, paper_figures)


def _make_maker_page(setting: LanguageSite, style: str, scripts: tuple[str, ...]) -> MakerPage:
    say, page = setting.wording.say, maker_page(setting.language)
    frame = make_frame(setting, page, say("clinician.title"), say("clinician.intro"), scripts=scripts, strip=False, dated=True)
    return MakerPage(replace(frame, policy=f"{WORKER_POLICY}; frame-src 'self'"), relative(page, style))


def _lacking(setting: LanguageSite) -> frozenset[str]:
    """The exercises of the library that are not published in a language."""
    return frozenset(setting.source.exercise) - frozenset(setting.library.exercise)


def _lost(setting: LanguageSite) -> frozenset[str]:
    """What is not published in a language: ``programme/SLUG``, ``bundle/SLUG``; ``substitute/MARK``, and ``given/CODE`` of tests and leaflets."""
    whole, own = (
        {
            *(f"programme/{item.slug}" for item in library.programmes),
            *(f"bundle/{item.slug}" for item in library.bundles),
            *(f"substitute/{name_mark(item.slug)}" for item in library.vocabulary.substitutes),
            *(f"given/{item.code}" for item in (*library.tests, *library.leaflets)),
        }
        for library in (setting.source, setting.library)
    )
    return frozenset(whole - own)


def write_order(setting: LanguageSite) -> str:
    """The classic script that hands over what a search counts, in its order.

    The code of each exercise, then ``programme/SLUG`` and ``bundle/SLUG``, then what has a page and holds no exercise.
    """
    codes = [exercise.code for _, inside in order_exercises(setting) for exercise in inside]
    programmes = [f"programme/{item.slug}" for item in setting.library.programmes]
    bundles = [f"bundle/{item.slug}" for item in setting.library.bundles]
    page = maker_page(setting.language)
    others = [
        {"title": plain_text(item.title.text), "href": relative(page, item_page(setting.language, folder, item.slug))}
        for folder, items in setting.library.standalones.items()
        for item in items
    ]
    return f"globalThis.handoutsOrder = {safe_json([*codes, *programmes, *bundles])};\nglobalThis.handoutsOthers = {safe_json(others)};\n"


def write_book(
    setting: LanguageSite, limits: Sequence[LimitFound], conditions: Sequence[ConditionFound],
    lacking: Mapping[str, frozenset[str]], lost: Mapping[str, frozenset[str]],
) -> str:
    """The classic script that hands the book of a language to its page."""
    library, page = setting.library, maker_page(setting.language)
    around = BookInputs(
        stamps={"": setting.edition.version, **setting.edition.versions},
        pictures={slug: relative(page, path) for slug, path in setting.panels.items()},
        pages={
            exercise.slug: relative(page, item_page(setting.language, "exercises", exercise.slug))
            for exercise in library.exercises
        },
        unreviewed=frozenset(language for language, items in setting.edition.unreviewed.items() if items),
        lacking=lacking,
        lost=lost,
        overdue={
            exercise.slug: overdue_line(setting, f"exercises/{exercise.slug}") or older_line(setting.wording, exercise.older)
            for exercise in library.exercises
        },
        apart=setting.edition.apart,
        mirrors={
            exercise.slug: side.value for exercise in library.exercises if (side := side_mirrored(exercise, setting.figures)) is not None
        },
        limits=tuple(limits),
        conditions=tuple(conditions),
        handed=handed_out(setting, page),
    )
    book = make_book(
        library, catalogue_with_past(library, setting.edition.history), setting.progression, setting.wording, around
    )
    return f"globalThis.handoutsBook = {safe_json(book)};\n"

"""The line of stages and its gates: read, check, translate, draw, lay out.  Only ``publish`` comes after.

Each stage takes values and gives values and problems.  Gate 1 stands after check, gate 2 after the
pages are laid out: past a gate with an error nothing is made and the published site stays as it is.
"""

from __future__ import annotations

import json
import time
from collections.abc import Callable, Container, Iterable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, field, replace
from functools import partial
from typing import Any

from handouts import __version__
from handouts.build.edition import make_edition
from handouts.build.figures import STYLE_SHEET, LibraryFigures, draw_figures
from handouts.build.loading import Loaded, load
from handouts.build.settings import Settings
from handouts.build.unwritten import DRAFT, built_records
from handouts.clinician.conditions import conditions_to_tick
from handouts.clinician.limits import LimitPages, limits_to_tick
from handouts.clinician.offline import add_worker
from handouts.clinician.pages import read_clinician_pages
from handouts.dose.progression import Progression
from handouts.history_pages.codes import Codes
from handouts.history_pages.pages import HistoryPages
from handouts.ledger.entries import STANDALONE, Ledger, folder_of
from handouts.ledger.history import History
from handouts.limits import check_demands, hold_to_limits, limits_record
from handouts.limits.conditions import find_touched
from handouts.model import (
    Bundle,
    ClassPlan,
    Clinic,
    Exercise,
    FunctionTest,
    Leaflet,
    Lesson,
    Library,
    Programme,
    Vocabulary,
)
from handouts.paper.context import PaperSetting, make_setting
from handouts.paper.plan import Documents, plan_documents
from handouts.paper.previews import preview_path
from handouts.paper.two_languages import plan_beside
from handouts.phone.pages import read_phone_pages
from handouts.problems import Problem, has_errors, sort_problems
from handouts.rules.withdrawn import find_withdrawn
from handouts.site.assets import Assets, read_asset_sources
from handouts.site.context import Edition, LanguageSite, OwnPast
from handouts.site.lay_out import Pages, plan_site
from handouts.store.memo import Memo, Run, using
from handouts.store.objects import Objects
from handouts.store.reads import WatchedReads
from handouts.templating.assets import read_templates
from handouts.translator.pages import lay_out_review
from handouts.words.folder import WordsFolder
from handouts.words.merge import merge_catalogue, template_entries
from handouts.words.messages import collect_messages, unique_messages
from handouts.words.state import find_state
from handouts.words.wording import Wording

LOOKED_INTO = (
    LanguageSite, Library, Clinic, Vocabulary, Exercise, Programme, Bundle, FunctionTest, Leaflet, Lesson, ClassPlan,
    Edition, OwnPast, History, Ledger, Progression, Assets, LibraryFigures, Codes, PaperSetting,
)  # fmt: skip
"""Of these a page or a PDF depends only on what it read; of all else that it is given on the whole."""


@dataclass(frozen=True, slots=True)
class Checked:
    """What ``check`` tells."""

    problems: tuple[Problem, ...]
    summary: str
    limits_record: Mapping[str, Any]
    left_out: Mapping[str, Any] = field(default_factory=dict)
    """What a build would not publish, as in its report."""


@dataclass(frozen=True, slots=True)
class Made:
    """A site in the making: its files but for the PDFs, and the documents that they are laid out from."""

    pages: Pages
    """Each page is made when it is asked for, and not kept."""
    documents: Documents
    """Each is made when it is asked for, and not kept."""
    problems: tuple[Problem, ...]
    record: Mapping[str, Any] = field(default_factory=dict)
    previews: Mapping[str, str] = field(default_factory=dict)
    """Drawings of pictures for links that are shared, by the path of the picture."""
    library: Library | None = None
    """What it is made from, in the source language."""
    reads: WatchedReads = field(default_factory=lambda: WatchedReads(None, LOOKED_INTO))
    """What pages were made from."""
    sheet_reads: WatchedReads = field(default_factory=lambda: WatchedReads(None, LOOKED_INTO))
    """What PDFs were made from."""
    undrawn: frozenset[str] = frozenset()
    """Slugs of exercises whose figures were not wanted yet."""
    finish: Callable[[Mapping[str, bytes]], Mapping[str, bytes]] = lambda _files: {}
    """Gives the files that need to know every finished one: the worker of the clinician's pages."""


class Clock:
    """Seconds of each stage, for the report."""

    def __init__(self) -> None:
        self.seconds: dict[str, float] = {}

    @contextmanager
    def stage(self, name: str) -> Iterator[None]:
        """Time one stage."""
        start = time.perf_counter()
        try:
            yield
        finally:
            self.seconds[name] = round(self.seconds.get(name, 0.0) + time.perf_counter() - start, 3)


def draw(
    loaded: Loaded, settings: Settings, memo: Memo | None = None, wanted: Container[str] | None = None
) -> tuple[LibraryFigures, tuple[Problem, ...]]:
    """The figures of a library; of those that are not known only the ``wanted`` ones, by slug, where that is given."""
    if loaded.library is None:
        return LibraryFigures({}), ()
    positions = loaded.library.position
    levels = {exercise.slug: positions[exercise.position.slug].level for exercise in loaded.library.exercises}
    css = read_templates()[STYLE_SHEET].decode()
    with using(memo, settings.results) as asked:
        run: Run = settings.workers.map
        if wanted is not None:
            asked_for = [each for each in loaded.library.exercises if each.slug in wanted]
            faults = [(each.figure, mistake.figure) for each in asked_for for mistake in each.mistakes if mistake.figure is not None]
            run = partial(_draw_some, run, [*(each.figure for each in asked_for), *faults])
        each, people = partial(asked.spread, run), loaded.library.clinic.people
        return draw_figures(loaded.library.exercises, levels, css, each, leave=wanted is not None, people=people)


def _draw_some(run: Run, wanted: Sequence[Any], task: Callable[[Any], Any], values: Iterable[Any], lost: Any, what: str) -> Iterator[tuple[Any, Any]]:
    """Runs a task for the wanted values, and gives up the others; a task that gives none up runs for all."""
    values = list(values)
    if lost is None:
        yield from run(task, values, None, what)
        return
    yield from run(task, [value for value in values if value in wanted], None, what)
    yield from ((value, lost(value, "")) for value in values if value not in wanted)


def check_all(settings: Settings) -> Checked:
    """Everything that a build would refuse or point out."""
    with using(None, settings.results) as memo:
        loaded = load(settings, memo)
        problems, record = loaded.problems, dict[str, Any]()
        if loaded.library is not None and not has_errors(problems):
            figure_source, found = draw(loaded, settings, memo)
            with settings.progress.stage("looking for movement limits"):
                findings, lacking = hold_to_limits(loaded.library, figure_source.shown(), memo)
                problems = sort_problems((*problems, *found, *check_demands(loaded.library, figure_source.shown()), *lacking))
                record = limits_record(loaded.library, findings)
        left_out = left_out_record(loaded) if loaded.stamps else {}
    return Checked(problems, summarise(loaded), record, left_out)


def left_out_record(loaded: Loaded) -> dict[str, Any]:
    """What of a library is not published, or not as it stands, for the report."""
    authored, ledger = loaded.authored, loaded.history.ledger
    gone = find_withdrawn(authored, ledger) if authored else {}
    entries = [entry for entry in ledger.entries if gone.keys() & {f"{folder_of(entry.kind)}/{slug}" for slug in entry.slugs}] if ledger else []
    return {
        "withdrawn": [
            {"kind": entry.kind, "code": entry.code, "title": entry.title, "why": entry.withdrawn.why if entry.withdrawn else ""}
            for entry in entries
            if entry.is_retired
        ],
        "not published": [
            {"language": language, "kind": gap.kind, "slug": gap.slug, "title": gap.title, "because": list(gap.because)}
            for language, gap in loaded.gaps
        ],
        "older versions": [
            {"language": item.library.language, "slug": each.slug, "version": each.older.version, "on": each.older.on.isoformat()}
            for item in loaded.translations
            if item.library
            for each in item.library.exercises
            if each.older
        ],
        "held back": [
            {"kind": item.kind, "slug": item.slug, "title": item.title, "review ended": item.ended.isoformat()}
            for item in loaded.history.held_back
        ],
        "not whole": [
            {"language": language, "item": item, "lacks": list(slugs)}
            for language, pages_lacking in edition_of(loaded, False).left_out.items()
            for item, slugs in pages_lacking.items()
        ],
    }


def summarise(loaded: Loaded) -> str:
    """What a library holds, in one line, and what waits for a translation."""
    library = loaded.library
    if library is None:
        return "no library"
    held = ((library.exercises, "exercise"), (library.programmes, "programme"), (library.bundles, "bundle"))
    others = ((items, STANDALONE[folder]) for folder, items in library.standalones.items() if items)
    parts = [f"{len(items)} {noun}{'' if len(items) == 1 else 's'}" for items, noun in (*held, *others)]
    for language in library.clinic.languages.also:
        waiting = sum(gap_language == language for gap_language, _ in loaded.gaps)
        parts += [f"{language}: {waiting} not published yet, see 'handouts words state'"] if waiting else []
    for item in loaded.translations:
        kept = sum(each.older is not None for each in item.library.exercises) if item.library else 0
        parts += [f"{item.library.language}: {kept} in an older version"] if item.library and kept else []
    return ", ".join(parts)


def make_site(settings: Settings, memo: Memo | None = None, before: Made | None = None, wanted: Container[str] | None = None) -> Made:
    """A whole site but for its PDFs; nothing but problems where a gate is closed.

    ``memo`` where the caller asks more of it, ``before`` the site that the same caller made before, ``wanted`` as for ``draw``.
    """
    with using(memo, settings.results) as asked:
        return _make_site(settings, asked, before, wanted)


def _make_site(settings: Settings, memo: Memo, before: Made | None, wanted: Container[str] | None) -> Made:
    clock = Clock()
    with clock.stage("read, check, translate"):
        loaded = load(settings, memo)
        if not settings.review:
            loaded = replace(loaded, words=WordsFolder(), files={})  # nobody asks for them again, and they are large
    if loaded.library is None or has_errors(loaded.problems):
        return Made(Pages(), Documents(), loaded.problems)
    with clock.stage("draw"):
        figure_source, found = draw(loaded, settings, memo, wanted)
        with settings.progress.stage("looking for movement limits"):
            findings, lacking = hold_to_limits(loaded.library, figure_source.shown(), memo)
    problems = sort_problems((*loaded.problems, *found, *lacking))
    if has_errors(problems):
        return Made(Pages(), Documents(), problems)
    with clock.stage("lay out pages"), settings.progress.stage("planning pages"):
        drawings = _drawings_for_links(loaded.library, figure_source) if settings.paper else {}
        reads = WatchedReads(settings.reads, LOOKED_INTO, before=before.reads if before else None, objects=Objects(settings.results))
        edition = replace(
            edition_of(loaded, settings.paper), limits=findings, call=memo, reads=reads,
            previews={slug: preview_path(slug, svg) for slug, svg in drawings.items()},
        )  # fmt: skip
        sheet_reads = reads.beside(settings.sheet_reads)
        pages, documents = _lay_out(loaded, figure_source, settings, edition, sheet_reads)
    record = {
        "handouts": __version__,
        "version": loaded.stamps[""],
        "library": settings.library.name,
        "languages": [translation.library.language for translation in loaded.translations if translation.library],
        "pages": sum(path.endswith(".html") for path in pages),
        "sheets": len(documents),
        **left_out_record(loaded),
        "format": 1,
        **({DRAFT: True} if settings.draft else {}),
        "today": settings.today.isoformat(),
        **built_records(settings.out, loaded.history, settings.today),
        "seconds": clock.seconds,
    }
    previews = {preview_path(slug, svg): svg for slug, svg in drawings.items()}
    template = read_templates()["scripts/worker.js"].decode()
    published = tuple(item.library.language for item in loaded.translations if item.library)
    finish = partial(add_worker, languages=published, template=template)
    return Made(pages, documents, problems, record, previews, loaded.library, reads, sheet_reads, figure_source.undrawn, finish)


def _drawings_for_links(library: Library, figure_source: LibraryFigures) -> dict[str, str]:
    """The figure of each exercise that has one, by slug, as a picture is made of it."""
    paper = figure_source.for_paper()
    drawn = (exercise for exercise in library.exercises if exercise.slug in figure_source.drawings)
    return {exercise.slug: str(paper.figure_svg(exercise, library.language)) for exercise in drawn}


def edition_of(loaded: Loaded, paper: bool) -> Edition:
    """What pages and sheets know of the build."""
    return make_edition(loaded.translations, loaded.stamps, loaded.history, paper)


def _lay_out(
    loaded: Loaded, figure_source: LibraryFigures, settings: Settings, edition: Edition, sheet_reads: WatchedReads
) -> tuple[Pages, Documents]:
    assert loaded.library is not None
    libraries = [translation.library for translation in loaded.translations if translation.library]
    wordings = {library.language: Wording.of(library) for library in libraries}
    own = {library.language: wordings[library.language] for library in libraries if library.phrases}
    figure_source = replace(figure_source, wordings=own) if own else figure_source
    templates, findings = read_templates(), edition.limits
    parts = (
        read_clinician_pages(
            templates, partial(limits_to_tick, source=loaded.library, findings=findings), figure_source.for_paper(),
            partial(conditions_to_tick, source=loaded.library, touched=find_touched(loaded.library, figure_source.shown(), findings)),
        ),
        LimitPages(loaded.library, findings),
        read_phone_pages(templates),
        HistoryPages(loaded.library, loaded.history, settings.today),
    )
    pages = plan_site(libraries, wordings, figure_source, read_asset_sources(templates), edition, site_parts=parts)
    if settings.review:
        pages = pages.with_files(_lay_out_review(loaded, figure_source, templates))
    documents = _plan_sheets(libraries, wordings, figure_source.for_paper(), edition, sheet_reads) if settings.paper else Documents()
    return pages, documents


def _plan_sheets(
    libraries: Sequence[Library], wordings: Mapping[str, Wording], figure_source: LibraryFigures, edition: Edition, reads: WatchedReads
) -> Documents:
    """Every sheet and booklet in every language, and in other languages also the sheets with the source beside them."""
    source, *others = settings = [make_setting(each, wordings[each.language], figure_source, edition, stamped=True) for each in libraries]
    for setting in settings:
        reads.watch(f"{setting.language} on paper", setting)
    makers = [*map(plan_documents, settings), *(plan_beside(own, source) for own in others)]
    return Documents({path: make for each in makers for path, make in each.items()})


def _lay_out_review(loaded: Loaded, figure_source: LibraryFigures, templates: Mapping[str, bytes]) -> dict[str, bytes]:
    """The translator's pages of every language that the clinic names, published or not."""
    library, words = loaded.library, loaded.words
    assert library is not None
    messages = collect_messages(library, figure_source.descriptions(library.language))
    template = template_entries(unique_messages(messages))
    states = (
        find_state(messages, merge_catalogue(words.catalogues[each], template), words.reviews.get(each), words.glossary)
        for each in library.clinic.languages.also
    )
    return lay_out_review(library, states, figure_source.figure_svg, templates)


def report_of(record: Mapping[str, Any]) -> bytes:
    """``build/report.json``."""
    return (json.dumps(record, ensure_ascii=False, indent=2) + "\n").encode()

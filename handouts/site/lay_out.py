"""All pages, styles, scripts and indexes of a site, by path: ready, or what makes them.  Pure: the caller writes them."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import cached_property, partial
from typing import Any, Protocol

from jinja2 import Environment

from handouts.model import Library
from handouts.site.assets import Assets, AssetSources, add_asset, build_assets
from handouts.site.bundle_page import make_bundle_page
from handouts.site.class_page import make_class_page
from handouts.site.context import Edition, LanguageSite, SiteFigures
from handouts.site.exercise_page import make_exercise_page
from handouts.site.function_test_page import make_function_test_page
from handouts.site.leaflet_page import make_leaflet_page
from handouts.site.lesson_page import make_lesson_page
from handouts.site.list_pages import (
    make_entries_page,
    make_exercises_page,
    make_home_page,
    order_exercises,
)
from handouts.site.other_pages import make_about_page, make_choice_page, make_not_found_page, make_safety_page
from handouts.site.paths import CHOICE, NOT_FOUND, home_page, item_page, list_page
from handouts.site.programme_page import make_programme_page
from handouts.site.search_index import build_search_index
from handouts.site.search_slices import cut_index, head_script, words_script
from handouts.templating.templates import template_environment
from handouts.words.wording import Wording

TEMPLATES = ("pages/",)
"""Templates of the pages."""
Maker = tuple[str, partial[Any]]
"""The template of a page, and what makes its view: a function of a module with its arguments."""
READY = ""
"""In place of a template where the view is the page itself, in bytes."""


_STANDALONES: Mapping[str, tuple[str, Callable[[LanguageSite, str], Any]]] = {
    "tests": ("function-test.html", make_function_test_page),
    "leaflets": ("leaflet.html", make_leaflet_page),
    "lessons": ("lesson.html", make_lesson_page),
    "classes": ("class.html", make_class_page),
}
"""Template and view of the page of what holds no exercise, by the folder of its kind."""


@dataclass(frozen=True)
class Pages(Mapping[str, bytes]):
    """The files of a site by path, each page made when it is asked for and not kept."""

    files: Mapping[str, bytes] = field(default_factory=dict)
    """What is ready: styles, scripts, pictures, indexes."""
    tasks: Mapping[str, partial[bytes]] = field(default_factory=dict)

    def __getitem__(self, path: str) -> bytes:
        return self.tasks[path]() if path in self.tasks else self.files[path]

    def __iter__(self) -> Iterator[str]:
        yield from self.files
        yield from (path for path in self.tasks if path not in self.files)

    def __len__(self) -> int:
        return len(self.files.keys() | self.tasks.keys())

    def __contains__(self, path: object) -> bool:
        return path in self.tasks or path in self.files

    def with_files(self, files: Mapping[str, bytes]) -> Pages:
        """The same with more files."""
        return Pages({**self.files, **files}, self.tasks)


class SitePart(Protocol):
    """Pages that a room above the site adds to it."""

    def list_pages(self, library: Library) -> tuple[str, ...]:
        """The paths of the pages that are added for a library."""

    def make(self, settings: tuple[LanguageSite, ...], files: dict[str, bytes]) -> Mapping[str, Maker]:
        """For each page its template and what makes its view; assets are added to ``files``."""


def list_pages(libraries: Sequence[Library]) -> tuple[str, ...]:
    """The path of every page of a site, in a fixed order."""
    return (CHOICE, NOT_FOUND, *(path for library in libraries for path in _pages_of(library)))


def _pages_of(library: Library) -> Iterator[str]:
    language = library.language
    yield home_page(language)
    yield from (list_page(language, kind) for kind in ("exercises", "programmes", "about", "safety"))
    if library.bundles:
        yield list_page(language, "bundles")
    yield from (list_page(language, folder) for folder, items in library.standalones.items() if items)
    yield from (item_page(language, "exercises", each.slug) for each in library.exercises)
    yield from (item_page(language, "programmes", each.slug) for each in library.programmes)
    yield from (item_page(language, "bundles", each.slug) for each in library.bundles)
    yield from (item_page(language, folder, each.slug) for folder, items in library.standalones.items() for each in items)


def plan_site(
    libraries: Sequence[Library],
    wordings: Mapping[str, Wording],
    figures: SiteFigures,
    sources: AssetSources,
    edition: Edition,
    *,
    site_parts: Sequence[SitePart] = (),
) -> Pages:
    """The site's files by path, each page as a task.

    ``libraries`` holds one library for each language, the source first; ``wordings`` a voice for each.
    ``site_parts`` add pages of other rooms.
    """
    languages = tuple(library.language for library in libraries)
    own = {library.language: library.face for library in libraries}
    assets = {each: build_assets(sources, libraries[0].clinic.accent, (each,), languages, own[each]) for each in languages}
    files = {path: data for each in assets.values() for path, data in each.files.items()}
    added = (path for part in site_parts for library in libraries for path in part.list_pages(library))
    pages = frozenset((*list_pages(libraries), *added))
    settings = _settle(libraries, wordings, figures, edition, assets=assets, pages=pages, files=files)
    for setting in settings:
        edition.reads.watch(setting.language, setting)
    makers = _makers(settings)
    template_environment(sources.templates, edition.call)  # before parts render with the same templates
    for part in site_parts:
        makers |= part.make(settings, files)
    known, first = {setting.language: setting for setting in settings}, settings[0]
    templates = Templates(sources.templates)
    return Pages(files, {
        path: partial(render_page, templates, template, known.get(path.partition("/")[0], first), make.func, *make.args)
        for path, (template, make) in makers.items()
    })  # fmt: skip


@dataclass(frozen=True)
class Templates:
    """The templates of the pages by name."""

    texts: Mapping[str, str]

    @cached_property
    def environment(self) -> Environment:
        """Where they are compiled."""
        return template_environment(self.texts)


def render_page(templates: Templates, template: str, setting: LanguageSite, view: Callable[..., Any], *arguments: Any) -> bytes:
    """A page of a setting's language: its view, placed by its template."""
    made = view(*arguments)
    if template == READY:
        return bytes(made)
    return templates.environment.get_template(template).render(view=made, say=setting.wording.say).encode()


def _settle(
    libraries: Sequence[Library],
    wordings: Mapping[str, Wording],
    figures: SiteFigures,
    edition: Edition,
    *,
    assets: Mapping[str, Assets],
    pages: frozenset[str],
    files: dict[str, bytes],
) -> tuple[LanguageSite, ...]:
    """What each language's pages are made from; small figures and search indexes are added to the files."""
    panels = _draw_panels(libraries[0], figures, files)
    names = {library.language: wordings[library.language].own_name for library in libraries}
    settings = (
        LanguageSite(
            library=library,
            source=libraries[0],
            wording=wordings[library.language],
            edition=edition.in_language(library.language),
            assets=assets[library.language],
            panels=panels,
            figures=figures,
            search_index="",
            names=names,
            pages=pages,
        )
        for library in libraries
    )
    return tuple(_with_index(setting, files) for setting in settings)


def _draw_panels(source: Library, figures: SiteFigures, files: dict[str, bytes]) -> dict[str, str]:
    """The small figure of each exercise as a file that all languages share."""
    return {
        exercise.slug: add_asset(files, f"figure-{exercise.slug}", "svg", figures.panel_svg(exercise))
        for exercise in source.exercises
    }


def _with_index(setting: LanguageSite, files: dict[str, bytes]) -> LanguageSite:
    ordered = [exercise for _, inside in order_exercises(setting) for exercise in inside]
    index = build_search_index(setting.library, ordered, setting.source, setting.edition.call)
    slices = cut_index(index)
    apart = slices if len(slices) > 1 else ()
    paths = [add_asset(files, f"search-slice.{setting.language}", "js", each.as_script()) for each in apart]
    words = add_asset(files, f"search-words.{setting.language}", "js", words_script(index)) if apart else ""
    path = add_asset(files, f"search.{setting.language}", "js", head_script(index, slices, paths, words))
    return replace(setting, search_index=path)


def _makers(settings: tuple[LanguageSite, ...]) -> dict[str, Maker]:
    """For each page its template and what makes its view."""
    makers: dict[str, Maker] = {
        CHOICE: ("choice.html", partial(make_choice_page, settings)),
        NOT_FOUND: ("not-found.html", partial(make_not_found_page, settings[0])),
    }
    for setting in settings:
        makers |= _makers_of(setting)
    return makers


def _makers_of(setting: LanguageSite) -> dict[str, Maker]:
    library, language = setting.library, setting.language
    makers: dict[str, Maker] = {
        home_page(language): ("home.html", partial(make_home_page, setting)),
        list_page(language, "exercises"): ("exercises.html", partial(make_exercises_page, setting)),
        list_page(language, "programmes"): ("entries.html", partial(make_entries_page, setting, "programmes")),
        list_page(language, "about"): ("about.html", partial(make_about_page, setting)),
        list_page(language, "safety"): ("safety.html", partial(make_safety_page, setting)),
    }
    if library.bundles:
        makers[list_page(language, "bundles")] = ("entries.html", partial(make_entries_page, setting, "bundles"))
    for exercise in library.exercises:
        makers[item_page(language, "exercises", exercise.slug)] = (
            "exercise.html",
            partial(make_exercise_page, setting, exercise.slug),
        )
    for programme in library.programmes:
        makers[item_page(language, "programmes", programme.slug)] = (
            "programme.html",
            partial(make_programme_page, setting, programme.slug),
        )
    for bundle in library.bundles:
        makers[item_page(language, "bundles", bundle.slug)] = (
            "bundle.html",
            partial(make_bundle_page, setting, bundle.slug),
        )
    for folder, items in library.standalones.items():
        template, make = _STANDALONES[folder]
        if items:
            makers[list_page(language, folder)] = ("entries.html", partial(make_entries_page, setting, folder))
        for item in items:
            makers[item_page(language, folder, item.slug)] = (template, partial(make, setting, item.slug))
    return makers

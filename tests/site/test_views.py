"""Each page's template needs every field of its view: take one out, and the page is not made."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import fields, is_dataclass
from functools import cache
from typing import Any

import pytest
from jinja2 import UndefinedError

from handouts.model import Library
from handouts.site.assets import build_assets
from handouts.site.bundle_page import make_bundle_page
from handouts.site.context import Edition, LanguageSite
from handouts.site.exercise_page import make_exercise_page
from handouts.site.lay_out import list_pages
from handouts.site.list_pages import make_entries_page, make_exercises_page, make_home_page
from handouts.site.other_pages import make_about_page, make_choice_page, make_not_found_page, make_safety_page
from handouts.site.programme_page import make_programme_page
from handouts.templating.templates import NotTextError, template_environment
from handouts.words.wording import Wording
from tests.site.making import Drawings, asset_sources, pdfs_of, two_languages


def a_setting(library: Library, libraries: tuple[Library, ...]) -> LanguageSite:
    """The setting of one language with every PDF, everything unreviewed and something left out."""
    return LanguageSite(
        library=library, source=libraries[0], wording=Wording(library.language),
        edition=Edition(version="v1", pdfs=pdfs_of(library), unreviewed={"en": frozenset({"everything"})},
                        left_out={"en": {"programmes/stairs": ("x",), "bundles/first-days": ("x", "y")}}),
        assets=build_assets(asset_sources(), "#0f5e6b", ("en",)), panels={each.slug: f"assets/{each.slug}.svg" for each in library.exercises},
        figures=Drawings(), search_index="assets/search.en.js", names={each.language: each.language for each in libraries},
        pages=frozenset(list_pages(libraries)),
    )  # fmt: skip


@cache
def views() -> dict[str, Any]:
    """A full view of each template."""
    libraries = two_languages()
    setting = a_setting(libraries[0], libraries)
    library = setting.library
    return {
        "choice.html": make_choice_page((setting,)),
        "not-found.html": make_not_found_page(setting),
        "home.html": make_home_page(setting),
        "exercises.html": make_exercises_page(setting),
        "entries.html": make_entries_page(setting, "programmes"),
        "about.html": make_about_page(setting),
        "safety.html": make_safety_page(setting),
        "exercise.html": make_exercise_page(setting, "step-down"),
        "programme.html": make_programme_page(setting, library.programmes[0].slug),
        "bundle.html": make_bundle_page(setting, library.bundles[0].slug),
    }


class Without:
    """A value as a template sees it, with the field at a path gone, or set to None."""

    def __init__(self, value: Any, path: str, none: bool) -> None:
        self._value, self._path, self._none = value, path, none

    def __getattr__(self, name: str) -> Any:
        first, _, rest = self._path.partition(".")
        found = getattr(self._value, name)
        if name != first:
            return found
        if rest:
            return Without(found, rest, self._none)
        if self._none:
            return None
        raise AttributeError(name)


def paths_of(value: Any, prefix: str = "") -> Iterator[str]:
    """The path of every field, into views that are fields themselves, not into lists."""
    for each in fields(value):
        yield prefix + each.name
        inner = getattr(value, each.name)
        if is_dataclass(inner):
            yield from paths_of(inner, f"{prefix}{each.name}.")


NOT_SHOWN = {"not-found.html": ("frame.choice", "frame.safety.stop", "frame.safety.emergency", "frame.safety.call")}
"""The page for a wrong address is the same in all languages, so it names no others; it has no strip."""
EMPTY_IS_ALLOWED = {"frame.version", "frame.many_languages", "frame.strip", "frame.overdue", "frame.data", "frame.preview", "crowded", "missing", "older"}
"""Texts that a template first asks for whether they are there."""
TEMPLATES = ("choice", "not-found", "home", "exercises", "entries", "about", "safety", "exercise", "programme", "bundle")


def render(template: str, view: Any) -> str:
    """The page of a view."""
    found = template_environment(asset_sources().templates).get_template(template)
    return found.render(view=view, say=Wording("en").say)


def is_refused(template: str, view: Any, *errors: type[Exception]) -> bool:
    """Whether a page cannot be made of a view, and only for the reasons named."""
    try:
        render(template, view)
    except errors:
        return True
    return False


@pytest.mark.parametrize("name", TEMPLATES)
def test_a_field_taken_out_fails_the_build(name: str) -> None:
    """No field can be missing unnoticed, and none is carried for nothing; one that holds text cannot be None."""
    template = f"{name}.html"
    view, tried, unnoticed = views()[template], 0, []
    for path in paths_of(view):
        if f"{path}.".startswith(tuple(f"{each}." for each in NOT_SHOWN.get(template, ()))):
            continue
        tried += 1
        if not is_refused(template, Without(view, path, none=False), UndefinedError):
            unnoticed.append(f"{path} taken out")
        value = view
        for part in path.split("."):
            value = getattr(value, part)
        if isinstance(value, str) and path not in EMPTY_IS_ALLOWED and not is_refused(
            template, Without(view, path, none=True), NotTextError, UndefinedError
        ):
            unnoticed.append(f"{path} is None")
    assert unnoticed == []
    assert tried >= 8


def test_the_full_view_renders() -> None:
    """Each view fits its template, and each is tried above."""
    assert set(views()) == {f"{name}.html" for name in TEMPLATES}
    for template, view in views().items():
        assert render(template, view).startswith("<!doctype html>"), template

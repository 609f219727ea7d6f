"""The frame of a document: head and foot of its pages, language, marks; and its HTML."""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache
from math import ceil

from jinja2 import Environment
from markupsafe import Markup

from handouts.paper.fit import text_width
from handouts.paper.geometry import (
    HEAD_GAP,
    HEAD_LETTERS,
    WIDE_FACE,
    WIDE_FACE_LANGUAGES,
    bottom_margin,
    page_rules,
    top_margin,
)
from handouts.paper.kit import load_kit
from handouts.paper.setting import PaperSetting
from handouts.paper.sheet import locations_of
from handouts.paper.views import BookletView, ExerciseView, PageView
from handouts.site.accent import LIGHT_GROUNDS, accent_on
from handouts.templating.templates import template_environment

_PAGE, _PAGES = "\ue000", "\ue001"


def view_page(setting: PaperSetting, *, title: str, code: str, item: str) -> PageView:
    """The frame; ``item`` names what it belongs to: ``exercises/SLUG`` and the like; empty for exercises that someone picked."""
    clinic, speech, say = setting.library.clinic, setting.speech, setting.speech.say
    line = say("paper.page", page=_PAGE, pages=_PAGES)
    before, _, rest = line.partition(_PAGE)
    between, _, after = rest.partition(_PAGES)
    versions = setting.edition.versions
    version = versions[item] if item in versions else setting.edition.version  # noqa: SIM401 - the version of all is read only where it is shown
    marks = tuple(
        say(mark)
        for mark, wanted in (("paper.invented", clinic.invented), ("paper.unreviewed", setting.is_unreviewed(item)))
        if wanted
    )
    stamp = say("paper.version", code=code, version=version) if code else say("paper.version_only", version=version)
    locations = locations_of(setting)
    lines = _head_lines(clinic.name, locations, setting)
    top = top_margin(setting.size, lines * HEAD_LETTERS[setting.size, setting.paper], setting.paper)
    letters = [_letters((each,), setting.language) for each in (stamp, *marks, line.replace(_PAGE, "99").replace(_PAGES, "99"))]
    bottom = bottom_margin(setting.size, letters[:-1], letters[-1], setting.paper)
    return PageView(
        language=setting.language,
        direction=speech.direction,
        title=title,
        author=clinic.name,
        classes=f"{setting.size} {setting.paper}",
        clinic=clinic.name,
        locations=locations,
        locations_look="locations" if lines == 1 else "locations apart",
        version=stamp,
        page_before=before,
        page_between=between,
        page_after=after,
        accent=accent_on(clinic.accent.lower(), LIGHT_GROUNDS, "#000000"),
        rules=Markup(page_rules(setting.paper, top, bottom)),
        top=top,
        bottom=bottom,
        marks=marks,
    )


def _head_lines(name: str, locations: Sequence[str], setting: PaperSetting) -> int:
    """Lines of a head: one where it holds the clinic's name and its locations, else those of the name and of them apart."""
    room, language = HEAD_LETTERS[setting.size, setting.paper], setting.language
    if _letters((name, *locations), language) <= room:
        return 1
    lines, row = ceil(_letters((name,), language) / room), list[str]()
    for location in locations:
        if row and _letters((*row, location), language) > room:
            lines, row = lines + _rows(row, room, language), []
        row.append(location)
    return lines + _rows(row, room, language)


def _rows(parts: Sequence[str], room: int, language: str) -> int:
    """Lines that parts take by themselves; more than one only where a single part is longer than a line."""
    return ceil(_letters(parts, language) / room) if parts else 0


def _letters(parts: Sequence[str], language: str) -> int:
    """Letters of a head or foot with its gaps, as many as are as wide in the usual face."""
    width = sum(map(text_width, parts)) + HEAD_GAP * (len(parts) - 1)
    return ceil(width * WIDE_FACE) if language.partition("-")[0] in WIDE_FACE_LANGUAGES else width


@lru_cache(maxsize=1)
def _environment() -> Environment:
    return template_environment(load_kit().templates)


def render_document(template: str, **views: object) -> str:
    """The HTML of a document from one of the sheets' templates."""
    return _environment().get_template(template).render(views)


def write_sheet(page: PageView, exercise: ExerciseView) -> str:
    """The HTML of an exercise's sheet."""
    return render_document("sheet.html", page=page, exercise=exercise)


def write_booklet(page: PageView, booklet: BookletView) -> str:
    """The HTML of a booklet."""
    return render_document("booklet.html", page=page, booklet=booklet)

"""The frame of a document: head and foot of its pages, language, marks; and its HTML."""

from __future__ import annotations

from functools import lru_cache

from jinja2 import Environment
from markupsafe import Markup

from handouts.paper.assets import load_paper_assets
from handouts.paper.context import PaperSetting, locations_of
from handouts.paper.geometry import FOLDED
from handouts.paper.room import live_room
from handouts.paper.views import BookletView, ExerciseView, PageView, RulesLine
from handouts.site.accent import LIGHT_GROUNDS, accent_on
from handouts.templating.templates import template_environment

_PAGE, _PAGES = "\ue000", "\ue001"


def view_page(setting: PaperSetting, *, title: str, code: str, item: str, rules: bool = False, booklet: bool = False) -> PageView:
    """The frame; ``item`` names what it belongs to: ``exercises/SLUG`` and the like; empty for exercises that someone picked.

    With ``rules`` each page without the stop rules says where they stand, and every page has the emergency number; in a
    ``booklet`` whose plan comes first too, which no exercise says there.
    """
    clinic, wording, say = setting.library.clinic, setting.wording, setting.wording.say
    line = say("paper.page", page=_PAGE, pages=_PAGES)
    before, _, rest = line.partition(_PAGE)
    where, _, behind = say("paper.rules_page", page=_PAGE).partition(_PAGE)
    always = (say("paper.emergency", number=clinic.emergency.number), say("paper.unsure"), *((say("paper.plan_first"),) if booklet else ()))
    lines = (RulesLine(where, behind, always),) if rules else ()
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
    area, apart = live_room(setting, " ".join(f"{line.before_page}99{line.after_page} {' '.join(line.always)}" for line in lines))
    return PageView(
        language=setting.language,
        direction=wording.direction,
        title=title,
        author=clinic.name,
        size=f"{setting.size} halves" if setting.paper in FOLDED else setting.size,
        classes=f"{setting.size} {setting.paper}",
        clinic=clinic.name,
        head_look="running-head apart" if apart else "running-head",
        patient=say("paper.for"),
        date=say("paper.date"),
        locations=locations,
        version=stamp,
        page_before=before,
        page_between=between,
        page_after=after,
        accent=accent_on(clinic.accent.lower(), LIGHT_GROUNDS, "#000000"),
        area=area,
        marks=marks,
        fonts=Markup(setting.library.face.sheet_style if setting.library.face else ""),
        rules=lines,
    )


@lru_cache(maxsize=1)
def _environment() -> Environment:
    return template_environment(load_paper_assets().templates)


def render_document(template: str, **views: object) -> str:
    """The HTML of a document from one of the sheets' templates."""
    return _environment().get_template(template).render(views)


def write_sheet(page: PageView, exercise: ExerciseView) -> str:
    """The HTML of an exercise's sheet."""
    return render_document("sheet.html", page=page, exercise=exercise)


def write_booklet(page: PageView, booklet: BookletView) -> str:
    """The HTML of a booklet."""
    return render_document("booklet.html", page=page, booklet=booklet)


def write_notes(heading: str, lines: int) -> str:
    """The HTML of a page for notes by hand, with so many lines."""
    return render_document("notes.html", heading=heading, lines=range(lines)).strip()


def write_ticks(exercise: ExerciseView) -> str:
    """The HTML of the boxes to tick at the foot of an exercise's last page."""
    return render_document("strips.html", tables=exercise.ticks).strip()

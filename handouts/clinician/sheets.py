"""The sheets of a language in one type size as a page of the site, from which a browser prints any bundle.

The same views and templates as the PDFs; the page's script shows the exercises of a code and fills in their doses.
"""

from __future__ import annotations

import html
import json
import re
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Any

from markupsafe import Markup

from handouts.bundle.book import caution_order
from handouts.bundle.values import CODE_PLACE
from handouts.model import CautionKind, Exercise, Ref
from handouts.paper.code import MODULE_MM
from handouts.paper.document import FITS, LOPSIDED, SPARE_MM
from handouts.paper.fit import fit_view
from handouts.paper.frame import view_page
from handouts.paper.geometry import BETWEEN, EVEN, FIGURE, NARROWEST, PAPERS, SIDE, WIDEST
from handouts.paper.kit import load_kit
from handouts.paper.setting import Figures, PaperSetting, make_setting
from handouts.paper.sheet import locations_of, view_safety, view_unfitted
from handouts.paper.ticks import BOXES_IN_LIST
from handouts.paper.views import ExerciseView, PageView, SafetyView
from handouts.site.frame import WORKER_POLICY, Link
from handouts.site.kit import add_asset
from handouts.site.paths import list_page, relative
from handouts.site.setting import Setting
from handouts.templating import template_environment

_TITLE = re.compile(r"<title[^>]*>(.*?)</title>", re.DOTALL)
_DESCRIPTION = re.compile(r"<desc[^>]*>(.*?)</desc>", re.DOTALL)
_DRAWING = re.compile(r"(\.(?:small-)?figure) svg\b")
"""What a rule for drawings says holds for pictures too."""
_FACE = re.compile(r"@font-face\s*\{[^}]*\}")


@dataclass(frozen=True, slots=True)
class SheetsPage:
    """Every exercise of a language as a sheet, and the first page of a bundle with what is to be filled in."""

    page: PageView
    policy: str
    style: str
    scripts: tuple[str, ...]
    back: Link
    print: str
    need_script: str
    measures: str
    """What the page's script lays out by, as JSON: see ``write_measures``."""
    foot: str
    patient: str
    date: str
    code_line: str
    list_heading: str
    safety: SafetyView
    exercises: tuple[ExerciseView, ...]


def sheets_page(language: str, size: str) -> str:
    """The path of the page of a language and a type size."""
    return f"{language}/sheets/{size}/index.html"


@dataclass(frozen=True)
class PictureFigures:
    """Figures as pictures beside the page, so that a page with every exercise stays light."""

    inner: Figures
    files: dict[str, bytes]
    page: str

    def figure_svg(self, exercise: Exercise, language: str) -> Markup:
        """The figure as an ``img`` whose alternative text is the figure's title and description."""
        svg = str(self.inner.figure_svg(exercise, language))
        words = [match[1] for pattern in (_TITLE, _DESCRIPTION) if (match := pattern.search(svg))]
        bare = _DESCRIPTION.sub("", _TITLE.sub("", svg))
        if "xmlns=" not in bare:
            bare = bare.replace("<svg", '<svg xmlns="http://www.w3.org/2000/svg"', 1)
        path = add_asset(self.files, f"sheet-{exercise.slug}", "svg", bare)
        alt = html.unescape(". ".join(word.strip().rstrip(".") for word in words if word.strip()))
        return Markup('<img src="{}" alt="{}" loading="lazy">').format(relative(self.page, path), alt)


def write_style(site_style: bytes, sheets_css: str, accent: str) -> str:
    """The style sheet of the sheets: the site's fonts, the print rules, and what the browser needs beside them."""
    faces = "\n".join(_FACE.findall(site_style.decode()))
    rules = _DRAWING.sub(r"\1 :is(svg, img)", load_kit().style)
    return f"{faces}\n{rules}\n:root {{ --accent-on-light: {accent}; }}\n{sheets_css}"


def write_sheets_page(
    setting: Setting, figures: Figures, size: str, *, style: str, scripts: tuple[str, ...], files: dict[str, bytes]
) -> bytes:
    """The page; pictures are added to ``files``."""
    say, path = setting.speech.say, sheets_page(setting.language, size)
    pictures = PictureFigures(figures, files, path)
    paper = make_setting(setting.library, setting.speech, pictures, setting.edition)
    paper = paper.on(paper.paper, size)
    views = tuple(view_unfitted(paper, exercise, level=2, ticks=False) for exercise in setting.library.exercises)
    view = view_page(paper, title=say("clinician.sheet_title"), code="", item="")
    sheets = SheetsPage(
        page=view,
        policy=WORKER_POLICY,
        style=relative(path, style),
        scripts=tuple(relative(path, script) for script in scripts),
        back=Link(relative(path, list_page(setting.language, "bundle")), say("clinician.sheets_back")),
        print=say("clinician.print"),
        need_script=say("clinician.need_script"),
        measures=json.dumps(write_measures(paper, views), ensure_ascii=False, separators=(",", ":")),
        foot="  ".join((view.version, *view.marks)),
        patient=say("paper.for"),
        date=say("paper.date"),
        code_line=say("paper.code_all"),
        list_heading=say("paper.in_order"),
        safety=view_safety(paper, _all_cautions(setting)),
        exercises=tuple(fit_view(each, paper.paper) for each in views),
    )
    return template_environment(load_kit().templates).get_template("browser.html").render(view=sheets).encode()


def _all_cautions(setting: Setting) -> tuple[Ref, ...]:
    """Every caution of the library, of which the page's script leaves those of the exercises picked."""
    return tuple(Ref(slug, CODE_PLACE) for kind in CautionKind for slug in caution_order(setting.library, kind))


def write_measures(setting: PaperSetting, exercises: Sequence[ExerciseView]) -> dict[str, Any]:
    """The measures of pages in millimetres, the head's end and margins for each location, the fit to begin with.

    Margins and fits are given for each of the clinic's papers, in the order of ``papers``.
    """
    papers, library = setting.library.clinic.papers, setting.library
    places = []
    for place in library.clinic.locations:
        here = replace(setting, locations=(place,))
        views = [view_page(here.on(paper, setting.size), title="", code="", item="") for paper in papers]
        margins = [[view.top, view.bottom] for view in views]
        places.append({"slug": place.slug, "head": locations_of(here)[0], "margins": margins})
    fits = {each.anchor: [FITS.index(fit_view(each, paper).fit) for paper in papers] for each in exercises}
    return {
        "papers": {paper: PAPERS[paper] for paper in papers},
        "side": SIDE,
        "between": BETWEEN,
        "even": EVEN,
        "narrowest": NARROWEST,
        "widest": WIDEST,
        "figure": FIGURE[setting.size],
        "spare": SPARE_MM,
        "lopsided": LOPSIDED,
        "module": MODULE_MM,
        "boxes": BOXES_IN_LIST[setting.size],
        "places": places,
        "fits": fits,
    }

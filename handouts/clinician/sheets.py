"""The sheets of a language in one type size as a page of the site, from which a browser prints any bundle.

The same views and templates as the PDFs; the page's script shows the exercises of a code and fills in their doses.
"""

from __future__ import annotations

import html
import json
import re
from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Any

from jinja2 import Environment
from markupsafe import Markup

from handouts.bundle.page_data import caution_order, side_mirrored
from handouts.bundle.values import CODE_PLACE
from handouts.model import CautionKind, Exercise, Ref, Side
from handouts.paper.assets import load_paper_assets
from handouts.paper.compact import (
    DAYS_TWO_IN_LINE,
    LINES_OF_BOXES,
    NARROWEST_STOPS,
    SMALL_FACTS,
    WIDEST_STOPS,
    view_row,
)
from handouts.paper.context import PaperSetting, locations_of, make_setting
from handouts.paper.figure_side import shape_of
from handouts.paper.frame import view_page
from handouts.paper.geometry import (
    BETWEEN,
    CODE_MM,
    FIGURE,
    FIGURE_AIM,
    FIGURE_LEAST,
    FIGURE_TIGHT,
    GAPS_MM,
    LARGE,
    LITTLE,
    MODULE_AIM,
    MODULE_MM,
    NARROWEST,
    PAPERS,
    ROW_AIM,
    ROW_CALMS,
    ROW_FIGURE,
    ROW_FIGURE_LEAST,
    ROW_GAP_MM,
    ROW_GAP_MOST_MM,
    ROW_MOST,
    ROW_SHARE,
    SPARE_MM,
    WIDE_FIGURE,
    WIDEST,
    lines_of,
)
from handouts.paper.room import browser_margins
from handouts.paper.sheet import stand_alone, view_exercise, view_safety
from handouts.paper.stacking import GIVES_WAY, SMALL_THINGS
from handouts.paper.ticks import BOXES_IN_LIST
from handouts.paper.views import PageView, SafetyView
from handouts.publication.figures import FigureSource
from handouts.publication.font_faces import read_font_faces
from handouts.site.assets import add_asset
from handouts.site.context import LanguageSite
from handouts.site.page_frame import WORKER_POLICY, Link
from handouts.site.paths import list_page, relative
from handouts.templating.templates import template_environment

_TITLE = re.compile(r"<title[^>]*>(.*?)</title>", re.DOTALL)
_DESCRIPTION = re.compile(r"<desc[^>]*>(.*?)</desc>", re.DOTALL)
_DRAWING = re.compile(r"(\.(?:small-|fault-)?figure) svg\b")
"""What a rule for drawings says holds for pictures too."""


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
    typed: str
    """What stands before the bundle code in letters."""
    list_heading: str
    safety: SafetyView
    stop: SafetyView
    beside: SafetyView
    """The same in two parts, for the front of several exercises on a page."""
    stop_first: bool
    exercises: tuple[Markup, ...]
    """Each exercise's sheet and its row."""


def sheets_page(language: str, size: str) -> str:
    """The path of the page of a language and a type size."""
    return f"{language}/sheets/{size}/index.html"


@dataclass(frozen=True, slots=True)
class Picture:
    """A figure as a picture beside the page, so that a page with every exercise stays light."""

    path: str
    alt: str
    """The figure's title and description."""
    note: str
    """What stands under it."""
    shape: str
    """Width by height."""
    mirror: str = ""
    """``left`` or ``right``: the side that only the mirrored picture shows; empty where that is never asked for."""
    mirror_path: str = ""
    mirror_alt: str = ""
    fault: tuple[Picture, ...] = ()
    """That of the first mistake, where it has one."""


def add_pictures(setting: LanguageSite, figures: FigureSource, files: dict[str, bytes]) -> dict[str, Picture]:
    """The picture of each exercise by its slug; the pictures are added to ``files``."""
    return {
        exercise.slug: _add_picture(exercise, figures, setting.language, files)
        for exercise in setting.library.exercises
    }


def _add_picture(exercise: Exercise, figures: FigureSource, language: str, files: dict[str, bytes]) -> Picture:
    name, note, mirror = f"sheet-{exercise.slug}", figures.figure_note(exercise, language), side_mirrored(exercise, figures)
    sides = (Side.TOGETHER, *((mirror,) if mirror else ()))
    shown = _turned(name, note, mirror, [str(figures.figure_svg(exercise, language, side)) for side in sides], files)
    faults = [str(figures.fault_svg(exercise, 0, language, side)) for side in sides]
    return replace(shown, fault=(_turned(f"{name}-mistake", "", mirror, faults, files),)) if faults[0] else shown


def _turned(name: str, note: str, mirror: Side | None, drawings: list[str], files: dict[str, bytes]) -> Picture:
    """A picture of one drawing, or of two, of which the second shows the other side."""
    first, *other = [_add_drawing(svg, f"{name}-{mirror.value}" if number and mirror else name, files) for number, svg in enumerate(drawings)]
    shape = f"{shape_of(drawings[0]):g}"
    return Picture(*first, note, shape, mirror.value, *other[0]) if mirror and other else Picture(*first, note, shape)


def _add_drawing(svg: str, name: str, files: dict[str, bytes]) -> tuple[str, str]:
    """A drawing as a file of its own: its path, and what it shows in words."""
    words = [match[1] for pattern in (_TITLE, _DESCRIPTION) if (match := pattern.search(svg))]
    bare = _DESCRIPTION.sub("", _TITLE.sub("", svg))
    if "xmlns=" not in bare:
        bare = bare.replace("<svg", '<svg xmlns="http://www.w3.org/2000/svg"', 1)
    return add_asset(files, name, "svg", bare), html.unescape(". ".join(word.strip().rstrip(".") for word in words if word.strip()))


@dataclass(frozen=True)
class PictureFigures:
    """Pictures in place of figures, as seen from one page."""

    pictures: Mapping[str, Picture]
    page: str

    def figure_svg(self, exercise: Exercise, _language: str, _side: Side = Side.TOGETHER) -> Markup:
        """The figure as an ``img``, which knows its mirrored picture: the page's script chooses."""
        return self._image(self.pictures[exercise.slug])

    def _image(self, picture: Picture) -> Markup:
        shown = Markup('src="{}" alt="{}" data-width="{}" data-height="1"').format(relative(self.page, picture.path), picture.alt, picture.shape)
        if picture.mirror:
            turned = Markup(' data-mirror="{}" data-mirror-src="{}" data-mirror-alt="{}"')
            shown += turned.format(picture.mirror, relative(self.page, picture.mirror_path), picture.mirror_alt)
        return Markup('<img {} loading="lazy">').format(shown)

    def fault_svg(self, exercise: Exercise, number: int, _language: str, _side: Side = Side.TOGETHER) -> Markup:
        """The picture of the first mistake, in the same way."""
        fault = self.pictures[exercise.slug].fault if number == 0 else ()
        return self._image(fault[0]) if fault else Markup("")

    def shown_side(self, _exercise: Exercise) -> Side:
        """Left to the page's script."""
        return Side.TOGETHER

    def figure_note(self, exercise: Exercise, _language: str) -> str:
        """What stands under it."""
        return self.pictures[exercise.slug].note


OWN_RULE = re.compile(r"\[lang\|=[^{}]*\{--font:\"Own [^{}]*\}")
"""The rule that sets a language in the font that the library brings, as ``pack_style`` leaves it."""


def write_style(site_style: bytes, sheets_css: str, accent: str) -> str:
    """The style sheet of the sheets: the site's fonts, the print rules, and what the browser needs beside them."""
    faces = "\n".join(face.rule for face in read_font_faces(site_style.decode()))
    rules = _DRAWING.sub(r"\1 :is(svg, img)", load_paper_assets().style)
    rules += "".join(f"\n{rule}" for rule in OWN_RULE.findall(site_style.decode()))
    return f"{faces}\n{rules}\n:root {{ --accent-on-light: {accent}; }}\n{sheets_css}"


def write_sheets(setting: LanguageSite, pictures: Mapping[str, Picture], size: str, style: str, scripts: tuple[str, ...]) -> bytes:
    """The page; each exercise's sheet is kept by itself."""
    read = setting.edition.reads
    views = [Markup(read(_write_sheet, setting, pictures, size, slug).decode()) for slug in setting.library.exercise]
    paper, say, path = _paper(setting, pictures, size), setting.wording.say, sheets_page(setting.language, size)
    view = view_page(paper, title=say("clinician.sheet_title"), code="", item="")
    safety = view_safety(paper, _all_cautions(setting))
    sheets = SheetsPage(
        page=view,
        policy=WORKER_POLICY,
        style=relative(path, style),
        scripts=tuple(relative(path, script) for script in scripts),
        back=Link(relative(path, list_page(setting.language, "bundle")), say("clinician.sheets_back")),
        print=say("clinician.print"),
        need_script=say("clinician.need_script"),
        measures=json.dumps(write_measures(paper), ensure_ascii=False, separators=(",", ":")),
        foot="  ".join((view.version, *view.marks)),
        patient=say("paper.for"),
        date=say("paper.date"),
        code_line=say("paper.code_all"),
        typed=say("paper.typed"),
        list_heading=say("paper.in_order"),
        safety=safety,
        stop=safety.stops,
        beside=safety.others,
        stop_first=size == LARGE,
        exercises=tuple(views),
    )
    return _environment().get_template("browser.html").render(view=sheets).encode()


def _write_sheet(setting: LanguageSite, pictures: Mapping[str, Picture], size: str, slug: str) -> bytes:
    """The sheet of an exercise, and its row where several stand on a page."""
    paper, exercise = _paper(setting, pictures, size), setting.library.exercise[slug]
    view = view_exercise(paper, exercise, level=2, part=stand_alone(paper, exercise))
    parts = _environment().get_template("parts.html").module
    row = view_row(view, "", (), ())
    return f"{parts.exercise_page(view)}{parts.exercise_row(row)}".encode()  # type: ignore[attr-defined]


def _paper(setting: LanguageSite, pictures: Mapping[str, Picture], size: str) -> PaperSetting:
    """What the sheets are made from, on the clinic's first paper."""
    figures = PictureFigures(pictures, sheets_page(setting.language, size))
    paper = make_setting(setting.library, setting.wording, figures, setting.edition, graph=setting.progression, has_unreviewed=setting.has_unreviewed)
    return replace(paper.on(paper.paper, size), phones_apart=False, codes_drawn=False)


def _environment() -> Environment:
    return template_environment(load_paper_assets().templates)


def _all_cautions(setting: LanguageSite) -> tuple[Ref, ...]:
    """Every caution of the library, of which the page's script leaves those of the exercises picked."""
    return tuple(Ref(slug, CODE_PLACE) for kind in CautionKind for slug in caution_order(setting.library, kind))


def write_measures(setting: PaperSetting) -> dict[str, Any]:
    """The measures of pages in millimetres, spacings, the head's end and margins for each location.

    Margins are given for each of the clinic's papers, in the order of ``papers``.
    """
    papers, library = setting.library.clinic.papers, setting.library
    places = []
    for place in library.clinic.locations:
        here = replace(setting, locations=(place,))
        view = view_page(here, title="", code="", item="")
        margins = [list(browser_margins(here.on(paper, setting.size), view.marks, view.version)) for paper in papers]
        places.append({"slug": place.slug, "head": locations_of(here)[0], "margins": margins})
    return {
        "papers": {paper: PAPERS[paper] for paper in papers},
        "between": BETWEEN,
        "narrowest": NARROWEST,
        "widest": WIDEST,
        "aim": FIGURE_AIM,
        "tight": FIGURE_TIGHT,
        "wide": WIDE_FIGURE,
        "little": LITTLE,
        "gives": GIVES_WAY,
        "smallThings": SMALL_THINGS,
        "figure": (FIGURE[setting.size], FIGURE_LEAST[setting.size]),
        "lines": lines_of(setting.size, setting.language),
        "gaps": GAPS_MM[setting.size],
        "spare": SPARE_MM,
        "module": (MODULE_MM, MODULE_AIM, *CODE_MM),
        "rows": {
            "aim": ROW_AIM[setting.size], "most": ROW_MOST[setting.size], "calms": ROW_CALMS[setting.size],
            "figure": (ROW_FIGURE, ROW_FIGURE_LEAST), "gap": (ROW_GAP_MM, ROW_GAP_MOST_MM), "share": ROW_SHARE,
            "small": SMALL_FACTS, "twoInLine": DAYS_TWO_IN_LINE, "lines": LINES_OF_BOXES,
            "stops": (NARROWEST_STOPS, WIDEST_STOPS),
        },
        "boxes": BOXES_IN_LIST[setting.size],
        "places": places,
    }

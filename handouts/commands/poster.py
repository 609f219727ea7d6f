"""``handouts poster``: a poster or pocket cards of a programme, station cards of a class, on any paper that they come on."""

from __future__ import annotations

import argparse
import sys
from dataclasses import replace

from handouts.build.loading import load
from handouts.build.pipeline import draw, edition_of
from handouts.build.settings import Settings
from handouts.commands.options import add_library, add_out, add_replace
from handouts.commands.output import Output
from handouts.commands.report import CANNOT_RUN, DONE, HAS_PROBLEMS, print_problems
from handouts.model import ClassPlan, Library, Programme, exercises_named
from handouts.paper.class_sheets import STATIONS
from handouts.paper.context import make_setting
from handouts.paper.laying import lay_out_document
from handouts.paper.poster import POCKET, POSTER
from handouts.paper.wall import PAPERS_OF, base_of, wall_document
from handouts.problems import has_errors, suggest
from handouts.words.wording import Wording

FORMS = {Programme: (POSTER, POCKET), ClassPlan: (STATIONS,)}
"""What there is of each kind, the usual first."""


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """The command's own options."""
    parser.add_argument("name", metavar="NAME", help="a programme or a class: the name of its file, or its code")
    add_library(parser, alone=False)
    add_out(parser, "folder of the PDF")
    add_replace(parser)
    parser.add_argument("--as", dest="form", default="", help="poster or pocket (of a programme), stations (of a class)")
    parser.add_argument("--paper", default="", help="poster: a3, tabloid or a2; pocket: a4 or letter; stations: a4, letter, a3 or tabloid")
    parser.add_argument("--language", default="", help="language of the words (default: the library's)")


def run(arguments: argparse.Namespace) -> int:
    """Print what was asked for."""
    settings = Settings.of(arguments)
    loaded = load(settings)
    if loaded.library is None or has_errors(loaded.problems):
        print_problems(loaded.problems)
        return HAS_PROBLEMS
    source = loaded.library
    libraries = {item.library.language: item.library for item in loaded.translations if item.library}
    language = arguments.language or source.language
    if language not in libraries:
        return _refuse(f"there is no language '{language}' to print in. {suggest(language, libraries)}")
    item = _find(libraries[language], arguments.name)
    if item is None:
        if _find(source, arguments.name) is not None:
            return _refuse(f"'{arguments.name}' is not published in '{language}'. See 'handouts words state' for what keeps it out.")
        return _refuse(f"there is no programme and no class '{arguments.name}'. {suggest(arguments.name, _names(source))}")
    forms = FORMS[type(item)]
    form = arguments.form or forms[0]
    if form not in forms:
        return _refuse(f"there is no '{form}' of '{item.slug}'. {suggest(form, forms)}")
    paper = arguments.paper or PAPERS_OF[form][source.clinic.papers[0]]
    if base_of(form, paper) is None:
        return _refuse(f"'{paper}' is no paper of a {form}. {suggest(paper, _papers(form))}")
    wanted = item.exercise_slugs if isinstance(item, Programme) else [ref.slug for ref in exercises_named(item)]
    shown = tuple(source.exercise[slug] for slug in dict.fromkeys(wanted) if slug in source.exercise)
    figures, _ = draw(replace(loaded, library=replace(source, exercises=shown)), settings)
    library = libraries[language]
    setting = make_setting(library, Wording.of(library), figures.for_paper(), edition_of(loaded, False))
    with settings.progress.stage("laying out the PDF"):
        laid = lay_out_document(wall_document(setting, item.slug, form, paper))
    print_problems(laid.problems)
    if not laid.pdf:
        return HAS_PROBLEMS
    target = settings.out / f"{item.slug}-{form}-{paper}-{language}.pdf"
    Output.of(settings, arguments.replace).write(target, laid.pdf)
    print(target)
    return DONE


def _find(library: Library, name: str) -> Programme | ClassPlan | None:
    items: tuple[Programme | ClassPlan, ...] = (*library.programmes, *library.classes)
    return next((item for item in items if name in (item.slug, item.code)), None)


def _names(library: Library) -> tuple[str, ...]:
    return (*library.programme, *library.class_plan)


def _papers(form: str) -> tuple[str, ...]:
    return tuple(paper for paper in ("letter", "a4", "tabloid", "a3", "a2") if base_of(form, paper))


def _refuse(says: str) -> int:
    print(f"handouts: {says}", file=sys.stderr)
    return CANNOT_RUN

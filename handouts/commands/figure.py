"""``handouts figure``: one figure, or all, as a picture to look at while posing it."""

from __future__ import annotations

import argparse
import json
import sys
from pathlib import Path

from handouts.bases.read import read_standing
from handouts.build.figures import STYLE_SHEET
from handouts.build.settings import default_out, stands_in
from handouts.commands.options import add_library, add_replace
from handouts.commands.output import Output
from handouts.commands.report import CANNOT_RUN, DONE, HAS_PROBLEMS, print_problems
from handouts.figure import (
    Figure,
    compute_figure,
    extremes,
    motion_data,
    presentation_svg,
    read_figure,
    standalone_svg,
)
from handouts.figure.contact_sheet import sheet_page
from handouts.figure.draw.style import FigureStyle
from handouts.figure.faults import draw_fault
from handouts.figure.frames import frame_figures
from handouts.figure.reference import figure_words
from handouts.figure.svg import one_panel_svg, with_style
from handouts.model import Exercise, Library
from handouts.paper.picture import svg_png
from handouts.problems import Grade, Problem, has_errors, sort_problems, suggest
from handouts.source.bases import read_with_base
from handouts.tasks.progress import Progress
from handouts.templating.assets import read_templates
from handouts.text.markup import plain_text
from handouts.words.figure import describe_figure
from handouts.words.wording import Wording

PICTURES = (".svg", ".png")
PICTURE_WIDTH = 1200
"""Width of a PNG in pixels: sharp at the 60 mm of a sheet up to 500 dots an inch."""
MISTAKE_WIDTH = 600
"""The same for the picture of a mistake."""


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """The command's own options."""
    parser.add_argument("exercise", nargs="?", help="slug of an exercise; left out: all of them on one sheet")
    add_library(parser, alone=False)
    parser.add_argument(
        "--to", type=Path, help="file to write: .svg, .png, or .html for all (default: EXERCISE.svg, figures.html; inside a library in build)"
    )
    add_replace(parser)
    parser.add_argument("--frames", action="store_true", help="also write each frame of the movement beside it")
    parser.add_argument("--words", action="store_true", help="print all words that a figure may be described with; no library is read")
    parser.add_argument("--angles", action="store_true", help="print the largest angle of each joint")


def run(arguments: argparse.Namespace) -> int:
    """Draw, write, and say what is wrong with the pose."""
    if arguments.words:
        print(figure_words(), end="")
        return DONE
    files, problems = read_with_base(arguments.library, arguments.library.name)
    library, found = read_standing(files, arguments.library.name)
    problems += found
    if library is None:
        print_problems(sort_problems(problems))
        return CANNOT_RUN
    output = Output(arguments.library, default_out(arguments.library), arguments.replace)
    place = output.folder if stands_in(arguments.library) else Path()
    if arguments.exercise is None:
        return _all(library, arguments.to or place / "figures.html", output, Progress(arguments.quiet))
    exercise = library.exercise.get(arguments.exercise)
    if exercise is None:
        said = f"handouts: no exercise '{arguments.exercise}'. {suggest(arguments.exercise, library.exercise)}"
        print(said, file=sys.stderr)
        return CANNOT_RUN
    return _one(exercise, library, arguments, arguments.to or place / f"{exercise.slug}.svg", output)


def _draw(exercise: Exercise) -> tuple[Figure | None, tuple[Problem, ...]]:
    if exercise.picture is not None or exercise.is_in_words_only:
        shown = "by its own picture, 'pictures/" + exercise.picture.file_name + "'" if exercise.picture else "in words only, as 'figure: none' says"
        what, mend = f"the exercise is shown {shown}", "To see it, open its page in 'handouts preview'."
        return None, (Problem(exercise.place, "no-figure", what, mend, Grade.NOTICE),)
    if exercise.figure is None:
        return None, (
            Problem(exercise.place, "no-figure", "the exercise has no figure", "Describe the pose in 'figure:'."),
        )
    spec, problems = read_figure(exercise.figure)
    if spec is None:
        return None, tuple(problems)
    figure = compute_figure(spec)
    return figure, (*problems, *figure.problems)


def _one(
    exercise: Exercise, library: Library, arguments: argparse.Namespace, target: Path, output: Output
) -> int:
    if target.suffix not in PICTURES:
        said = f"handouts: '{target}' is no kind of picture: name a file that ends with {' or '.join(PICTURES)}."
        print(said, file=sys.stderr)
        return CANNOT_RUN
    figure, problems = _draw(exercise)
    print_problems(sort_problems(problems))
    if figure is None:
        return HAS_PROBLEMS
    words = (plain_text(exercise.title.text), describe_figure(figure.facts, Wording.of(library)))
    css = read_templates()[STYLE_SHEET].decode()
    problems = (*problems, *_write(output, target, figure, words, css))
    print(target)
    problems = (*problems, *_write_mistakes(exercise, target, output, css, Wording.of(library)))
    if arguments.frames:
        for number, frame in enumerate(frame_figures(figure)):
            path = target.with_name(f"{target.stem}-{number:02}{target.suffix}")
            problems = (*problems, *_write(output, path, frame, words, css))
            print(path)
    if arguments.angles:
        print(
            json.dumps(
                {name: [item.degrees, item.side, item.phase] for name, item in extremes(figure).items()}, indent=1
            )
        )
        print(f"motion data: {len(json.dumps(motion_data(figure), separators=(',', ':')))} bytes")
    return HAS_PROBLEMS if has_errors(problems) else DONE


def _write_mistakes(exercise: Exercise, target: Path, output: Output, css: str, wording: Wording) -> list[Problem]:
    """The picture of each mistake that has one, beside the exercise's own, with its problems."""
    problems: list[Problem] = []
    for number, mistake in enumerate(exercise.mistakes, 1):
        if mistake.figure is None or exercise.figure is None:
            continue
        picture, found = draw_fault(exercise.figure, mistake.figure, FigureStyle())
        print_problems(sort_problems(found))
        problems += found
        if picture is None:
            continue
        path = target.with_name(f"{target.stem}-mistake-{number}{target.suffix}")
        words = (wording.say("figure.fault", mistake=plain_text(mistake.see.text)), wording.say("figure.fault_sign"))
        if path.suffix == ".png":
            made, wrong = svg_png(one_panel_svg(picture.panel, *words, "figure", css), MISTAKE_WIDTH)
            problems += wrong
            output.write(path, made)
        else:
            output.write(path, with_style(one_panel_svg(picture.panel, *words, "figure"), css).encode())
        print(path)
    return problems


def _write(output: Output, target: Path, figure: Figure, words: tuple[str, str], css: str) -> tuple[Problem, ...]:
    if target.suffix != ".png":
        output.write(target, standalone_svg(figure, *words, "figure", css).encode())
        return ()
    picture, problems = svg_png(presentation_svg(figure, *words, "figure", css), PICTURE_WIDTH)
    output.write(target, picture)
    return problems


def _all(library: Library, target: Path, output: Output, progress: Progress) -> int:
    if target.suffix != ".html":
        print(f"handouts: '{target}' is no page: all figures go into a file that ends with .html.", file=sys.stderr)
        return CANNOT_RUN
    figures: list[tuple[str, Figure]] = []
    problems: list[Problem] = []
    with progress.stage("drawing figures", len(library.exercises)) as stage:
        for exercise in library.exercises:
            figure, found = _draw(exercise)
            problems += found
            if figure is not None:
                figures.append((plain_text(exercise.title.text), figure))
            stage.done()
    print_problems(sort_problems(problems))
    output.write(target, sheet_page(figures, read_templates()[STYLE_SHEET].decode()).encode())
    print(target)
    return HAS_PROBLEMS if has_errors(problems) else DONE

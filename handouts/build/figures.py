"""The figures of a library, drawn once: what pages and sheets take from them."""

from __future__ import annotations

import hashlib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import partial
from html import escape
from typing import Any

from markupsafe import Markup

from handouts.build.drawn import DESCRIPTION, IDENT, TITLE, Drawing, FaultDrawing, PreparedPicture
from handouts.figure import mirror_svg
from handouts.limits import ShownMotion
from handouts.model import Exercise, Side
from handouts.problems import Problem
from handouts.publication.figures import mirrored_for
from handouts.publication.placeholder import placeholder_svg
from handouts.source.nodes import Mapping as Written
from handouts.tasks.calling import CallEach, Later
from handouts.text.markup import plain_text
from handouts.words.figure import describe_figure, explain_signs
from handouts.words.wording import Wording

STYLE_SHEET = "styles/figure.css"
DRAW_ONE: Later[tuple[Drawing | None, tuple[Problem, ...]]] = Later("handouts.build.drawing", "draw_one", tuple[Drawing | None, tuple[Problem, ...]])

DRAW_MISTAKE: Later[tuple[FaultDrawing | None, tuple[Problem, ...]]] = Later(
    "handouts.build.drawing", "draw_mistake", tuple[FaultDrawing | None, tuple[Problem, ...]]
)
PREPARE: Later[tuple[PreparedPicture | None, str]] = Later("handouts.build.own_pictures", "prepare_picture", tuple[PreparedPicture | None, str])
MEND_PICTURE = "Save it again as PNG, JPEG or WebP, or take another picture."
MEND_FAULT = "Describe the exercise in 'figure:', or take the mistake's figure out."
UNDRAWN: tuple[Drawing | None, tuple[Problem, ...]] = (None, ())
"""In place of a drawing that was left out; where a figure cannot be drawn there is a problem."""


@dataclass(frozen=True)
class LibraryFigures:
    """Every drawing of a library by exercise; gives a sign of the position where there is none."""

    drawings: Mapping[str, Drawing]
    levels: Mapping[str, str] = field(default_factory=dict)
    """Level (floor, chair, standing) of each exercise's position, for the sign."""
    on_paper: bool = False
    pictures: Mapping[str, PreparedPicture] = field(default_factory=dict)
    """The clinic's own pictures, by exercise slug."""
    wordings: Mapping[str, Wording] = field(default_factory=dict)
    """The words of languages for which the library brings its own interface."""
    faults: Mapping[str, Mapping[int, FaultDrawing]] = field(default_factory=dict)
    """Pictures of mistakes, by exercise slug and the mistake's number."""
    undrawn: frozenset[str] = frozenset()
    """Slugs of exercises whose figures nobody asked for yet: so far they have a sign too."""

    def for_paper(self) -> LibraryFigures:
        """The same figures as sheets need them."""
        return replace(self, on_paper=True)

    def _wording(self, language: str) -> Wording:
        return self.wordings.get(language) or Wording(language)

    def shown(self) -> dict[str, ShownMotion]:
        """What each figure shows, for movement limits, by exercise slug."""
        return {slug: ShownMotion(drawing.angles, drawing.facts) for slug, drawing in self.drawings.items()}

    def descriptions(self, language: str) -> dict[str, str]:
        """What each figure shows, in words of a language, by exercise slug."""
        wording = self._wording(language)
        return {slug: describe_figure(drawing.facts, wording) for slug, drawing in self.drawings.items()}

    def figure_svg(self, exercise: Exercise, language: str, side: Side = Side.TOGETHER) -> Markup:
        """The whole figure, inline, with title and description in the language; mirrored where it shows the other side."""
        drawing, ident, title = (
            self.drawings.get(exercise.slug),
            f"figure-{exercise.slug}",
            plain_text(exercise.title.text),
        )
        if exercise.picture is not None and exercise.slug in self.pictures:
            words = exercise.picture.words.text
            # A PDF says the title of a picture alone.
            return _fill(self.pictures[exercise.slug].shown, f"{title}. {words}" if self.on_paper else title, words, ident)
        if drawing is None:
            level, says = self.levels[exercise.slug], self.figure_note(exercise, language)
            return placeholder_svg(level, title, says, ident, frame=not exercise.is_in_words_only)
        wording = self._wording(language)
        svg = drawing.paper if self.on_paper else drawing.screen
        if wording.direction == "rtl":
            svg = drawing.paper_from_right if self.on_paper else drawing.screen_from_right
        mirrored = side is mirrored_for(drawing.shows)
        if mirrored:
            svg = mirror_svg(svg, drawing.sums)
        return _fill(svg, title, describe_figure(drawing.facts, wording, mirrored=mirrored), ident)

    def fault_svg(self, exercise: Exercise, number: int, language: str, side: Side = Side.TOGETHER) -> Markup:
        """The picture of a mistake, inline, with its words in the language; empty where it has none."""
        fault, drawing = self.faults.get(exercise.slug, {}).get(number), self.drawings.get(exercise.slug)
        if fault is None or drawing is None:
            return Markup("")
        wording, see = self._wording(language), plain_text(exercise.mistakes[number].see.text)
        svg = fault.paper if self.on_paper else fault.screen
        svg = mirror_svg(svg, fault.sums) if side is mirrored_for(drawing.shows) else svg
        title = wording.say("figure.fault", mistake=see)
        return _fill(svg, title, wording.say("figure.fault_sign"), f"figure-{exercise.slug}-fault-{number}")

    def shown_side(self, exercise: Exercise) -> Side:
        """The side that the figure shows trained; ``TOGETHER`` where there is none, or it does not tell."""
        drawing = self.drawings.get(exercise.slug)
        return drawing.shows if drawing else Side.TOGETHER

    def figure_note(self, exercise: Exercise, language: str) -> str:
        """What stands under the figure: what its signs mean, or that there is none; empty where nothing is to be said."""
        drawing, wording = self.drawings.get(exercise.slug), self._wording(language)
        if exercise.picture is not None and exercise.slug in self.pictures:
            return wording.say("figure.own", source=exercise.picture.source, licence=exercise.picture.licence)
        if exercise.is_in_words_only:
            return wording.say("figure.words_only")
        return explain_signs(drawing.facts, wording) if drawing else wording.say("figure.none")

    def motion(self, exercise: Exercise) -> Mapping[str, Any] | None:
        """How the end picture moves, for a player; None where there is no figure."""
        drawing = self.drawings.get(exercise.slug)
        return drawing.motion if drawing else None

    def panel_svg(self, exercise: Exercise) -> str:
        """The end pose as a picture file; its words stand beside it on the page."""
        drawing = self.drawings.get(exercise.slug)
        if exercise.slug in self.pictures:
            return self.pictures[exercise.slug].panel
        if drawing is None:
            return str(placeholder_svg(self.levels[exercise.slug], "", "", "figure"))
        return str(_fill(drawing.panel, "", "", "figure"))


def _fill(text: str, title: str, description: str, ident: str) -> Markup:
    filled = text.replace(TITLE, escape(title)).replace(DESCRIPTION, escape(description)).replace(IDENT, ident)
    return Markup(filled)


def drawing_choices(css: str, person: str) -> dict[str, str]:
    """What the task that draws one figure is given beside it; ``person`` is whom the clinic shows, '' for nobody of any age or gender."""
    return {"css": css} | ({"person": person} if person else {})


def person_in(exercise: Exercise, people: Sequence[str]) -> str:
    """Whom an exercise's figure shows of a clinic's people: always the same one, whatever other exercises there are."""
    return people[int(hashlib.sha256(exercise.code.encode()).hexdigest(), 16) % len(people)] if people else ""


def draw_figures(
    exercises: Sequence[Exercise], levels: Mapping[str, str], css: str, each: CallEach, leave: bool = False, people: Sequence[str] = ()
) -> tuple[LibraryFigures, tuple[Problem, ...]]:
    """Every figure, drawn as ``each`` calls tasks, which may ``leave`` some out; with the problems of their poses.

    ``people`` are whom the clinic shows, by turns.
    """
    written = {exercise.slug: exercise.figure for exercise in exercises if exercise.figure is not None and exercise.figure.entries}
    shown = {exercise.slug: person_in(exercise, people) for exercise in exercises if exercise.slug in written}
    drawn: dict[int, tuple[Drawing | None, tuple[Problem, ...]]] = {}
    for person in sorted(set(shown.values())):
        nodes = [node for slug, node in written.items() if shown[slug] == person]
        choices = drawing_choices(css, person)
        drawn |= {id(node): made for node, made, _ in each(partial(DRAW_ONE, **choices), nodes, _leave if leave else None, "drawing figures")}
    faults, unseen = _draw_faults(exercises, written, shown, css, each, leave)
    drawings = {slug: drawing for slug, node in written.items() if (drawing := drawn[id(node)][0]) is not None}
    undrawn = frozenset(slug for slug, node in written.items() if drawn[id(node)] == UNDRAWN)
    pictures, problems = _prepare(exercises, each)
    problems += [problem for node in written.values() for problem in drawn[id(node)][1]]
    return LibraryFigures(drawings, levels, pictures=pictures, faults=faults, undrawn=undrawn), (*problems, *unseen)


def _draw_faults(
    exercises: Sequence[Exercise], written: Mapping[str, Written], shown: Mapping[str, str], css: str, each: CallEach, leave: bool
) -> tuple[dict[str, dict[int, FaultDrawing]], list[Problem]]:
    """The pictures of mistakes, by exercise and number, with their problems; those of an exercise show whom its own figure shows."""
    wanted = {
        (exercise.slug, number): (written[exercise.slug], mistake.figure)
        for exercise in exercises
        for number, mistake in enumerate(exercise.mistakes)
        if mistake.figure is not None and exercise.slug in written
    }
    found: dict[str, dict[int, FaultDrawing]] = {}
    problems = [
        Problem(mistake.figure.place, "mistake-figure", "a mistake has a figure, but the exercise has none that it could differ from", MEND_FAULT)
        for exercise in exercises
        for mistake in exercise.mistakes
        if mistake.figure is not None and exercise.slug not in written
    ]
    for person in sorted({shown[slug] for slug, _ in wanted}):
        nodes = {key: node for key, node in wanted.items() if shown[key[0]] == person}
        leaves = _leave_fault if leave else None
        drawn = each(partial(DRAW_MISTAKE, **drawing_choices(css, person)), list(nodes.values()), leaves, "drawing mistakes")
        made = {id(node): result for node, result, _ in drawn}
        for (slug, number), node in nodes.items():
            drawing, wrong = made[id(node)]
            problems += wrong
            if drawing is not None:
                found.setdefault(slug, {})[number] = drawing
    return found, problems


def _prepare(exercises: Sequence[Exercise], each: CallEach) -> tuple[dict[str, PreparedPicture], list[Problem]]:
    """The clinic's own pictures as readers get them, with a problem for each file that cannot be shown."""
    own = {exercise.slug: exercise.picture for exercise in exercises if exercise.picture is not None and exercise.picture.data}
    made = {data: result for data, result, _ in each(PREPARE, list({picture.data: None for picture in own.values()}), None, "preparing pictures")}
    problems = [
        Problem(picture.at("file_name"), "picture-file", f"the picture '{picture.file_name}' cannot be shown: {why}", MEND_PICTURE)
        for picture in own.values()
        if (why := made[picture.data][1])
    ]
    return {slug: prepared for slug, picture in own.items() if (prepared := made[picture.data][0]) is not None}, problems


def _leave_fault(_written: tuple[Written, Written], _why: str) -> tuple[FaultDrawing | None, tuple[Problem, ...]]:
    return None, ()


def _leave(_written: Written, _why: str) -> tuple[Drawing | None, tuple[Problem, ...]]:
    return UNDRAWN

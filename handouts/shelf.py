"""The figures of a library, drawn once and kept: what pages and sheets take from them.

A drawing is kept by the hash of the figure's description, the engine's sources and the style sheet,
with blanks for title, description and ident, so that one drawing serves every page and language.
"""

from __future__ import annotations

import json
import re
from collections.abc import Mapping, Sequence
from dataclasses import asdict, dataclass, field
from functools import partial
from html import escape
from typing import Any

from markupsafe import Markup

from handouts.cache import Cache, key_of
from handouts.figure import (
    Extreme,
    Facts,
    FigureSpec,
    Movement,
    compute_figure,
    engine_digest,
    extremes,
    facts,
    joint_angles,
    motion_data,
    panel_svg,
    presentation_svg,
    read_figure,
    svg_of,
)
from handouts.limits import Shown
from handouts.limits.motions import Frame
from handouts.limits.shown import keep_moved
from handouts.markup import plain_text
from handouts.model import Exercise
from handouts.placeholder import placeholder_svg
from handouts.problems import Problem
from handouts.words.figure import describe_figure, explain_signs
from handouts.words.speech import Speech
from handouts.workers import Workers

TITLE, DESCRIPTION, IDENT = "BLANKTITLE", "BLANKDESCRIPTION", "BLANKIDENT"
"""Blanks in a kept drawing; no path or class holds these letters."""
STYLE_SHEET = "styles/figure.css"
# A booklet shows a figure twice, and a PDF takes its words from title and desc without ids.
_IDS = re.compile(r' (?:id|aria-labelledby)="[^"]*"')


@dataclass(frozen=True, slots=True)
class Drawing:
    """One exercise's figure as texts with blanks, and what was computed with it."""

    screen: str
    """Inline SVG coloured by classes."""
    paper: str
    """Inline SVG coloured by attributes: the PDF writer applies no style sheet inside a picture."""
    screen_from_right: str
    paper_from_right: str
    """The same with the panels in the order of a text read from the right; what they show is not mirrored."""
    panel: str
    """The end pose alone, as a file with its style sheet inside."""
    extremes: Mapping[str, Extreme]
    facts: Facts
    angles: tuple[Frame, ...]
    """The joint angles of every frame, for movement limits."""
    motion: Mapping[str, Any]
    """How the end picture moves, for the phone (``handouts.figure.motion_data``)."""


@dataclass(frozen=True)
class FigureShelf:
    """Every drawing of a library by exercise; gives a sign of the position where there is none."""

    drawings: Mapping[str, Drawing]
    levels: Mapping[str, str] = field(default_factory=dict)
    """Level (floor, chair, standing) of each exercise's position, for the sign."""
    on_paper: bool = False

    def for_paper(self) -> FigureShelf:
        """The same figures as sheets need them."""
        return FigureShelf(self.drawings, self.levels, on_paper=True)

    def shown(self) -> dict[str, Shown]:
        """What each figure shows, for movement limits, by exercise slug."""
        return {slug: Shown(drawing.angles, drawing.facts) for slug, drawing in self.drawings.items()}

    def descriptions(self, language: str) -> dict[str, str]:
        """What each figure shows, in words of a language, by exercise slug."""
        speech = Speech(language)
        return {slug: describe_figure(drawing.facts, speech) for slug, drawing in self.drawings.items()}

    def figure_svg(self, exercise: Exercise, language: str) -> Markup:
        """The whole figure, inline, with title and description in the language."""
        drawing, ident, title = (
            self.drawings.get(exercise.slug),
            f"figure-{exercise.slug}",
            plain_text(exercise.title.text),
        )
        if drawing is None:
            return placeholder_svg(self.levels[exercise.slug], title, Speech(language).say("figure.none"), ident)
        speech = Speech(language)
        svg = drawing.paper if self.on_paper else drawing.screen
        if speech.direction == "rtl":
            svg = drawing.paper_from_right if self.on_paper else drawing.screen_from_right
        return _fill(svg, title, describe_figure(drawing.facts, speech), ident)

    def figure_note(self, exercise: Exercise, language: str) -> str:
        """What stands under the figure: what its signs mean, or that there is none; empty where nothing is to be said."""
        drawing, speech = self.drawings.get(exercise.slug), Speech(language)
        return explain_signs(drawing.facts, speech) if drawing else speech.say("figure.none")

    def motion(self, exercise: Exercise) -> Mapping[str, Any] | None:
        """How the end picture moves, for a player; None where there is no figure."""
        drawing = self.drawings.get(exercise.slug)
        return drawing.motion if drawing else None

    def panel_svg(self, exercise: Exercise) -> str:
        """The end pose as a picture file; its words stand beside it on the page."""
        drawing = self.drawings.get(exercise.slug)
        if drawing is None:
            return str(placeholder_svg(self.levels[exercise.slug], "", "", "figure"))
        return str(_fill(drawing.panel, "", "", "figure"))


def _fill(text: str, title: str, description: str, ident: str) -> Markup:
    filled = text.replace(TITLE, escape(title)).replace(DESCRIPTION, escape(description)).replace(IDENT, ident)
    return Markup(filled)


def draw_figures(
    exercises: Sequence[Exercise], levels: Mapping[str, str], css: str, workers: Workers, cache: Cache
) -> tuple[FigureShelf, tuple[Problem, ...]]:
    """Every figure, kept ones first, the rest drawn by ``workers``; with the problems of their poses."""
    problems: list[Problem] = []
    drawings: dict[str, Drawing] = {}
    missing: list[tuple[str, FigureSpec]] = []
    known: dict[str, Drawing] = {}
    for exercise in exercises:
        if exercise.figure is None:
            continue
        spec, found = read_figure(exercise.figure)
        problems += found
        if spec is None:
            continue
        key = _key(spec, css)
        kept = None if key in known else cache.get(key)
        if kept is not None:
            known[key] = _unpack(kept)
        if key in known:
            drawings[exercise.slug] = known[key]
        else:
            missing.append((exercise.slug, spec))
    # the same pose in several exercises is drawn once; its problems are told at each
    unlike = {_key(spec, css): spec for _, spec in reversed(missing)}
    drawn = {_key(spec, css): made for spec, made in workers.map(partial(draw_one, css=css), unlike.values(), what="drawing figures")}
    for slug, spec in missing:
        key = _key(spec, css)
        drawing, faults = drawn[key]
        drawings[slug] = drawing
        problems += draw_one(spec, css)[1] if faults and unlike[key] is not spec else faults
        if not faults and unlike[key] is spec:
            cache.put(key, _pack(drawing))
    return FigureShelf(drawings, levels), tuple(problems)


def _key(spec: FigureSpec, css: str) -> str:
    return key_of("drawing with angles and motion, from either side", repr(spec), engine_digest(), css)


def draw_one(spec: FigureSpec, css: str) -> tuple[Drawing, tuple[Problem, ...]]:
    """One figure, solved and drawn; for any process."""
    figure = compute_figure(spec)
    panel = panel_svg(figure, -1, TITLE, DESCRIPTION, IDENT)
    head, tail = panel.split("<title", 1)
    drawing = Drawing(
        screen=svg_of(figure, TITLE, DESCRIPTION, IDENT),
        paper=_IDS.sub("", presentation_svg(figure, TITLE, DESCRIPTION, IDENT, css)),
        screen_from_right=svg_of(figure, TITLE, DESCRIPTION, IDENT, from_right=True),
        paper_from_right=_IDS.sub("", presentation_svg(figure, TITLE, DESCRIPTION, IDENT, css, from_right=True)),
        panel=f"{head}<style>{' '.join(css.split())}</style><title{tail}",
        extremes=extremes(figure),
        facts=facts(figure),
        angles=keep_moved(joint_angles(figure.motion)),
        motion=motion_data(figure),
    )
    return drawing, tuple(figure.problems)


def _pack(drawing: Drawing) -> bytes:
    record = {
        "screen": drawing.screen,
        "paper": drawing.paper,
        "screen from right": drawing.screen_from_right,
        "paper from right": drawing.paper_from_right,
        "panel": drawing.panel,
        "extremes": {name: asdict(extreme) for name, extreme in drawing.extremes.items()},
        "facts": asdict(drawing.facts),
        "angles": drawing.angles,
        "motion": drawing.motion,
    }
    return json.dumps(record, ensure_ascii=False).encode()


def _unpack(data: bytes) -> Drawing:
    record: dict[str, Any] = json.loads(data)
    known = record["facts"]
    known["movements"] = tuple(Movement(**move) for move in known["movements"])
    known["props"] = tuple((name, tuple(words)) for name, words in known["props"])
    tuples: dict[str, Any] = {name: tuple(value) if isinstance(value, list) else value for name, value in known.items()}
    return Drawing(
        screen=record["screen"],
        paper=record["paper"],
        screen_from_right=record["screen from right"],
        paper_from_right=record["paper from right"],
        panel=record["panel"],
        extremes={name: Extreme(**extreme) for name, extreme in record["extremes"].items()},
        facts=Facts(**tuples),
        angles=tuple(record["angles"]),
        motion=record["motion"],
    )

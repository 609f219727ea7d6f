"""A programme on the wall and in the pocket: a poster of all its steps, and cards, four to a page, with a step each."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import TypeVar

from markupsafe import Markup

from handouts.model import CautionKind, Programme, Ref
from handouts.paper.articles import FITS, Article, Document
from handouts.paper.booklet import dose_in_a_line, picks_of, small_figure
from handouts.paper.context import PaperSetting, locations_of
from handouts.paper.frame import render_document, view_page
from handouts.paper.large_paper import area_on, points
from handouts.paper.sheet import join_questions, review_line, view_code, view_safety
from handouts.paper.views import CodeView, EntryView, SafetyView
from handouts.publication.rich_text import rich
from handouts.publication.steps import name_step
from handouts.publication.views import ConditionView, view_conditions
from handouts.site.paths import wall_path
from handouts.text.markup import plain_text

Value = TypeVar("Value")
POSTER, POCKET = "poster", "pocket"
"""Ends of the names of their PDFs."""
ROWS, IN_A_ROW = 2, 2
"""Rows of cards on a page, and cards in a row."""


@dataclass(frozen=True, slots=True)
class WallStep:
    """A step: its exercises, each with its dose."""

    look: str
    """How many exercises stand in a row."""
    heading: str
    conditions: tuple[ConditionView, ...]
    """When to begin it; when to go on is said at the next."""
    entries: tuple[EntryView, ...]


@dataclass(frozen=True, slots=True)
class PosterView:
    """Everything on a poster."""

    anchor: str
    fit: str
    rules: Markup
    """Style rules: sizes that follow from the paper."""
    title: Markup
    goal: Markup
    suits: str
    notes: tuple[str, ...]
    steps: tuple[WallStep, ...]
    safety: SafetyView
    code: CodeView
    review: str


def _cautions(setting: PaperSetting, programme: Programme) -> tuple[Ref, ...]:
    """The cautions of a programme with the stop rules of its exercises, each once."""
    library = setting.library
    shown = [library.exercise[slug] for slug in programme.exercise_slugs if slug in library.exercise]
    stops = [ref for each in shown for ref in each.cautions if library.caution[ref.slug].kind is CautionKind.STOP]
    return tuple({ref.slug: ref for ref in (*programme.cautions, *stops)}.values())


def view_steps(setting: PaperSetting, programme: Programme, use: str) -> tuple[WallStep, ...]:
    """The steps of a programme with their exercises; ``use`` keeps the ids of figures apart."""
    wording, steps = setting.wording, list[WallStep]()
    for rank, tier in enumerate(programme.tiers):
        entries = tuple(
            EntryView(
                exercise.slug, "", rich(exercise.title),
                dose_in_a_line(setting, dose),
                small_figure(setting, exercise, f"{use}-{rank}", dose.side) if use else Markup(""),
            )
            for exercise, dose in picks_of(setting, tier.exercises)
        )  # fmt: skip
        look = f"of-{min(6, max(4, len(entries)))}"
        steps.append(WallStep(look, name_step(wording, setting.library, programme, rank), view_conditions(wording, programme, rank)[:1], entries))
    return tuple(steps)


FIGURES_MM = (42.0, 34.0, 27.0, 21.0, 16.0)
"""Height of a figure on A3, by fit."""
TEXT_POINTS = (17.0, 15.0, 13.5, 12.5, 12.0)
"""Size of type there, by fit."""
A3_MM = 276.0
"""Width of the room on A3, for which these sizes are."""


def poster_rules(width: float) -> Markup:
    """The style rules of a poster whose room is so wide, in millimetres."""
    scale = width / A3_MM
    rules = [
        f".poster h1 {{ font-size: {points(40, scale)}; }} .poster .purpose {{ font-size: {points(18, scale)}; }}",
        f".wall-step h2 {{ font-size: {points(20, scale)}; }}",
        f".poster .code svg {{ width: {36 * scale:.1f}mm; height: {36 * scale:.1f}mm; }}",
    ]
    for fit, height, size in zip(FITS, FIGURES_MM, TEXT_POINTS, strict=True):
        rules.append(f".poster.{fit} {{ font-size: {points(size, scale)}; }} .poster.{fit} .small-figure {{ height: {height * scale:.1f}mm; }}")
    return Markup(" ".join(rules))


def poster_document(setting: PaperSetting, programme: Programme, paper: str) -> Document:
    """The poster of a programme on a large paper: its steps with figures and doses, then the stop rules; one page."""
    title = plain_text(programme.title.text)
    page = view_page(setting, title=title, code=programme.code, item=f"programmes/{programme.slug}")
    area, place = area_on(paper, page.area), programme.title.place
    view = PosterView(
        anchor=programme.slug,
        fit=FITS[0],
        rules=poster_rules(area.width),
        title=rich(programme.title),
        goal=rich(programme.goal),
        suits=setting.wording.say("paper.suits", who=programme.suits.text),
        notes=setting.missing(f"programmes/{programme.slug}"),
        steps=view_steps(setting, programme, POSTER),
        safety=join_questions(view_safety(setting, _cautions(setting, programme))),
        code=view_code(setting, (setting.address(setting.page("programmes", programme.slug)),), "paper.code_all"),
        review=review_line(setting, programme.review),
    )
    article = Article(programme.slug, "poster", 1, place, translated=place.file != programme.place.file)
    html = render_document("poster.html", page=replace(page, area=area), poster=view)
    path = wall_path(setting.page("programmes", programme.slug), f"{programme.slug}-{POSTER}", paper)
    return Document(path, html, paper, setting.size, area, (article,), place)


@dataclass(frozen=True, slots=True)
class PocketRow:
    """A row of cards, and the places in it that stay empty."""

    steps: tuple[WallStep, ...]
    empty: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class PocketPage:
    """A page of fronts."""

    anchor: str
    rows: tuple[PocketRow, ...]


@dataclass(frozen=True, slots=True)
class PocketView:
    """The cards of a programme: a page of fronts for each four steps, then a page with four equal backs."""

    anchor: str
    fit: str
    rules: Markup
    title: Markup
    clinic: str
    calls: tuple[str, ...]
    turn: str
    pages: tuple[PocketPage, ...]
    backs: tuple[tuple[int, ...], ...]
    """A number for each back, in rows."""
    safety: SafetyView
    code: CodeView
    stamp: str
    marks: tuple[str, ...]


POCKET_POINTS = (12.0, 11.0, 10.0, 9.0, 8.0)
"""Size of type of a card, by fit: a card has a sixth of the room of a sheet, so a programme with many stop rules is set smaller."""


def pocket_rules(height: float) -> Markup:
    """The style rules of cards whose page has so much room, in millimetres."""
    rules = [f".pocket .card {{ height: {(height - 1) / ROWS:.2f}mm; }}"]
    rules += [f".pocket.{fit} {{ font-size: {points(size, 1.0)}; }}" for fit, size in zip(FITS, POCKET_POINTS, strict=True)]
    return Markup(" ".join(rules))


def _in_groups(items: Sequence[Value], size: int) -> list[Sequence[Value]]:
    """Neighbours together, so many at a time."""
    return [items[at : at + size] for at in range(0, len(items), size)]


def pocket_document(setting: PaperSetting, programme: Programme) -> Document:
    """The cards of a programme: a step on each front, the stop rules on each back, so that any back fits any front."""
    say, title = setting.wording.say, plain_text(programme.title.text)
    page = view_page(setting, title=title, code=programme.code, item=f"programmes/{programme.slug}")
    steps, place = [step for step in view_steps(setting, programme, "") if step.entries], programme.title.place
    rows = [PocketRow(tuple(pair), tuple(range(IN_A_ROW - len(pair)))) for pair in _in_groups(steps, IN_A_ROW)]
    fronts = tuple(PocketPage(f"fronts-{number}", tuple(each)) for number, each in enumerate(_in_groups(rows, ROWS), 1))
    safety = replace(view_safety(setting, _cautions(setting, programme)), pain=rich(setting.library.clinic.pain_rule))  # sheets say the rest
    view = PocketView(
        anchor="backs",
        fit=FITS[0],
        rules=pocket_rules(page.area.height),
        title=rich(programme.title),
        clinic=setting.library.clinic.name,
        calls=locations_of(setting),
        turn=say("paper.turn_over"),
        pages=fronts,
        backs=(tuple(range(IN_A_ROW)),) * ROWS,
        safety=safety.stops,
        code=view_code(setting, (setting.address(setting.page("programmes", programme.slug)),), "paper.code_all"),
        stamp=page.version,
        marks=page.marks,
    )
    translated = place.file != programme.place.file
    articles = tuple(Article(each, "pocket", 1, place, translated=translated) for each in (*(front.anchor for front in fronts), view.anchor))
    html = render_document("pocket.html", page=page, pocket=view)
    path = wall_path(setting.page("programmes", programme.slug), f"{programme.slug}-{POCKET}", setting.paper)
    return Document(path, html, setting.paper, setting.size, page.area, articles, place)

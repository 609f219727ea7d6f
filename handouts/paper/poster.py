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
FRONT, BACK = "pocket-front", "pocket-back"
"""Classes of the two sides of the cards."""


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
class WallRow:
    """Steps of a poster that stand beside one another."""

    look: str
    steps: tuple[WallStep, ...]


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
    rows: tuple[WallRow, ...]
    safety: SafetyView
    code: CodeView
    review: str


def _cautions(setting: PaperSetting, programme: Programme, exercises: Sequence[str]) -> tuple[Ref, ...]:
    """The cautions of a programme with the stop rules of some of its exercises, each once."""
    library = setting.library
    shown = [library.exercise[slug] for slug in exercises if slug in library.exercise]
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


ONE_BELOW_ANOTHER, ACROSS, NARROWEST = 4, 8, 2
"""Steps that have a row each; where there are more, exercises that stand across in a row of steps, and places that a step takes at least."""


def _places(step: WallStep) -> int:
    return max(NARROWEST, len(step.entries))


def row_steps(steps: Sequence[WallStep]) -> tuple[WallRow, ...]:
    """A row for each step; where there are many, neighbours share one, each as wide as its exercises need."""
    if len(steps) <= ONE_BELOW_ANOTHER:
        return tuple(WallRow("alone", (step,)) for step in steps)
    rows = list[list[WallStep]]()
    for step in (replace(each, look=f"share-{_places(each)} of-{len(each.entries)}") for each in steps):
        if rows and sum(map(_places, (*rows[-1], step))) <= ACROSS:
            rows[-1].append(step)
        else:
            rows.append([step])
    return tuple(WallRow("across", tuple(row)) for row in rows)


FIGURES_MM = (42.0, 34.0, 27.0, 21.0, 16.0)
"""Height of a figure on A3, by fit."""
TEXT_POINTS = (17.0, 15.0, 13.5, 12.0, 11.0)
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
        rows=row_steps(view_steps(setting, programme, POSTER)),
        safety=join_questions(view_safety(setting, _cautions(setting, programme, programme.exercise_slugs))),
        code=view_code(setting, (setting.address(setting.page("programmes", programme.slug)),), "paper.code_all"),
        review=review_line(setting, programme.review),
    )
    article = Article(programme.slug, "poster", 1, place, translated=place.file != programme.place.file)
    html = render_document("poster.html", page=replace(page, area=area), poster=view)
    path = wall_path(setting.page("programmes", programme.slug), f"{programme.slug}-{POSTER}", paper)
    return Document(path, html, paper, setting.size, area, (article,), place)


@dataclass(frozen=True, slots=True)
class PocketStep:
    """The two sides of a card: a step, and when to stop in it."""

    step: WallStep
    safety: SafetyView


@dataclass(frozen=True, slots=True)
class PocketPage:
    """Rows of fronts, and of the backs behind them, for a printer that turns the page on its long edge; None is a place without a card."""

    fronts_anchor: str
    fronts: tuple[tuple[PocketStep | None, ...], ...]
    backs_anchor: str
    backs: tuple[tuple[PocketStep | None, ...], ...]


@dataclass(frozen=True, slots=True)
class PocketView:
    """The cards of a programme: for each four steps a page of fronts, then the page of their backs."""

    fit: str
    rules: Markup
    title: Markup
    clinic: str
    calls: tuple[str, ...]
    turn: str
    pages: tuple[PocketPage, ...]
    pain_heading: str
    pain: Markup
    code: CodeView
    stamp: str
    marks: tuple[str, ...]


FRONT_POINTS = (14.0, 12.5, 11.0, 10.0, 9.0)
BACK_POINTS = (12.0, 11.0, 10.5, 9.75, 9.0)
"""Size of type of the two sides of a card, by fit: a card has a sixth of the room of a sheet, so a programme with many stop rules is set smaller."""


def pocket_rules(height: float) -> Markup:
    """The style rules of cards whose page has so much room, in millimetres."""
    rules = [f".pocket .card {{ height: {(height - 1) / ROWS:.2f}mm; }}"]
    for side, sizes in ((FRONT, FRONT_POINTS), (BACK, BACK_POINTS)):
        rules += [f".{side}.{fit} {{ font-size: {points(size, 1.0)}; }}" for fit, size in zip(FITS, sizes, strict=True)]
    return Markup(" ".join(rules))


def _in_groups(items: Sequence[Value], size: int) -> list[Sequence[Value]]:
    """Neighbours together, so many at a time."""
    return [items[at : at + size] for at in range(0, len(items), size)]


def _pocket_pages(cards: Sequence[PocketStep]) -> tuple[PocketPage, ...]:
    """Fronts in rows, and behind each its back: the last of a row is the first on the other side."""
    pages = list[PocketPage]()
    for number, group in enumerate(_in_groups(cards, IN_A_ROW * ROWS), 1):
        fronts = tuple((*row, *(None,) * (IN_A_ROW - len(row))) for row in _in_groups(group, IN_A_ROW))
        pages.append(PocketPage(f"fronts-{number}", fronts, f"backs-{number}", tuple(row[::-1] for row in fronts)))
    return tuple(pages)


def pocket_document(setting: PaperSetting, programme: Programme) -> Document:
    """The cards of a programme: a step on each front, and on its back when to stop in it."""
    say, title, pain = setting.wording.say, plain_text(programme.title.text), rich(setting.library.clinic.pain_rule)  # sheets say more of it
    page = view_page(setting, title=title, code=programme.code, item=f"programmes/{programme.slug}")
    place = programme.title.place
    cards = [
        PocketStep(step, view_safety(setting, _cautions(setting, programme, [ref.slug for ref in tier.exercises])))
        for step, tier in zip(view_steps(setting, programme, ""), programme.tiers, strict=True) if step.entries
    ]  # fmt: skip
    view = PocketView(
        fit=FITS[0],
        rules=pocket_rules(page.area.height),
        title=rich(programme.title),
        clinic=setting.library.clinic.name,
        calls=locations_of(setting),
        turn=say("paper.turn_over"),
        pages=_pocket_pages([replace(card, safety=card.safety.stops) for card in cards]),
        pain_heading=cards[0].safety.pain_heading if cards else "",
        pain=pain,
        code=view_code(setting, (setting.address(setting.page("programmes", programme.slug)),), "paper.code_all"),
        stamp=page.version,
        marks=page.marks,
    )
    translated = place.file != programme.place.file
    sides = [side for each in view.pages for side in ((each.fronts_anchor, FRONT), (each.backs_anchor, BACK))]
    articles = tuple(Article(anchor, f"pocket {side}", 1, place, translated=translated) for anchor, side in sides)
    html = render_document("pocket.html", page=page, pocket=view)
    path = wall_path(setting.page("programmes", programme.slug), f"{programme.slug}-{POCKET}", setting.paper)
    return Document(path, html, setting.paper, setting.size, page.area, articles, place)

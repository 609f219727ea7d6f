"""A class on paper: the page of who leads it, and a card for each station that is read from 2 m."""

from __future__ import annotations

from dataclasses import dataclass, replace

from markupsafe import Markup

from handouts.dose.class_time import COOL_DOWN, WARM_UP, class_seconds
from handouts.model import ClassPart, ClassPlan, ClassStation, Ref
from handouts.paper.articles import FITS, Article, Document
from handouts.paper.booklet import small_figure
from handouts.paper.context import PaperSetting
from handouts.paper.frame import render_document, view_page
from handouts.paper.geometry import LARGE
from handouts.paper.large_paper import ANGLE_MINUTES, READ_FROM_MM, area_on, points, type_to_read
from handouts.paper.sheet import join_questions, review_line, view_code, view_safety, view_ways
from handouts.paper.views import CodeView, PairView, SafetyView
from handouts.publication.class_plans import (
    begin_times,
    find_levels,
    first_mistakes,
    name_station,
    say_class_facts,
    say_clock,
    say_part,
)
from handouts.publication.rich_text import rich, rich_all
from handouts.site.paths import pdf_path, wall_path
from handouts.text.markup import plain_text

STATIONS = "stations"
"""End of the name of the PDF with the cards of a class."""


@dataclass(frozen=True, slots=True)
class TimeRow:
    """When a part of the class begins, and what it is."""

    begins: str
    what: str
    do: tuple[Markup, ...]


@dataclass(frozen=True, slots=True)
class StationRow:
    """A station on the page of who leads: its levels with their numbers, what to watch, what goes wrong, what is easier still."""

    heading: str
    levels: tuple[tuple[str, Markup], ...]
    watch: tuple[Markup, ...]
    faults: tuple[PairView, ...]
    easier: tuple[Markup, ...]


@dataclass(frozen=True, slots=True)
class LeaderHeads:
    """The headings of the page of who leads, in its language."""

    order: str
    regress: str
    easier: str
    stop: str


@dataclass(frozen=True, slots=True)
class LeaderView:
    """Everything on the page of who leads a class."""

    anchor: str
    fit: str
    title: Markup
    suits: str
    needs: str
    facts: tuple[str, ...]
    groups: str
    heads: LeaderHeads
    times: tuple[TimeRow, ...]
    levels: str
    stations: tuple[StationRow, ...]
    regress: Markup
    safety: SafetyView
    code: CodeView
    review: str


def cautions_of_class(setting: PaperSetting, plan: ClassPlan) -> tuple[Ref, ...]:
    """The cautions of a class and of all its exercises, each once."""
    shown = (setting.library.exercise[ref.slug] for station in plan.stations for ref in station.levels)
    return tuple({ref.slug: ref for ref in (*plan.cautions, *(ref for each in shown for ref in each.cautions))}.values())


def _times(setting: PaperSetting, plan: ClassPlan) -> tuple[TimeRow, ...]:
    """The parts of a class with each round in one row, and when all is over."""
    wording, rows, seen = setting.wording, list[TimeRow](), 0
    together: dict[str, ClassPart | None] = {WARM_UP: plan.warm_up, COOL_DOWN: plan.cool_down}
    for at, part in begin_times(plan):
        if part.round and part.round != seen:
            seen = part.round
            rows.append(TimeRow(say_clock(at), wording.say("classes.round_of", n=wording.number(seen), all=wording.number(plan.rounds)), ()))
        elif not part.round:
            own = together[part.kind]
            rows.append(TimeRow(say_clock(at), say_part(wording, part), rich_all(own.do) if own else ()))
    return (*rows, TimeRow(say_clock(class_seconds(plan)), wording.say("classes.over"), ()))


def _station_row(setting: PaperSetting, number: int, station: ClassStation) -> StationRow:
    wording, library = setting.wording, setting.library
    levels = find_levels(library, wording, station)
    lowest = levels[0].exercise
    return StationRow(
        name_station(wording, number),
        tuple((wording.number(rank), rich(level.exercise.title)) for rank, level in enumerate(levels, 1)),
        rich_all(station.watch),
        tuple(PairView(rich(each.see), rich(each.do)) for each in first_mistakes(library, station)),
        tuple(way.text for way in view_ways(setting, lowest) if way.way == "easier"),
    )


def view_leader(setting: PaperSetting, plan: ClassPlan) -> LeaderView:
    """The view of the page of who leads a class."""
    wording, say = setting.wording, setting.wording.say
    things = [setting.term("equipment", ref.slug) for ref in plan.equipment]
    heads = LeaderHeads(say("classes.order"), say("classes.regress"), say("site.easier"), say("paper.when_to_stop"))
    return LeaderView(
        anchor=plan.slug,
        fit=FITS[0],
        title=rich(plan.title),
        suits=say("paper.suits", who=plan.suits.text),
        needs=say("paper.fetch", things=wording.join(things)) if things else "",
        facts=say_class_facts(wording, plan),
        groups=say("classes.groups"),
        heads=heads,
        times=_times(setting, plan),
        levels=say("classes.levels"),
        stations=tuple(_station_row(setting, number, each) for number, each in enumerate(plan.stations)),
        regress=rich(plan.regress_when),
        safety=join_questions(view_safety(setting, cautions_of_class(setting, plan))),
        code=view_code(setting, (setting.address(setting.page("classes", plan.slug)),), "paper.code"),
        review=review_line(setting, plan.review),
    )


def class_document(setting: PaperSetting, plan: ClassPlan) -> Document:
    """The page of who leads a class: order, times, stations on one page, the stop rules on its back; large type takes more pages."""
    page = view_page(setting, title=plain_text(plan.title.text), code=plan.code, item=f"classes/{plan.slug}", rules=True)
    place = plan.title.place
    translated, one = place.file != plan.place.file, 0 if setting.size == LARGE else 1
    articles = (
        Article(plan.slug, "cover leader", one, place, translated=translated),
        Article(f"{plan.slug}--stop", "opening leader", one, place, translated=translated),
    )
    path = pdf_path(setting.page("classes", plan.slug), plan.slug, setting.paper, setting.size)
    html = render_document("class.html", page=page, leader=view_leader(setting, plan))
    return Document(path, html, setting.paper, setting.size, page.area, articles, place)


@dataclass(frozen=True, slots=True)
class CardLevel:
    """A level on the card of a station."""

    number: str
    title: Markup
    figure: Markup
    line: str


@dataclass(frozen=True, slots=True)
class StationCard:
    """The card of a station."""

    anchor: str
    heading: str
    levels: tuple[CardLevel, ...]


@dataclass(frozen=True, slots=True)
class StationCardsView:
    """All cards of a class, and the card with its stop rules."""

    fit: str
    rules: Markup
    """Style rules: sizes that follow from the paper."""
    stations: tuple[StationCard, ...]
    note: str
    anchor: str
    title: Markup
    safety: SafetyView
    code: CodeView
    review: str


def _card(setting: PaperSetting, number: int, station: ClassStation) -> StationCard:
    wording = setting.wording
    levels = find_levels(setting.library, wording, station)
    things = [[setting.term("equipment", ref.slug) for ref in level.exercise.equipment] for level in levels]
    needs = [wording.say("paper.fetch", things=wording.join(each)) if each else "" for each in things]
    return StationCard(
        f"station-{number + 1}",
        name_station(wording, number),
        tuple(
            CardLevel(
                wording.number(rank), rich(level.exercise.title),
                small_figure(setting, level.exercise, f"station-{number + 1}", level.exercise.dose.side), f"{level.halfway} {need}".strip(),
            )
            for rank, (level, need) in enumerate(zip(levels, needs, strict=True), 1)
        ),
    )  # fmt: skip


PICTURES_MM = (64.0, 56.0, 50.0, 42.0, 34.0)
"""Width of a figure on a card on the clinic's own paper, by fit: figures give way before names do."""
NAME_MINUTES = (ANGLE_MINUTES, ANGLE_MINUTES, ANGLE_MINUTES, 18.0, 16.0)
"""How large the names of exercises are seen from 2 m, by fit: long names on three levels keep at least what ISO 9241-303 calls the least."""
STOP_POINTS = (22.0, 20.0, 18.0, 16.0, 14.0)
"""Size of type of the stop rules on their card, by fit."""


def card_rules(scale: float) -> Markup:
    """The style rules of station cards on paper that is so much wider than the clinic's own."""
    rules = [f".station > h2 {{ font-size: {1.3 * type_to_read(READ_FROM_MM) * scale:.2f}mm; }}"]
    rules += [f".station .line, .station .note, .station h1, .station .plan-title {{ font-size: {points(18, scale)}; }}"]
    for fit, width, minutes, size in zip(FITS, PICTURES_MM, NAME_MINUTES, STOP_POINTS, strict=True):
        wide = width * scale
        rules.append(f".station.{fit} h3 {{ font-size: {type_to_read(READ_FROM_MM, minutes) * scale:.2f}mm; }}")
        rules.append(f".station.{fit} .small-figure {{ width: {wide:.1f}mm; height: {0.75 * wide:.1f}mm; }}")
        rules.append(f".station.{fit} .words {{ margin-inline-start: {wide + 5 * scale:.1f}mm; min-height: {0.75 * wide:.1f}mm; }}")
        rules.append(f".station.{fit} .safety, .station.{fit} .pain, .station.{fit} .defer {{ font-size: {points(size, scale)}; }}")
    return Markup(" ".join(rules))


def stations_document(setting: PaperSetting, plan: ClassPlan, paper: str) -> Document:
    """The cards of a class, one a page and the last with the stop rules, on the paper of the setting or a larger one."""
    page = view_page(setting, title=plain_text(plan.title.text), code=plan.code, item=f"classes/{plan.slug}", rules=True)
    area = area_on(paper, page.area)
    place, anchor = plan.title.place, f"{plan.slug}--stop"
    view = StationCardsView(
        fit=FITS[0],
        rules=card_rules(area.width / page.area.width),
        stations=tuple(_card(setting, number, each) for number, each in enumerate(plan.stations)),
        note=setting.wording.say("classes.levels"),
        anchor=anchor,
        title=rich(plan.title),
        safety=view_safety(setting, cautions_of_class(setting, plan)).stops,
        code=view_code(setting, (setting.address(setting.page("classes", plan.slug)),), "paper.code"),
        review=review_line(setting, plan.review),
    )
    translated = place.file != plan.place.file
    articles = tuple(Article(each, "station", 1, place, translated=translated) for each in (*(card.anchor for card in view.stations), anchor))
    html = render_document("stations.html", page=replace(page, area=area), cards=view)
    path = wall_path(setting.page("classes", plan.slug), f"{plan.slug}-{STATIONS}", paper)
    return Document(path, html, paper, setting.size, area, articles, place)

"""The view of the page of a class: its plan, and what its timer runs through."""

from __future__ import annotations

import json
from dataclasses import dataclass, replace

from markupsafe import Markup

from handouts.dose.class_time import COOL_DOWN, WARM_UP, WORK, TimedPart, class_parts
from handouts.dose.phrase import time_phrase
from handouts.model import ClassPart, ClassPlan, ClassStation
from handouts.publication.class_plans import (
    find_levels,
    first_mistakes,
    has_sides,
    name_station,
    say_class_facts,
    say_part,
)
from handouts.publication.rich_text import begin, rich, rich_all
from handouts.site.context import LanguageSite
from handouts.site.page_frame import WORKER_POLICY, PageFrame, make_frame
from handouts.site.parts import (
    Cautions,
    FaultView,
    Prints,
    join_facts,
    make_cautions,
    make_prints,
    make_wall_prints,
    name_equipment,
    review_line,
    term_names,
    view_fault,
)
from handouts.site.paths import item_page, relative


@dataclass(frozen=True, slots=True)
class LevelView:
    """A level of a station."""

    label: str
    href: str
    title: Markup
    picture: str
    facts: str
    halfway: str


@dataclass(frozen=True, slots=True)
class StationView:
    """A station; ``anchor`` is what the timer shows of it."""

    anchor: str
    heading: str
    levels: tuple[LevelView, ...]
    watch: tuple[Markup, ...]
    faults: tuple[FaultView, ...]


@dataclass(frozen=True, slots=True)
class TogetherView:
    """What all do together."""

    anchor: str
    heading: str
    do: tuple[Markup, ...]


@dataclass(frozen=True, slots=True)
class ClassPage:
    """Everything on the page of a class."""

    frame: PageFrame
    style: str
    title: Markup
    suits: Markup
    facts: tuple[str, ...]
    needs: str
    warm_up: tuple[TogetherView, ...]
    stations: tuple[StationView, ...]
    cool_down: tuple[TogetherView, ...]
    regress: Markup
    timer: str
    """As JSON: the parts in order, with all that the timer says."""
    cautions: Cautions
    prints: tuple[Prints, ...]
    review: str
    code: str
    sources: tuple[str, ...]
    sources_language: str


def make_class_page(setting: LanguageSite, slug: str) -> ClassPage:
    """The view of a class."""
    library, wording = setting.library, setting.wording
    plan, page = library.class_plan[slug], item_page(setting.language, "classes", slug)
    shown = [library.exercise[ref.slug] for station in plan.stations for ref in station.levels]
    refs = dict.fromkeys(ref.slug for ref in (*plan.cautions, *(ref for each in shown for ref in each.cautions)))
    frame = make_frame(
        setting, page, plan.title.text, plan.suits.text, item=f"classes/{slug}", stop="#stop", scripts=(setting.assets.scripts["class_timer"],)
    )
    things = name_equipment(setting, plan.equipment)
    return ClassPage(
        frame=replace(frame, policy=WORKER_POLICY),
        style=relative(page, setting.assets.class_style),
        title=rich(plan.title),
        suits=rich(plan.suits),
        facts=say_class_facts(wording, plan),
        needs=begin(things),
        warm_up=_together(setting, plan.warm_up, WARM_UP),
        stations=tuple(_station(setting, page, number, each) for number, each in enumerate(plan.stations)),
        cool_down=_together(setting, plan.cool_down, COOL_DOWN),
        regress=rich(plan.regress_when),
        timer=json.dumps(_timer(setting, plan), ensure_ascii=False, separators=(",", ":")),
        cautions=make_cautions(setting, (library.caution[each] for each in refs)),
        prints=(
            *make_prints(setting, page, slug, wording.say("classes.leader")),
            *make_wall_prints(setting, page, f"{slug}-stations", wording.say("classes.cards")),
        ),
        review=review_line(setting, plan.review, f"classes/{slug}"),
        code=wording.say("site.code", code=plan.code),
        sources=plan.sources,
        sources_language=setting.source.language,
    )


def _together(setting: LanguageSite, part: ClassPart | None, kind: str) -> tuple[TogetherView, ...]:
    if part is None:
        return ()
    name = say_part(setting.wording, TimedPart(kind, part.seconds))
    heading = setting.wording.say("classes.part", name=name, time=time_phrase(part.seconds, setting.wording))
    return (TogetherView(kind, heading, rich_all(part.do)),)


def _anchor(number: int) -> str:
    return f"station-{number + 1}"


def _station(setting: LanguageSite, page: str, number: int, station: ClassStation) -> StationView:
    levels = tuple(
        LevelView(
            label=level.label,
            href=relative(page, item_page(setting.language, "exercises", level.exercise.slug)),
            title=rich(level.exercise.title),
            picture=relative(page, setting.panels[level.exercise.slug]),
            facts=join_facts(setting, term_names(setting, "equipment", level.exercise.equipment)),
            halfway=level.halfway,
        )
        for level in find_levels(setting.library, setting.wording, station)
    )
    faults = tuple(map(view_fault, first_mistakes(setting.library, station)))
    return StationView(_anchor(number), name_station(setting.wording, number), levels, rich_all(station.watch), faults)


def _timer(setting: LanguageSite, plan: ClassPlan) -> list[dict[str, object]]:
    """For each part: kind, seconds, what is said, in which round, what is shown, what comes next, and whether sides change halfway."""
    wording, parts = setting.wording, class_parts(plan)
    said = [say_part(wording, part) for part in parts]
    known = setting.library.exercise
    turns = [any(has_sides(known[ref.slug]) for ref in station.levels) for station in plan.stations]
    return [
        {
            "kind": part.kind,
            "seconds": part.seconds,
            "says": words,
            "round": wording.say("classes.round_of", n=wording.number(part.round), all=wording.number(plan.rounds)) if part.round else "",
            "shows": part.kind if part.station < 0 else _anchor(part.station),
            "next": wording.say("classes.next", what=following),
            "turn": part.kind == WORK and turns[part.station],
        }
        for part, words, following in zip(parts, said, (*said[1:], wording.say("classes.over")), strict=True)
    ]

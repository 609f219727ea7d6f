"""Booklets: a whole programme, one step of it, or a bundle, each with its cover and one exercise a page.

The stop rules of all its exercises stand in a booklet once, before the first of them; every other page names that page.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from types import MappingProxyType

from markupsafe import Markup

from handouts.bundle.chart import say_later_minutes
from handouts.bundle.code import group_code
from handouts.dose.parts import STRAIGHT, SessionOrder, order_of, say_parts
from handouts.dose.phrase import about_minutes, dose_line, dose_names, frequency_line, join_parts
from handouts.dose.session import SessionTotals, add_up_session
from handouts.dose.substitutes import given_pick
from handouts.model import Bundle, CautionKind, Dose, DoseStage, Exercise, Programme, Ref, Side
from handouts.paper.articles import FITS
from handouts.paper.context import PaperSetting
from handouts.paper.geometry import LARGE
from handouts.paper.sheet import (
    part_of_bundle,
    part_of_programme,
    review_line,
    view_code,
    view_exercise,
    view_safety,
)
from handouts.paper.ticks import tick_exercises, tick_program
from handouts.paper.views import (
    BookletView,
    CodeView,
    ContentsLine,
    CoverStep,
    EntryView,
    GroupView,
    SafetyView,
    TicksView,
)
from handouts.publication.rich_text import rich
from handouts.publication.steps import (
    cautions_of_bundle,
    name_step,
    name_step_in,
    programme_of,
    rank_of_tier,
)
from handouts.publication.views import BlockView, ConditionView, SectionView, view_conditions, view_sections
from handouts.text.markup import plain_text

_ID = re.compile(r'\bid="([^"]+)"')
TOGETHER = 700
"""Letters of stop rules and of what to ask first that share a page in large type with the rule about pain; it holds about twice as many."""
Picks = Sequence[tuple[Exercise, Dose]]
"""Exercises in the order in which they are done, each with its dose."""


def view_programme(setting: PaperSetting, programme: Programme) -> BookletView:
    """The booklet of a whole programme: the stair on its cover, then step by step."""
    say, wording = setting.wording.say, setting.wording
    numbers = {slug: number for number, slug in enumerate(programme.exercise_slugs, 1)}
    picks = picks_of(setting, (ref for tier in programme.tiers for ref in tier.exercises))
    groups = tuple(
        _view_tier(setting, programme, rank, opening=True)
        for rank, tier in enumerate(programme.tiers)
        if tier.exercises
    )
    safety = view_safety(setting, _with_stop_rules(setting, programme.cautions, picks))
    return BookletView(
        fit=FITS[0],
        title=rich(programme.title),
        purpose=rich(programme.goal),
        suits=say("paper.suits", who=programme.suits.text),
        notes=(wording.count("paper.weeks", programme.weeks), *setting.missing(f"programmes/{programme.slug}")),
        stair=tuple(_view_step(setting, programme, rank, numbers) for rank in range(len(programme.tiers))),
        stair_heading=say("paper.your_steps"),
        sections=view_sections(programme.sections),
        hints=_view_hints(setting, programme),
        contents_heading=say("paper.contents"),
        contents=(
            ContentsLine("#rules", say("paper.when_to_stop"), "tier"),
            *(line for group in groups for line in _view_contents(group)),
            ContentsLine("#weeks", say("paper.your_weeks"), "tier"),
        ),
        rules_heading=say("paper.when_to_stop"),
        safety=safety,
        code=view_code(setting, (setting.address(setting.page("programmes", programme.slug)),), "paper.code_all"),
        review=review_line(setting, programme.review),
        groups=groups,
        rules_apart=setting.size == LARGE and bool(safety.stops.groups) and _letters(safety) > TOGETHER,
        weeks=(tick_program([dose for _, dose in picks], programme.weeks, wording),),
    )


def _letters(safety: SafetyView) -> int:
    """Letters of all cautions."""
    return sum(len(row.see.striptags()) + len(row.do.striptags()) for group in safety.groups for row in group.rows)


def view_tier(setting: PaperSetting, programme: Programme, rank: int) -> BookletView:
    """The booklet of one step, by its place in the programme, counted from 0."""
    group = _view_tier(setting, programme, rank, opening=False)
    picks = picks_of(setting, programme.tiers[rank].exercises)
    return _view_group_booklet(
        setting, group, picks, setting.missing(f"programmes/{programme.slug}", programme.tiers[rank].tier.slug),
        title=rich(programme.title), purpose=rich(programme.goal), suits="",
        hints=_view_hints(setting, programme), cautions=_with_stop_rules(setting, programme.cautions, picks),
        code=view_code(setting, (setting.address(setting.page("programmes", programme.slug)),), "paper.code_all"),
        review=review_line(setting, programme.review),
    )


def view_bundle(setting: PaperSetting, bundle: Bundle, address: tuple[str, ...], code: str, lost: str = "") -> BookletView:
    """The booklet of a bundle; ``address`` is what its QR code opens, in one part or more; ``code`` its bundle code.

    ``lost``: what is not there of what it was begun from, as in ``handouts.bundle.origins``.
    """
    picks = tuple(
        given_pick(exercise, pick, setting.library)
        for pick in bundle.picks
        if (exercise := setting.library.exercise.get(pick.exercise.slug))
    )
    say, programme = setting.wording.say, programme_of(setting.library, bundle)
    heading, conditions = place_in_programme(setting, bundle)
    group = GroupView(
        anchor="all", fit=FITS[0], opening=False, heading=heading, means=Markup(""), conditions=conditions,
        entries=view_entries(setting, picks), list_heading=say("paper.in_order"),
        ticks=_view_ticks(setting, picks, bundle.weeks, stages_of(bundle)),
        exercises=tuple(
            view_exercise(setting, exercise, dose, part=part_of_bundle(setting, bundle, exercise), stops=False)
            for exercise, dose in picks
        ),
    )
    whole = cautions_of_bundle(setting.library, bundle)
    booklet = _view_group_booklet(
        setting, group, picks, setting.missing(f"bundles/{bundle.slug}"), title=rich(bundle.title), purpose=Markup(""),
        suits=say("paper.suits", who=bundle.suits.text) if bundle.suits.text else "",
        hints=_view_hints(setting, programme) if programme else (),
        cautions=_with_stop_rules(setting, whole, picks),
        code=view_code(setting, address, "paper.code_all"), review=review_line(setting, bundle.review),
    )
    order = order_of(bundle.picks, bundle.round_rest_seconds)
    session = session_notes(setting, picks, stages_of(bundle), order)
    notes = (*say_cue(setting, bundle), *session, *say_given(setting, bundle), *setting.missing(f"bundles/{bundle.slug}"))
    goal, gone = say("paper.goal") if bundle.is_plan else "", say(f"steps.lost_{lost}") if lost else ""
    return replace(booklet, notes=notes, goal=goal, typed_label=say("paper.typed") if code else "", typed=group_code(code), lost=gone)


def place_in_programme(setting: PaperSetting, bundle: Bundle) -> tuple[str, tuple[ConditionView, ...]]:
    """The name of a bundle's programme with its step, and that step's conditions; empty where it has none."""
    programme = programme_of(setting.library, bundle)
    if programme is None:
        return "", ()
    name = plain_text(programme.title.text)
    rank = rank_of_tier(programme, bundle.tier.slug) if bundle.tier else None
    if rank is None:
        return name, ()
    return name_step_in(setting.wording, setting.library, programme, rank, name), view_conditions(setting.wording, programme, rank)


def _view_group_booklet(
    setting: PaperSetting, group: GroupView, picks: Picks, missing: tuple[str, ...], *, title: Markup, purpose: Markup, suits: str,
    hints: tuple[SectionView, ...], cautions: Iterable[Ref], code: CodeView, review: str,
) -> BookletView:
    """A booklet with one group of exercises, whose list and boxes stand on the cover, and what is ``missing``."""
    return BookletView(
        fit=FITS[0], title=title, purpose=purpose, suits=suits, notes=(*session_notes(setting, picks), *missing),
        stair=(), stair_heading="",
        sections=(), hints=hints, contents_heading="", contents=(),
        rules_heading=setting.wording.say("paper.when_to_stop"), safety=view_safety(setting, cautions), code=code, review=review, groups=(group,),
    )


def _with_stop_rules(setting: PaperSetting, whole: Iterable[Ref], picks: Picks) -> tuple[Ref, ...]:
    """Cautions of the whole with the stop rules of its exercises, each once; what else goes for an exercise stands on its own page."""
    caution = setting.library.caution
    stops = (ref for exercise, _ in picks for ref in exercise.cautions if caution[ref.slug].kind is CautionKind.STOP)
    return tuple({ref.slug: ref for ref in (*whole, *stops)}.values())


def _weeks_of_tier(programme: Programme) -> int:
    """Weeks for which the pages of a step have boxes: an equal share of the programme, at least 2."""
    return max(2, -(-programme.weeks // max(1, len(programme.tiers))))


def picks_of(setting: PaperSetting, refs: Iterable[Ref]) -> Picks:
    """The exercises that are published of those named, each in its own dose."""
    return tuple((exercise, exercise.dose) for ref in refs if (exercise := setting.library.exercise.get(ref.slug)))


def _view_tier(setting: PaperSetting, programme: Programme, rank: int, *, opening: bool) -> GroupView:
    """The pages of one step."""
    say, tier = setting.wording.say, programme.tiers[rank]
    picks = picks_of(setting, tier.exercises)
    return GroupView(
        anchor=f"tier-{tier.tier.slug}",
        fit=FITS[0],
        opening=opening,
        heading=name_step(setting.wording, setting.library, programme, rank),
        means=rich(setting.library.tier[tier.tier.slug].means),
        conditions=view_conditions(setting.wording, programme, rank),
        entries=view_entries(setting, picks),
        list_heading=say("paper.in_order"),
        ticks=() if opening else _view_ticks(setting, picks, _weeks_of_tier(programme)),
        exercises=tuple(
            view_exercise(setting, exercise, dose, part=part_of_programme(setting, programme, exercise), stops=False)
            for exercise, dose in picks
        ),
    )


def _view_hints(setting: PaperSetting, programme: Programme) -> tuple[SectionView, ...]:
    """What to do through the day; what to think of in each exercise stands on the exercises' own pages."""
    if not programme.through_the_day:
        return ()
    items = tuple(map(rich, programme.through_the_day))
    return (SectionView(Markup.escape(setting.wording.say("steps.all_day")), (BlockView("bullets", items),)),)


def _view_step(setting: PaperSetting, programme: Programme, rank: int, numbers: dict[str, int]) -> CoverStep:
    """A step on the stair: its exercises with what each builds on, by number; in large type only their names; conditions stand at the step."""
    wording, tier = setting.wording, programme.tiers[rank]
    entries = []
    for exercise, _ in picks_of(setting, tier.exercises):
        earlier = sorted(numbers[slug] for slug in setting.progression.needs[exercise.slug] if slug in numbers)
        before = [wording.number(number) for number in earlier]
        line = wording.say("paper.after", numbers=wording.join(before)) if before and setting.size != LARGE else ""
        entries.append(EntryView(
            exercise.slug, wording.number(numbers[exercise.slug]), rich(exercise.title), line,
            small_figure(setting, exercise, "stair"),
        ))
    look = f"step-{rank} row-{len(programme.tiers) - rank} of-{min(5, len(entries))}"
    conditions = () if setting.size == LARGE else view_conditions(setting.wording, programme, rank)
    return CoverStep(look, name_step(wording, setting.library, programme, rank), conditions, tuple(entries))


def small_figure(setting: PaperSetting, exercise: Exercise, use: str, side: Side = Side.TOGETHER) -> Markup:
    """The figure once more in the same document: its ids get an ending of their own."""
    svg = str(setting.figures.figure_svg(exercise, setting.language, side))
    for name in dict.fromkeys(_ID.findall(svg)):
        svg = re.sub(rf'(["#( ]){re.escape(name)}(?=[")\s ])', rf"\g<1>{name}-{use}", svg)
    return Markup(svg)


def view_entries(setting: PaperSetting, picks: Picks) -> tuple[EntryView, ...]:
    """A list of exercises with their doses."""
    wording = setting.wording
    return tuple(
        EntryView(
            exercise.slug,
            wording.number(number),
            rich(exercise.title),
            dose_in_a_line(setting, dose),
            small_figure(setting, exercise, "list", dose.side),
        )
        for number, (exercise, dose) in enumerate(picks, 1)
    )


def dose_in_a_line(setting: PaperSetting, dose: Dose) -> str:
    """A dose with how often it is done, in one line."""
    names = dose_names(dose, setting.library)
    return join_parts((dose_line(dose, setting.wording, names), frequency_line(dose, setting.wording, names)), setting.wording)


def _view_ticks(
    setting: PaperSetting, picks: Picks, weeks: int, stages: Mapping[str, tuple[DoseStage, ...]] = MappingProxyType({})
) -> tuple[TicksView, ...]:
    names = tuple((plain_text(exercise.title.text), dose) for exercise, dose in picks)
    return tick_exercises(names, weeks, setting.wording, setting.size, [stages.get(exercise.slug, ()) for exercise, _ in picks])


def session_notes(
    setting: PaperSetting, picks: Picks, stages: Mapping[str, tuple[DoseStage, ...]] = MappingProxyType({}), order: SessionOrder = STRAIGHT
) -> tuple[str, ...]:
    """How long one session takes, in each stage by week, its parts, and what to fetch first; ``stages`` by slug."""
    wording, totals = setting.wording, add_up_session(picks, setting.library.clinic.session, order)
    things = [setting.term("equipment", slug) for slug in totals.equipment]
    return tuple(
        line
        for line in (
            "" if totals.unknown or not totals.is_known else wording.say("paper.session", minutes=about_minutes(totals.seconds, wording)),
            _say_through_day(totals, setting),
            *(() if totals.unknown else say_later_minutes(picks, stages, setting.library.clinic.session, wording, order)),
            *say_parts(picks, order, stages, wording),
            wording.say("paper.fetch", things=wording.join(things)) if things else "",
        )
        if line
    )


def _say_through_day(totals: SessionTotals, setting: PaperSetting) -> str:
    """What is done by occasion, and in no session; empty where there is nothing."""
    names = [plain_text(setting.library.exercise[slug].title.text) for slug in totals.by_occasion]
    return setting.wording.say("paper.through_day", exercises=setting.wording.join(names)) if names else ""


def say_cue(setting: PaperSetting, bundle: Bundle) -> tuple[str, ...]:
    """What the session hangs on, as a sentence, where that was chosen and is known."""
    known = {cue.slug: cue.name.text for cue in setting.library.clinic.session_cues}
    name = known.get(bundle.cue.slug) if bundle.cue else None
    return (setting.wording.say("dose.session_cue", cue=name),) if name else ()


def say_given(setting: PaperSetting, bundle: Bundle) -> tuple[str, ...]:
    """Which leaflets and tests are handed over with it, as a sentence."""
    library = setting.library
    known = (({item.slug: item for item in items}, refs) for items, refs in ((library.leaflets, bundle.leaflets), (library.tests, bundle.tests)))
    titles = [plain_text(items[ref.slug].title.text) for items, refs in known for ref in refs if ref.slug in items]
    return (setting.wording.say("paper.given", things=setting.wording.join(titles)),) if titles else ()


def stages_of(bundle: Bundle) -> dict[str, tuple[DoseStage, ...]]:
    """How the doses of a bundle go on, by slug."""
    return {pick.exercise.slug: pick.stages for pick in bundle.picks}


def _view_contents(group: GroupView) -> tuple[ContentsLine, ...]:
    """The lines of a group in the table of contents."""
    return (
        ContentsLine(f"#{group.anchor}", group.heading, "tier"),
        *(ContentsLine(f"#{page.anchor}", plain_text(str(page.title.striptags())), "") for page in group.exercises),
    )

"""The view of a ready-made bundle's page: what it is for, its exercises with their doses, its cautions, its prints."""

from __future__ import annotations

from dataclasses import dataclass, replace

from markupsafe import Markup

from handouts.dose.parts import order_of, say_part_at, say_parts
from handouts.dose.phrase import about_minutes, dose_names, stage_lines
from handouts.dose.session import add_up_session
from handouts.dose.substitutes import given_pick, say_substitutes
from handouts.model import Bundle, Dose, Exercise, Library, Pick, Programme
from handouts.publication.rich_text import begin, rich
from handouts.publication.steps import cautions_of_bundle, name_step_in, programme_of, rank_of_tier
from handouts.publication.views import ConditionView, view_conditions
from handouts.site.context import LanguageSite
from handouts.site.page_frame import Link, PageFrame, make_frame
from handouts.site.parts import (
    Cautions,
    ExerciseRow,
    HintsView,
    Prints,
    make_cautions,
    make_pick,
    make_prints,
    make_row,
    name_equipment,
    review_line,
    view_hints,
)
from handouts.site.paths import full_name, item_page, relative
from handouts.text.markup import plain_text


@dataclass(frozen=True, slots=True)
class BundlePage:
    """A ready-made bundle."""

    frame: PageFrame
    title: Markup
    suits: Markup
    facts: tuple[str, ...]
    step: tuple[Link, ...]
    """Its programme, with the step that it is for; empty where it names none."""
    conditions: tuple[ConditionView, ...]
    hints: tuple[HintsView, ...]
    rows: tuple[ExerciseRow, ...]
    given: tuple[Link, ...]
    """The leaflets and tests that go with it."""
    missing: str
    cautions: Cautions
    prints: tuple[Prints, ...]
    pick: tuple[Link, ...]
    review: str


def bundle_facts(setting: LanguageSite, bundle: Bundle) -> tuple[str, ...]:
    """How many exercises, minutes in a session, weeks."""
    wording, library = setting.wording, setting.library
    picks = _picks(bundle, library)
    totals = add_up_session(picks, library.clinic.session, order_of(bundle.picks, bundle.round_rest_seconds))
    minutes = () if totals.unknown or not totals.is_known else (about_minutes(totals.seconds, wording),)
    return (wording.count("site.exercises", len(picks)), *minutes, wording.count("site.weeks", bundle.weeks))


def make_bundle_page(setting: LanguageSite, slug: str) -> BundlePage:
    """The view of a ready-made bundle."""
    library, wording = setting.library, setting.wording
    bundle = library.bundle[slug]
    page = item_page(setting.language, "bundles", bundle.slug)
    picks = _picks(bundle, library)
    whole = cautions_of_bundle(library, bundle)
    refs = dict.fromkeys(ref.slug for ref in (*whole, *(ref for exercise, _ in picks for ref in exercise.cautions)))
    programme = programme_of(library, bundle)
    rank = rank_of_tier(programme, bundle.tier.slug) if programme and bundle.tier else None
    equipment = {ref.slug: ref for exercise, _ in picks for ref in exercise.equipment}
    needs = name_equipment(setting, equipment.values())
    return BundlePage(
        frame=make_frame(
            setting, page, bundle.title.text, bundle.suits.text, item=f"bundles/{bundle.slug}", stop="#stop"
        ),
        title=rich(bundle.title),
        suits=rich(bundle.suits),
        facts=(
            *(begin(fact) for fact in bundle_facts(setting, bundle)),
            wording.say("site.fetch_first", things=needs),
            *say_parts(picks, order_of(bundle.picks, bundle.round_rest_seconds), {pick.exercise.slug: pick.stages for pick in bundle.picks}, wording),
        ),
        step=(_step(setting, page, programme, rank),) if programme else (),
        conditions=view_conditions(setting.wording, programme, rank) if programme and rank is not None else (),
        hints=view_hints(setting, programme) if programme else (),
        rows=tuple(_view_row(setting, page, pick) for pick in bundle.picks),
        given=tuple(
            Link(relative(page, item_page(setting.language, kind, item.slug)), plain_text(item.title.text))
            for kind, known, refs in (("leaflets", library.leaflets, bundle.leaflets), ("tests", library.tests, bundle.tests))
            for item in known
            if item.slug in {ref.slug for ref in refs}
        ),
        missing=setting.missing_line(f"bundles/{bundle.slug}"),
        cautions=make_cautions(setting, (library.caution[slug] for slug in refs)),
        prints=make_prints(setting, page, bundle.slug, wording.say("site.print_bundle"), full_name(bundle.slug)),
        pick=make_pick(
            setting, page, "start=" + ",".join(each.code for each, _ in picks), wording.say("site.pick_all")
        ),
        review=review_line(setting, bundle.review, f"bundles/{bundle.slug}"),
    )


def _picks(bundle: Bundle, library: Library) -> list[tuple[Exercise, Dose]]:
    return [given_pick(library.exercise[pick.exercise.slug], pick, library) for pick in bundle.picks]


def _view_row(setting: LanguageSite, page: str, pick: Pick) -> ExerciseRow:
    """An exercise with its dose, what is taken in place of things, and how the dose goes on over the weeks."""
    library = setting.library
    exercise, dose = given_pick(library.exercise[pick.exercise.slug], pick, library)
    row = make_row(setting, page, exercise, dose=dose)
    stages = stage_lines(dose, pick.stages, library.clinic.sessions_easy, setting.wording, dose_names(dose, library))
    return replace(row, stages=(*say_part_at(pick, setting.wording), *say_substitutes(pick, dose, library, setting.wording), *stages))


def _step(setting: LanguageSite, page: str, programme: Programme, rank: int | None) -> Link:
    """The link to a bundle's programme, with the step that the bundle is for."""
    href, title = relative(page, item_page(setting.language, "programmes", programme.slug)), programme.title.text
    return Link(href, title if rank is None else name_step_in(setting.wording, setting.library, programme, rank, title))

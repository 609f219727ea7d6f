"""The views of the pages that list things: home, exercises, programmes, ready-made bundles."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from markupsafe import Markup

from handouts.model import Exercise, Term
from handouts.publication.rich_text import begin, rich
from handouts.publication.steps import find_steps, name_step_alone, rank_of
from handouts.site.bundle_page import bundle_facts
from handouts.site.context import LanguageSite
from handouts.site.page_frame import WORKER_POLICY, PageFrame, make_frame
from handouts.site.parts import ExerciseRow, join_facts, make_row
from handouts.site.paths import home_page, item_page, list_page, relative

NO_EQUIPMENT = "-none"
"""Value of the equipment filter for exercises that need nothing; no slug begins with a hyphen."""
PICTURES = 4
"""Small figures shown beside a programme: one from each of its first tiers."""


@dataclass(frozen=True, slots=True)
class FilterChoice:
    """One entry of a filter."""

    value: str
    text: str


@dataclass(frozen=True, slots=True)
class Filter:
    """A filter over the list: its name in the address, its label, its choices."""

    name: str
    label: str
    choices: tuple[FilterChoice, ...]


@dataclass(frozen=True, slots=True)
class ListedExercise:
    """A row of the list with what the filters look at: words joined by spaces, by the filter's name."""

    row: ExerciseRow
    code: str
    step: str
    region: str
    position: str
    equipment: str
    purpose: str
    programme: str


@dataclass(frozen=True, slots=True)
class RegionGroup:
    """Exercises of one region."""

    anchor: str
    name: str
    rows: tuple[ListedExercise, ...]


@dataclass(frozen=True, slots=True)
class ExercisesPage:
    """The list of all exercises."""

    frame: PageFrame
    title: str
    lead: str
    filters: tuple[Filter, ...]
    any: str
    pattern: str
    """Has ``{shown}`` and ``{all}``, filled by the script."""
    close_pattern: str
    """Has ``{shown}``; where only close matches are shown."""
    choice_pattern: str
    """Has ``{choice}`` and ``{n}``: an entry of a filter with its count."""
    unknown_pattern: str
    """Has ``{word}``, which nothing has."""
    similar_pattern: str
    """Has ``{word}``, for which words like it were taken."""
    without_pattern: str
    """Has ``{what}``, a word or an entry of a filter, and ``{n}``."""
    several: tuple[ListedPlan, ...]
    """Programmes, ready-made bundles, then what holds no exercise, in the order of the search index."""
    groups: tuple[RegionGroup, ...]


@dataclass(frozen=True, slots=True)
class ListedPlan:
    """A programme or a bundle in a list."""

    href: str
    title: Markup
    text: Markup
    facts: str
    pictures: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class EntriesPage:
    """A list of programmes or of bundles."""

    frame: PageFrame
    title: str
    lead: str
    entries: tuple[ListedPlan, ...]


@dataclass(frozen=True, slots=True)
class Listed:
    """A list under its heading."""

    heading: str
    entries: tuple[ListedPlan, ...]


@dataclass(frozen=True, slots=True)
class HomePage:
    """The first page of a language."""

    frame: PageFrame
    title: str
    about: Markup
    exercises: str
    exercises_text: str
    programmes: tuple[ListedPlan, ...]
    bundles: tuple[ListedPlan, ...]
    others: tuple[Listed, ...]


def order_exercises(setting: LanguageSite) -> tuple[tuple[Term, tuple[Exercise, ...]], ...]:
    """The exercises by their first region in the clinic's order, in each by tier, then by title."""
    rank, library = setting.library.tier_rank, setting.library
    groups = []
    for region in library.vocabulary.regions:
        inside = [exercise for exercise in library.exercises if exercise.regions[0].slug == region.slug]
        if inside:
            inside.sort(key=lambda exercise: (rank[exercise.tier.slug], exercise.title.text.casefold()))
            groups.append((region, tuple(inside)))
    return tuple(groups)


def make_exercises_page(setting: LanguageSite) -> ExercisesPage:
    """The view of the list of all exercises."""
    say, page = setting.wording.say, list_page(setting.language, "exercises")
    groups = order_exercises(setting)
    scripts = (setting.search_index, setting.assets.scripts["exercises"])
    frame = make_frame(setting, page, say("site.nav_exercises"), say("site.exercises_lead"), scripts=scripts)
    return ExercisesPage(
        frame=replace(frame, policy=WORKER_POLICY),
        title=say("site.nav_exercises"),
        lead=say("site.exercises_lead"),
        filters=_filters(setting),
        any=say("site.any"),
        pattern=say("site.shown", shown="{shown}", all="{all}"),
        close_pattern=say("site.shown_close", shown="{shown}"),
        choice_pattern=say("site.choice_count", choice="{choice}", n="{n}"),
        unknown_pattern=say("site.word_unknown", word="{word}"),
        similar_pattern=say("site.word_similar", word="{word}"),
        without_pattern=say("site.leave_out", what="{what}", n="{n}"),
        several=(
            *programme_entries(setting, page),
            *bundle_entries(setting, page),
            *(
                replace(entry, facts=say(f"site.nav_{folder}"))
                for folder in setting.library.standalones
                for entry in standalone_entries(setting, page, folder)
            ),
        ),
        groups=tuple(
            RegionGroup(
                f"region-{region.slug}", begin(region.name.text), tuple(_listed(setting, page, each) for each in inside)
            )
            for region, inside in groups
        ),
    )


def _listed(setting: LanguageSite, page: str, exercise: Exercise) -> ListedExercise:
    library = setting.library
    programmes = library.programmes_of.get(exercise.slug, ())
    ranks = {each.slug: rank for each in programmes if (rank := rank_of(each, exercise.slug)) is not None}
    steps = {programme: _step_value(rank, exercise.tier.slug) for programme, rank in ranks.items()}
    return ListedExercise(
        row=make_row(setting, page, exercise, label=name_step_alone(setting.wording, library, exercise)),
        code=exercise.code,
        step=" ".join(sorted({*steps.values(), *(f"{programme}/{step}" for programme, step in steps.items())})),
        region=" ".join(ref.slug for ref in exercise.regions),
        position=exercise.position.slug,
        equipment=" ".join(ref.slug for ref in exercise.equipment) or NO_EQUIPMENT,
        purpose=exercise.purpose.slug,
        programme=" ".join(each.slug for each in programmes),
    )


def _step_value(rank: int, tier: str) -> str:
    """What the filter of steps has for a step: its number, and the slug of its tier."""
    return f"{rank + 1}-{tier}"


def _filters(setting: LanguageSite) -> tuple[Filter, ...]:
    """The filters, each with the choices that some exercise answers to."""
    library, say = setting.library, setting.wording.say
    exercises = library.exercises
    used = {
        "region": {ref.slug for each in exercises for ref in each.regions},
        "position": {each.position.slug for each in exercises},
        "equipment": {ref.slug for each in exercises for ref in each.equipment},
        "purpose": {each.purpose.slug for each in exercises},
    }
    words, closed = library.vocabulary, {}
    lists: dict[str, Iterable[tuple[str, str]]] = {
        "region": ((term.slug, term.name.text) for term in words.regions),
        "position": ((term.slug, term.name.text) for term in words.positions),
        "equipment": ((term.slug, term.name.text) for term in words.equipment),
        "purpose": ((term.slug, term.name.text) for term in words.purposes),
    }
    for name, terms in lists.items():
        closed[name] = tuple(FilterChoice(slug, begin(text)) for slug, text in terms if slug in used[name])
    if any(not each.equipment for each in exercises):
        closed["equipment"] = (FilterChoice(NO_EQUIPMENT, say("site.nothing")), *closed["equipment"])
    steps = tuple(FilterChoice(_step_value(rank, tier), name) for rank, tier, name in find_steps(setting.wording, library))
    closed = {"region": closed.pop("region"), "step": steps, **closed}
    closed["programme"] = tuple(FilterChoice(each.slug, each.title.text) for each in library.programmes)
    return tuple(Filter(name, say(f"site.filter_{name}"), choices) for name, choices in closed.items() if choices)


FOR_CLINICIANS = ("lessons", "classes")
"""Folders of what no patient looks for: the first page does not list them."""


def make_home_page(setting: LanguageSite) -> HomePage:
    """The view of the first page."""
    clinic, say, page = setting.library.clinic, setting.wording.say, home_page(setting.language)
    return HomePage(
        frame=make_frame(setting, page, clinic.name, clinic.about.text, scripts=(setting.assets.scripts["home"],)),
        title=say("site.home_title"),
        about=rich(clinic.about),
        exercises=relative(page, list_page(setting.language, "exercises")),
        exercises_text=setting.wording.count("site.all_exercises", len(setting.library.exercises)),
        programmes=programme_entries(setting, page),
        bundles=bundle_entries(setting, page),
        others=tuple(
            Listed(say(f"site.nav_{folder}"), standalone_entries(setting, page, folder))
            for folder, items in setting.library.standalones.items()
            if items and folder not in FOR_CLINICIANS
        ),
    )


def programme_entries(setting: LanguageSite, page: str) -> tuple[ListedPlan, ...]:
    """Every programme, with a small figure from each of its tiers."""
    return tuple(
        ListedPlan(
            href=relative(page, item_page(setting.language, "programmes", each.slug)),
            title=rich(each.title),
            text=rich(each.goal),
            facts=join_facts(
                setting,
                (
                    setting.wording.count("site.weeks", each.weeks),
                    setting.wording.count("site.exercises", len(set(each.exercise_slugs))),
                ),
            ),
            pictures=_pictures(setting, page, [tier.exercises[-1].slug for tier in each.tiers if tier.exercises]),
        )
        for each in setting.library.programmes
    )


def bundle_entries(setting: LanguageSite, page: str) -> tuple[ListedPlan, ...]:
    """Every ready-made bundle."""
    return tuple(
        ListedPlan(
            href=relative(page, item_page(setting.language, "bundles", each.slug)),
            title=rich(each.title),
            text=rich(each.suits),
            facts=join_facts(setting, bundle_facts(setting, each)),
            pictures=_pictures(setting, page, [pick.exercise.slug for pick in each.picks]),
        )
        for each in setting.library.bundles
    )


def standalone_entries(setting: LanguageSite, page: str, folder: str) -> tuple[ListedPlan, ...]:
    """Everything of a kind that holds no exercise."""
    return tuple(
        ListedPlan(
            href=relative(page, item_page(setting.language, folder, each.slug)),
            title=rich(each.title),
            text=rich(each.suits),
            facts="",
            pictures=(),
        )
        for each in setting.library.standalones[folder]
    )


def _pictures(setting: LanguageSite, page: str, slugs: Sequence[str]) -> tuple[str, ...]:
    return tuple(relative(page, setting.panels[slug]) for slug in slugs[:PICTURES])


def make_entries_page(setting: LanguageSite, kind: str) -> EntriesPage:
    """The view of the list of ``programmes``, ``bundles`` or what holds no exercise."""
    say, page = setting.wording.say, list_page(setting.language, kind)
    if kind in setting.library.standalones:
        entries = standalone_entries(setting, page, kind)
    else:
        entries = programme_entries(setting, page) if kind == "programmes" else bundle_entries(setting, page)
    lead = say(f"site.{kind}_lead")
    return EntriesPage(make_frame(setting, page, say(f"site.nav_{kind}"), lead), say(f"site.nav_{kind}"), lead, entries)

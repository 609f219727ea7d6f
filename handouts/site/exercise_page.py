"""The view of an exercise's page, in the order in which a patient needs it."""

from __future__ import annotations

from dataclasses import dataclass

from markupsafe import Markup

from handouts.dose.arithmetic import add_up
from handouts.dose.phrase import (
    about_minutes,
    dose_names,
    effort_scale_line,
    frequency_line,
    rest_line,
    tempo_line,
    turn_line,
)
from handouts.dose.progression import Option
from handouts.model import Dose, Exercise
from handouts.publication.ready import ready_words
from handouts.publication.rich_text import begin, rich, rich_all
from handouts.publication.scales import own_scale
from handouts.publication.steps import alone, label_ready, name_step_in, rank_of
from handouts.publication.views import ConditionView, SectionView, view_sections
from handouts.site.context import LanguageSite
from handouts.site.limits_view import LimitBlock, make_limit_block
from handouts.site.old_sheets import older_line
from handouts.site.page_frame import Link, PageFrame, make_frame
from handouts.site.parts import (
    Cautions,
    ExerciseRow,
    Prints,
    dose_of,
    exercise_review_line,
    large_numerals,
    make_cautions,
    make_pick,
    make_prints,
    make_row,
    term_names,
)
from handouts.site.paths import item_page, list_page, relative
from handouts.site.structured import exercise_data
from handouts.templating.templates import safe_json
from handouts.words.easier_harder import plain_change


@dataclass(frozen=True, slots=True)
class Fact:
    """A fact beside the dose: what it is, and its value."""

    name: str
    value: str


@dataclass(frozen=True, slots=True)
class MistakeView:
    """What goes wrong, and what to do instead."""

    see: Markup
    do: Markup
    figures: tuple[Markup, ...] = ()
    """Its picture, where it has one."""


@dataclass(frozen=True, slots=True)
class ChangeView:
    """A sentence that makes this exercise easier or harder, and which of the two."""

    label: str
    text: Markup


@dataclass(frozen=True, slots=True)
class MovementView:
    """What the page's script needs to move the figure when it is asked to."""

    data: Markup
    """JSON that may stand in an element of a page."""
    beat: str
    """Seconds there, held, back, paused; empty where the dose has no tempo."""


@dataclass(frozen=True, slots=True)
class ExercisePage:
    """Everything on an exercise's page."""

    frame: PageFrame
    figure: Markup
    figure_note: tuple[str, ...]
    """What the signs in the figure mean, or that there is none; empty where it has no signs."""
    movement: tuple[MovementView, ...]
    """Empty where nothing moves."""
    title: Markup
    older: str
    """That the text stands as it was; empty where it is the present one."""
    dose: Markup
    facts: tuple[Fact, ...]
    """Minutes, days, position, equipment."""
    manner: tuple[str, ...]
    """How fast, how long to rest, how hard."""
    session: tuple[Link, ...]
    """To the session on the phone, where the site has one."""
    why: Markup
    sections: tuple[SectionView, ...]
    cues: tuple[Markup, ...]
    feel: Markup
    mistakes: tuple[MistakeView, ...]
    cautions: Cautions
    ready: tuple[ConditionView, ...]
    """Under a label that promises no exercise which is not there."""
    changes: tuple[ChangeView, ...]
    """How this exercise itself is made easier or harder."""
    others: tuple[ExerciseRow, ...]
    """Easier exercises, then harder ones."""
    prints: tuple[Prints, ...]
    programmes: tuple[Fact, ...]
    """Address of each programme that holds the exercise, and its title with the exercise's step."""
    review: str
    code: str
    """The line that says it."""
    pick: tuple[Link, ...]
    taught: tuple[Link, ...]
    """How it is taught, for clinicians."""
    picked_as: tuple[str, ...]
    """Its code, where it can be picked."""
    sources: tuple[str, ...]
    sources_language: str
    limits: tuple[LimitBlock, ...]
    """For clinicians; empty where nothing was found."""


def make_exercise_page(setting: LanguageSite, slug: str) -> ExercisePage:
    """The view of an exercise."""
    library, say = setting.library, setting.wording.say
    exercise = library.exercise[slug]
    page = item_page(setting.language, "exercises", exercise.slug)
    easier, harder = (side[exercise.slug] for side in (setting.progression.easier, setting.progression.harder))
    ways = [*(("easier", option) for option in easier), *(("harder", option) for option in harder)]
    movement = _movement(setting, exercise)
    return ExercisePage(
        frame=make_frame(
            setting,
            page,
            exercise.title.text,
            exercise.why.text,
            item=f"exercises/{exercise.slug}",
            stop="#stop",
            data=exercise_data(setting, exercise),
            scripts=(setting.assets.scripts["exercise"],) if movement else (),
        ),
        figure=setting.figures.figure_svg(exercise, setting.language),
        figure_note=tuple(filter(None, [setting.figures.figure_note(exercise, setting.language)])),
        movement=movement,
        title=rich(exercise.title),
        older=older_line(setting.wording, exercise.older),
        dose=large_numerals(dose_of(setting, exercise.dose)),
        facts=_facts(setting, exercise),
        manner=_manner(setting, exercise.dose),
        session=_session(setting, page, exercise),
        why=rich(exercise.why),
        sections=view_sections(exercise.sections),
        cues=rich_all(exercise.cues),
        feel=rich(exercise.feel),
        mistakes=tuple(MistakeView(
                rich(mistake.see), rich(mistake.do), tuple(filter(None, [setting.figures.fault_svg(exercise, number, setting.language)]))
            )
            for number, mistake in enumerate(exercise.mistakes)
        ),
        cautions=make_cautions(setting, (library.caution[ref.slug] for ref in exercise.cautions)),
        ready=_ready(setting, exercise),
        changes=tuple(
            ChangeView(say(f"site.{way}"), rich(option.change))
            for way, option in ways
            if not option.slug and option.change is not None
        ),
        others=tuple(_neighbour(setting, page, exercise, option, way) for way, option in ways if option.slug),
        prints=make_prints(setting, page, exercise.slug, say("site.print_sheet")),
        programmes=tuple(
            Fact(relative(page, item_page(setting.language, "programmes", slug)), name)
            for slug, name in list_places(setting, exercise)
        ),
        review=exercise_review_line(setting, exercise),
        code=say("site.code", code=exercise.code),
        pick=make_pick(setting, page, f"add={exercise.code}", say("site.pick")),
        taught=tuple(
            Link(relative(page, item_page(setting.language, "lessons", each.slug)), say("site.nav_lessons"))
            for each in library.lessons_of.get(slug, ())
        ),
        picked_as=(exercise.code,) if list_page(setting.language, "bundle") in setting.pages else (),
        sources=exercise.sources,
        sources_language=setting.source.language,
        limits=make_limit_block(setting, page, exercise),
    )


def _movement(setting: LanguageSite, exercise: Exercise) -> tuple[MovementView, ...]:
    motion, tempo = setting.figures.motion(exercise), exercise.dose.tempo
    if not motion or not motion["p"]:
        return ()
    held = (tempo.hold or exercise.dose.hold_seconds or 0) if tempo else 0
    beat = f"{tempo.go} {held} {tempo.back} {tempo.pause}" if tempo else ""
    return (MovementView(safe_json(motion), beat),)


def _session(setting: LanguageSite, page: str, exercise: Exercise) -> tuple[Link, ...]:
    """The patient's page opened with this exercise alone, by its code."""
    target = list_page(setting.language, "my")
    if target not in setting.pages or exercise.dose.is_open:
        return ()
    return (Link(f"{relative(page, target)}#{exercise.code}", setting.wording.say("phone.begin_here")),)


def _ready(setting: LanguageSite, exercise: Exercise) -> tuple[ConditionView, ...]:
    ready = ready_words(exercise, setting.library, setting.wording)
    if ready is None:
        return ()
    around = alone(setting.library, setting.progression.opens[exercise.slug])
    label = label_ready(setting.wording, exercise, around, setting.progression.needs)
    return (ConditionView(label, rich(ready)),)


def list_places(setting: LanguageSite, exercise: Exercise) -> tuple[tuple[str, str], ...]:
    """The slug of each programme that holds an exercise, and the programme's title with the step."""
    wording, library = setting.wording, setting.library
    return tuple(
        (programme.slug, name_step_in(wording, library, programme, rank, programme.title.text))
        for programme in library.programmes_of.get(exercise.slug, ())
        if (rank := rank_of(programme, exercise.slug)) is not None
    )


def _facts(setting: LanguageSite, exercise: Exercise) -> tuple[Fact, ...]:
    """Minutes, days, position and equipment."""
    wording, seconds = setting.wording, add_up(exercise.dose).seconds
    needs = wording.join(term_names(setting, "equipment", exercise.equipment)) if exercise.equipment else ""
    return _named(
        setting,
        time=about_minutes(seconds, wording) if seconds is not None else "",
        often=frequency_line(exercise.dose, wording, dose_names(exercise.dose, setting.library)),
        position=term_names(setting, "positions", [exercise.position])[0],
        need=needs or wording.say("site.nothing"),
    )


def _manner(setting: LanguageSite, dose: Dose) -> tuple[str, ...]:
    """How fast to move, how long to rest, how hard it should be."""
    wording = setting.wording
    pace = tempo_line(dose.tempo, wording)
    lines = (
        turn_line(dose, wording),
        wording.say("dose.tempo", parts=pace) if pace else "",
        rest_line(dose, wording),
        effort_scale_line(dose.effort, wording, own_scale(setting.library.clinic)),
    )
    return tuple(begin(line) for line in lines if line)


def _named(setting: LanguageSite, **values: str) -> tuple[Fact, ...]:
    """The facts that are given, each with its label."""
    return tuple(Fact(setting.wording.say(f"site.fact_{name}"), begin(value)) for name, value in values.items() if value)


def _neighbour(setting: LanguageSite, page: str, exercise: Exercise, option: Option, way: str) -> ExerciseRow:
    """An easier or harder exercise, with what changes."""
    changes = plain_change(option, exercise, setting.library, setting.wording)
    return make_row(
        setting, page, setting.library.exercise[option.slug], label=setting.wording.say(f"site.{way}"), facts=changes
    )

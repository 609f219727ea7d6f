"""An exercise on paper: the view of its one page, on a sheet of its own or in a booklet."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace

from markupsafe import Markup, escape

from handouts.dose.arithmetic import add_up, given_dose
from handouts.dose.facts import dose_facts, parts_beside
from handouts.dose.parts import say_part_at, turn_dose
from handouts.dose.phrase import about_minutes, dose_names, load_phrase, stage_lines, tempo_line, turn_line
from handouts.dose.substitutes import say_substitutes
from handouts.model import Bundle, Dose, DoseStage, Exercise, PartKind, Pick, Programme, Ref, Review, Words
from handouts.paper.articles import STACKED
from handouts.paper.context import PaperSetting, locations_of
from handouts.paper.figure_side import count_beside, shape_of
from handouts.paper.geometry import FOLD_SCALE, FOLDED, LARGE
from handouts.paper.room import room_of
from handouts.paper.ticks import tick_weeks
from handouts.paper.views import (
    CautionsView,
    CodeView,
    ExerciseView,
    Labels,
    PairView,
    SafetyView,
    WayView,
)
from handouts.problems import Place
from handouts.publication.ready import ready_words
from handouts.publication.reviews import say_review
from handouts.publication.rich_text import begin, rich
from handouts.publication.scales import own_scale
from handouts.publication.steps import (
    Neighbours,
    alone,
    in_bundle,
    in_programme,
    join_cues,
    label_ready,
    name_step,
    name_step_alone,
    programme_of,
    rank_of,
)
from handouts.publication.views import cautions_by_kind, view_sections
from handouts.site.old_sheets import older_line
from handouts.tasks.calling import Later
from handouts.words.easier_harder import plain_change

_DRAW_CODE: Later[Markup] = Later("handouts.paper.qr_code", "draw_code", Markup)


def view_safety(setting: PaperSetting, refs: Iterable[Ref], numbers: Mapping[str, str] | None = None) -> SafetyView:
    """The ruled block of all cautions: stop rules first, those with the emergency number at their head.

    ``numbers`` are those of the exercises that a caution goes for, by its slug, where several stand on a page.
    """
    library, say = setting.library, setting.wording.say
    clinic = library.clinic
    by_kind = {kind: found for kind, found in cautions_by_kind(library.caution[ref.slug] for ref in refs).items() if found}
    calls = (say("paper.emergency", number=clinic.emergency.number), *(() if setting.phones_apart else locations_of(setting)))
    groups = tuple(
        CautionsView(
            kind.value,
            say(f"paper.{kind.value}"),
            calls if kind is next(iter(by_kind)) else (),
            tuple(PairView(rich(caution.when), rich(caution.do), (numbers or {}).get(caution.slug, "")) for caution in cautions),
        )
        for kind, cautions in by_kind.items()
    )
    return SafetyView(
        groups, say("paper.pain"), _pain(setting), _scale(setting), (rich(clinic.defer.clinician), rich(clinic.defer.surgeon))
    )


def _without_stops(safety: SafetyView) -> SafetyView:
    """What goes for one exercise where the stop rules, the emergency number, the rule about pain and whose plan comes first stand elsewhere."""
    beside = safety.others
    groups = tuple(replace(group, calls=()) for group in beside.groups)
    return replace(beside, groups=groups, pain_heading="", pain=Markup(""), defer=(), look="safety quiet")


def join_questions(safety: SafetyView) -> SafetyView:
    """The same with what to ask first in fewer rows: conditions with one answer stand before it, which is said once."""
    return replace(safety, groups=tuple(_join_rows(group) if group.kind == "ask" else group for group in safety.groups))


def _join_rows(group: CautionsView) -> CautionsView:
    conditions: dict[Markup, list[Markup]] = {}
    for row in group.rows:
        conditions.setdefault(row.do, []).append(row.see)
    return replace(group, rows=tuple(PairView(Markup(" ").join(sees), do) for do, sees in conditions.items()))


def _pain(setting: PaperSetting) -> Markup:
    """The clinic's rule about pain, the ends of the scale, and what to do when it gets worse."""
    clinic = setting.library.clinic
    steps = (Markup("<strong>{}</strong> <span>{}</span>").format(rich(step.when), rich(step.do)) for step in clinic.flare_plan)
    return Markup(" ").join((rich(clinic.pain_rule), escape(setting.wording.say("site.pain_ends")), *steps))


HIGHEST_PAIN = 10
"""The end of the scale of pain (numeric rating scale, 0 to 10)."""


def _scale(setting: PaperSetting) -> tuple[tuple[str, str], ...]:
    """Each number of the scale of pain with what the clinic's rule says of it: fine, less, stop."""
    bounds, wording = setting.library.clinic.pain_bounds, setting.wording
    if bounds is None:
        return ()
    return tuple(
        ("fine" if number <= bounds.fine else "less" if number <= bounds.less else "over", wording.number(number))
        for number in range(HIGHEST_PAIN + 1)
    )


def view_ways(setting: PaperSetting, exercise: Exercise) -> tuple[WayView, ...]:
    """What is easier, and what is harder, each in one run of sentences."""
    wording, library = setting.wording, setting.library
    found = []
    for way, options in (("easier", setting.progression.easier), ("harder", setting.progression.harder)):
        texts = []
        for option in options[exercise.slug]:
            change = rich(option.change) if option.change else escape(plain_change(option, exercise, library, wording))
            other = library.exercise[option.slug].title.text if option.slug else ""
            texts.append(Markup(wording.say("paper.other_way", title=str(escape(other)), change=str(change))) if other else change)
        if texts:
            found.append(WayView(way, wording.say(f"site.{way}"), Markup(" ").join(texts)))
    return tuple(found)


def view_code(setting: PaperSetting, parts: tuple[str, ...], line: str, letters: str = "") -> CodeView:
    """The QR code of an address, given in one part or more."""
    say = setting.wording.say
    if not setting.codes_drawn:
        return CodeView(Markup('<span data-address="{}"></span>').format("".join(parts)), say(line), letters)
    larger = (1 / FOLD_SCALE,) if setting.paper in FOLDED else ()
    return CodeView(setting.edition.call(_DRAW_CODE, parts, say("paper.code_alt", address="".join(parts)), *larger), say(line), letters)


def review_line(setting: PaperSetting, review: Review) -> str:
    """When and by which role the content was last read through."""
    return say_review(setting.wording, review, "paper")


def place_of_texts(exercise: Exercise) -> tuple[Place, bool]:
    """Where who has to shorten the texts of an exercise finds them, and whether that is the catalogue of a translation."""
    place = exercise.title.place
    translated = place.file != exercise.place.file
    return (place if translated else exercise.place), translated


@dataclass(frozen=True, slots=True)
class ExerciseContext:
    """What an exercise's page follows from where it is part of a programme or a bundle."""

    around: Neighbours
    """Among which exercises it is shown."""
    step: str
    """Number and name of its step; empty where it has none."""
    cues: tuple[Words, ...] = ()
    """What to think of in every exercise of the programme."""
    cautions: tuple[Ref, ...] = ()
    """Cautions shown beside its own, where no cover shows them."""
    stages: tuple[DoseStage, ...] = ()
    """How the dose goes on over the weeks."""
    kind: PartKind | None = None
    """The part of the session in which it is done."""
    said: tuple[str, ...] = ()
    """What stands before the dose's own sentences: its part of the session, what is taken in place of things."""


def view_exercise(
    setting: PaperSetting,
    exercise: Exercise,
    dose: Dose | None = None,
    *,
    level: int = 1,
    part: ExerciseContext | None = None,
    joined: bool = True,
    stops: bool = True,
) -> ExerciseView:
    """The view of an exercise; ``dose`` where it is not the library's own, ``level`` of its heading; without a ``part`` it stands alone.

    ``joined`` as ``join_questions``; without ``stops`` the document says elsewhere when to stop, and the rule about pain.
    """
    wording, say = setting.wording, setting.wording.say
    dose = dose or exercise.dose
    part = part or stand_alone(setting, exercise)
    position = begin(setting.term("positions", exercise.position.slug))
    equipment = [setting.term("equipment", ref.slug) for ref in exercise.equipment]
    safety = view_safety(setting, dict.fromkeys((*exercise.cautions, *part.cautions)))
    safety = safety if stops else _without_stops(safety)
    figure, labels = setting.figures.figure_svg(exercise, setting.language, dose.side), _labels(setting, exercise, part)
    return ExerciseView(
        anchor=exercise.slug,
        fit=STACKED,
        two_pages=setting.size == LARGE,
        level=f"h{level}",
        sublevel=f"h{level + 1}",
        kicker=say("paper.beside", first=part.step, second=position) if part.step else position,
        title=rich(exercise.title),
        older=older_line(wording, exercise.older),
        why=rich(exercise.why),
        needs=say("paper.equipment", things=wording.join(equipment)) if equipment else "",
        figure=figure,
        beside=_count_beside(setting, exercise, labels, figure),
        figure_note=tuple(filter(None, [setting.figures.figure_note(exercise, setting.language)])),
        facts=dose_facts(dose, wording),
        under_dose=(*part.said, *dose_lines(setting, dose, part.kind), *_around_dose(setting, dose)),
        stages_label=say("paper.stages") if part.stages else "",
        stages=stage_lines(dose, part.stages, setting.library.clinic.sessions_easy, wording, dose_names(dose, setting.library)),
        sections=view_sections(exercise.sections),
        mistakes=tuple(PairView(rich(mistake.see), rich(mistake.do)) for mistake in exercise.mistakes),
        fault=tuple(filter(None, [setting.figures.fault_svg(exercise, 0, setting.language, dose.side)])),
        cues=tuple(map(rich, join_cues(exercise, part.cues))),
        feel=rich(exercise.feel),
        ready=rich(ready) if (ready := ready_words(exercise, setting.library, wording)) else Markup(""),
        ways=view_ways(setting, exercise),
        safety=join_questions(safety) if joined else safety,
        ticks=(tick_weeks(dose, wording, setting.size),),
        code=view_code(
            setting, (setting.address(setting.page("exercises", exercise.slug)),), "paper.code", exercise.code if setting.size == LARGE else ""
        ),
        review="" if exercise.older else review_line(setting, exercise.review),
        labels=labels,
    )


def _labels(setting: PaperSetting, exercise: Exercise, part: ExerciseContext) -> Labels:
    say = setting.wording.say
    return Labels(
        dose=say("paper.dose"),
        mistakes=say("paper.mistakes"),
        cues=say("paper.cues"),
        feel=say("paper.feel"),
        ready=label_ready(setting.wording, exercise, part.around, setting.progression.needs),
        notes=say("paper.notes"),
    )


def _count_beside(setting: PaperSetting, exercise: Exercise, labels: Labels, figure: Markup) -> int:
    """How many of cues, feel and mistakes stand beside the figure; cues of a programme come with the document, and do not count."""
    blocks = (
        (Markup(labels.cues), *map(rich, exercise.cues)),
        (Markup(labels.feel) + rich(exercise.feel),),
        (Markup(labels.mistakes), *(rich(mistake.see) + rich(mistake.do) for mistake in exercise.mistakes)),
    )
    return count_beside(view_sections(exercise.sections), blocks, shape_of(figure), room_of(setting)[0], setting.language)


def stand_alone(setting: PaperSetting, exercise: Exercise) -> ExerciseContext:
    """What an exercise follows from on a sheet of its own."""
    around = alone(setting.library, setting.progression.opens[exercise.slug])
    return ExerciseContext(around, name_step_alone(setting.wording, setting.library, exercise))


def part_of_programme(setting: PaperSetting, programme: Programme, exercise: Exercise) -> ExerciseContext:
    """What an exercise follows from in the booklet of its programme."""
    rank = rank_of(programme, exercise.slug)
    step = "" if rank is None else name_step(setting.wording, setting.library, programme, rank)
    return ExerciseContext(in_programme(setting.library, programme), step, programme.cues if rank is not None else ())


def part_of_bundle(setting: PaperSetting, bundle: Bundle, exercise: Exercise) -> ExerciseContext:
    """What an exercise follows from in a bundle; one that the bundle's programme does not hold has its cues too."""
    library = setting.library
    programme = programme_of(library, bundle)
    pick = next(pick for pick in bundle.picks if pick.exercise.slug == exercise.slug)
    said = said_at(setting, exercise, pick)
    if programme is None:
        step = name_step_alone(setting.wording, library, exercise)
        return ExerciseContext(in_bundle(library, bundle), step, stages=pick.stages, kind=pick.part, said=said)
    step = part_of_programme(setting, programme, exercise).step
    return ExerciseContext(in_bundle(library, bundle), step, programme.cues, stages=pick.stages, kind=pick.part, said=said)


def said_at(setting: PaperSetting, exercise: Exercise, pick: Pick) -> tuple[str, ...]:
    """What a pick adds to its exercise, before the dose's own sentences."""
    return (*say_part_at(pick, setting.wording), *say_substitutes(pick, given_dose(exercise, pick), setting.library, setting.wording))


def dose_lines(setting: PaperSetting, dose: Dose, part: PartKind | None = None) -> tuple[str, ...]:
    """Sentences under the numerals that belong to the dose, done in a ``part`` of a session: band, occasion, days of rest, sides, pace."""
    wording, say, names = setting.wording, setting.wording.say, dose_names(dose, setting.library)
    band = load_phrase(dose, wording, names) if dose.band else ""
    return tuple(
        line
        for line in (
            say("paper.open_dose") if dose.is_open else "",
            say("paper.load", load=begin(band)) if band else "",
            *(say("paper.beside_dose", part=begin(part)) for part in parts_beside(dose, wording, names)),
            turn_line(turn_dose(dose, part), wording),
            say("paper.tempo", tempo=tempo_line(dose.tempo, wording)) if dose.tempo else "",
        )
        if line
    )


def _around_dose(setting: PaperSetting, dose: Dose) -> tuple[str, ...]:
    """Sentences that explain the dose: minutes, the ends of the scale of effort."""
    wording, say, seconds = setting.wording, setting.wording.say, add_up(dose).seconds
    lines = (
        say("paper.minutes", minutes=about_minutes(seconds, wording)) if seconds is not None else "",
        (own_scale(setting.library.clinic) or say("paper.effort_ends")) if dose.effort else "",
    )
    return tuple(filter(None, lines))

"""A bundle as several exercises on a page: a front with what goes for all of them, and one row an exercise."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from markupsafe import Markup

from handouts.dose.facts import DoseNumber
from handouts.dose.parts import order_of
from handouts.dose.substitutes import given_pick
from handouts.model import Bundle, CautionKind, Dose, DoseStage, Exercise, Ref
from handouts.paper.booklet import Picks, place_in_programme, say_cue, say_given, session_notes, stages_of
from handouts.paper.context import PaperSetting
from handouts.paper.geometry import LARGE
from handouts.paper.sheet import (
    dose_lines,
    part_of_bundle,
    review_line,
    view_code,
    view_exercise,
    view_safety,
)
from handouts.paper.text_width import text_width
from handouts.paper.ticks import boxes_in_week, day_box
from handouts.paper.views import CodeView, ExerciseView, PairView, SafetyView
from handouts.publication.rich_text import rich
from handouts.publication.steps import cautions_of_bundle, programme_of
from handouts.publication.views import BlockView, ConditionView, SectionView
from handouts.words.wording import Wording


@dataclass(frozen=True, slots=True)
class WeekView:
    """Boxes of one week: its name, and a class for each box."""

    name: str
    boxes: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class RowView:
    """An exercise as a row: figure, the commonest fault and boxes at its start; number, title, dose and steps beside them."""

    anchor: str
    number: str
    exercise: ExerciseView
    facts: tuple[DoseNumber, ...]
    """The numbers of its dose that stand in large numerals."""
    lines: tuple[str, ...]
    """What else belongs to the dose: rest, effort, band, sides, pace."""
    sections: tuple[SectionView, ...]
    """Its prose; steps have no heading, which would say the same in each row."""
    mistakes: tuple[PairView, ...]
    """The commonest, or none."""
    weeks: tuple[WeekView, ...]
    fault_beside: bool
    """Whether the fault stands beside the figure and not below it."""
    steps_below: bool
    """Large type: the steps stand below figure and dose, over the whole width, and the fault beside the figure."""


@dataclass(frozen=True, slots=True)
class CompactView:
    """A bundle with several exercises on a page."""

    title: Markup
    notes: tuple[str, ...]
    """Short sentences: minutes, equipment."""
    goal: str
    """Before a line for the patient's own goal; empty where there is none."""
    lost: str
    heading: str
    """Programme and step; empty where the bundle is of none."""
    conditions: tuple[ConditionView, ...]
    hints: tuple[SectionView, ...]
    """What to think of in each exercise, and what to do through the day."""
    stop: SafetyView
    """The stop rules alone."""
    beside: SafetyView
    """What to ask first, what to take care of, and the rule about pain."""
    stop_first: bool
    """Large type: the stop rules stand before the first exercise, over the whole width."""
    figure_notes: tuple[str, ...]
    code: CodeView
    review: str
    typed_label: str
    typed: str
    rows: tuple[RowView, ...]


NARROWEST_STOPS, WIDEST_STOPS = 0.4, 0.6
"""What the column of the stop rules has of the width, at least and at most."""
SCALE_LETTERS = 45
"""Letters that take as much room as the scale of pain."""
DAYS_TWO_IN_LINE, LINES_OF_BOXES = 5, 2
"""Days of a week of which two stand in one line below a figure, and lines beside which a fault has its place there too."""
SMALL_FACTS = ("rest", "effort")
"""Numbers of a dose that stand below the others, in the size of the text."""


def view_compact(setting: PaperSetting, bundle: Bundle, picks: Picks, address: tuple[str, ...], typed: str, lost: str) -> CompactView:
    """The bundle; ``typed`` is its code in groups, ``lost`` as in ``handouts.bundle.origins``."""
    say, library = setting.wording.say, setting.library
    programme = programme_of(library, bundle)
    heading, conditions = place_in_programme(setting, bundle)
    rows = tuple(_view_row(setting, bundle, number, pick) for number, pick in enumerate(picks, 1))
    safety = _merge_cautions(setting, bundle, picks)
    lists = (("steps.with_each", programme.cues), ("steps.all_day", programme.through_the_day)) if programme else ()
    return CompactView(
        title=rich(bundle.title),
        notes=(
            *say_cue(setting, bundle),
            *session_notes(setting, picks, stages_of(bundle), order_of(bundle.picks, bundle.round_rest_seconds)),
            *say_given(setting, bundle),
            *(setting.missing(f"bundles/{bundle.slug}")),
        ),
        goal=say("paper.goal") if bundle.is_plan else "",
        lost=say(f"steps.lost_{lost}") if lost else "",
        heading=heading,
        conditions=conditions,
        hints=tuple(
            SectionView(Markup.escape(say(name)), (BlockView("paragraph", (Markup(" ").join(map(rich, texts)),)),))
            for name, texts in lists
            if texts
        ),
        stop=safety.stops,
        beside=safety.others,
        stop_first=setting.size == LARGE,
        figure_notes=tuple(dict.fromkeys(note for row in rows for note in row.exercise.figure_note)),
        code=view_code(setting, address, "paper.code_all"),
        review=review_line(setting, bundle.review),
        typed_label=say("paper.typed") if typed else "",
        typed=typed,
        rows=rows,
    )


def picks_of(setting: PaperSetting, bundle: Bundle) -> Picks:
    """The exercises of a bundle that are published in the language, each with the dose that it has there."""
    known = setting.library.exercise
    return tuple(
        given_pick(exercise, pick, setting.library)
        for pick in bundle.picks
        if (exercise := known.get(pick.exercise.slug))
    )


def row_anchor(slug: str) -> str:
    """The id of an exercise's row."""
    return f"row-{slug}"


def view_row(view: ExerciseView, number: str, lines: tuple[str, ...], weeks: tuple[WeekView, ...]) -> RowView:
    """The row of an exercise from the view of its page; ``lines`` as ``dose_lines`` gives them."""
    sections = tuple(
        replace(each, heading=Markup("")) if any(block.kind == "steps" for block in each.blocks) else each for each in view.sections
    )
    beside = bool(weeks) and fault_beside(max(len(week.boxes) for week in weeks), len(weeks))
    large = tuple(fact for fact in view.facts if fact.kind not in SMALL_FACTS)
    small = tuple(f"{fact.numeral} {fact.word}" for fact in view.facts if fact.kind in SMALL_FACTS)
    faults, below = view.mistakes[:1], view.two_pages
    return RowView(row_anchor(view.anchor), number, view, large, (*small, *lines), sections, faults, weeks, beside or below, below)


def _view_row(setting: PaperSetting, bundle: Bundle, number: int, pick: tuple[Exercise, Dose]) -> RowView:
    exercise, dose = pick
    part = part_of_bundle(setting, bundle, exercise)
    view = view_exercise(setting, exercise, dose, part=part)
    weeks = tick_row(dose, bundle.weeks, setting.wording, part.stages)
    return view_row(view, setting.wording.number(number), (*part.said, *dose_lines(setting, dose, part.kind), *say_marks(setting, dose)), weeks)


def say_marks(setting: PaperSetting, dose: Dose) -> tuple[str, ...]:
    """That a day's box is for several marks, where it is."""
    return () if day_box(dose) == "box" else (setting.wording.say("paper.marks"),)


def tick_row(dose: Dose, weeks: int, wording: Wording, stages: Sequence[DoseStage] = ()) -> tuple[WeekView, ...]:
    """A box for each day of each week; the first week by name, the others by number."""
    names = (wording.say("paper.week", n=wording.number(1)), *(wording.number(number) for number in range(2, weeks + 1)))
    return tuple(WeekView(name, boxes_in_week(dose, stages, week)) for week, name in enumerate(names[:weeks], 1))


def fault_beside(days: int, weeks: int) -> bool:
    """Whether the fault stands beside the figure and not below it, since the boxes below it take many lines."""
    lines = weeks if days > DAYS_TWO_IN_LINE else -(-weeks // 2)
    return lines > LINES_OF_BOXES


def _merge_cautions(setting: PaperSetting, bundle: Bundle, picks: Picks) -> SafetyView:
    """Every caution of the bundle and of its exercises once; what comes from exercises alone names them by number."""
    whole = cautions_of_bundle(setting.library, bundle)
    refs = tuple(dict.fromkeys((*whole, *(ref for exercise, _ in picks for ref in exercise.cautions))))
    refs = tuple({ref.slug: ref for ref in refs}.values())
    safety = view_safety(setting, refs, _numbers_of(setting, whole, picks))
    return replace(safety, groups=tuple(
        group if group.kind == CautionKind.STOP.value else replace(group, rows=join_alike(group.rows)) for group in safety.groups
    ))


def _numbers_of(setting: PaperSetting, whole: Sequence[Ref], picks: Picks) -> dict[str, str]:
    """By the slug of a caution to ask about or to take care of, which comes from exercises alone: "Exercises 2 and 3:"."""
    caution, wording = setting.library.caution, setting.wording
    everywhere = {ref.slug for ref in whole}
    found = dict[str, dict[str, None]]()
    for number, (exercise, _) in enumerate(picks, 1):
        for ref in exercise.cautions:
            if ref.slug not in everywhere and caution[ref.slug].kind is not CautionKind.STOP:
                found.setdefault(ref.slug, {})[wording.number(number)] = None
    return {slug: wording.count("paper.of_exercises", len(numbers), numbers=wording.join(list(numbers))) for slug, numbers in found.items()}


def join_alike(rows: Sequence[PairView]) -> tuple[PairView, ...]:
    """The same with conditions of one answer in one row, before it.

    What goes for all exercises comes first, so that it never stands behind the names of some.
    """
    joined: dict[tuple[bool, Markup], list[PairView]] = {}
    for row in sorted(rows, key=lambda row: bool(row.numbers)):
        joined.setdefault((bool(row.numbers), row.do), []).append(row)
    return tuple(_join_rows(alike) for alike in joined.values())


def _join_rows(rows: Sequence[PairView]) -> PairView:
    """Rows with one answer: the exercises stand before it, or before each condition where these differ."""
    if len({row.numbers for row in rows}) == 1:
        return PairView(Markup(" ").join(row.see for row in rows), rows[0].do, rows[0].numbers)
    sees = (Markup('<span class="at">{}</span> {}').format(row.numbers, row.see) for row in rows)
    return PairView(Markup(" ").join(sees), rows[0].do)


def share_of_stops(view: CompactView) -> float:
    """What the column of the stop rules has of the width of both, so that they are about as high as what stands beside them."""
    stops, others = (
        sum(text_width(text) for group in safety.groups for row in group.rows for text in (row.see, row.do))
        for safety in (view.stop, view.beside)
    )
    others += text_width(view.beside.pain) + SCALE_LETTERS
    return round(min(WIDEST_STOPS, max(NARROWEST_STOPS, stops / (stops + others))), 2)

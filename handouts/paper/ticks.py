"""Tables of empty boxes to tick: by week for one exercise, by exercise and week for several."""

from __future__ import annotations

from collections.abc import Sequence

from handouts.dose.phrase import WEEK
from handouts.dose.stages import dose_in_week
from handouts.model import Dose, DoseStage
from handouts.paper.geometry import LARGE
from handouts.paper.views import TickCell, TickRow, TicksView
from handouts.words.wording import Wording

FEWEST_WEEKS, MOST_WEEKS = 2, 4
"""Weeks that a sheet has boxes for: as many as fit."""
MOST_TIMES = 3
"""Times a day that have a row of boxes each on an exercise's own sheet."""
BOXES_IN_LIST = {"standard": 21, LARGE: 14}
"""Boxes in one row of a table, by type size; names of exercises, or the table's heading, take a third of the width."""


def day_box(dose: Dose) -> str:
    """The class of a day's box: a wider one where several marks are to be made in it."""
    return "box tally" if dose.times > 1 or dose.is_by_occasion else "box"


def tick_weeks(dose: Dose, wording: Wording, size: str = "standard") -> TicksView:
    """The table of one exercise: a column for each week, a row for each time of the day; where these are many, a mark in the day's box."""
    days = dose.days or WEEK
    many = dose.times > MOST_TIMES or dose.is_by_occasion
    wide = days * 3 // 2 if many else days  # a box for marks is half as wide again
    weeks = min(MOST_WEEKS, max(FEWEST_WEEKS, BOXES_IN_LIST[size] // wide))
    row = TickRow("", (_cell(days, day_box(dose) if many else "box"),) * weeks)
    heading = wording.say("paper.ticks_marks" if many else "paper.ticks")
    return TicksView(heading, corner="", heads=_week_names(weeks, wording), rows=(row,) * (1 if many else dose.times))


def boxes_in_week(dose: Dose, stages: Sequence[DoseStage], week: int) -> tuple[str, ...]:
    """The boxes of a week: one a day on which the stage of that week asks for it."""
    return (day_box(dose),) * (dose_in_week(dose, stages, week).days or WEEK)


def tick_exercises(
    names: Sequence[tuple[str, Dose]], weeks: int, wording: Wording, size: str = "standard", stages: Sequence[Sequence[DoseStage]] = ()
) -> tuple[TicksView, ...]:
    """Tables of several exercises: a row for each, a column for each week; split where the weeks need the room.

    ``stages``: how each dose goes on, in the order of ``names``; none where all stay.
    """
    plans = stages or [()] * len(names)
    boxes = [[boxes_in_week(dose, own, week) for week in range(1, weeks + 1)] for (_, dose), own in zip(names, plans, strict=True)]
    most = max((len(each) for row in boxes for each in row), default=WEEK)
    at_once = max(1, BOXES_IN_LIST[size] // most)
    heading = "paper.ticks" if all(day_box(dose) == "box" for _, dose in names) else "paper.ticks_wide"
    tables = []
    for first in range(0, weeks, at_once):
        heads = _week_names(min(at_once, weeks - first), wording, first)
        cells = (tuple(map(TickCell, row[first : first + len(heads)])) for row in boxes)
        rows = tuple(TickRow(name, own) for (name, _), own in zip(names, cells, strict=True))
        tables.append(TicksView(wording.say(heading), wording.say("paper.exercise"), heads, rows))
    return tuple(tables)


def tick_program(doses: Sequence[Dose], weeks: int, wording: Wording) -> TicksView:
    """The table of a whole programme: a row for each week, with room for the days, the step and notes.

    Boxes for the days only where every exercise asks for as many: else nobody is to fill them all, and the column is empty.
    """
    days = {dose.days or WEEK for dose in doses}
    boxes, head = (days.pop(), "paper.day_boxes") if len(days) == 1 else (0, "paper.days_done")
    names = (wording.say("paper.week", n=wording.number(number)) for number in range(1, weeks + 1))
    heads = tuple(map(wording.say, (head, "paper.step_now", "paper.notes")))
    rows = tuple(TickRow(name, (_cell(boxes), TickCell(()), TickCell(()))) for name in names)
    return TicksView(wording.say("paper.your_weeks"), wording.say("paper.week_names"), heads, rows)


def _week_names(weeks: int, wording: Wording, before: int = 0) -> tuple[str, ...]:
    return tuple(wording.say("paper.week", n=wording.number(before + number)) for number in range(1, weeks + 1))


def _cell(boxes: int, box: str = "box") -> TickCell:
    return TickCell((box,) * boxes)

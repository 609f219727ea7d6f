"""Doses by occasion, rounds, landings, choices of repetitions and days of rest: in words, in numbers, added up."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from handouts.dose.arithmetic import add_up, change_dose
from handouts.dose.facts import dose_facts, parts_beside
from handouts.dose.impact import Impact, ImpactGrowth, add_up_impact, impact_growths
from handouts.dose.phrase import DoseNames, dose_line, frequency_line, rest_line, stage_lines, turn_line
from handouts.dose.session import add_up_session
from handouts.model import Counted, Dose, DoseChange, DoseStage, Ref, Side, Tempo, WorkKind
from handouts.problems import Place
from handouts.words.wording import Wording
from tests.small_library import small_library

HERE = Place("test")
ENGLISH = Wording("en")
NAMES = DoseNames(pace="easy, you can talk", occasion="when you feel short of breath")
LADDER: dict[str, Any] = {"sets": 8, "time_seconds": 60, "rest_seconds": 120, "work": WorkKind.RUN_WALK, "warm_up_seconds": 300, "cool_down_seconds": 300, "days": 3, "rest_days": 1}
HOPS: dict[str, Any] = {"sets": 3, "reps": 10, "counted": Counted.CONTACTS, "side": Side.BOTH, "rate": 60, "rest_seconds": 60, "days": 2}


def a_dose(**fields: Any) -> Dose:
    """A dose with some fields."""
    return Dose(place=HERE, **fields)


@pytest.mark.parametrize(
    ("fields", "line"),
    [
        (LADDER, "5 minutes to warm up, then 8 times: run 1 minute, walk 2 minutes, then 5 minutes to cool down"),
        ({"sets": 1, "time_seconds": 30, "rest_seconds": 90, "work": WorkKind.FAST_EASY}, "1 time: 30 seconds fast, 90 seconds easy"),
        ({"sets": 6, "time_seconds": 20, "rest_seconds": 10, "work": WorkKind.WORK_REST}, "6 times: work 20 seconds, rest 10 seconds"),
        ({"sets": 4, "distance_metres": 200, "rest_seconds": 60, "work": WorkKind.RUN_WALK}, "4 times: run 200 meters, walk 1 minute"),
        ({"time_seconds": 1200, "work": WorkKind.RUN, "warm_up_seconds": 300, "cool_down_seconds": 300}, "5 minutes to warm up, then 20 minutes, running, then 5 minutes to cool down"),
        ({"time_seconds": 1200, "work": WorkKind.RUN, "pace_words": Ref("easy", HERE)}, "20 minutes, running, pace: easy, you can talk"),
        ({"distance_metres": 2500}, "2.5 kilometers"),
        ({"sets": 2, "distance_metres": 1000}, "2 sets of 1 kilometer"),
        (HOPS, "3 sets of 10 landings, each side, 60 a minute"),
        ({"sets": 1, "reps": 1, "counted": Counted.CONTACTS}, "1 landing"),
        ({"sets": 2, "reps": 5, "counted": Counted.BREATHS}, "2 sets of 5 breaths in and out"),
        ({"sets": 1, "reps": 20, "reps_to": 30, "counted": Counted.STEPS}, "20 to 30 steps"),
        ({"sets": 3, "reps": 8, "reps_to": 12, "side": Side.ALTERNATING}, "3 sets of 8 to 12, changing sides each time"),
        ({"sets": 1, "reps": 8, "reps_to": 12, "side": Side.EACH_OR_BOTH}, "8 to 12 times, each side, or both together"),
    ],
)
def test_lines(fields: dict[str, Any], line: str) -> None:
    """Each new kind of dose in one line."""
    dose = a_dose(**fields)
    assert dose_line(dose, ENGLISH, NAMES if dose.pace_words else DoseNames()) == line


@pytest.mark.parametrize(
    ("fields", "line"),
    [
        ({"every_minutes": 30, "days": 7}, "every day, every 30 minutes while you are awake"),
        ({"every_minutes": 120}, "every 2 hours while you are awake"),
        ({"every_minutes": 60}, "every hour while you are awake"),
        ({"every_minutes": 90}, "every 90 minutes while you are awake"),
        ({"occasion": Ref("breathless", HERE)}, "when you feel short of breath"),
        ({"days": 3, "rest_days": 1}, "3 days a week, with 1 day without it in between"),
        ({"days": 2, "rest_days": 2}, "2 days a week, with 2 days without it in between"),
    ],
)
def test_how_often(fields: dict[str, Any], line: str) -> None:
    """By occasion, and with days of rest."""
    dose = a_dose(reps=1, **fields)
    assert frequency_line(dose, ENGLISH, NAMES if dose.occasion else DoseNames()) == line


def test_numbers_of_a_round_and_what_stands_beside() -> None:
    """A round is three numbers; warm-up, pace and days of rest are sentences, and the rest is said once."""
    ladder = a_dose(**LADDER)
    assert [tuple(fact) for fact in dose_facts(ladder, ENGLISH)] == [
        ("8", "rounds", "sets"), ("1", "minute running", "minutes"), ("2", "minutes walking", "minutes"), ("3", "days a week", "days"),
    ]  # fmt: skip
    assert rest_line(ladder, ENGLISH) == ""
    assert parts_beside(ladder, ENGLISH, DoseNames(pace="easy")) == (
        "first 5 minutes to warm up", "pace: easy", "5 minutes to cool down at the end", "with 1 day without it in between",
    )  # fmt: skip
    assert [tuple(fact) for fact in dose_facts(a_dose(**HOPS, reps_to=12), ENGLISH)] == [
        ("3", "sets", "sets"), ("10–12", "landings, each side", "reps"), ("60", "a minute", "rate"), ("1", "minute rest", "rest"), ("2", "days a week", "days"),
    ]  # fmt: skip
    assert ("2", "hours apart", "every") in dose_facts(a_dose(reps=10, every_minutes=120), ENGLISH)
    assert turn_line(a_dose(reps=10, sets=2, side=Side.EACH_OR_BOTH), ENGLISH) == ""


# Worked by hand.  The ladder: 300 + 8 x (60 + 120) + 300 = 2040 s, 34 minutes; the last walk is a part of the last round.
# Hops: 3 sets on 2 sides of 10 s each (10 at 60 a minute), 5 rests of 60 s: 360 s.  8 to 12 take the time of 12.
@pytest.mark.parametrize(
    ("dose", "seconds"),
    [
        (a_dose(**LADDER), 2040),
        (a_dose(**HOPS), 360),
        (a_dose(sets=2, reps=8, reps_to=12, tempo=Tempo(1, 0, 1), rest_seconds=30), 78),
        (a_dose(sets=2, reps=10, tempo=Tempo(1, 0, 1), side=Side.EACH_OR_BOTH, rest_seconds=30), 170),
        (a_dose(reps=10, rate=70), 9),
        (a_dose(distance_metres=3000, work=WorkKind.RUN), None),
        (a_dose(distance_metres=3000, work=WorkKind.RUN, pace_metres_per_second=2.5), 1200),
    ],
)
def test_seconds(dose: Dose, seconds: int | None) -> None:
    """Rounds with their last rest, warm-up and cool-down; the longer way of a choice; no pace of a run is invented."""
    assert add_up(dose).seconds == seconds


def test_nobody_knows_how_often_an_occasion_comes() -> None:
    """The time of one occasion is known, a week's is not, and no session or week has it in its minutes."""
    moved = a_dose(reps=10, tempo=Tempo(1, 0, 1), every_minutes=30, days=7)
    assert (add_up(moved).seconds, add_up(moved).seconds_a_week) == (20, None)
    library = small_library()
    one, other = library.exercise["foot-lift"], library.exercise["leg-lift"]
    policy = library.clinic.session
    alone, both = add_up_session([(one, one.dose)], policy), add_up_session([(one, one.dose), (other, moved)], policy)
    assert (both.seconds, both.seconds_a_week, both.changes) == (alone.seconds, alone.seconds_a_week, alone.changes)
    assert both.by_occasion == ("leg-lift",)
    only = add_up_session([(other, moved)], policy)
    assert (only.seconds, only.is_known, only.unknown) == (0, False, ())


def test_a_choice_of_repetitions_keeps_its_width() -> None:
    """8 to 12 that begins at 10 ends at 14; a change of anything else leaves it."""
    dose = a_dose(sets=2, reps=8, reps_to=12)
    assert change_dose(dose, DoseChange(place=HERE, reps=10)).reps_to == 14
    assert change_dose(dose, DoseChange(place=HERE, sets=3)).reps_to == 12


def test_landings_and_running_add_up() -> None:
    """By hand: 3 x 2 x 10 are 60 landings, on 2 days 120; 8 x 1 minute on 3 days are 24; walking is no running."""
    hops, ladder = a_dose(**HOPS), a_dose(**LADDER)
    assert add_up_impact([hops, ladder, a_dose(reps=10)]) == Impact(60, 480, 120, 1440)
    assert add_up_impact([replace(hops, days=None), ladder]) == Impact(60, 480, None, None)
    assert add_up_impact([replace(hops, every_minutes=60), ladder]) == Impact(0, 480, None, None)
    assert add_up_impact([a_dose(reps=10)]) == Impact(0, 0, 0, 0)


def stage(week: int, **values: Any) -> DoseStage:
    """A stage that begins in a week."""
    return DoseStage(place=HERE, week=week, change=DoseChange(place=HERE, **values))


def test_growth_of_all_exercises_together() -> None:
    """By hand: 24 minutes a week to 48 two weeks later are 50 % a week; from week 3 to 5, 48 to 64 by a fourth day, 16.7 %; hops stay."""
    plans = [(a_dose(**LADDER), (stage(3, time_seconds=120), stage(5, days=4))), (a_dose(**HOPS), ())]
    found = impact_growths(plans)
    assert [(each.week, each.is_running) for each in found] == [(3, True), (5, True)]
    assert [each.percent for each in found] == pytest.approx([50, 100 / 6])
    more = impact_growths([(a_dose(**HOPS), (stage(2, days=3),))])
    assert more == (ImpactGrowth(2, False, pytest.approx(50)),)
    assert impact_growths([(replace(a_dose(**HOPS), days=None), (stage(2, sets=4),))]) == ()


def test_stages_say_days_and_rest_where_they_change() -> None:
    """A stage may change how often and how long to rest; what stays is not said again."""
    plain = a_dose(sets=2, reps=8, rest_seconds=60, days=2)
    assert stage_lines(plain, (stage(3, days=3), stage(5, rest_seconds=30)), 3, ENGLISH) == (
        "From week 1: 2 sets of 8, 2 days a week, rest 1 minute between sets",
        "From week 3: 2 sets of 8, 3 days a week, rest 1 minute between sets",
        "From week 5: 2 sets of 8, 3 days a week, rest 30 seconds between sets",
    )
    ladder = replace(a_dose(**LADDER), warm_up_seconds=None, cool_down_seconds=None)
    assert stage_lines(ladder, (stage(2, time_seconds=120, rest_seconds=60),), 3, ENGLISH)[1] == "From week 2: 8 times: run 2 minutes, walk 1 minute"

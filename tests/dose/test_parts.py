"""Parts of a session: the order in which it is gone through, its minutes, and in words."""

from __future__ import annotations

from dataclasses import replace

import pytest

from handouts.dose.parts import (
    STRAIGHT,
    SessionOrder,
    fits_rounds,
    order_of,
    say_part_at,
    say_parts,
    turn_dose,
    visits_of,
)
from handouts.dose.session import add_up_session
from handouts.dose.substitutes import given_pick, say_substitutes
from handouts.model import Dose, DoseStage, Exercise, Library, PartKind, Pick, Ref, SessionPolicy, Side, Span, WorkKind
from handouts.words.wording import Wording
from tests.bundle.sample import PLACE, change_of, pick_of
from tests.bundle.test_twins import TWINS

EN = Wording("en")
POLICY = replace(TWINS.clinic.session, change_seconds=30, between_seconds=20)
HOLD = Dose(place=PLACE, sets=2, hold_seconds=10, rest_seconds=15, days=3)


def exercise(slug: str, position: str = "sitting") -> Exercise:
    """An exercise in a position."""
    likeness = TWINS.exercises[0]
    return replace(likeness, slug=slug, title=replace(likeness.title, text=slug.capitalize()), position=Ref(position, PLACE), equipment=())


A, B, C, D = exercise("bend"), exercise("lift", "standing"), exercise("step"), exercise("walk")
TIMED = Dose(place=PLACE, sets=1, time_seconds=60, days=3)
PICKS = ((D, TIMED), (A, HOLD), (B, HOLD), (C, TIMED))
ORDER = SessionOrder({"walk": PartKind.WARM_UP, "bend": PartKind.ROUNDS, "lift": PartKind.ROUNDS, "step": PartKind.COOL_DOWN}, 40)


def test_rounds_go_in_turn() -> None:
    """A whole warm-up, one set of each twice with a rest before the second round, a whole cool-down."""
    assert [(visit.exercise.slug, visit.dose.sets, visit.rest) for visit in visits_of(PICKS, ORDER)] == [
        ("walk", 1, 0), ("bend", 1, 0), ("lift", 1, 0), ("bend", 1, 40), ("lift", 1, 0), ("step", 1, 0),
    ]
    assert [visit.dose.sets for visit in visits_of(PICKS, STRAIGHT)] == [1, 2, 2, 1]


def test_minutes_add_up() -> None:
    """By hand: 60 + 4 x 10 + 60 of work, 40 of rest, five ways of 20, four changes of position of 30; straight on 85 less of ways and 30 more of rests."""
    rounds = add_up_session(PICKS, POLICY, ORDER)
    assert (rounds.seconds, rounds.changes) == (60 + 40 + 60 + 40 + 5 * 20 + 4 * 30, 4)
    assert rounds.seconds_a_week == 3 * rounds.seconds
    straight = add_up_session(PICKS, POLICY)
    assert (straight.seconds, straight.changes) == (60 + 2 * (20 + 15) + 60 + 3 * 20 + 2 * 30, 2)
    assert straight.seconds_a_week == 3 * straight.seconds


def test_what_is_done_on_fewer_days_is_in_fewer_rounds() -> None:
    """One day of three has both in rounds, two have one alone."""
    picks = ((A, HOLD), (B, replace(HOLD, days=1)))
    alone, both = add_up_session(picks[:1], POLICY, ORDER), add_up_session(picks, POLICY, ORDER)
    assert both.seconds_a_week == both.seconds + 2 * alone.seconds


def test_fewer_sets_leave_the_last_rounds() -> None:
    """Three sets and one: the second and third round have one exercise, with the rest before it."""
    picks = ((A, replace(HOLD, sets=1)), (B, replace(HOLD, sets=3)))
    assert [(visit.exercise.slug, visit.rest) for visit in visits_of(picks, ORDER)] == [("bend", 0), ("lift", 0), ("lift", 40), ("lift", 40)]


def test_what_is_done_through_the_day_parts_nothing() -> None:
    """Between two exercises in rounds it is in no session, and these are done together."""
    picks = ((A, HOLD), (D, replace(TIMED, every_minutes=30)), (B, HOLD))
    assert [visit.exercise.slug for visit in visits_of(picks, ORDER)] == ["bend", "lift", "bend", "lift"]


STAGED = {"lift": (DoseStage(place=PLACE, week=3, change=change_of(sets=3)),)}


@pytest.mark.parametrize(("order", "stages", "lines"), [
    (STRAIGHT, {}, ()),
    (ORDER, {}, (
        "To warm up: Walk.",
        "In rounds: Bend and Lift. One set of each in turn, 2 times through. After each round rest 40 seconds. This takes the place of the rest between sets.",
        "To cool down: Step.",
    )),
    (ORDER, STAGED, (
        "To warm up: Walk.",
        "In rounds: Bend and Lift. One set of each in turn, until all sets are done. After each round rest 40 seconds. This takes the place of the rest between sets.",
        "To cool down: Step.",
    )),
    (SessionOrder({"walk": PartKind.WARM_UP}), {}, ("To warm up: Walk.", "Main part: Bend, Lift, and Step.")),
    (replace(ORDER, rest=0), {}, (
        "To warm up: Walk.", "In rounds: Bend and Lift. One set of each in turn, 2 times through. This takes the place of the rest between sets.", "To cool down: Step.",
    )),
])  # fmt: skip
def test_in_words(order: SessionOrder, stages: dict[str, tuple[DoseStage, ...]], lines: tuple[str, ...]) -> None:
    """A line for each part; how often rounds are gone through only where it stays."""
    assert say_parts(PICKS, order, stages, EN) == lines


def test_at_an_exercise() -> None:
    """The part it is in, and the sides of one set in a round."""
    pick = pick_of("bend")
    assert say_part_at(pick, EN) == ()
    assert say_part_at(replace(pick, part=PartKind.COOL_DOWN), EN) == ("To cool down, at the end.",)
    assert order_of([replace(pick, part=PartKind.ROUNDS), pick_of("lift")], None) == SessionOrder({"bend": PartKind.ROUNDS})
    assert (turn_dose(HOLD, PartKind.ROUNDS).sets, turn_dose(HOLD, PartKind.WARM_UP).sets, turn_dose(HOLD, None).sets) == (1, 2, 2)
    assert fits_rounds(replace(HOLD, side=Side.BOTH))
    assert not fits_rounds(replace(HOLD, side=Side.ONE_SIDE_FIRST))
    assert not fits_rounds(replace(TIMED, work=WorkKind.RUN_WALK))


def taken(*slugs: str) -> Pick:
    """Heel raises with something in place of a chair."""
    return replace(pick_of("heel-raise"), substitutes=tuple(Ref(slug, PLACE) for slug in slugs))


COUNTS = "Where the dose says something else, do what this says."


def test_in_place_of_things() -> None:
    """What is taken stands with its words; which of both counts is said where it has a number, or where the dose has a band."""
    library: Library = TWINS
    dose = replace(HOLD, effort=Span(1, 2))
    assert say_substitutes(taken(), dose, library, EN) == ()
    assert say_substitutes(taken("chair-bench"), dose, library, EN) == ("In place of Chair: Bench. Lean on it for 5 seconds.", COUNTS)
    assert say_substitutes(taken("chair-wall"), dose, library, EN) == ("In place of Chair: Bench. Push it against a wall.",)
    band = replace(dose, band=Ref("light", PLACE))
    assert say_substitutes(taken("chair-wall"), band, library, EN)[1:] == (COUNTS,)
    assert say_substitutes(taken(), band, library, EN) == ()


def test_what_is_taken_is_fetched() -> None:
    """In place of what is missing, each thing once; the rest of the exercise stays as it is."""
    raised = TWINS.exercise["heel-raise"]
    chair = replace(raised, equipment=(Ref("chair", PLACE), Ref("bench", PLACE)))
    found, dose = given_pick(chair, taken("chair-bench"), TWINS)
    assert [ref.slug for ref in found.equipment] == ["bench"]
    assert replace(found, equipment=chair.equipment) == chair and dose == chair.dose
    assert given_pick(chair, taken(), TWINS)[0] is chair
    policy: SessionPolicy = POLICY
    assert add_up_session([(found, dose)], policy).equipment == ("bench",)

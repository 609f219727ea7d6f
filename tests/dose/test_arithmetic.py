"""What doses add up to, held against worked examples."""

from __future__ import annotations

import pytest

from handouts.dose.arithmetic import Totals, add_up, allowed_range, change_dose, forbidden_changes, outside_range
from handouts.model import Dose, DoseChange, DoseRange, Side, Span, Tempo
from handouts.problems import Place
from tests.builders import an_exercise

HERE = Place("test")


def a_dose(**fields: object) -> Dose:
    """A dose of the given fields."""
    return Dose(place=HERE, **fields)  # type: ignore[arg-type]


# Session time = sets x sides x reps x (tempo + hold) + rest x (sets x sides - 1): three worked examples
# computed by hand from that formula.
@pytest.mark.parametrize(
    ("dose", "seconds"),
    [
        (a_dose(sets=3, reps=10, tempo=Tempo(2, 0, 2), rest_seconds=60), 240),
        (a_dose(sets=3, reps=10, side=Side.BOTH, hold_seconds=5, tempo=Tempo(2, 0, 2), rest_seconds=30), 690),
        (a_dose(sets=3, reps=10, side=Side.ONE_SIDE_FIRST, hold_seconds=5, tempo=Tempo(2, 0, 2), rest_seconds=30), 690),
        (a_dose(sets=4, hold_seconds=30, rest_seconds=10), 150),
        (a_dose(sets=1, reps=5, hold_seconds=10), 50),  # holds alone: without a tempo only they count
        (a_dose(sets=1, time_seconds=300), 300),
        # 0.8 m/s is the slower edge of community walking (Perry et al., Stroke 1995;26:982, from memory):
        # 200 m / 0.8 m/s = 250 s, twice, with one rest of 60 s
        (a_dose(sets=2, distance_metres=200, rest_seconds=60), 560),
        # heel to toe, one foot length (0.152 of a height of 1.70 m: Drillis and Contini 1966) in 2 s is 0.13 m/s:
        # 3 m / 0.13 m/s = 23 s, six times, with five rests of 15 s
        (a_dose(sets=6, distance_metres=3, pace_metres_per_second=0.13, rest_seconds=15), 213),
    ],
)
def test_session_seconds(dose: Dose, seconds: int) -> None:
    """The length of a session agrees with the worked example."""
    assert add_up(dose).seconds == seconds


def test_side_lying_strength_dose() -> None:
    """Three sets of 15 a side are 90 repetitions (common practice, no source), of 5 seconds."""
    assert add_up(a_dose(sets=3, reps=15, side=Side.BOTH, tempo=Tempo(2, 1, 2))).seconds == 90 * 5


def test_alternating_repetitions() -> None:
    """Ten alternating repetitions are ten in all, five on each side (common practice, no source)."""
    assert add_up(a_dose(sets=1, reps=10, side=Side.ALTERNATING, tempo=Tempo(2, 0, 2))).seconds == 40


def test_whole_totals() -> None:
    """A pause takes time as well, and the week counts times a day."""
    dose = a_dose(sets=2, reps=5, tempo=Tempo(2, 1, 3, 4), rest_seconds=30, days=3, times=2)
    assert add_up(dose) == Totals(seconds=130, seconds_a_week=780)


def test_unknown_length_is_not_invented() -> None:
    """Without tempo and hold the time of a set of repetitions is unknown."""
    assert add_up(a_dose(sets=3, reps=10, days=3)) == Totals(None, None)


def test_range_edges() -> None:
    """A dose on the edge of its range is inside, one past it is not."""
    allowed = DoseRange(place=HERE, reps=Span(5, 15))
    assert outside_range(a_dose(reps=15), allowed) == ()
    assert outside_range(a_dose(reps=16), allowed) == (("reps", 16, Span(5, 15)),)


def test_changes_are_held_to_the_range() -> None:
    """A moved number needs a range that holds it; an unmoved one needs none."""
    dose = a_dose(sets=3, reps=10)
    allowed = DoseRange(place=HERE, reps=Span(5, 15))
    assert forbidden_changes(dose, DoseChange(place=HERE, reps=15, sets=3), allowed) == ()
    assert forbidden_changes(dose, DoseChange(place=HERE, reps=4), allowed) == (("reps", 4, Span(5, 15)),)
    assert forbidden_changes(dose, DoseChange(place=HERE, sets=2), allowed) == (("sets", 2, None),)


def test_changed_dose() -> None:
    """Only the moved numbers differ."""
    dose = a_dose(sets=3, reps=10, rest_seconds=60, days=3)
    assert change_dose(dose, DoseChange(place=HERE, reps=8, days=5)) == a_dose(sets=3, reps=8, rest_seconds=60, days=5)
    assert change_dose(dose, None) is dose


def test_an_open_dose_begins_at_one() -> None:
    """One set, one day and one repetition are the least that a clinician may fill in where the author bounds none of them; what is bounded stays."""
    allowed = allowed_range(an_exercise(dose=a_dose(sets=0), dose_range=None))
    assert allowed and allowed.sets and allowed.days and allowed.reps
    assert (allowed.sets.low, allowed.days.low, allowed.reps.low) == (1, 1, 1)
    held = allowed_range(an_exercise(dose=a_dose(sets=0), dose_range=DoseRange(place=HERE, sets=Span(2, 3), hold_seconds=Span(5, 30))))
    assert held and (held.sets, held.reps, held.hold_seconds) == (Span(2, 3), None, Span(5, 30))

"""A dose in words: right plural, right order, in the language's own punctuation."""

from __future__ import annotations

from typing import Any

import pytest

from handouts.dose.facts import dose_facts
from handouts.dose.phrase import (
    DoseNames,
    about_minutes,
    dose_line,
    effort_line,
    frequency_line,
    rest_line,
    tempo_line,
    time_phrase,
    turn_line,
)
from handouts.model import Dose, Limb, Side, Span, Tempo
from handouts.problems import Place
from handouts.words.wording import Wording
from tests.bundle.page_only import span_line

ENGLISH = Wording("en")


def a_dose(**fields: Any) -> Dose:
    """A dose with some fields."""
    return Dose(place=Place("test"), **fields)


@pytest.mark.parametrize(
    ("fields", "line"),
    [
        ({"sets": 3, "reps": 10, "side": Side.BOTH}, "3 sets of 10, each side"),
        ({"sets": 1, "reps": 1}, "1 time"),
        ({"sets": 1, "reps": 12, "side": Side.ONE}, "12 times, on the side we agreed"),
        # ten alternating repetitions are five a side (common practice, no source)
        ({"sets": 2, "reps": 10, "side": Side.ALTERNATING}, "2 sets of 10, changing sides, 5 on each side"),
        ({"sets": 2, "reps": 9, "side": Side.ALTERNATING}, "2 sets of 9, changing sides each time"),
        ({"sets": 2, "reps": 8, "hold_seconds": 5}, "2 sets of 8, hold 5 seconds each time"),
        ({"sets": 2, "reps": 8, "hold_seconds": 1}, "2 sets of 8, hold 1 second each time"),
        ({"sets": 3, "hold_seconds": 30, "side": Side.BOTH}, "3 holds of 30 seconds, each side"),
        ({"sets": 1, "hold_seconds": 1}, "1 hold of 1 second"),
        ({"time_seconds": 300}, "5 minutes"),
        ({"sets": 2, "time_seconds": 60}, "2 sets of 1 minute"),
        ({"sets": 2, "time_seconds": 150}, "2 sets of 2 minutes 30 seconds"),
        ({"distance_metres": 200}, "200 meters"),
        ({"sets": 4, "distance_metres": 50}, "4 sets of 50 meters"),
        ({"sets": 3, "reps": 10, "weight_kg": 2.5}, "3 sets of 10, with 2.5 kg"),
    ],
)
def test_lines(fields: dict[str, Any], line: str) -> None:
    """Each kind of dose in one line."""
    assert dose_line(a_dose(**fields), ENGLISH) == line


def test_band_is_named() -> None:
    """The band is called what the library calls it."""
    assert dose_line(a_dose(sets=2, reps=10), ENGLISH, DoseNames(band="light")) == "2 sets of 10, band: light"


@pytest.mark.parametrize(
    ("fields", "line"),
    [
        ({}, ""),
        ({"days": 3}, "3 days a week"),
        ({"days": 1}, "1 day a week"),
        ({"days": 7}, "every day"),
        ({"days": 7, "times": 2}, "every day, 2 times a day"),
        ({"times": 3}, "3 times a day"),
    ],
)
def test_frequency(fields: dict[str, Any], line: str) -> None:
    """Days a week and times a day."""
    assert frequency_line(a_dose(reps=1, **fields), ENGLISH) == line


@pytest.mark.parametrize(
    ("fields", "line"),
    [
        ({"sets": 3, "rest_seconds": 60}, "rest 1 minute between sets"),
        ({"sets": 3, "rest_seconds": 45}, "rest 45 seconds between sets"),
        ({"sets": 3, "rest_seconds": 90}, "rest 90 seconds between sets"),
        ({"sets": 3, "rest_seconds": 0}, ""),
        ({"sets": 1, "rest_seconds": 60}, ""),
        ({"sets": 1, "rest_seconds": 60, "side": Side.BOTH}, "rest 1 minute between sets"),
    ],
)
def test_rest(fields: dict[str, Any], line: str) -> None:
    """A rest is said only where there is something to rest between."""
    assert rest_line(a_dose(reps=10, **fields), ENGLISH) == line


def test_tempo() -> None:
    """Parts of no length are left out."""
    assert tempo_line(Tempo(2, 1, 3), ENGLISH) == "2 seconds to move, 1 second hold, 3 seconds back"
    assert tempo_line(Tempo(2, 0, 1, 1), ENGLISH) == "2 seconds to move, 1 second back, 1 second pause"
    assert tempo_line(None, ENGLISH) == ""


def test_effort() -> None:
    """Effort as one number or as a range, on the scale from 0 to 10."""
    assert effort_line(Span(4, 6), ENGLISH) == "effort 4 to 6 out of 10"
    assert effort_line(Span(5, 5), ENGLISH) == "effort 5 out of 10"
    assert effort_line(None, ENGLISH) == ""


@pytest.mark.parametrize(
    ("name", "span", "line"),
    [
        ("sets", Span(1, 4), "1 to 4 sets"),
        ("reps", Span(5, 15), "5 to 15 times"),
        ("reps", Span(8, 8), "8 times"),
        ("hold_seconds", Span(5, 20), "5 to 20 seconds"),
        ("time_seconds", Span(60, 300), "1 to 5 minutes"),
        ("rest_seconds", Span(30, 60), "30 to 60 seconds"),
        ("distance_metres", Span(50, 200), "50 to 200 meters"),
        ("days", Span(2, 3), "2 to 3 days a week"),
        ("days", Span(7, 7), "every day"),
        ("weight_kg", Span(0.5, 2), "0.5 to 2 kg"),
        ("weight_kg", Span(2, 2), "2 kg"),
    ],
)
def test_spans(name: str, span: Span, line: str) -> None:
    """How far a clinician may move each number."""
    assert span_line(name, span, ENGLISH) == line


@pytest.mark.parametrize(
    ("seconds", "line"),
    [(1, "1 second"), (59, "59 seconds"), (60, "1 minute"), (90, "90 seconds"), (119, "119 seconds"),
     (120, "2 minutes"), (121, "2 minutes 1 second"), (600, "10 minutes")],
)
def test_times(seconds: int, line: str) -> None:
    """Whole minutes are said in minutes; up to two minutes, seconds are easier to count."""
    assert time_phrase(seconds, ENGLISH) == line


def test_about_minutes() -> None:
    """Never zero minutes."""
    assert [about_minutes(seconds, ENGLISH) for seconds in (10, 89, 91, 600)] == [
        "about 1 minute", "about 1 minute", "about 2 minutes", "about 10 minutes",
    ]


def test_facts() -> None:
    """Large numerals in the order in which they are read, each with its word."""
    dose = a_dose(sets=3, reps=10, side=Side.BOTH, hold_seconds=5, rest_seconds=90, days=3, times=2, effort=Span(4, 6), weight_kg=2.5)
    assert [tuple(fact) for fact in dose_facts(dose, ENGLISH)] == [
        ("3", "sets", "sets"),
        ("10", "times, each side", "reps"),
        ("5", "seconds hold", "hold"),
        ("2.5", "kg", "weight"),
        ("90", "seconds rest", "rest"),
        ("2", "times a day", "times"),
        ("3", "days a week", "days"),
        ("4–6", "effort out\u00a0of\u00a010", "effort"),
    ]
    assert [tuple(fact) for fact in dose_facts(a_dose(sets=1, hold_seconds=20), ENGLISH)] == [
        ("1", "hold", "holds"), ("20", "seconds", "hold"),
    ]
    assert [tuple(fact) for fact in dose_facts(a_dose(time_seconds=60), ENGLISH)] == [("1", "set", "sets"), ("1", "minute", "minutes")]


@pytest.mark.parametrize(
    ("language", "fields", "line"),
    [
        ("es", {"sets": 3, "reps": 10, "side": Side.BOTH}, "3 series de 10, de cada lado"),
        ("es", {"sets": 1, "reps": 1}, "1 vez"),
        ("es", {"sets": 3, "hold_seconds": 30}, "Mantenga la posición 30 segundos, 3 veces"),
    ],
)
def test_other_languages(language: str, fields: dict[str, Any], line: str) -> None:
    """Order, plural and punctuation are the translator's."""
    assert dose_line(a_dose(**fields), Wording(language)) == line


@pytest.mark.parametrize("language", ["en", "es", "en-XA", "ar-XB"])
def test_no_raw_ids(language: str) -> None:
    """No output holds a placeholder, or the raw id of a unit that a gap in CLDR would print."""
    wording = Wording(language)
    for number in (0, 1, 2, 3, 5, 11, 21, 100):
        dose = a_dose(sets=number, reps=number, hold_seconds=number, rest_seconds=number, days=number, times=number, effort=Span(1, number + 1))
        said = " ".join([dose_line(dose, wording), frequency_line(dose, wording), rest_line(dose, wording),
                         *(f"{fact.numeral} {fact.word}" for fact in dose_facts(dose, wording))])
        assert not any(raw in said for raw in ("{", "}", "duration-", "angle-", "length-"))


@pytest.mark.parametrize(("fields", "words"), [
    ({"sets": 3, "reps": 10, "side": Side.BOTH, "limb": Limb.LEG}, "Do one set. Change legs. Do the next set. Go on in turn until each leg has done all sets."),
    ({"sets": 3, "reps": 10, "side": Side.ONE_SIDE_FIRST, "limb": Limb.ARM}, "Do all sets with one arm. Change arms. Do all sets with the other arm."),
    ({"sets": 2, "time_seconds": 30, "side": Side.ONE_SIDE_FIRST}, "Do all sets on one side. Change sides. Do all sets on the other side."),
    ({"sets": 3, "hold_seconds": 20, "side": Side.BOTH}, "Hold once. Change sides. Hold once. Go on in turn until each side has done all holds."),
    ({"sets": 3, "hold_seconds": 20, "side": Side.ONE_SIDE_FIRST, "limb": Limb.LEG}, "Do all holds with one leg. Change legs. Do all holds with the other leg."),
    ({"sets": 1, "reps": 10, "side": Side.BOTH, "limb": Limb.LEG}, "Do it with one leg. Change legs. Do it with the other leg."),
    ({"sets": 1, "reps": 10, "side": Side.ONE_SIDE_FIRST}, "Do it on one side. Change sides. Do it on the other side."),
    ({"sets": 3, "reps": 10, "side": Side.ONE}, ""), ({"sets": 3, "reps": 10, "side": Side.ALTERNATING, "limb": Limb.LEG}, ""), ({"sets": 3, "reps": 10}, ""),
])
def test_when_to_change_sides(fields: dict[str, object], words: str) -> None:
    """The words follow from the dose alone, so that they cannot contradict it; where nothing changes they say nothing."""
    assert turn_line(Dose(place=Place("a"), **fields), Wording("en")) == words  # type: ignore[arg-type]


@pytest.mark.parametrize("language", ["en", "es", "fr", "ar", "vi", "zh-Hans"])
def test_each_change_of_sides_has_its_own_words(language: str) -> None:
    """No two of the five ways are said alike for one limb, and no limb's words are another's."""
    ways = [(side, sets, amount) for side in (Side.BOTH, Side.ONE_SIDE_FIRST) for sets, amount in ((3, {"reps": 10}), (3, {"hold_seconds": 10}))]
    said = [turn_line(Dose(place=Place("a"), sets=sets, side=side, limb=limb, **amount), Wording(language)) for side, sets, amount in ways for limb in Limb]
    said += [turn_line(Dose(place=Place("a"), sets=1, reps=10, side=Side.BOTH, limb=limb), Wording(language)) for limb in Limb]
    assert len(set(said)) == 15

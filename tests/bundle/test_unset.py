"""What a clinician has still to fill in of an open dose: Python and the page's script name the same fields in the same order."""

from __future__ import annotations

from random import Random

from handouts.bundle.catalogue import dose_json, range_json
from handouts.bundle.fields import NAMES
from handouts.dose.arithmetic import unset_fields
from handouts.model import Dose, DoseRange, Side, Span, Tempo
from handouts.problems import Place
from tests.scripts.node import ask_script

PLACE = Place("test")
OFFERED = {
    "sets": Span(1, 4), "reps": Span(5, 15), "hold_seconds": Span(5, 30), "time_seconds": Span(60, 300), "distance_metres": Span(10, 50),
    "days": Span(1, 7), "times": Span(2, 3), "rest_seconds": Span(15, 60), "effort": Span(3, 6), "weight_kg": Span(1, 3),
    "tempo": (Tempo(2, 0, 2), Tempo(3, 0, 3)), "side": (Side.BOTH, Side.ONE),
}  # fmt: skip
SET = {
    "reps": 8, "hold_seconds": 10, "time_seconds": 60, "distance_metres": 20, "days": 3, "times": 2, "rest_seconds": 30, "effort": Span(3, 4),
    "weight_kg": 2.0, "tempo": Tempo(2, 0, 2), "side": Side.BOTH,
}  # fmt: skip


def test_both_name_the_same_fields() -> None:
    """500 random ranges, with some of the fields filled in; one of them offers all and nothing is set."""
    random = Random(5)
    cases = [(Dose(place=PLACE, sets=0), DoseRange(place=PLACE, **OFFERED))]
    for _ in range(500):
        offered = {name: value for name, value in OFFERED.items() if random.random() < 0.6}
        given = {name: value for name, value in SET.items() if random.random() < 0.4}
        cases.append((Dose(place=PLACE, sets=random.choice((0, 2)), **given), DoseRange(place=PLACE, **offered)))
    wanted = [[NAMES[name] for name in unset_fields(dose, allowed)] for dose, allowed in cases]
    said = ask_script("unset", [{"dose": dose_json(dose), "range": range_json(allowed)} for dose, allowed in cases])
    assert set(wanted[0]) == {NAMES[name] for name in OFFERED}
    assert [set(each) for each in said] == [set(each) for each in wanted]
    assert [each[:1] for each in said] == [each[:1] for each in wanted]

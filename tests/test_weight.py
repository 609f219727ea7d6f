"""Weights in kilograms and pounds: kept exactly, shown in the clinic's unit, the same here and in the browser.

1 lb = 0.45359237 kg exactly (the international pound of 1959; NIST SP 811, appendix B, from memory).
"""

from __future__ import annotations

from dataclasses import replace
from random import Random

import pytest

from handouts.bundle.catalogue import make_catalogue
from handouts.bundle.page_data import BookInputs, make_book
from handouts.bundle.refusals import say_refusal
from handouts.bundle.values import Refusal, RefusalKind
from handouts.dose.facts import dose_facts
from handouts.dose.phrase import dose_line
from handouts.dose.progression import build_progression
from handouts.dose.weight import exact_weight, kilograms_of, shown_weight, weight_of, write_weight
from handouts.importers.dose_words import find_dose
from handouts.importers.sheet import read_csv
from handouts.importers.table import take_in_table
from handouts.ledger.parts import changed_parts, exercise_parts
from handouts.ledger.stamp import stamps_of
from handouts.ledger.write import write_dose
from handouts.limits.find import find_conflicts
from handouts.model import Dose, Span, Units, WeightUnit
from handouts.problems import Place
from handouts.words.wording import Wording
from tests.bundle.page_only import shown_span, span_line
from tests.scripts.node import ask_script
from tests.small_library import messages, small_library, texts_with

FOOT = "exercises/foot-lift.md"
IN_POUNDS = ("invented: yes", "invented: yes\nunits: {weight: lb}")


def lb(number: float) -> float:
    """Pounds as kilograms."""
    return kilograms_of(number, "lb")


@pytest.mark.parametrize(("kilograms", "in_pounds", "shown"), [
    # what is written in the clinic's unit is shown as it was written, however fine
    (2.25, False, 2.25), (0.2, False, 0.2), (lb(5), True, 5), (lb(2.75), True, 2.75), (lb(0.01), True, 0.01),
    # 5 x 0.45359237 = 2.26796185; 10 -> 4.5359237; 1 -> 0.45359237; 3 -> 1.36077711
    (lb(5), False, 2.5), (lb(10), False, 4.5), (lb(1), False, 0.45), (lb(3), False, 1.5), (lb(2), False, 1),
    # 1 / 0.45359237 = 2.2046; 0.5 -> 1.1023; 2.5 -> 5.5116; 100 -> 220.46; 0.2 -> 0.4409, below one step
    (1, True, 2), (0.5, True, 1), (2.5, True, 5.5), (100, True, 220.5), (0.2, True, 0.44), (0, True, 0),
])
def test_shown(kilograms: float, in_pounds: bool, shown: float) -> None:
    """Worked values of what readers see."""
    assert shown_weight(kilograms, in_pounds) == shown


@pytest.mark.parametrize(("low", "high", "in_pounds", "shown"), [
    (lb(2), lb(10), True, (2, 10)), (lb(2), lb(10), False, (1, 4.5)),  # 0.907 to 4.536 kg
    (0.5, 3, False, (0.5, 3)), (0.5, 3, True, (1.5, 6.5)),  # 1.10 to 6.61 lb
    (lb(5), lb(5), False, (2.27, 2.27)), (0, 2, True, (0, 4)),
])
def test_shown_range(low: float, high: float, in_pounds: bool, shown: tuple[float, float]) -> None:
    """A range that is shown in the other unit lies within the one that was written."""
    assert shown_span(low, high, in_pounds) == shown


def test_exact() -> None:
    """What is compared is given to the hundredth."""
    assert [exact_weight(lb(10), False), exact_weight(4.5, True), exact_weight(lb(10), True)] == [4.54, 9.92, 10]


def test_written_and_read_again() -> None:
    """The ledger's line of a dose gives the same dose, in the unit in which it was written."""
    for text, kilograms in (("5 lb", lb(5)), ("2.5 kg", 2.5), ("0.01 lb", lb(0.01)), ("100 kg", 100), ("12.05 lb", lb(12.05))):
        assert write_weight(kilograms) == text
        assert f"weight: {text}" in write_dose(Dose(place=Place("x"), reps=1, weight_kg=kilograms))
        read = small_library(texts_with(FOOT, ("effort: 3-5", f"effort: 3-5, weight: {text}"))).exercise["foot-lift"].dose
        assert read.weight_kg == kilograms


def test_the_browser_shows_the_same() -> None:
    """5,000 weights of either unit and their ranges, in either unit."""
    random = Random(3)
    weights = [weight_of(random.randint(0, 22_046 if pounds else 10_000), pounds) for pounds in (True, False) for _ in range(2500)]
    pairs = [sorted(random.sample(weights, 2)) for _ in range(2000)]
    shown, spans, typed = ask_script("weights", {"weights": weights, "pairs": pairs})
    assert shown == [[[shown_weight(one, unit), exact_weight(one, unit)] for unit in (False, True)] for one in weights]
    assert spans == [[list(shown_span(low, high, unit)) for unit in (False, True)] for low, high in pairs]
    assert typed == [lb(5), None, 2.25]


@pytest.mark.parametrize(("language", "in_pounds", "said"), [
    ("en", False, ("8 times, with 2.5 kg", "1 to 4.5 kg", "2.5 kg")), ("en", True, ("8 times, with 5 lb", "2 to 10 lb", "5 lb")),
    ("es", True, ("8 veces, con 5 libras", "de 2 a 10 libras", "5 libras")), ("fr", True, ("8 fois, avec 5 livres", "de 2 à 10 livres", "5 livres")),
    ("vi", True, ("8 lần, với 5 pound", "2 đến 10 pound", "5 pound")), ("zh-Hans", True, ("8次，负重5磅", "2到10磅", "5 磅")),
    ("ar", True, ("8 مرات، بوزن 5 أرطال", "من 2 إلى 10 أرطال", "5 أرطال")),
])
def test_said(language: str, in_pounds: bool, said: tuple[str, str, str]) -> None:
    """A dose of 5 lb, its range of 2 to 10 lb, and its large numeral, in each language."""
    wording = Wording(language, in_pounds=in_pounds)
    dose = Dose(place=Place("x"), reps=8, weight_kg=lb(5))
    fact = next(each for each in dose_facts(dose, wording) if each.kind == "weight")
    assert (dose_line(dose, wording), span_line("weight_kg", Span(lb(2), lb(10)), wording), f"{fact.numeral} {fact.word}") == said


def test_one_pound_has_its_own_form() -> None:
    """Plurals are the language's own."""
    one, two = (Dose(place=Place("x"), reps=8, weight_kg=lb(number)) for number in (1, 2))
    assert dose_line(one, Wording("es", in_pounds=True)).endswith("con 1 libra")
    assert dose_line(one, Wording("ar", in_pounds=True)).endswith("بوزن رطل واحد")
    assert dose_line(two, Wording("ar", in_pounds=True)).endswith("بوزن رطلين")


def test_a_weight_in_another_unit_is_pointed_out() -> None:
    """The author reads what readers will see, at the dose and at a changed dose."""
    mend = "Write it in kg; or write 'units: {weight: lb}' in clinic.yaml, where the clinic's weights are in lb. [weight-unit]"
    edits = (("effort: 3-5", "effort: 3-5, weight: 5 lb"), ("sets: 1-3", "sets: 1-3, weight: 2-10 lb"))
    bundle = texts_with("bundles/first-days.yaml", ("[foot-lift,", "[{exercise: foot-lift, dose: {weight: 3 lb}},"))["bundles/first-days.yaml"]
    texts = texts_with(FOOT, *edits, **{"bundles/first-days.yaml": bundle})
    assert messages(texts) == [
        f"content/bundles/first-days.yaml:3:50: notice: the weight of 3 lb is shown to readers as 1.5 kg. {mend}",
        f"content/exercises/foot-lift.md:10:83: notice: the weight of 5 lb is shown to readers as 2.5 kg. {mend}",
    ]
    clinic = texts_with("clinic.yaml", IN_POUNDS)["clinic.yaml"]
    assert messages({**texts, "clinic.yaml": clinic}) == []
    kilograms = {path: text.replace("5 lb", "2 kg").replace("2-10 lb", "1-4 kg").replace("3 lb", "3.5 kg") for path, text in texts.items()}
    assert [line.split("notice: ")[1].split(". ")[0] for line in messages({**kilograms, "clinic.yaml": clinic})] == [
        "the weight of 3.5 kg is shown to readers as 7.5 lb", "the weight of 2 kg is shown to readers as 4.5 lb",
    ]


@pytest.mark.parametrize(("edit", "message"), [
    ("weight: 10-2 lb", "content/exercises/foot-lift.md:11:33: error: the range '10-2 lb' runs backwards. Write the lower number first. [wrong-value]"),
    ("weight: 2-10", "content/exercises/foot-lift.md:11:33: error: '2-10' is not a range of weights such as 0.5-3 kg or 2-10 lb, at most 100 kg. Write a range of weights such as 0.5-3 kg or 2-10 lb, at most 100 kg. [wrong-value]"),
    ("weight: 2-221 lb", "content/exercises/foot-lift.md:11:33: error: '2-221 lb' reaches above 100 kg. Write a range of weights such as 0.5-3 kg or 2-10 lb, at most 100 kg. [wrong-value]"),
])
def test_a_range_that_cannot_be_read(edit: str, message: str) -> None:
    """The whole message."""
    assert message in messages(texts_with(FOOT, ("effort: 3-5", "effort: 3-5, weight: 5 lb"), ("sets: 1-3", f"sets: 1-3, {edit}")))


def test_a_dose_outside_its_range_names_both_units() -> None:
    """Each number stands as it was typed."""
    texts = texts_with(FOOT, ("effort: 3-5", "effort: 3-5, weight: 5 lb"), ("sets: 1-3", "sets: 1-3, weight: 3-4 kg"))
    assert any("the dose's weight of 5 lb lies outside its range of 3 kg to 4 kg." in line for line in messages(texts))


def test_stamps() -> None:
    """Kilograms make no new version, not even written out; pounds make one of each exercise with a weight, for its dose."""
    texts = texts_with(FOOT, ("effort: 3-5", "effort: 3-5, weight: 5 lb"))
    plain = small_library(texts)
    written, pounds = (replace(plain, clinic=replace(plain.clinic, units=Units(place=Place("x"), weight=unit))) for unit in WeightUnit)
    exercises = {name: stamp for name, stamp in stamps_of(plain).items() if name}
    assert {name: stamp for name, stamp in stamps_of(written).items() if name} == exercises
    changed = {name for name, stamp in stamps_of(pounds).items() if name and stamp != exercises[name]}
    assert changed == {"exercises/foot-lift", "programmes/stand-up", "bundles/first-days"}
    before, after = (exercise_parts(library.exercise["foot-lift"], library) for library in (plain, pounds))
    assert changed_parts(before, after) == ("dose",)


LIMITS = """\
limits:
  - slug: light
    name: Light loads
    says: Lift no more than this.
    source: common practice, no source
    status: clinic's choice
    phases: [{{name: Always, bounds: [{{{bound}}}]}}]
"""


@pytest.mark.parametrize(("weight", "bound", "exceeds"), [
    # 10 lb are 4.536 kg
    ("10 lb", "kilograms at most: 4.53", True), ("10 lb", "kilograms at most: 4.54", False), ("10 lb", "pounds at most: 10", False),
    ("10 lb", "pounds at most: 9.99", True), ("4.54 kg", "pounds at most: 10", True), ("4.53 kg", "pounds at most: 10", False),
])
def test_limits_hold_for_both_units(weight: str, bound: str, exceeds: bool) -> None:
    """A weight in one unit against a bound in the other, to a gram."""
    texts = texts_with(FOOT, ("effort: 3-5", f"effort: 3-5, weight: {weight}"), **{"limits.yaml": LIMITS.format(bound=bound)})
    library = small_library(texts)
    found = find_conflicts(library.exercise["foot-lift"], None, library.limits)
    assert bool(found) == exceeds


def test_a_bound_in_both_units_is_refused() -> None:
    """Two keys that say the same are one too many."""
    texts = texts_with(FOOT, **{"limits.yaml": LIMITS.format(bound="kilograms at most: 4, pounds at most: 9")})
    assert "content/limits.yaml:7:61: error: 'kilograms at most' and 'pounds at most' say the same thing. Keep one of them. [wrong-value]" in messages(texts)


def test_refusal_in_the_clinics_unit() -> None:
    """A weight outside the range of a code is told in the clinic's unit."""
    library = small_library()
    refusal = Refusal(RefusalKind.OUT_OF_BOUNDS, exercise="A222", field="weight", value=lb(20), low=lb(2), high=lb(10))
    assert say_refusal(refusal, library, Wording("en", in_pounds=True)).startswith("Foot lift, Weight in pounds: 20 is outside the dose range, 2 to 10.")
    assert say_refusal(refusal, library, Wording("en")).startswith("Foot lift, Weight in kilograms: 9.07 is outside the dose range, 0.91 to 4.54.")


@pytest.mark.parametrize(("in_pounds", "value", "bounds", "after"), [
    # 2.5 kg is how 5 lb are shown, so they stay 5 lb; 4.5 kg is the highest step below 10 lb; 0.91 and 4.54 kg are 2 and 10 lb
    (False, 2.5, [1, 4.5], [lb(5), 3, 4.5, "out-of-bounds", "out-of-bounds", "out-of-bounds", lb(2), lb(10)]),
    (True, 5, [2, 10], [lb(2.5), lb(3), lb(4.5), lb(5), "out-of-bounds", "out-of-bounds", "out-of-bounds", lb(4.54)]),
])
def test_the_field_of_the_bundle_page(in_pounds: bool, value: float, bounds: list[float], after: list[float | str]) -> None:
    """The field shows and takes the clinic's unit; every number that it offers is within the range that was written."""
    edits = (("effort: 3-5", "effort: 3-5, weight: 5 lb"), ("sets: 1-3", "sets: 1-3, weight: 2-10 lb"))
    library = small_library(texts_with(FOOT, *edits))
    wording = Wording("en", in_pounds=in_pounds)
    book = make_book(library, make_catalogue(library), build_progression(library), wording, BookInputs({}, {}, {}))
    assert ask_script("weightField", book) == [value, bounds, after, {"value": 5, "unit": "lb", "system": "http://unitsofmeasure.org", "code": "[lb_av]"}]


@pytest.mark.parametrize(("cell", "written"), [("5 lb", "5 lb"), ("5lbs", "5 lb"), ("5 pounds", "5 lb"), ("2.5 kilograms", "2.5 kg"), ("2 kg", "2 kg")])
def test_a_table_may_have_either_unit(cell: str, written: str) -> None:
    """A cell in words has the sign of its unit."""
    taken = take_in_table(read_csv(f"title,sets,reps,weight,range weight\nCurl,2,8,{cell},{cell}\n".encode(), "t.csv"), "t.csv")
    text = taken.files["exercises/curl.md"].decode()
    assert f"weight: {written}}}" in text and f"dose range: {{weight: {written}}}" in text


@pytest.mark.parametrize(("text", "said"), [
    ("Lift it 8 times with a 5 lb weight.", {"reps": "8", "weight": "5 lb"}), ("2 sets of 8, 2.5 kg dumbbells", {"sets": "2", "reps": "8", "weight": "2.5 kg"}),
    ("Weight: 3 pounds", {"weight": "3 lb"}), ("with 1 kg", {"weight": "1 kg"}), ("3 x 10 lb", {}), ("3 x 10 kg", {}), ("with a 2 to 5 lb weight", {}), ("If you weigh more than 100 kg, ask.", {}),
])
def test_a_text_may_have_either_unit(text: str, said: dict[str, str]) -> None:
    """What a document says literally is kept; a range is left to a person, and so is what a body weighs."""
    assert find_dose([text]).values == said


def test_easier_with_a_heavier_weight_names_both_as_written() -> None:
    """What is called easier and is heavier is told in the units that the authors wrote."""
    foot = texts_with(FOOT, ("effort: 3-5", "effort: 3-5, weight: 5 lb"))[FOOT]
    texts = texts_with("exercises/leg-lift.md", ("effort: 3-5", "effort: 4-6, weight: 2 kg"), ("easier: Lift half as high.", "easier: [{exercise: foot-lift, change: You lift less.}]"), **{FOOT: foot})
    found = [line for line in messages(texts) if "[easier-load]" in line]
    assert len(found) == 1 and "5 lb" in found[0] and "2 kg" in found[0], messages(texts)

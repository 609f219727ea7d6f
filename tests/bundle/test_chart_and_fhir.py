"""The text for the chart and the FHIR plan: whole, without a patient, and valid by fhir.resources."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest
from fhir.resources.plandefinition import PlanDefinition

from handouts.bundle.catalogue import make_catalogue
from handouts.bundle.chart import ChartNotes, chart_text
from handouts.bundle.code import encode_bundle
from handouts.bundle.fhir import fhir_plan
from handouts.bundle.link import patient_link, qr_parts
from handouts.bundle.values import PickedBundle
from handouts.model import Library
from handouts.words.wording import Wording
from tests.bundle.room import LIBRARY
from tests.bundle.sample import bundle_of, pick_of

EN = Wording("en")
STAMPS = {"": "LLLLLL", "exercises/sit": "AAAAAA", "exercises/stand": "BBBBBB", "exercises/walk": "CCCCCC"}
BUNDLE = bundle_of(pick_of("sit", sets=2), pick_of("stand", reps=12, rest_seconds=45), pick_of("walk"), location="main", language="es", weeks=2)


def code_of(bundle: PickedBundle, library: Library = LIBRARY) -> str:
    """The code of a bundle that must be accepted."""
    code = encode_bundle(bundle, make_catalogue(library))
    assert isinstance(code, str), code
    return code


def plan_of(library: Library = LIBRARY) -> dict[str, Any]:
    """The plan of the sample bundle."""
    return fhir_plan(BUNDLE, code_of(BUNDLE, library), library, EN, stamps=STAMPS)


def test_chart_text() -> None:
    """Every line of the chart, read whole."""
    text = chart_text(BUNDLE, "THECODE", LIBRARY, EN, stamps=STAMPS, notes=ChartNotes(("New hip (weeks 1 to 6)",), ("Look here.",)))
    assert text.splitlines() == [
        "Home exercises: Test Clinic, Main Street",
        "Language of the sheet: Spanish. 2 weeks.",
        "1. Sit tall [S2T3 AAAAAA]: 2 sets of 10, 3 days a week, rest 1 minute between sets, effort 4 to 6 out of 10, 2 seconds to move, 1 second hold, 3 seconds back",
        "2. Stand up [S2T4 BBBBBB]: 3 sets of 12, each side, 3 days a week, rest 45 seconds between sets, 2 seconds to move, 2 seconds back",
        "3. Walk [S2T5 CCCCCC]: 20 minutes, every day, 2 times a day",
        # 2 x 10 x 6 s + 60 s = 180 s; 3 x 2 x 12 x 4 s + 5 x 45 s = 513 s; 1,200 s; 1 change and 2 pauses of 30 s.
        "One session: about 33 minutes",
        # 540 + 1,539 + 14 x 1,200 s, and 90 s on the 3 days of all three; in 11 sessions there is only the walk.
        "A week: about 319 minutes",
        "Equipment: Chair",
        "Precautions and restrictions: New hip (weeks 1 to 6)",
        "Pointed out when it was made:",
        "- Look here.",
        "Library version: LLLLLL",
        "Bundle code: THECODE",
    ]


def test_plan_is_valid_and_comes_back_the_same() -> None:
    """fhir.resources 8 (R5) accepts the plan and writes out the same values."""
    plan = plan_of()
    read = PlanDefinition.model_validate(plan)
    assert read.model_dump(mode="json", exclude_none=True)["action"] == plan["action"]
    assert len(read.contained) == 3


@pytest.mark.parametrize("broken", ["status", "kind", "definitionCanonical"])
def test_validator_can_say_no(broken: str) -> None:
    """The validator refuses a plan without its status and with a value of the wrong kind."""
    plan = plan_of()
    if broken == "status":
        del plan["status"]
    elif broken == "kind":
        plan["contained"][0]["kind"] = {"text": "exercise"}
    else:
        plan["action"][0]["definitionCanonical"] = 7
    with pytest.raises(ValueError, match=r"validation error"):
        PlanDefinition.model_validate(plan)


def test_plan_names_no_patient() -> None:
    """No subject, no participant, no author: nothing that could hold a person."""
    found = set(walk_keys(plan_of()))
    assert not found & {"subject", "subjectReference", "subjectCodeableConcept", "patient", "participant", "author", "performer", "contact"}


def walk_keys(value: Any) -> list[str]:
    """Every key of nested JSON."""
    if isinstance(value, dict):
        return [*value, *(key for item in value.values() for key in walk_keys(item))]
    return [key for item in value for key in walk_keys(item)] if isinstance(value, list) else []


def test_doses_are_coded() -> None:
    """Timing and quantities of each dose as coded values, not only as words."""
    sit, stand, walk = plan_of()["contained"]
    weeks = {"value": 2, "unit": "weeks", "system": "http://unitsofmeasure.org", "code": "wk"}
    assert sit["timingTiming"]["repeat"] == {"boundsDuration": weeks, "duration": 180, "durationUnit": "s", "frequency": 3, "period": 1, "periodUnit": "wk"}
    assert walk["timingTiming"]["repeat"]["frequency"] == 14
    assert parts_of(sit) == {"sets": (2, "{set}"), "repetitions": (10, "{repetition}"), "rest": (60, "s"), "effort": (4, 6), "tempo-go": (2, "s"), "tempo-hold": (1, "s"), "tempo-back": (3, "s"), "tempo-pause": (0, "s")}
    assert parts_of(stand)["side"] == "both"
    assert parts_of(walk) == {"sets": (1, "{set}"), "time": (1200, "s"), "times-a-day": (2, "{time}")}


def parts_of(activity: dict[str, Any]) -> dict[str, Any]:
    """The extensions of an activity by their last word."""
    found: dict[str, Any] = {}
    for item in activity["extension"]:
        name = item["url"].removeprefix("https://clinic.example/fhir/dose-")
        if "valueQuantity" in item:
            found[name] = (item["valueQuantity"]["value"], item["valueQuantity"]["code"])
        elif "valueRange" in item:
            found[name] = (item["valueRange"]["low"]["value"], item["valueRange"]["high"]["value"])
        else:
            found[name] = item["valueCode"]
    return found


def test_order_of_actions() -> None:
    """Each action names its activity, and comes after the one before it."""
    actions = plan_of()["action"]
    assert [action["definitionCanonical"] for action in actions] == ["#S2T3", "#S2T4", "#S2T5"]
    assert [action.get("relatedAction") for action in actions] == [None, [{"targetId": "S2T3", "relationship": "after"}], [{"targetId": "S2T4", "relationship": "after"}]]


def test_an_invented_clinic_is_experimental() -> None:
    """A made-up clinic's plan says that it is not for use; a real one's does not."""
    real = replace(LIBRARY, clinic=replace(LIBRARY.clinic, invented=False))
    assert plan_of()["experimental"] is True
    assert plan_of(real)["experimental"] is False


def test_link_and_its_parts() -> None:
    """The code stands behind the sign that no server sees."""
    link = patient_link(LIBRARY.clinic, "es", "ABC")
    assert link == "https://clinic.example/es/my/#ABC"
    assert qr_parts(link) == ("https://clinic.example/es/my/#", "ABC")


@pytest.mark.parametrize(("times", "said"), [(1, {}), (3, {"frequency": 3, "period": 1, "periodUnit": "d"})])
def test_without_days_in_a_week(times: int, said: dict[str, Any]) -> None:
    """How often a day stands where it is more than once; where nothing is said, nothing is made up."""
    exercises = tuple(replace(item, dose=replace(item.dose, days=None, times=times)) if item.slug == "walk" else item for item in LIBRARY.exercises)
    repeat = plan_of(replace(LIBRARY, exercises=exercises))["contained"][2]["timingTiming"]["repeat"]
    assert {key: repeat[key] for key in ("frequency", "period", "periodUnit") if key in repeat} == said

"""A bundle as an HL7 FHIR R5 ``PlanDefinition`` with one contained ``ActivityDefinition`` for each exercise.

It is a definition, not an order: it names no patient and holds no limit.  How often stands in ``timingTiming``;
the other numbers of the dose stand as quantities with UCUM codes in extensions whose addresses lie below
the clinic's site.  ``templates/scripts/src/bundle/fhir.js`` is the twin for the browser.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from handouts.bundle.given import given_items
from handouts.bundle.link import patient_link
from handouts.bundle.origins import Begun, begun_from, name_begun, say_begun
from handouts.bundle.values import PickedBundle
from handouts.bundle.whole_dose import dose_parts, say_beside, whole_dose
from handouts.dose.arithmetic import add_up
from handouts.dose.phrase import dose_names, join_parts
from handouts.dose.weight import HUNDREDTHS, hundredths_of
from handouts.model import Clinic, Dose, Exercise, Library, Pick, Side
from handouts.text.markup import plain_text
from handouts.words.wording import Wording

UCUM = "http://unitsofmeasure.org"
"""Code system of units; words in braces are annotations of the unit 1 (UCUM 2.1, section 6)."""
PLAN_TYPE = "http://terminology.hl7.org/CodeSystem/plan-definition-type"
EXTENSIONS = "fhir/dose-"
"""Path of the extensions below the clinic's site; the part of the dose follows."""
QUANTITIES = (
    ("sets", "sets", "sets", "{set}"),
    ("repetitions", "reps", "repetitions", "{repetition}"),
    ("hold", "hold_seconds", "s", "s"),
    ("time", "time_seconds", "s", "s"),
    ("distance", "distance_metres", "m", "m"),
    ("pace", "pace_metres_per_second", "m/s", "m/s"),
    ("times-a-day", "times", "times", "{time}"),
    ("repetitions-up-to", "reps_to", "repetitions", "{repetition}"),
    ("rate", "rate", "a minute", "/min"),
    ("warm-up", "warm_up_seconds", "s", "s"),
    ("cool-down", "cool_down_seconds", "s", "s"),
    ("rest-days", "rest_days", "days", "d"),
)
"""Part of the dose: its name, its attribute, its unit for readers, its UCUM code."""
EFFORT_UNIT = ("of 10", "{score}")


def fhir_plan(
    bundle: PickedBundle, code: str, library: Library, voice: Wording, *, stamps: Mapping[str, str]
) -> dict[str, Any]:
    """The resource as plain JSON values; texts in the language of ``library``."""
    clinic = library.clinic
    exercises = [library.exercise[pick.exercise.slug] for pick in bundle.picks]
    return {
        "resourceType": "PlanDefinition",
        "language": library.language,
        "contained": [
            _activity(exercise, pick, bundle.weeks, library=library, voice=voice, stamps=stamps)
            for exercise, pick in zip(exercises, bundle.picks, strict=True)
        ],
        "identifier": [{"system": f"{clinic.site}bundle-code", "value": code}],
        **_version(stamps.get("", "")),
        "title": voice.say(
            "clinician.chart_title", clinic=clinic.name, location=_location_name(clinic, bundle.location)
        ),
        **_begun(begun_from(bundle.origin, library), library, voice),
        "type": {"coding": [{"system": PLAN_TYPE, "code": "order-set"}]},
        "status": "active",
        "experimental": clinic.invented,
        "publisher": clinic.name,
        "relatedArtifact": [
            *_derived(begun_from(bundle.origin, library), library, voice),
            {
                "type": "documentation",
                "document": {"url": patient_link(clinic, bundle.language, code), "language": bundle.language},
            },
            *(
                {
                    "type": "documentation",
                    "display": plain_text(item.title.text),
                    "document": {"url": f"{clinic.site}{bundle.language}/{kind}/{item.slug}/", "language": bundle.language},
                }
                for kind, item in given_items(bundle, library)
            ),
        ],
        "action": [_action(index, exercises) for index in range(len(exercises))],
    }


def _version(stamp: str) -> dict[str, str]:
    """FHIR refuses an empty text: what has no stamp has no version."""
    return {"version": stamp} if stamp else {}


def _begun(begun: Begun, library: Library, voice: Wording) -> dict[str, str]:
    """In words what the bundle was begun from, and what of it is lost."""
    lines = say_begun(begun, library, voice)
    return {"description": "\n\n".join(lines)} if lines else {}


def _derived(begun: Begun, library: Library, voice: Wording) -> list[dict[str, str]]:
    """The programme and its step by name (R5 type ``derived-from``; from memory of the value set of types)."""
    name = name_begun(begun, library, voice)
    return [{"type": "derived-from", "display": name}] if name else []


def _location_name(clinic: Clinic, slug: str) -> str:
    return next(location.name for location in clinic.locations if location.slug == slug)


def _action(index: int, exercises: list[Exercise]) -> dict[str, Any]:
    exercise = exercises[index]
    found: dict[str, Any] = {"linkId": exercise.code, "title": exercise.title.text}
    if index:
        found["relatedAction"] = [{"targetId": exercises[index - 1].code, "relationship": "after"}]
    return {**found, "definitionCanonical": f"#{exercise.code}"}


def _activity(
    exercise: Exercise, pick: Pick, weeks: int, *, library: Library, voice: Wording, stamps: Mapping[str, str]
) -> dict[str, Any]:
    site, dose = library.clinic.site, whole_dose(pick, library)
    says = join_parts(dose_parts(dose, library, voice), voice)
    return {
        "resourceType": "ActivityDefinition",
        "id": exercise.code,
        "extension": _dose_extensions(dose, site),
        "identifier": [{"system": f"{site}exercise-code", "value": exercise.code}],
        **_version(stamps.get(f"exercises/{exercise.slug}", "")),
        "title": exercise.title.text,
        "status": "active",
        "experimental": library.clinic.invented,
        "description": "\n\n".join((says, *say_beside(pick, library, voice))),
        "kind": "ServiceRequest",
        "intent": "plan",
        "code": {
            "coding": [{"system": f"{site}exercise-code", "code": exercise.code, "display": exercise.title.text}],
            "text": exercise.title.text,
        },
        "timingTiming": {"repeat": _repeat(dose, weeks)},
        **({"asNeededCodeableConcept": {"text": names.occasion}} if (names := dose_names(dose, library)).occasion else {}),
    }


def _repeat(dose: Dose, weeks: int) -> dict[str, Any]:
    """How often, for how long, and how long each time where that is known."""
    found: dict[str, Any] = {"boundsDuration": _quantity(weeks, "weeks", "wk")}
    seconds = add_up(dose).seconds
    if seconds is not None:
        found |= {"duration": seconds, "durationUnit": "s"}
    if dose.every_minutes is not None:
        found |= {"frequency": 1, "period": dose.every_minutes, "periodUnit": "min"}
    elif dose.occasion is not None:
        pass  # nobody knows how often: ``asNeededCodeableConcept`` says when
    elif dose.days is not None:
        found |= {"frequency": dose.days * dose.times, "period": 1, "periodUnit": "wk"}
    elif dose.times > 1:
        found |= {"frequency": dose.times, "period": 1, "periodUnit": "d"}
    return found


def _dose_extensions(dose: Dose, site: str) -> list[dict[str, Any]]:
    found: list[dict[str, Any]] = []
    for name, attribute, unit, ucum in QUANTITIES:
        value = getattr(dose, attribute)
        if value is not None and not (attribute == "times" and value == 1):
            found.append({"url": f"{site}{EXTENSIONS}{name}", "valueQuantity": _quantity(value, unit, ucum)})
    if dose.weight_kg is not None:
        found.append({"url": f"{site}{EXTENSIONS}weight", "valueQuantity": _weight(dose.weight_kg)})
    if dose.rest_seconds:
        rest = _quantity(dose.rest_seconds, "s", "s")
        found.append({"url": f"{site}{EXTENSIONS}rest", "valueQuantity": rest})
    if dose.tempo is not None:
        for name in ("go", "hold", "back", "pause"):
            part = _quantity(getattr(dose.tempo, name), "s", "s")
            found.append({"url": f"{site}{EXTENSIONS}tempo-{name}", "valueQuantity": part})
    if dose.effort is not None:
        low, high = _quantity(dose.effort.low, *EFFORT_UNIT), _quantity(dose.effort.high, *EFFORT_UNIT)
        found.append({"url": f"{site}{EXTENSIONS}effort", "valueRange": {"low": low, "high": high}})
    if dose.side is not Side.TOGETHER:
        found.append({"url": f"{site}{EXTENSIONS}side", "valueCode": dose.side.value})
    if dose.band is not None:
        found.append({"url": f"{site}{EXTENSIONS}band", "valueCode": dose.band.slug})
    for name, code in (
        ("count", dose.counted and dose.counted.value),
        ("work", dose.work and dose.work.value),
        ("pace-words", dose.pace_words and dose.pace_words.slug),
    ):
        if code:
            found.append({"url": f"{site}{EXTENSIONS}{name}", "valueCode": code})
    return found


def _weight(kilograms: float) -> dict[str, Any]:
    """A weight in the unit in which it was written, so that it is exact."""
    hundredths, in_pounds = hundredths_of(kilograms)
    return _quantity(hundredths / HUNDREDTHS, *(("lb", "[lb_av]") if in_pounds else ("kg", "kg")))


def _quantity(value: float, unit: str, ucum: str) -> dict[str, Any]:
    number = int(value) if float(value).is_integer() else value
    return {"value": number, "unit": unit, "system": UCUM, "code": ucum}

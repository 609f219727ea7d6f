"""The browser's side says and sums the same as this side: doses, totals, order, findings, chart, FHIR."""

from __future__ import annotations

from dataclasses import replace
from random import Random
from typing import Any

import pytest

from handouts.bundle.catalogue import make_catalogue
from handouts.bundle.chart import ChartNotes, chart_text, totals_of
from handouts.bundle.checks import LimitFinding, check_picks, say_findings
from handouts.bundle.fhir import fhir_plan
from handouts.bundle.page_data import BookInputs, make_book
from handouts.bundle.values import PickedBundle
from handouts.bundle.whole_dose import dose_parts, whole_dose
from handouts.dose.facts import dose_facts
from handouts.dose.phrase import turn_line
from handouts.dose.progression import build_progression
from handouts.model import Easier, Library, Ref, Substitute
from handouts.words.wording import Wording
from tests.bundle.page_only import order_session, span_line
from tests.bundle.room import LIBRARY
from tests.bundle.sample import DOSES, PLACE, SAMPLE, bundle_json, random_addition, random_bundle
from tests.scripts.node import ask_script
from tests.small_library import FUNCTION_TEST, LEAFLET, TEXTS, small_library

AFTER = {"heel-raise": ["sit-to-stand"], "curl": ["heel-raise", "calf-stretch"], "band-row": ["curl"], "fixed": ["sit-to-stand"]}
POSITIONS = ["sitting", "standing", "sitting", "standing", "standing", "sitting", "standing", "sitting", "standing", "sitting", "standing", "standing", "sitting", "sitting", "standing"]


def make_library() -> Library:
    """The sample catalogue's doses as exercises that build on one another."""
    likeness = LIBRARY.exercise["stand"]
    exercises = tuple(
        replace(likeness, slug=slug, code=code, title=replace(likeness.title, text=slug.replace("-", " ").capitalize()), dose=dose, dose_range=allowed,
                after=tuple(Ref(name, PLACE) for name in AFTER.get(slug, ())),
                easier=tuple(Easier(place=PLACE, exercise=Ref(name, PLACE)) for name in AFTER.get(slug, ())), position=Ref(position, PLACE), equipment=(Ref("chair", PLACE),) * (position == "sitting"),
                cautions=likeness.cautions[: 1 + (code < "M")])
        for position, (code, (slug, dose, allowed)) in zip(POSITIONS, DOSES.items(), strict=True)
    )
    band = LIBRARY.vocabulary.bands[0]
    bands = tuple(replace(band, slug=slug) for slug in SAMPLE.bands.values())
    paces, occasions = (tuple(replace(band, slug=slug, name=replace(band.name, text=f"{slug}, as you can")) for slug in names.values()) for names in (SAMPLE.paces, SAMPLE.occasions))
    places = tuple(replace(LIBRARY.clinic.locations[0], slug=slug, name=slug.title()) for slug in SAMPLE.locations.values())
    languages = replace(LIBRARY.clinic.languages, also=("es", "zh-Hans"))
    clinic = replace(LIBRARY.clinic, locations=places, languages=languages)
    things = tuple(replace(LIBRARY.vocabulary.equipment[0], slug=slug, name=replace(band.name, text=slug.capitalize())) for slug in ("chair", "bench"))
    # one serves in each exercise with a chair, and gives a number; the other in two of them
    changes = (("Lean on it for 5 seconds.", ()), ("Push it against a wall.", tuple(Ref(slug, PLACE) for slug in ("heel-raise", "calf-stretch"))))
    substitutes = tuple(
        Substitute(place=PLACE, slug=slug, thing=Ref("chair", PLACE), take=Ref("bench", PLACE), change=replace(band.name, text=change), exercises=where, source="test")
        for slug, (change, where) in zip(("chair-bench", "chair-wall"), changes, strict=True)
    )
    vocabulary = replace(LIBRARY.vocabulary, bands=bands, paces=paces, occasions=occasions, equipment=things, substitutes=substitutes)
    beside = small_library({**TEXTS, "leaflets/rest-well.md": LEAFLET, "tests/chair-stand.md": FUNCTION_TEST})
    return replace(LIBRARY, exercises=exercises, vocabulary=vocabulary, leaflets=beside.leaflets, tests=beside.tests, clinic=clinic, programmes=(), bundles=())


TWINS = make_library()
PROGRESSION = build_progression(TWINS)
CATALOGUE = make_catalogue(TWINS)
HANDED = {item.code: (item.title.text, f"../{item.slug}/") for item in (*TWINS.leaflets, *TWINS.tests)}
STAMPS = {"": "LLLLLL", "exercises/curl": "AAAAAA"}
TICKED = {"curl": [LimitFinding("hip", "too far.")]}

def by_script(bundles: list[PickedBundle], wording: Wording) -> list[dict[str, Any]]:
    """What the script makes of bundles."""
    book = make_book(TWINS, CATALOGUE, PROGRESSION, wording, BookInputs(STAMPS, {}, {}, handed=HANDED))
    ticked = {TWINS.exercise[slug].code: [{"limit": item.limit, "text": item.text} for item in items] for slug, items in TICKED.items()}
    given = {"book": book, "bundles": [bundle_json(bundle, CATALOGUE) for bundle in bundles], "ticked": ticked}
    found: list[dict[str, Any]] = ask_script("twins", given)
    return found


def by_python(bundle: PickedBundle, odd: bool, wording: Wording) -> dict[str, Any]:
    """The same here."""
    exercises = [TWINS.exercise[pick.exercise.slug] for pick in bundle.picks]
    slugs, totals = [exercise.slug for exercise in exercises], totals_of(bundle, TWINS)
    findings = say_findings(check_picks(slugs, TWINS, TICKED), TWINS, wording)
    notes = ChartNotes(("New hip",) if odd else (), findings)
    return {
        "facts": [[list(fact) for fact in dose_facts(whole_dose(pick, TWINS), wording)] for pick in bundle.picks],
        "turns": [turn_line(whole_dose(pick, TWINS), wording) for pick in bundle.picks],
        "spans": [_spans(exercise.slug, wording) for exercise in exercises],
        "totals": [totals.seconds, totals.changes, totals.seconds_a_week, list(totals.equipment), [slugs.index(slug) for slug in totals.by_occasion]],
        "lines": [list(dose_parts(whole_dose(pick, TWINS), TWINS, wording)) for pick in bundle.picks],
        "order": [exercise.code for exercise in order_session(exercises, PROGRESSION)],
        "findings": list(findings),
        "chart": chart_text(bundle, "CODE", TWINS, wording, stamps=STAMPS, notes=notes),
        "fhir": fhir_plan(bundle, "CODE", TWINS, wording, stamps=STAMPS),
    }


def _spans(slug: str, wording: Wording) -> list[str]:
    allowed = TWINS.exercise[slug].dose_range
    names = ("sets", "reps", "hold_seconds", "time_seconds", "distance_metres", "rest_seconds", "days", "times", "weight_kg")
    return [span_line(name, span, wording) for name in names if allowed and (span := getattr(allowed, name)) is not None]


@pytest.mark.parametrize(("language", "in_pounds"), [("en", False), ("en-XA", False), ("ar", False), ("en", True), ("ar", True)])
def test_twins(language: str, in_pounds: bool) -> None:
    """150 random bundles, each: every word and number is the same on both sides."""
    random, wording = Random(f"{language} {in_pounds}"), Wording(language, in_pounds=in_pounds)
    bundles = [random_addition(random_bundle(random, CATALOGUE), random, CATALOGUE) for _ in range(150)]
    theirs = by_script(bundles, wording)
    for at, (bundle, got) in enumerate(zip(bundles, theirs, strict=True)):
        wanted = by_python(bundle, at % 2 == 1, wording)
        for name, value in wanted.items():
            assert got[name] == value, (name, bundle)


def test_the_sample_has_every_kind_of_finding_and_difference() -> None:
    """The random bundles reach ask, limit and moves, so that the comparison is not empty."""
    random, wording = Random(11), Wording("en")
    bundles = [random_addition(random_bundle(random, CATALOGUE), random, CATALOGUE) for _ in range(300)]
    text = "\n".join(line for said in by_script(bundles, wording) for line in (*said["difference"], *said["findings"]))
    for words in ("To ask, for", "goes against hip: too far", "moved on to", "moved back to", "removed", "added", "now", "The order changed", "in place of what is missing: In place of Chair: Bench.", "Parts of the session: ", "Handed over with it: Rest well"):
        assert words in text, words


def test_order_of_many_is_greedy_on_both_sides() -> None:
    """Up to 12 exercises are ordered exactly, above that greedily: the same on both sides."""
    random = Random(5)
    cases = []
    for count in (11, 12, 13, 14):
        positions = [random.choice("abc") for _ in range(count)]
        cases.append({"positions": positions, "earlier": [[place for place in range(at) if random.random() < 0.1] for at in range(count)]})
    for case, got in zip(cases, ask_script("orders", cases), strict=True):
        likeness = TWINS.exercises[0]
        exercises = [replace(likeness, slug=f"e{at}", position=Ref(position, PLACE), after=tuple(Ref(f"e{place}", PLACE) for place in case["earlier"][at]))
                     for at, position in enumerate(case["positions"])]
        wanted = order_session(exercises, build_progression(replace(TWINS, exercises=tuple(exercises))))
        # The script is given all that comes before, as the book holds it; near neighbours give the same order.
        assert [f"e{place}" for place in got] == [exercise.slug for exercise in wanted]



"""Codes of version 6: what no earlier version holds of a dose comes back whole, on both sides, and nothing else is taken for it."""

from __future__ import annotations

from dataclasses import replace
from random import Random
from zlib import crc32

import pytest
from fhir.resources.plandefinition import PlanDefinition

from handouts.bundle.catalogue import DIGITS, ExerciseEntry, catalogue_json, dose_json, write_number
from handouts.bundle.chart import chart_text
from handouts.bundle.code import decode_bundle, encode_bundle
from handouts.bundle.fhir import fhir_plan
from handouts.bundle.packing import as_packed
from handouts.bundle.values import OpenedBundle, Refusal, RefusalKind
from handouts.dose.arithmetic import change_dose
from handouts.model import Counted, Dose, Ref, Side, WorkKind
from handouts.words.wording import Wording
from tests.bundle.sample import (
    DOSES,
    PLACE,
    SAMPLE,
    bundle_of,
    by_python,
    by_script,
    change_of,
    each_digit_changed,
    pick_of,
    random_dose,
)
from tests.bundle.test_stages import stage
from tests.bundle.test_twins import TWINS
from tests.scripts.node import ask_script

WIDE = ("walk-run", "hop", "breathe-out", "move-often", "easy-run")
LIBRARY_DOSES = {slug: dose for slug, dose, _ in DOSES.values()}


def opened(code: object) -> OpenedBundle:
    """What a code says; it must be one."""
    assert isinstance(code, str)
    found = decode_bundle(code, SAMPLE)
    assert isinstance(found, OpenedBundle), found
    return found


def test_whole_doses_on_both_sides() -> None:
    """Every field of each dose comes back; the page reads the same."""
    codes = [encode_bundle(bundle_of(*(pick_of(slug) for slug in slugs)), SAMPLE) for slugs in ((slug,) for slug in WIDE)]
    codes.append(encode_bundle(bundle_of(*(pick_of(slug) for slug in WIDE), pick_of("curl")), SAMPLE))
    theirs = ask_script("openings", {"catalogue": catalogue_json(SAMPLE), "codes": codes})
    for code, found in zip(codes, theirs, strict=True):
        assert str(code)[0] == DIGITS[6]
        whole = opened(code)
        assert [as_packed(LIBRARY_DOSES[pick.exercise.slug]) for pick in whole.bundle.picks] == list(map(as_packed, whole.doses))
        assert found["doses"] == [dose_json(dose) for dose in whole.doses]


def random_wide(random: Random) -> Dose:
    """Any dose with some of what only version 6 holds."""
    some = {
        "reps_to": random.randint(1, 100), "rate": random.randint(1, 240), "warm_up_seconds": random.randint(30, 1800), "cool_down_seconds": random.randint(30, 1800),
        "every_minutes": random.randint(5, 720), "rest_days": random.randint(1, 3), "counted": random.choice(list(Counted)), "work": random.choice(list(WorkKind)),
        "pace_words": Ref(random.choice(("easy", "brisk")), PLACE), "occasion": Ref("breathless", PLACE),
    }  # fmt: skip
    return replace(random_dose(random), **dict(random.sample(sorted(some.items()), random.randint(1, len(some)))))  # type: ignore[arg-type]


def test_random_doses() -> None:
    """300 random doses: written and read on both sides, exactly; one of another library is never taken for them."""
    random = Random(6)
    for _ in range(3):
        doses = [random_wide(random) for _ in range(100)]
        catalogues = [replace(SAMPLE, entries={"H7K2": ExerciseEntry("H7K2", "heel-raise", dose, None)}) for dose in doses]
        codes = [encode_bundle(bundle_of(pick_of("heel-raise")), each) for each in catalogues]
        for dose, code, catalogue, other in zip(doses, codes, catalogues, [*catalogues[1:], catalogues[0]], strict=True):
            assert isinstance(code, str)
            found = decode_bundle(code, catalogue)
            assert isinstance(found, OpenedBundle)
            assert found.doses[0] == dose
            assert not isinstance(decode_bundle(code, other), OpenedBundle)
    assert by_script([bundle_of(pick_of("heel-raise"))], [str(codes[-1]), str(codes[0])], catalogues[-1]) == by_python([bundle_of(pick_of("heel-raise"))], [str(codes[-1]), str(codes[0])], catalogues[-1])


def test_a_library_that_changed_a_word_is_told_from_one_that_did_not() -> None:
    """Landings are no steps: where the library changed what is counted, the code is of an older dose, on both sides; with a ledger it opens."""
    code = str(encode_bundle(bundle_of(pick_of("hop", sets=2)), SAMPLE))
    entry = SAMPLE.entries["HP33"]
    now = replace(entry, dose=replace(entry.dose, counted=Counted.STEPS))
    for changed, expected in ((now, Refusal), (replace(now, former=(entry.dose,)), OpenedBundle)):
        library = replace(SAMPLE, entries=SAMPLE.entries | {"HP33": changed})
        assert isinstance(decode_bundle(code, library), expected)
        assert by_script([], [code], library) == by_python([], [code], library)


def test_a_name_that_is_gone_is_unknown() -> None:
    """A pace or an occasion that the clinic does not have any more: refused by name, on both sides."""
    for slug, library, field in (("walk-run", replace(SAMPLE, paces={}), "pace words"), ("breathe-out", replace(SAMPLE, occasions={}), "when")):
        code = str(encode_bundle(bundle_of(pick_of(slug)), SAMPLE))
        found = decode_bundle(code, library)
        assert isinstance(found, Refusal)
        assert (found.kind, found.field) == (RefusalKind.UNKNOWN, field)
        assert by_script([], [code], library) == by_python([], [code], library)


def test_stages_change_days_and_rest() -> None:
    """A ladder of runs and walks grows by time, rest and days; a choice of repetitions moves as a whole."""
    ladder = replace(pick_of("walk-run"), stages=(stage(2, time_seconds=120, rest_seconds=60), stage(4, days=2), stage(6, sets=10)))
    hops = replace(pick_of("hop", sets=2), stages=(stage(3, reps=14),))
    plan = replace(bundle_of(ladder, hops), weeks=8)
    code = encode_bundle(plan, SAMPLE)
    whole = opened(code)
    assert whole.bundle == plan
    assert by_script([plan], [str(code)]) == by_python([plan], [str(code)])
    plain = replace(bundle_of(replace(pick_of("sit-to-stand"), stages=(stage(2, days=4),))), weeks=4)
    assert str(encode_bundle(plain, SAMPLE))[0] == DIGITS[6]
    assert opened(encode_bundle(plain, SAMPLE)).bundle == plain


@pytest.mark.parametrize("slug", ["hop", "move-often", "sit-to-stand"])
def test_an_earlier_version_cannot_say_it_and_version_6_says_nothing_else(slug: str) -> None:
    """The same bits under another version are damage, on both sides; so is version 6 where nothing needs it."""
    plan = replace(bundle_of(replace(pick_of(slug), stages=(stage(2, reps=6),))), weeks=7)
    code = str(encode_bundle(plan, SAMPLE))
    texts = []
    for digit in "5678":
        body = digit + code[1:-7]
        if digit != code[0]:
            texts.append(body + write_number(crc32(body.encode()), 7))
    answers = by_python([], texts)[1]
    assert [answer["kind"] for answer in answers] == ["damaged"] * 3
    assert by_script([], texts)[1] == answers


def test_bits_that_nobody_writes_are_damage() -> None:
    """Whatever is changed within a code of version 6 is read alike or not at all."""
    code = str(encode_bundle(bundle_of(pick_of("walk-run"), pick_of("move-often", side=Side.BOTH)), SAMPLE))
    texts = each_digit_changed(code)
    found = by_python([], texts)[1]
    assert by_script([], texts)[1] == found
    assert sum("bundle" in each for each in found) < len(found) // 3
    assert change_dose(LIBRARY_DOSES["hop"], change_of(reps=12)).reps_to == 14


def test_chart_and_fhir() -> None:
    """What the chart says of them, and a plan that fhir.resources 8 (R5) accepts: every so many minutes is a timing, an occasion is when it is needed."""
    bundle = bundle_of(*(pick_of(slug) for slug in WIDE), language="en")
    text = chart_text(bundle, "CODE", TWINS, Wording("en"), stamps={})
    for line in (
        "1. Walk run [RN22]: 5 minutes to warm up, then 8 times: run 1 minute, walk 2 minutes, then 5 minutes to cool down, pace: easy, as you can, 3 days a week, with 1 day without it in between, effort 3 to 4 out of 10",
        "2. Hop [HP33]: 3 sets of 10 to 12 landings, each side, 70 a minute, 2 days a week, with 2 days without it in between, rest 1 minute between sets",
        "3. Breathe out [BR44]: 5 breaths in and out, breathless, as you can",
        "4. Move often [MV55]: 10 times, each side, or both together, every day, every 30 minutes while you are awake, 1 second to move, 1 second back",
        "5. Easy run [EZ66]: 3 kilometers, running, pace: brisk, as you can, 2 days a week",
        "By occasion, and in no sum of minutes: Breathe out and Move often",
        # 3 x 2 x 12 landings, on 2 days; 8 minutes of running in rounds on 3 days: a distance that is run has no minutes of running here
        "A session: 72 landings and about 8 minutes of running",
        "A week: 144 landings and about 24 minutes of running",
    ):
        assert line in text.splitlines(), text
    plan = fhir_plan(bundle, "CODE", TWINS, Wording("en"), stamps={})
    PlanDefinition.model_validate(plan)
    walk, _, breathe, often, _ = plan["contained"]
    assert breathe["asNeededCodeableConcept"] == {"text": "breathless, as you can"}
    assert "frequency" not in breathe["timingTiming"]["repeat"]
    assert {"frequency": 1, "period": 30, "periodUnit": "min"}.items() <= often["timingTiming"]["repeat"].items()
    assert walk["timingTiming"]["repeat"]["duration"] == 2040
    assert {each["url"].rpartition("-")[2] for each in walk["extension"]} >= {"work", "words", "up", "down", "days"}

"""A plan over weeks: its code, its doses, its words and its growth; both sides agree."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from random import Random
from typing import Any

import pytest

from handouts.bundle.catalogue import DIGITS, catalogue_json, dose_json, range_json
from handouts.bundle.code import decode_bundle, encode_bundle
from handouts.bundle.page_data import words_json
from handouts.bundle.values import OpenedBundle, PickedBundle, Refusal, RefusalKind
from handouts.dose.arithmetic import change_dose
from handouts.dose.phrase import stage_lines
from handouts.dose.stages import dose_in_week, growths, stage_doses, staged_fields
from handouts.model import Dose, DoseChange, DoseRange, DoseStage, Side, Span, StageRule, WorkKind
from handouts.problems import Place
from handouts.words.wording import Wording
from tests.bundle.sample import (
    PLACE,
    SAMPLE,
    answer_json,
    bundle_of,
    by_python,
    by_script,
    change_of,
    damage,
    each_digit_changed,
    pick_of,
    random_plan,
)
from tests.scripts.node import ask_script

DOSE = Dose(place=PLACE, sets=2, reps=8, side=Side.TOGETHER, rest_seconds=60, days=3)
RANGE = DoseRange(place=PLACE, sets=Span(1, 3), reps=Span(5, 12), weight_kg=Span(0, 3))


def apply_rules(first: Dose, rules: Sequence[StageRule], allowed: DoseRange | None, place: Place) -> tuple[DoseStage, ...]:
    """The stages that a programme's rule gives for a dose: what it counts grows, and nothing past its range."""
    stages, dose = [], first
    for rule in rules:
        changed = {}
        for name in staged_fields(dose):
            added, value = getattr(rule, name, None), getattr(dose, name)
            span = getattr(allowed, name, None)
            if added is not None and value is not None and span is not None and value + added <= span.high:
                changed[name] = value + added
        if changed:
            dose = replace(dose, **changed)
            stages.append(DoseStage(place=place, week=rule.week, change=DoseChange(place=place, **changed)))
    return tuple(stages)


def stage(week: int, **values: Any) -> DoseStage:
    """A stage that begins in a week, or with 0 when the one before is easy."""
    return DoseStage(place=PLACE, week=week, change=change_of(**values))


STAGES = (stage(3, sets=3), stage(5, reps=12), stage(0, sets=2, reps=8))


def plan_of(*stages: DoseStage, weeks: int = 12, cue: str = "") -> PickedBundle:
    """Heel raises with stages."""
    return replace(bundle_of(replace(pick_of("heel-raise"), stages=stages), weeks=weeks), cue=cue)


def test_written_is_read() -> None:
    """Stages, cue and twelve weeks come back as they were."""
    plan = plan_of(stage(3, sets=2), stage(0, reps=12), cue="ABC")
    code = encode_bundle(plan, SAMPLE)
    assert isinstance(code, str)
    assert code[0] == DIGITS[5]
    opened = decode_bundle(code, SAMPLE)
    assert isinstance(opened, OpenedBundle)
    assert opened.bundle == plan
    assert opened.doses[0].sets == 3


def test_an_earlier_version_where_it_is_enough() -> None:
    """Without stages, cue and long weeks the code is the one that older pages read."""
    for plan, digit in ((plan_of(weeks=6), 3), (plan_of(weeks=7), 5), (plan_of(weeks=6, cue="ABC"), 5), (plan_of(stage(2, sets=2), weeks=6), 5)):
        code = encode_bundle(plan, SAMPLE)
        assert isinstance(code, str)
        assert code[0] == DIGITS[digit]


@pytest.mark.parametrize(("plan", "field"), [
    (plan_of(stage(1, sets=2)), "stages"),
    (plan_of(stage(3, sets=2), stage(3, sets=1)), "stages"),
    (plan_of(stage(5, sets=2), weeks=4), "stages"),
    (plan_of(stage(0, sets=2), stage(6, sets=1)), "stages"),
    (plan_of(stage(3, sets=3)), "stages"),
    (plan_of(stage(3, effort=Span(4, 5))), "stages"),
    (plan_of(stage(3, days=7)), "days"),
    (plan_of(stage(3, hold_seconds=5)), "stages"),
    (plan_of(*(stage(week, sets=1 + week % 2) for week in range(2, 10))), "stages"),
    (plan_of(stage(3, reps=99)), "reps"),
    (plan_of(weeks=13), "weeks"),
])  # fmt: skip
def test_refused(plan: PickedBundle, field: str) -> None:
    """Out of order, beyond the weeks, without a change, with another field, too many, outside the range: both sides alike."""
    refusal = encode_bundle(plan, SAMPLE)
    assert isinstance(refusal, Refusal)
    assert (refusal.kind, refusal.field) == (RefusalKind.OUT_OF_BOUNDS, field)
    assert by_script([plan], [])[0] == [answer_json(refusal)]


def test_random_plans_on_both_sides() -> None:
    """Two hundred random plans: the same codes, read alike, and what was damaged read alike."""
    random = Random(21)
    plans = [random_plan(random) for _ in range(200)]
    codes = [code for plan in plans if isinstance(code := encode_bundle(plan, SAMPLE), str)]
    assert len(codes) == len(plans)
    assert sum(code[0] == DIGITS[6] for code in codes) > 100 < sum(code[0] in (DIGITS[5], DIGITS[6]) for code in codes) - 50
    texts = [*codes, *(damage(code, random) for code in codes)]
    assert by_script(plans, texts) == by_python(plans, texts)
    for plan, code in zip(plans, codes, strict=True):
        opened = decode_bundle(code, SAMPLE)
        assert isinstance(opened, OpenedBundle)
        assert [pick.stages for pick in opened.bundle.picks] == [pick.stages for pick in plan.picks]


def test_a_plan_that_needs_no_later_version_is_damage() -> None:
    """Nobody writes the latest version for what an earlier one holds; whatever is changed within is read alike or not at all."""
    code = encode_bundle(plan_of(stage(3, sets=2)), SAMPLE)
    assert isinstance(code, str)
    texts = each_digit_changed(code)
    found = by_python([], texts)[1]
    assert by_script([], texts)[1] == found
    assert sum("bundle" in each for each in found) < len(found) // 2


def test_a_cue_is_one_of_the_clinic_s() -> None:
    """A mark that the clinic does not have is never written, as three letters could be a name; one that is gone is left out, and the plan opens."""
    bundle = plan_of(stage(3, sets=2), cue="ANN")
    refusal = encode_bundle(bundle, SAMPLE)
    assert refusal == Refusal(RefusalKind.UNKNOWN, field="cue", value="ANN")
    assert by_script([bundle], [])[0] == [answer_json(refusal)]
    code = encode_bundle(plan_of(stage(3, sets=2), cue="ABC"), SAMPLE)
    assert isinstance(code, str)
    later = replace(SAMPLE, cues={})
    assert decode_bundle(code, later) == decode_bundle(str(encode_bundle(plan_of(stage(3, sets=2)), SAMPLE)), later)
    assert by_script([], [code], later) == by_python([], [code], later)


def test_doses_of_weeks() -> None:
    """Weeks 1 and 2: 2 x 8; then 3 x 8; then 3 x 12; what waits until it is easy comes in no week."""
    assert [(dose.sets, dose.reps) for dose in (dose_in_week(DOSE, STAGES, week) for week in (1, 2, 3, 4, 5, 12))] == [(2, 8), (2, 8), (3, 8), (3, 8), (3, 12), (3, 12)]
    assert [(dose.sets, dose.reps) for dose in stage_doses(DOSE, STAGES)] == [(2, 8), (3, 8), (3, 12), (2, 8)]


def test_growth_a_week() -> None:
    """16 to 24 in two weeks is 50 % in two, 24 to 36 alike; a weight counts where there is one before and after (worked by hand)."""
    assert growths(DOSE, STAGES) == pytest.approx((25, 25, (16 / 36 - 1) * 100))
    heavy = replace(DOSE, weight_kg=2.0)
    assert growths(heavy, (stage(2, weight_kg=3.0),)) == pytest.approx((50,))
    assert growths(DOSE, (stage(3, weight_kg=1.0),)) == pytest.approx((0,))


def test_rules_stop_at_the_range() -> None:
    """What a programme adds, as far as the range of the exercise goes; what it does not count is left out."""
    rules = (StageRule(place=PLACE, week=3, sets=1), StageRule(place=PLACE, week=5, reps=2, hold_seconds=5), StageRule(place=PLACE, week=7, sets=1), StageRule(place=PLACE, reps=2, weight_kg=1.0))
    found = apply_rules(DOSE, rules, RANGE, PLACE)
    assert found == (stage(3, sets=3), stage(5, reps=10), stage(0, reps=12))
    assert apply_rules(DOSE, rules, None, PLACE) == ()


@pytest.mark.parametrize("language", ["en", "es", "ar", "fr", "vi", "zh-Hans"])
def test_twins(language: str) -> None:
    """Lines, growth, rules and doses are the same in the browser."""
    wording, rules = Wording(language), (StageRule(place=PLACE, week=3, sets=1), StageRule(place=PLACE, reps=2, weight_kg=1.0))
    cases = [(DOSE, STAGES), (replace(DOSE, weight_kg=1.0, side=Side.BOTH), (stage(4, weight_kg=1.5), stage(0, weight_kg=2.0))), (replace(DOSE, reps=None, hold_seconds=20), (stage(2, hold_seconds=30),)), (DOSE, ()),
             (replace(DOSE, reps_to=10), (stage(3, reps=10, days=4), stage(5, rest_seconds=30))),
             (replace(DOSE, reps=None, time_seconds=60, rest_seconds=120, work=WorkKind.RUN_WALK, sets=8), (stage(3, time_seconds=120, rest_seconds=60), stage(5, days=4)))]
    given = [
        {"dose": dose_json(dose), "range": range_json(RANGE), "own": [_stage_json(each) for each in stages],
         "rules": [{"week": rule.week, "add": {name: value for name, value in (("sets", rule.sets), ("reps", rule.reps), ("weight", rule.weight_kg)) if value}} for rule in rules]}
        for dose, stages in cases
    ]  # fmt: skip
    got = ask_script("stages", {"words": words_json(wording, ("dose",), ()), "cases": given})
    for (dose, stages), found in zip(cases, got, strict=True):
        assert tuple(found["lines"]) == stage_lines(dose, stages, 3, wording)
        assert found["growth"] == pytest.approx(growths(dose, stages))
        assert found["applied"] == [_stage_json(each) for each in apply_rules(dose, rules, RANGE, PLACE)]
        assert found["last"] == dose_json(stage_doses(dose, stages)[-1])


def _stage_json(each: DoseStage) -> dict[str, Any]:
    names = {"sets": "sets", "reps": "reps", "hold_seconds": "hold", "weight_kg": "weight", "days": "days", "rest_seconds": "rest", "time_seconds": "time"}
    return {"week": each.week, "change": {key: value for name, key in names.items() if (value := getattr(each.change, name)) is not None}}


def test_lines() -> None:
    """As a reader meets them."""
    assert stage_lines(DOSE, STAGES, 3, Wording("en")) == (
        "From week 1: 2 sets of 8", "From week 3: 3 sets of 8", "From week 5: 3 sets of 12", "When that was easy 3 times in a row: 2 sets of 8",
    )  # fmt: skip
    assert stage_lines(DOSE, (), 3, Wording("en")) == ()
    assert change_dose(DOSE, None) == DOSE


def read_staged(text: str, sets: list[list[int]]) -> list[tuple[list[float], list[int]]]:
    """The sets and stages of each session of a log of version 2, by the table of its specification alone."""
    assert text[:2] == "Z4"
    bits = "".join(f"{DIGITS.index(digit):05b}" for digit in text[2:-7])
    at = 0

    def take(count: int) -> int:
        nonlocal at
        at += count
        return int(bits[at - count : at], 2)

    for _ in range(take(9)):
        take(5)
    take(11)
    given, found = take(7), []
    take(10)
    for _ in range(given):
        take(10 if take(1) else 2)
        for _ in range(2):
            if take(1):
                take(4)
        done, stages = [], []
        for asked in sets:
            whole = take(1)
            some = 0.0 if whole or not take(1) else take(5) / 2
            stages.append(take(3) if (whole or some) and len(asked) > 1 else 0)
            done.append(asked[stages[-1]] if whole else some)
        found.append((done, stages))
    return found


def test_log_of_a_plan() -> None:
    """Each session says in which stage it was; a second reader finds the same, and the page reads its own."""
    plan = encode_bundle(replace(plan_of(stage(3, sets=2), stage(0, reps=12)), picks=(replace(pick_of("heel-raise"), stages=(stage(3, sets=2), stage(0, reps=12))), pick_of("curl"))), SAMPLE)
    assert isinstance(plan, str)
    opened = decode_bundle(plan, SAMPLE)
    assert isinstance(opened, OpenedBundle)
    sets = [[each.sets for each in stage_doses(dose, pick.stages)] for pick, dose in zip(opened.bundle.picks, opened.doses, strict=True)]
    whole = sets[1][0]
    sessions = [{"day": 0, "effort": 5, "pain": 1, "sets": [3, whole], "stages": [0, 0]}, {"day": 15, "effort": None, "pain": 2, "sets": [2, 0], "stages": [1, 0]}, {"day": 30, "effort": 4, "pain": None, "sets": [1.5, 0], "stages": [2, 0]}]
    log = {"fromFirst": False, "today": 31, "all": 3, "sessions": sessions}
    got = ask_script("logs", {"catalogue": catalogue_json(SAMPLE), "logs": [{"plan": plan, "log": log}], "texts": []})
    assert read_staged(got["written"][0], sets) == [(each["sets"], each["stages"]) for each in sessions]
    assert got["read"][0] == {"plan": plan, **log}

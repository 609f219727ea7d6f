"""The plan of a session: its sums are this side's, its order and lengths those of the prescription."""

from __future__ import annotations

from dataclasses import replace
from random import Random
from typing import Any

from handouts.bundle.catalogue import dose_json
from handouts.bundle.next_visit import whole_dose
from handouts.dose.session import add_up_session
from tests.bundle.sample import SCRIPTS, in_node, random_bundle
from tests.bundle.test_twins import CATALOGUE, TWINS

PLAN = (SCRIPTS.parent / "phone/plan.js").as_uri()
RUN = (SCRIPTS.parent / "phone/run.js").as_uri()


def plan_of(rows: list[dict[str, Any]], change: int = 30, between: int = 20) -> list[dict[str, Any]]:
    """The steps that the script plans."""
    program = f'import {{planSession}} from "{PLAN}"; console.log(JSON.stringify(planSession(given.rows, given.policy)));'
    found: list[dict[str, Any]] = in_node(program, {"rows": rows, "policy": {"change": change, "between": between}})
    return found


def shape(steps: list[dict[str, Any]]) -> list[tuple[Any, ...]]:
    """Kind, set, side and seconds of each step."""
    return [(step["kind"], step["set"], step["side"], step["seconds"]) for step in steps]


def test_sums_are_those_of_this_side() -> None:
    """300 random bundles: work, rests, changes and what lies between add up to the same seconds."""
    random, policy = Random(7), TWINS.clinic.session
    bundles = [random_bundle(random, CATALOGUE) for _ in range(300)]
    given, wanted, unknown = [], [], 0
    for bundle in bundles:
        picks = [(TWINS.exercise[pick.exercise.slug], whole_dose(pick, TWINS)) for pick in bundle.picks]
        given.append([{"dose": dose_json(dose), "position": exercise.position.slug} for exercise, dose in picks])
        totals = add_up_session(picks, policy)
        wanted.append(totals.seconds)
        unknown += len(totals.unknown)
    seconds = {"change": policy.change_seconds, "between": policy.between_seconds}
    program = f'import {{planSession, planSeconds}} from "{PLAN}"; console.log(JSON.stringify(given.rows.map(rows => planSeconds(planSession(rows, given.policy)))));'
    assert in_node(program, {"rows": given, "policy": seconds}) == wanted
    assert unknown > 0
    assert len(set(wanted)) > 100


def test_each_side_in_turn_with_rests() -> None:
    """3 x 10 each side at 2-1-3 with 60 s of rest: set 1 first side, rest, other side, rest, set 2 ...; 60 s a set."""
    dose = {"sets": 2, "reps": 10, "side": "both", "tempo": [2, 1, 3, 0], "rest": 60, "times": 1}
    assert shape(plan_of([{"dose": dose, "position": "sitting"}])) == [
        ("begin", 1, "", 0),
        ("lead", 1, "first", 5), ("work", 1, "first", 60),
        ("rest", 1, "other", 60), ("work", 1, "other", 60),
        ("rest", 2, "first", 60), ("work", 2, "first", 60),
        ("rest", 2, "other", 60), ("work", 2, "other", 60),
    ]  # fmt: skip


def test_one_side_first() -> None:
    """All sets on one side, then all on the other; the same sums as in turn."""
    dose = {"sets": 2, "reps": 10, "side": "one-side-first", "tempo": [2, 1, 3, 0], "rest": 60, "times": 1}
    assert shape(plan_of([{"dose": dose, "position": "sitting"}])) == [
        ("begin", 1, "", 0),
        ("lead", 1, "first", 5), ("work", 1, "first", 60),
        ("rest", 2, "first", 60), ("work", 2, "first", 60),
        ("rest", 1, "other", 60), ("work", 1, "other", 60),
        ("rest", 2, "other", 60), ("work", 2, "other", 60),
    ]  # fmt: skip


def test_without_rest_there_is_time_to_change_sides() -> None:
    """No rest prescribed: a lead of 5 s stands in its place and is not part of the sum."""
    dose = {"sets": 1, "hold": 30, "side": "both", "rest": 0, "times": 1}
    steps = plan_of([{"dose": dose, "position": "sitting"}])
    assert [step["kind"] for step in steps] == ["begin", "lead", "work", "lead", "work"]


def test_between_exercises() -> None:
    """The clinic's seconds between exercises, and those for a change of position only where it changes; each begin waits."""
    dose = {"sets": 1, "reps": 5, "side": "together", "rest": 0, "times": 1}
    steps = plan_of([{"dose": dose, "position": name} for name in ("sitting", "sitting", "standing")])
    begins = [step for step in steps if step["kind"] == "begin"]
    assert [(step["seconds"], step["waits"]) for step in begins] == [(0, True), (20, True), (50, True)]
    assert [step["seconds"] for step in steps if step["kind"] == "work"] == [None, None, None]


def test_moments_of_a_repetition() -> None:
    """2-1-3 with a pause of 1 s: at each tenth of a second the repetition, the phase and the seconds left are right."""
    dose = {"sets": 1, "reps": 3, "side": "together", "tempo": [2, 1, 3, 1], "rest": 0, "times": 1}
    program = (
        f'import {{planSession, momentOf}} from "{PLAN}"; const work = planSession([{{dose: given, position: ""}}], {{change: 0, between: 0}})[2];'
        "console.log(JSON.stringify(Array.from({length: 210}, (_, at) => momentOf(work, at / 10))));"
    )
    for at, moment in enumerate(in_node(program, dose)):
        rep, inside = divmod(at, 70)
        phase, begin, end = next((phase, begin, end) for phase, (begin, end) in enumerate(((0, 20), (20, 30), (30, 60), (60, 70))) if begin <= inside < end)
        share = ((inside - begin) / (end - begin), 1, 1 - (inside - begin) / (end - begin), 0)[phase]
        assert (moment["rep"], moment["phase"], moment["left"]) == (rep + 1, phase, -(-(end - inside) // 10)), at
        assert abs(moment["share"] - share) < 1e-6, at


def test_a_run_never_loses_time_and_never_leaps() -> None:
    """In ticks of 130 ms each step takes its seconds to within a tick, the whole to within one; after a gap one step ends."""
    dose = replace(TWINS.exercise["heel-raise"].dose, sets=2)
    program = f"""
import {{planSession}} from "{PLAN}"; import {{startRun, passTime, finishStep, isOver, goBack, skipExercise, setRunning, readRun, writeRun}} from "{RUN}";
const plan = planSession([{{dose: given, position: "a"}}, {{dose: given, position: "b"}}], {{change: 0, between: 10}});
let run = finishStep(startRun(plan), plan); let clock = 0; const ends = [];
while (!isOver(run, plan)) {{
  const before = run.at; clock += 130; run = passTime(run, plan, 130);
  if (run.at !== before) ends.push(clock);
  if (plan[run.at]?.kind === "begin" && run.elapsed >= 10000) {{ clock = 0; ends.push("begin"); run = finishStep(run, plan); }}
}}
let gap = finishStep(startRun(plan), plan); gap = passTime(gap, plan, 999999);
const paused = passTime(setRunning(gap, false), plan, 5000);
const back = goBack({{...gap, at: gap.at + 1, bouts: [1, 0]}}, plan);
const kept = readRun(writeRun({{...gap, at: 3, bouts: [1, 0]}}), plan);
console.log(JSON.stringify({{ends, bouts: run.bouts, gap: [gap.at, gap.elapsed], paused: paused.elapsed, back: [back.at, back.bouts],
  skipped: plan[skipExercise(gap, plan).at].exercise, over: isOver(skipExercise(skipExercise(gap, plan), plan), plan),
  kept, odd: ["", "x", "3:1", "0:1,0", "9999:1,0", "3:1,0,0"].map(text => readRun(text, plan))}}));"""
    found = in_node(program, dose_json(dose))
    lengths = [5, 60, 60, 60, 60, 60, 60, 60]
    ends = [sum(lengths[: at + 1]) for at in range(len(lengths))]
    split = found["ends"].index("begin")
    for got in (found["ends"][:split], found["ends"][split + 1 :]):
        assert all(0 <= one / 1000 - want < 0.131 for one, want in zip(got[:8], ends, strict=True)), got
    assert found["bouts"] == [4, 4]
    assert found["gap"] == [2, 0]
    assert found["paused"] == 0
    assert found["back"] == [2, [0, 0]]
    assert (found["skipped"], found["over"]) == (1, True)
    assert found["kept"] == {"at": 3, "elapsed": 0, "running": False, "bouts": [1, 0]}
    assert found["odd"] == [None] * 6

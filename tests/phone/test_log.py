"""The log: only dates, codes and numbers; anything else is damaged and set aside."""

from __future__ import annotations

import calendar
from typing import Any

import pytest

from tests.bundle.sample import SCRIPTS, in_node

LOG = (SCRIPTS.parent / "phone/log.js").as_uri()
ENTRY = {"date": "2026-11-24", "done": [{"code": "H7K2", "sets": 3, "of": 3, "reps": 15}], "effort": 5, "pain": 1}


def run(body: str, given: object = None) -> Any:
    """What a program over the log's functions prints."""
    return in_node(f'import * as log from "{LOG}"; console.log(JSON.stringify({body}));', given)


def kept(**changes: Any) -> dict[str, Any]:
    """A log of one session with some fields of it changed."""
    return {"version": 1, "entries": [{**ENTRY, **changes}]}


@pytest.mark.parametrize(
    "bad",
    [
        [], 5, {"version": 0, "entries": []}, {"version": 1}, {"version": 1, "entries": [None]}, {"version": 1, "entries": [[]]},
        kept(date="2026-02-30"), kept(date="2026-1-1"), kept(date=5), kept(effort=11), kept(pain=-1), kept(pain=1.5), kept(pain="1"),
        kept(name="Ann"), kept(done=[{"code": "H7K2", "note": 1}]), kept(done=[{"code": "h7k2", "sets": 1}]), kept(done=[{"code": "H7K2", "sets": "3"}]),
        kept(done=[{"code": "H7K2", "sets": -1}]), kept(done=None), kept(done=["H7K2"]),
    ],
)  # fmt: skip
def test_what_is_not_a_log_is_damaged(bad: object) -> None:
    """A wrong version, day, number or any field that a log has not, above all free text."""
    assert run("log.readLog(JSON.stringify(given))", bad) == {"state": "damaged", "log": {"version": 1, "entries": []}}


def test_texts_that_are_no_json_and_newer_logs() -> None:
    """Cut or foreign text is damaged; a higher version is newer; nothing at all is a new log."""
    states = run("given.map(text => log.readLog(text).state)", ["{", "x", '{"version":1,"entries":[', '{"version":2}', "", None])
    assert states == ["damaged", "damaged", "damaged", "newer", "whole", "whole"]


def test_a_log_survives_being_written_and_read() -> None:
    """Entries come back in the order of their days."""
    later, earlier = {**ENTRY, "date": "2026-11-25", "effort": None}, {**ENTRY, "date": "2026-11-20", "pain": None}
    body = "log.readLog(JSON.stringify([given[0], given[1]].reduce(log.addEntry, log.emptyLog())))"
    assert run(body, [later, earlier]) == {"state": "whole", "log": {"version": 1, "entries": [earlier, later]}}


def test_what_was_done() -> None:
    """Sets of each side count half; only amounts of the dose are noted."""
    dose = {"sets": 3, "reps": 10, "side": "both", "tempo": [2, 1, 3, 0], "rest": 60, "times": 1, "effort": [4, 6]}
    assert run('log.noteDone("H7K2", given, 5)', dose) == {"code": "H7K2", "sets": 2.5, "of": 3, "reps": 10}


def test_last_times_leave_out_what_was_not_done() -> None:
    """An exercise that was skipped is no fact for the next step; the last ones come, the newest last."""
    entries = [{**ENTRY, "date": f"2026-11-{day}"} for day in (20, 21, 22, 23)]
    entries.append({**ENTRY, "date": "2026-11-24", "done": [{"code": "H7K2", "sets": 0, "of": 3, "reps": 15}]})
    found = run('log.lastTimes({version: 1, entries: given}, "H7K2", 3)', entries)
    assert [one["date"] for one in found] == ["2026-11-21", "2026-11-22", "2026-11-23"]


def test_days_are_counted_once_and_the_last_days_only() -> None:
    """Two sessions on one day are one day; day 7 counts, day 8 before does not."""
    entries = [{**ENTRY, "date": date} for date in ("2026-11-18", "2026-11-19", "2026-11-25", "2026-11-25", "2026-11-26")]
    assert run('log.countDays({version: 1, entries: given}, "2026-11-25", 7)', entries) == 2


def test_months() -> None:
    """Python's calendar module gives the same weeks, for 60 months and both beginnings of the week."""
    cases = [[year, month, first] for year in range(2023, 2028) for month in range(1, 13) for first in (1, 7)]
    body = 'given.map(([year, month, first]) => log.monthOf(`${year}-${String(month).padStart(2, "0")}-10`, first).map(week => week.map(day => Number(day.slice(-2)))))'
    for (year, month, first), weeks in zip(cases, run(body, cases), strict=True):
        assert weeks == calendar.Calendar((first - 1) % 7).monthdayscalendar(year, month)


def test_shifting_days_over_the_change_of_clocks() -> None:
    """A day later is the next day, also where the clocks change."""
    assert run('[log.shiftDay("2026-03-28", 1), log.shiftDay("2026-03-29", 1), log.shiftDay("2026-10-25", 1), log.shiftDay("2026-01-01", -1)]') == [
        "2026-03-29", "2026-03-30", "2026-10-26", "2025-12-31",
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("pains", "hurts"),
    [
        ([], False), ([5], False), ([6], True), ([10], True), ([6, 5], False), ([6, 0], False), ([0, 6], True),
        ([6, None], True), ([None], False), ([6, 5, None], False), ([4, None, 8, None], True),
    ],
)  # fmt: skip
def test_pain_of_the_last_answer_decides(pains: list[int | None], hurts: bool) -> None:
    """Above the bound until a later session with the exercise has an answer at or below it; no answer takes nothing back."""
    entries = [{**ENTRY, "date": f"2026-11-{at + 10}", "pain": pain} for at, pain in enumerate(pains)]
    other = {**ENTRY, "date": "2026-11-24", "pain": 0, "done": [{"code": "H7K3", "sets": 1, "of": 1}]}
    undone = {**ENTRY, "date": "2026-11-25", "pain": 0, "done": [{"code": "H7K2", "sets": 0, "of": 1}]}
    assert run('log.hurtLastTime({version: 1, entries: given}, "H7K2", 5)', [*entries, other, undone]) is hurts

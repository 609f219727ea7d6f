"""What the page says where something is missing at home: a thing that serves, else another exercise of the step, else that nothing fits."""

from __future__ import annotations

from typing import Any

from tests.scripts.node import ask_script

STEP = {"name": "Wake", "lines": [], "codes": ["AAAA", "BBBB", "CCCC", "DDDD"]}


def entry(position: str, *equipment: str, easier: tuple[str, ...] = (), harder: tuple[str, ...] = ()) -> dict[str, Any]:
    """An exercise as far as its needs go."""
    return {"position": position, "equipment": list(equipment), "easier": [[code, ""] for code in easier], "harder": [[code, ""] for code in harder]}


BOOK = {
    "exercises": {
        "AAAA": entry("lying", "mat", "band", harder=("BBBB",)),
        "BBBB": entry("standing", "band", easier=("AAAA",), harder=("CCCC", "EEEE")),
        "CCCC": entry("standing", "wall", easier=("BBBB",), harder=("DDDD",)),
        "DDDD": entry("standing", easier=("CCCC",)),
        "EEEE": entry("standing", easier=("BBBB",)),
    },
    "floor": ["lying"],
    "substitutes": [
        {"mark": "RRR", "thing": "band", "take": "rope", "line": "Only here.", "codes": ["AAAA"]},
        {"mark": "TTT", "thing": "band", "take": "towel", "line": "Hold 5 s."},
    ],
    "origins": {"programmes": {"well": {"steps": [STEP, {"name": "Live", "lines": [], "codes": ["EEEE"]}]}}, "bundles": {}},
}


Case = tuple[list[str], list[str], bool]


def ask(*cases: Case) -> list[dict[str, Any]]:
    """What the page answers for picks, missing things, and whether the floor is out of reach."""
    asked = [
        {"draft": {"bundle": {"picks": [{"code": code, "change": {"sets": 2}} for code in codes]}}, "missing": {"things": things, "floor": floor}}
        for codes, things, floor in cases
    ]
    answers: list[dict[str, Any]] = ask_script("home", {"cases": asked, "book": BOOK})
    return answers


def fixes(*cases: Case) -> list[list[tuple[str, list[str], str]]]:
    """Of each pick that lacks something: its code, what is taken instead, and the exercise in its place."""
    return [[(each["code"], [one["take"] for one in each["instead"]], each["target"]) for each in answer["fixes"]] for answer in ask(*cases)]


def test_what_is_done_about_each() -> None:
    """The first thing that serves and is there; where none is, the nearest of the step that is not picked and lacks nothing; else neither."""
    rows: list[tuple[Case, list[tuple[str, list[str], str]]]] = [
        ((["AAAA", "BBBB", "CCCC"], [], False), []),
        ((["AAAA", "BBBB"], ["band"], False), [("AAAA", ["rope"], ""), ("BBBB", ["towel"], "")]),
        ((["AAAA"], ["band", "rope"], False), [("AAAA", ["towel"], "")]),
        ((["AAAA"], ["band", "mat"], False), [("AAAA", [], "CCCC")]),  # a mat has nothing in its place: not half of it
        ((["BBBB"], ["band", "towel"], False), [("BBBB", [], "CCCC")]),
        ((["BBBB", "CCCC"], ["band", "towel"], False), [("BBBB", [], "DDDD")]),  # past what is picked
        ((["BBBB"], ["band", "towel", "wall"], False), [("BBBB", [], "DDDD")]),  # past what lacks something too
        ((["BBBB", "CCCC", "DDDD"], ["band", "towel"], False), [("BBBB", [], "")]),  # EEEE is of another step
        ((["AAAA", "BBBB"], [], True), [("AAAA", [], "CCCC")]),  # who cannot get to the floor is given another exercise
        ((["AAAA"], ["band"], True), [("AAAA", [], "CCCC")]),  # and never a thing
    ]
    assert fixes(*(case for case, _ in rows)) == [expected for _, expected in rows]


def test_all_at_once() -> None:
    """Two exercises are never swapped for one and the same; the dose is the new one's own; what has a thing that serves stays as it is."""
    swapped, serving = ask((["AAAA", "BBBB", "EEEE"], ["band", "towel", "rope", "mat"], False), (["AAAA", "BBBB"], ["band"], False))
    assert [(pick["code"], pick["change"]) for pick in swapped["swapped"]["bundle"]["picks"]] == [("CCCC", {}), ("DDDD", {}), ("EEEE", {"sets": 2})]
    assert [pick["code"] for pick in serving["swapped"]["bundle"]["picks"]] == ["AAAA", "BBBB"]


def test_what_was_taken_is_no_longer_missing() -> None:
    """An exercise with a towel in place of its band needs the towel, and lacks something again where that is missing too."""
    picks = [{"code": "BBBB", "change": {}, "substitutes": ["TTT"]}]
    cases = [{"draft": {"bundle": {"picks": picks}}, "missing": {"things": things, "floor": False}} for things in (["band"], ["band", "towel"])]
    first, second = ask_script("home", {"cases": cases, "book": BOOK})
    assert first["fixes"] == []
    assert [(each["things"], each["target"]) for each in second["fixes"]] == [(["towel"], "CCCC")]

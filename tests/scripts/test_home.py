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
        {"thing": "band", "take": "rope", "change": "Only here.", "codes": ["AAAA"]},
        {"thing": "band", "take": "towel", "change": "Hold 5 s."},
    ],
    "origins": {"programmes": {"well": {"steps": [STEP, {"name": "Live", "lines": [], "codes": ["EEEE"]}]}}, "bundles": {}},
}


def fixes(codes: list[str], things: list[str], floor: bool = False) -> list[tuple[str, list[str], str]]:
    """Of each pick that lacks something: its code, what is taken instead, and the exercise in its place."""
    draft = {"bundle": {"picks": [{"code": code, "change": {}} for code in codes]}}
    found = ask_script("bundle/home.js", "findFixes", draft, {"things": things, "floor": floor}, BOOK)
    return [(each["code"], [one["take"] for one in each["instead"]], each["target"]) for each in found]


def test_what_is_done_about_each() -> None:
    """The first thing that serves and is there; where none is, the nearest of the step that is not picked and lacks nothing; else neither."""
    assert fixes(["AAAA", "BBBB", "CCCC"], []) == []
    assert fixes(["AAAA", "BBBB"], ["band"]) == [("AAAA", ["rope"], ""), ("BBBB", ["towel"], "")]
    assert fixes(["AAAA"], ["band", "rope"]) == [("AAAA", ["towel"], "")]
    assert fixes(["AAAA"], ["band", "mat"]) == [("AAAA", [], "CCCC")]  # a mat has nothing in its place: not half of it
    assert fixes(["BBBB"], ["band", "rope", "towel"]) == [("BBBB", [], "CCCC")]
    assert fixes(["BBBB", "CCCC"], ["band", "towel"]) == [("BBBB", [], "DDDD")]  # past what is picked
    assert fixes(["BBBB"], ["band", "towel", "wall"]) == [("BBBB", [], "DDDD")]  # past what lacks something too
    assert fixes(["BBBB", "CCCC", "DDDD"], ["band", "towel"]) == [("BBBB", [], "")]  # EEEE is of another step


def test_the_floor() -> None:
    """Who cannot get to the floor is given another exercise, never a thing."""
    assert fixes(["AAAA", "BBBB"], [], floor=True) == [("AAAA", [], "CCCC")]
    assert fixes(["AAAA"], ["band"], floor=True) == [("AAAA", [], "CCCC")]


def test_all_at_once() -> None:
    """Two exercises are never swapped for one and the same; what has a thing that serves stays."""
    draft = {"bundle": {"picks": [{"code": code, "change": {"sets": 2}} for code in ("AAAA", "BBBB", "EEEE")]}}
    swapped = ask_script("bundle/home.js", "swapMissing", draft, {"things": ["band", "towel", "rope", "mat"], "floor": False}, BOOK)
    assert [pick["code"] for pick in swapped["bundle"]["picks"]] == ["CCCC", "DDDD", "EEEE"]
    assert swapped["bundle"]["picks"][0]["change"] == {}
    serving = ask_script("bundle/home.js", "swapMissing", draft, {"things": ["band"], "floor": False}, BOOK)
    assert serving == draft

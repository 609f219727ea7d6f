"""Limits of a whole library as plain values."""

from __future__ import annotations

import json
from dataclasses import replace
from pathlib import Path

from handouts.cache import Cache
from handouts.limits import find_all, limits_record
from handouts.model import Side
from tests.builders import a_dose, a_library
from tests.limits.making import an_exercise, demo, motion, the_limit

LIBRARY = replace(
    a_library(an_exercise(slug="deep", dose=a_dose(side=Side.BOTH)), an_exercise(slug="drawn-never")),
    limits=(the_limit("hip-posterior"), the_limit("hip-posterior-pose"), the_limit("acl-open-chain")),
)
SHOWN = {"deep": motion({}, {"hip.r.flex": 97.5})}


def test_record() -> None:
    """What may be exceeded with its numbers, and what could not be checked (a weight of 0 needs no figure); JSON takes it."""
    record = json.loads(json.dumps(limits_record(LIBRARY, SHOWN)))
    assert record["note"] == "Your surgeon's plan comes first."
    assert record["may exceed"] == [
        {"exercise": "deep", "limit": "hip-posterior", "used": True, "phase": "Weeks 0 to 12", "at": "end", "side": "each",
         "exceeds": [{"motion": "hip flexion", "reached": 97.5, "at most": 90.0, "over": 7.5, "unit": "degrees"}]}
    ]  # fmt: skip
    unchecked = [(row["exercise"], row["limit"]) for row in record["could not be checked"]]
    assert unchecked == [("drawn-never", "hip-posterior"), ("drawn-never", "hip-posterior-pose")] + [("drawn-never", "acl-open-chain")] * 5
    versions = [(limit["slug"], limit["group"], limit["used"]) for limit in record["limits"]]
    assert versions[:2] == [("hip-posterior", "hip-replacement-posterior", True), ("hip-posterior-pose", "hip-replacement-posterior", False)]
    assert [phase["status"] for phase in record["limits"][2]["phases"]] == ["confirmed", "confirmed"] + ["from memory"] * 4


def test_every_exercise_is_judged() -> None:
    """An exercise in which nothing is found is there with nothing."""
    library = replace(LIBRARY, limits=(the_limit("vertigo"),))
    assert find_all(library, {slug: motion({}) for slug in library.exercise}) == {"deep": (), "drawn-never": ()}


def test_findings_are_kept(tmp_path: Path) -> None:
    """Kept findings are those that are found; another limit, exercise or no figure is judged anew."""
    cache, other = Cache(tmp_path), replace(LIBRARY, limits=LIBRARY.limits[:1])
    heavier = replace(LIBRARY, exercises=(replace(LIBRARY.exercises[0], dose=a_dose(side=Side.ONE)), LIBRARY.exercises[1]))
    seen = set()
    for library, shown in ((LIBRARY, SHOWN), (LIBRARY, {}), (LIBRARY, SHOWN), (other, SHOWN), (heavier, SHOWN)):
        found = find_all(library, shown)
        assert find_all(library, shown, cache) == find_all(library, shown, cache) == found
        seen.add(repr(found))
    assert len(seen) == 4 and "97.5" in "".join(seen)


def test_the_demo_holds_the_limits_it_should() -> None:
    """Each limit names a source; of each group one version is in use."""
    groups: dict[str, int] = {}
    for limit in demo().limits:
        assert limit.source and limit.status in ("confirmed", "from memory", "clinic's choice")
        if limit.group:
            groups[limit.group] = groups.get(limit.group, 0) + limit.default
    assert groups == {
        "hip-replacement-posterior": 1, "hip-replacement-anterior": 1, "acl-open-chain": 1, "lumbar-fusion": 1,
        "pregnancy-lying": 1, "part-weight": 1,
    }  # fmt: skip

"""Limits of a whole library as plain values."""

from __future__ import annotations

import json
import re
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
    record = json.loads(json.dumps(limits_record(LIBRARY, find_all(LIBRARY, SHOWN))))
    assert record["note"] == "Your surgeon's plan comes first."
    assert record["may exceed"] == [
        {"exercise": "deep", "limit": "hip-posterior", "used": True, "phase": "Weeks 0 to 12", "at": "end", "side": "each",
         "exceeds": [{"motion": "hip flexion", "reached": 98.0, "at most": 90.0, "over": 8.0, "unit": "degrees"}]}
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
    assert len(seen) == 4 and "98.0" in "".join(seen)


def test_the_demo_holds_the_limits_it_should() -> None:
    """Each limit names a source; of each group one version is in use."""
    groups: dict[str, int] = {}
    for limit in demo().limits:
        assert limit.source
        if limit.group:
            groups[limit.group] = groups.get(limit.group, 0) + limit.default
    assert groups == {
        "hip-replacement-posterior": 1, "hip-replacement-anterior": 1, "acl-open-chain": 1, "lumbar-fusion": 1,
        "pregnancy-lying": 1, "part-weight": 1,
    }  # fmt: skip


STATUSES: dict[str, str] = {
    # of each limit: its own status, then those of phases that differ.  Confirmed: the source itself was read; a paper of
    # which only others' words were read is a summary; the weekly steps of van Melick and the guideline on vertigo are from memory
    "hip-posterior": "confirmed", "hip-posterior-pose": "read in a summary",
    "hip-anterior": "read in a summary", "hip-anterior-combined": "read in a summary",
    "cuff-repair": "confirmed", "cuff-repair-across": "from memory",
    "acl-open-chain": "confirmed", "acl-open-chain-fixed": "confirmed",
    "lumbar-fusion": "clinic's choice", "lumbar-fusion-16": "clinic's choice", "thin-bones": "clinic's choice",
    "pregnancy-lying-12": "confirmed", "pregnancy-lying-16": "confirmed", "pregnancy-lying-19": "confirmed",
    "breath-holding": "confirmed", "no-weight": "confirmed", "toe-touch-weight": "confirmed", "part-weight-50": "confirmed",
    "part-weight-30": "confirmed", "weight-as-tolerated": "confirmed", "vertigo": "from memory",
}  # fmt: skip
PHASE_STATUSES = {
    ("hip-anterior", 0): "clinic's choice", ("hip-anterior-combined", 0): "clinic's choice",
    **{("acl-open-chain", number): "from memory" for number in (2, 3, 4, 5)},
}  # fmt: skip


def test_what_was_read_where() -> None:
    """The status of each limit and phase; what was not read in the source itself never says so, and its source text agrees."""
    assert {limit.slug: limit.status for limit in demo().limits} == STATUSES
    for limit in demo().limits:
        for number, phase in enumerate(limit.phases):
            assert (phase.status or limit.status) == PHASE_STATUSES.get((limit.slug, number), limit.status), (limit.slug, number)
            source = phase.source or limit.source
            if (phase.status or limit.status) == "confirmed":
                assert not re.search("summary|memory|no source", source), (limit.slug, source)


CAUTIONS = {
    "hip": "new-hip", "cuff": "shoulder-surgery", "acl": "new-knee", "lumbar": "back-surgery", "thin": "thin-bones",
    "pregnancy": "pregnant", "breath": "breathe-out", "vertigo": "room-spins",
}  # fmt: skip
"""What to ask first under each limit; the limits of weight on a leg are told to each patient by the surgeon."""


def test_limits_name_their_cautions() -> None:
    """Every limit of a state that a reader knows of: an operation, a pregnancy, an illness."""
    for limit in demo().limits:
        expected = CAUTIONS.get(limit.slug.partition("-")[0])
        assert (limit.caution.slug if limit.caution else None) == expected, limit.slug

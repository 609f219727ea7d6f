"""Findings about picks: each kind found where it stands and only there, in words that promise nothing."""

from __future__ import annotations

from dataclasses import replace

import pytest

from handouts.bundle.chart import totals_of
from handouts.bundle.checks import BundleFinding, FindingKind, LimitFinding, check_picks, say_findings
from handouts.dose.progression import build_progression
from handouts.model import Library
from handouts.words.speech import Speech
from tests.bundle.room import LIBRARY
from tests.bundle.sample import bundle_of, pick_of

EN = Speech("en")
PROGRESSION = build_progression(LIBRARY)


def found(*slugs: str, library: Library = LIBRARY, ticked: dict[str, list[LimitFinding]] | None = None) -> tuple[BundleFinding, ...]:
    """Findings about some picks with the library's doses."""
    return check_picks(slugs, library, PROGRESSION, totals_of(bundle_of(*map(pick_of, slugs)), library), ticked)


def said(*slugs: str, library: Library = LIBRARY, ticked: dict[str, list[LimitFinding]] | None = None) -> tuple[str, ...]:
    """The same in words."""
    totals = totals_of(bundle_of(*map(pick_of, slugs)), library)
    return say_findings(found(*slugs, library=library, ticked=ticked), len(slugs), totals, library, EN)


def limited(minutes: int = 60, exercises: int = 6) -> Library:
    """The library with other limits of the clinic."""
    session = replace(LIBRARY.clinic.session, minutes=minutes, exercises=exercises)
    return replace(LIBRARY, clinic=replace(LIBRARY.clinic, session=session))


WIDE = limited()


def test_nothing_found_says_nothing() -> None:
    """Where nothing is found there is no sentence at all."""
    assert said("sit", library=WIDE) == ()
    assert said(library=WIDE) == ()


def test_picked_before_what_it_builds_on() -> None:
    """Near and far: an exercise that stands before what it builds on."""
    assert said("walk", "sit", library=WIDE)[0] == "Walk stands before Sit tall, which it builds on."
    assert BundleFinding(FindingKind.BEFORE, "lift", "sit") in found("lift", "sit")
    assert not any(item.look is FindingKind.BEFORE for item in found("sit", "lift"))


def test_easier_and_harder_both_picked() -> None:
    """In the right order it is still pointed out that one builds on the other; neighbours of a third are not."""
    assert said("sit", "lift", library=WIDE) == ("Lift builds on Sit tall. Both are picked.",)
    assert found("lift", "stand", library=WIDE) == (BundleFinding(FindingKind.ASK, "stand", "new-hip"),)


def test_cautions_that_ask_are_said_once() -> None:
    """One caution of two exercises is one sentence; cautions that do not ask are left to the sheet."""
    assert said("stand", "walk", library=limited(90)) == ("Ask first, for Stand up and Walk: You have a new hip. Ask us first.", "Walk builds on Stand up. Both are picked.")


def test_limits_are_explained() -> None:
    """What the figure room found for a ticked limit comes through with the exercise's name."""
    ticked = {"sit": [LimitFinding("hip", "the hip bends to 96 degrees, at most 90 are allowed.")]}
    assert said("sit", ticked=ticked, library=WIDE) == ("Sit tall: the hip bends to 96 degrees, at most 90 are allowed.",)
    assert said("lift", ticked=ticked, library=WIDE) == ()


@pytest.mark.parametrize(("limit", "many"), [(2, False), (1, True)])
def test_more_exercises_than_the_clinic_wants(limit: int, many: bool) -> None:
    """At the limit nothing, above it the sentence with what the study found, and no more."""
    lines = said("sit", "lift", library=limited(60, limit))
    assert any(line.startswith(f"2 exercises are picked; this clinic's limit is {limit}.") for line in lines) is many
    if many:
        assert "2 exercises were performed better than 8; 5 were not different from either" in lines[-1]
        assert "keeping to them did not differ" in lines[-1]


@pytest.mark.parametrize(("minutes", "long"), [(20, False), (19, True)])
def test_more_minutes_than_the_clinic_wants(minutes: int, long: bool) -> None:
    """Twenty minutes against a limit of 20 and of 19."""
    lines = said("walk", library=limited(minutes))
    assert (f"One session takes about 20 minutes; this clinic's limit is {minutes} minutes." in lines) is long


def test_no_sentence_says_safe() -> None:
    """No sentence of any kind promises safety."""
    ticked = {"walk": [LimitFinding("hip", "too far.")]}
    lines = said("walk", "stand", "sit", "lift", library=limited(1, 1), ticked=ticked)
    assert len(lines) >= 6
    assert not any("safe" in line.lower() for line in lines)

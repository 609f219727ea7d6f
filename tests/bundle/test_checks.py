"""What the chart says was pointed out: each kind found where it stands and only there, in words that promise nothing."""

from __future__ import annotations

from handouts.bundle.checks import BundleFinding, FindingKind, LimitFinding, check_picks, say_findings
from handouts.words.wording import Wording
from tests.bundle.room import LIBRARY

EN = Wording("en")


def said(*slugs: str, ticked: dict[str, list[LimitFinding]] | None = None) -> tuple[str, ...]:
    """The findings about some picks, in words."""
    return say_findings(check_picks(slugs, LIBRARY, ticked), LIBRARY, EN)


def test_nothing_found_says_nothing() -> None:
    """Where nothing is found there is no sentence at all; the order, the number and the minutes are not for the chart."""
    assert said("sit") == said() == ()
    assert said("lift", "sit") == ()


def test_cautions_that_ask_are_said_once() -> None:
    """One caution of two exercises is one sentence; cautions that do not ask are left to the sheet."""
    assert check_picks(("lift", "stand"), LIBRARY) == (BundleFinding(FindingKind.ASK, "stand", "new-hip"),)
    assert said("stand", "walk") == ("To ask, for Stand up and Walk: You have a new hip.",)


def test_limits_come_first_and_are_explained() -> None:
    """What the figure room found for a ticked limit comes through with the names of the exercise and of the limit."""
    ticked = {"walk": [LimitFinding("New hip", "the hip bends to 96 degrees, at most 90 are allowed.")]}
    assert said("stand", "walk", ticked=ticked) == (
        "Walk goes against New hip: the hip bends to 96 degrees, at most 90 are allowed.",
        "To ask, for Stand up and Walk: You have a new hip.",
    )
    assert said("lift", ticked=ticked) == ()


def test_no_sentence_says_safe() -> None:
    """No sentence of any kind promises safety."""
    lines = said("walk", "stand", "sit", "lift", ticked={"walk": [LimitFinding("hip", "too far.")]})
    assert len(lines) == 2
    assert not any("safe" in line.lower() for line in lines)

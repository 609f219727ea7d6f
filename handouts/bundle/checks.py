"""What the chart says was pointed out about a bundle, as values and as sentences: limits and cautions that ask first.

Says what was found, never that something is safe: where nothing is found, nothing is said.  What else the clinician's
page points out (order, number, minutes) is not for the chart.  ``templates/scripts/src/bundle/checks.js`` is the twin for the browser.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from enum import Enum

from handouts.model import CautionKind, Library
from handouts.text.markup import plain_text
from handouts.words.wording import Wording


class FindingKind(Enum):
    """What kind of finding."""

    LIMIT = "limit"
    """It reaches past a movement limit that was ticked for this patient."""
    ASK = "ask"
    """It has a caution that needs asking first."""


@dataclass(frozen=True, slots=True)
class BundleFinding:
    """One thing to look at."""

    look: FindingKind
    exercise: str
    """Its slug."""
    other: str
    """Name of the limit, or slug of the caution."""
    text: str = ""
    """What the figure room says about a limit, in the reader's language."""


@dataclass(frozen=True, slots=True)
class LimitFinding:
    """What the figure room found for one exercise: the limit's name and a sentence that explains the conflict."""

    limit: str
    text: str


def check_picks(
    slugs: Sequence[str], library: Library, ticked: Mapping[str, Sequence[LimitFinding]] | None = None
) -> tuple[BundleFinding, ...]:
    """Findings about picks, those of limits first; ``ticked`` holds, by exercise, what is known about the limits ticked."""
    limits = [BundleFinding(FindingKind.LIMIT, slug, item.limit, item.text) for slug in slugs for item in (ticked or {}).get(slug, ())]
    asks = [
        BundleFinding(FindingKind.ASK, slug, ref.slug)
        for slug in slugs
        for ref in library.exercise[slug].cautions
        if library.caution[ref.slug].kind is CautionKind.ASK
    ]
    return (*limits, *asks)


def say_findings(findings: Sequence[BundleFinding], library: Library, voice: Wording) -> tuple[str, ...]:
    """The findings as sentences, in their order; one caution of several exercises is said once."""
    return tuple(dict.fromkeys(_say_finding(finding, findings, library, voice) for finding in findings))


def _say_finding(finding: BundleFinding, findings: Sequence[BundleFinding], library: Library, voice: Wording) -> str:
    exercise = library.exercise[finding.exercise].title.text
    if finding.look is FindingKind.LIMIT:
        return voice.say("clinician.check_limit", exercise=exercise, limit=finding.other, finding=finding.text)
    alike = [item.exercise for item in findings if item.look is FindingKind.ASK and item.other == finding.other]
    names = voice.join([library.exercise[slug].title.text for slug in alike])
    return voice.say("clinician.check_ask", exercises=names, when=plain_text(library.caution[finding.other].when.text))

"""What a clinician should look at before a bundle goes home, as values and as sentences.

Says what was found, never that something is safe: where nothing is found, nothing is said.
``templates/scripts/src/bundle/checks.js`` is the twin for the browser.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from enum import Enum

from handouts.dose.phrase import about_minutes
from handouts.dose.progression import Progression
from handouts.dose.session import SessionTotals
from handouts.model import CautionKind, Library, SessionPolicy
from handouts.text.markup import plain_text
from handouts.words.speech import Speech

MINUTE = 60


class FindingKind(Enum):
    """What kind of finding."""

    BEFORE = "before"
    """It stands before an exercise that it builds on."""
    BOTH = "both"
    """An exercise and one that builds on it are both picked."""
    LIMIT = "limit"
    """It reaches past a movement limit that was ticked for this patient."""
    ASK = "ask"
    """It has a caution that needs asking first."""
    MANY = "many"
    LONG = "long"


@dataclass(frozen=True, slots=True)
class BundleFinding:
    """One thing to look at."""

    look: FindingKind
    exercise: str = ""
    """Slug; empty where it is about the whole bundle."""
    other: str = ""
    """Slug of the other exercise, of the limit or of the caution."""
    text: str = ""
    """What the figure room says about a limit, in the reader's language."""


@dataclass(frozen=True, slots=True)
class LimitFinding:
    """What the figure room found for one exercise: the limit and a sentence that explains the conflict."""

    limit: str
    text: str


def check_picks(
    slugs: Sequence[str],
    library: Library,
    progression: Progression,
    totals: SessionTotals,
    ticked: Mapping[str, Sequence[LimitFinding]] | None = None,
) -> tuple[BundleFinding, ...]:
    """Findings about picks in order; ``ticked`` holds, by exercise, what is known about the limits ticked."""
    found: list[BundleFinding] = []
    for index, slug in enumerate(slugs):
        found.extend(BundleFinding(FindingKind.LIMIT, slug, item.limit, item.text) for item in (ticked or {}).get(slug, ()))
        for other in progression.before(slug):
            if other in slugs:
                found.append(BundleFinding(FindingKind.BEFORE if slugs.index(other) > index else FindingKind.BOTH, slug, other))
        found.extend(
            BundleFinding(FindingKind.ASK, slug, ref.slug)
            for ref in library.exercise[slug].cautions
            if library.caution[ref.slug].kind is CautionKind.ASK
        )
    return (*found, *_too_much(len(slugs), totals, library.clinic.session))


def _too_much(count: int, totals: SessionTotals, policy: SessionPolicy) -> tuple[BundleFinding, ...]:
    many = (BundleFinding(FindingKind.MANY),) if count > policy.exercises else ()
    return (*many, BundleFinding(FindingKind.LONG)) if totals.seconds > policy.minutes * MINUTE else many


def say_findings(
    findings: Sequence[BundleFinding], count: int, totals: SessionTotals, library: Library, voice: Speech
) -> tuple[str, ...]:
    """The findings as sentences, in their order; one caution of several exercises is said once."""
    policy = library.clinic.session
    lines: dict[str, None] = {}
    for finding in findings:
        if finding.look is FindingKind.MANY:
            line = voice.count("clinician.check_many", count, limit=voice.number(policy.exercises))
        elif finding.look is FindingKind.LONG:
            session, limit = about_minutes(totals.seconds, voice), voice.count("dose.minutes", policy.minutes)
            line = voice.say("clinician.check_long", session=session, limit=limit)
        else:
            line = _about_exercise(finding, findings, library, voice)
        lines[line] = None
    return tuple(lines)


def _about_exercise(finding: BundleFinding, findings: Sequence[BundleFinding], library: Library, voice: Speech) -> str:
    exercise = library.exercise[finding.exercise].title.text
    if finding.look is FindingKind.LIMIT:
        return voice.say("clinician.check_limit", exercise=exercise, finding=finding.text)
    if finding.look is FindingKind.ASK:
        caution = library.caution[finding.other]
        alike = [item.exercise for item in findings if item.look is FindingKind.ASK and item.other == finding.other]
        names = voice.join([library.exercise[slug].title.text for slug in alike])
        return voice.say("clinician.check_ask", exercises=names, when=plain_text(caution.when.text), do=plain_text(caution.do.text))
    other = library.exercise[finding.other].title.text
    return voice.say(f"clinician.check_{finding.look.value}", exercise=exercise, other=other)

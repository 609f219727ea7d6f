"""What an exercise's page says of movement limits, for clinicians.

Shows only limits in use, and only in a language that has the words of all of them: half a list would say
too little.  Where nothing is found nothing is said.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from markupsafe import Markup

from handouts.limits import Finding
from handouts.limits.find import SLIGHT_DEGREES
from handouts.model import Exercise, Limit
from handouts.publication.rich_text import rich
from handouts.site.context import LanguageSite
from handouts.site.page_frame import Link
from handouts.site.paths import list_page, relative
from handouts.text.markup import render_inline
from handouts.words.limits import limits_are_whole, say_findings

LIMITS = "limits"
"""Folder of the page of all limits below its language."""


@dataclass(frozen=True, slots=True)
class PhaseLine:
    """A phase and what was found in it."""

    phase: Markup
    """Empty where the limit has no other."""
    text: str


@dataclass(frozen=True, slots=True)
class LimitEntry:
    """A limit that the exercise may exceed."""

    link: Link
    lines: tuple[PhaseLine, ...]


@dataclass(frozen=True, slots=True)
class LimitBlock:
    """All that was found for an exercise: the larger excesses, then the slight ones."""

    lead: str
    surgeon: Markup
    entries: tuple[LimitEntry, ...]
    slight_heading: str
    """Empty where there are no slight ones."""
    slight: tuple[LimitEntry, ...]
    all: Link


def limit_anchor(limit: Limit) -> str:
    """Where a limit stands on the page of all limits."""
    return f"limit-{limit.slug}"


def make_limit_block(setting: LanguageSite, page: str, exercise: Exercise) -> tuple[LimitBlock, ...]:
    """The block of an exercise; empty where nothing was found or the language lacks words."""
    findings = setting.edition.limits.get(exercise.slug, ())
    target = list_page(setting.language, LIMITS)
    if target not in setting.pages or not limits_are_whole(setting.library, setting.source):
        return ()
    used = {limit.slug for limit in setting.library.limits_in_use}
    found = tuple(finding for finding in findings if finding.limit in used)
    if not found:
        return ()
    say, href = setting.wording.say, relative(page, target)
    slight = tuple(finding for finding in found if finding.is_slight)
    clear = tuple(finding for finding in found if not finding.is_slight)
    return (
        LimitBlock(
            lead=say("limits.lead"),
            surgeon=render_inline(setting.library.clinic.defer.surgeon.text),
            entries=_entries(setting, clear, href),
            slight_heading=say("limits.slight", degrees=setting.wording.number(SLIGHT_DEGREES)) if slight else "",
            slight=_entries(setting, slight, href),
            all=Link(href, say("limits.title")),
        ),
    )


def _entries(setting: LanguageSite, findings: Sequence[Finding], href: str) -> tuple[LimitEntry, ...]:
    by_limit: dict[str, list[Finding]] = {}
    for finding in findings:
        by_limit.setdefault(finding.limit, []).append(finding)
    return tuple(
        LimitEntry(
            Link(f"{href}#{limit_anchor(limit)}", limit.name.text), phase_lines(setting, limit, by_limit[limit.slug])
        )
        for limit in setting.library.limits
        if limit.slug in by_limit
    )


def phase_lines(setting: LanguageSite, limit: Limit, findings: Iterable[Finding]) -> tuple[PhaseLine, ...]:
    """What was found in each phase of a limit, in order."""
    by_phase: dict[int, list[Finding]] = {}
    for finding in findings:
        by_phase.setdefault(finding.phase, []).append(finding)
    return tuple(
        PhaseLine(
            rich(limit.phases[phase].name) if len(limit.phases) > 1 else Markup(""),
            say_findings(found, setting.library, setting.wording),
        )
        for phase, found in sorted(by_phase.items())
    )

"""Movement limits for clinicians: the page of all limits, and what the bundle page may tick.

Both only in languages that have the words of every limit.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import cache, partial
from typing import Any

from markupsafe import Markup

from handouts.bundle.page_data import LimitFound, LimitPhaseFound
from handouts.limits import Finding, Findings
from handouts.limits.find import SLIGHT_DEGREES, TOLERANCE_DEGREES, combinations
from handouts.model import Exercise, Library, Limit, LimitPhase
from handouts.publication.rich_text import rich
from handouts.site.context import LanguageSite
from handouts.site.limits_view import LIMITS, LimitEntry, PhaseLine, limit_anchor, phase_lines
from handouts.site.page_frame import Link, PageFrame, make_frame
from handouts.site.paths import item_page, list_page, relative
from handouts.text.markup import plain_text, render_inline
from handouts.words.limits import limits_are_whole, say_bounds, say_findings, say_status
from handouts.words.wording import Wording


@dataclass(frozen=True, slots=True)
class PhaseView:
    """A phase: its bounds in words; status of its numbers, and their source where it is not the limit's."""

    name: Markup
    bounds: tuple[str, ...]
    status: str
    source: str


@dataclass(frozen=True, slots=True)
class LimitGroup:
    """Exercises that may exceed a limit, each with what was found in each phase."""

    heading: str
    entries: tuple[LimitEntry, ...]


@dataclass(frozen=True, slots=True)
class LimitView:
    """A limit with everything known of it."""

    anchor: str
    name: Markup
    not_used: str
    """Empty where the clinic uses it."""
    says: Markup
    status: str
    source: str
    phases: tuple[PhaseView, ...]
    exceeding: tuple[LimitGroup, ...]
    """The larger excesses, then the slight ones; a group without entries is left out."""
    unchecked_heading: str
    unchecked: tuple[Link, ...]
    none_found: str
    """Empty where something was found or could not be checked."""


@dataclass(frozen=True, slots=True)
class LimitsPage:
    """All limits."""

    frame: PageFrame
    title: str
    lead: str
    surgeon: Markup
    about: tuple[str, str]
    limits: tuple[LimitView, ...]
    sources_language: str


@dataclass(frozen=True)
class LimitPages:
    """The page of all limits in every language that can show it."""

    source: Library
    findings: Findings

    def list_pages(self, library: Library) -> tuple[str, ...]:
        """The paths of the pages that are added for a library."""
        shown = library.limits and limits_are_whole(library, self.source)
        return (list_page(library.language, LIMITS),) if shown else ()

    def make(
        self,
        settings: tuple[LanguageSite, ...],
        files: dict[str, bytes],  # noqa: ARG002
    ) -> dict[str, tuple[str, partial[Any]]]:
        """For each page its template and what makes its view; ``files`` gets nothing."""
        return {
            path: ("limits.html", partial(make_limits_page, setting, self.findings))
            for setting in settings
            for path in self.list_pages(setting.library)
        }


def make_limits_page(setting: LanguageSite, findings: Findings) -> LimitsPage:
    """The view of the page of all limits."""
    say, page = setting.wording.say, list_page(setting.language, LIMITS)
    return LimitsPage(
        frame=make_frame(setting, page, say("limits.title"), say("limits.page_lead"), strip=False, dated=True),
        title=say("limits.title"),
        lead=say("limits.page_lead"),
        surgeon=render_inline(setting.library.clinic.defer.surgeon.text),
        about=(say("limits.lead"), say("limits.tolerance", degrees=setting.wording.number(TOLERANCE_DEGREES))),
        limits=tuple(_limit(setting, page, limit, findings) for limit in setting.library.limits),
        sources_language=setting.source.language,
    )


def _limit(setting: LanguageSite, page: str, limit: Limit, findings: Findings) -> LimitView:
    found = [
        (exercise, own)
        for exercise in setting.library.exercises
        if (own := tuple(each for each in findings.get(exercise.slug, ()) if each.limit == limit.slug))
    ]
    lines = cache(partial(phase_lines, setting, limit))  # many exercises share what is found
    slight = setting.wording.say("limits.slight", degrees=setting.wording.number(SLIGHT_DEGREES))
    exceeding = (
        *_group(setting, page, lines, found, setting.wording.say("limits.may_exceed"), slight=False),
        *_group(setting, page, lines, found, slight, slight=True),
    )
    unchecked = tuple(
        _link(setting, page, exercise) for exercise, each in found if any(finding.is_unknown for finding in each)
    )
    bound = any(phase.bounds for phase in limit.phases)
    say = setting.wording.say
    return LimitView(
        anchor=limit_anchor(limit),
        name=rich(limit.name),
        not_used="" if limit.default else say("limits.not_used"),
        says=rich(limit.says),
        status=say_status(limit.status, setting.wording),
        source=limit.source,
        phases=tuple(_phase(setting, limit, phase) for phase in limit.phases),
        exceeding=exceeding,
        unchecked_heading=_counted(setting, say("limits.not_checked"), unchecked),
        unchecked=unchecked,
        none_found=say("limits.none_found") if bound and not exceeding and not unchecked else "",
    )


def _group(
    setting: LanguageSite,
    page: str,
    lines: Callable[[tuple[Finding, ...]], tuple[PhaseLine, ...]],
    found: Sequence[tuple[Exercise, tuple[Finding, ...]]],
    heading: str,
    *,
    slight: bool,
) -> tuple[LimitGroup, ...]:
    """The exercises with slight excesses, or with larger ones."""
    entries = tuple(
        LimitEntry(_link(setting, page, exercise), lines(certain))
        for exercise, each in found
        if (certain := tuple(finding for finding in each if not finding.is_unknown and finding.is_slight is slight))
    )
    return (LimitGroup(_counted(setting, heading, entries), entries),) if entries else ()


def _counted(setting: LanguageSite, heading: str, items: Sequence[object]) -> str:
    """A heading with how many stand below it; empty where none do."""
    detail = setting.wording.number(len(items))
    return setting.wording.say("limits.detail", found=heading, detail=detail) if items else ""


def _phase(setting: LanguageSite, limit: Limit, phase: LimitPhase) -> PhaseView:
    bounds = tuple(say_bounds(each, setting.library, setting.wording) for each in combinations(phase.bounds))
    return PhaseView(
        name=rich(phase.name),
        bounds=bounds or (setting.wording.say("limits.no_bound"),),
        status=say_status(phase.status or limit.status, setting.wording),
        source=phase.source or "",
    )


def _link(setting: LanguageSite, page: str, exercise: Exercise) -> Link:
    return Link(
        relative(page, item_page(setting.language, "exercises", exercise.slug)), plain_text(exercise.title.text)
    )


def limits_to_tick(library: Library, source: Library, findings: Findings) -> Sequence[LimitFound]:
    """The limits in use with all that was computed for them in a language; none where it lacks words."""
    if not limits_are_whole(library, source):
        return ()
    wording = Wording.of(library)
    return tuple(
        LimitFound(
            slug=limit.slug,
            name=plain_text(limit.name.text),
            says=plain_text(limit.says.text),
            source=limit.source,
            phases=tuple(
                LimitPhaseFound(plain_text(phase.name.text), *_found(library, wording, findings, limit, number))
                for number, phase in enumerate(limit.phases)
            ),
        )
        for limit in library.limits_in_use
    )


def _found(library: Library, wording: Wording, findings: Findings, limit: Limit, phase: int) -> tuple[dict[str, str], dict[str, str]]:
    """By slug what is said of each exercise, and what else where its side is named."""
    said, named = dict[str, str](), dict[str, str]()
    say = cache(partial(say_findings, library=library, wording=wording))  # many exercises share what is found
    for exercise in library.exercises:
        here = tuple(each for each in findings.get(exercise.slug, ()) if each.limit == limit.slug and each.phase == phase)
        if here:
            said[exercise.slug], of_one = say(here), say(here, named=True)
            if of_one != said[exercise.slug]:
                named[exercise.slug] = of_one
    return said, named

"""A bundle as plain text for the chart: exercises with codes, versions and doses, limits ticked, language, code.

Holds no patient's name and no date: the chart has both.  ``templates/scripts/src/bundle/chart.js`` is the twin.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from handouts.bundle.catalogue import name_mark
from handouts.bundle.given import given_items
from handouts.bundle.origins import begun_from, say_begun
from handouts.bundle.values import PickedBundle
from handouts.bundle.whole_dose import dose_parts, say_beside, whole_dose, whole_pick
from handouts.dose.impact import Impact, add_up_impact
from handouts.dose.parts import STRAIGHT, Picked, SessionOrder, order_of, say_parts
from handouts.dose.phrase import about_minutes, join_parts
from handouts.dose.session import SessionTotals, add_up_session
from handouts.dose.stages import dose_in_week
from handouts.model import DoseStage, Library, SessionPolicy
from handouts.text.markup import plain_text
from handouts.words.wording import Wording


@dataclass(frozen=True, slots=True)
class ChartNotes:
    """What the chart says beside the bundle itself."""

    limits: Sequence[str] = ()
    """Limits that were ticked, each with its phase, in words."""
    findings: Sequence[str] = ()
    """What was pointed out, in words."""


def totals_of(bundle: PickedBundle, library: Library) -> SessionTotals:
    """What a session of the bundle adds up to."""
    picks = [whole_pick(pick, library) for pick in bundle.picks]
    return add_up_session(picks, library.clinic.session, order_of(bundle.picks, bundle.round_rest_seconds))


def say_totals(totals: SessionTotals, library: Library, voice: Wording) -> tuple[str, ...]:
    """Minutes of a session and of a week, what is in neither, and what to fetch, in words."""
    others = tuple(filter(None, (say_by_occasion(totals, library, voice),)))
    minutes = about_minutes(totals.seconds, voice)
    names = voice.join([library.exercise[slug].title.text for slug in totals.unknown])
    if not totals.unknown:
        session = voice.say("clinician.session", minutes=minutes)
    elif totals.is_known:
        session = voice.say("clinician.session_more", minutes=minutes, exercises=names)
    else:
        session = voice.say("clinician.session_open", exercises=names)
    things = [library.term["equipment"][slug].name.text for slug in totals.equipment]
    fetch = voice.say("clinician.fetch", things=voice.join(things)) if things else voice.say("clinician.fetch_nothing")
    weekly = voice.say("clinician.weekly", minutes=about_minutes(totals.seconds_a_week, voice))
    if not totals.is_known and not totals.unknown:
        return (*others, fetch)
    return (session, weekly, *others, fetch) if totals.is_known else (session, *others, fetch)


def say_by_occasion(totals: SessionTotals, library: Library, voice: Wording) -> str:
    """What is done by occasion, and is in no sum of minutes; empty where there is nothing."""
    names = [library.exercise[slug].title.text for slug in totals.by_occasion]
    return voice.say("dose.by_occasion", exercises=voice.join(names)) if names else ""


def say_impact(impact: Impact, voice: Wording) -> tuple[str, ...]:
    """Landings and running in a session and in a week; none where there are neither."""
    session = _sums(impact.contacts, impact.running_seconds, voice)
    if impact.contacts_a_week is None or impact.running_a_week is None:
        return (*((voice.say("dose.impact_session", sums=session),) if session else ()), voice.say("dose.impact_unknown"))
    week = _sums(impact.contacts_a_week, impact.running_a_week, voice)
    return (voice.say("dose.impact_session", sums=session), voice.say("dose.impact_week", sums=week)) if session else ()


def _sums(contacts: int, running: int, voice: Wording) -> str:
    found = [voice.count("dose.contacts", contacts)] if contacts else []
    found += [voice.say("dose.running", minutes=about_minutes(running, voice))] if running else []
    return voice.join(found) if found else ""


def say_later_minutes(
    picks: Sequence[Picked], stages: Mapping[str, tuple[DoseStage, ...]], policy: SessionPolicy, voice: Wording, order: SessionOrder = STRAIGHT
) -> Iterator[str]:
    """How long a session takes from each week on in which that changes; ``stages`` by the exercise's slug."""
    last = about_minutes(add_up_session(picks, policy, order).seconds, voice)
    for week in sorted({stage.week for each in stages.values() for stage in each if stage.week}):
        then = [(exercise, dose_in_week(dose, stages.get(exercise.slug, ()), week)) for exercise, dose in picks]
        minutes = about_minutes(add_up_session(then, policy, order).seconds, voice)
        if minutes != last:
            yield voice.say("paper.session_later", n=voice.number(week), minutes=minutes)
        last = minutes


def _say_plan(bundle: PickedBundle, library: Library, voice: Wording) -> Iterator[str]:
    """In which parts a session is done, how long it takes later, what it hangs on, and what is handed over with it."""
    picks = [whole_pick(pick, library) for pick in bundle.picks]
    stages = {pick.exercise.slug: pick.stages for pick in bundle.picks}
    order = order_of(bundle.picks, bundle.round_rest_seconds)
    yield from say_parts(picks, order, stages, voice)
    yield from say_later_minutes(picks, stages, library.clinic.session, voice, order)
    for cue in library.clinic.session_cues:
        if name_mark(cue.slug) == bundle.cue:
            yield voice.say("dose.session_cue", cue=cue.name.text)
    given = given_items(bundle, library)
    if given:
        yield voice.say("clinician.chart_given", things=voice.join([f"{plain_text(item.title.text)} ({item.code})" for _, item in given]))


def chart_text(
    bundle: PickedBundle,
    code: str,
    library: Library,
    voice: Wording,
    *,
    stamps: Mapping[str, str],
    notes: ChartNotes | None = None,
) -> str:
    """The text, a line for each fact, without a line end; ``stamps`` as from ``handouts.ledger.stamp.stamps_of``."""
    given = notes or ChartNotes()
    clinic = library.clinic
    place = next(location.name for location in clinic.locations if location.slug == bundle.location)
    lines = [
        voice.say("clinician.chart_title", clinic=clinic.name, location=place),
        voice.say(
            "clinician.chart_language",
            language=voice.name_of(bundle.language),
            weeks=voice.count("clinician.weeks", bundle.weeks),
        ),
    ]
    lines += say_begun(begun_from(bundle.origin, library), library, voice)
    for number, pick in enumerate(bundle.picks, 1):
        exercise = library.exercise[pick.exercise.slug]
        stamp = stamps.get(f"exercises/{exercise.slug}", "")
        lines.append(
            voice.say(
                "clinician.chart_item",
                n=voice.number(number),
                exercise=exercise.title.text,
                code=f"{exercise.code} {stamp}".strip(),
                dose=join_parts(dose_parts(whole_dose(pick, library), library, voice), voice),
            )
        )
        lines += [f"   {line}" for line in say_beside(pick, library, voice)]
    lines += say_totals(totals_of(bundle, library), library, voice)
    lines += say_impact(add_up_impact(whole_dose(pick, library) for pick in bundle.picks), voice)
    lines += _say_plan(bundle, library, voice)
    limits = voice.say("clinician.chart_limits", limits=voice.join(given.limits)) if given.limits else ""
    lines.append(limits or voice.say("clinician.chart_no_limits"))
    if given.findings:
        lines += [voice.say("clinician.chart_found"), *(f"- {finding}" for finding in given.findings)]
    lines.append(voice.say("clinician.chart_version", version=stamps.get("", "")))
    lines.append(voice.say("clinician.chart_code", code=code))
    return "\n".join(lines)

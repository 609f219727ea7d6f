"""Ready-made bundles: doses within the range, nothing picked twice, nothing before what it builds on, not too much."""

from __future__ import annotations

from collections.abc import Iterator

from handouts.dose.arithmetic import allowed_range, change_dose, forbidden_changes, given_dose, unset_fields
from handouts.dose.parts import order_of
from handouts.dose.session import SessionTotals, add_up_session
from handouts.dose.stages import STAGED, growths, stage_doses, staged_fields
from handouts.dose.substitutes import given_pick
from handouts.model import Bundle, Clinic, DoseChange, Exercise, Library, Pick
from handouts.problems import Grade, Place, Problem, suggest
from handouts.rules.doses import FIELD_NAMES, show_value
from handouts.rules.programmes import not_known
from handouts.rules.question import Question


def check_bundle_doses(question: Question) -> Iterator[Problem]:
    """Does a bundle move only numbers that the exercise's dose range lets move?"""
    for bundle in question.library.bundles:
        for pick in bundle.picks:
            exercise = question.library.exercise.get(pick.exercise.slug)
            if exercise is None:
                continue
            if exercise.dose.is_open:
                yield from _unset(pick, exercise)
            if pick.change is None:
                continue
            tempo, offered = pick.change.tempo, exercise.dose_range.tempo if exercise.dose_range else None
            if tempo is not None and tempo != exercise.dose.tempo and tempo not in (offered or ()):
                listed = f"its range is {', '.join(str(each) for each in offered)}" if offered else _no_range("tempo")
                yield Problem(
                    pick.change.at("tempo"),
                    "bundle-dose",
                    f"tempo of {tempo} is not allowed for '{exercise.slug}': {listed}",
                    "Write a tempo of the range, or add it to the 'dose range' of the exercise.",
                )
            side, sides = pick.change.side, exercise.dose_range.side if exercise.dose_range else None
            if side is not None and sides is not None and side not in sides:
                yield Problem(
                    pick.change.at("side"),
                    "bundle-dose",
                    f"side of {side.value} is not allowed for '{exercise.slug}': its range is {', '.join(each.value for each in sides)}",
                    "Write a side of the range, or add it to the 'dose range' of the exercise.",
                )
            effort, ends = pick.change.effort, exercise.dose_range.effort if exercise.dose_range else None
            if effort is not None and effort != exercise.dose.effort and not (ends and ends.low <= effort.low <= effort.high <= ends.high):
                allowed = f"its range is {ends.low:g} to {ends.high:g}" if ends else _no_range("effort")
                yield Problem(
                    pick.change.at("effort"),
                    "bundle-dose",
                    f"effort of {effort.low:g}-{effort.high:g} is not allowed for '{exercise.slug}': {allowed}",
                    "Write a value in the range, or widen the 'dose range' of the exercise.",
                )
            for name, value, span in forbidden_changes(exercise.dose, pick.change, allowed_range(exercise)):
                key, shown = FIELD_NAMES.get(name, name), show_value(name, value)
                allowed = (
                    f"its range is {show_value(name, span.low)} to {show_value(name, span.high)}" if span else _no_range(key)
                )
                yield Problem(
                    pick.change.at(name),
                    "bundle-dose",
                    f"{key} of {shown} is not allowed for '{exercise.slug}': {allowed}",
                    "Write a value in the range, or widen the 'dose range' of the exercise.",
                )


def _unset(pick: Pick, exercise: Exercise) -> Iterator[Problem]:
    """What a ready-made bundle leaves open where the exercise has no dose of its own."""
    lacking = unset_fields(change_dose(exercise.dose, pick.change), allowed_range(exercise))
    if lacking:
        keys = ", ".join(FIELD_NAMES.get(name, name) for name in lacking)
        what = f"'{exercise.slug}' has no dose of its own, and the bundle does not say: {keys}"
        mend = "Write the dose at this pick, as - {exercise: NAME, dose: {sets: 2, reps: 8, days: 3}}, or take the exercise out."
        yield Problem(pick.exercise.place, "bundle-no-dose", what, mend)


def _no_range(key: str) -> str:
    """Why a value may not be changed at all."""
    return f"this exercise has no 'dose range' for {key}"


def check_bundle_picks(question: Question) -> Iterator[Problem]:
    """Does a bundle pick each exercise once, and none before what it builds on?"""
    for bundle in question.library.bundles:
        slugs = [pick.exercise.slug for pick in bundle.picks]
        for index, pick in enumerate(bundle.picks):
            slug = pick.exercise.slug
            if slug in slugs[:index]:
                yield Problem(pick.exercise.place, "bundle-twice", f"'{slug}' is picked twice", "Take one out.")
            later = [name for name in question.progression.before(slug) if name in slugs[index + 1 :]]
            if later:
                yield Problem(
                    pick.exercise.place,
                    "bundle-order",
                    f"'{slug}' stands before '{later[0]}', which it builds on",
                    f"Put '{later[0]}' first.",
                )


def check_bundle_steps(question: Question) -> Iterator[Problem]:
    """Does a bundle for one tier of a programme pick nothing of a later tier of it?"""
    for bundle in question.library.bundles:
        programme = question.library.programme.get(bundle.programme.slug) if bundle.programme else None
        if programme is None or bundle.tier is None:
            continue
        rank = {tier.tier.slug: at for at, tier in enumerate(programme.tiers)}
        stands = {ref.slug: tier.tier for tier in programme.tiers for ref in tier.exercises}
        own = rank.get(bundle.tier.slug, len(rank))
        for pick in bundle.picks:
            tier = stands.get(pick.exercise.slug)
            if tier is not None and rank[tier.slug] > own:
                yield Problem(
                    pick.exercise.place,
                    "bundle-later-tier",
                    f"'{pick.exercise.slug}' is in the later tier '{tier}' of '{programme.slug}', "
                    f"and the bundle is for '{bundle.tier}'",
                    "Take it out, or write the later tier.",
                )


def check_bundle_in_programme(question: Question) -> Iterator[Problem]:
    """Does the programme that a bundle names hold the exercises of the bundle?"""
    library = question.library
    for bundle in library.bundles:
        programme = library.programme.get(bundle.programme.slug) if bundle.programme else None
        if bundle.programme is None or programme is None:
            continue
        picked = [pick.exercise for pick in bundle.picks]
        outside = [ref for ref in picked if ref.slug not in programme.exercise_slugs and ref.slug in library.exercise]
        if outside and not any(ref.slug in programme.exercise_slugs for ref in picked):
            yield Problem(
                bundle.programme.place,
                "bundle-programme",
                f"the programme '{programme.slug}' holds none of the exercises of the bundle '{bundle.slug}', "
                "and its conditions and cautions would be printed",
                "Name the programme that holds them, or delete 'programme'.",
            )
            continue
        for ref in outside:
            yield Problem(
                ref.place,
                "bundle-outside",
                f"'{ref.slug}' is not in the programme '{programme.slug}', which the bundle '{bundle.slug}' names",
                "Add it to a tier of the programme, or take it out of the bundle, unless it is meant so.",
                Grade.NOTICE,
            )


def check_bundle_stages(question: Question) -> Iterator[Problem]:
    """Do the stages of a bundle's doses come in order, within its weeks, within each dose range, no faster than the clinic's bound?"""
    clinic = question.library.clinic
    for bundle in question.library.bundles:
        if bundle.cue is not None and bundle.cue.slug not in (known := {cue.slug: cue for cue in clinic.session_cues}):
            what = f"'{bundle.cue}' is not declared in 'session cues' of clinic.yaml"
            yield Problem(bundle.cue.place, "unknown-name", what, suggest(bundle.cue.slug, known))
        for pick in bundle.picks:
            exercise = question.library.exercise.get(pick.exercise.slug)
            if exercise is not None and pick.stages:
                yield from _check_stages(pick, exercise, bundle.weeks, clinic)
    for programme in question.library.programmes:
        for rule in programme.stage_rules:
            if not rule.week and clinic.next_dose is None:
                yield _no_rule(rule.place)


def _check_stages(pick: Pick, exercise: Exercise, weeks: int, clinic: Clinic) -> Iterator[Problem]:
    first = given_dose(exercise, pick)
    doses, week = stage_doses(first, pick.stages), 1
    for stage, before, dose in zip(pick.stages, doses, doses[1:], strict=False):
        if not stage.week and clinic.next_dose is None:
            yield _no_rule(stage.place)
        if stage.week and not week < stage.week <= weeks:
            what = f"this stage begins in week {stage.week}, behind one of week {week} and within {weeks} weeks"
            mend = "Put stages in order, each in a later week of the bundle; those without a week last."
            yield Problem(stage.at("week"), "stage-order", what, mend)
            return
        week = stage.week or weeks
        stray = next((field for field in changed_fields(stage.change) if field not in staged_fields(first)), None)
        if stray is not None:
            key = FIELD_NAMES.get(stray, stray)
            what = f"a stage may not change {key} of '{exercise.slug}'"
            yield Problem(stage.change.at(stray), "stage-other", what, "Change sets, what is counted, the weight, days or rest.")
        if dose == before:
            yield Problem(stage.place, "stage-same", "this stage changes nothing", "Write what differs from the stage before, or take it out.")
        for name, value, span in forbidden_changes(exercise.dose, stage.change, allowed_range(exercise)):
            key = FIELD_NAMES.get(name, name)
            allowed = f"its range is {show_value(name, span.low)} to {show_value(name, span.high)}" if span else _no_range(key)
            what = f"{key} of {show_value(name, value)} is not allowed for '{exercise.slug}': {allowed}"
            yield Problem(stage.change.at(name), "bundle-dose", what, "Write a value in the range, or widen the 'dose range' of the exercise.")
    if clinic.growth is not None:
        for stage, growth in zip(pick.stages, growths(first, pick.stages), strict=True):
            if growth > clinic.growth.percent:
                what = f"the work grows by {growth:.0f} % a week, the clinic's bound is {clinic.growth.percent} %"
                yield Problem(stage.place, "stage-growth", what, "Ask for less, or begin the stage later.", Grade.NOTICE)


def changed_fields(change: DoseChange) -> tuple[str, ...]:
    """The numbers that a change moves."""
    return tuple(name for name in STAGED if getattr(change, name) is not None)


def _no_rule(place: Place) -> Problem:
    what = "this stage waits until the one before is easy, and the clinic does not say when that is"
    return Problem(place, "stage-easy", what, "Write 'next dose' into clinic.yaml, or 'from week' here.")


def check_bundle_length(question: Question) -> Iterator[Problem]:
    """Does a bundle stay within the clinic's minutes and number of exercises?"""
    library = question.library
    policy = library.clinic.session
    for bundle in library.bundles:
        totals = bundle_totals(bundle, library)
        minutes = totals.seconds / 60
        if len(bundle.picks) > policy.exercises:
            yield Problem(
                bundle.at("picks"),
                "bundle-many",
                f"the bundle holds {len(bundle.picks)} exercises, the clinic advises at most {policy.exercises}",
                "Take some out.",
                Grade.NOTICE,
            )
        if minutes > policy.minutes:
            yield Problem(
                bundle.at("picks"),
                "bundle-long",
                f"the bundle takes {minutes:.0f} minutes{not_known(totals)}, the clinic advises at most {policy.minutes}",
                "Take some out, or make doses smaller.",
                Grade.NOTICE,
            )


def bundle_totals(bundle: Bundle, library: Library) -> SessionTotals:
    """What one session of a bundle adds up to, over the exercises that exist."""
    known = [
        (library.exercise[pick.exercise.slug], pick) for pick in bundle.picks if pick.exercise.slug in library.exercise
    ]
    doses = [given_pick(exercise, pick, library) for exercise, pick in known]
    return add_up_session(doses, library.clinic.session, order_of(bundle.picks, bundle.round_rest_seconds))

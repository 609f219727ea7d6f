"""Why a link or a code cannot be opened, in words; the twin is ``templates/scripts/src/bundle/refusals.js``."""

from __future__ import annotations

from handouts.bundle.values import Refusal, RefusalKind
from handouts.dose.weight import exact_weight
from handouts.model import Library
from handouts.words.wording import Wording


def say_refusal(refusal: Refusal, library: Library, voice: Wording) -> str:
    """One or two sentences."""
    titles = {exercise.code: exercise.title.text for exercise in library.exercises}
    code = refusal.exercise or ""
    exercise = titles.get(code, code)
    value = _number(refusal.value, voice)
    if refusal.kind is RefusalKind.NEWER:
        return voice.say("clinician.refused_newer")
    if refusal.kind is RefusalKind.OLDER and code:
        return voice.say("clinician.refused_older", exercise=exercise)
    if refusal.kind is RefusalKind.OLDER:
        return voice.say("clinician.refused_older_format")
    if refusal.kind is RefusalKind.UNKNOWN:
        return voice.say("clinician.refused_unknown", what=value)
    if refusal.kind is RefusalKind.ELSEWHERE:
        return voice.say("clinician.refused_elsewhere")
    if refusal.kind is RefusalKind.WITHDRAWN and refusal.replaced_by:
        other = titles.get(refusal.replaced_by, refusal.replaced_by)
        return voice.say("clinician.refused_replaced", exercise=value, other=other)
    if refusal.kind is RefusalKind.WITHDRAWN:
        return voice.say("clinician.refused_withdrawn", exercise=value)
    if refusal.kind is RefusalKind.REPEATED:
        return voice.say("clinician.refused_repeated", exercise=exercise)
    if refusal.kind is RefusalKind.NO_DOSE:
        return voice.say("clinician.no_dose", exercises=exercise)
    if refusal.kind is RefusalKind.OUT_OF_BOUNDS:
        return _say_out_of_bounds(refusal, exercise, value, voice)
    return voice.say("clinician.refused_damaged")


def _say_out_of_bounds(refusal: Refusal, exercise: str, value: str, voice: Wording) -> str:
    low, high = _number(refusal.low or 0, voice), _number(refusal.high or 0, voice)
    if not refusal.exercise:
        return voice.say("clinician.refused_count", value=value, low=low, high=high)
    if refusal.field == "stages":
        return voice.say("clinician.stage_refused", exercise=exercise)
    if refusal.field in ("substitute", "part"):
        return voice.say(f"clinician.{refusal.field}_refused", exercise=exercise)
    field = voice.say(f"clinician.field_{refusal.field}")
    if refusal.field == "weight":
        field = voice.say("clinician.field_weight_lb") if voice.in_pounds else field
        low, high = (_number(exact_weight(end or 0, voice.in_pounds), voice) for end in (refusal.low, refusal.high))
        value = _number(exact_weight(float(refusal.value or 0), voice.in_pounds), voice)
    if refusal.field == "tempo":
        return voice.say("clinician.refused_listed", exercise=exercise, field=field, value=value)
    if refusal.low is None:
        return voice.say("clinician.refused_movable", exercise=exercise, field=field)
    return voice.say("clinician.refused_bounds", exercise=exercise, field=field, value=value, low=low, high=high)


def _number(value: float | str | None, voice: Wording) -> str:
    return voice.number(value) if isinstance(value, int | float) else str(value or "")

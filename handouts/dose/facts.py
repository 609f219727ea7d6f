"""The numbers of a dose for large type, each with the word under it, and the sentences beside them that no number says.

Takes the words of a language from a voice, as ``handouts.dose.phrase`` does.
"""

from __future__ import annotations

from typing import NamedTuple

from handouts.dose.arithmetic import takes_turns
from handouts.dose.phrase import (
    KILOMETRE,
    MINUTE,
    NO_NAMES,
    DoseNames,
    Voice,
    every_phrase,
    in_kilometres,
    join_parts,
    pace_phrase,
    rest_line,
    side_phrase,
    time_phrase,
)
from handouts.dose.weight import shown_weight
from handouts.model import Dose, DoseKind, Span, WorkKind

_PARTS: dict[WorkKind | None, tuple[str, str]] = {
    WorkKind.RUN_WALK: ("run", "walk"),
    WorkKind.FAST_EASY: ("fast", "easy"),
    WorkKind.WORK_REST: ("work", "rest"),
}
"""What the two parts of a round are called."""


class DoseNumber(NamedTuple):
    """One number of a dose for large type: the numeral, the word under it, and what it counts."""

    numeral: str
    word: str
    kind: str
    """``sets reps holds hold seconds minutes meters rest rate days times every effort weight``."""


def parts_beside(dose: Dose, voice: Voice, names: DoseNames = NO_NAMES) -> tuple[str, ...]:
    """What the numbers do not say: warm-up, pace, cool-down, the occasion, days of rest; each a part of a sentence."""
    found = (
        voice.say("dose.warm_up_alone", time=time_phrase(dose.warm_up_seconds, voice)) if dose.warm_up_seconds else "",
        pace_phrase(names, voice),
        voice.say("dose.cool_down_alone", time=time_phrase(dose.cool_down_seconds, voice)) if dose.cool_down_seconds else "",
        every_phrase(dose, voice),
        names.occasion,
        voice.count("dose.rest_days", dose.rest_days) if dose.rest_days else "",
    )
    return tuple(filter(None, found))


def dose_facts(dose: Dose, voice: Voice) -> tuple[DoseNumber, ...]:
    """The numbers of a dose in the order in which they are read, each with the word under it; none where it is open."""
    if dose.is_open:
        return ()
    facts = [*_counted_facts(dose, voice)]
    if dose.reps is not None and dose.hold_seconds is not None:
        facts.append(_fact("hold_seconds", dose.hold_seconds, "hold", voice))
    if dose.rate is not None:
        facts.append(_fact("rate", dose.rate, "rate", voice))
    if dose.weight_kg is not None:
        facts.append(_weight_fact(dose.weight_kg, voice))
    if rest_line(dose, voice):
        facts.append(_time_fact(dose.rest_seconds, "rest", voice))
    if dose.times > 1:
        facts.append(_fact("times", dose.times, "times", voice))
    if dose.every_minutes is not None:
        facts.append(_every_fact(dose.every_minutes, voice))
    if dose.days is not None:
        facts.append(_fact("days", dose.days, "days", voice))
    if dose.effort is not None:
        facts.append(DoseNumber(_numeral(dose.effort, voice), voice.say("dose.word_effort"), "effort"))
    return tuple(facts)


def _counted_facts(dose: Dose, voice: Voice) -> tuple[DoseNumber, ...]:
    """Sets and what is in one; the word of what is in one carries the side.  In rounds the rest stands behind."""
    if dose.work in _PARTS:
        work, rest = _PARTS[dose.work]
        return (
            _fact("rounds", dose.sets, "sets", voice),
            _gone(_amount_fact(dose, voice), work, voice),
            _gone(_time_fact(dose.rest_seconds, "", voice), rest, voice),
        )
    if dose.kind is DoseKind.HOLD:
        counted = (_fact("holds", dose.sets, "holds", voice), _fact("seconds", dose.hold_seconds or 0, "hold", voice))
    else:
        counted = (_fact("sets", dose.sets, "sets", voice), _amount_fact(dose, voice))
    # the order of the sides is said by ``turn_line`` beside the numbers
    side = voice.say("dose.side_both") if takes_turns(dose) else side_phrase(dose, voice)
    last = _gone(counted[-1], "run", voice) if dose.work is WorkKind.RUN else counted[-1]
    return (counted[0], last._replace(word=join_parts((last.word, side), voice)))


def _gone(fact: DoseNumber, how: str, voice: Voice) -> DoseNumber:
    """A number with how it is gone behind its unit: "minutes running"."""
    return fact._replace(word=voice.say("dose.word_of", unit=fact.word, what=voice.say(f"dose.word_{how}")))


def _amount_fact(dose: Dose, voice: Voice) -> DoseNumber:
    if dose.reps is not None:
        fact = _fact(dose.counted.value if dose.counted else "reps", dose.most_reps, "reps", voice)
        return fact._replace(numeral=_numeral(Span(dose.reps, dose.most_reps), voice))
    if dose.time_seconds is not None:
        return _time_fact(dose.time_seconds, "", voice)
    metres = dose.distance_metres or 0
    if in_kilometres(metres):
        return DoseNumber(voice.number(metres / KILOMETRE), voice.count("dose.word_kilometers", metres / KILOMETRE), "meters")
    return _fact("meters", metres, "meters", voice)


def _weight_fact(kilograms: float, voice: Voice) -> DoseNumber:
    number = shown_weight(kilograms, voice.in_pounds)
    word = voice.count("dose.word_lb", number) if voice.in_pounds else voice.say("dose.word_kg")
    return DoseNumber(voice.number(number), word, "weight")


def _time_fact(seconds: int, use: str, voice: Voice) -> DoseNumber:
    """A time in whole minutes where it is one, else in seconds."""
    unit, amount = ("minutes", seconds // MINUTE) if seconds % MINUTE == 0 else ("seconds", seconds)
    return _fact(f"{use}_{unit}" if use else unit, amount, use or unit, voice)


def _every_fact(minutes: int, voice: Voice) -> DoseNumber:
    unit, amount = ("hours", minutes // MINUTE) if minutes % MINUTE == 0 else ("minutes", minutes)
    return _fact(f"every_{unit}", amount, "every", voice)


def _fact(word: str, amount: int, kind: str, voice: Voice) -> DoseNumber:
    return DoseNumber(voice.number(amount), voice.count(f"dose.word_{word}", amount), kind)


def _numeral(span: Span, voice: Voice) -> str:
    if span.low == span.high:
        return voice.number(span.low)
    return voice.say("dose.range", low=voice.number(span.low), high=voice.number(span.high))

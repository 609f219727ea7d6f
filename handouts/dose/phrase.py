"""A dose in words: one line to read aloud, the numbers with a word under each, the parts one by one.

Takes the words of a language from a voice and never from itself, so that a translator decides on
plural, order and punctuation.  Never computes a total (``handouts.dose.arithmetic`` does).
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import NamedTuple, Protocol

from handouts.dose.arithmetic import sides_of
from handouts.dose.stages import stage_doses
from handouts.dose.weight import exact_weight, shown_weight
from handouts.model import Dose, DoseKind, DoseStage, Limb, Side, Span, Tempo

MINUTE = 60
"""Seconds in a minute."""
WEEK = 7
"""Days in a week."""
LONG_SECONDS = 120
"""Shortest time in seconds that is split into minutes and seconds; below it "90 seconds" is easier to count."""


class Voice(Protocol):
    """What is needed of a language; ``handouts.words.wording.Wording`` is one."""

    @property
    def in_pounds(self) -> bool:
        """Whether weights are said in pounds."""

    def say(self, name: str, /, **values: str) -> str:
        """A phrase."""

    def count(self, name: str, n: float, /, **values: str) -> str:
        """A phrase in the form for a number."""

    def number(self, value: float) -> str:
        """A number."""


class DoseNumber(NamedTuple):
    """One number of a dose for large type: the numeral, the word under it, and what it counts."""

    numeral: str
    word: str
    kind: str
    """``sets reps holds hold seconds minutes meters rest days times effort weight``."""


def dose_line(dose: Dose, voice: Voice, band: str = "") -> str:
    """The dose in one line: "3 sets of 10, each side"; ``band`` is the band's name where the dose has one."""
    if dose.is_open:
        return voice.say("dose.open")
    if dose.kind is DoseKind.HOLD:
        holds = voice.count("dose.holds", dose.sets)
        line = voice.say("dose.holds_of", holds=holds, amount=voice.count("dose.seconds_each", dose.hold_seconds or 0))
    elif dose.sets == 1:
        line = _amount_alone(dose, voice)
    else:
        line = voice.say("dose.sets_of", sets=voice.count("dose.sets", dose.sets), amount=_amount_in_set(dose, voice))
    return join_parts((line, side_phrase(dose, voice), hold_phrase(dose, voice), load_phrase(dose, voice, band)), voice)


def join_parts(parts: Iterable[str], voice: Voice) -> str:
    """Parts of a dose, one after the other, with the language's comma; empty parts are left out."""
    line = ""
    for part in parts:
        line = voice.say("dose.comma", first=line, second=part) if line and part else line or part
    return line


def _amount_alone(dose: Dose, voice: Voice) -> str:
    if dose.reps is not None:
        return voice.count("dose.reps", dose.reps)
    if dose.time_seconds is not None:
        return time_phrase(dose.time_seconds, voice)
    return voice.count("dose.meters", dose.distance_metres or 0)


def _amount_in_set(dose: Dose, voice: Voice) -> str:
    if dose.reps is not None:
        return voice.count("dose.reps_each", dose.reps)
    if dose.time_seconds is not None:
        return _time(dose.time_seconds, voice, "_each")
    return voice.count("dose.meters_each", dose.distance_metres or 0)


def time_phrase(seconds: int, voice: Voice) -> str:
    """A time, alone: "90 seconds", "5 minutes", "2 minutes 30 seconds"."""
    return _time(seconds, voice, "")


def _time(seconds: int, voice: Voice, use: str) -> str:
    minutes, rest = divmod(seconds, MINUTE)
    if minutes and not rest:
        return voice.count(f"dose.minutes{use}", minutes)
    if seconds < LONG_SECONDS:
        return voice.count(f"dose.seconds{use}", seconds)
    return voice.say(
        "dose.minutes_seconds",
        minutes=voice.count(f"dose.minutes{use}", minutes),
        seconds=voice.count(f"dose.seconds{use}", rest),
    )


def about_minutes(seconds: float, voice: Voice) -> str:
    """How long something takes, in whole minutes and at least one: "about 6 minutes"."""
    return voice.count("dose.about_minutes", max(1, round(seconds / MINUTE)))


def side_phrase(dose: Dose, voice: Voice) -> str:
    """How left and right share the dose; empty where there are no sides."""
    if dose.side is Side.TOGETHER:
        return ""
    if dose.side is Side.ALTERNATING and dose.reps is not None and dose.reps % 2 == 0:
        return voice.count("dose.side_alternating_each", dose.reps // 2)
    return voice.say(f"dose.side_{dose.side.value.replace('-', '_')}")


def turn_line(dose: Dose, voice: Voice) -> str:
    """When to change sides, as sentences of their own; empty where each side does not do every set."""
    if sides_of(dose) != 2:
        return ""
    counted = "holds" if dose.kind is DoseKind.HOLD else "sets"
    order = "turn" if dose.side is Side.BOTH else "first"
    limb = (dose.limb or Limb.SIDE).value
    return voice.say(f"dose.once_{limb}" if dose.sets == 1 else f"dose.{order}_{counted}_{limb}")


def hold_phrase(dose: Dose, voice: Voice) -> str:
    """The hold in each repetition; empty where there is none."""
    if dose.reps is None or dose.hold_seconds is None:
        return ""
    return voice.count("dose.hold", dose.hold_seconds)


def load_phrase(dose: Dose, voice: Voice, band: str = "") -> str:
    """The weight, or the band by the name that the library gives it; empty where there is neither."""
    if dose.weight_kg is not None:
        return voice.say("dose.weight", weight=weight_phrase(dose.weight_kg, voice))
    return voice.say("dose.band", band=band) if band else ""


def weight_phrase(kilograms: float, voice: Voice) -> str:
    """A weight in the clinic's unit: "2.5 kg", "5 lb"."""
    return _weight(shown_weight(kilograms, voice.in_pounds), voice)


def exact_weight_phrase(kilograms: float, voice: Voice) -> str:
    """A weight in the clinic's unit to the hundredth, where it is compared: "4.54 kg"."""
    return _weight(exact_weight(kilograms, voice.in_pounds), voice)


def _weight(number: float, voice: Voice) -> str:
    return voice.count("dose.lb", number) if voice.in_pounds else voice.say("dose.kg", n=voice.number(number))


def stage_lines(first: Dose, stages: Sequence[DoseStage], sessions: int, voice: Voice, band: str = "") -> tuple[str, ...]:
    """A line for each stage: when it begins, and its dose; none where there is only one.

    ``sessions``: after how many of them a stage is called easy, by the clinic's rule for the next dose.
    """
    if not stages:
        return ()
    lines = []
    for week, dose in zip((1, *(stage.week for stage in stages)), stage_doses(first, stages), strict=True):
        words = dose_line(dose, voice, band)
        lines.append(
            voice.say("dose.stage_week", n=voice.number(week), dose=words) if week else voice.count("dose.stage_easy", sessions, dose=words)
        )
    return tuple(lines)


def frequency_line(dose: Dose, voice: Voice) -> str:
    """Days a week and times a day; empty where neither is given."""
    days = ""
    if dose.days is not None:
        days = days_phrase(dose.days, voice)
    times = voice.count("dose.times", dose.times) if dose.times > 1 else ""
    return join_parts((days, times), voice)


def days_phrase(days: int, voice: Voice) -> str:
    """Days a week: "3 days a week", "every day"."""
    return voice.say("dose.every_day") if days == WEEK else voice.count("dose.days", days)


def rest_line(dose: Dose, voice: Voice) -> str:
    """The rest between sets; empty where there is none or only one set."""
    if dose.rest_seconds == 0 or (dose.sets == 1 and sides_of(dose) == 1):
        return ""
    minutes, rest = divmod(dose.rest_seconds, MINUTE)
    if rest == 0:
        return voice.count("dose.rest_minutes", minutes)
    return voice.count("dose.rest_seconds", dose.rest_seconds)


def effort_line(effort: Span | None, voice: Voice) -> str:
    """How hard it should feel; empty where it is not given."""
    if effort is None:
        return ""
    if effort.low == effort.high:
        return voice.say("dose.effort", n=voice.number(effort.low))
    return voice.say("dose.effort_span", low=voice.number(effort.low), high=voice.number(effort.high))


def effort_scale_line(effort: Span | None, voice: Voice) -> str:
    """How hard it should feel, with the ends of the scale in words; for patients."""
    line = effort_line(effort, voice)
    return voice.say("dose.effort_scale", effort=line) if line else ""


def tempo_line(tempo: Tempo | None, voice: Voice) -> str:
    """The tempo in words: "2 seconds to move, 1 second hold, 3 seconds back"; parts of no length are left out."""
    if tempo is None:
        return ""
    parts = (("go", tempo.go), ("hold", tempo.hold), ("back", tempo.back), ("pause", tempo.pause))
    return join_parts((voice.count(f"dose.tempo_{name}", seconds) for name, seconds in parts if seconds), voice)


def dose_facts(dose: Dose, voice: Voice) -> tuple[DoseNumber, ...]:
    """The numbers of a dose in the order in which they are read, each with the word under it; none where it is open."""
    if dose.is_open:
        return ()
    facts = [*_counted_facts(dose, voice)]
    if dose.reps is not None and dose.hold_seconds is not None:
        facts.append(_fact("hold_seconds", dose.hold_seconds, "hold", voice))
    if dose.weight_kg is not None:
        facts.append(_weight_fact(dose.weight_kg, voice))
    if rest_line(dose, voice):
        facts.append(_time_fact(dose.rest_seconds, "rest", voice))
    if dose.times > 1:
        facts.append(_fact("times", dose.times, "times", voice))
    if dose.days is not None:
        facts.append(_fact("days", dose.days, "days", voice))
    if dose.effort is not None:
        facts.append(DoseNumber(_numeral(dose.effort, voice), voice.say("dose.word_effort"), "effort"))
    return tuple(facts)


def _counted_facts(dose: Dose, voice: Voice) -> tuple[DoseNumber, ...]:
    """Sets and what is in one; the word of what is in one carries the side."""
    if dose.kind is DoseKind.HOLD:
        counted = (_fact("holds", dose.sets, "holds", voice), _fact("seconds", dose.hold_seconds or 0, "hold", voice))
    else:
        counted = (_fact("sets", dose.sets, "sets", voice), _amount_fact(dose, voice))
    # the order of the sides is said by ``turn_line`` beside the numbers
    side = voice.say("dose.side_both") if sides_of(dose) == 2 else side_phrase(dose, voice)
    last = counted[-1]
    return (counted[0], last._replace(word=join_parts((last.word, side), voice)))


def _amount_fact(dose: Dose, voice: Voice) -> DoseNumber:
    if dose.reps is not None:
        return _fact("reps", dose.reps, "reps", voice)
    if dose.time_seconds is not None:
        return _time_fact(dose.time_seconds, "", voice)
    return _fact("meters", dose.distance_metres or 0, "meters", voice)


def _weight_fact(kilograms: float, voice: Voice) -> DoseNumber:
    number = shown_weight(kilograms, voice.in_pounds)
    word = voice.count("dose.word_lb", number) if voice.in_pounds else voice.say("dose.word_kg")
    return DoseNumber(voice.number(number), word, "weight")


def _time_fact(seconds: int, use: str, voice: Voice) -> DoseNumber:
    """A time in whole minutes where it is one, else in seconds."""
    unit, amount = ("minutes", seconds // MINUTE) if seconds % MINUTE == 0 else ("seconds", seconds)
    return _fact(f"{use}_{unit}" if use else unit, amount, use or unit, voice)


def _fact(word: str, amount: int, kind: str, voice: Voice) -> DoseNumber:
    return DoseNumber(voice.number(amount), voice.count(f"dose.word_{word}", amount), kind)


def _numeral(span: Span, voice: Voice) -> str:
    if span.low == span.high:
        return voice.number(span.low)
    return voice.say("dose.range", low=voice.number(span.low), high=voice.number(span.high))

"""A dose in words: one line to read aloud, the parts one by one.

Takes the words of a language from a voice and never from itself, so that a translator decides on
plural, order and punctuation.  Never computes a total (``handouts.dose.arithmetic`` does).
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import NamedTuple, Protocol

from handouts.dose.arithmetic import sides_of, takes_turns
from handouts.dose.stages import stage_doses
from handouts.dose.weight import exact_weight, shown_weight
from handouts.model import Dose, DoseKind, DoseStage, Library, Limb, Side, Span, Tempo, WorkKind

MINUTE = 60
"""Seconds in a minute."""
WEEK = 7
"""Days in a week."""
KILOMETRE = 1000
"""Metres in a kilometre."""
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

    def join(self, items: Sequence[str]) -> str:
        """A list: "A, B and C"."""


class DoseNames(NamedTuple):
    """What a dose names of the vocabulary, as readers see it; empty where it names nothing."""

    band: str = ""
    pace: str = ""
    occasion: str = ""


NO_NAMES = DoseNames()


def dose_names(dose: Dose, library: Library) -> DoseNames:
    """The names of a dose in the library's words; what is gone from its vocabulary has none."""
    named = (("bands", dose.band), ("paces", dose.pace_words), ("occasions", dose.occasion))
    terms = (library.term[kind].get(ref.slug) if ref else None for kind, ref in named)
    return DoseNames(*(term.name.text if term else "" for term in terms))


def dose_line(dose: Dose, voice: Voice, names: DoseNames = NO_NAMES) -> str:
    """The dose in one line: "3 sets of 10, each side"."""
    if dose.is_open:
        return voice.say("dose.open")
    run = voice.say("dose.run") if dose.work is WorkKind.RUN else ""
    line = join_parts((_counted_line(dose, voice), run), voice)
    if dose.warm_up_seconds:
        line = voice.say("dose.warm_up", time=time_phrase(dose.warm_up_seconds, voice), dose=line)
    if dose.cool_down_seconds:
        line = voice.say("dose.cool_down", dose=line, time=time_phrase(dose.cool_down_seconds, voice))
    parts = (line, side_phrase(dose, voice), rate_phrase(dose, voice), pace_phrase(names, voice), hold_phrase(dose, voice))
    return join_parts((*parts, load_phrase(dose, voice, names)), voice)


def _counted_line(dose: Dose, voice: Voice) -> str:
    """Sets and what is in each."""
    if dose.is_interval and dose.work is not None:
        rounds = f"dose.rounds_{dose.work.value.replace('-', '_')}"
        return voice.count(rounds, dose.sets, work=_amount_alone(dose, voice), rest=time_phrase(dose.rest_seconds, voice))
    if dose.kind is DoseKind.HOLD:
        holds = voice.count("dose.holds", dose.sets)
        return voice.say("dose.holds_of", holds=holds, amount=voice.count("dose.seconds_each", dose.hold_seconds or 0))
    if dose.sets == 1:
        return _amount_alone(dose, voice)
    return voice.say("dose.sets_of", sets=voice.count("dose.sets", dose.sets), amount=_amount_in_set(dose, voice))


def join_parts(parts: Iterable[str], voice: Voice) -> str:
    """Parts of a dose, one after the other, with the language's comma; empty parts are left out."""
    line = ""
    for part in parts:
        line = voice.say("dose.comma", first=line, second=part) if line and part else line or part
    return line


def _amount_alone(dose: Dose, voice: Voice) -> str:
    if dose.reps is not None:
        return _reps(dose, voice, "dose.reps", "dose.span_reps")
    if dose.time_seconds is not None:
        return time_phrase(dose.time_seconds, voice)
    return _distance(dose.distance_metres or 0, voice, "")


def _amount_in_set(dose: Dose, voice: Voice) -> str:
    if dose.reps is not None:
        return _reps(dose, voice, "dose.reps_each", "dose.reps_each_to")
    if dose.time_seconds is not None:
        return _time(dose.time_seconds, voice, "_each")
    return _distance(dose.distance_metres or 0, voice, "_each")


def _reps(dose: Dose, voice: Voice, one: str, several: str) -> str:
    """Repetitions by the phrase for one number or for a choice, or in the trade's word for them."""
    low = voice.number(dose.reps or 0)
    if dose.counted is not None:
        high = voice.number(dose.most_reps)
        amount = voice.say("dose.from_to", low=low, high=high) if dose.reps_to else low
        return voice.count(f"dose.counted_{dose.counted.value}", dose.most_reps, amount=amount)
    return voice.count(several, dose.reps_to, low=low) if dose.reps_to else voice.count(one, dose.reps or 0)


def in_kilometres(metres: int) -> bool:
    """Whether a distance is said in kilometres: from one on, where two decimals say it whole."""
    return metres >= KILOMETRE and metres % 10 == 0


def _distance(metres: int, voice: Voice, use: str) -> str:
    return voice.count("dose.kilometers", metres / KILOMETRE) if in_kilometres(metres) else voice.count(f"dose.meters{use}", metres)


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
    if dose.side is Side.ALTERNATING and dose.reps is not None and dose.reps_to is None and dose.reps % 2 == 0:
        return voice.count("dose.side_alternating_each", dose.reps // 2)
    return voice.say(f"dose.side_{dose.side.value.replace('-', '_')}")


def turn_line(dose: Dose, voice: Voice) -> str:
    """When to change sides, as sentences of their own; empty where each side does not do every set."""
    if not takes_turns(dose):
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


def rate_phrase(dose: Dose, voice: Voice) -> str:
    """How many in a minute; empty where it is not said."""
    return voice.count("dose.rate", dose.rate) if dose.rate else ""


def pace_phrase(names: DoseNames, voice: Voice) -> str:
    """How fast in words; empty where it is not said."""
    return voice.say("dose.pace", pace=names.pace) if names.pace else ""


def load_phrase(dose: Dose, voice: Voice, names: DoseNames = NO_NAMES) -> str:
    """The weight, or the band by the name that the library gives it; empty where there is neither."""
    if dose.weight_kg is not None:
        return voice.say("dose.weight", weight=weight_phrase(dose.weight_kg, voice))
    return voice.say("dose.band", band=names.band) if names.band else ""


def weight_phrase(kilograms: float, voice: Voice) -> str:
    """A weight in the clinic's unit: "2.5 kg", "5 lb"."""
    return _weight(shown_weight(kilograms, voice.in_pounds), voice)


def exact_weight_phrase(kilograms: float, voice: Voice) -> str:
    """A weight in the clinic's unit to the hundredth, where it is compared: "4.54 kg"."""
    return _weight(exact_weight(kilograms, voice.in_pounds), voice)


def _weight(number: float, voice: Voice) -> str:
    return voice.count("dose.lb", number) if voice.in_pounds else voice.say("dose.kg", n=voice.number(number))


def stage_lines(
    first: Dose, stages: Sequence[DoseStage], sessions: int, voice: Voice, names: DoseNames = NO_NAMES
) -> tuple[str, ...]:
    """A line for each stage: when it begins, and its dose, with days and rest where these change; none where there is only one.

    ``sessions``: after how many of them a stage is called easy, by the clinic's rule for the next dose.
    """
    if not stages:
        return ()
    doses = stage_doses(first, stages)
    lines, more = [], [part for part in (_days, rest_line) if len({part(dose, voice) for dose in doses}) > 1]
    for week, dose in zip((1, *(stage.week for stage in stages)), doses, strict=True):
        words = join_parts((dose_line(dose, voice, names), *(part(dose, voice) for part in more)), voice)
        lines.append(
            voice.say("dose.stage_week", n=voice.number(week), dose=words) if week else voice.count("dose.stage_easy", sessions, dose=words)
        )
    return tuple(lines)


def frequency_line(dose: Dose, voice: Voice, names: DoseNames = NO_NAMES) -> str:
    """Days a week, times a day or on which occasion, days of rest between; empty where none is given."""
    times = voice.count("dose.times", dose.times) if dose.times > 1 else ""
    rest = voice.count("dose.rest_days", dose.rest_days) if dose.rest_days else ""
    return join_parts((_days(dose, voice), times, every_phrase(dose, voice), names.occasion, rest), voice)


def _days(dose: Dose, voice: Voice) -> str:
    return days_phrase(dose.days, voice) if dose.days is not None else ""


def every_phrase(dose: Dose, voice: Voice) -> str:
    """How often through the day; empty where it is not said."""
    if dose.every_minutes is None:
        return ""
    hours, minutes = divmod(dose.every_minutes, MINUTE)
    return voice.count("dose.every_minutes", dose.every_minutes) if minutes else voice.count("dose.every_hours", hours)


def days_phrase(days: int, voice: Voice) -> str:
    """Days a week: "3 days a week", "every day"."""
    return voice.say("dose.every_day") if days == WEEK else voice.count("dose.days", days)


def rest_line(dose: Dose, voice: Voice) -> str:
    """The rest between sets; empty where there is none or only one set, and in rounds, whose line says it."""
    if dose.rest_seconds == 0 or dose.is_interval or (dose.sets == 1 and sides_of(dose) == 1):
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


def effort_scale_line(effort: Span | None, voice: Voice, scale: str = "") -> str:
    """How hard it should feel, with the ends of the scale in words, the clinic's own where it has any; for patients."""
    line = effort_line(effort, voice)
    if line and scale:
        return voice.say("dose.effort_own", effort=line, scale=scale)
    return voice.say("dose.effort_scale", effort=line) if line else ""


def tempo_line(tempo: Tempo | None, voice: Voice) -> str:
    """The tempo in words: "2 seconds to move, 1 second hold, 3 seconds back"; parts of no length are left out."""
    if tempo is None:
        return ""
    parts = (("go", tempo.go), ("hold", tempo.hold), ("back", tempo.back), ("pause", tempo.pause))
    return join_parts((voice.count(f"dose.tempo_{name}", seconds) for name, seconds in parts if seconds), voice)

"""How a dose, its range and a changed dose are typed in a file."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass

from handouts import model
from handouts.dose.weight import kilograms_of
from handouts.library.shapes import (
    Choice,
    Field,
    ListOf,
    Name,
    Number,
    Problems,
    Quantity,
    RecordOf,
    Schema,
    SpanOf,
    Whole,
    optional,
    scalar_text,
    wrong,
)
from handouts.model.dose import MAX_DAYS, MAX_REPS, MAX_SETS
from handouts.source.nodes import Node, Scalar

SECONDS = (("s", 1), ("min", 60))
METRES = (("m", 1), ("km", 1000))
MINUTES = (("min", 1), ("h", 60))
MAX_TIMES = 12
MAX_OFFERED, MAX_OFFERED_PAUSE, MAX_TEMPOS = 15, 7, 12
"""Seconds of a part of a tempo that a clinician may choose, of its pause, and how many tempos: a bundle code holds one
in three digits (``handouts/bundle/CODE.md``)."""
MIN_PACE, MAX_PACE = 0.05, 3
"""Metres a second: from very small steps to a run."""
MAX_RATE, MAX_WARM_SECONDS, MAX_EVERY_MINUTES = 240, 1800, 720
"""Repetitions a minute; seconds of a warm-up or cool-down; minutes from one occasion to the next."""
MAX_HOLD_SECONDS, MAX_TIME_SECONDS, MAX_REST_SECONDS, MAX_METRES, MAX_KG = 300, 7200, 600, 20_000, 100


_TEMPO = "seconds to go, hold and return, such as 2-1-3 (a fourth number is a pause at the start)"


@dataclass(frozen=True, slots=True)
class TempoShape:
    """Seconds to go, hold, return and (optional) pause: ``2-1-3``."""

    wanted: str = _TEMPO

    def read(self, node: Node, problems: Problems) -> model.Tempo | None:
        text = scalar_text(node, problems, self.wanted)
        if text is None:
            return None
        if not re.fullmatch("[0-9]{1,2}(?:-[0-9]{1,2}){2,3}", text):
            problems.append(wrong(node, f"'{text}' is not a tempo", f"Write {self.wanted}."))
            return None
        tempo = model.Tempo(*(int(part) for part in text.split("-")))
        if tempo.go + tempo.back == 0:
            problems.append(
                wrong(node, "the tempo gives no time to move", "Write at least 1 second to go or to return.")
            )
            return None
        return tempo

    def schema(self) -> Schema:
        return {"type": "string", "pattern": "^[0-9]{1,2}(?:-[0-9]{1,2}){2,3}$"}


@dataclass(frozen=True, slots=True)
class OfferedTempoShape:
    """A tempo that a clinician may choose; its parts must fit into a bundle code."""

    wanted: str = _TEMPO

    def read(self, node: Node, problems: Problems) -> model.Tempo | None:
        tempo = TempoShape().read(node, problems)
        if tempo is not None and (max(tempo.go, tempo.hold, tempo.back) > MAX_OFFERED or tempo.pause > MAX_OFFERED_PAUSE):
            problems.append(
                wrong(
                    node,
                    f"the tempo {tempo} is too slow to be offered",
                    f"Write at most {MAX_OFFERED} seconds to go, hold and return, and at most {MAX_OFFERED_PAUSE} of pause.",
                )
            )
            return None
        return tempo

    def schema(self) -> Schema:
        return TempoShape().schema()


@dataclass(frozen=True, slots=True)
class WeightShape:
    """A weight in kilograms or pounds, to the hundredth: ``0.5 kg``, ``5 lb``; as kilograms."""

    wanted: str = f"a weight such as 0.5 kg or 5 lb, at most {MAX_KG} kg"

    def read(self, node: Node, problems: Problems) -> float | None:
        text = scalar_text(node, problems, self.wanted)
        if text is None:
            return None
        match = re.fullmatch(r"([0-9]{1,3}(?:\.[0-9]{1,2})?) ?(kg|lb)", text)
        kilograms = kilograms_of(float(match[1]), match[2]) if match else 0
        if not 0 < kilograms <= MAX_KG:
            problems.append(wrong(node, f"'{text}' is not {self.wanted}", f"Write {self.wanted}."))
            return None
        return kilograms

    def schema(self) -> Schema:
        return {"type": "string", "pattern": r"^[0-9]{1,3}(?:\.[0-9]{1,2})? ?(?:kg|lb)$"}


@dataclass(frozen=True, slots=True)
class WeightSpanShape:
    """A range of weights in kilograms or pounds: ``0.5-3 kg``, ``2-10 lb``; as kilograms."""

    wanted: str = f"a range of weights such as 0.5-3 kg or 2-10 lb, at most {MAX_KG} kg"

    def read(self, node: Node, problems: Problems) -> model.Span | None:
        text = scalar_text(node, problems, self.wanted)
        if text is None:
            return None
        number = r"([0-9]{1,3}(?:\.[0-9]{1,2})?)"
        match = re.fullmatch(f"{number}(?:[-–]{number})? ?(kg|lb)", text)
        if not match:
            problems.append(wrong(node, f"'{text}' is not {self.wanted}", f"Write {self.wanted}."))
            return None
        low, high = (kilograms_of(float(end), match[3]) for end in (match[1], match[2] or match[1]))
        if low > high:
            problems.append(wrong(node, f"the range '{text}' runs backwards", "Write the lower number first."))
            return None
        if high > MAX_KG:
            problems.append(wrong(node, f"'{text}' reaches above {MAX_KG} kg", f"Write {self.wanted}."))
            return None
        return model.Span(low, high)

    def schema(self) -> Schema:
        return {"type": "string", "pattern": r"^[0-9.]+(?:[-–][0-9.]+)? ?(?:kg|lb)$"}


@dataclass(frozen=True, slots=True)
class PaceShape:
    """A pace in metres a second, to the hundredth: ``0.3 m/s``."""

    wanted: str = f"a pace such as 0.3 m/s, from {MIN_PACE} to {MAX_PACE} m/s"

    def read(self, node: Node, problems: Problems) -> float | None:
        text = scalar_text(node, problems, self.wanted)
        if text is None:
            return None
        match = re.fullmatch(r"([0-9](?:\.[0-9]{1,2})?) ?m/s", text)
        if not match or not MIN_PACE <= float(match[1]) <= MAX_PACE:
            problems.append(wrong(node, f"'{text}' is not {self.wanted}", f"Write {self.wanted}."))
            return None
        return float(match[1])

    def schema(self) -> Schema:
        return {"type": "string", "pattern": r"^[0-9](?:\.[0-9]{1,2})? ?m/s$"}


OPEN_DOSE = "as your physiotherapist says"
"""What an author writes in place of a dose where there is none for everybody."""

_SIDED = Choice(("both", "one-side-first", "one", "alternating", "each-or-both"), model.Side)
_SIDE = Choice(("both", "one-side-first", "one", "alternating", "each-or-both", "together"), model.Side)

_NUMBERS = RecordOf(
    model.Dose,
    "a dose",
    {
        "sets": optional(Whole(1, MAX_SETS), "how many sets", "sets"),
        "reps": optional(Whole(1, MAX_REPS), "repetitions in a set (on each side where side is both)", "reps"),
        "hold": optional(
            Quantity(SECONDS, 1, MAX_HOLD_SECONDS), "length of a hold; beside reps, of each repetition", "hold_seconds"
        ),
        "time": optional(Quantity(SECONDS, 10, MAX_TIME_SECONDS), "length of a set that is timed", "time_seconds"),
        "distance": optional(Quantity(METRES, 1, MAX_METRES), "length of a set that is walked", "distance_metres"),
        "side": optional(
            _SIDE,
            "both (changing after each set), one-side-first (after all sets), one, alternating, each-or-both (as the patient likes); "
            "left out: no sides",
            "side",
        ),
        "tempo": optional(TempoShape(), "seconds to go, hold, return", "tempo"),
        "rest": optional(Quantity(SECONDS, 0, MAX_REST_SECONDS), "rest between sets", "rest_seconds"),
        "days": optional(Whole(1, MAX_DAYS), "days a week", "days"),
        "times": optional(Whole(1, MAX_TIMES), "times a day", "times"),
        "effort": optional(SpanOf(0, 10), "how hard it should feel, 0 to 10", "effort"),
        "weight": optional(WeightShape(), "weight in the hand or at the ankle", "weight_kg"),
        "band": optional(Name(), "strength of the band, from vocabulary.yaml", "band"),
        "pace": optional(
            PaceShape(), "how fast a distance is gone where it is not ordinary walking", "pace_metres_per_second"
        ),
        "limb": optional(
            Choice(("leg", "arm", "side"), model.Limb), "what is changed with the side, for the words that say when", "limb"
        ),
        "count": optional(
            Choice(("breaths", "steps", "contacts"), model.Counted),
            "what reps are where they are not times: breaths (in and out), steps, contacts (landings; both feet at once are one)", "counted"
        ),
        "reps up to": optional(Whole(2, MAX_REPS), "the most repetitions in a set, where they may be reps to so many", "reps_to"),
        "a minute": optional(Whole(1, MAX_RATE), "repetitions a minute, in place of a tempo", "rate"),
        "work": optional(
            Choice(("run", "run-walk", "fast-easy", "work-rest"), model.WorkKind),
            "how a time or distance is gone: run; or rounds of it and of rest: run-walk, fast-easy, work-rest", "work"
        ),
        "pace words": optional(Name(), "how fast in words, from 'paces' in vocabulary.yaml", "pace_words"),
        "warm up": optional(Quantity(SECONDS, 30, MAX_WARM_SECONDS), "before the sets; counts in the minutes", "warm_up_seconds"),
        "cool down": optional(Quantity(SECONDS, 30, MAX_WARM_SECONDS), "after the sets; counts in the minutes", "cool_down_seconds"),
        "every": optional(Quantity(MINUTES, 5, MAX_EVERY_MINUTES), "once in so long while awake, as 30 min: by occasion", "every_minutes"),
        "when": optional(Name(), "when it is done, from 'occasions' in vocabulary.yaml: by occasion", "occasion"),
        "rest days": optional(Whole(1, 3), "days without it between two days with it", "rest_days"),
    },
)


@dataclass(frozen=True, slots=True)
class DoseShape:
    """A dose in numbers, or the words that leave it to the clinician."""

    numbers: RecordOf

    @property
    def fields(self) -> Mapping[str, Field]:
        """The keys of the numbers."""
        return self.numbers.fields

    def read(self, node: Node, problems: Problems) -> model.Dose | None:
        if not isinstance(node, Scalar):
            dose: model.Dose | None = self.numbers.read(node, problems)
            return dose
        if node.text == OPEN_DOSE:
            return model.Dose(place=node.place, sets=0)
        mend = f"Write numbers, such as {{sets: 2, reps: 8, days: 3}}, or '{OPEN_DOSE}'."
        problems.append(wrong(node, f"'{node.text}' is not a dose", mend))
        return None

    def schema(self) -> Schema:
        return {"anyOf": [{"const": OPEN_DOSE}, self.numbers.schema()]}


DOSE = DoseShape(_NUMBERS)

READY_MEASURES = RecordOf(
    model.ReadyMeasures,
    "what is measured of 'ready when'",
    {
        **{key: _NUMBERS.fields[key] for key in ("sets", "reps", "hold", "time", "distance")},
        "days in a row": optional(Whole(1, MAX_DAYS), "on so many of the latest days on which it was done; 1 where left out", "days"),
        "pain": optional(Whole(0, 10), "pain at most, 0 to 10", "pain"),
        "pain next day": optional(Whole(0, 10), "pain at most on the day after, 0 to 10", "pain_next_day"),
        "effort": optional(Whole(0, 10), "effort at most, 0 to 10", "effort"),
        "test": optional(Name(), "a test of function, from tests/", "test"),
        "result": optional(
            Number(0, 10000), "its result, in its unit: at least so much, or at most where less is better", "result"
        ),
    },
)

DOSE_RANGE = RecordOf(
    model.DoseRange,
    "a dose range",
    {
        "sets": optional(SpanOf(1, MAX_SETS), "sets, as 1-4", "sets"),
        "reps": optional(SpanOf(1, MAX_REPS), "repetitions, as 5-15", "reps"),
        "hold": optional(SpanOf(1, MAX_HOLD_SECONDS, SECONDS), "hold, as 5-20 s", "hold_seconds"),
        "time": optional(SpanOf(10, MAX_TIME_SECONDS, SECONDS), "time, as 2-10 min", "time_seconds"),
        "distance": optional(SpanOf(1, MAX_METRES, METRES), "distance, as 50-400 m", "distance_metres"),
        "days": optional(SpanOf(1, MAX_DAYS), "days a week, as 2-5", "days"),
        "rest": optional(SpanOf(0, MAX_REST_SECONDS, SECONDS), "rest, as 30-90 s", "rest_seconds"),
        "weight": optional(WeightSpanShape(), "weight, as 0.5-3 kg or 2-10 lb", "weight_kg"),
        "tempo": optional(
            ListOf(OfferedTempoShape(), 2, MAX_TEMPOS), "the tempos to choose from, as [2-1-2, 3-1-4]", "tempo"
        ),
        "side": optional(
            ListOf(_SIDED, 2, 5), "the sides to choose from, as [both, one-side-first, one]", "side"
        ),
        "times": optional(SpanOf(1, MAX_TIMES), "times a day, as 1-4", "times"),
        "effort": optional(SpanOf(0, 10), "between what the effort may be moved, as 3-6", "effort"),
    },
)

DOSE_CHANGE = RecordOf(
    model.DoseChange,
    "a changed dose",
    {
        key: _NUMBERS.fields[key]
        for key in ("sets", "reps", "hold", "time", "distance", "tempo", "side", "rest", "days", "times", "effort", "weight", "band")
    },
)

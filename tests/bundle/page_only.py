"""What only the clinician's page does, written a second time: the order of a session, and spans of a dose in words.

The page's scripts are compared with this; nothing else uses it.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from math import ceil, floor

from handouts.dose import weight
from handouts.dose.phrase import MINUTE, Voice, days_phrase, weight_phrase
from handouts.dose.progression import Progression
from handouts.model import Exercise, Span

EXACT_UP_TO = 12
"""Largest number of exercises ordered exactly (2^n states); a bundle holds at most 12."""


def shown_span(low: float, high: float, in_pounds: bool) -> tuple[float, float]:
    """A range of weights in the clinic's unit; what was written in the other unit is narrowed to whole steps within it.

    Where no step lies within, its ends are given to the hundredth.
    """
    ends = []
    for kilograms, to_step in ((low, ceil), (high, floor)):
        written, number = weight._written(kilograms, in_pounds), weight._converted(kilograms, in_pounds)
        ends.append(to_step(number / weight.SHOWN_STEP) * weight.SHOWN_STEP if written is None else written)
    if ends[0] <= ends[1]:
        return ends[0], ends[1]
    return weight.exact_weight(low, in_pounds), weight.exact_weight(high, in_pounds)


def order_session(exercises: Sequence[Exercise], progression: Progression) -> tuple[Exercise, ...]:
    """The exercises in the order that changes position least, what comes before kept before what builds on it.

    Exact by dynamic programming over sets up to ``EXACT_UP_TO`` exercises; above that greedy.  Where
    the graph has a ring the given order is kept.
    """
    slugs = [exercise.slug for exercise in exercises]
    earlier = {
        index: frozenset(slugs.index(name) for name in progression.before(slug) if name in slugs)
        for index, slug in enumerate(slugs)
    }
    if any(index in earlier[other] and other in earlier[index] for index in earlier for other in earlier):
        return tuple(exercises)
    positions = [exercise.position.slug for exercise in exercises]
    order = _exact(positions, earlier) if len(slugs) <= EXACT_UP_TO else _greedy(positions, earlier)
    return tuple(exercises[index] for index in order)


def _exact(positions: Sequence[str], earlier: Mapping[int, frozenset[int]]) -> tuple[int, ...]:
    """Least changes first, then the order closest to the one given (lexicographic)."""
    best: dict[tuple[frozenset[int], int], tuple[int, tuple[int, ...]]] = {}
    for index in range(len(positions)):
        if not earlier[index]:
            best[frozenset({index}), index] = (0, (index,))
    for _ in range(len(positions) - 1):
        longer: dict[tuple[frozenset[int], int], tuple[int, tuple[int, ...]]] = {}
        for (done, last), (cost, path) in best.items():
            for index in range(len(positions)):
                if index in done or not earlier[index] <= done:
                    continue
                key = (done | {index}, index)
                candidate = (cost + (positions[index] != positions[last]), (*path, index))
                if key not in longer or candidate < longer[key]:
                    longer[key] = candidate
        best = longer
    return min(best.values())[1] if best else ()


def _greedy(positions: Sequence[str], earlier: Mapping[int, frozenset[int]]) -> tuple[int, ...]:
    """Stay in the position as long as any exercise there is free, then move to the first free one."""
    path: list[int] = []
    while len(path) < len(positions):
        free = [index for index in range(len(positions)) if index not in path and earlier[index] <= set(path)]
        same = [index for index in free if path and positions[index] == positions[path[-1]]]
        path.append((same or free)[0])
    return tuple(path)


def span_line(name: str, span: Span, voice: Voice) -> str:
    """How far one field of a dose may be moved, by the field's name in the model: "5 to 15 times"."""
    if name == "weight_kg":
        if span.low == span.high:
            return weight_phrase(span.low, voice)
        low, high = shown_span(span.low, span.high, voice.in_pounds)
        if low == high:
            return voice.count("dose.lb", low) if voice.in_pounds else voice.say("dose.kg", n=voice.number(low))
        if voice.in_pounds:
            return voice.count("dose.span_lb", high, low=voice.number(low))
        return voice.say("dose.span_kg", low=voice.number(low), high=voice.number(high))
    unit = _SPAN_UNITS[name]
    low, high = span.low, span.high
    if unit == "seconds" and low % MINUTE == 0 and high % MINUTE == 0:
        unit, low, high = "minutes", low / MINUTE, high / MINUTE
    if low == high:
        return days_phrase(int(low), voice) if unit == "days" else voice.count(f"dose.{unit}", high)
    return voice.count(f"dose.span_{unit}", high, low=voice.number(low))


_SPAN_UNITS = {
    "sets": "sets",
    "reps": "reps",
    "hold_seconds": "seconds",
    "time_seconds": "seconds",
    "distance_metres": "meters",
    "days": "days",
    "times": "times",
    "rest_seconds": "seconds",
}

"""Parts of a session: warm-up, rounds, cool-down; in which order it is gone through then, and in words.

How often rounds are gone through follows from the doses, so that it cannot contradict them: a round is one set of each.
``templates/scripts/src/bundle/parts.js`` is the twin.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from itertools import groupby

from handouts.dose.phrase import Voice, time_phrase
from handouts.model import Dose, DoseStage, Exercise, PartKind, Pick, Side
from handouts.text.markup import plain_text

Picked = tuple[Exercise, Dose]


@dataclass(frozen=True, slots=True)
class SessionOrder:
    """How a session is parted."""

    parts: Mapping[str, PartKind] = field(default_factory=dict)
    """By the exercise's slug; what is not here is the main part."""
    rest: int = 0
    """Seconds after each round but the last."""


STRAIGHT = SessionOrder()
"""One exercise after the other, each with all its sets."""


@dataclass(frozen=True, slots=True)
class Visit:
    """An exercise as it is come to in a session: with its whole dose, or with one set of it in a round."""

    exercise: Exercise
    dose: Dose
    rest: int = 0
    """Seconds of rest before it, after the round before."""


def order_of(picks: Iterable[Pick], rest: int | None) -> SessionOrder:
    """How the session of some picks is parted, with the rest after each round."""
    return SessionOrder({pick.exercise.slug: pick.part for pick in picks if pick.part}, rest or 0)


def visits_of(picks: Sequence[Picked], order: SessionOrder) -> Iterator[Visit]:
    """The exercises of a session as they are come to; what is done by occasion is in none."""
    for part, group in _groups(picks, order):
        if part is not PartKind.ROUNDS:
            yield from (Visit(*pick) for pick in group)
            continue
        for number in range(max(dose.sets for _, dose in group)):
            rest = order.rest if number else 0
            for exercise, dose in group:
                if dose.sets > number:
                    yield Visit(exercise, replace(dose, sets=1), rest)
                    rest = 0


def _groups(picks: Sequence[Picked], order: SessionOrder) -> Iterator[tuple[PartKind | None, list[Picked]]]:
    """Neighbours of one part."""
    inside = [pick for pick in picks if not pick[1].is_by_occasion]
    for part, group in groupby(inside, lambda pick: order.parts.get(pick[0].slug)):
        yield part, list(group)


def say_parts(
    picks: Sequence[Picked], order: SessionOrder, stages: Mapping[str, tuple[DoseStage, ...]], voice: Voice
) -> tuple[str, ...]:
    """A line for each part; none where all is the main part.  ``stages`` by slug."""
    if not order.parts:
        return ()
    return tuple(_say_part(part, group, order.rest, stages, voice) for part, group in _groups(picks, order))


def _say_part(
    part: PartKind | None, group: Sequence[Picked], rest: int, stages: Mapping[str, tuple[DoseStage, ...]], voice: Voice
) -> str:
    names = voice.join([plain_text(exercise.title.text) for exercise, _ in group])
    name = voice.say(f"dose.part_{part.value.replace('-', '_') if part else 'main'}", exercises=names)
    if part is not PartKind.ROUNDS:
        return name
    sets = {dose.sets for _, dose in group}
    is_even = len(sets) == 1 and not any(stages.get(exercise.slug) for exercise, _ in group)
    times = voice.count("dose.rounds", max(sets)) if is_even else voice.say("dose.rounds_all")
    after = (voice.say("dose.rounds_rest", time=time_phrase(rest, voice)),) if rest else ()
    return " ".join((name, times, *after, voice.say("dose.rounds_instead")))


def fits_rounds(dose: Dose) -> bool:
    """Whether a set of it on each side can be done in turn with other exercises: not where it has rounds of its own, or one side goes first."""
    return not dose.is_interval and dose.side is not Side.ONE_SIDE_FIRST


def turn_dose(dose: Dose, part: PartKind | None) -> Dose:
    """The dose by which sides are changed: in a round one set is done on each."""
    return replace(dose, sets=1) if part is PartKind.ROUNDS else dose


def say_part_at(pick: Pick, voice: Voice) -> tuple[str, ...]:
    """At an exercise the part that it is done in; empty for the main part."""
    return (voice.say(f"dose.in_{pick.part.value.replace('-', '_')}"),) if pick.part else ()

"""The steps of a programme as readers meet them: their names, their conditions, and what "ready" means there.

The one place for these lines; pages, sheets, booklets, bundles and the data of the phone call it.  A step is a tier of a
programme, numbered in that programme from 1.  Never puts a text together with its label: outputs place both.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from handouts.model import Bundle, Exercise, Library, Programme, Ref, Words
from handouts.words.wording import Wording


@dataclass(frozen=True, slots=True)
class Condition:
    """What a step asks for: the label in the reader's language, and the author's words."""

    label: str
    words: Words


@dataclass(frozen=True, slots=True)
class Neighbours:
    """Among which exercises an exercise is shown."""

    exercises: tuple[Exercise, ...]
    last: frozenset[str] = frozenset()
    """Slugs of the exercises of the programme's last step."""


def name_step(wording: Wording, library: Library, programme: Programme, rank: int) -> str:
    """A step's number and name; ``rank`` is its place in the programme, from 0."""
    return _name_step(wording, library, rank, programme.tiers[rank].tier.slug)


def _name_step(wording: Wording, library: Library, rank: int, tier: str) -> str:
    return wording.say("steps.name", n=wording.number(rank + 1), tier=library.tier[tier].name.text)


def name_step_in(wording: Wording, library: Library, programme: Programme, rank: int, title: str) -> str:
    """The same behind the ``title`` of its programme."""
    tier = library.tier[programme.tiers[rank].tier.slug].name.text
    return wording.say("steps.in_programme", programme=title, n=wording.number(rank + 1), tier=tier)


def make_conditions(wording: Wording, programme: Programme, rank: int) -> tuple[Condition, ...]:
    """When to start a step, and when to go on to the next; the last step has the programme's goal in its place."""
    own = Condition(wording.say("steps.start_when"), programme.tiers[rank].enter_when)
    if rank + 1 == len(programme.tiers):
        return own, Condition(wording.say("steps.goal"), programme.goal)
    following = wording.say("steps.go_on_when", n=wording.number(rank + 2))
    return own, Condition(following, programme.tiers[rank + 1].enter_when)


def rank_of(programme: Programme, slug: str) -> int | None:
    """The place of an exercise's step in a programme, from 0; None where the programme does not hold it."""
    return next((rank for rank, tier in enumerate(programme.tiers) if slug in {ref.slug for ref in tier.exercises}), None)


def rank_of_tier(programme: Programme, tier: str) -> int | None:
    """The place of a tier in a programme, from 0; None where the programme does not have it."""
    return next((rank for rank, each in enumerate(programme.tiers) if each.tier.slug == tier), None)


def name_steps_of(wording: Wording, library: Library, exercise: Exercise) -> tuple[str, ...]:
    """The names of the steps that an exercise stands in, each once; programmes may number the same tier differently."""
    return tuple(dict.fromkeys(_name_step(wording, library, *step) for step in library.steps_of.get(exercise.slug, ())))


def name_step_alone(wording: Wording, library: Library, exercise: Exercise) -> str:
    """The name of an exercise's step outside a programme; empty where its programmes do not all give the same one."""
    names = name_steps_of(wording, library, exercise)
    return names[0] if len(names) == 1 else ""


def find_steps(wording: Wording, library: Library) -> tuple[tuple[int, str, str], ...]:
    """Every step of the library's programmes, each once: its place, from 0, its tier, its name; by tier, then place."""
    found = {
        (rank, tier.tier.slug): name_step(wording, library, programme, rank)
        for programme in library.programmes
        for rank, tier in enumerate(programme.tiers)
    }
    ordered = sorted(found, key=lambda step: (library.tier_rank[step[1]], step[0]))
    return tuple((*step, found[step]) for step in ordered)


def alone(library: Library, opens: Iterable[str]) -> Neighbours:
    """An exercise on a page or a sheet of its own: whatever it ``opens`` is one link away, and no programme is shown."""
    return Neighbours(_known(library, opens))


def in_programme(library: Library, programme: Programme) -> Neighbours:
    """An exercise in its programme."""
    return Neighbours(_known(library, programme.exercise_slugs), _last(programme))


def in_bundle(library: Library, bundle: Bundle) -> Neighbours:
    """An exercise in a bundle: with the programme that the bundle names, else among the bundle's own exercises."""
    picked = tuple(pick.exercise.slug for pick in bundle.picks)
    programme = programme_of(library, bundle)
    if programme is None:
        return Neighbours(_known(library, picked))
    return Neighbours(_known(library, dict.fromkeys((*programme.exercise_slugs, *picked))), _last(programme))


def programme_of(library: Library, bundle: Bundle) -> Programme | None:
    """The programme that a bundle names."""
    return library.programme.get(bundle.programme.slug) if bundle.programme else None


def cautions_of_bundle(library: Library, bundle: Bundle) -> tuple[Ref, ...]:
    """The cautions for a whole bundle: its own, then those of its programme, each once."""
    programme = programme_of(library, bundle)
    known = dict[str, Ref]()
    for ref in (*bundle.cautions, *(programme.cautions if programme else ())):
        known.setdefault(ref.slug, ref)
    return tuple(known.values())


def join_cues(exercise: Exercise, cues: tuple[Words, ...]) -> tuple[Words, ...]:
    """An exercise's own cues, then those of its programme that it does not have already."""
    own = {cue.text for cue in exercise.cues}
    return (*exercise.cues, *(cue for cue in cues if cue.text not in own))


def label_ready(
    wording: Wording, exercise: Exercise, around: Neighbours, needs: Mapping[str, tuple[str, ...]]
) -> str:
    """The label over an exercise's ``ready when``: for the next exercise where one is there, at the goal, or mastered.

    ``needs``: what must be mastered directly before each exercise, by slug (``handouts.dose.progression``).
    """
    if any(exercise.slug in needs[other.slug] for other in around.exercises):
        return wording.say("steps.ready_next")
    return wording.say("steps.ready_goal" if exercise.slug in around.last else "steps.ready_done")


def _known(library: Library, slugs: Iterable[str]) -> tuple[Exercise, ...]:
    return tuple(library.exercise[slug] for slug in slugs if slug in library.exercise)


def _last(programme: Programme) -> frozenset[str]:
    return frozenset(ref.slug for ref in programme.tiers[-1].exercises)

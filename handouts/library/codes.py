"""Exercises that are named by their code: the file name is put in its place, once, as soon as all files are read.

A code that no exercise has is left as it is; the rules say so.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TypeVar

from handouts.model import Exercise, Library, Ref, Way, WholeStep

AnyWay = TypeVar("AnyWay", bound=Way)


def by_file_names(library: Library) -> Library:
    """The library in which every exercise is named by its file name."""
    slug_of = {exercise.code: exercise.slug for exercise in reversed(library.exercises)}

    def named(ref: Ref) -> Ref:
        return replace(ref, slug=slug_of.get(ref.slug, ref.slug))

    def way(item: AnyWay) -> AnyWay:
        return replace(item, exercise=named(item.exercise)) if item.exercise else item

    def exercise(item: Exercise) -> Exercise:
        after = tuple(need if isinstance(need, WholeStep) else named(need) for need in item.after)
        return replace(item, after=after, easier=tuple(map(way, item.easier)), harder=tuple(map(way, item.harder)))

    return replace(
        library,
        exercises=tuple(map(exercise, library.exercises)),
        programmes=tuple(
            replace(
                item, tiers=tuple(replace(tier, exercises=tuple(map(named, tier.exercises))) for tier in item.tiers)
            )
            for item in library.programmes
        ),
        bundles=tuple(
            replace(item, picks=tuple(replace(pick, exercise=named(pick.exercise)) for pick in item.picks))
            for item in library.bundles
        ),
        leaflets=tuple(replace(item, keep=tuple(map(named, item.keep))) for item in library.leaflets),
        lessons=tuple(replace(item, exercise=named(item.exercise)) for item in library.lessons),
        classes=tuple(
            replace(item, stations=tuple(replace(station, levels=tuple(map(named, station.levels))) for station in item.stations))
            for item in library.classes
        ),
    )

"""A base as one clinic has it: without what the clinic leaves out, in its doses, in its order.  Pure."""

from __future__ import annotations

from collections.abc import Container, Iterator, Mapping
from dataclasses import dataclass, replace
from typing import TypeVar

from handouts.dose.arithmetic import change_dose
from handouts.model import (
    Bundle,
    Clinic,
    Exercise,
    Library,
    OwnOrder,
    PatientCondition,
    Pick,
    Programme,
    SearchWords,
)
from handouts.problems import Place, Problem, suggest
from handouts.rules.withdrawn import WithdrawalEffect, without

Item = TypeVar("Item")


ALONG = "lessons/"
"""What goes with the exercise that it is about, without being named."""


@dataclass(frozen=True, slots=True)
class AdaptedBase:
    """The base as a clinic has it, and what leaving out means for the rest."""

    library: Library
    falls: tuple[WithdrawalEffect, ...]
    problems: tuple[Problem, ...]


def adapt(base: Library, clinic: Clinic, own_files: Container[str]) -> AdaptedBase:
    """What a clinic has of its base; ``own_files`` are the paths of its own files, which take the place of the base's."""
    names = _names(base)
    problems = list(_wrong_names(clinic, names, own_files))
    gone = [names[ref.slug] for ref in clinic.left_out if ref.slug in names]
    left = without(base, dict.fromkeys(gone, ""))
    problems += [_emptied(fall, clinic.at("left_out")) for fall in left.falls if fall.item and not fall.item.startswith(ALONG)]
    library = _dosed(left.library, clinic)
    library = _ordered(library, clinic.own_order)
    return AdaptedBase(library, left.falls, tuple(problems))


def mark_reviews(library: Library, name: str) -> Library:
    """The library whose reviews say that they are those of ``name``, but where they say so of another."""

    def marked(items: tuple[Item, ...]) -> tuple[Item, ...]:
        return tuple(replace(item, review=replace(item.review, of=item.review.of or name)) for item in items)  # type: ignore[type-var, attr-defined]

    return replace(
        library, exercises=marked(library.exercises), programmes=marked(library.programmes), bundles=marked(library.bundles),
        tests=marked(library.tests), leaflets=marked(library.leaflets), lessons=marked(library.lessons), classes=marked(library.classes),
    )  # fmt: skip


def _names(library: Library) -> dict[str, str]:
    """``exercises/SLUG`` and the like of everything, by its code, a bundle by its name."""
    coded = [("exercises", item.code, item.slug) for item in library.exercises]
    coded += [("programmes", item.code, item.slug) for item in library.programmes]
    coded += [("bundles", item.slug, item.slug) for item in library.bundles]
    coded += [(folder, item.code, item.slug) for folder, items in library.standalones.items() for item in items]
    return {code: f"{folder}/{slug}" for folder, code, slug in coded}


ENDINGS = {"bundles": ".yaml", "classes": ".yaml"}
"""Endings of files that are no Markdown."""


def _wrong_names(clinic: Clinic, names: Mapping[str, str], own_files: Container[str]) -> Iterator[Problem]:
    """What is changed, ordered or left out, and is not in the base or has a file of its own here."""
    kinds = {"doses": ("exercises",), "order": ("programmes", "bundles"), "left out": ()}
    rows = [("doses", each.code, each.place) for each in clinic.own_doses]
    rows += [("order", each.name, each.place) for each in clinic.own_order]
    rows += [("left out", ref.slug, ref.place) for ref in clinic.left_out]
    for key, name, place in rows:
        item = names.get(name, "")
        folder = item.partition("/")[0]
        known = [each for each, there in names.items() if not kinds[key] or there.partition("/")[0] in kinds[key]]
        if not item or name not in known:
            yield Problem(place, "not-in-base", f"'{name}' in '{key}' is nothing that the base has", suggest(name, known))
        elif f"{item}{ENDINGS.get(folder, '.md')}" in own_files:
            what = f"'{name}' has a file of its own in this library, which takes the place of the base's"
            yield Problem(place, "own-twice", what, f"Delete the file, or take it out of '{key}' and write it in the file.")


def _emptied(fall: WithdrawalEffect, place: Place) -> Problem:
    what = f"without what is left out '{fall.title}' {fall.says.replace('is withdrawn with it', 'would be gone')}"
    return Problem(place, "left-out-empties", what, "Leave it out too, by its code or its name; or give it other exercises in 'order'.")


def find_words(words: tuple[SearchWords, ...], there: Container[str], base: Library) -> tuple[SearchWords, ...]:
    """Search words without exercises that the base has and the library has not; without those that then find nothing."""
    found = []
    for item in words:
        kept = tuple(ref for ref in item.exercises if ref.slug in there or ref.slug not in base.exercise)
        now = item if kept == item.exercises else replace(item, exercises=kept)
        found += [now] if now is item or not now.is_passed_over else []
    return tuple(found)


def find_conditions(conditions: tuple[PatientCondition, ...], there: Container[str], base: Library) -> tuple[PatientCondition, ...]:
    """Conditions without exercises that the base has and the library has not; without rules, and conditions, that then name nothing."""
    found = []
    for item in conditions:
        left = [
            replace(rule, exercises=tuple(ref for ref in rule.exercises if ref.slug in there or ref.slug not in base.exercise))
            for rule in item.rules
        ]
        rules = tuple(now for rule, now in zip(item.rules, left, strict=True) if now.named or not rule.named)
        found += [replace(item, rules=rules)] if rules else []
    return tuple(found)


def _dosed(library: Library, clinic: Clinic) -> Library:
    changes = {each.code: each.change for each in clinic.own_doses}

    def dosed(exercise: Exercise) -> Exercise:
        change = changes.get(exercise.code)
        if change is None:
            return exercise
        dose = change_dose(exercise.dose, change)
        return replace(exercise, dose=replace(dose, places={**exercise.dose.places, **change.places}))

    return replace(library, exercises=tuple(map(dosed, library.exercises))) if changes else library


def _ordered(library: Library, orders: tuple[OwnOrder, ...]) -> Library:
    wanted = {each.name: dict(each.steps) for each in orders}
    slugs = {item.code: item.slug for item in library.exercises}

    def programme(item: Programme) -> Programme:
        steps = wanted.get(item.code, {})
        tiers = tuple(replace(tier, exercises=steps.get(tier.tier.slug, tier.exercises)) for tier in item.tiers)
        return replace(item, tiers=tiers) if steps else item

    def bundle(item: Bundle) -> Bundle:
        refs = wanted.get(item.slug, {}).get("")
        if refs is None:
            return item
        picks = {pick.exercise.slug: pick for pick in item.picks}
        named = (replace(ref, slug=slugs.get(ref.slug, ref.slug)) for ref in refs)
        return replace(item, picks=tuple(picks.get(ref.slug) or Pick(place=ref.place, exercise=ref) for ref in named))

    if not wanted:
        return library
    return replace(library, programmes=tuple(map(programme, library.programmes)), bundles=tuple(map(bundle, library.bundles)))

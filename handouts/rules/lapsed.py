"""What is no longer published: content whose review ended longer ago than the clinic's days of grace."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import date

from handouts.dose.progression import keep_named
from handouts.ledger.entries import STANDALONE, folder_of
from handouts.ledger.history import HeldBack
from handouts.model import Bundle, Exercise, Leaflet, Library, Programme, Standalone, exercises_named
from handouts.rules.safety import add_days, review_ends

Reviewed = Exercise | Programme | Bundle | Standalone


@dataclass(frozen=True, slots=True)
class ReviewedLibrary:
    """A library by the state of its reviews on one day."""

    library: Library
    """What may be published; nothing in it names what may not."""
    held_back: tuple[HeldBack, ...]
    overdue: Mapping[str, date]
    """By ``exercises/SLUG`` and the like when a review ended, of what may be published all the same."""
    left_out: Mapping[str, tuple[str, ...]]
    """By ``programmes/SLUG`` or ``bundles/SLUG`` the exercises that are held back."""


def sort_by_review(library: Library, today: date) -> ReviewedLibrary:
    """The library without what has lapsed; what has nothing left is held back with it, and a bundle with its programme."""
    ends = {name: review_ends(item.review, library.clinic.review.months) for name, _, item in _reviewed(library)}
    last = add_days(today, -library.clinic.review.grace_days)
    gone = {name for name, end in ends.items() if end < last}
    kept = {item.slug for item in library.exercises if f"exercises/{item.slug}" not in gone}
    for name, _, item in _reviewed(library):
        if isinstance(item, Programme | Bundle) and not kept.intersection(_inside(item)):
            gone.add(name)
    for bundle in library.bundles:  # without its programme it would lose the programme's cautions
        if bundle.programme and f"programmes/{bundle.programme.slug}" in gone:
            gone.add(f"bundles/{bundle.slug}")
    for folder, items in library.standalones.items():  # without the exercises that they name they say too little
        gone |= {f"{folder}/{item.slug}" for item in items if any(ref.slug not in kept for ref in exercises_named(item))}
    left = replace(
        library,
        exercises=tuple(_exercise(item, kept) for item in library.exercises if item.slug in kept),
        programmes=tuple(
            _programme(item, kept) for item in library.programmes if f"programmes/{item.slug}" not in gone
        ),
        bundles=tuple(_bundle(item, kept) for item in library.bundles if f"bundles/{item.slug}" not in gone),
        tests=tuple(item for item in library.tests if f"tests/{item.slug}" not in gone),
        leaflets=tuple(_leaflet(item, gone) for item in library.leaflets if f"leaflets/{item.slug}" not in gone),
        lessons=tuple(item for item in library.lessons if f"lessons/{item.slug}" not in gone),
        classes=tuple(item for item in library.classes if f"classes/{item.slug}" not in gone),
    )
    left = library if left == library else left  # the same object, so that nobody works through it twice
    known = {name: item for name, _, item in _reviewed(library)}
    held = tuple(
        HeldBack(kind, item.slug, getattr(item, "code", ""), item.title.text, ends[cause], known[cause].review.by.text)
        for name, kind, item in _reviewed(library)
        if name in gone and (cause := _cause(name, known, ends, last, gone))
    )
    lacking = {
        name: tuple(slug for slug in _inside(item) if slug not in kept)
        for name, _, item in _reviewed(library)
        if isinstance(item, Programme | Bundle) and name not in gone
    }
    overdue = {name: end for name, end in ends.items() if end < today and name not in gone}
    return ReviewedLibrary(left, held, overdue, {name: slugs for name, slugs in lacking.items() if slugs})


def _cause(name: str, known: Mapping[str, Reviewed], ends: Mapping[str, date], last: date, gone: set[str]) -> str:
    """Whose review holds an item back: its own, the last of its exercises', the first of those that it names, or that of its programme."""
    item = known[name]
    if ends[name] < last or isinstance(item, Exercise):
        return name
    inside = [f"exercises/{slug}" for slug in _inside(item)]
    if isinstance(item, Standalone):
        return min((each for each in inside if each in gone), key=lambda each: ends[each], default=name)
    if inside and gone.issuperset(inside):
        return max(inside, key=lambda each: ends[each])
    if isinstance(item, Bundle) and item.programme:
        return _cause(f"programmes/{item.programme.slug}", known, ends, last, gone)
    return name


def last_day(library: Library, item: str) -> date | None:
    """The last day on which ``exercises/SLUG`` and the like may be shown as it is; None for anything else.

    That of its review with the days of grace; a programme and a bundle last no longer than each of their exercises.
    """
    kind, _, slug = item.partition("/")
    known: dict[str, Mapping[str, Reviewed]] = {
        "exercises": library.exercise, "programmes": library.programme, "bundles": library.bundle, "tests": library.test,
        "leaflets": library.leaflet, "lessons": library.lesson, "classes": library.class_plan,
    }  # fmt: skip
    whole = known.get(kind, {}).get(slug)
    if whole is None:
        return None
    inside = () if isinstance(whole, Exercise) else _inside(whole)
    each_review = [whole.review, *(library.exercise[slug].review for slug in inside)]
    policy = library.clinic.review
    return add_days(min(review_ends(each, policy.months) for each in each_review), policy.grace_days)


def _reviewed(library: Library) -> Iterator[tuple[str, str, Reviewed]]:
    """Everything that has a review, with its ``exercises/SLUG`` and its kind."""
    kinds: tuple[tuple[str, tuple[Reviewed, ...]], ...] = (
        ("exercise", library.exercises),
        ("programme", library.programmes),
        ("bundle", library.bundles),
        *((STANDALONE[folder], items) for folder, items in library.standalones.items()),
    )
    for kind, items in kinds:
        for item in items:
            yield f"{folder_of(kind)}/{item.slug}", kind, item


def _inside(item: Programme | Bundle | Standalone) -> tuple[str, ...]:
    """The exercises that it holds or names."""
    if isinstance(item, Standalone):
        return tuple(ref.slug for ref in exercises_named(item))
    if isinstance(item, Programme):
        return item.exercise_slugs
    return tuple(pick.exercise.slug for pick in item.picks)


def _exercise(exercise: Exercise, kept: set[str]) -> Exercise:
    return keep_named(exercise, kept.__contains__)


def _programme(programme: Programme, kept: set[str]) -> Programme:
    # a tier that has no exercise left stays, so that every step keeps its number and its condition
    tiers = (
        replace(tier, exercises=tuple(ref for ref in tier.exercises if ref.slug in kept)) for tier in programme.tiers
    )
    return replace(programme, tiers=tuple(tiers))


def _leaflet(leaflet: Leaflet, gone: set[str]) -> Leaflet:
    """An advice sheet, without a programme that is held back."""
    lost = leaflet.programme is not None and f"programmes/{leaflet.programme.slug}" in gone
    return replace(leaflet, programme=None) if lost else leaflet


def _bundle(bundle: Bundle, kept: set[str]) -> Bundle:
    return replace(bundle, picks=tuple(pick for pick in bundle.picks if pick.exercise.slug in kept))

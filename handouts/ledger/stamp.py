"""The version stamp of what a reader sees: a short hash of words, dose and figure, the same on page, phone and paper.

A change of place, file name or review date does not change it; a change of one word or number does.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Mapping
from dataclasses import fields, is_dataclass, replace
from enum import Enum
from typing import Any

from handouts.model import (
    Bundle,
    ClassPlan,
    Exercise,
    Leaflet,
    Lesson,
    Library,
    Programme,
    Ref,
    Standalone,
    WholeStep,
    Words,
    exercises_named,
)
from handouts.source.nodes import Mapping as MappingNode

CHECKED = frozenset({"shows"})
"""Keys of a figure that only say what is checked; no reader sees them."""
STAMP_CHARACTERS = 6
"""Characters of a stamp; 31^6 is about 9e8, so two versions of one exercise share a stamp by chance once in 1e9."""
ALPHABET = "23456789ABCDEFGHJKMNPQRSTUVWXYZ"
"""Without 0, 1, I, L and O: a stamp is read aloud over the phone."""
UNSEEN = (
    "base",
    "place",
    "places",
    "slug",
    "code",
    "review",
    "sources",
    "also_called",
    "reading_level",
    "dose_range",
    "former_sites",
    "next_dose",
    "growth",
    "session_cues",
    "stage_rules",
    "demands",
    "older",
    "taken_off",
    "approval",
    "file_name",
    "fonts",
    "stands_on",
    "own_doses",
    "own_order",
    "left_out",
    "codes_kept_free",
    "folded_booklets",
    "class_minutes",
)
LATER = frozenset(
    {
        ("Dose", "limb"),
        *(("Dose", name) for name in (
            "counted", "reps_to", "rate", "work", "pace_words", "warm_up_seconds", "cool_down_seconds", "every_minutes", "occasion", "rest_days"
        )),
        ("ReadyMeasures", "pain_next_day"),
        ("Dose", "pace_metres_per_second"),
        ("DoseChange", "effort"),
        ("DoseChange", "tempo"),
        ("Clinic", "effort_scale"),
        ("Clinic", "flare_plan"),
        ("Clinic", "pain_bounds"),
        ("Exercise", "easier"),
        ("Exercise", "harder"),
        ("Programme", "cues"),
        ("Programme", "through_the_day"),
        ("Bundle", "programme"),
        ("Bundle", "tier"),
        ("Bundle", "cautions"),
        ("DoseChange", "times"),
        ("Clinic", "units"),
        ("Leaflet", "programme"),
        ("Leaflet", "keep"),
        ("Leaflet", "come_back"),
        ("Clinic", "people"),
        ("Exercise", "picture"),
        ("Mistake", "figure"),
        ("Exercise", "ready_measures"),
        ("Pick", "stages"),
        ("Pick", "substitutes"),
        ("Pick", "part"),
        *(("Bundle", name) for name in ("round_rest_seconds", "tests", "leaflets")),
        ("Bundle", "cue"),
    }
)
"""Fields that came with a newer program: while one is not set, no stamp tells of it, so that an upgrade makes no version."""


def stamp_of(*seen: Any) -> str:
    """The stamp of any values of the model."""
    number = int.from_bytes(hashlib.sha256("\x1f".join(_parts(seen)).encode()).digest(), "big")
    characters = []
    for _ in range(STAMP_CHARACTERS):
        number, rest = divmod(number, len(ALPHABET))
        characters.append(ALPHABET[rest])
    return "".join(characters)


def _parts(value: Any) -> Iterable[str]:
    """The value as a flat row of texts: brackets and field names keep its shape."""
    if isinstance(value, Words):
        yield value.text
    elif isinstance(value, Ref):
        yield value.slug
    elif isinstance(value, Enum):
        yield str(value.value)
    elif isinstance(value, MappingNode):
        yield repr(replace(value, entries=tuple(entry for entry in value.entries if entry.key not in CHECKED)))
    elif isinstance(value, tuple):
        yield "["
        for item in value:
            yield from _parts(item)
        yield "]"
    elif (names := _seen_fields(type(value))) is not None:
        for name in names:
            if not is_unset_later(value, name):
                yield name
                yield from _parts(getattr(value, name))
    else:
        yield repr(value)


_FIELDS: dict[type, tuple[str, ...] | None] = {}
"""By class what ``_seen_fields`` gives."""


def _seen_fields(kind: type) -> tuple[str, ...] | None:
    """The fields of a record that a reader sees; None for what is no record."""
    if kind not in _FIELDS:
        _FIELDS[kind] = tuple(each.name for each in fields(kind) if each.name not in UNSEEN) if is_dataclass(kind) else None
    return _FIELDS[kind]


def is_unset_later(value: Any, field: str) -> bool:
    """Whether a field of a record came with a newer program and is not set."""
    return (type(value).__name__, field) in LATER and getattr(value, field) in (None, ())


def by_codes(item: Exercise | Programme | Bundle | Standalone, library: Library) -> Any:
    """An item whose references to exercises are their codes: a file that is renamed changes nothing for readers."""
    known = library.exercise

    def coded(ref: Ref) -> Ref:
        return replace(ref, slug=known[ref.slug].code) if ref.slug in known else ref

    if isinstance(item, Exercise):
        programmes = {programme.slug: programme.code for programme in library.programmes}
        return replace(
            item,
            after=tuple(coded(need) if isinstance(need, Ref) else _coded_step(need, programmes) for need in item.after),
            easier=tuple(replace(way, exercise=way.exercise and coded(way.exercise)) for way in item.easier),
            harder=tuple(replace(way, exercise=way.exercise and coded(way.exercise)) for way in item.harder),
        )
    if isinstance(item, Programme):
        tiers = (replace(tier, exercises=tuple(coded(ref) for ref in tier.exercises)) for tier in item.tiers)
        return replace(item, tiers=tuple(tiers))
    if isinstance(item, Lesson):
        return replace(item, exercise=coded(item.exercise))
    if isinstance(item, ClassPlan):
        return replace(item, stations=tuple(replace(each, levels=tuple(map(coded, each.levels))) for each in item.stations))
    if isinstance(item, Standalone) and not isinstance(item, Leaflet):
        return item
    programme = library.programme.get(item.programme.slug) if item.programme else None
    if isinstance(item, Leaflet):
        named = replace(item.programme, slug=programme.code) if item.programme and programme else item.programme
        return replace(item, programme=named, keep=tuple(map(coded, item.keep)))
    return replace(
        item,
        programme=replace(item.programme, slug=programme.code) if item.programme and programme else item.programme,
        picks=tuple(replace(pick, exercise=coded(pick.exercise)) for pick in item.picks),
    )


def around_bundle(bundle: Bundle, library: Library) -> Mapping[str, tuple[Any, ...]]:
    """What a bundle shows beside its own fields and exercises, by the part that a reader would name.

    The words of its cautions, and what its programme adds; empty for a bundle that names neither.
    """
    programme = library.programme.get(bundle.programme.slug) if bundle.programme else None
    refs = (*bundle.cautions, *(programme.cautions if programme else ()))
    cautions = tuple(library.caution[ref.slug] for ref in refs if ref.slug in library.caution)
    tips = (*programme.cues, *programme.through_the_day) if programme else ()
    place = (programme.title, programme.goal, *(tier.enter_when for tier in programme.tiers)) if programme else ()
    return {name: found for name, found in (("cautions", cautions), ("tips", tips), ("place", place)) if found}


def _coded_step(need: WholeStep, programmes: Mapping[str, str]) -> WholeStep:
    slug = need.programme.slug
    return replace(need, programme=replace(need.programme, slug=programmes.get(slug, slug)))


def units_shown(exercise: Exercise, library: Library) -> tuple[str, ...]:
    """The unit of an exercise's weight where it is not the kilogram: another unit is another number for readers."""
    return ("lb",) if exercise.dose.weight_kg is not None and library.clinic.in_pounds else ()


def clinic_stamp(library: Library) -> str:
    """The stamp of the words that stand on every page: the clinic's own, its cautions, what its tiers mean."""
    return stamp_of(library.clinic, library.cautions, library.tiers)


def exercise_stamp(exercise: Exercise, library: Library) -> str:
    """The stamp of an exercise with the words of its cautions."""
    known = library.caution
    cautions = tuple(known[ref.slug] for ref in exercise.cautions if ref.slug in known)
    return stamp_of(by_codes(exercise, library), cautions, *units_shown(exercise, library))


def standalone_stamp(item: Standalone, library: Library) -> str:
    """The stamp of what holds no exercise, with the words of its cautions."""
    inner = tuple(exercise_stamp(library.exercise[ref.slug], library) for ref in exercises_named(item) if ref.slug in library.exercise)
    cautions = tuple(library.caution[ref.slug] for ref in item.cautions if ref.slug in library.caution)
    return stamp_of(by_codes(item, library), cautions, *inner)


def stamps_of(library: Library) -> Mapping[str, str]:
    """The stamp of every item by ``exercises/SLUG``, ``programmes/SLUG``, ``bundles/SLUG``, ``tests/SLUG``, and of the whole by ``""``.

    An exercise's stamp covers its cautions' words; a programme's and a bundle's cover their exercises.
    """
    stamps = {f"exercises/{item.slug}": exercise_stamp(item, library) for item in library.exercises}
    for programme in library.programmes:
        inner = tuple(stamps.get(f"exercises/{slug}", "") for slug in programme.exercise_slugs)
        stamps[f"programmes/{programme.slug}"] = stamp_of(by_codes(programme, library), inner)
    for bundle in library.bundles:
        inner = tuple(stamps.get(f"exercises/{pick.exercise.slug}", "") for pick in bundle.picks)
        stamps[f"bundles/{bundle.slug}"] = stamp_of(
            by_codes(bundle, library), inner, *around_bundle(bundle, library).values()
        )
    for folder, items in library.standalones.items():
        stamps |= {f"{folder}/{item.slug}": standalone_stamp(item, library) for item in items}
    stamps[""] = stamp_of(tuple(stamps.values()), library.clinic, library.cautions)
    return stamps

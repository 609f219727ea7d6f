"""What of an exercise or a programme changed: a fingerprint of each part that a reader would name.

The parts together hold every field that the version stamp covers, so that no version differs from
another in nothing.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from handouts.ledger.stamp import around_bundle, by_codes, exercise_stamp, is_unset_later, stamp_of, units_shown
from handouts.model import Bundle, Exercise, Library, Programme, Standalone, exercises_named

EXERCISE_PARTS: Mapping[str, tuple[str, ...]] = {
    "dose": ("dose",),
    "steps": ("sections",),
    "figure": ("figure", "picture"),
    "cautions": ("cautions",),
    "tips": ("cues", "feel", "mistakes"),
    "needs": ("position", "equipment"),
    "ready": ("ready_when", "ready_measures"),
    "why": ("why",),
    "title": ("title",),
    "ways": ("easier", "harder"),
    "place": ("tier", "regions", "purpose", "after"),
}
"""The fields of each part of an exercise; its cautions with their words; ``ways`` only where there are any."""
PROGRAMME_PARTS: Mapping[str, tuple[str, ...]] = {
    "steps": ("sections",),
    "cautions": ("cautions",),
    "why": ("goal", "suits", "weeks"),
    "title": ("title",),
    "picks": ("tiers",),
    "tips": ("cues", "through_the_day"),
}
"""The fields of each part of a programme; the content of its exercises is the part ``exercises``."""
BUNDLE_PARTS: Mapping[str, tuple[str, ...]] = {
    "why": ("suits", "weeks", "cue", "round_rest_seconds", "tests", "leaflets"),
    "title": ("title",),
    "place": ("programme", "tier"),
    "cautions": ("cautions",),
}
"""The fields of each part of a bundle; which exercises it has is the part ``picks``, in what dose the part ``dose``."""
STANDALONE_PARTS: Mapping[str, tuple[str, ...]] = {
    "dose": ("work_seconds", "rest_seconds", "rounds", "between_seconds"),
    "steps": ("sections", "set_up", "warm_up", "cool_down"),
    "cautions": ("cautions",),
    "ready": ("regress_when",),
    "measure": ("unit", "better", "each_side", "tries", "most", "norms", "error", "symmetry"),
    "tips": ("points", "come_back", "watch", "hands", "questions"),
    "place": ("programme",),
    "picks": ("keep", "exercise", "stations"),
    "needs": ("equipment", "positions", "people"),
    "why": ("suits", "measures", "why"),
    "title": ("title",),
}
"""The fields of each part of what holds no exercise; its cautions with their words; a kind has the parts of which it has a field."""
PART_NAMES = (*EXERCISE_PARTS, "measure", "picks", "exercises")
"""Every part, those that matter most to a patient first."""
DEFINING = ("title", "steps", "figure", "picks")
"""Where none of these is left, it is something else."""


def exercise_parts(exercise: Exercise, library: Library) -> dict[str, str]:
    """The fingerprint of each part of an exercise."""
    faults = tuple((number, mistake.figure) for number, mistake in enumerate(exercise.mistakes) if mistake.figure is not None)
    in_words = replace(exercise, mistakes=tuple(replace(mistake, figure=None) for mistake in exercise.mistakes))
    parts = _fingerprints(by_codes(in_words, library), EXERCISE_PARTS)
    if faults:
        parts["figure"] = stamp_of(parts.get("figure", ""), faults)
    known = library.caution
    cautions = tuple(known[ref.slug] for ref in exercise.cautions if ref.slug in known)
    unit = units_shown(exercise, library)
    dose = {"dose": stamp_of(exercise.dose, *unit)} if unit else {}
    return parts | dose | {"cautions": stamp_of(exercise.cautions, cautions)}


def programme_parts(programme: Programme, library: Library, stamps: Mapping[str, str]) -> dict[str, str]:
    """The fingerprint of each part of a programme; ``stamps`` as from ``handouts.ledger.stamp.stamps_of``."""
    inside = tuple(stamps.get(f"exercises/{slug}", "") for slug in programme.exercise_slugs)
    return _fingerprints(by_codes(programme, library), PROGRAMME_PARTS) | {"exercises": stamp_of(inside)}


def bundle_parts(bundle: Bundle, library: Library, stamps: Mapping[str, str]) -> dict[str, str]:
    """The fingerprint of each part of a bundle; ``stamps`` as from ``handouts.ledger.stamp.stamps_of``."""
    inside = tuple(stamps.get(f"exercises/{pick.exercise.slug}", "") for pick in bundle.picks)
    around = around_bundle(bundle, library)
    own = _fingerprints(by_codes(bundle, library), BUNDLE_PARTS)
    return {
        "dose": stamp_of(*_doses(bundle)),
        **own,
        **{name: stamp_of(own.get(name, ""), *shown) for name, shown in around.items()},
        "picks": stamp_of(tuple(pick.exercise for pick in by_codes(bundle, library).picks)),
        "exercises": stamp_of(inside),
    }


def _doses(bundle: Bundle) -> tuple[Any, ...]:
    """What was changed of each dose; stages, what is taken in place of things, and parts of the session, where there are any."""
    picks = bundle.picks
    later = (tuple(pick.stages for pick in picks), tuple(pick.substitutes for pick in picks), tuple(pick.part for pick in picks))
    return (tuple(pick.change for pick in picks), *(each for each in later if any(each)))


def standalone_parts(item: Standalone, library: Library) -> dict[str, str]:
    """The fingerprint of each part of what holds no exercise."""
    owned = {name: tuple(each for each in names if hasattr(item, each)) for name, names in STANDALONE_PARTS.items()}
    cautions = tuple(library.caution[ref.slug] for ref in item.cautions if ref.slug in library.caution)
    inside = tuple(library.exercise[ref.slug] for ref in exercises_named(item) if ref.slug in library.exercise)
    exercises = {"exercises": stamp_of(tuple(exercise_stamp(each, library) for each in inside))} if inside else {}
    return _fingerprints(by_codes(item, library), owned) | {"cautions": stamp_of(item.cautions, cautions)} | exercises


def _fingerprints(item: Any, parts: Mapping[str, tuple[str, ...]]) -> dict[str, str]:
    """The fingerprint of each part that has something; a newer field that is not set changes none."""
    set_fields = {name: [field for field in fields if not is_unset_later(item, field)] for name, fields in parts.items()}
    return {name: stamp_of(*(getattr(item, field) for field in shown)) for name, shown in set_fields.items() if shown}


def changed_parts(before: Mapping[str, str], after: Mapping[str, str]) -> tuple[str, ...]:
    """The names of the parts that differ, in the order of ``PART_NAMES``."""
    return tuple(name for name in PART_NAMES if before.get(name) != after.get(name))

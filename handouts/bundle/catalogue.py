"""What a bundle code is read against: exercises with doses and ranges, former doses, withdrawn codes, and marks.

A mark is a short check sum of a name (``CODE.md``), so that lists may be reordered and a code carries no text.
Reads no files; the ledger's facts are handed in.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from zlib import crc32

from handouts.bundle.fields import FIELDS
from handouts.model import Dose, DoseRange, Library, Span, Tempo
from handouts.problems import Problem

DIGITS = "23456789ABCDEFGHJKLMNPQRSTUVWXYZ"
"""The 32 digits by value: no 0, 1, I and O, all in the alphanumeric set of a QR code (ISO/IEC 18004)."""
NAME_MARK_DIGITS = 3
DOSE_MARK_DIGITS = 2
TEMPO_SIZES = (16, 16, 16, 8)
"""How many lengths in seconds each part of a tempo may have: to go, hold, return, pause; together three digits."""


def write_number(value: int, digits: int) -> str:
    """A number in a fixed count of digits; ValueError where it does not fit."""
    if not 0 <= value < len(DIGITS) ** digits:
        raise ValueError(f"{value} does not fit in {digits} digits")
    return "".join(DIGITS[value // len(DIGITS) ** power % len(DIGITS)] for power in reversed(range(digits)))


def mark(text: str, digits: int) -> str:
    """The mark of a text."""
    return write_number(crc32(text.encode()) % len(DIGITS) ** digits, digits)


def name_mark(name: str) -> str:
    """The mark of a language, a location or a band."""
    return mark(name, NAME_MARK_DIGITS)


def pack_tempo(tempo: Tempo) -> int:
    """A tempo as one number, which a code holds in three digits; ValueError for one that no range may offer."""
    value = 0
    for part, size in zip((tempo.go, tempo.hold, tempo.back, tempo.pause), TEMPO_SIZES, strict=True):
        if not 0 <= part < size:
            raise ValueError(f"a code cannot hold the tempo {tempo}")
        value = value * size + part
    return value


def unpack_tempo(value: int) -> Tempo:
    """The tempo of a number."""
    parts = []
    for size in reversed(TEMPO_SIZES):
        value, part = divmod(value, size)
        parts.append(part)
    return Tempo(*reversed(parts))


def dose_line(dose: Dose) -> str:
    """A dose as the one line that its mark is taken from."""
    tempo, effort = dose.tempo, dose.effort
    values: dict[str, object] = {
        "sets": dose.sets,
        "reps": dose.reps,
        "hold": dose.hold_seconds,
        "time": dose.time_seconds,
        "distance": dose.distance_metres,
        "side": dose.side.value,
        "tempo": f"{tempo.go}-{tempo.hold}-{tempo.back}-{tempo.pause}" if tempo else None,
        "rest": dose.rest_seconds,
        "days": dose.days,
        "times": dose.times,
        "effort": f"{round(effort.low * 10)}-{round(effort.high * 10)}" if effort else None,
        "weight": round(dose.weight_kg * 100) if dose.weight_kg is not None else None,
        "band": dose.band.slug if dose.band else None,
    }
    return ";".join(f"{name}={'' if value is None else value}" for name, value in values.items())


def dose_mark(dose: Dose) -> str:
    """The mark of a dose: another one, but for 1 in 1,024, where any number of the dose is another."""
    return mark(dose_line(dose), DOSE_MARK_DIGITS)


@dataclass(frozen=True, slots=True)
class Entry:
    """One exercise of the catalogue."""

    code: str
    slug: str
    dose: Dose
    dose_range: DoseRange | None
    former: Mapping[str, Dose] = field(default_factory=dict)
    """Doses that the library once had for it, by their marks."""


@dataclass(frozen=True, slots=True)
class Withdrawn:
    """An exercise that the library no longer has."""

    title: str
    replaced_by: str | None = None
    """Code of what took its place."""


@dataclass(frozen=True, slots=True)
class Catalogue:
    """All that a bundle code may name."""

    entries: Mapping[str, Entry]
    """By code."""
    languages: Mapping[str, str]
    """BCP 47 tags by mark."""
    locations: Mapping[str, str]
    """Slugs by mark."""
    bands: Mapping[str, str]
    """Slugs by mark."""
    withdrawn: Mapping[str, Withdrawn] = field(default_factory=dict)
    """By code."""

    def code_of(self, slug: str) -> str | None:
        """The code of an exercise by its slug."""
        return next((entry.code for entry in self.entries.values() if entry.slug == slug), None)


def make_catalogue(
    library: Library,
    former: Mapping[str, Iterable[Dose]] | None = None,
    withdrawn: Mapping[str, Withdrawn] | None = None,
) -> Catalogue:
    """The catalogue of a library, with former doses and withdrawn exercises by code."""
    earlier = former or {}
    clinic = library.clinic
    return Catalogue(
        entries={
            item.code: Entry(
                item.code,
                item.slug,
                item.dose,
                item.dose_range,
                {dose_mark(dose): dose for dose in earlier.get(item.code, ())},
            )
            for item in library.exercises
        },
        languages={name_mark(tag): tag for tag in clinic.languages.all},
        locations={name_mark(place.slug): place.slug for place in clinic.locations},
        bands={name_mark(band.slug): band.slug for band in library.vocabulary.bands},
        withdrawn=withdrawn or {},
    )


def check_marks(library: Library) -> tuple[Problem, ...]:
    """Problems for two languages, locations or bands that share a mark: a code could not tell them apart."""
    clinic, found = library.clinic, []
    names = (
        [(tag, clinic.languages.at("also")) for tag in clinic.languages.all],
        [(place.slug, place.at("slug")) for place in clinic.locations],
        [(band.slug, band.at("slug")) for band in library.vocabulary.bands],
    )
    for group in names:
        seen: dict[str, str] = {}
        for name, place in group:
            other = seen.setdefault(name_mark(name), name)
            if other != name:
                what = f"'{name}' and '{other}' have the same mark in a bundle code"
                found.append(Problem(place, "same-mark", what, f"Give '{name}' another name."))
    return tuple(found)


def dose_json(dose: Dose) -> dict[str, object]:
    """A dose for the browser: names as in a file, times in seconds, distance in metres, weight in kilograms."""
    tempo, effort = dose.tempo, dose.effort
    values: dict[str, object] = {
        "sets": dose.sets,
        "reps": dose.reps,
        "hold": dose.hold_seconds,
        "time": dose.time_seconds,
        "distance": dose.distance_metres,
        "side": dose.side.value,
        "tempo": [tempo.go, tempo.hold, tempo.back, tempo.pause] if tempo else None,
        "rest": dose.rest_seconds,
        "days": dose.days,
        "times": dose.times,
        "effort": [effort.low, effort.high] if effort else None,
        "weight": dose.weight_kg,
        "band": dose.band.slug if dose.band else None,
        "pace": dose.pace_metres_per_second,
    }
    return {name: value for name, value in values.items() if value is not None}


def range_json(allowed: DoseRange | None) -> dict[str, list[float]]:
    """A dose range for the browser: lowest and highest value by field, in the units of ``dose_json``; tempos as numbers."""
    found: dict[str, list[float]] = {}
    if allowed is not None and allowed.tempo is not None:
        found["tempo"] = [pack_tempo(tempo) for tempo in allowed.tempo]
    for item in FIELDS:
        span = getattr(allowed, item.attribute, None)
        if isinstance(span, Span):
            found[item.name] = [span.low, span.high]
    return found


def catalogue_json(catalogue: Catalogue) -> dict[str, object]:
    """What the reader of codes in the browser needs (``templates/scripts/src/bundle/code.js``)."""
    return {
        "languages": dict(catalogue.languages),
        "locations": dict(catalogue.locations),
        "bands": dict(catalogue.bands),
        "exercises": {
            code: {
                "slug": entry.slug,
                "mark": dose_mark(entry.dose),
                "dose": dose_json(entry.dose),
                "range": range_json(entry.dose_range),
                "former": {mark: dose_json(dose) for mark, dose in entry.former.items()},
            }
            for code, entry in catalogue.entries.items()
        },
        "withdrawn": {
            code: {"title": gone.title, "by": gone.replaced_by} for code, gone in catalogue.withdrawn.items()
        },
    }

"""What a bundle code is read against: exercises with doses and ranges, former doses, withdrawn codes, and marks.

A mark is a short check sum of a name (``CODE.md``), so that lists may be reordered and a code carries no text.
Reads no files; the ledger's facts are handed in.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from zlib import crc32

from handouts.bundle.constants import CONSTANTS
from handouts.bundle.fields import FIELDS
from handouts.bundle.packing import as_packed
from handouts.dose.arithmetic import allowed_range
from handouts.model import Bundle, Dose, DoseRange, Library, Ref, Span, Substitute, Tempo
from handouts.text.markup import plain_text

DIGITS: str = CONSTANTS["digits"]
"""The 32 digits by value: no 0, 1, I and O, all in the alphanumeric set of a QR code (ISO/IEC 18004)."""
NAME_MARK_DIGITS: int = CONSTANTS["name_digits"]
DOSE_MARK_DIGITS: int = CONSTANTS["dose_digits"]
BUNDLE_MARK_DIGITS: int = CONSTANTS["bundle_digits"]
TEMPO_SIZES: tuple[int, ...] = tuple(CONSTANTS["tempo_sizes"])
"""How many lengths in seconds each part of a tempo may have: to go, hold, return, pause; together three digits."""


def write_number(value: int, digits: int) -> str:
    """A number in a fixed count of digits; ValueError where it does not fit."""
    if not 0 <= value < len(DIGITS) ** digits:
        raise ValueError(f"{value} does not fit in {digits} digits")
    return "".join(DIGITS[value // len(DIGITS) ** power % len(DIGITS)] for power in reversed(range(digits)))


def read_number(digits: str) -> int:
    """The number that some of the 32 digits stand for."""
    value = 0
    for digit in digits:
        value = value * len(DIGITS) + DIGITS.index(digit)
    return value


def mark(text: str, digits: int) -> str:
    """The mark of a text."""
    return write_number(crc32(text.encode()) % len(DIGITS) ** digits, digits)


def name_mark(name: str) -> str:
    """The mark of a language, a location or a band."""
    return mark(name, NAME_MARK_DIGITS)


def given_codes(bundle: Bundle, library: Library) -> tuple[str, ...]:
    """The codes of the tests and leaflets that are handed over with a bundle, as far as they are there."""
    known = (({item.slug: item.code for item in items}, refs) for items, refs in ((library.tests, bundle.tests), (library.leaflets, bundle.leaflets)))
    return tuple(codes[ref.slug] for codes, refs in known for ref in refs if ref.slug in codes)


def cue_mark(cue: Ref | None) -> str:
    """The mark of what a session hangs on; empty where nothing was chosen."""
    return name_mark(cue.slug) if cue else ""


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
    """The mark of a dose in codes of versions 1 and 2.  One in 1,024 other doses has the same: see ``ExerciseEntry.marked``."""
    return mark(dose_line(dose), DOSE_MARK_DIGITS)


@dataclass(frozen=True)
class ExerciseEntry:
    """One exercise of the catalogue."""

    code: str
    slug: str
    dose: Dose
    dose_range: DoseRange | None
    former: tuple[Dose, ...] = ()
    """Doses that the library once had for it."""

    @cached_property
    def marked(self) -> Mapping[str, Dose | None]:
        """The doses by their marks; None where two of them share one, so that it says nothing."""
        found: dict[str, Dose | None] = {}
        for dose in (self.dose, *self.former):
            if dose.is_open:
                continue
            first = found.setdefault(dose_mark(dose), dose)
            if first is not None and as_packed(first) != as_packed(dose):
                found[dose_mark(dose)] = None
        return found


@dataclass(frozen=True, slots=True)
class Withdrawn:
    """An exercise that the library no longer has."""

    title: str
    replaced_by: str | None = None
    """Code of what took its place."""


@dataclass(frozen=True, slots=True)
class Serving:
    """What is taken in place of a thing, and where that serves."""

    slug: str
    thing: str
    codes: tuple[str, ...]
    """Codes of the exercises."""


@dataclass(frozen=True, slots=True)
class BundleCatalogue:
    """All that a bundle code may name."""

    entries: Mapping[str, ExerciseEntry]
    """By code."""
    languages: Mapping[str, str]
    """BCP 47 tags by mark."""
    locations: Mapping[str, str]
    """Slugs by mark."""
    bands: Mapping[str, str]
    """Slugs by mark."""
    withdrawn: Mapping[str, Withdrawn] = field(default_factory=dict)
    """By code."""
    site: str = "222"
    """The mark of the site, which every code of it carries."""
    former_sites: tuple[str, ...] = ()
    """Marks of the addresses that the site had before: their codes are its own."""
    programmes: Mapping[str, str] = field(default_factory=dict)
    """Slugs by code."""
    bundles: Mapping[str, str] = field(default_factory=dict)
    """Slugs of ready-made bundles by mark."""
    cues: Mapping[str, str] = field(default_factory=dict)
    """What a session can hang on, by mark."""
    paces: Mapping[str, str] = field(default_factory=dict)
    """Slugs of paces in words by mark."""
    occasions: Mapping[str, str] = field(default_factory=dict)
    """Slugs of occasions by mark."""
    serving: Mapping[str, Serving] = field(default_factory=dict)
    """What is taken in place of things, by mark."""
    given: Mapping[str, str] = field(default_factory=dict)
    """By code what can be handed over beside exercises, as ``leaflets/SLUG`` or ``tests/SLUG``."""

    def code_of(self, slug: str) -> str | None:
        """The code of an exercise by its slug."""
        return next((entry.code for entry in self.entries.values() if entry.slug == slug), None)


def make_catalogue(
    library: Library,
    former: Mapping[str, Iterable[Dose]] | None = None,
    withdrawn: Mapping[str, Withdrawn] | None = None,
) -> BundleCatalogue:
    """The catalogue of a library, with former doses and withdrawn exercises by code."""
    earlier = former or {}
    clinic = library.clinic
    return BundleCatalogue(
        entries={
            item.code: ExerciseEntry(
                item.code,
                item.slug,
                item.dose,
                allowed_range(item),
                tuple(earlier.get(item.code, ())),
            )
            for item in library.exercises
        },
        languages={name_mark(tag): tag for tag in clinic.languages.all},
        locations={name_mark(place.slug): place.slug for place in clinic.locations},
        bands={name_mark(band.slug): band.slug for band in library.vocabulary.bands},
        withdrawn=withdrawn or {},
        site=name_mark(clinic.site.lower()),
        former_sites=tuple(name_mark(address.lower()) for address in clinic.former_sites),
        programmes={item.code: item.slug for item in library.programmes},
        bundles={mark(item.slug, BUNDLE_MARK_DIGITS): item.slug for item in library.bundles},
        cues={name_mark(cue.slug): plain_text(cue.name.text) for cue in clinic.session_cues},
        paces={name_mark(pace.slug): pace.slug for pace in library.vocabulary.paces},
        occasions={name_mark(occasion.slug): occasion.slug for occasion in library.vocabulary.occasions},
        serving={name_mark(item.slug): _serving(item, library) for item in library.vocabulary.substitutes},
        given={
            item.code: f"{kind}/{item.slug}" for kind, items in (("leaflets", library.leaflets), ("tests", library.tests)) for item in items
        },
    )


def _serving(item: Substitute, library: Library) -> Serving:
    named = {ref.slug for ref in item.exercises}
    codes = tuple(each.code for each in library.exercises if item.thing in each.equipment and (not named or each.slug in named))
    return Serving(item.slug, item.thing.slug, codes)


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
        "limb": dose.limb.value if dose.limb else None,
        "count": dose.counted.value if dose.counted else None,
        "repsTo": dose.reps_to,
        "rate": dose.rate,
        "work": dose.work.value if dose.work else None,
        "paceWords": dose.pace_words.slug if dose.pace_words else None,
        "warmUp": dose.warm_up_seconds,
        "coolDown": dose.cool_down_seconds,
        "every": dose.every_minutes,
        "when": dose.occasion.slug if dose.occasion else None,
        "restDays": dose.rest_days,
    }
    return {name: value for name, value in values.items() if value is not None}


def range_json(allowed: DoseRange | None) -> dict[str, Sequence[float] | Sequence[str]]:
    """A dose range for the browser: lowest and highest value by field, in the units of ``dose_json``; tempos as numbers."""
    found: dict[str, Sequence[float] | Sequence[str]] = {}
    if allowed is not None and allowed.tempo is not None:
        found["tempo"] = [pack_tempo(tempo) for tempo in allowed.tempo]
    if allowed is not None and allowed.side is not None:
        found["side"] = [side.value for side in allowed.side]
    for item in FIELDS:
        span = getattr(allowed, item.attribute, None)
        if isinstance(span, Span):
            found[item.name] = [span.low, span.high]
    return found


def catalogue_json(catalogue: BundleCatalogue) -> dict[str, object]:
    """What the reader of codes in the browser needs (``templates/scripts/src/bundle/code.js``)."""
    return {
        "languages": dict(catalogue.languages),
        "locations": dict(catalogue.locations),
        "bands": dict(catalogue.bands),
        "exercises": {
            code: {
                "slug": entry.slug,
                "dose": dose_json(entry.dose),
                "range": range_json(entry.dose_range),
                "former": [dose_json(dose) for dose in entry.former],
                "marked": _marked_json(entry),
            }
            for code, entry in catalogue.entries.items()
        },
        "withdrawn": {
            code: {"title": gone.title, "by": gone.replaced_by} for code, gone in catalogue.withdrawn.items()
        },
        "site": catalogue.site,
        "formerSites": list(catalogue.former_sites),
        "programmes": dict(catalogue.programmes),
        "bundles": dict(catalogue.bundles),
        "cues": dict(catalogue.cues),
        "paces": dict(catalogue.paces),
        "occasions": dict(catalogue.occasions),
        "serving": {mark: {"thing": each.thing, "codes": list(each.codes)} for mark, each in catalogue.serving.items()},
        "given": dict(catalogue.given),
    }


def _marked_json(entry: ExerciseEntry) -> dict[str, int]:
    """By each mark that says which dose it is the place of that dose: 0 for the present one, then the former ones."""
    doses = (entry.dose, *entry.former)
    return {mark: doses.index(dose) for mark, dose in entry.marked.items() if dose is not None}

"""Bundle codes: a bundle to its code and back, pure and total.  The specification is ``CODE.md`` beside this file.

Reading never raises, never moves a value into its bounds and never gives a part of a bundle.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any
from zlib import crc32

from handouts.bundle.catalogue import (
    DIGITS,
    DOSE_MARK_DIGITS,
    NAME_MARK_DIGITS,
    Catalogue,
    Entry,
    dose_mark,
    name_mark,
    pack_tempo,
    unpack_tempo,
    write_number,
)
from handouts.bundle.fields import LAYOUTS, SIDES, MovableField, changed_fields, refuse_dose, refuse_field
from handouts.bundle.values import CODE_PLACE, MOST_PICKS, MOST_WEEKS, Kind, OpenedBundle, PickedBundle, Refusal
from handouts.dose.arithmetic import change_dose
from handouts.model import Dose, DoseChange, Pick, Ref, Side, Tempo

VERSION, TEMPO_VERSION = 1, 2
"""A code without a changed tempo is written in the version that every reader knows."""
MOST_CHARACTERS = 4_000
"""Longest text that is looked at; a browser hands over fragments of two million characters."""
CHECK_DIGITS = 7
CODE_DIGITS = 4
CHANGED_DIGITS = 2
PICK_DIGITS = CODE_DIGITS + DOSE_MARK_DIGITS + CHANGED_DIGITS
HEAD_DIGITS = 1 + 2 * NAME_MARK_DIGITS + 1
_DROPPED = str.maketrans("abcdefghijklmnopqrstuvwxyz", "ABCDEFGHIJKLMNOPQRSTUVWXYZ", " \t\n\r")
_VALUES = {digit: value for value, digit in enumerate(DIGITS)}
_DAMAGED = Refusal(Kind.DAMAGED)


@dataclass(frozen=True, slots=True)
class _RawPick:
    """A pick as it stands in a code: nothing of it is known to be true yet."""

    code: str
    mark: str
    values: tuple[tuple[tuple[MovableField, ...], str], ...]
    """The fields of each bit that is set, with its digits."""

    @property
    def moves_tempo(self) -> bool:
        """Whether it has a tempo of its own."""
        return any(fields[0].name == "tempo" for fields, _ in self.values)


def encode_bundle(bundle: PickedBundle, catalogue: Catalogue) -> str | Refusal:
    """The code of a bundle on the library's present doses, or why it is refused."""
    if bundle.language not in catalogue.languages.values():
        return Refusal(Kind.UNKNOWN, field="language", value=bundle.language)
    if bundle.location not in catalogue.locations.values():
        return Refusal(Kind.UNKNOWN, field="location", value=bundle.location)
    refusal = _refuse_counts(bundle.weeks, len(bundle.picks))
    if refusal is not None:
        return refusal
    version = TEMPO_VERSION if any(pick.change and _moves_tempo(pick, catalogue) for pick in bundle.picks) else VERSION
    parts = [write_number(version, 1), name_mark(bundle.language), name_mark(bundle.location)]
    parts.append(write_number(bundle.weeks, 1))
    seen: set[str] = set()
    for pick in bundle.picks:
        code = catalogue.code_of(pick.exercise.slug)
        if code is None:
            return Refusal(Kind.UNKNOWN, field="exercise", value=pick.exercise.slug)
        if code in seen:
            return Refusal(Kind.REPEATED, code)
        seen.add(code)
        written = _encode_pick(pick, catalogue.entries[code], catalogue, version)
        if isinstance(written, Refusal):
            return written
        parts.append(written)
    text = "".join(parts)
    return text + write_number(crc32(text.encode()), CHECK_DIGITS)


def decode_bundle(text: str, catalogue: Catalogue) -> OpenedBundle | Refusal:
    """The bundle of a code or of a link that ends in one, or why it is refused."""
    digits = _clean(text)
    if digits is None:
        return _DAMAGED
    body, check = digits[:-CHECK_DIGITS], digits[-CHECK_DIGITS:]
    if _read_number(check) != crc32(body.encode()):
        return _DAMAGED
    version = _VALUES[body[0]]
    if version not in LAYOUTS:
        return Refusal(Kind.NEWER if version > TEMPO_VERSION else Kind.OLDER, field="version", value=version)
    raw = _split_picks(body[HEAD_DIGITS:], version) if len(body) >= HEAD_DIGITS else None
    # no writer writes the later version where nothing needs it
    if raw is None or (version == TEMPO_VERSION and not any(pick.moves_tempo for pick in raw)):
        return _DAMAGED
    return _open(body[:HEAD_DIGITS], raw, catalogue)


def drop_unchanged(change: DoseChange | None, dose: Dose) -> DoseChange | None:
    """A change without the fields that equal the dose; None where nothing is left."""
    kept = {
        field.attribute: getattr(change, field.attribute)
        for field in changed_fields(change)
        if getattr(change, field.attribute) != getattr(dose, field.attribute)
    }
    return DoseChange(place=change.place, places=change.places, **kept) if change is not None and kept else None


def _moves_tempo(pick: Pick, catalogue: Catalogue) -> bool:
    entry = catalogue.entries.get(catalogue.code_of(pick.exercise.slug) or "")
    change = drop_unchanged(pick.change, entry.dose) if entry is not None else None
    return change is not None and change.tempo is not None


def _encode_pick(pick: Pick, entry: Entry, catalogue: Catalogue, version: int) -> str | Refusal:
    change = drop_unchanged(pick.change, entry.dose)
    moved = changed_fields(change)
    for field in moved:
        assert change is not None
        if field.attribute == "band" and change.band and change.band.slug not in catalogue.bands.values():
            return Refusal(Kind.UNKNOWN, entry.code, "band", change.band.slug)
        refusal = refuse_field(entry.code, field, change, entry.dose, entry.dose_range)
        if refusal is not None:
            return refusal
    refusal = refuse_dose(entry.code, change_dose(entry.dose, change), entry.dose_range)
    if refusal is not None:
        return refusal
    bits = sum(1 << number for number, fields in enumerate(LAYOUTS[version]) if any(field in moved for field in fields))
    values = (_write_value(field, getattr(change, field.attribute)) for field in moved)
    return "".join((entry.code, dose_mark(entry.dose), write_number(bits, CHANGED_DIGITS), *values))


def _write_value(field: MovableField, value: float | Side | Ref | Tempo) -> str:
    if isinstance(value, Tempo):
        return write_number(pack_tempo(value), field.digits)
    if isinstance(value, Side):
        return write_number(SIDES.index(value), field.digits)
    if isinstance(value, Ref):
        return name_mark(value.slug)
    return write_number(round(value * 100) if field.attribute == "weight_kg" else int(value), field.digits)


def _clean(text: str) -> str | None:
    if len(text) > MOST_CHARACTERS:
        return None
    digits = text.partition("#")[2] if "#" in text else text
    digits = digits.translate(_DROPPED)
    fits = len(digits) > CHECK_DIGITS and all(digit in _VALUES for digit in digits)
    return digits if fits else None


def _read_number(digits: str) -> int:
    value = 0
    for digit in digits:
        value = value * len(DIGITS) + _VALUES[digit]
    return value


def _split_picks(text: str, version: int) -> tuple[_RawPick, ...] | None:
    """The picks of a code; None where the layout does not come out even."""
    picks, at = [], 0
    while at < len(text):
        head = text[at : at + PICK_DIGITS]
        if len(head) < PICK_DIGITS:
            return None
        at += PICK_DIGITS
        bits = _read_number(head[-CHANGED_DIGITS:])
        values = []
        for number, fields in enumerate(LAYOUTS[version]):
            if bits >> number & 1:
                digits = fields[0].digits
                if len(text) - at < digits:
                    return None
                values.append((fields, text[at : at + digits]))
                at += digits
        picks.append(_RawPick(head[:CODE_DIGITS], head[CODE_DIGITS:-CHANGED_DIGITS], tuple(values)))
    return tuple(picks)


def _refuse_counts(weeks: int, picks: int) -> Refusal | None:
    if not 1 <= weeks <= MOST_WEEKS:
        return Refusal(Kind.OUT_OF_BOUNDS, field="weeks", value=weeks, low=1, high=MOST_WEEKS)
    if not 1 <= picks <= MOST_PICKS:
        return Refusal(Kind.OUT_OF_BOUNDS, field="picks", value=picks, low=1, high=MOST_PICKS)
    return None


def _open(head: str, raw: tuple[_RawPick, ...], catalogue: Catalogue) -> OpenedBundle | Refusal:
    """The bundle of a code whose layout is whole."""
    language_mark, location_mark = head[1 : 1 + NAME_MARK_DIGITS], head[1 + NAME_MARK_DIGITS : -1]
    language, location = catalogue.languages.get(language_mark), catalogue.locations.get(location_mark)
    if language is None:
        return Refusal(Kind.UNKNOWN, field="language", value=language_mark)
    if location is None:
        return Refusal(Kind.UNKNOWN, field="location", value=location_mark)
    weeks = _VALUES[head[-1]]
    refusal = _refuse_counts(weeks, len(raw))
    if refusal is not None:
        return refusal
    codes = [pick.code for pick in raw]
    for index, code in enumerate(codes):
        if code in codes[:index]:
            return Refusal(Kind.REPEATED, code)
    picks, doses, former = [], [], []
    for item in raw:
        opened = _open_pick(item, catalogue)
        if isinstance(opened, Refusal):
            return opened
        pick, base = opened
        picks.append(pick)
        doses.append(change_dose(base, pick.change))
        if base is not catalogue.entries[item.code].dose:
            former.append(item.code)
    return OpenedBundle(PickedBundle(language, location, weeks, tuple(picks)), tuple(doses), tuple(former))


def _open_pick(raw: _RawPick, catalogue: Catalogue) -> tuple[Pick, Dose] | Refusal:
    """A pick and the library's dose on which its changes stand."""
    gone = catalogue.withdrawn.get(raw.code)
    if gone is not None:
        return Refusal(Kind.WITHDRAWN, raw.code, value=gone.title, replaced_by=gone.replaced_by)
    entry = catalogue.entries.get(raw.code)
    if entry is None:
        return Refusal(Kind.UNKNOWN, raw.code, "exercise", raw.code)
    base = entry.dose if raw.mark == dose_mark(entry.dose) else entry.former.get(raw.mark)
    if base is None:
        return Refusal(Kind.OLDER, raw.code, "dose")
    values: dict[str, Any] = {}
    for fields, digits in raw.values:
        field = next((each for each in fields if getattr(base, each.attribute) is not None), fields[0])
        value = _read_value(raw.code, field, digits, catalogue)
        if isinstance(value, Refusal):
            return value
        single = DoseChange(place=CODE_PLACE, **{field.attribute: value})
        refusal = refuse_field(raw.code, field, single, base, entry.dose_range)
        if refusal is not None:
            return refusal
        if drop_unchanged(single, base) is None:
            return _DAMAGED
        values[field.attribute] = value
    change = DoseChange(place=CODE_PLACE, **values) if values else None
    refusal = refuse_dose(raw.code, change_dose(base, change), entry.dose_range)
    if refusal is not None:
        return refusal
    return Pick(place=CODE_PLACE, exercise=Ref(entry.slug, CODE_PLACE), change=change), base


def _read_value(code: str, field: MovableField, digits: str, catalogue: Catalogue) -> Any:
    """The value that a field's digits stand for, or a refusal where they stand for none."""
    number = _read_number(digits)
    if field.attribute == "side":
        return SIDES[number] if number < len(SIDES) else Refusal(Kind.OUT_OF_BOUNDS, code, "side", number)
    if field.attribute == "band":
        band = catalogue.bands.get(digits)
        return Refusal(Kind.UNKNOWN, code, "band", digits) if band is None else Ref(band, CODE_PLACE)
    if field.attribute == "tempo":
        return unpack_tempo(number)
    return number / 100 if field.attribute == "weight_kg" else number

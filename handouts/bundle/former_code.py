"""Codes of versions 1 and 2, which are read and never written: what changed, on a dose known by a mark of two digits."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from handouts.bundle.catalogue import (
    DOSE_MARK_DIGITS,
    NAME_MARK_DIGITS,
    BundleCatalogue,
    ExerciseEntry,
    read_number,
    unpack_tempo,
)
from handouts.bundle.constants import CONSTANTS
from handouts.bundle.fields import LAYOUTS, SIDES, MovableField, drop_unchanged, refuse_dose, refuse_field
from handouts.bundle.values import CODE_PLACE, Refusal, RefusalKind
from handouts.dose.arithmetic import change_dose
from handouts.model import Dose, DoseChange, Ref

TEMPO_VERSION: int = CONSTANTS["tempo_version"]
"""The version in which a changed tempo was written."""
CODE_DIGITS: int = CONSTANTS["code_digits"]
CHANGED_DIGITS: int = CONSTANTS["changed_digits"]
PICK_DIGITS = CODE_DIGITS + DOSE_MARK_DIGITS + CHANGED_DIGITS
HEAD_DIGITS = 1 + 2 * NAME_MARK_DIGITS + 1


@dataclass(frozen=True, slots=True)
class RawPick:
    """A pick as it stands in a code: nothing of it is known to be true yet."""

    code: str
    mark: str
    values: tuple[tuple[tuple[MovableField, ...], str], ...]
    """The fields of each bit that is set, with its digits."""

    @property
    def moves_tempo(self) -> bool:
        """Whether it has a tempo of its own."""
        return any(fields[0].name == "tempo" for fields, _ in self.values)


def split_picks(text: str, version: int) -> tuple[RawPick, ...] | None:
    """The picks of a code; None where the layout does not come out even."""
    picks, at = [], 0
    while at < len(text):
        head = text[at : at + PICK_DIGITS]
        if len(head) < PICK_DIGITS:
            return None
        at += PICK_DIGITS
        bits = read_number(head[-CHANGED_DIGITS:])
        values = []
        for number, fields in enumerate(LAYOUTS[version]):
            if bits >> number & 1:
                digits = fields[0].digits
                if len(text) - at < digits:
                    return None
                values.append((fields, text[at : at + digits]))
                at += digits
        picks.append(RawPick(head[:CODE_DIGITS], head[CODE_DIGITS:-CHANGED_DIGITS], tuple(values)))
    return tuple(picks)


def read_changes(raw: RawPick, base: Dose, entry: ExerciseEntry, catalogue: BundleCatalogue) -> DoseChange | Refusal | None:
    """The changes of a pick of a former version."""
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
            return Refusal(RefusalKind.DAMAGED)
        values[field.attribute] = value
    change = DoseChange(place=CODE_PLACE, **values) if values else None
    return refuse_dose(raw.code, change_dose(base, change), entry.dose_range) or change


def _read_value(code: str, field: MovableField, digits: str, catalogue: BundleCatalogue) -> Any:
    """The value that a field's digits stand for, or a refusal where they stand for none."""
    number = read_number(digits)
    if field.attribute == "side":
        return SIDES[number] if number < len(SIDES) else Refusal(RefusalKind.OUT_OF_BOUNDS, code, "side", number)
    if field.attribute == "band":
        band = catalogue.bands.get(digits)
        return Refusal(RefusalKind.UNKNOWN, code, "band", digits) if band is None else Ref(band, CODE_PLACE)
    if field.attribute == "tempo":
        return unpack_tempo(number)
    return number / 100 if field.attribute == "weight_kg" else number

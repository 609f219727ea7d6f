"""What only a code of version 6 holds of a dose: words for repetitions, rounds, pace in words, occasions, days of rest (``CODE.md``).

Names of the vocabulary stand in a code as marks.  ``templates/scripts/src/bundle/wide_dose.js`` is the twin.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from handouts.bundle.catalogue import NAME_MARK_DIGITS, BundleCatalogue, name_mark, read_number, write_number
from handouts.bundle.constants import CONSTANTS
from handouts.bundle.packing import MARK_BITS, BitReader, write_bits
from handouts.bundle.values import CODE_PLACE, Refusal, RefusalKind
from handouts.model import Counted, Dose, Ref, Side, WorkKind

_COUNTED: list[Counted | None] = [Counted(name) if name else None for name in CONSTANTS["counted"]]
_WORKS: list[WorkKind | None] = [WorkKind(name) if name else None for name in CONSTANTS["works"]]
WORKS_BITS: int = CONSTANTS["works_bits"]
_BITS: Mapping[str, int] = CONSTANTS["wide_bits"]
_NUMBERS = {
    "reps_to": _BITS["repsTo"],
    "rate": _BITS["rate"],
    "warm_up_seconds": _BITS["warmUp"],
    "cool_down_seconds": _BITS["coolDown"],
    "every_minutes": _BITS["every"],
}
"""Numbers of a dose, and their bits."""
_NAMES = ("pace_words", "occasion")
WIDE = ("counted", "work", *_NUMBERS, *_NAMES, "rest_days")
"""Fields of a dose that no earlier version holds."""


def is_wide(dose: Dose) -> bool:
    """Whether an earlier version could not hold the dose."""
    return dose.side is Side.EACH_OR_BOTH or any(getattr(dose, name) is not None for name in WIDE)


def with_marks(dose: Dose) -> Dose:
    """A dose whose names are their marks."""
    named: dict[str, Any] = {name: Ref(name_mark(ref.slug), CODE_PLACE) for name in _NAMES if (ref := getattr(dose, name)) is not None}
    return replace(dose, **named) if named else dose


def without_marks(dose: Dose, code: str, catalogue: BundleCatalogue) -> Dose | Refusal:
    """A dose whose marks are the library's names, or why it is refused."""
    found: dict[str, Any] = {}
    for name, field, known in (("pace_words", "pace words", catalogue.paces), ("occasion", "when", catalogue.occasions)):
        ref = getattr(dose, name)
        if ref is not None and ref.slug not in known:
            return Refusal(RefusalKind.UNKNOWN, code, field, ref.slug)
        if ref is not None:
            found[name] = Ref(known[ref.slug], CODE_PLACE)
    return replace(dose, **found) if found else dose


def wide_bits(dose: Dose) -> str:
    """The bits of a dose with marks; ValueError where a number does not fit."""
    if not any(getattr(dose, name) is not None for name in WIDE):
        return "0"
    bits = "1" + write_bits(_COUNTED.index(dose.counted), 2) + write_bits(_WORKS.index(dose.work), WORKS_BITS)
    for name, size in _NUMBERS.items():
        value = getattr(dose, name)
        bits += "0" if value is None else "1" + write_bits(value, size)
    for name in _NAMES:
        ref = getattr(dose, name)
        bits += "0" if ref is None else "1" + write_bits(read_number(ref.slug), MARK_BITS)
    return bits + write_bits(dose.rest_days or 0, 2)


def read_wide(reader: BitReader, dose: Dose) -> Dose:
    """A dose with what stands at the reader's place, its names as marks; a number that stands for nothing is written back as another one."""
    if not reader.take(1):
        return dose
    counted, work = _COUNTED[reader.take(2)], reader.take(WORKS_BITS)
    numbers: dict[str, int] = {name: reader.take(size) for name, size in _NUMBERS.items() if reader.take(1)}
    names = {name: Ref(write_number(reader.take(MARK_BITS), NAME_MARK_DIGITS), CODE_PLACE) for name in _NAMES if reader.take(1)}
    wide = replace(dose, counted=counted, work=_WORKS[work] if work < len(_WORKS) else None, rest_days=reader.take(2) or None)
    return replace(wide, **numbers, **names)  # type: ignore[arg-type]

"""A dose as bits and back, exactly: the part of a bundle code that says what a patient was given (``CODE.md``).

Holds every number of a dose that version 3 knew (``handouts.bundle.wide_dose`` has the others) but the pace, which
no patient is told, and not the word for what is changed with the side.
``templates/scripts/src/bundle/packing.js`` is the twin.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace

from handouts.bundle.constants import CONSTANTS
from handouts.dose.weight import hundredths_of, weight_of
from handouts.model import Dose, DoseKind, Side, Span, Tempo
from handouts.problems import Place

KINDS = (DoseKind.REPS, DoseKind.HOLD, DoseKind.TIME, DoseKind.DISTANCE)
_BITS: dict[str, int] = CONSTANTS["amount_bits"]
AMOUNTS = {
    DoseKind.REPS: ("reps", _BITS["reps"]),
    DoseKind.HOLD: ("hold_seconds", _BITS["hold"]),
    DoseKind.TIME: ("time_seconds", _BITS["time"]),
    DoseKind.DISTANCE: ("distance_metres", _BITS["distance"]),
}
"""By kind the field that is counted, and its bits."""
SIDES = tuple(Side(name) for name in CONSTANTS["sides"])
"""Sides by their number in a code."""
DIGIT_BITS: int = CONSTANTS["digit_bits"]
MARK_BITS: int = CONSTANTS["mark_bits"]
"""Bits of the mark of a name: three digits."""
REST_STEP: int = CONSTANTS["rest_step"]
"""Seconds: a rest of 1 to 16 of these takes 6 bits, any other 12."""
_PLACE = Place("bundle code")


def write_bits(value: int, bits: int) -> str:
    """A number in a fixed count of bits; ValueError where it does not fit."""
    if not 0 <= value < 1 << bits:
        raise ValueError(f"{value} does not fit in {bits} bits")
    return f"{value:0{bits}b}" if bits else ""


@dataclass
class BitReader:
    """Bits from the first to the last; past the end all are 0, and ``is_over`` says so."""

    bits: str
    at: int = field(default=0)

    @property
    def is_over(self) -> bool:
        """Whether more was taken than there is."""
        return self.at > len(self.bits)

    def take(self, count: int) -> int:
        """The next bits as a number."""
        self.at += count
        return int("0" + self.bits[self.at - count : self.at].ljust(count, "0"), 2)


def pack_dose(dose: Dose, band_mark: int | None) -> str:
    """The bits of a dose, with the mark of its band; ValueError where a number does not fit."""
    name, size = AMOUNTS[dose.kind]
    bits = write_bits(KINDS.index(dose.kind), 2) + write_bits(dose.sets, 4) + write_bits(getattr(dose, name) or 0, size)
    bits += write_bits(SIDES.index(dose.side), 3)
    if dose.kind is DoseKind.REPS:
        bits += "0" if dose.hold_seconds is None else "1" + write_bits(dose.hold_seconds, 9)
        bits += _pack_tempo(dose.tempo)
    bits += pack_rest(dose.rest_seconds) + write_bits(dose.days or 0, 3)
    bits += "0" if dose.times == 1 else "1" + write_bits(dose.times, 4)
    bits += _pack_effort(dose.effort)
    bits += pack_weight(dose.weight_kg)
    return bits + ("0" if band_mark is None else "1" + write_bits(band_mark, MARK_BITS))


def _pack_tempo(tempo: Tempo | None) -> str:
    if tempo is None:
        return "0"
    parts = (tempo.go, tempo.hold, tempo.back)
    if tempo.pause == 0 and max(parts) < 8:
        return "10" + "".join(write_bits(part, 3) for part in parts)
    return "11" + "".join(write_bits(part, 7) for part in (*parts, tempo.pause))


def pack_rest(seconds: int) -> str:
    """The bits of a rest in seconds."""
    if seconds == 0:
        return "0"
    if seconds % REST_STEP == 0 and seconds <= 16 * REST_STEP:
        return "10" + write_bits(seconds // REST_STEP - 1, 4)
    return "11" + write_bits(seconds, 10)


def _pack_effort(effort: Span | None) -> str:
    if effort is None:
        return "0"
    ends = (effort.low, effort.high)
    if all(float(end).is_integer() for end in ends):
        return "10" + "".join(write_bits(int(end), 4) for end in ends)
    return "11" + "".join(write_bits(round(end * 100), 10) for end in ends)


def pack_weight(kilograms: float | None) -> str:
    """The bits of a weight, or of none."""
    if kilograms is None:
        return "0"
    hundredths, in_pounds = hundredths_of(kilograms)
    return "1" + ("1" if in_pounds else "0") + write_bits(hundredths, 15)


def unpack_weight(reader: BitReader) -> float | None:
    """The weight at the reader's place, in kilograms; None for none."""
    if not reader.take(1):
        return None
    in_pounds = bool(reader.take(1))
    return weight_of(reader.take(15), in_pounds)


def unpack_dose(reader: BitReader) -> tuple[Dose, int | None]:
    """The dose at the reader's place, without its band, and the mark of that; nothing of it is known to be within bounds."""
    kind, sets = KINDS[reader.take(2)], reader.take(4)
    name, size = AMOUNTS[kind]
    values: dict[str, int] = {name: reader.take(size)}
    side = reader.take(3)
    tempo = None
    if kind is DoseKind.REPS:
        if reader.take(1):
            values["hold_seconds"] = reader.take(9)
        tempo = _unpack_tempo(reader)
    rest, days = unpack_rest(reader), reader.take(3) or None
    times = reader.take(4) if reader.take(1) else 1
    effort = _unpack_effort(reader)
    weight = unpack_weight(reader)
    mark = reader.take(MARK_BITS) if reader.take(1) else None
    dose = Dose(
        place=_PLACE,
        sets=sets,
        # a number that stands for no side is written back as another one, so that the code is refused
        side=SIDES[side] if side < len(SIDES) else Side.TOGETHER,
        tempo=tempo,
        rest_seconds=rest,
        days=days,
        times=times,
        effort=effort,
        weight_kg=weight,
        **values,  # type: ignore[arg-type]
    )
    return dose, mark


def _unpack_tempo(reader: BitReader) -> Tempo | None:
    if not reader.take(1):
        return None
    if reader.take(1):
        return Tempo(reader.take(7), reader.take(7), reader.take(7), reader.take(7))
    return Tempo(reader.take(3), reader.take(3), reader.take(3))


def unpack_rest(reader: BitReader) -> int:
    """The rest at the reader's place, in seconds."""
    if not reader.take(1):
        return 0
    return reader.take(10) if reader.take(1) else (reader.take(4) + 1) * REST_STEP


def _unpack_effort(reader: BitReader) -> Span | None:
    if not reader.take(1):
        return None
    size, unit = (10, 100) if reader.take(1) else (4, 1)
    low, high = reader.take(size) / unit, reader.take(size) / unit
    return Span(low, high)


def as_packed(dose: Dose) -> Dose:
    """A dose without what a code does not hold: its pace, and the word for what is changed with the side."""
    return replace(dose, pace_metres_per_second=None, limb=None)

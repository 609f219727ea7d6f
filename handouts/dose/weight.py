"""Weights: kept exactly as they were written, in kilograms or in pounds, and shown in the clinic's unit.

A weight is a number of kilograms that was written in kilograms or in pounds, to the hundredth: which, and how many
hundredths, the number itself says.

A number of kilograms to the hundredth is never one of pounds to the hundredth below a million pounds (0.45359237 has
eight places and no factor in common with a power of ten), so that the kilograms alone say in what they were written.
"""

from __future__ import annotations

HUNDREDTHS = 100
POUND_IN_TEN_BILLIONTHS = 45_359_237
"""A hundredth of a pound, in ten-billionths of a kilogram: the international avoirdupois pound is 0.45359237 kg exactly
(agreement of six national laboratories of 1959; US Federal Register 24 FR 5348; NIST SP 811, appendix B; from memory)."""
TEN_BILLION = 10**10
SHOWN_STEP = 0.5
"""Kilograms, or pounds: what weights written in the other unit are shown to, since cuffs and dumbbells come in these
steps (common practice, no source).  What is lighter than one step is shown to the hundredth."""


def weight_of(hundredths: int, in_pounds: bool) -> float:
    """Kilograms of a number of hundredths of a kilogram, or of a pound."""
    return hundredths * POUND_IN_TEN_BILLIONTHS / TEN_BILLION if in_pounds else hundredths / HUNDREDTHS


def hundredths_of(kilograms: float) -> tuple[int, bool]:
    """How many hundredths of a kilogram, or (then with true) of a pound; ValueError for what is a number of neither."""
    for hundredths, in_pounds in (
        (round(kilograms * HUNDREDTHS), False),
        (round(kilograms * TEN_BILLION / POUND_IN_TEN_BILLIONTHS), True),
    ):
        if weight_of(hundredths, in_pounds) == kilograms:
            return hundredths, in_pounds
    raise ValueError(f"{kilograms} kg is no number of hundredths")


def kilograms_of(number: float, unit: str) -> float:
    """Kilograms of a number to the hundredth of ``kg`` or ``lb``."""
    return weight_of(round(number * HUNDREDTHS), unit == "lb")


def write_weight(kilograms: float) -> str:
    """A weight as it was written: ``2.5 kg``, ``5 lb``; what was written in neither, in kilograms."""
    try:
        hundredths, in_pounds = hundredths_of(kilograms)
    except ValueError:
        return f"{kilograms:g} kg"
    return f"{hundredths / HUNDREDTHS:.2f}".rstrip("0").rstrip(".") + (" lb" if in_pounds else " kg")


def exact_weight(kilograms: float, in_pounds: bool) -> float:
    """A weight in the clinic's unit: as it was written where that is the unit, else to the hundredth."""
    written = _written(kilograms, in_pounds)
    return _to_hundredth(_converted(kilograms, in_pounds)) if written is None else written


def shown_weight(kilograms: float, in_pounds: bool) -> float:
    """A weight in the clinic's unit as readers see it: as it was written where that is the unit, else in whole steps."""
    written, number = _written(kilograms, in_pounds), _converted(kilograms, in_pounds)
    if written is not None:
        return written
    return round(number / SHOWN_STEP) * SHOWN_STEP if number >= SHOWN_STEP else _to_hundredth(number)


def _written(kilograms: float, in_pounds: bool) -> float | None:
    """The number as it was written in this unit; None where it was not."""
    hundredths = round(_converted(kilograms, in_pounds) * HUNDREDTHS)
    return hundredths / HUNDREDTHS if weight_of(hundredths, in_pounds) == kilograms else None


def _converted(kilograms: float, in_pounds: bool) -> float:
    return kilograms * TEN_BILLION / POUND_IN_TEN_BILLIONTHS / HUNDREDTHS if in_pounds else kilograms


def _to_hundredth(number: float) -> float:
    return round(number * HUNDREDTHS) / HUNDREDTHS

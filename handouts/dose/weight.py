"""A weight in kilograms that was written in kilograms or in pounds, to the hundredth: which, and how many hundredths.

A number of kilograms to the hundredth is never one of pounds to the hundredth below a million pounds (0.45359237 has
eight places and no factor in common with a power of ten), so that the kilograms alone say in what they were written.
"""

from __future__ import annotations

HUNDREDTHS = 100
POUND_IN_TEN_BILLIONTHS = 45_359_237
"""A hundredth of a pound, in ten-billionths of a kilogram: the international avoirdupois pound is 0.45359237 kg."""
TEN_BILLION = 10**10


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

"""Kilograms and pounds, to the hundredth."""

from __future__ import annotations

import pytest

from handouts.dose.weight import hundredths_of, weight_of


# The international avoirdupois pound is 0.45359237 kg exactly (international yard and pound agreement, 1959).
@pytest.mark.parametrize(("hundredths", "in_pounds", "kilograms"), [
    (100, True, 0.45359237), (500, True, 2.26796185), (1000, True, 4.5359237), (250, False, 2.5), (1, False, 0.01), (1, True, 0.0045359237),
])  # fmt: skip
def test_there_and_back(hundredths: int, in_pounds: bool, kilograms: float) -> None:
    """The published pound, and which of the two it was written in."""
    assert weight_of(hundredths, in_pounds) == pytest.approx(kilograms, rel=1e-12)
    assert hundredths_of(weight_of(hundredths, in_pounds)) == (hundredths, in_pounds)


def test_what_is_neither() -> None:
    """A third of a kilogram is no number of hundredths of either."""
    with pytest.raises(ValueError, match="no number of hundredths"):
        hundredths_of(1 / 3)

"""The clinic's colour on both grounds."""

from __future__ import annotations

import re

import pytest

from handouts.site.accent import CONTRAST_IN_THE_DARK, DARK_GROUNDS, LIGHT_GROUNDS, accent_on, accent_rules
from handouts.text.colour import TEXT_CONTRAST, contrast
from tests.site.making import ROOT

# WCAG 2.2, contrast ratio; worked from its formula to six decimals, each on white.  4.5 is the bound of text (1.4.3),
# 3 that of large text and of shapes (1.4.3, 1.4.11): #767676 and #949494 are just within, #777777 and #959595 just past.
WORKED = {
    "#000000": 21.0, "#767676": 4.542225, "#777777": 4.478089, "#949494": 3.033470, "#959595": 2.995346, "#595959": 7.004729,
    "#ff0000": 3.998477, "#0000ff": 8.592471, "#008000": 5.137403, "#ffff00": 1.073839, "#b00020": 7.325041,
}  # fmt: skip


@pytest.mark.parametrize(("colour", "published"), WORKED.items())
def test_contrast_is_the_published_one(colour: str, published: float) -> None:
    """The ratio of each pair, in either order."""
    assert contrast(colour, "#ffffff") == pytest.approx(published, abs=5e-7)
    assert contrast("#FFFFFF", colour.upper()) == pytest.approx(published, abs=5e-7)


# Where a dark channel is divided by 12.92, up to 0.04045: 10/255/12.92 = 0.00303527, so (0.05 + 0.00303527)/0.05 on black;
# one step up, ((11/255 + 0.055)/1.055) to the power of 2.4 = 0.00334654.
@pytest.mark.parametrize(("colour", "published"), [("#050505", 1.030353), ("#0a0a0a", 1.060705), ("#0b0b0b", 1.066931)])
def test_contrast_of_dark_colours(colour: str, published: float) -> None:
    """On black, on both sides of the step of WCAG 2.2's formula."""
    assert contrast(colour, "#000000") == pytest.approx(published, abs=5e-7)


def test_bounds_are_the_published_ones() -> None:
    """WCAG 2.2: text 4.5 (1.4.3), enhanced text 7 (1.4.6)."""
    assert (TEXT_CONTRAST, CONTRAST_IN_THE_DARK) == (4.5, 7)


@pytest.mark.parametrize("colour", ["#0f5e6b", "#ffff00", "#000000", "#ffffff", "#777777", "#E4002B"])
def test_every_colour_becomes_readable(colour: str) -> None:
    """Text in the clinic's colour reaches 4.5:1 on the light and 7:1 on the dark ground (WCAG 2.2, 1.4.3 and 1.4.6)."""
    light, dark = re.findall(r"#[0-9a-f]{6}", accent_rules(colour))
    assert min(contrast(light, ground) for ground in LIGHT_GROUNDS) >= 4.5
    assert min(contrast(dark, ground) for ground in DARK_GROUNDS) >= 7


# The two greys on either side of 4.5 on white: the one that passes is left alone, the next one is darkened to it.
@pytest.mark.parametrize(("colour", "becomes"), [("#767676", "#767676"), ("#777777", "#767676"), ("#959595", "#767676")])
def test_a_colour_is_moved_only_as_far_as_the_bound_asks(colour: str, becomes: str) -> None:
    """On white, against the worked pairs."""
    assert accent_on(colour, ("#ffffff",), "#000000") == becomes


def test_a_readable_colour_stays_as_it_is() -> None:
    """Nothing is changed where nothing has to be."""
    assert "--accent-on-light: #0f5e6b;" in accent_rules("#0f5e6b")


def test_grounds_are_those_of_the_tokens() -> None:
    """Each ground stands in the style sheet that pages use."""
    tokens = (ROOT / "templates/styles/tokens.css").read_text(encoding="utf-8")
    assert [ground for ground in (*LIGHT_GROUNDS, *DARK_GROUNDS) if ground not in tokens] == []

"""The clinic's colour on both grounds."""

from __future__ import annotations

import re

import pytest

from handouts.colour import contrast
from handouts.site.accent import DARK_GROUNDS, LIGHT_GROUNDS, accent_rules
from tests.site.making import ROOT


@pytest.mark.parametrize("colour", ["#0f5e6b", "#ffff00", "#000000", "#ffffff", "#777777", "#E4002B"])
def test_every_colour_becomes_readable(colour: str) -> None:
    """Text in the clinic's colour reaches 4.5:1 on the light and 7:1 on the dark ground (WCAG 2.2, 1.4.3 and 1.4.6)."""
    light, dark = re.findall(r"#[0-9a-f]{6}", accent_rules(colour))
    assert min(contrast(light, ground) for ground in LIGHT_GROUNDS) >= 4.5
    assert min(contrast(dark, ground) for ground in DARK_GROUNDS) >= 7


def test_a_readable_colour_stays_as_it_is() -> None:
    """Nothing is changed where nothing has to be."""
    assert "--accent-on-light: #0f5e6b;" in accent_rules("#0f5e6b")


def test_grounds_are_those_of_the_tokens() -> None:
    """Each ground stands in the style sheet that pages use."""
    tokens = (ROOT / "templates/styles/tokens.css").read_text(encoding="utf-8")
    assert [ground for ground in (*LIGHT_GROUNDS, *DARK_GROUNDS) if ground not in tokens] == []

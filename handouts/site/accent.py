"""The clinic's colour made fit for reading on a light and on a dark ground.

The hue is kept; the colour is darkened or lightened only as far as the contrast of text asks for.
"""

from __future__ import annotations

from handouts.text.colour import TEXT_CONTRAST, contrast

LIGHT_GROUNDS = ("#fffdf8", "#f5f1e8", "#ffffff")
"""--paper and --paper-sunk of the light theme in tokens.css, and the words on a button."""
DARK_GROUNDS = ("#161513", "#211f1c", "#10201f")
"""--paper and --paper-sunk of the dark theme, and the words on a button there."""

CONTRAST_IN_THE_DARK = 7.0
"""Least contrast aimed at on a dark ground, where thin strokes look thinner (WCAG 2.2, 1.4.6, level AAA)."""

_STEPS = 100


def accent_on(colour: str, grounds: tuple[str, ...], towards: str, least: float = TEXT_CONTRAST) -> str:
    """The colour nearest to ``colour`` on the way to ``towards`` that reaches ``least`` on every ground."""
    for step in range(_STEPS + 1):
        mixed = _mix(colour, towards, step / _STEPS)
        if all(contrast(mixed, ground) >= least for ground in grounds):
            return mixed
    return towards


def _mix(one: str, other: str, share: float) -> str:
    pairs = ((int(one[at : at + 2], 16), int(other[at : at + 2], 16)) for at in (1, 3, 5))
    return "#" + "".join(f"{round(first + (second - first) * share):02x}" for first, second in pairs)


def accent_rules(colour: str) -> str:
    """The style rule that sets the clinic's colour for both themes."""
    light = accent_on(colour.lower(), LIGHT_GROUNDS, "#000000")
    dark = accent_on(colour.lower(), DARK_GROUNDS, "#ffffff", CONTRAST_IN_THE_DARK)
    return f":root {{ --accent-on-light: {light}; --accent-on-dark: {dark}; }}\n"

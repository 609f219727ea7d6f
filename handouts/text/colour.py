"""Contrast of two colours, as WCAG 2.2 defines it."""

from __future__ import annotations

TEXT_CONTRAST = 4.5
"""Least contrast of text with its ground (WCAG 2.2, success criterion 1.4.3, level AA)."""


def relative_luminance(colour: str) -> float:
    """Relative luminance, 0 (black) to 1 (white), of ``#rrggbb`` (WCAG 2.2, 'relative luminance')."""
    channels = [int(colour[start : start + 2], 16) / 255 for start in (1, 3, 5)]
    red, green, blue = (c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in channels)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(first: str, second: str) -> float:
    """Contrast ratio, 1 to 21, of two colours ``#rrggbb`` in either order (WCAG 2.2, 'contrast ratio')."""
    lighter, darker = sorted((relative_luminance(first), relative_luminance(second)), reverse=True)
    return (lighter + 0.05) / (darker + 0.05)

"""The head of a bundle code as bits: marks, and what the bundle was begun from (``CODE.md``)."""

from __future__ import annotations

from handouts.bundle.catalogue import BUNDLE_MARK_DIGITS, DIGITS, BundleCatalogue, read_number
from handouts.bundle.constants import CONSTANTS
from handouts.bundle.packing import DIGIT_BITS, write_bits
from handouts.bundle.values import Origin, Refusal, RefusalKind

ORIGINS: tuple[str, ...] = tuple(CONSTANTS["origins"])
"""Kinds of origins by their number in a code."""
STEP_BITS: int = CONSTANTS["step_bits"]


def mark_bits(digits: str) -> str:
    """The bits of a mark or of a permanent code."""
    return write_bits(read_number(digits), DIGIT_BITS * len(digits))


def origin_bits(origin: Origin | None, catalogue: BundleCatalogue) -> str | Refusal:
    """Two bits for the kind, then what is named: never left out, as its cautions would be lost with it.

    An origin that a code named and the library does not have keeps its mark; a step that a code cannot hold is left out.
    """
    if origin is None:
        return write_bits(0, 2)
    known = {"programme": catalogue.programmes, "bundle": catalogue.bundles}.get(origin.kind, {})
    name = next((name for name, slug in known.items() if slug == origin.slug), "" if origin.slug else origin.mark)
    if origin.kind not in ORIGINS[1:] or len(name) != BUNDLE_MARK_DIGITS or not set(name) <= set(DIGITS):
        return Refusal(RefusalKind.UNKNOWN, field=origin.kind, value=origin.slug or origin.mark)
    if origin.kind == "bundle":
        return write_bits(2, 2) + mark_bits(name)
    step = origin.step if 0 <= origin.step < 1 << STEP_BITS else 0
    return write_bits(1, 2) + mark_bits(name) + write_bits(step, STEP_BITS)

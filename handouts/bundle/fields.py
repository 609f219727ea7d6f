"""The fields of a dose that a clinician may move: their names, their digits in a code, their bounds.

One table for the code, the checks and the words; the page scripts read the same one (``code.json``).
"""

from __future__ import annotations

from dataclasses import dataclass

from handouts.bundle.constants import CONSTANTS
from handouts.bundle.values import Refusal, RefusalKind
from handouts.dose.arithmetic import COUNTED, is_offered, outside_range, unset_fields
from handouts.model import SINGLE_SIDES, Dose, DoseChange, DoseRange, Side, Span

SIDES = tuple(Side(name) for name in CONSTANTS["former_sides"])
"""Sides by their number in a code of version 1 or 2."""


@dataclass(frozen=True, slots=True)
class MovableField:
    """One field: its name in a file, its attribute in the model, and its digits in a code of version 1 or 2."""

    name: str
    attribute: str
    digits: int


_ATTRIBUTES = {
    "hold": "hold_seconds",
    "time": "time_seconds",
    "distance": "distance_metres",
    "rest": "rest_seconds",
    "weight": "weight_kg",
}
"""By the name of a field in a file its attribute in the model, where that has a unit."""
FIELDS = tuple(MovableField(name, _ATTRIBUTES.get(name, name), digits) for name, digits in CONSTANTS["fields"].items())
_BY_NAME = {field.name: field for field in FIELDS}
LAYOUTS: dict[int, tuple[tuple[MovableField, ...], ...]] = {
    version: tuple(tuple(_BY_NAME[name] for name in bit.split("|")) for bit in bits.split())
    for version, bits in enumerate(CONSTANTS["layouts"], 1)
}
"""By version of the older codes the fields by their bits; where a bit has two, the dose counts one of them."""
NAMES = {field.attribute: field.name for field in FIELDS}


def changed_fields(change: DoseChange | None) -> tuple[MovableField, ...]:
    """The fields that a change moves, in the order of the code."""
    return tuple(field for field in FIELDS if change is not None and getattr(change, field.attribute) is not None)


def sides_allowed(dose: Dose, allowed: DoseRange | None = None) -> tuple[Side, ...]:
    """The sides that a clinician may choose: those of the range, else each in turn or one; none where there are no sides.

    Where one side may be given, it may be said which.
    """
    offered = allowed.side if allowed is not None else None
    if dose.is_open or dose.side is Side.TOGETHER:
        return _with_named(offered or ()) if dose.is_open else ()
    return _with_named(offered or (SIDES[:2] if dose.side in SIDES[:2] else (*SIDES[:2], dose.side)))


def _with_named(sides: tuple[Side, ...]) -> tuple[Side, ...]:
    """Sides with left and right behind one, where that is among them."""
    return tuple(named for side in sides for named in (SINGLE_SIDES if side is Side.ONE else (side,)))


def refuse_field(
    code: str, field: MovableField, change: DoseChange, dose: Dose, allowed: DoseRange | None
) -> Refusal | None:
    """Why one moved field is refused for a dose and its range, or None."""
    value = getattr(change, field.attribute)
    if field.attribute == "side":
        fits = value in sides_allowed(dose, allowed)
        return None if fits else Refusal(RefusalKind.OUT_OF_BOUNDS, code, "side", value.value)
    if field.attribute == "tempo":
        fits = _may_have(dose, "tempo") and value in ((allowed.tempo if allowed else None) or ())
        return None if fits else Refusal(RefusalKind.OUT_OF_BOUNDS, code, "tempo", str(value))
    if field.attribute == "band":
        return None if dose.band is not None else Refusal(RefusalKind.OUT_OF_BOUNDS, code, "band", value.slug)
    span = getattr(allowed, field.attribute) if allowed is not None else None
    if field.attribute == "effort":
        if span is None or not _may_have(dose, "effort"):
            return Refusal(RefusalKind.OUT_OF_BOUNDS, code, "effort", show_span(value))
        fits = span.low <= value.low <= value.high <= span.high
        return None if fits else Refusal(RefusalKind.OUT_OF_BOUNDS, code, "effort", show_span(value), span.low, span.high)
    if span is None or (field.attribute in COUNTED and not _may_have(dose, field.attribute)):
        return Refusal(RefusalKind.OUT_OF_BOUNDS, code, field.name, value)
    return None if span.holds(value) else Refusal(RefusalKind.OUT_OF_BOUNDS, code, field.name, value, span.low, span.high)


def _may_have(dose: Dose, attribute: str) -> bool:
    """Whether a dose has a field, or leaves it to the clinician."""
    return dose.is_open or getattr(dose, attribute) is not None


def refuse_unset(code: str, dose: Dose, allowed: DoseRange | None) -> Refusal | None:
    """Why a dose that was set where the library has none is refused: its first field that is not filled in, or None."""
    lacking = unset_fields(dose, allowed)
    return Refusal(RefusalKind.NO_DOSE, code, NAMES[lacking[0]]) if lacking else None


def show_span(span: Span) -> str:
    """A span as an author types it: ``4-6``."""
    return f"{span.low:g}-{span.high:g}"


def refuse_dose(code: str, dose: Dose, allowed: DoseRange | None) -> Refusal | None:
    """Why a whole dose is refused: its first number outside the range, a tempo that is not listed, or None."""
    for attribute, value, span in outside_range(dose, allowed):
        return Refusal(RefusalKind.OUT_OF_BOUNDS, code, NAMES[attribute], value, span.low, span.high)
    if not is_offered(dose.tempo, allowed):
        return Refusal(RefusalKind.OUT_OF_BOUNDS, code, "tempo", str(dose.tempo))
    if allowed is not None and allowed.side is not None and dose.side not in _with_named(allowed.side):
        return Refusal(RefusalKind.OUT_OF_BOUNDS, code, "side", dose.side.value)
    effort, ends = dose.effort, allowed.effort if allowed is not None else None
    if effort is not None and ends is not None and not ends.low <= effort.low <= effort.high <= ends.high:
        return Refusal(RefusalKind.OUT_OF_BOUNDS, code, "effort", show_span(effort), ends.low, ends.high)
    return None


def drop_unchanged(change: DoseChange | None, dose: Dose) -> DoseChange | None:
    """A change without the fields that equal the dose; None where nothing is left."""
    kept = {
        field.attribute: getattr(change, field.attribute)
        for field in changed_fields(change)
        if getattr(change, field.attribute) != getattr(dose, field.attribute)
    }
    return DoseChange(place=change.place, places=change.places, **kept) if change is not None and kept else None

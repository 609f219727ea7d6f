"""What a bundle code of version 7 holds before one of versions 3 to 6: what is taken in place of things, parts, what is handed over beside.

``templates/scripts/src/bundle/addition.js`` is the twin; the specification is ``CODE.md``.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from handouts.bundle.catalogue import NAME_MARK_DIGITS, BundleCatalogue, name_mark, read_number, write_number
from handouts.bundle.constants import CONSTANTS
from handouts.bundle.former_code import CODE_DIGITS
from handouts.bundle.packing import DIGIT_BITS, MARK_BITS, BitReader, pack_rest, unpack_rest, write_bits
from handouts.bundle.values import CODE_PLACE, MOST_GIVEN, OpenedBundle, PickedBundle, Refusal, RefusalKind
from handouts.dose.parts import fits_rounds
from handouts.model import Dose, PartKind, Ref

PARTS: tuple[PartKind | None, ...] = tuple(PartKind(name) if name else None for name in CONSTANTS["parts"])
"""Parts of a session by their number in a code; the first is the main part."""
PLACE_BITS, SUBSTITUTES_BITS, PART_BITS, GIVEN_BITS = 4, 5, 2, 3
MOST_REST: int = CONSTANTS["most_rest"]
"""Seconds of rest after a round, at most: as of a dose."""


@dataclass(frozen=True, slots=True)
class Addition:
    """What stands before the code of another version."""

    substitutes: tuple[tuple[int, str], ...] = ()
    """Places of picks, and the marks of what is taken in place of things there, in this order."""
    parts: tuple[PartKind | None, ...] = ()
    """Of each pick; none where all belong to the main part."""
    rest: int = 0
    """Seconds after each round."""
    given: tuple[str, ...] = ()
    """Codes of tests and leaflets."""

    @property
    def is_needed(self) -> bool:
        """Whether an earlier version could not hold it all."""
        return bool(self.substitutes or any(self.parts) or self.given)


def addition_bits(addition: Addition) -> str:
    """It as bits; ValueError where a number does not fit."""
    bits = write_bits(len(addition.substitutes), SUBSTITUTES_BITS)
    bits += "".join(write_bits(at, PLACE_BITS) + write_bits(read_number(mark), MARK_BITS) for at, mark in addition.substitutes)
    if any(addition.parts):
        bits += "1" + write_bits(len(addition.parts), PLACE_BITS) + "".join(write_bits(PARTS.index(part), PART_BITS) for part in addition.parts)
        bits += pack_rest(addition.rest) if PartKind.ROUNDS in addition.parts else ""
    else:
        bits += "0"
    given = "".join(write_bits(read_number(code), DIGIT_BITS * CODE_DIGITS) for code in addition.given)
    return bits + write_bits(len(addition.given), GIVEN_BITS) + given


def read_addition(reader: BitReader) -> Addition:
    """It at the reader's place; nothing of it is known to be true yet."""
    substitutes = tuple(
        (reader.take(PLACE_BITS), write_number(reader.take(MARK_BITS), NAME_MARK_DIGITS)) for _ in range(reader.take(SUBSTITUTES_BITS))
    )
    parts: tuple[PartKind | None, ...] = ()
    if reader.take(1):
        parts = tuple(PARTS[reader.take(PART_BITS)] for _ in range(reader.take(PLACE_BITS)))
    rest = unpack_rest(reader) if PartKind.ROUNDS in parts else 0
    given = tuple(write_number(reader.take(DIGIT_BITS * CODE_DIGITS), CODE_DIGITS) for _ in range(reader.take(GIVEN_BITS)))
    return Addition(substitutes, parts, rest, given)


def addition_of(bundle: PickedBundle, doses: Sequence[Dose], catalogue: BundleCatalogue) -> Addition | Refusal:
    """What a bundle with these doses has beside what the other versions hold, or why that is refused."""
    pairs: list[tuple[int, str]] = []
    for at, pick in enumerate(bundle.picks):
        code = catalogue.code_of(pick.exercise.slug) or ""
        marks = tuple(sorted((name_mark(ref.slug) for ref in pick.substitutes), key=read_number))
        refusal = _refuse_substitutes(code, marks, catalogue) or _refuse_part(code, pick.part, doses[at])
        if refusal is not None:
            return refusal
        pairs += [(at, mark) for mark in marks]
    parts = tuple(pick.part for pick in bundle.picks)
    refusal = _refuse_given(bundle.given, catalogue) or _refuse_rest(bundle.round_rest_seconds)
    if refusal is not None:
        return refusal
    return Addition(tuple(pairs), parts if any(parts) else (), bundle.round_rest_seconds, bundle.given)


def open_addition(opened: OpenedBundle, addition: Addition, catalogue: BundleCatalogue) -> OpenedBundle | Refusal:
    """A bundle of another version with it, or why that is refused; a test or a leaflet that is not there any more is left out."""
    picks, pairs, given = opened.bundle.picks, addition.substitutes, addition.given
    places = [(at, read_number(mark)) for at, mark in pairs]
    is_whole = sorted(set(places)) == places and len(set(given)) == len(given) and len(addition.parts) in (0, len(picks))
    if not is_whole or any(at >= len(picks) for at, _ in pairs):
        return Refusal(RefusalKind.DAMAGED)
    made = []
    for at, pick in enumerate(picks):
        code = catalogue.code_of(pick.exercise.slug) or ""
        marks = tuple(mark for place, mark in pairs if place == at)
        part = addition.parts[at] if addition.parts else None
        refusal = _refuse_substitutes(code, marks, catalogue) or _refuse_part(code, part, opened.doses[at])
        if refusal is not None:
            return refusal
        made.append(replace(pick, substitutes=tuple(Ref(catalogue.serving[mark].slug, CODE_PLACE) for mark in marks), part=part))
    refusal = _refuse_rest(addition.rest) or _refuse_many(given)
    if refusal is not None:
        return refusal
    known = tuple(code for code in given if code in catalogue.given)
    return replace(opened, bundle=replace(opened.bundle, picks=tuple(made), round_rest_seconds=addition.rest, given=known))


def _refuse_substitutes(code: str, marks: Sequence[str], catalogue: BundleCatalogue) -> Refusal | None:
    """Each must be known, serve in the exercise, and no thing have two."""
    things = set()
    for mark in marks:
        serving = catalogue.serving.get(mark)
        if serving is None:
            return Refusal(RefusalKind.UNKNOWN, code, "substitute", mark)
        if code not in serving.codes or serving.thing in things:
            return Refusal(RefusalKind.OUT_OF_BOUNDS, code, "substitute", mark)
        things.add(serving.thing)
    return None


def _refuse_part(code: str, part: PartKind | None, dose: Dose) -> Refusal | None:
    """What is done by occasion is in no session, and not everything can be done in rounds."""
    is_out = part is not None and (dose.is_by_occasion or (part is PartKind.ROUNDS and not fits_rounds(dose)))
    return Refusal(RefusalKind.OUT_OF_BOUNDS, code, "part", part.value) if part and is_out else None


def _refuse_rest(seconds: int) -> Refusal | None:
    return None if 0 <= seconds <= MOST_REST else Refusal(RefusalKind.OUT_OF_BOUNDS, field="rounds", value=seconds, low=0, high=MOST_REST)


def _refuse_many(given: Sequence[str]) -> Refusal | None:
    return None if len(given) <= MOST_GIVEN else Refusal(RefusalKind.OUT_OF_BOUNDS, field="given", value=len(given), low=0, high=MOST_GIVEN)


def _refuse_given(given: Sequence[str], catalogue: BundleCatalogue) -> Refusal | None:
    for at, code in enumerate(given):
        if code not in catalogue.given:
            return Refusal(RefusalKind.UNKNOWN, field="given", value=code)
        if code in given[:at]:
            return Refusal(RefusalKind.REPEATED, code)
    return _refuse_many(given)

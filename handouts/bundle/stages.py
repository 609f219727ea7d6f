"""The tail of a bundle code of versions 5 and 6: weeks, cue, how each dose goes on, and what only version 6 holds (``CODE.md``); and
what of a dose may be changed.

``templates/scripts/src/bundle/stages.js`` is the twin.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from handouts.bundle.catalogue import NAME_MARK_DIGITS, BundleCatalogue, ExerciseEntry, read_number, write_number
from handouts.bundle.fields import FIELDS, changed_fields, drop_unchanged, refuse_dose, refuse_field, refuse_unset
from handouts.bundle.packing import (
    AMOUNTS,
    MARK_BITS,
    BitReader,
    pack_rest,
    pack_weight,
    unpack_rest,
    unpack_weight,
    write_bits,
)
from handouts.bundle.values import CODE_PLACE, MOST_STAGES, SHORT_WEEKS, OpenedBundle, Refusal, RefusalKind
from handouts.bundle.wide_dose import is_wide, read_wide, wide_bits
from handouts.dose.arithmetic import change_dose
from handouts.dose.stages import stage_doses, staged_fields
from handouts.model import Dose, DoseChange, DoseStage, Pick

WEEK_BITS, COUNT_BITS, SETS_BITS = 4, 3, 4


@dataclass(frozen=True, slots=True)
class Tail:
    """What follows the picks in a code of version 5 or 6."""

    weeks: int
    cue: str
    """A mark, or empty."""
    stages: tuple[tuple[tuple[int, Dose], ...], ...]
    """For each pick its stages after the first: the week, 0 for when it is easy, and the dose, without its band."""
    doses: tuple[Dose, ...]
    """The first dose of each pick, its names as marks."""

    @property
    def is_needed(self) -> bool:
        """Whether an earlier version could not hold it all."""
        return self.weeks > SHORT_WEEKS or bool(self.cue) or any(self.stages) or self.is_wide

    @property
    def is_wide(self) -> bool:
        """Whether version 5 could not hold it all."""
        days_or_rest = ((first, dose) for first, stages in zip(self.doses, self.stages, strict=True) for _, dose in stages)
        return any(map(is_wide, self.doses)) or any(
            (first.days, first.rest_seconds) != (dose.days, dose.rest_seconds) for first, dose in days_or_rest
        )


def tail_bits(tail: Tail) -> str:
    """The tail as bits; ValueError where a number does not fit."""
    wide, bits = tail.is_wide, write_bits(tail.weeks, WEEK_BITS)
    bits += "1" + write_bits(read_number(tail.cue), MARK_BITS) if tail.cue else "0"
    for stages in tail.stages:
        bits += write_bits(len(stages), COUNT_BITS)
        for week, dose in stages:
            name, size = AMOUNTS[dose.kind]
            bits += write_bits(week, WEEK_BITS) + write_bits(dose.sets, SETS_BITS) + write_bits(getattr(dose, name) or 0, size)
            bits += pack_weight(dose.weight_kg)
            if wide:
                bits += write_bits(dose.days or 0, 3) + pack_rest(dose.rest_seconds)
    return bits + ("".join(map(wide_bits, tail.doses)) if wide else "")


def read_tail(reader: BitReader, doses: Sequence[Dose], wide: bool) -> Tail:
    """The tail at the reader's place, behind picks with these doses; nothing of it is known to be within bounds."""
    weeks = reader.take(WEEK_BITS)
    cue = write_number(reader.take(MARK_BITS), NAME_MARK_DIGITS) if reader.take(1) else ""
    found = []
    for first in doses:
        stages, dose = [], first
        for _ in range(reader.take(COUNT_BITS)):
            name, size = AMOUNTS[dose.kind]
            week, sets, amount = reader.take(WEEK_BITS), reader.take(SETS_BITS), reader.take(size)
            changed: dict[str, int | float | None] = {"sets": sets, name: amount, "weight_kg": unpack_weight(reader)}
            if wide:
                changed |= {"days": reader.take(3) or None, "rest_seconds": unpack_rest(reader)}
            dose = replace(dose, **changed)  # type: ignore[arg-type]
            stages.append((week, dose))
        found.append(tuple(stages))
    return Tail(weeks, cue, tuple(found), tuple(read_wide(reader, dose) for dose in doses) if wide else tuple(doses))


def refuse_change(change: DoseChange | None, base: Dose, entry: ExerciseEntry, catalogue: BundleCatalogue) -> Refusal | None:
    """Why a dose may not be changed so."""
    for field in changed_fields(change):
        assert change is not None
        if field.attribute == "band" and change.band and change.band.slug not in catalogue.bands.values():
            return Refusal(RefusalKind.UNKNOWN, entry.code, "band", change.band.slug)
        refusal = refuse_field(entry.code, field, change, base, entry.dose_range)
        if refusal is not None:
            return refusal
    dose = change_dose(base, change)
    unset = refuse_unset(entry.code, dose, entry.dose_range) if base.is_open else None
    return unset or refuse_dose(entry.code, dose, entry.dose_range)


def difference(base: Dose, given: Dose) -> DoseChange | None:
    """The fields in which a dose differs from the one that it stands on."""
    values = {field.attribute: getattr(given, field.attribute) for field in FIELDS}
    return drop_unchanged(DoseChange(place=CODE_PLACE, **values), base)


def refuse_stages(pick: Pick, first: Dose, weeks: int, entry: ExerciseEntry, catalogue: BundleCatalogue) -> Refusal | None:
    """Why the stages of a pick are refused: out of order, beyond the plan's weeks, or a dose that may not be given."""
    doses, week = stage_doses(first, pick.stages), 1
    for stage, before, dose in zip(pick.stages, doses, doses[1:], strict=False):
        late = stage.week != 0 and not week < stage.week <= weeks
        stray = any(field.attribute not in staged_fields(first) for field in changed_fields(stage.change))
        if late or stray or dose == before or len(pick.stages) > MOST_STAGES:
            return Refusal(RefusalKind.OUT_OF_BOUNDS, entry.code, "stages", stage.week)
        # nothing comes by week behind what waits until it is easy
        week = stage.week or weeks
        base = pick.base or entry.dose
        refusal = refuse_change(difference(base, dose), base, entry, catalogue)
        if refusal is not None:
            return refusal
    return None


def stages_of(first: Dose, read: Sequence[tuple[int, Dose]]) -> tuple[DoseStage, ...] | None:
    """Stages as changes of one another; None where one takes something away, which no change can."""
    stages, before = [], first
    for week, dose in read:
        given = replace(before, **{name: getattr(dose, name) for name in staged_fields(first)})
        change = difference(before, given)
        after = change_dose(before, change)
        if change is None or any(getattr(after, name) != getattr(given, name) for name in staged_fields(first)):
            return None
        stages.append(DoseStage(place=CODE_PLACE, week=week, change=change))
        before = after
    return tuple(stages)


def open_tail(opened: OpenedBundle, tail: Tail, catalogue: BundleCatalogue) -> OpenedBundle | Refusal:
    """A bundle with its cue and its stages, each of which may be given."""
    picks = []
    for pick, dose, read in zip(opened.bundle.picks, opened.doses, tail.stages, strict=True):
        stages = stages_of(dose, read)
        if stages is None:
            return Refusal(RefusalKind.DAMAGED)
        staged = replace(pick, stages=stages)
        entry = catalogue.entries[catalogue.code_of(pick.exercise.slug) or ""]
        refusal = refuse_stages(staged, dose, tail.weeks, entry, catalogue)
        if refusal is not None:
            return refusal
        picks.append(staged)
    return replace(opened, bundle=replace(opened.bundle, picks=tuple(picks), cue=tail.cue if tail.cue in catalogue.cues else ""))

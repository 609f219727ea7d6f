"""Bundle codes: a bundle to its code and back, pure and total.  The specification is ``CODE.md`` beside this file.

A code carries the whole dose of each exercise, so that it never means another one; codes of the former versions 1 and 2
are read, never written.  Reading never raises, never moves a value into its bounds and never gives a part of a bundle.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from zlib import crc32

from handouts.bundle.addition import addition_bits, addition_of, open_addition, read_addition
from handouts.bundle.catalogue import (
    BUNDLE_MARK_DIGITS,
    DIGITS,
    NAME_MARK_DIGITS,
    BundleCatalogue,
    ExerciseEntry,
    name_mark,
    read_number,
    write_number,
)
from handouts.bundle.constants import CONSTANTS
from handouts.bundle.fields import LAYOUTS, drop_unchanged
from handouts.bundle.former_code import CODE_DIGITS, HEAD_DIGITS, TEMPO_VERSION, RawPick, read_changes, split_picks
from handouts.bundle.heads import ORIGINS, STEP_BITS, mark_bits, origin_bits
from handouts.bundle.packing import DIGIT_BITS, MARK_BITS, BitReader, as_packed, pack_dose, unpack_dose, write_bits
from handouts.bundle.stages import Tail, difference, open_tail, read_tail, refuse_change, refuse_stages, tail_bits
from handouts.bundle.values import (
    CODE_PLACE,
    MOST_PICKS,
    MOST_WEEKS,
    SHORT_WEEKS,
    OpenedBundle,
    Origin,
    PickedBundle,
    Refusal,
    RefusalKind,
)
from handouts.bundle.wide_dose import is_wide, with_marks, without_marks
from handouts.dose.arithmetic import change_dose
from handouts.dose.stages import stage_doses
from handouts.model import NAMED_SIDES, Dose, DoseChange, Pick, Ref

VERSION: int = CONSTANTS["version"]
"""The version of a code in which no side is named."""
SIDE_VERSION: int = CONSTANTS["side_version"]
"""The version in which the left or the right side is named; else it is the same."""
STAGE_VERSION: int = CONSTANTS["stage_version"]
"""The version of a plan over weeks, with a cue or of more weeks than the others hold: a tail follows the picks."""
WIDE_VERSION: int = CONSTANTS["wide_version"]
"""The version of doses that no earlier one holds: the tail has them."""
WHOLE = VERSION, SIDE_VERSION, STAGE_VERSION, WIDE_VERSION
ADDED_VERSION: int = CONSTANTS["added_version"]
"""The version of what stands before a code of one of those (``handouts.bundle.addition``)."""
MOST_CHARACTERS: int = CONSTANTS["most_characters"]
"""Longest text that is looked at; a browser hands over fragments of two million characters."""
CHECK_DIGITS: int = CONSTANTS["check_digits"]
GROUP: int = CONSTANTS["group"]
"""Characters of a group in which a code is printed."""
_UPPER = str.maketrans("abcdefghijklmnopqrstuvwxyz", "ABCDEFGHIJKLMNOPQRSTUVWXYZ")
_BETWEEN = re.compile("[ \t\n\r\u00a0\u2009\u202f.·_\u2010-\u2014-]")
"""What people type or print between groups."""
_VALUES = {digit: value for value, digit in enumerate(DIGITS)}
_DAMAGED = Refusal(RefusalKind.DAMAGED)


@dataclass(frozen=True, slots=True)
class _WholePick:
    """A pick as it stands in a code of version 3 or 4: nothing of it is known to be true yet."""

    code: str
    dose: Dose
    """Without its band."""
    band_mark: int | None


def encode_bundle(bundle: PickedBundle, catalogue: BundleCatalogue) -> str | Refusal:
    """The code of a bundle, or why it is refused."""
    if bundle.language not in catalogue.languages.values():
        return Refusal(RefusalKind.UNKNOWN, field="language", value=bundle.language)
    if bundle.location not in catalogue.locations.values():
        return Refusal(RefusalKind.UNKNOWN, field="location", value=bundle.location)
    if bundle.cue and bundle.cue not in catalogue.cues:
        return Refusal(RefusalKind.UNKNOWN, field="cue", value=bundle.cue)
    refusal = _refuse_counts(bundle.weeks, len(bundle.picks))
    if refusal is not None:
        return refusal
    bits = "".join(mark_bits(part) for part in (catalogue.site, name_mark(bundle.language), name_mark(bundle.location)))
    origin = origin_bits(bundle.origin, catalogue)
    if isinstance(origin, Refusal):
        return origin
    seen: set[str] = set()
    whole: list[_WholePick] = []
    stages: list[tuple[tuple[int, Dose], ...]] = []
    for pick in bundle.picks:
        code = catalogue.code_of(pick.exercise.slug)
        if code is None:
            return Refusal(RefusalKind.UNKNOWN, field="exercise", value=pick.exercise.slug)
        if code in seen:
            return Refusal(RefusalKind.REPEATED, code)
        seen.add(code)
        entry = catalogue.entries[code]
        dose = _dose_of(pick, entry, catalogue)
        if isinstance(dose, Refusal):
            return dose
        refusal = refuse_stages(pick, dose, bundle.weeks, entry, catalogue)
        if refusal is not None:
            return refusal
        band = read_number(name_mark(dose.band.slug)) if dose.band else None
        whole.append(_WholePick(code, with_marks(replace(dose, band=None)), band))
        stages.append(tuple((stage.week, each) for stage, each in zip(pick.stages, stage_doses(dose, pick.stages)[1:], strict=True)))
    tail = Tail(bundle.weeks, bundle.cue, tuple(stages), tuple(pick.dose for pick in whole))
    addition = addition_of(bundle, tail.doses, catalogue)
    if isinstance(addition, Refusal):
        return addition
    inner = _seal_all(bits, bundle.weeks, origin, whole, tail if tail.is_needed else None)
    return _seal(ADDED_VERSION, addition_bits(addition), inner[:-CHECK_DIGITS]) if addition.is_needed else inner


def _seal_all(marks: str, weeks: int, origin: str, picks: Sequence[_WholePick], tail: Tail | None) -> str:
    """The code of all parts; the weeks stand in the tail where there is one."""
    bits = marks + write_bits(0 if tail else weeks, 3) + origin + write_bits(len(picks), 4) + "".join(map(_pick_bits, picks))
    if tail is None:
        return _seal(_version_of(picks), bits)
    return _seal(WIDE_VERSION if tail.is_wide else STAGE_VERSION, bits + tail_bits(tail))


def _version_of(picks: Iterable[_WholePick]) -> int:
    """The later version is written only where a side is named."""
    return SIDE_VERSION if any(pick.dose.side in NAMED_SIDES for pick in picks) else VERSION


def _dose_of(pick: Pick, entry: ExerciseEntry, catalogue: BundleCatalogue) -> Dose | Refusal:
    """The whole dose of a pick, or why it may not be given."""
    base = pick.base or entry.dose
    if pick.base is not None and pick.base not in entry.former:
        return Refusal(RefusalKind.OLDER, entry.code, "dose")
    change = drop_unchanged(pick.change, base)
    refusal = refuse_change(change, base, entry, catalogue)
    if refusal is not None:
        return refusal
    return change_dose(base, change)


def _pick_bits(pick: _WholePick) -> str:
    return mark_bits(pick.code) + pack_dose(pick.dose, pick.band_mark)


def _seal(version: int, bits: str, inner: str = "") -> str:
    """Version, the bits as digits, a code inside without its check, and the check."""
    whole = bits.ljust(-(-len(bits) // DIGIT_BITS) * DIGIT_BITS, "0")
    digits = (DIGITS[int(whole[at : at + DIGIT_BITS], 2)] for at in range(0, len(whole), DIGIT_BITS))
    return _check(write_number(version, 1) + "".join(digits) + inner)


def _check(body: str) -> str:
    """A code without its check, and that."""
    return body + write_number(crc32(body.encode()), CHECK_DIGITS)


def group_code(code: str) -> str:
    """A code as it is printed for people who type it: in groups, parted by spaces."""
    return " ".join(code[at : at + GROUP] for at in range(0, len(code), GROUP))


def decode_bundle(text: str, catalogue: BundleCatalogue) -> OpenedBundle | Refusal:
    """The bundle of a code or of a link that ends in one, or why it is refused."""
    digits = _clean(text)
    if digits is None:
        return _DAMAGED
    body, check = digits[:-CHECK_DIGITS], digits[-CHECK_DIGITS:]
    if read_number(check) != crc32(body.encode()):
        return _DAMAGED
    version = _VALUES[body[0]]
    if version in WHOLE:
        return _open_whole(digits, catalogue)
    if version == ADDED_VERSION:
        return _open_added(digits, catalogue)
    if version not in LAYOUTS:
        return Refusal(RefusalKind.NEWER if version > ADDED_VERSION else RefusalKind.OLDER, field="version", value=version)
    raw = split_picks(body[HEAD_DIGITS:], version) if len(body) >= HEAD_DIGITS else None
    # no writer wrote the later version where nothing needed it
    if raw is None or (version == TEMPO_VERSION and not any(pick.moves_tempo for pick in raw)):
        return _DAMAGED
    return _open(body[:HEAD_DIGITS], raw, catalogue)


def _clean(text: str) -> str | None:
    if len(text) > MOST_CHARACTERS:
        return None
    digits = text.partition("#")[2] if "#" in text else text
    digits = _BETWEEN.sub("", digits).translate(_UPPER)
    fits = len(digits) > CHECK_DIGITS and all(digit in _VALUES for digit in digits)
    return digits if fits else None


def _refuse_counts(weeks: int, picks: int, most: int = MOST_WEEKS) -> Refusal | None:
    if not 1 <= weeks <= most:
        return Refusal(RefusalKind.OUT_OF_BOUNDS, field="weeks", value=weeks, low=1, high=most)
    if not 1 <= picks <= MOST_PICKS:
        return Refusal(RefusalKind.OUT_OF_BOUNDS, field="picks", value=picks, low=1, high=MOST_PICKS)
    return None


def _open(head: str, raw: tuple[RawPick, ...], catalogue: BundleCatalogue) -> OpenedBundle | Refusal:
    """The bundle of a code of a former version whose layout is whole."""
    marks = head[1 : 1 + NAME_MARK_DIGITS], head[1 + NAME_MARK_DIGITS : -1]
    return _open_frame(marks, _VALUES[head[-1]], None, raw, catalogue)


def _open_added(digits: str, catalogue: BundleCatalogue) -> OpenedBundle | Refusal:
    """The bundle of a code of version 7 whose check fits: one of another version, with what stands before it."""
    reader = _read_bits(digits[1:-CHECK_DIGITS])
    addition = read_addition(reader)
    inner = digits[1 - (-reader.at // DIGIT_BITS) : -CHECK_DIGITS]
    if not addition.is_needed or _seal(ADDED_VERSION, addition_bits(addition), inner) != digits:
        return _DAMAGED
    opened = _open_whole(_check(inner), catalogue)
    return opened if isinstance(opened, Refusal) else open_addition(opened, addition, catalogue)


def _read_bits(digits: str) -> BitReader:
    return BitReader("".join(write_bits(_VALUES[digit], DIGIT_BITS) for digit in digits))


def _open_whole(digits: str, catalogue: BundleCatalogue) -> OpenedBundle | Refusal:
    """The bundle of a code of version 3 or 4 whose check fits."""
    reader = _read_bits(digits[1:-CHECK_DIGITS])
    marks = [write_number(reader.take(MARK_BITS), NAME_MARK_DIGITS) for _ in range(3)]
    weeks, kind = reader.take(3), reader.take(2)
    name = write_number(reader.take(DIGIT_BITS * BUNDLE_MARK_DIGITS), BUNDLE_MARK_DIGITS) if kind in (1, 2) else ""
    step = reader.take(STEP_BITS) if kind == 1 else 0
    picks = []
    for _ in range(reader.take(4)):
        code = write_number(reader.take(DIGIT_BITS * CODE_DIGITS), CODE_DIGITS)
        picks.append(_WholePick(code, *unpack_dose(reader)))
    version, tail = _VALUES[digits[0]], None
    if version >= STAGE_VERSION:
        tail = read_tail(reader, [pick.dose for pick in picks], version == WIDE_VERSION)
        picks = [replace(pick, dose=dose) for pick, dose in zip(picks, tail.doses, strict=True)]
    if reader.is_over or (not tail.is_needed if tail else any(is_wide(pick.dose) for pick in picks)):
        return _DAMAGED
    begun = write_bits(kind, 2) + mark_bits(name) + (write_bits(step, STEP_BITS) if kind == 1 else "")
    # one bundle has one code: what is written otherwise than a writer writes is damage
    if kind >= len(ORIGINS) or _seal_all("".join(map(mark_bits, marks)), weeks, begun, picks, tail) != digits:
        return _DAMAGED
    if marks[0] not in (catalogue.site, *catalogue.former_sites):
        return Refusal(RefusalKind.ELSEWHERE, field="site", value=marks[0])
    known = catalogue.programmes if kind == 1 else catalogue.bundles
    slug = known.get(name, "")
    origin = Origin(ORIGINS[kind], slug, step, "" if slug else name) if kind else None
    opened = _open_frame((marks[1], marks[2]), tail.weeks if tail else weeks, origin, tuple(picks), catalogue, MOST_WEEKS if tail else SHORT_WEEKS)
    return open_tail(opened, tail, catalogue) if tail and isinstance(opened, OpenedBundle) else opened


def _open_frame(
    marks: tuple[str, str],
    weeks: int,
    origin: Origin | None,
    raw: tuple[RawPick | _WholePick, ...],
    catalogue: BundleCatalogue,
    most_weeks: int = SHORT_WEEKS,
) -> OpenedBundle | Refusal:
    """A bundle of the marks of its language and its location, and of its picks."""
    language, location = catalogue.languages.get(marks[0]), catalogue.locations.get(marks[1])
    if language is None:
        return Refusal(RefusalKind.UNKNOWN, field="language", value=marks[0])
    if location is None:
        return Refusal(RefusalKind.UNKNOWN, field="location", value=marks[1])
    refusal = _refuse_counts(weeks, len(raw), most_weeks)
    if refusal is not None:
        return refusal
    codes = [pick.code for pick in raw]
    for index, code in enumerate(codes):
        if code in codes[:index]:
            return Refusal(RefusalKind.REPEATED, code)
    picks, doses = [], []
    for item in raw:
        pick = _open_pick(item, catalogue)
        if isinstance(pick, Refusal):
            return pick
        picks.append(pick)
        doses.append(change_dose(pick.base or catalogue.entries[item.code].dose, pick.change))
    former = tuple(code for code, pick in zip(codes, picks, strict=True) if pick.base is not None)
    return OpenedBundle(PickedBundle(language, location, weeks, tuple(picks), origin), tuple(doses), former)


def _open_pick(raw: RawPick | _WholePick, catalogue: BundleCatalogue) -> Pick | Refusal:
    """A pick with the library's dose on which its changes stand, where that is a former one."""
    gone = catalogue.withdrawn.get(raw.code)
    if gone is not None:
        return Refusal(RefusalKind.WITHDRAWN, raw.code, value=gone.title, replaced_by=gone.replaced_by)
    entry = catalogue.entries.get(raw.code)
    if entry is None:
        return Refusal(RefusalKind.UNKNOWN, raw.code, "exercise", raw.code)
    if isinstance(raw, _WholePick):
        return _place_dose(raw, entry, catalogue)
    base = entry.marked.get(raw.mark)
    if base is None:
        return Refusal(RefusalKind.OLDER, raw.code, "dose")
    change = read_changes(raw, base, entry, catalogue)
    return change if isinstance(change, Refusal) else _pick_of(entry, base, change)


def _pick_of(entry: ExerciseEntry, base: Dose, change: DoseChange | None) -> Pick:
    former = None if base is entry.dose else base
    return Pick(place=CODE_PLACE, exercise=Ref(entry.slug, CODE_PLACE), change=change, base=former)


def _place_dose(raw: _WholePick, entry: ExerciseEntry, catalogue: BundleCatalogue) -> Pick | Refusal:
    """The pick whose dose is the one that the code carries: the library's present or a former dose, changed as its range allows.

    Whatever the library says today, no other dose than the code's is ever given.
    """
    band = None
    if raw.band_mark is not None:
        slug = catalogue.bands.get(write_number(raw.band_mark, NAME_MARK_DIGITS))
        if slug is None:
            return Refusal(RefusalKind.UNKNOWN, raw.code, "band", write_number(raw.band_mark, NAME_MARK_DIGITS))
        band = Ref(slug, CODE_PLACE)
    named = without_marks(raw.dose, raw.code, catalogue)
    if isinstance(named, Refusal):
        return named
    given = replace(named, band=band)
    found: list[Refusal] = []
    for base in (entry.dose, *entry.former):
        change = difference(base, given)
        refusal = refuse_change(change, base, entry, catalogue)
        if as_packed(change_dose(base, change)) != given:
            refusal = Refusal(RefusalKind.OLDER, raw.code, "dose")
        if refusal is None:
            return _pick_of(entry, base, change)
        found.append(refusal)
    # a number that may not be moved at all was another one in the library then
    return found[0] if found[0].low is not None else Refusal(RefusalKind.OLDER, raw.code, "dose")


"""Bundle codes: what is written is read, what is wrong is refused by name, and both sides agree."""

from __future__ import annotations

import json
from dataclasses import fields, replace
from datetime import date
from pathlib import Path
from random import Random
from typing import Any
from zlib import crc32

import pytest
import segno
from hypothesis import given, settings
from hypothesis import strategies as st

from handouts.build.loading import load
from handouts.build.settings import Settings
from handouts.bundle.catalogue import (
    DIGITS,
    ExerciseEntry,
    catalogue_json,
    dose_json,
    dose_mark,
    mark,
    name_mark,
    pack_tempo,
    unpack_tempo,
    write_number,
)
from handouts.bundle.code import decode_bundle, encode_bundle, group_code
from handouts.bundle.fields import FIELDS, LAYOUTS, NAMES, MovableField, drop_unchanged
from handouts.bundle.mark_checks import check_doses, check_marks
from handouts.bundle.packing import BitReader, pack_dose, unpack_dose, write_bits
from handouts.bundle.past import catalogue_with_past
from handouts.bundle.values import OpenedBundle, Origin, PickedBundle, Refusal, RefusalKind
from handouts.dose.arithmetic import change_dose
from handouts.dose.weight import hundredths_of, weight_of
from handouts.model import NAMED_SIDES, Dose, DoseRange, Pick, Ref, Side, Span, Tempo
from handouts.problems import show_problem
from tests.bundle.sample import (
    FORMER,
    HEEL_RAISE,
    PLACE,
    SAMPLE,
    answer_json,
    bundle_of,
    by_python,
    by_script,
    damage,
    make_sample,
    pick_of,
    random_bundle,
    random_dose,
    random_dose_change,
    random_former,
    read_pairs,
)
from tests.kept import shared_results
from tests.scripts.node import ask_script
from tests.small_library import small_library, texts_with

VECTORS: list[dict[str, Any]] = json.loads((Path(__file__).parent / "vectors.json").read_text(encoding="utf-8"))
ROOT = Path(__file__).parents[2]
PLAIN = bundle_of(pick_of("heel-raise"))


def code_of(bundle: PickedBundle) -> str:
    """The code of a bundle that must be accepted."""
    code = encode_bundle(bundle, SAMPLE)
    assert isinstance(code, str), code
    return code


def sealed(body: str) -> str:
    """A body with the check that fits it."""
    return body + write_number(crc32(body.encode()), 7)


def refused(text: str, catalogue: Any = SAMPLE) -> Refusal:
    """The refusal of a code that must be refused."""
    answer = decode_bundle(text, catalogue)
    assert isinstance(answer, Refusal), answer
    return answer


def head(weeks: int = 6, version: int = 1) -> str:
    """The head of a code in Spanish for Market Street."""
    return write_number(version, 1) + name_mark("es") + name_mark("market-street") + write_number(weeks, 1)


def raw_pick(code: str, bits: int = 0, values: str = "", dose: Dose | None = None) -> str:
    """A pick as a writer without any check would write it."""
    base = dose or SAMPLE.entries[code].dose
    return code + dose_mark(base) + write_number(bits, 2) + values


@pytest.mark.parametrize("vector", VECTORS, ids=lambda vector: vector["name"])
def test_vectors(vector: dict[str, Any]) -> None:
    """Each shared vector is read as it says."""
    assert answer_json(decode_bundle(vector["code"], SAMPLE)) == vector["answer"]


def test_vectors_in_the_browsers_language() -> None:
    """The script reads each shared vector as it says."""
    _, decoded = by_script([], [vector["code"] for vector in VECTORS])
    assert decoded == [vector["answer"] for vector in VECTORS]


def test_vectors_show_every_refusal() -> None:
    """No kind of refusal is without a vector, but the one that only a bundle in the making has."""
    assert {vector["answer"].get("kind") for vector in VECTORS} == {None, *(kind.value for kind in RefusalKind if kind is not RefusalKind.NO_DOSE)}


SET: dict[str, Any] = {"sets": 2, "reps": 8, "hold_seconds": 5, "days": 3, "tempo": Tempo(2, 0, 3), "side": Side.ONE, "effort": Span(3, 4), "weight_kg": 2.0}


@pytest.mark.parametrize("lacking", [None, *SET])
def test_an_open_dose_is_set_whole_or_refused(lacking: str | None) -> None:
    """Where the library has no dose each field of its range must be filled in; what is set is read back, on both sides."""
    bundle = bundle_of(pick_of("open", **{name: value for name, value in SET.items() if name != lacking}))
    answer = encode_bundle(bundle, SAMPLE)
    assert by_script([bundle], [])[0] == [answer_json(answer)]
    if lacking is not None:
        assert answer == Refusal(RefusalKind.NO_DOSE, "PN88", NAMES[lacking])
        return
    opened = decode_bundle(str(answer), SAMPLE)
    assert isinstance(opened, OpenedBundle)
    assert {name: getattr(opened.doses[0], name) for name in SET} == SET
    assert by_script([], [str(answer)])[1] == [answer_json(opened)]


def test_an_open_dose_alone_is_refused() -> None:
    """Nothing is invented: not one field is taken from anywhere."""
    bundle = bundle_of(pick_of("heel-raise"), pick_of("open-hold"))
    refusal = Refusal(RefusalKind.NO_DOSE, "PN99", "sets")
    assert encode_bundle(bundle, SAMPLE) == refusal
    assert by_script([bundle], [])[0] == [answer_json(refusal)]


@pytest.mark.parametrize(("lacking", "name"), [("rest_seconds", "rest"), ("times", "times")])
def test_no_rest_and_once_a_day_are_not_taken_where_the_range_forbids_them(lacking: str, name: str) -> None:
    """A range that begins above them must be filled in, as any other field."""
    values: dict[str, Any] = {"sets": 1, "hold_seconds": 30, "days": 3, "rest_seconds": 30, "times": 2}
    bundle = bundle_of(pick_of("open-hold", **{each: value for each, value in values.items() if each != lacking}))
    refusal = Refusal(RefusalKind.NO_DOSE, "PN99", name)
    assert encode_bundle(bundle, SAMPLE) == refusal
    assert by_script([bundle], [])[0] == [answer_json(refusal)]


def test_a_code_of_no_sets_is_refused() -> None:
    """A sealed code that gives an open exercise no sets is no dose."""
    code = code_of(bundle_of(pick_of("open-hold", sets=1, hold_seconds=30, days=3, rest_seconds=30, times=2)))
    opened = decode_bundle(code, SAMPLE)
    assert isinstance(opened, OpenedBundle)
    bits = write_bits(1, 2) + write_bits(0, 4)
    other = change_dose(opened.doses[0], None)
    raw = "".join(write_bits(DIGITS.index(digit), 5) for digit in code[1:-7])
    assert raw.count(write_bits(1, 2) + write_bits(1, 4)) >= 1 and other.sets == 1
    at = raw.index("".join(write_bits(DIGITS.index(digit), 5) for digit in "PN99")) + 20
    hurt = raw[:at] + bits + raw[at + 6 :]
    sealed_code = sealed(code[0] + "".join(DIGITS[int(hurt[place : place + 5], 2)] for place in range(0, len(hurt), 5)))
    assert refused(sealed_code) == Refusal(RefusalKind.OLDER, "PN99", "dose")
    assert by_script([], [sealed_code])[1] == [answer_json(Refusal(RefusalKind.OLDER, "PN99", "dose"))]


def test_check_sum_is_the_published_one() -> None:
    """CRC-32/ISO-HDLC of '123456789' is CBF43926 (catalogue of parametrised CRC algorithms)."""
    assert crc32(b"123456789") == 0xCBF43926
    assert mark("123456789", 7) == write_number(0xCBF43926, 7)


def test_layout_by_hand() -> None:
    """A code put together from the tables of the specification by hand."""
    code = code_of(bundle_of(pick_of("heel-raise", sets=2, reps=12, side=Side.ONE)))
    bits = "".join(f"{DIGITS.index(digit):05b}" for digit in SAMPLE.site + name_mark("es") + name_mark("market-street"))
    bits += "110" + "00" + "0001" + "".join(f"{DIGITS.index(digit):05b}" for digit in "H7K2")
    # repetitions, 2 sets, 12, one side, no hold, tempo 2-1-3, rest 4 x 15 s, 3 days, once, effort 4 to 6, no weight, no band
    bits += "00" + "0010" + "0001100" + "010" + "0" + "10010001011" + "100011" + "011" + "0" + "1001000110" + "0" + "0"
    bits += "0" * (-len(bits) % 5)
    assert code == sealed("5" + "".join(DIGITS[int(bits[at : at + 5], 2)] for at in range(0, len(bits), 5)))


@pytest.mark.parametrize("dose", [
    Dose(place=PLACE, sets=10, reps=100, side=Side.ONE_SIDE_FIRST, tempo=Tempo(99, 99, 99, 99), rest_seconds=599, days=7, times=12, effort=Span(0.25, 9.75), weight_kg=100),
    Dose(place=PLACE, hold_seconds=300, side=Side.ALTERNATING, rest_seconds=600), Dose(place=PLACE, time_seconds=7200, rest_seconds=240),
    Dose(place=PLACE, distance_metres=20_000, rest_seconds=255), Dose(place=PLACE, reps=1, hold_seconds=300, tempo=Tempo(7, 0, 7)),
    Dose(place=PLACE, reps=1, tempo=Tempo(7, 0, 7, 1)), Dose(place=PLACE, reps=1, tempo=Tempo(8, 0, 7)), Dose(place=PLACE, reps=1, effort=Span(10, 10)),
    Dose(place=PLACE, reps=8, weight_kg=weight_of(550, True)), Dose(place=PLACE, reps=8, weight_kg=0.01),
])
def test_every_dose_fits_exactly(dose: Dose) -> None:
    """The largest numbers that a library may have, and those on either side of a shorter form."""
    bits = pack_dose(dose, None)
    reader = BitReader(bits)
    assert (unpack_dose(reader), reader.at) == ((dose, None), len(bits))


def test_weights_in_pounds_are_exact() -> None:
    """Every hundredth of a pound and of a kilogram up to 100 kg comes back as it was written, and none is taken for the other.

    The pound is 0.45359237 kg (international yard and pound agreement, 1959).
    """
    assert weight_of(100, True) == 0.45359237
    pounds = {weight_of(count, True): count for count in range(1, 22_047)}
    kilograms = {weight_of(count, False): count for count in range(1, 10_001)}
    assert not set(pounds) & set(kilograms)
    for weights, in_pounds in ((pounds, True), (kilograms, False)):
        assert all(hundredths_of(weight) == (count, in_pounds) for weight, count in weights.items())
    with pytest.raises(ValueError, match="no number of hundredths"):
        hundredths_of(1.2345)


@settings(max_examples=300, deadline=None)
@given(st.integers(0, 2**32))
def test_read_is_what_was_written(seed: int) -> None:
    """Any bundle within bounds comes back the same, and gives the same code again."""
    bundle = random_bundle(Random(seed))
    code = code_of(bundle)
    opened = decode_bundle(code, SAMPLE)
    assert isinstance(opened, OpenedBundle)
    wanted = tuple(replace(pick, change=drop_unchanged(pick.change, SAMPLE.entries[SAMPLE.code_of(pick.exercise.slug) or ""].dose)) for pick in bundle.picks)
    assert opened.bundle == replace(bundle, picks=wanted)
    assert opened.former == ()
    assert encode_bundle(opened.bundle, SAMPLE) == code
    assert decode_bundle(group_code(code).lower(), SAMPLE) == opened, "as it is typed from paper"


@settings(max_examples=500, deadline=None)
@given(st.text(max_size=300))
def test_any_text_is_refused(text: str) -> None:
    """No text that is not a code is accepted, and none makes the reader fail."""
    assert isinstance(decode_bundle(text, SAMPLE), Refusal)


@settings(max_examples=500, deadline=None)
@given(st.text(alphabet=DIGITS, max_size=80))
def test_sealed_nonsense_never_escapes_the_bounds(body: str) -> None:
    """Nonsense with a fitting check is refused, or holds doses within their ranges only."""
    answer = decode_bundle(sealed(head() + body), SAMPLE)
    if isinstance(answer, OpenedBundle):
        assert_within(answer)


def assert_within(opened: OpenedBundle) -> None:
    """Every number of every dose lies within its range."""
    for pick, dose in zip(opened.bundle.picks, opened.doses, strict=True):
        entry = SAMPLE.entries[SAMPLE.code_of(pick.exercise.slug) or ""]
        for field in FIELDS:
            span = getattr(entry.dose_range, field.attribute, None)
            value = getattr(dose, field.attribute)
            if isinstance(span, tuple):
                allowed = {*span, getattr(entry.dose, field.attribute)}
                if Side.ONE in allowed:  # one side may be said as the left or the right one
                    allowed |= {Side.LEFT, Side.RIGHT}
                assert value is None or value in allowed, field.name
                continue
            low, high = (value.low, value.high) if isinstance(value, Span) else (value, value)
            assert span is None or value is None or span.low <= low <= high <= span.high
            assert span is not None or field.name in ("side", "band") or value == getattr(entry.dose, field.attribute)


def test_damage_is_never_accepted() -> None:
    """3,000 codes with one accident each: refused, or the same bundle (an accident that changed nothing)."""
    random, other = Random(7), 0
    for _ in range(3000):
        code = code_of(random_bundle(random))
        hurt = damage(code, random)
        answer = decode_bundle(hurt, SAMPLE)
        if isinstance(answer, OpenedBundle):
            assert answer == decode_bundle(code, SAMPLE)
        else:
            other += 1
            assert answer.kind is RefusalKind.DAMAGED
    assert other > 2500


def test_both_sides_agree() -> None:
    """500 random bundles and 1,000 whole, damaged and sealed nonsense codes: Python and the script answer alike (``tests/long/bundle_codes.py`` has 100,000)."""
    random = Random(20261125)
    bundles = [random_bundle(random) for _ in range(500)]
    codes = [code_of(bundle) for bundle in bundles]
    nonsense = [random_nonsense(random) for _ in range(250)]
    texts = codes + [damage(code, random) for code in codes[:250]] + nonsense
    assert by_script(bundles, texts) == by_python(bundles, texts)


def random_nonsense(random: Random) -> str:
    """A sealed code of some version with picks as that version has them."""
    version = random.choice((0, 1, 1, 2, 2, 3, 3, 4, 5))
    if version in (3, 4):
        return random_whole(random)
    return sealed(head(random.randint(0, 8), version) + random_picks(random, LAYOUTS.get(version, LAYOUTS[2])))


def random_whole(random: Random) -> str:
    """A sealed code of version 3 or 4 whose every part is written right, and says anything."""
    marks = [SAMPLE.site if random.random() < 0.9 else "ABC", random.choice([*SAMPLE.languages, "ABC"]), random.choice([*SAMPLE.locations, "ABC"])]
    bits = "".join(write_bits(DIGITS.index(digit), 5) for digit in "".join(marks)) + write_bits(random.randint(0, 7), 3) + write_bits(random.choice((0, 0, 3)), 2)
    count, named = random.randint(0, 4), False
    bits += write_bits(count, 4)
    for _ in range(count):
        code = random.choice([*SAMPLE.entries, "GN88", "ZZZ2"])
        dose = change_dose(SAMPLE.entries[code].dose, random_dose_change(random)) if code in SAMPLE.entries and not SAMPLE.entries[code].dose.is_open and random.random() < 0.8 else random_dose(random)
        named = named or dose.side in NAMED_SIDES
        bits += "".join(write_bits(DIGITS.index(digit), 5) for digit in code) + pack_dose(replace(dose, band=None), random.choice((None, None, 77)) if dose.band is None else 77)
    bits += "0" * (-len(bits) % 5)
    version = "6" if named != (random.random() < 0.1) else "5"
    return sealed(version + "".join(DIGITS[int(bits[at : at + 5], 2)] for at in range(0, len(bits), 5)))


def random_picks(random: Random, layout: tuple[tuple[MovableField, ...], ...]) -> str:
    """Picks of real exercises with random digits behind them, so that every bound is met from both sides."""
    parts = []
    for _ in range(random.randint(0, 4)):
        code = random.choice([*SAMPLE.entries, "GN88", "GN99", "ZZZ2"])
        base = random.choice((SAMPLE.entries[code].dose if code in SAMPLE.entries else HEEL_RAISE, FORMER))
        bits = random.choice([1 << random.randrange(10), random.randrange(1024)])
        digits = sum(fields[0].digits for number, fields in enumerate(layout) if bits >> number & 1)
        low = [random.choice(DIGITS[:3] if random.random() < 0.7 else DIGITS) for _ in range(digits)]
        parts.append(raw_pick(code, bits, "".join(low), base))
    return "".join(parts)


def test_links_and_wrapped_text_are_read() -> None:
    """A whole link, a code broken over lines, one in small letters and one typed in any groups are read; nothing else is forgiven."""
    code = code_of(PLAIN)
    whole = decode_bundle(code, SAMPLE)
    assert isinstance(whole, OpenedBundle)
    for text in (f"https://clinic.example/es/my/#{code}", f"  {code[:20]}\r\n {code[20:]}\t", code.lower(), group_code(code), f"{code[:9]}-{code[9:]}.",
                 "\u2013".join(code), f"{code[:4]}\u00a0{code[4:]}"):
        assert decode_bundle(text, SAMPLE) == whole
    for text in (f"{code[:9]}/{code[9:]}", f"{code},", code.replace("2", "Z", 1), f"{code}\u200b", f"ı{code}"):
        assert refused(text).kind is RefusalKind.DAMAGED


def test_versions_from_other_times() -> None:
    """A newer and an older version of the format are told apart from damage."""
    assert refused(sealed(head(version=8) + "ABCDEF99")).kind is RefusalKind.NEWER
    assert refused(sealed(head(version=0))).kind is RefusalKind.OLDER
    assert refused(head(version=5) + "2222222").kind is RefusalKind.DAMAGED


@pytest.mark.parametrize("side", NAMED_SIDES)
def test_a_named_side_has_a_version_of_its_own(side: Side) -> None:
    """Left and right are read as given where one side may be; no other version holds them, and theirs holds nothing else."""
    code = code_of(bundle_of(pick_of("calf-stretch", side=side), pick_of("sit-to-stand")))
    assert code[0] == "6"
    opened = decode_bundle(code, SAMPLE)
    assert isinstance(opened, OpenedBundle)
    assert [dose.side for dose in opened.doses] == [side, Side.TOGETHER]
    assert refused(sealed("5" + code[1:-7])).kind is RefusalKind.DAMAGED
    plain = code_of(PLAIN)
    assert plain[0] == "5"
    assert refused(sealed("6" + plain[1:-7])).kind is RefusalKind.DAMAGED
    never = bundle_of(pick_of("sit-to-stand", side=side))
    assert encode_bundle(never, SAMPLE) == Refusal(RefusalKind.OUT_OF_BOUNDS, "CV86", "side", side.value)
    assert by_script([never], [code, plain]) == by_python([never], [code, plain])


def test_no_side_is_named_where_the_range_offers_none() -> None:
    """A range that lists sides without one offers neither left nor right."""
    entry = SAMPLE.entries["ST22"]
    assert entry.dose_range is not None
    listed = replace(entry, dose=replace(entry.dose, side=Side.BOTH), dose_range=replace(entry.dose_range, side=(Side.BOTH, Side.ONE_SIDE_FIRST)))
    catalogue = replace(SAMPLE, entries={"ST22": listed})
    bundle = bundle_of(pick_of("calf-stretch", side=Side.LEFT))
    assert encode_bundle(bundle, catalogue) == Refusal(RefusalKind.OUT_OF_BOUNDS, "ST22", "side", "left")
    assert by_script([bundle], [], catalogue)[0] == [answer_json(encode_bundle(bundle, catalogue))]


def test_former_versions_written_anew() -> None:
    """500 random codes of version 1 and of version 2: both sides read the doses that they were written with."""
    random = Random(4)
    for version in (1, 2):
        pairs = [random_former(random, version) for _ in range(500)]
        codes = [code for code, _ in pairs]
        mine, theirs = by_python([], codes)[1], by_script([], codes)[1]
        assert mine == theirs == [wanted for _, wanted in pairs]


def test_changed_library_dose_is_seen() -> None:
    """A code made on another dose of the library: read with the former dose where it is known, else refused as older."""
    code = code_of(bundle_of(pick_of("heel-raise", reps=12)))
    changed = replace(HEEL_RAISE, band=Ref("light", PLACE))
    assert refused(code, make_sample(changed, [])) == Refusal(RefusalKind.OLDER, "H7K2", "dose")
    opened = decode_bundle(code, make_sample(changed, [HEEL_RAISE]))
    assert isinstance(opened, OpenedBundle)
    assert opened.former == ("H7K2",)
    assert opened.doses == (replace(HEEL_RAISE, reps=12),)
    assert opened.bundle.picks[0].base == HEEL_RAISE
    assert encode_bundle(opened.bundle, make_sample(changed, [HEEL_RAISE])) == code


OLD_CODES: dict[str, list[dict[str, Any]]] = json.loads((Path(__file__).parent / "old_codes.json").read_text(encoding="utf-8"))
"""Codes written by the program of 30 November 2026, before version 3, with the doses that they were given with."""


def test_old_codes_open_with_their_doses() -> None:
    """Every code of versions 1 and 2 is read by both sides with the doses, the place and the weeks that it was given with."""
    rows = OLD_CODES["sample"]
    assert {row["code"][0] for row in rows} == {"3", "4"}
    catalogue = catalogue_json(SAMPLE)
    for row, theirs in zip(rows, ask_script("openings", {"catalogue": catalogue, "codes": [row["code"] for row in rows]}), strict=True):
        mine = decode_bundle(row["code"], SAMPLE)
        assert isinstance(mine, OpenedBundle)
        frame = [row["language"], row["location"], row["weeks"], row["codes"], []]
        assert [mine.bundle.language, mine.bundle.location, mine.bundle.weeks, [SAMPLE.code_of(pick.exercise.slug) for pick in mine.bundle.picks], list(mine.former)] == frame
        assert [theirs["bundle"][name] for name in ("language", "location", "weeks")] + [[pick["code"] for pick in theirs["bundle"]["picks"]], theirs["former"]] == frame
        for doses in ([dose_json(dose) for dose in mine.doses], theirs["doses"]):
            assert [{name: value for name, value in dose.items() if name not in ("pace", "limb")} for dose in doses] == row["doses"]


def test_old_codes_of_the_demo_never_show_another_dose(tmp_path: Path) -> None:
    """Links that were given with the demo: each dose as it was given, or a refusal by name where the library has moved on."""
    with shared_results():
        loaded = load(Settings(ROOT / "content", tmp_path, date(2026, 11, 30), 1, False, "", False))
    assert loaded.library
    catalogue = catalogue_with_past(loaded.library, loaded.history)
    opened = 0
    for row in OLD_CODES["demo"]:
        answer = decode_bundle(row["code"], catalogue)
        if isinstance(answer, OpenedBundle):
            opened += 1
            given = [{name: value for name, value in dose_json(dose).items() if name not in ("pace", "limb")} for dose in answer.doses]
            assert given == row["doses"]
        else:
            assert answer.kind in (RefusalKind.OLDER, RefusalKind.OUT_OF_BOUNDS, RefusalKind.WITHDRAWN)
    assert opened >= len(OLD_CODES["demo"]) // 2


def test_a_mark_of_two_doses_says_nothing() -> None:
    """3 x 10 and 3 x 16 had one mark: an old code is refused where the library had both, by both sides, and `check` says so."""
    ten = Dose(place=PLACE, sets=3, reps=10, tempo=Tempo(2, 1, 2), rest_seconds=60, days=3, effort=Span(3, 5))
    same = next(replace(ten, reps=reps) for reps in range(11, 100) if dose_mark(replace(ten, reps=reps)) == dose_mark(ten) or reps == 99)
    sets = next((replace(ten, sets=n, reps=reps) for n in range(1, 11) for reps in range(1, 101) if (n, reps) != (3, 10) and dose_mark(replace(ten, sets=n, reps=reps)) == dose_mark(ten)), same)
    assert dose_mark(sets) == dose_mark(ten) and sets != ten
    code = sealed(head() + raw_pick("FX77", dose=ten))
    entry = ExerciseEntry("FX77", "fixed", sets, None, (ten,))
    catalogue = replace(SAMPLE, entries={**SAMPLE.entries, "FX77": entry})
    assert refused(code, catalogue) == Refusal(RefusalKind.OLDER, "FX77", "dose")
    assert by_script([], [code], catalogue)[1] == [{"kind": "older", "exercise": "FX77", "field": "dose"}]
    two_former = replace(entry, dose=replace(ten, days=7), former=(ten, sets))
    assert refused(code, replace(SAMPLE, entries={"FX77": two_former})).kind is RefusalKind.OLDER
    library = small_library()
    foot = library.exercise["foot-lift"]
    mine = next(replace(foot.dose, sets=n, reps=reps) for n in range(1, 11) for reps in range(1, 101)
                if (n, reps) != (foot.dose.sets, foot.dose.reps) and dose_mark(replace(foot.dose, sets=n, reps=reps)) == dose_mark(foot.dose))
    assert [show_problem(problem) for problem in check_doses(library, {foot.code: (mine,)})] == [
        "content/exercises/foot-lift.md:10:7: notice: two doses that this exercise has or had look the same in links and codes made before bundle code version 3 (A222). "
        "Those links are refused, so that none shows a wrong dose; another number in 'dose' opens them again. [same-dose-mark]"
    ]
    assert check_doses(library, {foot.code: (replace(foot.dose, days=7),)}) == ()


def test_no_pair_of_doses_is_confused() -> None:
    """2,500 codes on one dose, read by a library that has another now: the given dose, or a refusal (``tests/long/bundle_codes.py``)."""
    tally = read_pairs(2_500, Random(3))
    assert tally["wrong"] == 0
    assert all(tally[name] > 100 for name in ("version 3: given", "version 3: refused", "version 1: given", "version 1: refused"))


@pytest.mark.parametrize("field", ["sets", "reps", "rest", "days", "effort", "tempo", "side", "times"])
def test_every_part_of_a_dose_counts_for_its_mark(field: str) -> None:
    """Another value in any part of the library's dose is another mark."""
    values: dict[str, Any] = {"sets": 2, "reps": 11, "rest_seconds": 61, "days": 4, "effort": Span(4, 5), "tempo": Tempo(2, 1, 3, 1), "side": Side.ONE, "times": 2}
    name = "rest_seconds" if field == "rest" else field
    assert dose_mark(replace(HEEL_RAISE, **{name: values[name]})) != dose_mark(HEEL_RAISE)


@pytest.mark.parametrize(("code", "field", "low", "high"), [
    ("H7K2", "sets", 1, 4), ("H7K2", "reps", 5, 15), ("H7K2", "rest", 30, 120), ("H7K2", "days", 2, 5),
    ("ST22", "hold", 10, 60), ("WK33", "time", 300, 7200), ("PC44", "distance", 5, 20000), ("WT66", "weight", 25, 1250),
])
def test_every_bound(code: str, field: str, low: int, high: int) -> None:
    """Each field one below, at, at and one above its bounds, with a fitting check: the bound holds and is named."""
    number, [item] = next((index, fields) for index, fields in enumerate(LAYOUTS[1]) if fields[0].name == field)
    unit = 100 if field == "weight" else 1
    for value in (low - 1, low, high, high + 1):
        answer = decode_bundle(sealed(head() + raw_pick(code, 1 << number, write_number(value, item.digits))), SAMPLE)
        if low <= value <= high:
            assert isinstance(answer, OpenedBundle)
        else:
            assert answer == Refusal(RefusalKind.OUT_OF_BOUNDS, code, field, value / unit, low / unit, high / unit)


SLOW = Tempo(4, 2, 4)
SLOW_DIGITS = write_number(((4 * 16 + 2) * 16 + 4) * 8, 3)
"""The number of 4-2-4 by the tables of the specification."""


def test_a_tempo_by_hand() -> None:
    """In a code of version 2 the bits are those of that version's table."""
    opened = decode_bundle(sealed(head(version=2) + raw_pick("H7K2", 1 + 16, "4" + SLOW_DIGITS)), SAMPLE)
    assert isinstance(opened, OpenedBundle)
    assert opened.doses == (replace(HEEL_RAISE, sets=2, tempo=SLOW),)


@pytest.mark.parametrize(("code", "field", "digits"), [("WK33", "time_seconds", "3G2"), ("PC44", "distance_metres", "2NE")])
def test_one_bit_stands_for_time_or_distance(code: str, field: str, digits: str) -> None:
    """In version 2 the bit is of that which the dose counts; both are read back as they were written."""
    value = {"time_seconds": 1500, "distance_metres": 700}[field]
    written = sealed(head(version=2) + raw_pick("H7K2", 16, SLOW_DIGITS) + raw_pick(code, 8, write_number(value, 3)))
    opened = decode_bundle(written, SAMPLE)
    assert isinstance(opened, OpenedBundle)
    assert getattr(opened.doses[1], field) == value


@pytest.mark.parametrize(("raw", "kind"), [
    (raw_pick("H7K2", 16, write_number(((2 * 16 + 2) * 16 + 2) * 8, 3)), Refusal(RefusalKind.OUT_OF_BOUNDS, "H7K2", "tempo", "2-2-2")),
    (raw_pick("H7K2", 16, "ZZY"), Refusal(RefusalKind.OUT_OF_BOUNDS, "H7K2", "tempo", "15-15-15-6")),
    (raw_pick("CV86", 16, SLOW_DIGITS), Refusal(RefusalKind.OUT_OF_BOUNDS, "CV86", "tempo", "4-2-4")),
    (raw_pick("H7K2", 16, write_number(((2 * 16 + 1) * 16 + 3) * 8, 3)), Refusal(RefusalKind.DAMAGED)),
    (raw_pick("H7K2", 1, "4"), Refusal(RefusalKind.DAMAGED)),
    (raw_pick("H7K2"), Refusal(RefusalKind.DAMAGED)),
    (raw_pick("H7K2", 16, SLOW_DIGITS) + raw_pick("CV86", 8, "3G2"), Refusal(RefusalKind.OUT_OF_BOUNDS, "CV86", "time", 1472)),
], ids=["not offered", "not offered, with a pause", "no tempo", "the library's own", "nothing needs version 2", "nothing changed", "time of repetitions"])
def test_tempos_that_are_refused(raw: str, kind: Refusal) -> None:
    """A tempo that the range does not list, that changes nothing, or a version that nothing needs."""
    assert refused(sealed(head(version=2) + raw)) == kind


def test_a_former_tempo_that_is_no_longer_offered() -> None:
    """An old sheet whose dose has a tempo that the range has dropped is refused, like any number outside its range."""
    former = replace(HEEL_RAISE, tempo=Tempo(2, 0, 2))
    catalogue = make_sample(former=[former])
    code = sealed(head() + raw_pick("H7K2", dose=former))
    assert refused(code, catalogue) == Refusal(RefusalKind.OUT_OF_BOUNDS, "H7K2", "tempo", "2-0-2")


@given(st.integers(0, 32**3 - 1))
def test_a_tempo_is_a_number(value: int) -> None:
    """Every number of three digits is one tempo, and the other way round."""
    assert pack_tempo(unpack_tempo(value)) == value


def test_a_tempo_that_no_code_can_hold() -> None:
    """It is never written as another one."""
    for tempo in (Tempo(16, 0, 1), Tempo(1, 16, 1), Tempo(1, 0, 16), Tempo(1, 0, 1, 8)):
        with pytest.raises(ValueError, match="cannot hold"):
            pack_tempo(tempo)


def test_what_may_not_be_moved() -> None:
    """Fields without a range, sides where there are none, a band where there is none: refused, no bound named."""
    for code, bits, values, field, value in (
        ("FX77", 1, "4", "sets", 2), ("ST22", 2, "2E", "reps", 12), ("CV86", 32, "3", "side", "one"),
        ("H7K2", 32, "4", "side", "alternating"), ("H7K2", 32, "9", "side", 7), ("H7K2", 512, name_mark("heavy"), "band", "heavy"),
    ):
        assert refused(sealed(head() + raw_pick(code, bits, values))) == Refusal(RefusalKind.OUT_OF_BOUNDS, code, field, value)


def test_whole_dose_is_held_against_the_range() -> None:
    """A former dose outside today's range is refused even where the code changes nothing."""
    assert refused(sealed(head() + raw_pick("H7K2", dose=replace(HEEL_RAISE, reps=30)))) == Refusal(RefusalKind.OUT_OF_BOUNDS, "H7K2", "reps", 30, 5, 15)


def test_writer_refuses_what_the_reader_would() -> None:
    """The writer names the same faults, and never writes a code that the reader refuses."""
    for bundle, refusal in (
        (bundle_of(pick_of("heel-raise", sets=9)), Refusal(RefusalKind.OUT_OF_BOUNDS, "H7K2", "sets", 9, 1, 4)),
        (bundle_of(pick_of("nowhere")), Refusal(RefusalKind.UNKNOWN, None, "exercise", "nowhere")),
        (bundle_of(pick_of("curl"), pick_of("curl")), Refusal(RefusalKind.REPEATED, "WT66")),
        (bundle_of(), Refusal(RefusalKind.OUT_OF_BOUNDS, None, "picks", 0, 1, 12)),
        (bundle_of(pick_of("curl"), weeks=13), Refusal(RefusalKind.OUT_OF_BOUNDS, None, "weeks", 13, 1, 12)),
        (bundle_of(pick_of("curl"), language="fr"), Refusal(RefusalKind.UNKNOWN, None, "language", "fr")),
        (bundle_of(pick_of("curl"), location="moon"), Refusal(RefusalKind.UNKNOWN, None, "location", "moon")),
        (bundle_of(pick_of("band-row", band=Ref("steel", PLACE))), Refusal(RefusalKind.UNKNOWN, "BN55", "band", "steel")),
        (bundle_of(pick_of("sit-to-stand", side=Side.TOGETHER)), None),
    ):
        answer = encode_bundle(bundle, SAMPLE)
        assert answer == refusal if refusal else isinstance(answer, str)


def test_no_text_can_be_put_in() -> None:
    """Every character of a code is one of 32 digits, and a name in any field is refused."""
    code = code_of(random_bundle(Random(3)))
    assert set(code) <= set(DIGITS)
    for name in ("Maria Lopez", "1961-04-07", "constructor", "__proto__"):
        assert isinstance(encode_bundle(replace(PLAIN, language=name), SAMPLE), Refusal)
        assert isinstance(encode_bundle(replace(PLAIN, location=name), SAMPLE), Refusal)
        assert isinstance(encode_bundle(bundle_of(pick_of(name)), SAMPLE), Refusal)
        assert isinstance(encode_bundle(bundle_of(pick_of("band-row", band=Ref(name, PLACE))), SAMPLE), Refusal)


def test_two_million_characters_are_not_looked_at() -> None:
    """A fragment as long as a browser hands over is refused at once, on either side of the cap."""
    assert refused("#" + "2" * 2_000_000).kind is RefusalKind.DAMAGED
    assert refused(" " * 4001 + code_of(PLAIN)).kind is RefusalKind.DAMAGED
    assert isinstance(decode_bundle(" " * 3000 + code_of(PLAIN), SAMPLE), OpenedBundle)


@pytest.mark.parametrize(("change", "length", "version"), [
    ({}, 103, "6-M"), ({"sets": 10, "reps": 100, "rest_seconds": 590, "days": 7, "tempo": Tempo(15, 15, 15, 7)}, 133, "8-M"),
])
def test_length_of_six_exercises(change: dict[str, Any], length: int, version: str) -> None:
    """Six exercises of the library's doses, and with all that takes most room, behind a real address: QR version 6 or 8, level M."""
    tempos = (Tempo(2, 1, 3), Tempo(15, 15, 15, 7))
    wide = DoseRange(place=PLACE, sets=Span(1, 10), reps=Span(1, 100), rest_seconds=Span(0, 600), days=Span(1, 7), tempo=tempos)
    codes = ("H7K2", "K7H2", "CV86", "ST22", "WK33", "PC44")
    catalogue = replace(SAMPLE, entries={code: ExerciseEntry(code, f"e-{code.lower()}", HEEL_RAISE, wide) for code in codes})
    picks = tuple(pick_of(f"e-{code.lower()}", **change) for code in codes)
    code = encode_bundle(PickedBundle("es", "market-street", 6, picks), catalogue)
    assert isinstance(code, str)
    assert len(code) == length
    drawn = segno.make(["https://quillmoor.example/es/my/#", code], error="m", boost_error=False, micro=False)
    assert drawn.designator == version


def test_a_code_holds_no_free_text() -> None:
    """No field for a name, a date or a number of a record: a code is the version, marks of declared names, codes and bounded numbers."""
    # the longest pick: code, kind, sets, repetitions, side, hold, tempo, rest, days, times, effort, weight, band, in bits
    longest = 1 + (3 * 15 + 3 + 2 + 24 + 4 + 12 * (20 + 2 + 4 + 7 + 3 + 10 + 30 + 12 + 3 + 5 + 22 + 17 + 16)) / 5 + 1 + 7
    for seed in range(300):
        code = code_of(random_bundle(Random(seed)))
        assert set(code) <= set(DIGITS) and len(code) <= longest
    assert [field.name for field in fields(PickedBundle)] == ["language", "location", "weeks", "picks", "origin", "cue", "round_rest_seconds", "given"]
    assert {field.name for field in fields(Pick)} == {"place", "places", "exercise", "change", "base", "stages", "substitutes", "part"}
    for language, location in (("Maria Lopez", "market-street"), ("es", "1956-03-09")):
        answer = encode_bundle(bundle_of(pick_of("heel-raise"), language=language, location=location), SAMPLE)
        assert isinstance(answer, Refusal) and answer.kind is RefusalKind.UNKNOWN
    # an origin that the library does not have is refused, and never left out: its cautions would be lost with it
    for origin in (Origin("programme", "Maria Lopez", 1), Origin("bundle", "1956-03-09"), Origin("patient", "knee"), Origin("bundle", "", 0, "MARIA"), Origin("programme", "", 1, "M A!")):
        bundle = replace(PLAIN, origin=origin)
        mine, theirs = encode_bundle(bundle, SAMPLE), by_script([bundle], [])[0][0]
        assert isinstance(mine, Refusal) and (mine.kind, mine.field) == (RefusalKind.UNKNOWN, origin.kind)
        assert theirs == answer_json(mine)
    assert code_of(replace(PLAIN, origin=Origin("programme", "knee", 1956))) == code_of(replace(PLAIN, origin=Origin("programme", "knee")))


@pytest.mark.parametrize("origin", [Origin("programme", "knee", 2), Origin("bundle", "first-days")])
def test_an_origin_that_is_gone_stays_in_the_code(origin: Origin) -> None:
    """Withdrawn, renamed or not in this language: the exercises open, the origin is known to be lost, and a code made anew still names it."""
    code = code_of(replace(PLAIN, origin=origin))
    gone = replace(SAMPLE, programmes={}, bundles={})
    mine = decode_bundle(code, gone)
    assert isinstance(mine, OpenedBundle) and mine.bundle.origin is not None
    assert (mine.bundle.origin.kind, mine.bundle.origin.slug, mine.bundle.origin.step) == (origin.kind, "", origin.step)
    assert mine.bundle.picks == decoded(code).bundle.picks
    assert encode_bundle(mine.bundle, gone) == encode_bundle(mine.bundle, SAMPLE) == code
    coded, opened = by_script([mine.bundle], [code], gone)
    assert (coded, opened) == ([code], [answer_json(mine)])


def decoded(code: str) -> OpenedBundle:
    """A code that the sample opens."""
    answer = decode_bundle(code, SAMPLE)
    assert isinstance(answer, OpenedBundle)
    return answer


def test_writer_refuses_an_unknown_band() -> None:
    """A band that the library does not have has no mark."""
    answer = encode_bundle(bundle_of(pick_of("band-row", band=Ref("iron", PLACE))), SAMPLE)
    assert answer == Refusal(RefusalKind.UNKNOWN, "BN55", "band", "iron")


def test_a_number_that_does_not_fit_is_never_cut() -> None:
    """The smallest and the largest number of two digits are written, the next ones raise."""
    assert (write_number(0, 2), write_number(1023, 2)) == ("22", "ZZ")
    for value in (-1, 1024):
        with pytest.raises(ValueError, match=f"{value} does not fit in 2 digits"):
            write_number(value, 2)


def test_writer_holds_the_librarys_own_dose_against_the_range() -> None:
    """An unchanged dose outside its range is refused by the writer as it is by the reader."""
    assert encode_bundle(bundle_of(pick_of("heel-raise")), make_sample(replace(HEEL_RAISE, reps=30))) == Refusal(RefusalKind.OUT_OF_BOUNDS, "H7K2", "reps", 30, 5, 15)


def test_names_with_one_mark_are_named() -> None:
    """Two locations, languages or bands that a code could not tell apart: the later one is at fault, in its own group only."""
    assert name_mark("north-lane") == name_mark("hill-field") == "D87"
    first = '  - {slug: main, name: Main Street, address: "1 Main Street, Testville", phone: 555-0100}\n'
    other = first.replace("slug: main", "slug: north-lane")
    library = small_library(texts_with("clinic.yaml", (first, other + first.replace("slug: main", "slug: hill-field"))))
    assert [show_problem(problem) for problem in check_marks(library)] == [
        "content/clinic.yaml:7:12: error: 'hill-field' and 'north-lane' have the same mark in a bundle code. Give 'hill-field' another name. [same-mark]"
    ]
    bands = texts_with("vocabulary.yaml", ("slug: light", "slug: hill-field"))
    assert check_marks(small_library({**bands, "clinic.yaml": texts_with("clinic.yaml", (first, other))["clinic.yaml"]})) == ()

"""Bundle codes: what is written is read, what is wrong is refused by name, and both sides agree."""

from __future__ import annotations

import json
from dataclasses import fields, replace
from pathlib import Path
from random import Random
from typing import Any
from zlib import crc32

import pytest
import segno
from hypothesis import given, settings
from hypothesis import strategies as st

from handouts.bundle.catalogue import (
    DIGITS,
    Entry,
    check_marks,
    dose_mark,
    mark,
    name_mark,
    pack_tempo,
    unpack_tempo,
    write_number,
)
from handouts.bundle.code import decode_bundle, drop_unchanged, encode_bundle
from handouts.bundle.fields import FIELDS, LAYOUTS, MovableField
from handouts.bundle.values import Kind, OpenedBundle, PickedBundle, Refusal
from handouts.model import Dose, DoseRange, Pick, Ref, Side, Span, Tempo
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
)
from tests.small_library import small_library, texts_with

VECTORS: list[dict[str, Any]] = json.loads((Path(__file__).parent / "vectors.json").read_text(encoding="utf-8"))
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
    """No kind of refusal is without a vector."""
    assert {vector["answer"].get("kind") for vector in VECTORS} == {None, *(kind.value for kind in Kind)}


def test_check_sum_is_the_published_one() -> None:
    """CRC-32/ISO-HDLC of '123456789' is CBF43926 (catalogue of parametrised CRC algorithms)."""
    assert crc32(b"123456789") == 0xCBF43926
    assert mark("123456789", 7) == write_number(0xCBF43926, 7)


def test_layout_by_hand() -> None:
    """A code put together from the tables of the specification by hand."""
    code = code_of(bundle_of(pick_of("heel-raise", sets=2, reps=12, side=Side.ONE)))
    line = "sets=3;reps=10;hold=;time=;distance=;side=both;tempo=2-1-3-0;rest=60;days=3;times=1;effort=40-60;weight=;band="
    crc = crc32(line.encode()) % 1024
    by_hand = "3" + name_mark("es") + name_mark("market-street") + "8" + "H7K2" + DIGITS[crc // 32] + DIGITS[crc % 32]
    by_hand += "35" + "4" + "2E" + "3"
    assert code == sealed(by_hand)


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
            if field.name == "tempo" and span is not None:
                assert value is None or value in span
                continue
            assert span is None or value is None or span.low <= value <= span.high
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
            assert answer.kind is Kind.DAMAGED
    assert other > 2500


def test_both_sides_agree() -> None:
    """2,000 random bundles and 4,000 whole, damaged and sealed nonsense codes: Python and the script answer alike."""
    random = Random(20261125)
    bundles = [random_bundle(random) for _ in range(2000)]
    codes = [code_of(bundle) for bundle in bundles]
    nonsense = [random_nonsense(random) for _ in range(1000)]
    texts = codes + [damage(code, random) for code in codes[:1000]] + nonsense
    assert by_script(bundles, texts) == by_python(bundles, texts)


def random_nonsense(random: Random) -> str:
    """A sealed code of some version with picks as that version has them."""
    version = random.choice((0, 1, 1, 2, 2, 3))
    return sealed(head(random.randint(0, 8), version) + random_picks(random, LAYOUTS.get(version, LAYOUTS[2])))


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
    """A whole link, a code broken over lines and one in small letters are read; nothing else is forgiven."""
    code = code_of(PLAIN)
    whole = decode_bundle(code, SAMPLE)
    assert isinstance(whole, OpenedBundle)
    for text in (f"https://clinic.example/es/my/#{code}", f"  {code[:20]}\r\n {code[20:]}\t", code.lower()):
        assert decode_bundle(text, SAMPLE) == whole
    for text in (f"{code[:9]}-{code[9:]}", f"{code}.", code.replace("2", "Z", 1), f"{code}\u00a0", f"ı{code}"):
        assert refused(text).kind is Kind.DAMAGED


def test_versions_from_other_times() -> None:
    """A newer and an older version of the format are told apart from damage."""
    assert refused(sealed(head(version=3) + "ABCDEF99")).kind is Kind.NEWER
    assert refused(sealed(head(version=0))).kind is Kind.OLDER
    assert refused(head(version=3) + "2222222").kind is Kind.DAMAGED


def test_changed_library_dose_is_seen() -> None:
    """A code made on another dose of the library: read with the former dose where it is known, else refused as older."""
    code = code_of(bundle_of(pick_of("heel-raise", reps=12)))
    changed = replace(HEEL_RAISE, tempo=Tempo(2, 2, 3))
    assert refused(code, make_sample(changed)) == Refusal(Kind.OLDER, "H7K2", "dose")
    opened = decode_bundle(code, make_sample(changed, [HEEL_RAISE]))
    assert isinstance(opened, OpenedBundle)
    assert opened.former == ("H7K2",)
    assert opened.doses == (replace(HEEL_RAISE, reps=12),)


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
            assert answer == Refusal(Kind.OUT_OF_BOUNDS, code, field, value / unit, low / unit, high / unit)


SLOW = Tempo(4, 2, 4)
SLOW_DIGITS = write_number(((4 * 16 + 2) * 16 + 4) * 8, 3)
"""The number of 4-2-4 by the tables of the specification."""


def test_a_tempo_by_hand() -> None:
    """Only a code with a changed tempo is of version 2; its bits are those of that version's table."""
    code = code_of(bundle_of(pick_of("heel-raise", sets=2, tempo=SLOW)))
    assert code == sealed(head(version=2) + raw_pick("H7K2", 1 + 16, "4" + SLOW_DIGITS))
    opened = decode_bundle(code, SAMPLE)
    assert isinstance(opened, OpenedBundle)
    assert opened.doses == (replace(HEEL_RAISE, sets=2, tempo=SLOW),)
    assert code_of(bundle_of(pick_of("heel-raise", sets=2, tempo=HEEL_RAISE.tempo))).startswith("3")


@pytest.mark.parametrize(("code", "field", "digits"), [("WK33", "time_seconds", "3G2"), ("PC44", "distance_metres", "2NE")])
def test_one_bit_stands_for_time_or_distance(code: str, field: str, digits: str) -> None:
    """In version 2 the bit is of that which the dose counts; both are read back as they were written."""
    value = {"time_seconds": 1500, "distance_metres": 700}[field]
    bundle = bundle_of(pick_of("heel-raise", tempo=SLOW), pick_of(SAMPLE.entries[code].slug, **{field: value}))
    written = code_of(bundle)
    assert written == sealed(head(version=2) + raw_pick("H7K2", 16, SLOW_DIGITS) + raw_pick(code, 8, write_number(value, 3)))
    opened = decode_bundle(written, SAMPLE)
    assert isinstance(opened, OpenedBundle)
    assert getattr(opened.doses[1], field) == value


@pytest.mark.parametrize(("raw", "kind"), [
    (raw_pick("H7K2", 16, write_number(((2 * 16 + 2) * 16 + 2) * 8, 3)), Refusal(Kind.OUT_OF_BOUNDS, "H7K2", "tempo", "2-2-2")),
    (raw_pick("H7K2", 16, "ZZY"), Refusal(Kind.OUT_OF_BOUNDS, "H7K2", "tempo", "15-15-15-6")),
    (raw_pick("CV86", 16, SLOW_DIGITS), Refusal(Kind.OUT_OF_BOUNDS, "CV86", "tempo", "4-2-4")),
    (raw_pick("H7K2", 16, write_number(((2 * 16 + 1) * 16 + 3) * 8, 3)), Refusal(Kind.DAMAGED)),
    (raw_pick("H7K2", 1, "4"), Refusal(Kind.DAMAGED)),
    (raw_pick("H7K2"), Refusal(Kind.DAMAGED)),
    (raw_pick("H7K2", 16, SLOW_DIGITS) + raw_pick("CV86", 8, "3G2"), Refusal(Kind.OUT_OF_BOUNDS, "CV86", "time", 1472)),
], ids=["not offered", "not offered, with a pause", "no tempo", "the library's own", "nothing needs version 2", "nothing changed", "time of repetitions"])
def test_tempos_that_are_refused(raw: str, kind: Refusal) -> None:
    """A tempo that the range does not list, that changes nothing, or a version that nothing needs."""
    assert refused(sealed(head(version=2) + raw)) == kind


def test_a_former_tempo_that_is_no_longer_offered() -> None:
    """An old sheet whose dose has a tempo that the range has dropped is refused, like any number outside its range."""
    former = replace(HEEL_RAISE, tempo=Tempo(2, 0, 2))
    catalogue = make_sample(former=[former])
    code = sealed(head() + raw_pick("H7K2", dose=former))
    assert refused(code, catalogue) == Refusal(Kind.OUT_OF_BOUNDS, "H7K2", "tempo", "2-0-2")


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
        assert refused(sealed(head() + raw_pick(code, bits, values))) == Refusal(Kind.OUT_OF_BOUNDS, code, field, value)


def test_whole_dose_is_held_against_the_range() -> None:
    """A former dose outside today's range is refused even where the code changes nothing."""
    assert refused(sealed(head() + raw_pick("H7K2", dose=replace(HEEL_RAISE, reps=30)))) == Refusal(Kind.OUT_OF_BOUNDS, "H7K2", "reps", 30, 5, 15)


def test_writer_refuses_what_the_reader_would() -> None:
    """The writer names the same faults, and never writes a code that the reader refuses."""
    for bundle, refusal in (
        (bundle_of(pick_of("heel-raise", sets=9)), Refusal(Kind.OUT_OF_BOUNDS, "H7K2", "sets", 9, 1, 4)),
        (bundle_of(pick_of("nowhere")), Refusal(Kind.UNKNOWN, None, "exercise", "nowhere")),
        (bundle_of(pick_of("curl"), pick_of("curl")), Refusal(Kind.REPEATED, "WT66")),
        (bundle_of(), Refusal(Kind.OUT_OF_BOUNDS, None, "picks", 0, 1, 12)),
        (bundle_of(pick_of("curl"), weeks=7), Refusal(Kind.OUT_OF_BOUNDS, None, "weeks", 7, 1, 6)),
        (bundle_of(pick_of("curl"), language="fr"), Refusal(Kind.UNKNOWN, None, "language", "fr")),
        (bundle_of(pick_of("curl"), location="moon"), Refusal(Kind.UNKNOWN, None, "location", "moon")),
        (bundle_of(pick_of("band-row", band=Ref("steel", PLACE))), Refusal(Kind.UNKNOWN, "BN55", "band", "steel")),
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
    assert refused("#" + "2" * 2_000_000).kind is Kind.DAMAGED
    assert refused(" " * 4001 + code_of(PLAIN)).kind is Kind.DAMAGED
    assert isinstance(decode_bundle(" " * 3000 + code_of(PLAIN), SAMPLE), OpenedBundle)


@pytest.mark.parametrize("change", [{"sets": 10, "reps": 100, "rest_seconds": 600, "days": 7}, {"sets": 10, "reps": 100, "tempo": SLOW}])
def test_six_changed_exercises_fit_version_6_at_level_m(change: dict[str, Any]) -> None:
    """Six exercises, each with sets, reps, rest and days or sets, reps and tempo changed, behind a real address: QR version 6, level M."""
    tempos = (Tempo(2, 1, 3), SLOW)
    wide = DoseRange(place=PLACE, sets=Span(1, 10), reps=Span(1, 100), rest_seconds=Span(0, 600), days=Span(1, 7), tempo=tempos)
    codes = ("H7K2", "K7H2", "CV86", "ST22", "WK33", "PC44")
    catalogue = replace(SAMPLE, entries={code: Entry(code, f"e-{code.lower()}", HEEL_RAISE, wide) for code in codes})
    picks = tuple(pick_of(f"e-{code.lower()}", **change) for code in codes)
    code = encode_bundle(PickedBundle("es", "market-street", 6, picks), catalogue)
    assert isinstance(code, str)
    assert len(code) == 99
    drawn = segno.make(["https://quillmoor.example/es/my/#", code], error="m", boost_error=False, micro=False)
    assert drawn.designator == "6-M"




def test_a_code_holds_no_free_text() -> None:
    """No field for a name, a date or a number of a record: a code is the version, marks of declared names, codes and bounded numbers."""
    longest = 1 + 3 + 3 + 1 + 12 * (4 + 2 + 2 + sum(field.digits for field in FIELDS)) + 7
    for seed in range(300):
        code = code_of(random_bundle(Random(seed)))
        assert set(code) <= set(DIGITS) and len(code) <= longest
    assert [field.name for field in fields(PickedBundle)] == ["language", "location", "weeks", "picks"]
    assert {field.name for field in fields(Pick)} == {"place", "places", "exercise", "change"}
    for language, location in (("Maria Lopez", "market-street"), ("es", "1956-03-09")):
        answer = encode_bundle(bundle_of(pick_of("heel-raise"), language=language, location=location), SAMPLE)
        assert isinstance(answer, Refusal) and answer.kind is Kind.UNKNOWN


def test_writer_refuses_an_unknown_band() -> None:
    """A band that the library does not have has no mark."""
    answer = encode_bundle(bundle_of(pick_of("band-row", band=Ref("iron", PLACE))), SAMPLE)
    assert answer == Refusal(Kind.UNKNOWN, "BN55", "band", "iron")


def test_a_number_that_does_not_fit_is_never_cut() -> None:
    """The smallest and the largest number of two digits are written, the next ones raise."""
    assert (write_number(0, 2), write_number(1023, 2)) == ("22", "ZZ")
    for value in (-1, 1024):
        with pytest.raises(ValueError, match=f"{value} does not fit in 2 digits"):
            write_number(value, 2)


def test_writer_holds_the_librarys_own_dose_against_the_range() -> None:
    """An unchanged dose outside its range is refused by the writer as it is by the reader."""
    assert encode_bundle(bundle_of(pick_of("heel-raise")), make_sample(replace(HEEL_RAISE, reps=30))) == Refusal(Kind.OUT_OF_BOUNDS, "H7K2", "reps", 30, 5, 15)


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

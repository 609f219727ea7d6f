"""Bundle code version 7: what is taken in place of things, parts of the session, tests and leaflets, before a code of another version."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from random import Random
from typing import Any
from zlib import crc32

import pytest

from handouts.bundle.addition import Addition, addition_bits
from handouts.bundle.catalogue import DIGITS, name_mark, write_number
from handouts.bundle.code import decode_bundle, encode_bundle
from handouts.bundle.values import CODE_PLACE, OpenedBundle, PickedBundle, Refusal, RefusalKind
from handouts.model import PartKind, Pick, Ref, Side
from tests.bundle.sample import (
    SAMPLE,
    answer_json,
    bundle_of,
    by_python,
    by_script,
    damage,
    each_digit_changed,
    pick_of,
    random_addition,
    random_plan,
)
from tests.bundle.test_stages import plan_of, stage

TOWEL, STOCKING, BENCH = (name_mark(slug) for slug in ("band-towel", "band-stocking", "chair-bench"))


def taking(pick: Pick, *slugs: str) -> Pick:
    """A pick with something in place of things."""
    return replace(pick, substitutes=tuple(Ref(slug, CODE_PLACE) for slug in slugs))


def parted(*picks: tuple[str, PartKind | None]) -> tuple[Pick, ...]:
    """Picks, each in a part of the session."""
    return tuple(replace(pick_of(slug), part=part) for slug, part in picks)


def code_of(bundle: PickedBundle) -> str:
    """The code of a bundle that must be accepted."""
    code = encode_bundle(bundle, SAMPLE)
    assert isinstance(code, str), code
    return code


def wrapped(addition: str, inner: str) -> str:
    """A code of version 7 of these bits, which no writer has to have written, before the code ``inner``."""
    bits = addition + "0" * (-len(addition) % 5)
    body = DIGITS[7] + "".join(DIGITS[int(bits[at : at + 5], 2)] for at in range(0, len(bits), 5)) + inner[:-7]
    return body + write_number(crc32(body.encode()), 7)


ROUNDS = bundle_of(*parted(("calf-stretch", PartKind.WARM_UP), ("heel-raise", PartKind.ROUNDS), ("sit-to-stand", PartKind.ROUNDS), ("hill-walk", None)))
PLAIN = bundle_of(pick_of("band-row"), pick_of("sit-to-stand"))
WHOLE = [
    replace(PLAIN, picks=(taking(PLAIN.picks[0], "band-towel"), PLAIN.picks[1])),
    replace(PLAIN, picks=(taking(PLAIN.picks[0], "chair-bench", "band-stocking"), taking(PLAIN.picks[1], "chair-bench"))),
    replace(ROUNDS, round_rest_seconds=90),
    replace(ROUNDS, round_rest_seconds=601 - 1),
    replace(PLAIN, given=("TS33", "LF22")),
    replace(bundle_of(taking(pick_of("calf-stretch", side=Side.LEFT), "chair-bench")), given=("LF44",)),
    replace(plan_of(stage(3, sets=2), stage(0, reps=12), cue="ABC"), given=("LF22",)),
    replace(bundle_of(pick_of("hop"), *parted(("walk-run", PartKind.COOL_DOWN), ("breathe-out", None)))),
]


@pytest.mark.parametrize("bundle", WHOLE, ids=range(len(WHOLE)))
def test_written_is_read(bundle: PickedBundle) -> None:
    """All of it comes back as it was, on both sides, around each version that carries whole doses."""
    code = code_of(bundle)
    assert code[0] == DIGITS[7]
    opened = decode_bundle(code, SAMPLE)
    assert isinstance(opened, OpenedBundle)
    sorted_by_mark = [[name_mark(ref.slug) for ref in pick.substitutes] for pick in opened.bundle.picks]
    assert [set(marks) for marks in sorted_by_mark] == [{name_mark(ref.slug) for ref in pick.substitutes} for pick in bundle.picks]
    assert [pick.part for pick in opened.bundle.picks] == [pick.part for pick in bundle.picks]
    assert (opened.bundle.round_rest_seconds, opened.bundle.given) == (bundle.round_rest_seconds, bundle.given)
    assert code_of(opened.bundle) == code
    assert by_script([bundle], [code]) == by_python([bundle], [code])


def test_each_version_stands_inside() -> None:
    """The code inside is the one that stands alone where nothing is added, of versions 3 to 6."""
    versions = set()
    for bundle in WHOLE:
        bare = replace(bundle, picks=tuple(replace(pick, substitutes=(), part=None) for pick in bundle.picks), round_rest_seconds=0, given=())
        alone = code_of(bare)
        versions.add(alone[0])
        assert code_of(bundle)[:-7].endswith(alone[:-7])
    assert versions == set(DIGITS[3:7])


def test_an_earlier_version_where_it_is_enough() -> None:
    """The main part alone, and a rest after rounds that nobody does, are no reason for the later version."""
    for bundle in (PLAIN, replace(PLAIN, round_rest_seconds=60)):
        assert code_of(bundle)[0] == DIGITS[3]
        assert by_script([bundle], []) == by_python([bundle], [])


REFUSED: list[tuple[PickedBundle, RefusalKind, str, str | int]] = [
    (bundle_of(taking(pick_of("band-row"), "band-rope")), RefusalKind.UNKNOWN, "substitute", name_mark("band-rope")),
    (bundle_of(taking(pick_of("sit-to-stand"), "band-towel")), RefusalKind.OUT_OF_BOUNDS, "substitute", TOWEL),
    (bundle_of(taking(pick_of("band-row"), "band-towel", "band-stocking")), RefusalKind.OUT_OF_BOUNDS, "substitute", max(TOWEL, STOCKING)),
    (bundle_of(*parted(("walk-run", PartKind.ROUNDS))), RefusalKind.OUT_OF_BOUNDS, "part", "rounds"),
    (bundle_of(replace(pick_of("heel-raise", side=Side.ONE_SIDE_FIRST), part=PartKind.ROUNDS)), RefusalKind.OUT_OF_BOUNDS, "part", "rounds"),
    (bundle_of(*parted(("breathe-out", PartKind.WARM_UP))), RefusalKind.OUT_OF_BOUNDS, "part", "warm-up"),
    (bundle_of(*parted(("move-often", PartKind.COOL_DOWN))), RefusalKind.OUT_OF_BOUNDS, "part", "cool-down"),
    (replace(ROUNDS, round_rest_seconds=601), RefusalKind.OUT_OF_BOUNDS, "rounds", 601),
    (replace(PLAIN, given=("H7K2",)), RefusalKind.UNKNOWN, "given", "H7K2"),
]


@pytest.mark.parametrize(("bundle", "kind", "field", "value"), REFUSED)
def test_refused(bundle: PickedBundle, kind: RefusalKind, field: str, value: str | int) -> None:
    """What does not serve, two for one thing, a part that cannot be, a rest that is too long, what is not handed over: both sides alike."""
    refusal = encode_bundle(bundle, SAMPLE)
    assert isinstance(refusal, Refusal)
    assert (refusal.kind, refusal.field, refusal.value) == (kind, field, value)
    assert by_script([bundle], [])[0] == [answer_json(refusal)]


def test_the_same_twice_is_refused() -> None:
    """A leaflet is handed over once."""
    bundle = replace(PLAIN, given=("LF22", "LF22"))
    assert encode_bundle(bundle, SAMPLE) == Refusal(RefusalKind.REPEATED, "LF22")
    assert by_script([bundle], []) == by_python([bundle], [])


def bits(**values: Any) -> str:
    """The bits of an addition."""
    return addition_bits(Addition(**values))


INNER = code_of(PLAIN)
NOT_WRITTEN = {
    "nothing added": wrapped(bits(), INNER),
    "substitutes in another order": wrapped(bits(substitutes=((1, BENCH), (0, TOWEL))), INNER),
    "a substitute twice": wrapped(bits(substitutes=((0, TOWEL), (0, TOWEL))), INNER),
    "a substitute of no pick": wrapped(bits(substitutes=((2, BENCH),)), INNER),
    "parts of fewer picks": wrapped(bits(parts=(PartKind.ROUNDS,)), INNER),
    "parts of more picks": wrapped(bits(parts=(PartKind.ROUNDS, None, None)), INNER),
    "main parts alone": wrapped("00000" + "1" + "0010" + "0000" + "001" + bits(given=("LF22",))[9:], INNER),
    "a leaflet twice": wrapped(bits(given=("LF22", "LF22")), INNER),
    "a long form of a rest": wrapped("00000" + "1" + "0010" + "1010" + "11" + f"{60:010b}" + "000", INNER),
    "bits behind": wrapped(bits(given=("LF22",)) + "00000", INNER),
    "nothing inside": wrapped(bits(given=("LF22",)), "2222222"),
    "itself inside": wrapped(bits(given=("LF22",)), code_of(replace(PLAIN, given=("LF44",)))),
    "version 1 inside": wrapped(bits(given=("LF22",)), "3DEVGGQ8H7K2XX222222222"),
    "a code inside that is cut": wrapped(bits(given=("LF22",)), INNER[:-9] + "2222222"),
}


@pytest.mark.parametrize("name", NOT_WRITTEN)
def test_what_no_writer_writes_is_damage(name: str) -> None:
    """One bundle has one code: any other form of it is refused whole, on both sides."""
    code = NOT_WRITTEN[name]
    assert decode_bundle(code, SAMPLE) == Refusal(RefusalKind.DAMAGED)
    assert by_script([], [code])[1] == [{"kind": "damaged"}]


@pytest.mark.parametrize(("code", "field"), [
    (wrapped(bits(substitutes=((1, TOWEL),)), INNER), "substitute"),
    (wrapped(bits(parts=(PartKind.ROUNDS, None), rest=1000), INNER), "rounds"),
    (wrapped(bits(given=("LF22", "LF44", "TS33", "LF23", "LF24", "LF25", "LF26")), INNER), "given"),
])  # fmt: skip
def test_read_with_every_bound(code: str, field: str) -> None:
    """A code with a check that fits is held to the same bounds as a writer."""
    refusal = decode_bundle(code, SAMPLE)
    assert isinstance(refusal, Refusal)
    assert (refusal.kind, refusal.field) == (RefusalKind.OUT_OF_BOUNDS, field)
    assert by_script([], [code])[1] == [answer_json(refusal)]


def test_what_the_library_has_no_more() -> None:
    """What is taken in place of a thing is a part of what was given: without it nothing opens.  A leaflet that is gone is left out."""
    bundle = replace(WHOLE[0], given=("LF22", "TS33"))
    code, gone = code_of(bundle), replace(SAMPLE, given={"TS33": "tests/stand"})
    opened = decode_bundle(code, gone)
    assert isinstance(opened, OpenedBundle) and opened.bundle.given == ("TS33",)
    without = replace(SAMPLE, serving={})
    assert decode_bundle(code, without) == Refusal(RefusalKind.UNKNOWN, "BN55", "substitute", TOWEL)
    for catalogue in (gone, without):
        assert by_script([], [code], catalogue) == by_python([], [code], catalogue)


def test_random_bundles_on_both_sides() -> None:
    """300 random bundles with all of it: the same codes, read alike and as written; what was damaged or changed is read alike."""
    random = Random(71)
    bundles = [random_addition(random_plan(random), random) for _ in range(300)]
    codes = [code_of(bundle) for bundle in bundles]
    added = [code for code in codes if code[0] == DIGITS[7]]
    assert len(added) > 200
    texts: Sequence[str] = [*codes, *(damage(code, random) for code in codes), *(text for code in added[:6] for text in each_digit_changed(code))]
    assert by_script(bundles, texts) == by_python(bundles, texts)
    for bundle, code in zip(bundles, codes, strict=True):
        opened = decode_bundle(code, SAMPLE)
        assert isinstance(opened, OpenedBundle)
        assert [(pick.substitutes, pick.part) for pick in opened.bundle.picks] == [(pick.substitutes, pick.part) for pick in bundle.picks]
        assert (opened.bundle.round_rest_seconds, opened.bundle.given) == (bundle.round_rest_seconds, bundle.given)

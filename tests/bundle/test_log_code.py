"""The code of a log: what is written is read, by the page and by a second reader; what is wrong is refused by name."""

from __future__ import annotations

from dataclasses import replace
from random import Random
from typing import Any
from zlib import crc32

import pytest

from handouts.bundle.catalogue import BundleCatalogue, catalogue_json, write_number
from handouts.bundle.code import decode_bundle, encode_bundle
from handouts.bundle.values import OpenedBundle
from tests.bundle.log_code import DIGITS, Log, log_json, random_log, read_code
from tests.bundle.sample import SAMPLE, bundle_of, damage, pick_of, random_bundle
from tests.scripts.node import ask_script

PLAN = str(encode_bundle(bundle_of(pick_of("heel-raise"), pick_of("calf-stretch"), pick_of("hill-walk")), SAMPLE))
SETS = (3, 4, 1)
LOG = Log(False, 24, 3, ((0, 4, 0, (6, 8, 2)), (2, None, 3, (3, 0, 2)), (20, 5, None, (6, 8, 0))))


def by_page(logs: list[tuple[str, Log]], texts: list[str], catalogue: BundleCatalogue = SAMPLE) -> Any:
    """What the browser's side makes of logs and of texts."""
    return ask_script("logs", {"catalogue": catalogue_json(catalogue), "logs": [{"plan": plan, "log": log_json(log)} for plan, log in logs], "texts": texts})


def random_pair(random: Random) -> tuple[str, tuple[int, ...], Log]:
    """A plan, the sets of its exercises, and a log of it."""
    plan = str(encode_bundle(random_bundle(random), SAMPLE))
    opened = decode_bundle(plan, SAMPLE)
    assert isinstance(opened, OpenedBundle)
    sets = tuple(dose.sets for dose in opened.doses)
    return plan, sets, random_log(random, sets)


def count_wrong(count: int, random: Random) -> int:
    """How many of some random logs are not read as they were written, by the page or by the second reader; damaged ones that pass count too."""
    made = [random_pair(random) for _ in range(count)]
    got = by_page([(plan, log) for plan, _, log in made], [])
    wrong = 0
    for (plan, sets, log), code, read in zip(made, got["written"], got["read"], strict=True):
        wrong += read != {"plan": plan, **log_json(log)} or read_code(code, sets) != (plan, log)
    hurt = [damage(code, random) for code in got["written"]]
    others = by_page([], hurt)["others"]
    return wrong + sum("kind" not in read and read != whole for read, whole in zip(others, got["read"], strict=True))


def sealed(body: str) -> str:
    """A body with the check that fits it."""
    return body + write_number(crc32(body.encode()), 7)


def test_a_code_by_hand() -> None:
    """A code put together from the tables of the specification by hand."""
    bits = f"{len(PLAN):09b}" + "".join(f"{DIGITS.index(digit):05b}" for digit in PLAN) + "0" + f"{24:010b}" + f"{3:07b}" + f"{3:010b}"
    bits += "000" + "10100" + "10000" + "1" + "1" + "1"
    bits += "010" + "0" + "10011" + "0100011" + "00" + "1"
    bits += "1" + f"{18:010b}" + "10101" + "0" + "1" + "1" + "00"
    bits += "0" * (-len(bits) % 5)
    code = sealed("Z3" + "".join(DIGITS[int(bits[at : at + 5], 2)] for at in range(0, len(bits), 5)))
    got = by_page([(PLAN, LOG)], [code.lower(), " ".join(code), f"https://clinic.example/#{code}"])
    assert got["written"] == [code]
    assert got["others"] == got["read"] * 3
    assert read_code(code, SETS) == (PLAN, LOG)


def test_what_is_written_is_read() -> None:
    """300 random logs of random plans: the page and the second reader read what was written, and no damaged code as another log."""
    assert count_wrong(300, Random(7)) == 0


FAULTS = {
    "an effort above the scale": replace(LOG, sessions=((0, 11, 0, (6, 8, 2)),), all=1),
    "a session after today": replace(LOG, today=3),
    "more sessions than there are": replace(LOG, all=2),
    "fewer sessions than there are": replace(LOG, all=9),
    "a session in which nothing was done": replace(LOG, sessions=((0, 1, 1, (0, 0, 0)),), all=1),
}


@pytest.mark.parametrize("fault", FAULTS)
def test_what_cannot_be_is_damage(fault: str) -> None:
    """A code whose check fits and that says what cannot be."""
    assert by_page([(PLAN, FAULTS[fault])], [])["read"] == [{"kind": "damaged"}]


def test_texts_that_are_no_log() -> None:
    """Bundle codes, names, nonsense, long texts, other versions, a plan of another site or that is gone: each refused by name, none throws."""
    code = by_page([(PLAN, LOG)], [])["written"][0]
    elsewhere = str(encode_bundle(bundle_of(pick_of("heel-raise")), replace(SAMPLE, site="ABC")))
    away = by_page([(elsewhere, replace(LOG, all=0, sessions=()))], [], replace(SAMPLE, site="ABC"))["written"][0]
    texts = {
        "": "damaged", "Z": "damaged", "Z3": "damaged", PLAN: "damaged", "Maria Smith, born 1960": "damaged", "<script>alert(1)</script>": "damaged", code[:-1]: "damaged", f"{code}2": "damaged",
        "Z" * 5000: "damaged", sealed("Z3"): "damaged", sealed("Z3" + "Z" * 300): "damaged", sealed("Z6ABCDEF"): "newer", sealed("Z2ABCDEF"): "damaged", away: "elsewhere", "%00": "damaged", "constructor": "damaged",
    }  # fmt: skip
    got = by_page([], list(texts))
    assert {text: found["kind"] for text, found in zip(texts, got["others"], strict=True)} == texts
    assert [text for text, is_log in zip(texts, got["asked"], strict=True) if is_log] == [text for text in texts if text.startswith("Z") and len(text) > 7 and len(text) < 4001]
    old = by_page([], [code], replace(SAMPLE, entries={key: entry for key, entry in SAMPLE.entries.items() if key != "WK33"}))
    assert old["others"][0]["kind"] == "unknown"


def test_sealed_nonsense_is_refused_or_sound() -> None:
    """2,000 codes whose check fits, with a whole plan and anything behind it: refused, or nothing in them that cannot be."""
    random = Random(3)
    head = f"{len(PLAN):09b}" + "".join(f"{DIGITS.index(digit):05b}" for digit in PLAN)
    texts = []
    for _ in range(2000):
        bits = head + "".join(random.choice("0001") for _ in range(random.randint(0, 120)))
        bits += "0" * (-len(bits) % 5)
        texts.append(sealed("Z3" + "".join(DIGITS[int(bits[at : at + 5], 2)] for at in range(0, len(bits), 5))))
    for found in by_page([], texts)["others"]:
        if "kind" not in found:
            assert all(session["day"] <= found["today"] and any(session["sets"]) for session in found["sessions"])
        else:
            assert found["kind"] == "damaged"


def test_length() -> None:
    """Four exercises and twelve sessions; six exercises and a hundred: as the specification reckons."""
    four = str(encode_bundle(bundle_of(pick_of("heel-raise"), pick_of("sit-to-stand"), pick_of("calf-stretch"), pick_of("curl")), SAMPLE))
    twelve = Log(False, 27, 12, tuple((2 * at, 4, 1, (6, 6, 8, 4)) for at in range(12)))
    code = by_page([(four, twelve)], [])["written"][0]
    assert len(code) == len(four) + 2 + 7 + -(-(9 + 1 + 10 + 7 + 10 + 12 * (3 + 10 + 4)) // 5)


def test_pain_on_the_day_after() -> None:
    """Version 3, only where it was answered: 0 or 1 and 4 bits behind the pain of each session; the page reads its own, and an answer above 10 is damage."""
    plain = log_json(LOG)
    answered = {**plain, "sessions": [{**session, **({} if after is None else {"after": after})} for session, after in zip(plain["sessions"], (0, None, 10), strict=True)]}
    got = ask_script("logs", {"catalogue": catalogue_json(SAMPLE), "logs": [{"plan": PLAN, "log": answered}, {"plan": PLAN, "log": plain}], "texts": []})
    assert [code[:2] for code in got["written"]] == ["Z5", "Z3"]
    assert got["read"] == [{"plan": PLAN, **answered}, {"plan": PLAN, **plain}]
    bits, other = ("".join(f"{DIGITS.index(digit):05b}" for digit in code[2:-7]) for code in got["written"])
    begin = 9 + 5 * len(PLAN) + 1 + 10 + 7 + 10
    # the first session: day 0, effort 4, pain 0; then 0 on the day after
    assert (bits[begin : begin + 13], other[begin : begin + 13]) == ("000" + "10100" + "10000", "000" + "10100" + "10000")
    assert (bits[begin + 13 : begin + 18], bits[begin + 18 : begin + 21]) == ("10000", other[begin + 13 : begin + 16])
    wrong = bits[: begin + 13] + "11011" + bits[begin + 18 :]
    body = "Z5" + "".join(DIGITS[int(wrong[at : at + 5], 2)] for at in range(0, len(wrong), 5))
    assert by_page([], [sealed(body)])["others"] == [{"kind": "damaged"}]

"""The page's own logic, run by node: refusals and tick tables as this side has them, sentences with fields, drafts."""

from __future__ import annotations

import json
from pathlib import Path
from random import Random
from typing import Any

import pytest

from handouts.bundle.code import decode_bundle
from handouts.bundle.page_data import BookInputs, make_book
from handouts.bundle.refusals import say_refusal
from handouts.bundle.values import Refusal
from handouts.bundle.whole_dose import whole_dose
from handouts.paper.ticks import BOXES_IN_LIST, tick_exercises
from handouts.words.shipped import load_interface
from handouts.words.wording import Wording
from tests.bundle.sample import SAMPLE, answer_json, bundle_json, random_plan
from tests.bundle.test_twins import CATALOGUE, HANDED, PROGRESSION, TWINS
from tests.scripts.node import ask_script

EN = Wording("en")
VECTORS: list[dict[str, Any]] = json.loads((Path(__file__).parent / "vectors.json").read_text(encoding="utf-8"))
BOOK = make_book(TWINS, CATALOGUE, PROGRESSION, EN, BookInputs({}, {}, {}, handed=HANDED))


def test_refusals_are_said_alike() -> None:
    """Every refusal of the shared vectors is said in the same words on both sides."""
    refusals = [answer for vector in VECTORS if isinstance(answer := decode_bundle(vector["code"], SAMPLE), Refusal)]
    got = ask_script("refusals", {"book": BOOK, "wanted": [answer_json(refusal) for refusal in refusals]})
    assert got == [say_refusal(refusal, TWINS, EN) for refusal in refusals]
    assert len(set(got)) >= 12


def test_tick_tables_are_alike() -> None:
    """Tables to tick of 100 random bundles are those of the PDF."""
    random = Random(2)
    bundles = [random_plan(random, CATALOGUE) for _ in range(100)]
    given = {"book": BOOK, "bundles": [bundle_json(bundle, CATALOGUE) for bundle in bundles], "boxes": BOXES_IN_LIST["standard"]}
    for bundle, got in zip(bundles, ask_script("ticks", given), strict=True):
        names = [(TWINS.exercise[pick.exercise.slug].title.text, whole_dose(pick, TWINS)) for pick in bundle.picks]
        tables = tick_exercises(names, bundle.weeks, EN, stages=[pick.stages for pick in bundle.picks])
        assert [(table["heading"], table["heads"], [(row["name"], [[row["box"]] * count for count in row["boxes"]]) for row in table["rows"]]) for table in got] == [
            (table.heading, list(table.heads), [(row.name, [list(cell.boxes) for cell in row.cells]) for row in table.rows]) for table in tables
        ]


SENTENCES = {
    "H7K2": "[sets 3] sets of [reps 10], [side both], [tempo 4248], [days 3] days a week, [times 1] times a day, [effort 4-6], rest [rest 60] seconds between sets",
    "ST22": "[sets 4] holds of [hold 30] seconds, [side one], [days 7] days a week, 2 times a day",
    "WK33": "1 set of [time 20] minutes, 3 days a week",
    "PC44": "2 sets of [distance 10] meters, 3 days a week",
    "BN55": "2 sets of [reps 12], [side alternating], hold [hold 5] seconds each time, band: [band light], 2 days a week",
    "WT66": "2 sets of 12, with [weight 1] kg, 2 days a week, rest [rest 90] seconds between sets",
    "RN22": "[sets 8] times: run [time 1] minute, walk [rest 120] seconds, [days 3] days a week, first 5 minutes to warm up, pace: easy, as you can, 5 minutes to cool down at the end, with 1 day without it in between",
    "HP33": "[sets 3] sets of [reps 10] to 12 landings, [side both], 2 days a week, 70 a minute, with 2 days without it in between, rest 1 minute between sets",
    "BR44": "1 set of 5 breaths in and out, breathless, as you can",
    "MV55": "1 set of [reps 10], [side each-or-both], 7 days a week, every 30 minutes while you are awake",
    "EZ66": "1 set of [distance 3000] meters, 2 days a week, running, pace: brisk, as you can",
    "FX77": "1 set of 10",
}

@pytest.mark.parametrize("code", SENTENCES)
def test_sentences_with_fields(code: str) -> None:
    """Each kind of dose as a sentence: fields where the range lets a number move, plain words elsewhere."""
    assert ask_script("sentence", {"book": BOOK, "code": code}) == SENTENCES[code]


def test_a_field_never_gets_lost_in_a_plural() -> None:
    """Where a form says its number in words, the field stands in the form that shows it."""
    forms = {"dose.sets": {"one": "a single set", "other": "{n} sets"}}
    assert ask_script("sentence", {"book": BOOK, "code": "H7K2", "change": {"sets": 1}, "forms": forms}).startswith("[sets 1] sets of")


def test_two_in_a_language_that_has_a_word_for_it() -> None:
    """In Arabic 'two sets' is one word: the field with the number stands behind it, in place of a form for other numbers."""
    arabic = Wording("ar")
    words = {"language": "ar", "forms": {name: dict(load_interface("ar").forms[name]) for name in BOOK["words"]["forms"]}, "names": {}}
    for sets, said in ((1, "[sets 1] مجموعة"), (2, "مجموعتان [sets 2]"), (3, "[sets 3] مجموعات")):
        sentence = ask_script("sentence", {"book": BOOK | {"words": words}, "code": "H7K2", "change": {"sets": sets}})
        assert sentence.startswith(said), sentence
    assert arabic.count("dose.sets", 2) == "مجموعتان"

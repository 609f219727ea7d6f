"""The page's own logic, run by node: refusals and tick tables as this side has them, sentences with fields, drafts."""

from __future__ import annotations

import json
from pathlib import Path
from random import Random
from typing import Any

import pytest

from handouts.bundle.book import Surroundings, make_book
from handouts.bundle.code import decode_bundle
from handouts.bundle.next_visit import whole_dose
from handouts.bundle.refusals import say_refusal
from handouts.bundle.values import Refusal
from handouts.paper.ticks import BOXES_IN_LIST, tick_exercises
from handouts.words.speech import Speech
from tests.bundle.sample import SAMPLE, SCRIPTS, answer_json, bundle_json, in_node, random_bundle
from tests.bundle.test_twins import CATALOGUE, PROGRESSION, TWINS

EN = Speech("en")
VECTORS: list[dict[str, Any]] = json.loads((Path(__file__).parent / "vectors.json").read_text(encoding="utf-8"))
BOOK = make_book(TWINS, CATALOGUE, PROGRESSION, EN, Surroundings({}, {}, {}))
BASE = SCRIPTS.as_uri()


def run(program: str, given: object) -> Any:
    """A program with the book and a speech at hand."""
    start = f'import {{Speech}} from "{BASE}/speech.js"; const book = given.book; const speech = new Speech(book.words); const wanted = given.wanted;\n'
    return in_node(start + program, {"book": BOOK, "wanted": given})


def test_refusals_are_said_alike() -> None:
    """Every refusal of the shared vectors is said in the same words on both sides."""
    refusals = [answer for vector in VECTORS if isinstance(answer := decode_bundle(vector["code"], SAMPLE), Refusal)]
    program = f'import {{sayRefusal}} from "{BASE}/refusals.js"; console.log(JSON.stringify(wanted.map(one => sayRefusal(one, book, speech))));'
    got = run(program, [answer_json(refusal) for refusal in refusals])
    assert got == [say_refusal(refusal, TWINS, EN) for refusal in refusals]
    assert len(set(got)) >= 12


def test_tick_tables_are_alike() -> None:
    """Tables to tick of 100 random bundles are those of the PDF."""
    random = Random(2)
    bundles = [random_bundle(random, CATALOGUE) for _ in range(100)]
    program = f'''import {{tickTables}} from "{BASE}/ticks.js"; import {{wholeDose}} from "{BASE}/book.js";
    console.log(JSON.stringify(wanted.map(bundle => tickTables(bundle.picks.map(pick => ({{name: book.exercises[pick.code].title, days: wholeDose(pick, book).days}})), bundle.weeks, {BOXES_IN_LIST['standard']}, speech))));'''
    for bundle, got in zip(bundles, run(program, [bundle_json(bundle, CATALOGUE) for bundle in bundles]), strict=True):
        names = [(TWINS.exercise[pick.exercise.slug].title.text, whole_dose(pick, TWINS)) for pick in bundle.picks]
        tables = tick_exercises(names, bundle.weeks, EN)
        assert [(table["heads"], [(row["name"], row["boxes"]) for row in table["rows"]]) for table in got] == [
            (list(table.heads), [(row.name, len(row.cells[0].boxes)) for row in table.rows]) for table in tables
        ]


SENTENCES = {
    "H7K2": "[sets 3] sets of [reps 10], [side both], [tempo 4248], [days 3] days a week, [times 1] times a day, [effort 4-6], rest [rest 60] seconds between sets",
    "ST22": "[sets 4] holds of [hold 30] seconds, [side one], [days 7] days a week, 2 times a day",
    "WK33": "1 set of [time 20] minutes, 3 days a week",
    "PC44": "2 sets of [distance 10] meters, 3 days a week",
    "BN55": "2 sets of [reps 12], [side alternating], hold [hold 5] seconds each time, band: [band light], 2 days a week",
    "WT66": "2 sets of 12, with [weight 1] kg, 2 days a week, rest [rest 90] seconds between sets",
    "FX77": "1 set of 10",
}
_SAY = "sentence => sentence.map(piece => typeof piece === 'string' ? piece : `[${piece.field} ${piece.value}]`).join('')"


@pytest.mark.parametrize("code", SENTENCES)
def test_sentences_with_fields(code: str) -> None:
    """Each kind of dose as a sentence: fields where the range lets a number move, plain words elsewhere."""
    program = f'''import {{doseSentence}} from "{BASE}/sentence.js"; const entry = book.exercises[wanted];
    console.log(JSON.stringify(({_SAY})(doseSentence(entry.dose, entry, book.terms.bands, speech))));'''
    assert run(program, code) == SENTENCES[code]


def test_a_field_never_gets_lost_in_a_plural() -> None:
    """Where a form says its number in words, the field stands in the form that shows it."""
    program = f'''import {{doseSentence}} from "{BASE}/sentence.js"; const entry = book.exercises[wanted];
    speech.forms["dose.sets"] = {{one: "a single set", other: "{{n}} sets"}};
    console.log(JSON.stringify(({_SAY})(doseSentence({{...entry.dose, sets: 1}}, entry, book.terms.bands, speech))));'''
    assert run(program, "H7K2").startswith("[sets 1] sets of")


def test_drafts() -> None:
    """Adding, shifting, setting, replacing, ordering and starting give new drafts, and refuse what does not fit."""
    program = f'''import * as draft from "{BASE}/draft.js";
    const codes = one => one.bundle.picks.map(pick => pick.code);
    const empty = draft.emptyDraft(book, "nowhere");
    const two = draft.addPick(draft.addPick(empty, "H7K2", book), "CV86", book);
    const set = draft.setField(two, "H7K2", "sets", 2, book);
    const back = draft.setField(set, "H7K2", "sets", 3, book);
    const full = Array.from({{length: 12}}, (_, at) => ({{code: String(at), change: {{}}}}));
    console.log(JSON.stringify({{
      start: [empty.bundle, codes(empty)],
      twice: draft.addPick(two, "H7K2", book) === two,
      unknown: draft.addPick(two, "constructor", book) === two,
      full: draft.addPick(draft.withPicks(two, full), "H7K2", book).bundle.picks.length,
      set: set.bundle.picks[0], back: back.bundle.picks[0], untouched: two.bundle.picks[0],
      outside: draft.setField(two, "H7K2", "sets", 9, book), half: draft.setField(two, "H7K2", "sets", 2.5, book),
      fixed: draft.setField(two, "H7K2", "weight", 2, book), text: draft.setField(two, "H7K2", "sets", "2", book),
      up: codes(draft.shiftPick(two, "CV86", -1)), top: draft.shiftPick(two, "H7K2", -1) === two,
      replaced: draft.replacePick(set, "H7K2", "WT66").bundle.picks[0],
      ordered: codes(draft.orderPicks(draft.withPicks(two, ["H7K2", "WK33", "CV86"].map(code => ({{code, change: {{}}}}))), book)),
      weeks: [0, 3, 9].map(weeks => draft.startFrom(two, {{title: "", group: "tier", weeks, picks: []}}).bundle.weeks),
    }}));'''
    got = run(program, None)
    location = next(iter(SAMPLE.locations.values()))
    assert got["start"] == [{"language": "en", "location": location, "weeks": 4, "picks": []}, []]
    assert (got["twice"], got["unknown"], got["full"], got["top"]) == (True, True, 12, True)
    assert (got["set"], got["back"], got["untouched"]) == ({"code": "H7K2", "change": {"sets": 2}}, {"code": "H7K2", "change": {}}, {"code": "H7K2", "change": {}})
    refusal = {"kind": "out-of-bounds", "exercise": "H7K2", "field": "sets", "low": 1, "high": 4}
    assert [got["outside"], got["half"], got["text"]] == [{**refusal, "value": 9}, {**refusal, "value": 2.5}, {**refusal, "value": "2"}]
    assert got["fixed"] == {"kind": "out-of-bounds", "exercise": "H7K2", "field": "weight", "value": 2}
    assert (got["up"], got["replaced"], got["weeks"]) == (["CV86", "H7K2"], {"code": "WT66", "change": {}}, [4, 3, 4])
    assert sorted(got["ordered"]) == ["CV86", "H7K2", "WK33"]
    assert got["ordered"].index("CV86") < got["ordered"].index("H7K2")

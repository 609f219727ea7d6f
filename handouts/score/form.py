"""The questions that wait for a person as a form: a CSV file to fill in a spreadsheet, and the answers read back.

Each row names the version of the text that was read, so that an answer to an older one does not count.  Bytes in, bytes out.
"""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from handouts.problems import Place, Problem
from handouts.score.answers import PersonAnswer
from handouts.score.items import ITEMS, Answer
from handouts.source.nodes import read_text

COLUMNS = ("language", "code", "title", "item", "question", "what the program sees", "version", "answer")
WORDS = {"yes": Answer.YES, "no": Answer.NO, "n/a": Answer.NOT_APPLICABLE}
MOST_ROWS = 100_000


@dataclass(frozen=True, slots=True)
class FormItem:
    """One item of one exercise in one language that waits for a person."""

    language: str
    code: str
    title: str
    item: str
    evidence: str
    version: str


def write_form(questions: Iterable[FormItem]) -> bytes:
    """The form, its last column empty; with a mark of byte order, so that spreadsheets read accents as they are."""
    out = io.StringIO()
    rows = csv.writer(out)
    rows.writerow(COLUMNS)
    for each in questions:
        asks = ITEMS[each.item].asks
        rows.writerow((each.language, each.code, each.title, each.item, asks, each.evidence, each.version, ""))
    return out.getvalue().encode("utf-8-sig")


def read_form(data: bytes, file: str, by: str, on: date) -> tuple[tuple[PersonAnswer, ...], list[Problem]]:
    """Every row that was answered; a row with an answer that is none, or a file that is no such form, is a problem."""
    text, problems = read_text(data, file)
    if problems:
        return (), problems
    delimiter = ";" if text.split("\n", 1)[0].count(";") > text.split("\n", 1)[0].count(",") else ","
    try:
        rows = list(csv.DictReader(io.StringIO(text, newline=""), delimiter=delimiter, strict=True))
    except csv.Error:
        rows = []
    if not rows or len(rows) > MOST_ROWS or not set(COLUMNS) <= set(rows[0]):
        mend = "Write it with 'handouts score --form FILE.csv', and leave its first row as it is."
        return (), [Problem(Place(file), "score-form", "this is not a form of questions", mend)]
    found = []
    for number, row in enumerate(rows, 2):
        word = (row["answer"] or "").strip().casefold()
        if not word:
            continue
        if word not in WORDS or row["item"] not in ITEMS:
            what = f"'{row['answer']}' is no answer to '{row['item']}'"
            problems.append(Problem(Place(file, number), "score-form", what, "Answer yes, no or n/a, or leave it empty."))
            continue
        found.append(
            PersonAnswer(
                place=Place(file, number), item=row["item"], code=row["code"], language=row["language"],
                answer=WORDS[word], by=by, on=on, version=row["version"],
            )
        )  # fmt: skip
    return tuple(found), problems

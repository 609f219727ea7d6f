"""A spreadsheet, one row an exercise, as exercise files: what is there is kept, what is missing is named once for all rows.

Nothing is made up but a code: a dose, a caution or a source that the row does not have stays away unless a person
answers for it, and ``handouts check`` asks for it.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Container, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from hashlib import sha256

from handouts.importers.answers import Answers
from handouts.importers.columns import JOINED, REVIEW, find_header, map_columns
from handouts.importers.known import Known
from handouts.importers.rows import LEFT_OUT, OF_DOSE, Row, fill_gaps, lacks, resolve_row
from handouts.importers.safety_words import CAUTION, hold_back, say_waiting
from handouts.importers.sheet import MOST_ROWS, Sheet
from handouts.importers.terms import COLUMNS
from handouts.importers.write import add_remarks, say_dose, update_exercise, write_exercise
from handouts.ledger.stamp import ALPHABET
from handouts.library.declare import EXERCISE
from handouts.library.read import read_exercise
from handouts.problems import Grade, Place, Problem

MOST_NAMED = 6
"""How many rows or words a problem names one by one."""


@dataclass(frozen=True, slots=True)
class ImportedFiles:
    """The files made of a table or a document, by their path in the library, and what is wrong or missing."""

    files: Mapping[str, bytes]
    problems: tuple[Problem, ...]
    codes: frozenset[str] = frozenset()
    """The codes that were given out."""
    changed: Mapping[str, bytes] = field(default_factory=dict)
    """Files that were there already, brought up to date."""


def take_in_table(sheet: Sheet, file: str, known: Known | None = None, answers: Answers | None = None, update: bool = False) -> ImportedFiles:
    """Every row as an exercise file; one whose exercise is there already is refused, or with ``update`` changes it."""
    known, answers = known or Known(), answers or Answers()
    problems = list(sheet.problems)
    rows = sum(any(cell.strip() for cell in row) for row in sheet.rows)
    if any(each.grade is Grade.ERROR for each in problems):
        return ImportedFiles({}, tuple(problems))
    if rows < 2 or len(sheet.rows) > MOST_ROWS:
        count = "more" if len(sheet.rows) > MOST_ROWS else rows
        what = f"a table of a row of names and 1 to {MOST_ROWS - 1} exercises is wanted, this one has {count} rows"
        return ImportedFiles({}, (Problem(Place(file), "table-rows", what, "Save the sheet as CSV with its first row."),))
    head = find_header(sheet.rows)
    columns, found = map_columns(sheet.rows[head], head + 1, file, answers)
    problems += found
    if "title" not in columns.values():
        return ImportedFiles({}, tuple(problems))
    taking = _RowsTaken(file, known, answers, update)
    read: list[Row] = []
    for number, each in enumerate(sheet.rows[head + 1 :], head + 2):
        cells = _cells(each, columns)
        if cells:
            kept, waiting = hold_back(cells)
            read.append(resolve_row(Row(kept, Place(file, number), tuple(waiting)), known, answers))
    is_there = [taking.path_of(row) in known.files for row in read]
    fresh = iter(fill_gaps([row for row, there in zip(read, is_there, strict=True) if not there], file, known, answers))
    for row, there in zip(read, is_there, strict=True):
        taking.take(row if there else next(fresh))
    return taking.result(problems)


def _cells(row: Sequence[str], columns: Mapping[int, str]) -> dict[str, str]:
    cells: dict[str, str] = {}
    for at, name in columns.items():
        text = row[at].strip() if at < len(row) else ""
        if text:
            cells[name] = f"{cells[name]}{JOINED[name]}{text}" if name in cells else text
    return cells


@dataclass
class _RowsTaken:
    """The files of a table while its rows are taken."""

    file: str
    known: Known
    answers: Answers
    update: bool
    files: dict[str, bytes] = field(default_factory=dict)
    changed: dict[str, bytes] = field(default_factory=dict)
    codes: set[str] = field(default_factory=set)
    problems: list[Problem] = field(default_factory=list)
    rows: list[Row] = field(default_factory=list)

    def path_of(self, row: Row) -> str:
        """The file that an update of a row changes, else the one that is made."""
        by_code = self.known.by_code.get(row.cells.get("code", "")) if self.update else None
        return by_code or f"exercises/{slug_of(row.title)}.md"

    def take(self, row: Row) -> None:
        """Add the file of a row, or change it, or say why not."""
        path, slug = self.path_of(row), slug_of(row.title)
        if self.update and path in self.known.files and path not in self.changed:
            self._change(row, path)
        elif not slug:
            self._refuse(row, "table-title", "the row has no title to name a file by", "Write a title with letters a to z.")
        elif path in self.files or path in self.changed or slug in self.known.slugs:
            mend = "Give the row a title of its own."
            if slug in self.known.slugs and not self.update:
                mend = "Add --update to change it, or give the row a title of its own."
            self._refuse(row, "table-repeated", f"there is an exercise '{slug}' already, so this row is left out", mend)
        else:
            self._add(row, path, slug)

    def _refuse(self, row: Row, rule: str, what: str, mend: str) -> None:
        self.problems.append(Problem(row.place, rule, what, mend))

    def _add(self, row: Row, path: str, slug: str) -> None:
        code = row.cells.get("code") or new_code(slug, self.known.codes, self.codes, self.known.first)
        if code in self.known.codes or code in self.codes:
            self._refuse(row, "repeated-code", f"the code '{code}' is taken, so this row is left out", "Leave its cell empty.")
            return
        self.codes.add(code)
        remarks = [*say_dose(row.said, self.file), *say_waiting(list(row.waiting))]
        self.files[path] = add_remarks(write_exercise({**row.cells, "code": code}), remarks).encode()
        self.rows.append(row)

    def _change(self, row: Row, path: str) -> None:
        text, keys = update_exercise(self.known.files[path].decode("utf-8", "replace"), row.cells)
        self.problems += say_held_back(row.title, [each for each in row.waiting if each.startswith(CAUTION)], row.place)
        if keys:
            self.changed[path] = text.encode()
            mend = "Look at it with 'handouts check', and give it a new review."
            self.problems.append(Problem(row.place, "table-updated", f"'{row.title}' changes: {', '.join(keys)}", mend, Grade.NOTICE))

    def result(self, problems: list[Problem]) -> ImportedFiles:
        """All of it, what is missing said once."""
        found = [*problems, *self.problems, *_missing(self.rows, self.file), *_unknown_terms(self.rows, self.known)]
        for path, data in (self.files | self.changed).items():
            slug = path.removeprefix("exercises/").removesuffix(".md")
            found += [each for each in read_exercise(data, path, slug)[1] if each.rule != "missing-key" and not _is_no_name(each)]
        return ImportedFiles(self.files, (*found, *_say_all_held_back(self.rows)), frozenset(self.codes), self.changed)


def _is_no_name(problem: Problem) -> bool:
    """Whether a word stands where a name is wanted: said once for all rows."""
    return problem.rule == "wrong-value" and " is not a name such as " in problem.what


def _say_all_held_back(rows: Sequence[Row]) -> Iterator[Problem]:
    """Sentences that wait for a person, once for all rows."""
    waiting: dict[str, list[int]] = {}
    for row in rows:
        for each in row.waiting:
            if not each.startswith(LEFT_OUT):
                waiting.setdefault(each.partition(": ")[2], []).append(row.place.line)
    if waiting:
        shown = ", ".join(f"'{sentence}' (row {_spans(lines)})" for sentence, lines in list(waiting.items())[:MOST_NAMED])
        more = f" and {len(waiting) - MOST_NAMED} more" if len(waiting) > MOST_NAMED else ""
        first = min(line for lines in waiting.values() for line in lines)
        yield Problem(Place(rows[0].place.file, first), "import-safety", f"{_READ_LIKE}: {shown}{more}", _READ_THEM)


_READ_LIKE = "sentences read like a stop rule, a caution or a dose, so no step was made of them"
_READ_THEM = "Read them in the remarks of the draft: name cautions in 'cautions:', write numbers into 'dose:'."


def say_held_back(title: str, waiting: Sequence[str], place: Place) -> Iterator[Problem]:
    """That sentences among the steps wait for a person."""
    if waiting:
        count = f"{len(waiting)} sentence{'' if len(waiting) == 1 else 's'}"
        what = f"{count} among the steps of '{title}' read like a stop rule, a caution or a dose, so no step was made of them"
        yield Problem(place, "import-safety", what, _READ_THEM)


def slug_of(title: str) -> str:
    """The file name for a title: small letters, digits, hyphens; empty where it has no such letter."""
    plain = unicodedata.normalize("NFKD", title).encode("ascii", "ignore").decode().casefold()
    return re.sub(r"[^a-z0-9]+", "-", plain).strip("-")[:64].strip("-")


def new_code(slug: str, used: Container[str], codes: Container[str], first: Container[str] = ALPHABET) -> str:
    """A code that nothing has, always the same for the same name in the same library; ``first`` are the signs that it may begin with."""
    for attempt in range(10_000):
        number = int.from_bytes(sha256(f"{slug}/{attempt}".encode()).digest(), "big")
        code = "".join(ALPHABET[number // len(ALPHABET) ** place % len(ALPHABET)] for place in range(4))
        if code[0] in first and code not in used and code not in codes and any(letter.isalpha() for letter in code):
            return code
    raise ValueError("no code is free")


def _missing(rows: Sequence[Row], file: str) -> Iterator[Problem]:
    """What exercises need and rows do not have: one problem a key."""
    needs = [key for key, item in EXERCISE.fields.items() if item.required and key not in ("code", "title", "dose", "review", "equipment")]
    for key in (*needs, "steps", *REVIEW, *OF_DOSE):
        yield from _lack(rows, file, key, [row for row in rows if lacks(key, row.cells)])
    numbers = ("reps", "hold", "time", "distance")
    yield from _lack(rows, file, "reps, hold, time or distance", [row for row in rows if not any(name in row.cells for name in numbers)])


def _lack(rows: Sequence[Row], file: str, key: str, lacking: Sequence[Row]) -> Iterator[Problem]:
    if not lacking:
        return
    numbers = [row.place.line for row in lacking]
    where = "any row" if len(lacking) == len(rows) > 1 else f"{len(lacking)} of {len(rows)} rows ({_spans(numbers)})"
    extra = " (what to do instead is not said after '->')" if key == "mistakes" and any("unpaired mistakes" in row.cells for row in lacking) else ""
    mend = "Add a column and import again, answer import's questions, or write it into the files."
    what = f"no '{key}' in {where}{extra}" if where != "any row" else f"no '{key}' in any of {len(rows)} rows{extra}"
    yield Problem(Place(file, numbers[0]), "table-missing", what, mend)


def _spans(numbers: Sequence[int]) -> str:
    """``2, 4-9``."""
    spans: list[list[int]] = []
    for number in numbers:
        if spans and spans[-1][1] == number - 1:
            spans[-1][1] = number
        else:
            spans.append([number, number])
    return ", ".join(str(low) if low == high else f"{low}-{high}" for low, high in spans)


def _unknown_terms(rows: Sequence[Row], known: Known) -> Iterator[Problem]:
    """Words that no list of the library has: once each list, with the lines that would declare them."""
    for column, name in COLUMNS.items():
        terms = known.terms.get(name)
        words: dict[str, Place] = {}
        for row in rows:
            for word in filter(None, row.cells.get(column, "").split("; ")) if terms else ():
                if word not in (terms or {}):
                    words.setdefault(word, row.place)
        if words:
            listed = list(words)[:MOST_NAMED]
            lines = "; ".join(f"- {{slug: {slug_of(word) or 'x'}, name: {word}}}" for word in listed)
            more = f" and {len(words) - MOST_NAMED} more" if len(words) > MOST_NAMED else ""
            shown = ", ".join(f"'{word}'" for word in listed)
            mend = f"Answer import's questions, or declare them below '{name}:': {lines}"
            yield Problem(next(iter(words.values())), "table-words", f"no word of '{name}' is {shown}{more}", mend)


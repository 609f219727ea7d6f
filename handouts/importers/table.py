"""A spreadsheet saved as CSV, one row an exercise, as exercise files: what is there is kept, what is missing is named.

Nothing is made up but a code: a dose, a caution or a source that the row does not have stays away, and
``handouts check`` asks for it.  Takes bytes, gives bytes.
"""

from __future__ import annotations

import csv
import io
import json
import re
import unicodedata
from collections.abc import Container, Iterator, Mapping
from dataclasses import dataclass
from hashlib import sha256
from itertools import islice

from handouts.importers.safety_words import hold_back, say_waiting
from handouts.ledger.stamp import ALPHABET
from handouts.library.declare import EXERCISE
from handouts.library.dose_shapes import DOSE, DOSE_RANGE
from handouts.library.read import read_exercise
from handouts.problems import Grade, Place, Problem, suggest
from handouts.source.nodes import read_text

LISTS = ("regions", "equipment", "also called", "cues", "cautions", "after", "easier", "harder", "demands", "sources")
"""Columns whose cells hold several values, parted by semicolons or line ends."""
BODY = ("steps", "before")
"""Columns that become the text below the keys."""
REVIEW = ("reviewed on", "reviewed by")
RANGE = "range "
"""What a column of the dose range begins with: ``range sets``, ``range reps``."""
ALIASES = {
    "name": "title", "exercise": "title", "level": "tier", "region": "regions", "body part": "regions",
    "instructions": "steps", "how to do it": "steps", "before you start": "before", "synonyms": "also called",
    "repetitions": "reps", "source": "sources", "caution": "cautions", "days a week": "days", "times a day": "times",
    "intensity": "effort", "hint": "cues", "hints": "cues", "mistake": "mistakes",
}  # fmt: skip
"""Other words for columns."""
NOT_COLUMNS = ("dose", "dose range", "review", "figure")
"""Keys of a file that a table gives by other columns, or not at all."""
MOST_ROWS = 2000


@dataclass(frozen=True, slots=True)
class Taken:
    """The files made of a table, by their path in the library, and what is wrong or missing."""

    files: Mapping[str, bytes]
    problems: tuple[Problem, ...]
    codes: frozenset[str] = frozenset()
    """The codes that were given out."""


def known_columns() -> tuple[str, ...]:
    """Every column that is understood."""
    keys = [key for key in EXERCISE.fields if key not in NOT_COLUMNS]
    return (*keys, *DOSE.fields, *(RANGE + key for key in DOSE_RANGE.fields), *BODY, *REVIEW)


def take_in(data: bytes, file: str, used_codes: Container[str] = (), used_slugs: Container[str] = ()) -> Taken:
    """Every row as an exercise file; rows that would replace an exercise that is there are refused."""
    text, problems = read_text(data, file)
    if problems:
        return Taken({}, tuple(problems))
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=_delimiter(text))
    try:
        rows = list(islice(reader, MOST_ROWS + 1))
    except csv.Error as error:
        what, mend = f"this is not a table: {error}", "Close the quotes of this row, and shorten its cells."
        return Taken({}, (Problem(Place(file, max(1, reader.line_num)), "table-syntax", what, mend),))
    if len(rows) < 2 or len(rows) > MOST_ROWS:
        count = "more" if len(rows) > MOST_ROWS else len(rows)
        what = f"a table of a row of names and 1 to {MOST_ROWS - 1} exercises is wanted, this one has {count} rows"
        return Taken({}, (Problem(Place(file), "table-rows", what, "Save the sheet as CSV with its first row."),))
    columns, problems = _columns(rows[0], file)
    files: dict[str, bytes] = {}
    codes: set[str] = set()
    for number, row in enumerate(rows[1:], 2):
        cells = {name: row[at].strip() for at, name in columns.items() if at < len(row) and row[at].strip()}
        if not cells:
            continue
        path, found = _take_row(cells, Place(file, number), used_codes, codes, used_slugs, files)
        problems += found
        if path:
            slug = path.removeprefix("exercises/").removesuffix(".md")
            problems += _missing(cells, Place(file, number))
            problems += [each for each in read_exercise(files[path], path, slug)[1] if each.rule != "missing-key"]
    return Taken(files, tuple(problems), frozenset(codes))


def _delimiter(text: str) -> str:
    """Comma, semicolon or tab: whichever the first line has most of."""
    first = text.split("\n", 1)[0]
    return max(",;\t", key=first.count)


def _columns(header: list[str], file: str) -> tuple[dict[int, str], list[Problem]]:
    """The columns that are understood, by position."""
    known, found, problems = known_columns(), dict[int, str](), list[Problem]()
    for at, cell in enumerate(header):
        name = " ".join(cell.casefold().split())
        name = ALIASES.get(name, name)
        if name in known and name not in found.values():
            found[at] = name
        elif name:
            what = "stands twice" if name in known else "is not understood, so it is left out"
            place = Place(file, 1, at + 1)
            problems.append(
                Problem(place, "table-column", f"the column '{cell}' {what}", suggest(name, known), Grade.NOTICE)
            )
    if "title" not in found.values():
        problems.append(
            Problem(Place(file), "table-column", "there is no column 'title'", "Name the column of titles 'title'.")
        )
    return found, problems


def _take_row(
    cells: Mapping[str, str],
    place: Place,
    used_codes: Container[str],
    codes: set[str],
    used_slugs: Container[str],
    files: dict[str, bytes],
) -> tuple[str, list[Problem]]:
    """Adds the file of a row; gives its path, empty where the row is refused."""
    slug = slug_of(cells.get("title", ""))
    path = f"exercises/{slug}.md"
    if not slug:
        return "", [
            Problem(
                place, "table-title", "the row has no title to name a file by", "Write a title with letters a to z."
            )
        ]
    if path in files or slug in used_slugs:
        what = f"there is an exercise '{slug}' already, so this row is left out"
        return "", [Problem(place, "table-repeated", what, "Give the row a title of its own.")]
    code = cells.get("code") or new_code(slug, used_codes, codes)
    if code in used_codes or code in codes:
        return "", [
            Problem(
                place, "repeated-code", f"the code '{code}' is taken, so this row is left out", "Leave its cell empty."
            )
        ]
    codes.add(code)
    kept, waiting = hold_back(cells)
    head, _, body = write_exercise({**kept, "code": code}).removeprefix("---\n").partition("---\n")
    remarks = "".join(f"{line}\n" for line in say_waiting(waiting))
    files[path] = f"---\n{head}{remarks}---\n{body}".encode()
    return path, list(say_held_back(cells.get("title", ""), waiting, place))


def say_held_back(title: str, waiting: list[str], place: Place) -> Iterator[Problem]:
    """That sentences among the steps wait for a person."""
    if waiting:
        count = f"{len(waiting)} sentence{'' if len(waiting) == 1 else 's'}"
        what = f"{count} among the steps of '{title}' read like a stop rule, a caution or a dose, so no step was made of them"
        mend = "Read them in the remarks of the draft: name cautions in 'cautions:', write numbers into 'dose:'."
        yield Problem(place, "import-safety", what, mend)


def slug_of(title: str) -> str:
    """The file name for a title: small letters, digits, hyphens; empty where it has no such letter."""
    plain = unicodedata.normalize("NFKD", title).encode("ascii", "ignore").decode().casefold()
    return re.sub(r"[^a-z0-9]+", "-", plain).strip("-")[:64].strip("-")


def new_code(slug: str, used: Container[str], codes: Container[str]) -> str:
    """A code that nothing has, always the same for the same name in the same library."""
    for attempt in range(10_000):
        number = int.from_bytes(sha256(f"{slug}/{attempt}".encode()).digest(), "big")
        code = "".join(ALPHABET[number // len(ALPHABET) ** place % len(ALPHABET)] for place in range(4))
        if code not in used and code not in codes and any(letter.isalpha() for letter in code):
            return code
    raise ValueError("no code is free")


def _missing(cells: Mapping[str, str], place: Place) -> Iterator[Problem]:
    """What an exercise needs and the row has not."""
    needs = [key for key, item in EXERCISE.fields.items() if item.required and key not in ("code", "dose", "review")]
    lacks = [key for key in needs if key not in cells and key != "equipment"]
    lacks += (
        [] if any(key in cells for key in ("reps", "hold", "time", "distance")) else ["reps, hold, time or distance"]
    )
    lacks += [name for name in ("steps", *REVIEW) if name not in cells]
    if lacks:
        title = cells.get("title", "")
        yield Problem(
            place, "table-missing", f"'{title}' has no {'; no '.join(lacks)}", "Add it to the file that was written."
        )


def write_exercise(cells: Mapping[str, str]) -> str:
    """The file of one row; a key whose cell is empty is left out."""
    lines = ["---"]
    for key in EXERCISE.fields:
        line = _line(key, cells)
        lines += [line] if line else []
    lines.append("---")
    for column, heading, mark in (("before", "Before you start", "- "), ("steps", "How to do it", "1. ")):
        items = _split(cells.get(column, ""))
        if items:
            marks = (f"{number}. " if mark == "1. " else mark for number in range(1, len(items) + 1))
            lines += [f"## {heading}", "", *(f"{each}{item}" for each, item in zip(marks, items, strict=True)), ""]
    return "\n".join(lines).rstrip("\n") + "\n"


def _line(key: str, cells: Mapping[str, str]) -> str:
    if key == "dose":
        return _mapping(key, {name: _in_unit(name, cells[name]) for name in DOSE.fields if name in cells})
    if key == "dose range":
        spans = {name: _in_unit(name, cells[RANGE + name]) for name in DOSE_RANGE.fields if RANGE + name in cells}
        return _mapping(key, spans, lists=("tempo",))
    if key == "review":
        names = {"on": "reviewed on", "by": "reviewed by"}
        return _mapping(key, {name: cells[column] for name, column in names.items() if column in cells})
    if key == "equipment":
        return f"equipment: {_flow(cells.get(key, ''))}"
    if key == "mistakes" and key in cells:
        pairs = (item.partition("->") for item in _split(cells[key]))
        return "mistakes:\n" + "\n".join(f"  - {{see: {_quote(see)}, do: {_quote(do)}}}" for see, _, do in pairs)
    if key not in cells or key in NOT_COLUMNS:
        return ""
    return f"{key}: {_flow(cells[key]) if key in LISTS else _quote(cells[key])}"


def _mapping(key: str, values: Mapping[str, str], lists: tuple[str, ...] = ()) -> str:
    shown = {name: _flow(value) if name in lists else _quote(value) for name, value in values.items()}
    inside = ", ".join(f"{name}: {value}" for name, value in shown.items())
    return f"{key}: {{{inside}}}" if values else ""


def _in_unit(name: str, cell: str) -> str:
    """A cell with the sign of its unit of weight: ``5 pounds`` as ``5 lb``."""
    if name != "weight":
        return cell
    for words, sign in (("lbs?|pounds?", "lb"), ("kgs?|kilos?|kilograms?", "kg")):
        cell = re.sub(rf"(?<=\d)\s*(?:{words})\.?$", f" {sign}", cell, flags=re.I)
    return cell


def _flow(cell: str) -> str:
    return "[" + ", ".join(_quote(item) for item in _split(cell)) + "]"


def _split(cell: str) -> list[str]:
    """The values of a cell; marks of lists before them are taken away, and numbers that count them 1, 2, 3."""
    found: list[str] = []
    for part in re.split(r"[;\n]", cell):
        text, mark = part, re.match(r"\s*(?:(\d{1,2})[.)]|[-*•])\s+", part)
        if mark and (not mark[1] or int(mark[1]) == len(found) + 1):
            text = part[mark.end() :]
        found += [" ".join(text.split())] if text.strip() else []
    return found


def _quote(text: str) -> str:
    """Plain where YAML reads the same text, in quotes elsewhere."""
    clean = " ".join(text.split())
    return clean if re.fullmatch(r"[A-Za-z0-9][A-Za-z0-9 ./'-]*", clean) else json.dumps(clean, ensure_ascii=False)

"""The file of an exercise, made of cells, or brought up to date with them."""

from __future__ import annotations

import json
import re
from collections.abc import Mapping, Sequence

from handouts.importers.columns import BODY, NOT_COLUMNS, RANGE
from handouts.importers.dose_words import SaidDose
from handouts.library.declare import EXERCISE
from handouts.library.dose_shapes import DOSE, DOSE_RANGE
from handouts.source.nodes import Mapping as MappingNode
from handouts.source.nodes import Scalar, compose

LISTS = ("regions", "equipment", "also called", "cues", "cautions", "after", "easier", "harder", "demands", "sources")
"""Columns whose cells hold several values, parted by semicolons or line ends."""
PARTED_AT_SENTENCES = ("steps", "before", "cues")
"""Columns whose cell is parted at its sentences where it is one line without semicolons."""
HEADINGS = {"before": ("Before you start", "- "), "steps": ("How to do it", "1. ")}
_NUMBER = re.compile(r"(?:^|\s)(\d{1,2})[.)]\s+(?=\S)")


def write_exercise(cells: Mapping[str, str]) -> str:
    """The file of one row; a key whose cell is empty is left out."""
    lines = ["---"]
    for key in EXERCISE.fields:
        line = line_of(key, cells)
        lines += [line] if line else []
    lines.append("---")
    for column in HEADINGS:
        lines += _section(column, cells)
    return "\n".join(lines).rstrip("\n") + "\n"


def update_exercise(text: str, cells: Mapping[str, str]) -> tuple[str, tuple[str, ...]]:
    """A file with the keys that the cells give in place of its own, and which of them changed; all else stays.

    Numbers of a dose that the cells do not give stay too.
    """
    head, mark, body = text.removeprefix("---\n").partition("\n---\n")
    blocks = _blocks(head)
    changed: list[str] = []
    for key in EXERCISE.fields:
        given = {**_kept(blocks.get(key, ""), key, cells), **cells}
        line = line_of(key, given) if key != "equipment" or "equipment" in cells else ""
        if not line or key == "code" or _same(blocks.get(key, ""), line):
            continue
        blocks[key] = line
        changed.append(key)
    for column in BODY:
        section = _section(column, cells)
        if section:
            body, is_new = _replace_section(body, HEADINGS[column][0], "\n".join(section).rstrip("\n"))
            changed += [column] if is_new else []
    return "---\n" + "\n".join(blocks.values()) + mark + body, tuple(changed)


def _blocks(head: str) -> dict[str, str]:
    """The lines of each key, with the remarks above it."""
    found: dict[str, str] = {}
    above: list[str] = []
    last = ""
    for line in head.split("\n"):
        key = re.match(r"([A-Za-z][A-Za-z -]*):(?:\s|$)", line)
        if key:
            last = key[1]
            found[last] = "\n".join([*above, line])
            above = []
        elif line.startswith("#") or not last:
            above.append(line)
        else:
            found[last] += "".join(f"\n{each}" for each in (*above, line))
            above = []
    return found | ({"": "\n".join(above)} if above else {})


def _same(block: str, line: str) -> bool:
    """Whether two ways to write a key give the same values."""
    return bool(block) and compose(f"{block}\n", "a")[0] == compose(f"{line}\n", "b")[0] is not None


def _kept(block: str, key: str, cells: Mapping[str, str]) -> dict[str, str]:
    """The numbers of a dose, or the parts of a review, that stand in a file beside those that are given."""
    columns = {name: name for name in DOSE.fields} if key == "dose" else {"on": "reviewed on", "by": "reviewed by"} if key == "review" else {}
    if not any(column in cells for column in columns.values()):
        return {}
    node, _ = compose(f"{block}\n", "a")
    inner = node.get(key) if node else None
    entries = inner.entries if isinstance(inner, MappingNode) else ()
    return {columns[entry.key]: entry.value.text for entry in entries if entry.key in columns and isinstance(entry.value, Scalar)}


def _replace_section(body: str, heading: str, section: str) -> tuple[str, bool]:
    """A body with a section in place of its own of that heading, else with it at the end; whether that changed it."""
    found = re.search(rf"^## {re.escape(heading)}[ \t]*\n.*?(?=^## |\Z)", body, re.M | re.S)
    if not found:
        return f"{body.rstrip()}\n\n{section}\n".lstrip("\n"), True
    if [line.split() for line in found[0].split("\n") if line.strip()] == [line.split() for line in section.split("\n") if line.strip()]:
        return body, False
    after = body[found.end() :]
    return body[: found.start()] + section + "\n" + ("\n" if after else "") + after, True


def _section(column: str, cells: Mapping[str, str]) -> list[str]:
    heading, mark = HEADINGS[column]
    items = split_cell(cells.get(column, ""), at_sentences=True)
    marks = (f"{number}. " if mark == "1. " else mark for number in range(1, len(items) + 1))
    return [f"## {heading}", "", *(f"{each}{item}" for each, item in zip(marks, items, strict=True)), ""] if items else []


def line_of(key: str, cells: Mapping[str, str]) -> str:
    """The line of a key; empty where no cell gives it."""
    if key == "dose":
        return _mapping(key, {name: _in_unit(name, cells[name]) for name in DOSE.fields if name in cells})
    if key == "dose range":
        spans = {name: _in_unit(name, cells[RANGE + name]) for name in DOSE_RANGE.fields if RANGE + name in cells}
        return _mapping(key, spans, lists=("tempo",))
    if key == "review":
        names = {"on": "reviewed on", "by": "reviewed by"}
        return _mapping(key, {name: cells[column] for name, column in names.items() if column in cells})
    if key == "picture" and key in cells:
        return _mapping(key, {"file": cells[key], **{name: cells[f"picture {name}"] for name in ("words", "source", "licence")}})
    if key == "equipment":
        return f"equipment: {_flow(cells.get(key, ''))}"
    if key == "mistakes" and key in cells:
        pairs = (item.partition("->") for item in split_cell(cells[key]))
        return "mistakes:\n" + "\n".join(f"  - {{see: {quote(see)}, do: {quote(do)}}}" for see, _, do in pairs)
    if key not in cells or key in NOT_COLUMNS:
        return ""
    return f"{key}: {_flow(cells[key], key in PARTED_AT_SENTENCES) if key in LISTS else quote(cells[key])}"


def say_dose(said: SaidDose, file: str) -> list[str]:
    """A dose that waits to be confirmed, behind a mark."""
    if not said.values:
        return []
    words = "; ".join(f"{name}: “{words}”" for name, words in said.words.items())
    inside = ", ".join(f"{name}: {value}" for name, value in said.values.items())
    confirm = "# Confirm the dose, then take away the first sign of the next line."
    return [f"# Read in {one_line(file)}, {one_line(words)}.", confirm, f"# dose: {{{inside}}}"]


def add_remarks(text: str, remarks: Sequence[str]) -> str:
    """A file with remarks below its keys."""
    head, _, body = text.removeprefix("---\n").partition("---\n")
    return f"---\n{head}{''.join(f'{line}{chr(10)}' for line in remarks)}---\n{body}"


def one_line(text: str) -> str:
    """A text that can stand in a remark."""
    return " ".join(text.split())


def _mapping(key: str, values: Mapping[str, str], lists: tuple[str, ...] = ()) -> str:
    shown = {name: _flow(value) if name in lists else quote(value) for name, value in values.items()}
    inside = ", ".join(f"{name}: {value}" for name, value in shown.items())
    return f"{key}: {{{inside}}}" if values else ""


def _in_unit(name: str, cell: str) -> str:
    """A cell with the sign of its unit of weight: ``5 pounds`` as ``5 lb``."""
    if name != "weight":
        return cell
    for words, sign in (("lbs?|pounds?", "lb"), ("kgs?|kilos?|kilograms?", "kg")):
        cell = re.sub(rf"(?<=\d)\s*(?:{words})\.?$", f" {sign}", cell, flags=re.I)
    return cell


def _flow(cell: str, at_sentences: bool = False) -> str:
    return "[" + ", ".join(quote(item) for item in split_cell(cell, at_sentences)) + "]"


def split_cell(cell: str, at_sentences: bool = False) -> list[str]:
    """The values of a cell; marks of lists before them are taken away, and numbers that count them 1, 2, 3."""
    if at_sentences and not re.search(r"[;\n]", cell):
        cell = _in_lines(cell.strip())
    found: list[str] = []
    for part in re.split(r"[;\n]", cell):
        text, mark = part, re.match(r"\s*(?:(\d{1,2})[.)]|[-*•])\s+", part)
        if mark and (not mark[1] or int(mark[1]) == len(found) + 1):
            text = part[mark.end() :]
        found += [" ".join(text.split())] if text.strip() else []
    return found


def _in_lines(cell: str) -> str:
    """One line as several: at numbers that count 1, 2, 3, else where a sentence ends."""
    marks = list(_NUMBER.finditer(cell))
    if len(marks) > 1 and not marks[0].start() and [int(mark[1]) for mark in marks] == list(range(1, len(marks) + 1)):
        ends = [*(mark.start() for mark in marks[1:]), len(cell)]
        return "\n".join(cell[mark.end() : end].strip() for mark, end in zip(marks, ends, strict=True))
    return re.sub(r"(?<=[.!?])\s+(?=[A-Z])", "\n", cell)


def quote(text: str) -> str:
    """Plain where YAML reads the same text, in quotes elsewhere."""
    clean = " ".join(text.split())
    return clean if re.fullmatch(r"[A-Za-z0-9][A-Za-z0-9 ./'-]*", clean) else json.dumps(clean, ensure_ascii=False)

"""Writes the reference of the files, from the declarations that the reader uses, into README.md: ``python -m tests.write_reference``."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from handouts.library.declare import FILES
from handouts.library.dose_shapes import OPEN_DOSE, DoseShape
from handouts.library.scalars import (
    Choice,
    Day,
    ExerciseName,
    Flag,
    Name,
    Number,
    Prose,
    Quantity,
    Shape,
    Slug,
    SpanOf,
    Text,
    Whole,
)
from handouts.library.shapes import ListOf, RawMapping, RecordOf

README = Path(__file__).parents[1] / "README.md"
BEGIN, END = "<!-- reference: made from handouts/library/declare.py -->", "<!-- end of reference -->"
"""Lines between which the reference stands in the document."""


def replace_reference(document: str) -> str:
    """A document with the reference as it is now between its two lines; ValueError where they are missing."""
    before, found, rest = document.partition(BEGIN)
    _, ended, after = rest.partition(END)
    if not found or not ended:
        raise ValueError("the document has no lines for the reference")
    return f"{before}{BEGIN}\n\n{write_reference()}\n{END}{after}"


WHERE = {
    "clinic": "clinic.yaml",
    "tiers": "tiers.yaml",
    "vocabulary": "vocabulary.yaml",
    "cautions": "cautions.yaml",
    "limits": "limits.yaml",
    "conditions": "conditions.yaml",
    "exercise": "exercises/NAME.md",
    "programme": "programmes/NAME.md",
    "bundle": "bundles/NAME.yaml",
    "test": "tests/NAME.md",
    "leaflet": "leaflets/NAME.md",
    "lesson": "lessons/NAME.md",
    "class": "classes/NAME.yaml",
}
"""The file of each kind."""


def write_reference() -> str:
    """A heading and a table for each file kind, and for each group of keys inside it, once."""
    told: set[str] = set()
    lines: list[str] = []
    for kind, record in FILES.items():
        lines += [f"### {WHERE[kind]}", "", *_table(record), ""]
        for inner in _inner(record):
            if inner.title not in told:
                told.add(inner.title)
                lines += [f"#### {inner.title[0].upper()}{inner.title[1:]}", "", *_table(inner), ""]
    return "\n".join(lines).rstrip() + "\n"


def _table(record: RecordOf) -> Iterator[str]:
    yield "| key | what it is | how it is written |"
    yield "|---|---|---|"
    for key, item in record.fields.items():
        needed = "" if item.required else " (may be left out)"
        yield f"| `{key}` | {item.says}{needed} | {describe(item.shape)} |"


def _inner(record: RecordOf) -> Iterator[RecordOf]:
    """The groups of keys inside a record, in order, each before those inside it."""
    for item in record.fields.values():
        shape: Shape = item.shape
        while isinstance(shape, ListOf):
            shape = shape.shape
        if isinstance(shape, DoseShape):
            shape = shape.numbers
        if isinstance(shape, RecordOf):
            yield shape
            yield from _inner(shape)


def describe(shape: Shape) -> str:
    """How a value is written, in a few words."""
    if isinstance(shape, ListOf):
        count = f"{shape.least} to {shape.most}" if shape.least else f"at most {shape.most}"
        return f"list, {count}: {describe(shape.shape)}"
    if isinstance(shape, DoseShape):
        return f"`{OPEN_DOSE}`, or {describe(shape.numbers)}"
    if isinstance(shape, RecordOf):
        return f"keys of {shape.title}"
    if isinstance(shape, RawMapping):
        return f"keys of the {shape.name}"
    if isinstance(shape, Choice):
        return "one of " + ", ".join(f"`{option}`" for option in shape.options)
    if isinstance(shape, Whole):
        return f"whole number, {shape.low} to {shape.high}"
    if isinstance(shape, Number):
        return f"number, {shape.low:g} to {shape.high:g}"
    if isinstance(shape, Text | Prose):
        return f"{shape.wanted}, at most {shape.most} characters"
    fixed = {
        Flag: "`yes` or `no`", Day: "date, as 2026-09-14", Name: "name of something declared",
        ExerciseName: "name or code of an exercise", Slug: "small letters, digits, hyphens",
    }  # fmt: skip
    if type(shape) in fixed:
        return fixed[type(shape)]
    wanted = getattr(shape, "wanted", None)
    if isinstance(shape, Quantity | SpanOf) or isinstance(wanted, str):
        return str(wanted)
    raise TypeError(f"{type(shape).__name__} does not say how it is written")


if __name__ == "__main__":
    README.write_text(replace_reference(README.read_text(encoding="utf-8")), encoding="utf-8")

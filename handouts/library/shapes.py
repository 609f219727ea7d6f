"""Declarations of values: each shape turns a node into a typed value and says what it accepts as JSON Schema.

One declaration per file kind (``handouts.library.declare``) gives the reader, the editor's schema and
the reference of front matter, so the three cannot drift apart.  A shape never stops at the first
fault: it appends to ``problems`` and returns None for what it could not read.
"""

from __future__ import annotations

from collections.abc import Callable
from collections.abc import Mapping as MappingABC
from dataclasses import dataclass
from typing import Any

from handouts.library.scalars import (
    CODE_PATTERN,
    SLUG_PATTERN,
    Choice,
    Day,
    ExerciseName,
    Flag,
    Name,
    Number,
    Problems,
    Prose,
    Quantity,
    Schema,
    Shape,
    Slug,
    SpanOf,
    Text,
    Whole,
    scalar_text,
    wrong,
)
from handouts.model import Ref
from handouts.problems import Place, Problem, suggest
from handouts.source.nodes import Entry, Mapping, Node, Scalar, Sequence

__all__ = [
    "CODE_PATTERN",
    "SLUG_PATTERN",
    "Choice",
    "Day",
    "ExerciseName",
    "Field",
    "Flag",
    "ListOf",
    "Name",
    "Number",
    "Problems",
    "Prose",
    "Quantity",
    "RawMapping",
    "RecordOf",
    "Schema",
    "Shape",
    "Slug",
    "SpanOf",
    "Text",
    "Whole",
    "field_of",
    "optional",
    "scalar_text",
    "wrong",
]


@dataclass(frozen=True, slots=True)
class ListOf:
    """A list of values of one shape."""

    shape: Shape
    least: int = 0
    most: int = 100

    def read(self, node: Node, problems: Problems) -> tuple[Any, ...] | None:
        if not isinstance(node, Sequence):
            problems.append(
                wrong(
                    node,
                    "one value stands where a list is wanted",
                    "Write a list: [first, second], or lines that begin with '- '.",
                )
            )
            return None
        if not self.least <= len(node.items) <= self.most:
            count = f"{self.least} to {self.most}" if self.least else f"at most {self.most}"
            problems.append(
                wrong(
                    node,
                    f"this list has {len(node.items)} entries, {count} are wanted",
                    "Add entries." if len(node.items) < self.least else "Take some out.",
                )
            )
            return None
        return tuple(value for item in node.items if (value := self.shape.read(item, problems)) is not None)

    def schema(self) -> Schema:
        return {"type": "array", "items": self.shape.schema(), "minItems": self.least, "maxItems": self.most}


@dataclass(frozen=True, slots=True)
class RawMapping:
    """A group of keys that another room reads; ``name`` is its definition in the schema's ``$defs``.

    ``nothing`` is the word for a group without an entry, where there may be one.
    """

    name: str
    nothing: str = ""

    def read(self, node: Node, problems: Problems) -> Mapping | None:
        if self.nothing and isinstance(node, Scalar) and node.text.strip().lower() == self.nothing:
            return Mapping((), node.place)
        if self.nothing and isinstance(node, Mapping) and not node.entries:
            problems.append(wrong(node, "this group of keys is empty", f"Write its keys, or '{self.nothing}'."))
            return None
        if not isinstance(node, Mapping):
            problems.append(wrong(node, "a group of keys is wanted here", "Write 'key: value' lines, indented."))
            return None
        return node

    def schema(self) -> Schema:
        group = {"$ref": f"#/$defs/{self.name}"}
        return {"anyOf": [group, {"const": self.nothing}]} if self.nothing else group


@dataclass(frozen=True, slots=True)
class Field:
    """One key of a record: its shape, the attribute it fills, and what it says (for the reference and editors)."""

    shape: Shape
    says: str
    attribute: str
    required: bool = True


_COMMA = 'A sentence with a comma in it needs quotes here: "like, this".'


def _is_rest_of_sentence(entry: Entry) -> bool:
    """Whether a key of several words stands without its colon: what follows a comma in ``{do: Sit down, then rest.}``."""
    value, place = entry.value, entry.place
    bare = isinstance(value, Scalar) and not value.text and not value.quoted
    return bare and " " in entry.key and (value.place.line, value.place.column) == (place.line, place.column + len(entry.key))


@dataclass(frozen=True, slots=True)
class RecordOf:
    """A mapping with known keys, read into a frozen record of the model."""

    make: Callable[..., Any]
    title: str
    fields: MappingABC[str, Field]
    short: Callable[[Ref], MappingABC[str, Any]] | None = None
    """Where given, a bare exercise may stand for the whole mapping."""

    def read(self, node: Node, problems: Problems, **extra: Any) -> Any:
        if self.short is not None and isinstance(node, Scalar):
            ref = ExerciseName().read(node, problems)
            return None if ref is None else self.make(place=node.place, **self.short(ref))
        if not isinstance(node, Mapping):
            problems.append(
                wrong(node, f"'key: value' lines are wanted for {self.title}", "Write its keys, one a line.")
            )
            return None
        before = len(problems)
        values: dict[str, Any] = {}
        places: dict[str, Place] = {}
        for entry in node.entries:
            known = self.fields.get(entry.key)
            if known is None:
                problems.append(
                    Problem(
                        entry.place,
                        "unknown-key",
                        f"unknown key '{entry.key}' in {self.title}",
                        _COMMA if _is_rest_of_sentence(entry) else suggest(entry.key, self.fields),
                    )
                )
                continue
            if known.attribute in places:
                other = next(each.key for each in node.entries if each.key in self.fields and self.fields[each.key].attribute == known.attribute)
                problems.append(
                    Problem(entry.place, "wrong-value", f"'{other}' and '{entry.key}' say the same thing", "Keep one of them.")
                )
                continue
            places[known.attribute] = entry.value.place
            value = known.shape.read(entry.value, problems)
            if value is not None:
                values[known.attribute] = value
        present = {entry.key for entry in node.entries}
        problems.extend(
            Problem(
                node.place, "missing-key", f"{self.title} has no '{key}'", f"Add the line '{key}: …' ({item.says})."
            )
            for key, item in self.fields.items()
            if item.required and key not in present
        )
        if len(problems) > before:
            return None
        return self.make(place=node.place, places=places, **values, **extra)

    def schema(self) -> Schema:
        properties = {key: {**item.shape.schema(), "description": item.says} for key, item in self.fields.items()}
        found: Schema = {
            "type": "object",
            "title": self.title,
            "properties": properties,
            "required": [key for key, item in self.fields.items() if item.required],
            "additionalProperties": False,
        }
        return {"anyOf": [ExerciseName().schema(), found]} if self.short else found


def field_of(shape: Shape, says: str, attribute: str, required: bool = True) -> Field:
    """A field of a record."""
    return Field(shape, says, attribute, required)


def optional(shape: Shape, says: str, attribute: str) -> Field:
    """A field that may be left out."""
    return Field(shape, says, attribute, required=False)

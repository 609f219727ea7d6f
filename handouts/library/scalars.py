"""Shapes of single values: texts, names, numbers, ranges, choices, dates, quantities.

Each turns a node into a typed value, or appends a problem and gives None; each says what it accepts as JSON Schema.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import date
from enum import Enum
from typing import Any, Protocol

from handouts.model import Ref, Span, Words
from handouts.problems import Problem, suggest
from handouts.source.nodes import Node, Scalar, Sequence

Problems = list[Problem]
Schema = dict[str, Any]


class Shape(Protocol):
    """What every shape can do."""

    def read(self, node: Node, problems: Problems) -> Any:
        """The typed value of a node, or None after a problem was appended."""

    def schema(self) -> Schema:
        """The JSON Schema (2020-12) of what this shape accepts."""


def wrong(node: Node, what: str, mend: str, rule: str = "wrong-value") -> Problem:
    """A problem at a node."""
    return Problem(node.place, rule, what, mend)


def scalar_text(node: Node, problems: Problems, wanted: str) -> str | None:
    """The text of a scalar, with a problem where the node is a list, a mapping or empty."""
    if not isinstance(node, Scalar):
        kind = "a list" if isinstance(node, Sequence) else "a group of keys"
        problems.append(wrong(node, f"{kind} stands where {wanted} is wanted", f"Write {wanted}."))
        return None
    if not node.text.strip():
        problems.append(wrong(node, f"the value is empty where {wanted} is wanted", f"Write {wanted}."))
        return None
    return node.text.strip()


@dataclass(frozen=True, slots=True)
class Text:
    """Plain text on one line that is not translated, with an optional pattern."""

    most: int = 200
    pattern: str | None = None
    wanted: str = "a text"

    def read(self, node: Node, problems: Problems) -> str | None:
        text = scalar_text(node, problems, self.wanted)
        if text is None:
            return None
        text = " ".join(text.split())
        if len(text) > self.most:
            problems.append(
                wrong(node, f"this text has {len(text)} characters, at most {self.most} fit", "Shorten it.")
            )
            return None
        if self.pattern and not re.fullmatch(self.pattern, text):
            problems.append(wrong(node, f"'{text}' is not {self.wanted}", f"Write {self.wanted}."))
            return None
        return text

    def schema(self) -> Schema:
        found: Schema = {"type": ["string", "number"], "maxLength": self.most}
        if self.pattern:
            found["pattern"] = f"^(?:{self.pattern})$"
        return found


@dataclass(frozen=True, slots=True)
class Prose:
    """One sentence or a few for readers; translated, so it keeps its place."""

    most: int = 300
    wanted: str = "a sentence"

    def read(self, node: Node, problems: Problems) -> Words | None:
        text = Text(self.most, wanted=self.wanted).read(node, problems)
        return None if text is None else Words(text, node.place)

    def schema(self) -> Schema:
        return {"type": "string", "minLength": 1, "maxLength": self.most}


@dataclass(frozen=True, slots=True)
class Name:
    """The slug of something declared elsewhere."""

    wanted: str = "a name such as 'heel-raise'"

    def read(self, node: Node, problems: Problems) -> Ref | None:
        text = Text(64, SLUG_PATTERN, self.wanted).read(node, problems)
        return None if text is None else Ref(text, node.place)

    def schema(self) -> Schema:
        return {"type": "string", "pattern": f"^{SLUG_PATTERN}$"}


SLUG_PATTERN = "[a-z0-9]+(?:-[a-z0-9]+)*"
"""Small letters, digits and single hyphens: safe as a file name, in an address and on any system."""


CODE_CHARACTERS = "23456789ABCDEFGHJKLMNPQRSTUVWXYZ"
CODE_PATTERN = f"(?=.*[A-Z])[{CODE_CHARACTERS}]{{4}}"
"""Four characters without 0, 1, I and O, so that a code can be read aloud and typed from paper."""


@dataclass(frozen=True, slots=True)
class ExerciseName:
    """An exercise by its file name or by its code; ``read_library`` puts the file name in place of a code."""

    wanted: str = "a name such as 'heel-raise'"

    def read(self, node: Node, problems: Problems) -> Ref | None:
        text = Text(64, f"{SLUG_PATTERN}|{CODE_PATTERN}", self.wanted).read(node, problems)
        return None if text is None else Ref(text, node.place)

    def schema(self) -> Schema:
        return {"type": "string", "pattern": f"^(?:{SLUG_PATTERN}|{CODE_PATTERN})$"}


@dataclass(frozen=True, slots=True)
class Slug:
    """A name that is declared here."""

    def read(self, node: Node, problems: Problems) -> str | None:
        return Text(64, SLUG_PATTERN, "a name of small letters, digits and hyphens").read(node, problems)

    def schema(self) -> Schema:
        return {"type": "string", "pattern": f"^{SLUG_PATTERN}$"}


@dataclass(frozen=True, slots=True)
class Whole:
    """A whole number within bounds."""

    low: int
    high: int
    unit: str = ""

    def read(self, node: Node, problems: Problems) -> int | None:
        wanted = f"a whole number from {self.low} to {self.high}"
        text = scalar_text(node, problems, wanted)
        if text is None:
            return None
        if not re.fullmatch("[0-9]{1,6}", text) or (len(text) > 1 and text[0] == "0"):
            problems.append(wrong(node, f"'{text}' is not {wanted}", f"Write {wanted}, in digits."))
            return None
        if not self.low <= int(text) <= self.high:
            problems.append(wrong(node, f"{text} is outside {self.low} to {self.high}", f"Write {wanted}."))
            return None
        return int(text)

    def schema(self) -> Schema:
        return {"type": "integer", "minimum": self.low, "maximum": self.high}


@dataclass(frozen=True, slots=True)
class Number:
    """A decimal number within bounds."""

    low: float
    high: float

    def read(self, node: Node, problems: Problems) -> float | None:
        wanted = f"a number from {self.low:g} to {self.high:g}"
        text = scalar_text(node, problems, wanted)
        if text is None:
            return None
        if not re.fullmatch(r"-?[0-9]{1,6}(?:\.[0-9]{1,4})?", text) or not self.low <= float(text) <= self.high:
            problems.append(wrong(node, f"'{text}' is not {wanted}", f"Write {wanted}, with a point for decimals."))
            return None
        return float(text)

    def schema(self) -> Schema:
        return {"type": "number", "minimum": self.low, "maximum": self.high}


@dataclass(frozen=True, slots=True)
class Flag:
    """yes or no."""

    def read(self, node: Node, problems: Problems) -> bool | None:
        text = scalar_text(node, problems, "yes or no")
        if text is None:
            return None
        if text not in ("yes", "no"):
            problems.append(wrong(node, f"'{text}' is neither yes nor no", "Write yes or no."))
            return None
        return text == "yes"

    def schema(self) -> Schema:
        # An editor's YAML 1.1 parser may hand 'yes' over as true.
        return {"enum": ["yes", "no", True, False]}


@dataclass(frozen=True, slots=True)
class Choice:
    """One of a few words; gives the word, or the member of an enumeration."""

    options: tuple[str, ...]
    enumeration: type[Enum] | None = None

    def read(self, node: Node, problems: Problems) -> Any:
        text = scalar_text(node, problems, "one of: " + ", ".join(self.options))
        if text is None:
            return None
        if text not in self.options:
            problems.append(wrong(node, f"'{text}' is not known here", suggest(text, self.options)))
            return None
        return self.enumeration(text) if self.enumeration else text

    def schema(self) -> Schema:
        return {"enum": list(self.options)}


@dataclass(frozen=True, slots=True)
class Day:
    """A calendar date as 2026-09-14."""

    def read(self, node: Node, problems: Problems) -> date | None:
        text = scalar_text(node, problems, "a date such as 2026-09-14")
        if text is None:
            return None
        try:
            if not re.fullmatch("[0-9]{4}-[0-9]{2}-[0-9]{2}", text):
                raise ValueError
            return date.fromisoformat(text)
        except ValueError:
            problems.append(wrong(node, f"'{text}' is not a date", "Write year, month and day as 2026-09-14."))
            return None

    def schema(self) -> Schema:
        return {"type": "string", "pattern": "^[0-9]{4}-[0-9]{2}-[0-9]{2}$"}


@dataclass(frozen=True, slots=True)
class Quantity:
    """A whole number with a unit, given in the first unit: ``60 s``, ``5 min``."""

    units: tuple[tuple[str, int], ...]
    low: int
    high: int

    @property
    def wanted(self) -> str:
        """What an author should write."""
        first = self.units[0][0]
        example = f"{max(self.low, 30)} {first}"
        return f"a value with its unit, from {self.low} {first} to {self.high} {first}, such as '{example}'"

    def read(self, node: Node, problems: Problems) -> int | None:
        text = scalar_text(node, problems, self.wanted)
        if text is None:
            return None
        factors = dict(self.units)
        match = re.fullmatch("([0-9]{1,6}) ?([a-z]+)", text)
        if not match or match[2] not in factors:
            problems.append(wrong(node, f"'{text}' is not {self.wanted}", f"Write {self.wanted}."))
            return None
        value = int(match[1]) * factors[match[2]]
        if not self.low <= value <= self.high:
            first = self.units[0][0]
            problems.append(
                wrong(node, f"'{text}' is outside {self.low} to {self.high} {first}", f"Write {self.wanted}.")
            )
            return None
        return value

    def schema(self) -> Schema:
        units = "|".join(unit for unit, _ in self.units)
        return {"type": "string", "pattern": f"^[0-9]{{1,6}} ?(?:{units})$"}


@dataclass(frozen=True, slots=True)
class SpanOf:
    """A range such as ``1-4``, ``5-20 s`` or ``0.5-2 kg``; a single number is a range of one."""

    low: float
    high: float
    units: tuple[tuple[str, int], ...] = ()

    @property
    def wanted(self) -> str:
        """What an author should write."""
        unit = f" {self.units[0][0]}" if self.units else ""
        return f"a range from {self.low:g} to {self.high:g}{unit}, such as '{self.low:g}-{self.high:g}{unit}'"

    def read(self, node: Node, problems: Problems) -> Span | None:
        text = scalar_text(node, problems, self.wanted)
        if text is None:
            return None
        number = r"([0-9]{1,6}(?:\.[0-9]{1,2})?)"
        match = re.fullmatch(f"{number}(?:[-–]{number})?(?: ?([a-z]+))?", text)
        factors = dict(self.units)
        unit = match[3] if match else None
        if not match or (bool(self.units) != bool(unit)) or (unit and unit not in factors):
            problems.append(wrong(node, f"'{text}' is not {self.wanted}", f"Write {self.wanted}."))
            return None
        factor = factors.get(unit or "", 1)
        first = float(match[1]) * factor
        last = float(match[2]) * factor if match[2] else first
        if first > last:
            problems.append(wrong(node, f"the range '{text}' runs backwards", "Write the lower number first."))
            return None
        if first < self.low or last > self.high:
            problems.append(
                wrong(node, f"'{text}' reaches outside {self.low:g} to {self.high:g}", f"Write {self.wanted}.")
            )
            return None
        return Span(first, last)

    def schema(self) -> Schema:
        units = "|".join(unit for unit, _ in self.units)
        tail = f" ?(?:{units})" if units else ""
        return {"type": ["string", "number"], "pattern": rf"^[0-9.]+(?:[-–][0-9.]+)?{tail}$"}

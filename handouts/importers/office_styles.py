"""What the styles of a .docx look like, and where its pictures stand."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace

W = "http://schemas.openxmlformats.org/wordprocessingml/2006/main "


@dataclass(frozen=True, slots=True)
class TextStyle:
    """What a style says; None where it leaves it to the style that it is based on."""

    bold: bool | None = None
    size: float | None = None
    level: int | None = None
    based_on: str = ""


PLAIN = TextStyle()
"""What says nothing."""


@dataclass
class Links:
    """Where the pictures of a .docx stand, by their identifier."""

    found: dict[str, str] = field(default_factory=dict)

    def start(self, name: str, attributes: dict[str, str]) -> None:
        """An element opens."""
        if name.endswith(" Relationship") and attributes.get("TargetMode") != "External":
            self.found[attributes.get("Id", "")] = f"word/{attributes.get('Target', '')}"

    def end(self, name: str) -> None:
        """It closes."""

    def characters(self, text: str) -> None:
        """Text between elements."""


@dataclass
class TextStyles:
    """The styles of a .docx by their identifier; the empty one is what all begin from."""

    found: dict[str, TextStyle] = field(default_factory=dict)
    style: str = ""

    def start(self, name: str, attributes: dict[str, str]) -> None:
        """An element opens."""
        value = attributes.get(f"{W}val", "")
        now = self.found.get(self.style, PLAIN)
        match name.removeprefix(W):
            case "style":
                self.style = attributes.get(f"{W}styleId", "")
                self.found.setdefault(self.style, PLAIN)
            case "basedOn" if value != self.style:
                self.found[self.style] = replace(now, based_on=value)
            case "b":
                self.found[self.style] = replace(now, bold=is_on(value))
            case "sz" if value.isdecimal():
                self.found[self.style] = replace(now, size=int(value) / 2)
            case "outlineLvl" if value.isdecimal() and int(value) < 9:
                self.found[self.style] = replace(now, level=int(value) + 1)

    def end(self, name: str) -> None:
        """It closes."""
        if name == f"{W}style":
            self.style = ""

    def characters(self, text: str) -> None:
        """Text between elements."""


def is_on(value: str) -> bool:
    """Whether a property that may be switched off is on."""
    return value not in ("0", "false", "off", "none")


def resolve(looks: Mapping[str, TextStyle], style: str) -> TextStyle:
    """A style with what it takes from those that it is based on, at most ten."""
    found = looks.get(style, PLAIN)
    base = found.based_on
    for _ in range(10):
        under = looks.get(base, PLAIN)
        found = replace(
            found,
            bold=under.bold if found.bold is None else found.bold,
            size=under.size if found.size is None else found.size,
            level=under.level if found.level is None else found.level,
        )
        if not base:
            break
        base = under.based_on
    return found

"""The figure of an exercise file: its text taken out, and another put in its place.

What is outside the figure's lines is not looked at and not changed, to the byte.
"""

from __future__ import annotations

import re
from dataclasses import dataclass

from handouts.problems import Place, Problem
from handouts.source.nodes import Mapping, compose, read_text

_FENCE = "---"
_KEY = re.compile(r"figure[ ]*:(?P<rest>.*)")
INDENT = "  "


@dataclass(frozen=True, slots=True)
class FigurePart:
    """An exercise file in pieces: what is before the figure, the figure's lines as they are, and the rest.

    ``heading`` is its own line where nothing but the key stands on it, ``text`` what is below without ``indent``, or in brackets.
    """

    before: str
    lines: str
    after: str
    heading: str
    text: str
    indent: str
    newline: str
    first_line: int
    """The line of the file where ``text`` begins."""

    def with_text(self, text: str) -> bytes:
        """The file with another text for the figure."""
        if text == self.text:
            return f"{self.before}{self.lines}{self.after}".encode()
        said = text.strip("\n").split("\n")
        if said[0].startswith("{"):
            figure = [f"figure: {said[0]}", *said[1:]]
        else:
            heading = self.heading or f"figure:{self.newline}"
            figure = [heading.rstrip("\r\n"), *(f"{self.indent}{line}" if line.strip() else line for line in said)]
        return f"{self.before}{self.newline.join(figure)}{self.newline}{self.after}".encode()


def _is_bare(heading: str) -> bool:
    """Whether the figure's own line holds nothing but the key and perhaps a comment."""
    found = _KEY.match(heading)
    rest = found["rest"].strip() if found else ""
    return bool(found) and (not rest or rest.startswith("#"))


def find_figure(data: bytes, file: str) -> FigurePart | Problem:
    """The figure of an exercise file; a part without text, before the end of the front matter, where it has none."""
    _, problems = read_text(data, file)
    if problems:
        return problems[0]
    whole = data.decode("utf-8")
    newline = "\r\n" if "\r\n" in whole else "\n"
    lines = re.findall(r"[^\n]*\n|[^\n]+\Z", whole)
    fences = [number for number, line in enumerate(lines) if line.removeprefix("\ufeff").strip() == _FENCE][:2]
    if len(fences) < 2 or fences[0] != 0:
        return Problem(Place(file, 1), "no-front-matter", "the file has no front matter", "Begin it with '---', keys, and '---'.")
    start = next((number for number in range(1, fences[1]) if _KEY.match(lines[number])), fences[1])
    if start == fences[1]:
        return FigurePart("".join(lines[:start]), "", "".join(lines[start:]), "", "", INDENT, newline, start + 1)
    past = start + 1
    while past < fences[1] and (not lines[past].strip() or lines[past][0] in " \t"):
        past += 1
    while not lines[past - 1].strip():
        past -= 1
    before, written, after = "".join(lines[:start]), "".join(lines[start:past]), "".join(lines[past:])
    body = [line.replace("\r\n", "\n") for line in lines[start + 1 : past]]
    if not _is_bare(lines[start]):
        rest = _KEY.match(lines[start])
        assert rest is not None
        said = "".join([rest["rest"].strip() + "\n", *body]).strip()
        text = "" if said.strip("'\"").lower() == "none" else said
        return FigurePart(before, written, after, "", text, INDENT, newline, start + 1)
    indents = [len(line) - len(line.lstrip(" ")) for line in body if line.strip()]
    indent = " " * min(indents, default=len(INDENT))
    text = "".join(line[len(indent) :] if line.strip() else line for line in body)
    return FigurePart(before, written, after, lines[start], text, indent, newline, start + 2)


def replace_figure(data: bytes, text: str, file: str) -> bytes | Problem:
    """The bytes of an exercise file with another figure; refused where anything else would read differently."""
    part = find_figure(data, file)
    if isinstance(part, Problem):
        return part
    made = part.with_text(text)
    old, new, wanted = (_front(one, file) for one in (data, made, f"---\n{text}\n---\n".encode()))
    kept = old is not None and new is not None and _others(old) == _others(new)
    if not kept or new is None or wanted is None or new.get("figure") != wanted:
        what = "the figure cannot be put into this file without changing what stands around it"
        return Problem(Place(file, part.first_line), "figure-not-saved", what, "Copy its text, and put it under 'figure:' by hand.")
    return made


def _front(data: bytes, file: str) -> Mapping | None:
    text, _ = read_text(data, file)
    parts = re.split(r"(?m)^---[ ]*\n", text, maxsplit=2)
    return compose(parts[1], file, 2)[0] if len(parts) == 3 else None


def _others(node: Mapping) -> tuple[object, ...]:
    return tuple((entry.key, entry.value) for entry in node.entries if entry.key != "figure")

"""The body of a file: our small Markdown as sections and blocks whose every item knows its place.

What is allowed: ``##`` headings, paragraphs, numbered lists, bullet lists; inside a block bold, italic
and links (``handouts.text.markup``).  Everything else (raw HTML, other headings, quotes, code, tables,
pictures, nested lists) is a problem with its line.  Never makes HTML.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field

from handouts.model import Block, Section, Words
from handouts.problems import Place, Problem

SENTENCE_ENDS = (".", "!", "?", ":", ";", "…", ")", '"', "”", "’", "»", "。", "！", "？", "؟")
"""Signs with which a line ends that is whole."""
MAX_BODY_BYTES = 64 * 1024
"""Longest body read, in bytes; a full exercise needs about 2 KiB."""

_REFUSED = (
    (r"#(?!#\s)|##(?!\s)", "only headings with '##' are used", "Begin the heading with '## '."),
    (r">", "a quotation is not used in a handout", "Write it as a paragraph."),
    (
        r"```|~~~|    |\t",
        "a block of code or an indented block is not used in a handout",
        "Begin the line at its left edge.",
    ),
    (r"\|", "a table is not used in a handout", "Write it as a list."),
    (r"!\[", "a picture cannot be put in the text", "Describe the movement in 'figure:'."),
    (r"(?:\*\s*){3,}$|(?:-\s*){3,}$|(?:_\s*){3,}$", "a line across the page is not used", "Begin a new '## ' section."),
)


@dataclass(slots=True)
class _Open:
    """The section and block that lines are being added to."""

    sections: list[Section] = field(default_factory=list)
    heading: Words | None = None
    blocks: list[Block] = field(default_factory=list)
    kind: str = ""
    items: list[tuple[str, Place]] = field(default_factory=list)
    misnumbered: bool = False
    """Whether a wrong number was told in the numbered list that is open: those below it are wrong with it."""

    def close_block(self) -> None:
        if self.items:
            self.blocks.append(Block(self.kind, tuple(Words(text, place) for text, place in self.items)))
        self.kind, self.items = "", []

    def begin_steps(self) -> None:
        """The numbered list goes on, also over empty lines; elsewhere a new one begins."""
        if self.kind == "steps":
            return
        self.close_block()
        if self.blocks and self.blocks[-1].kind == "steps":
            self.items = [(words.text, words.place) for words in self.blocks.pop().items]
        else:
            self.misnumbered = False

    def close_section(self) -> None:
        self.close_block()
        if self.heading is not None:
            self.sections.append(Section(self.heading, tuple(self.blocks)))
        self.blocks = []


def read_sections(text: str, file: str, first_line: int) -> tuple[tuple[Section, ...], list[Problem]]:
    """The sections of a body that begins at ``first_line`` of ``file``, and what cannot be used in it."""
    if len(text.encode()) > MAX_BODY_BYTES:
        limit = MAX_BODY_BYTES // 1024
        return (), [Problem(Place(file, first_line), "too-long", f"the text is longer than {limit} KiB", "Split it.")]
    problems: list[Problem] = []
    state = _Open()
    for offset, line in enumerate(text.split("\n")):
        _read_line(line, Place(file, first_line + offset), state, problems)
    state.close_section()
    return tuple(state.sections), [*problems, *_find_broken_steps(state.sections, problems)]


def _read_line(line: str, place: Place, state: _Open, problems: list[Problem]) -> None:
    stripped = _fold(line)
    if not stripped:
        state.close_block()
        return
    continued = line.startswith("  ") and state.items
    if continued and not re.match(r"(?:[-*+]|[0-9]+[.)])\s", stripped):
        _continue_item(stripped, state)
        return
    for pattern, what, mend in _REFUSED:
        if re.match(pattern, line):
            problems.append(Problem(place, "markdown-not-allowed", what, mend))
            return
    if match := re.match(r"##\s+(.+)", line):
        state.close_section()
        state.heading = Words(_fold(match[1]), Place(place.file, place.line, match.start(1) + 1))
    elif continued:
        problems.append(
            Problem(
                place,
                "markdown-not-allowed",
                "a list inside a list is not used in a handout",
                "Begin the line at its left edge, or make it a sentence of the item above.",
            )
        )
    elif match := re.match(r"([0-9]{1,2})[.)]\s+(.+)", line):
        state.begin_steps()
        if (wanted := len(state.items) + 1) != int(match[1]) and not state.misnumbered:
            state.misnumbered = True
            problems.append(_wrong_number(match[1], wanted, place))
        _add_item("steps", _fold(match[2]), Place(place.file, place.line, match.start(2) + 1), state, problems)
    elif match := re.match(r"[-*+]\s+(.+)", line):
        if state.kind != "bullets":
            if state.items and match[1][0].isdigit():
                what = f"this line would be an item of a list, and the sign before {match[1].split()[0]} would be lost"
                mend = "Put it on the line above; where it begins a list, leave an empty line before it."
                problems.append(Problem(place, "markdown-not-allowed", what, mend))
            state.close_block()
        _add_item("bullets", _fold(match[1]), Place(place.file, place.line, match.start(1) + 1), state, problems)
    elif state.items:
        _continue_item(stripped, state)
    else:
        _add_item("paragraph", stripped, place, state, problems)


def _wrong_number(number: str, wanted: int, place: Place) -> Problem:
    """A number that no reader would see, since lists are numbered 1, 2, 3."""
    what = f"the number {number} stands where {wanted} is next, and readers would see {wanted}"
    mend = f"Number the list 1, 2, 3. If {number} belongs to the sentence above, put it at the end of that line."
    return Problem(place, "list-number", what, mend)


def _find_broken_steps(sections: list[Section], told: list[Problem]) -> list[Problem]:
    """Steps that end in the middle of a sentence, where others of their list end with one: a number may stand below."""
    found = []
    told_lines = {problem.place.line for problem in told if problem.rule == "list-number"}
    for block in (block for section in sections for block in section.blocks if block.kind == "steps"):
        whole = [words.text.rstrip("*_").endswith(SENTENCE_ENDS) for words in block.items]
        for number, words in enumerate(block.items[:-1], 1):
            if any(whole) and not whole[number - 1] and block.items[number].place.line not in told_lines:
                what = f"step {number} does not end with a full stop, and others of its list do"
                mend = f"End it with one. If the number {number + 1} belongs to its sentence, put it at the end of the line."
                found.append(Problem(words.place, "list-number", what, mend))
    return found


def _add_item(kind: str, text: str, place: Place, state: _Open, problems: list[Problem]) -> None:
    if state.heading is None:
        problems.append(
            Problem(
                place,
                "text-before-heading",
                "text stands before the first '## ' heading",
                "Put a heading such as '## How to do it' above it.",
            )
        )
        state.heading = Words("", place)
    state.kind = kind
    state.items.append((text, place))


def _fold(text: str) -> str:
    """A text without spaces at its ends, with one space for several or for a tab."""
    return re.sub(r"[ \t]+", " ", text).strip()


def _continue_item(text: str, state: _Open) -> None:
    before, place = state.items[-1]
    state.items[-1] = (f"{before} {text}", place)

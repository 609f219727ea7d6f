"""A document as drafts of exercise files: what its headings name in its place, the rest as remarks, each gap by its name.

Nothing clinical is made up.  A dose is taken only where the text says it literally, and stands behind a ``#`` until a
person has confirmed it; a draft cannot be published before.
"""

from __future__ import annotations

import re
from collections.abc import Container, Iterator, Mapping, Sequence
from dataclasses import dataclass, field

from handouts.importers.dose_words import SaidDose, find_dose
from handouts.importers.lines import LineKind, SourceLine
from handouts.importers.safety_words import hold_back, say_waiting
from handouts.importers.table import Taken, new_code, say_held_back, slug_of, write_exercise
from handouts.library.declare import EXERCISE
from handouts.problems import Grade, Place, Problem

HEADINGS: tuple[tuple[str, str], ...] = (
    ("before", r"before you (?:start|begin)|starting position|set ?up|preparation|get ready"),
    ("steps", r"how to (?:do it|do this|perform)(?: .*)?|instructions?|steps|what to do|the (?:exercise|movement)"),
    ("why", r"why(?: .*)?|purpose|benefits?|goals?|aims?|what (?:it is|it's|this is) (?:good )?for"),
    ("cues", r"tips?|hints?|key points?|cues?|remember|think of"),
    ("feel", r"what (?:you|it) (?:should )?feels?(?: .*)?|you should feel|feel"),
    ("ready when", r"progress(?:ion|ing)?|when to (?:move on|progress)|next steps?|moving on|ready when"),
    ("sources", r"sources?|references?|literature"),
    ("dose", r"dose|dosage|how (?:much|many|often)(?: .*)?|sets (?:and|&) rep(?:etition)?s|frequency"),
    ("stop", r"stop(?: .*)?|when to stop|warnings?|cautions?|precautions?|safety|do not(?: .*)?|contraindications?"),
    ("mistakes", r"(?:common )?mistakes|avoid|what goes wrong|common errors"),
    ("equipment", r"equipment|you (?:will )?need|what you (?:will )?need|materials?"),
)
"""What a heading says, in English, by the place that it names; other headings keep their text as remarks."""
_LISTS = ("before", "steps", "cues", "sources")
_SENTENCES = ("why", "feel", "ready when")
_MOST = {"cues": 5, "sources": 12}
"""Longest lists of the file; what goes past them stays a remark."""
_MOST_TITLE = 70


@dataclass
class _Part:
    """What a document says of one exercise: its title, lines by place, and lines without one."""

    title: str = ""
    placed: dict[str, list[str]] = field(default_factory=dict)
    rest: list[str] = field(default_factory=list)


def take_in_document(
    lines: Sequence[SourceLine], file: str, used_codes: Container[str] = (), used_slugs: Container[str] = ()
) -> Taken:
    """Every exercise of a document as a draft; one whose name is taken is refused."""
    files: dict[str, bytes] = {}
    problems: list[Problem] = []
    codes: set[str] = set()
    for part in _split(lines):
        slug = slug_of(part.title)
        path = f"exercises/{slug}.md"
        if not slug or path in files or slug in used_slugs:
            what = f"there is an exercise '{slug}' already" if slug else f"'{part.title}' is no title to name a file by"
            problems.append(
                Problem(Place(file), "document-title", f"{what}, so it is left out", "Give it a title of its own.")
            )
            continue
        code = new_code(slug, used_codes, codes)
        codes.add(code)
        dose = find_dose(_texts(part))
        cells, over = _cells(part, code)
        cells, waiting = hold_back(cells)
        files[path] = _write(cells, dose, say_waiting(waiting), [*part.rest, *over], file).encode()
        problems += _say(part, cells, dose, Place(path))
        problems += say_held_back(part.title, waiting, Place(path))
    if not files and not problems:
        problems.append(Problem(Place(file), "document-empty", "it holds no text", "Export it again, with its text."))
    return Taken(files, tuple(problems), frozenset(codes))


def place_of(heading: str) -> str:
    """The place that a heading names; empty where it names none."""
    text = heading.strip().rstrip(":?.").strip()
    return next((place for place, pattern in HEADINGS if re.fullmatch(pattern, text, re.I)), "")


def _split(lines: Sequence[SourceLine]) -> Iterator[_Part]:
    """One part for each exercise: by headings of the highest level that has two which name no place, else one."""
    titles = [line for line in lines if line.kind is LineKind.HEADING and not place_of(line.text)]
    levels = sorted({line.level for line in titles})
    level = next((each for each in levels if sum(line.level == each for line in titles) > 1), None)
    parts, place = [_Part()], ""
    for line in lines:
        part = parts[-1]
        is_heading = line.kind is LineKind.HEADING
        named = place_of(line.text) if is_heading or _looks_like_heading(line) else ""
        if is_heading and not named and line.level == level:
            parts.append(_Part(line.text[:_MOST_TITLE]))
            place = ""
        elif named:
            place = named
        elif is_heading:
            part.title, place = part.title or line.text[:_MOST_TITLE], "" if part.title else place
            part.rest += [] if part.title == line.text[:_MOST_TITLE] else [line.text]
        elif not part.title and not place and level is None and len(line.text) <= _MOST_TITLE:
            part.title = line.text.rstrip(":")
        elif not place and line.kind is LineKind.ITEM and "steps" not in part.placed:
            place = "steps"
            part.placed["steps"] = [line.text]
        elif place:
            part.placed.setdefault(place, []).append(line.text)
        else:
            part.rest.append(line.text)
    lead, *others = parts
    if not others:
        yield from [lead] if lead.title or lead.placed or lead.rest else []
        return
    others[0].rest[:0] = [*([lead.title] if lead.title else []), *lead.rest, *(text for each in lead.placed.values() for text in each)]
    yield from others


def _looks_like_heading(line: SourceLine) -> bool:
    """Plain text and PDFs have no headings: a short line that is no sentence and no item may be one."""
    return line.kind is LineKind.PARAGRAPH and len(line.text) <= 40 and not line.text.endswith((".", "!", ",", ";"))


def _texts(part: _Part) -> tuple[str, ...]:
    """Everything in which a dose may be said."""
    places = ("dose", "steps", "before")
    return (*part.rest, *(text for place in places for text in part.placed.get(place, ())))


def _cells(part: _Part, code: str) -> tuple[dict[str, str], list[str]]:
    """The cells as of a row of a table, and what found no place."""
    cells, over = {"code": code, "title": part.title}, list[str]()
    for place, texts in part.placed.items():
        if place in _LISTS:
            most = _MOST.get(place, 100)
            cells[place] = "\n".join(text.replace(";", ",") for text in texts[:most])
            over += [f"{place}: {text}" for text in texts[most:]]
        elif place in _SENTENCES:
            cells[place] = " ".join(texts)
        else:
            over += [f"{place}: {text}" for text in texts]
    return cells, over


def _write(cells: Mapping[str, str], dose: SaidDose, waiting: Sequence[str], rest: Sequence[str], file: str) -> str:
    """The draft: the keys that were found, a remark for each gap, the dose behind a mark, what waits for a person, what found no place."""
    head, _, body = write_exercise(cells).removeprefix("---\n").partition("---\n")
    # that nothing is needed is not said by a document that does not speak of it
    lines = ["---", *(line for line in head.rstrip("\n").split("\n") if line != "equipment: []")]
    if dose.values:
        said = "; ".join(f"{name}: “{words}”" for name, words in dose.words.items())
        inside = ", ".join(f"{name}: {value}" for name, value in dose.values.items())
        lines += [f"# Read in {_one_line(file)}, {_one_line(said)}.", "# Confirm the dose, then take away the first sign of the next line."]
        lines.append(f"# dose: {{{inside}}}")
    lines += [f"# {key}:   (a gap: {EXERCISE.fields[key].says})" for key in _gaps(cells) if key != "dose" or not dose.values]
    lines += waiting
    if rest:
        lines += [f"# What found no place in {_one_line(file)}:", *(f"#   {_one_line(text)}" for text in rest)]
    return "\n".join([*lines, "---", body])


def _one_line(text: str) -> str:
    """A text that can stand in a remark."""
    return " ".join(text.split())


def _gaps(cells: Mapping[str, str]) -> tuple[str, ...]:
    """The keys that an exercise needs and the document does not give."""
    return tuple(key for key, item in EXERCISE.fields.items() if item.required and key not in cells)


def _say(part: _Part, cells: Mapping[str, str], dose: SaidDose, place: Place) -> Iterator[Problem]:
    title = part.title
    lacks = [key for key in _gaps(cells) if key != "dose"] + ([] if "steps" in cells else ["steps"])
    if lacks:
        mend = "Fill the gaps that the draft names, from its remarks where they say it."
        yield Problem(place, "document-gaps", f"'{title}' has no {'; no '.join(lacks)}", mend)
    if dose.values:
        inside = ", ".join(f"{name} {value}" for name, value in dose.values.items())
        mend = "Compare it with the document, then take away the sign before 'dose'."
        yield Problem(place, "document-dose", f"the dose of '{title}' is not confirmed: {inside}", mend)
    else:
        yield Problem(place, "document-dose", f"no dose is said in '{title}'", "Write the dose that the clinic gives.")
    if dose.disputed:
        what = f"more than one number is said for {', '.join(dose.disputed)} in '{title}'"
        yield Problem(place, "document-dose", what, "Write the one that holds.", Grade.NOTICE)

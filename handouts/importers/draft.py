"""A document as drafts of exercise files: what its headings name in its place, the rest as remarks, each gap by its name.

Nothing clinical is made up.  A dose is taken only where the text says it literally, and stands behind a ``#`` until a
person has confirmed it; a draft cannot be published before.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field

from handouts.importers.answers import Answers
from handouts.importers.dose_words import NO_DOSE, find_dose, read_dose
from handouts.importers.headings import find_headings
from handouts.importers.known import Known
from handouts.importers.lines import LineKind, SourceLine
from handouts.importers.pictures import take_picture
from handouts.importers.rows import LEFT_OUT, Row, fill_gaps, resolve_row
from handouts.importers.safety_words import CAUTION, DOSE, STEPS, hold_back, is_rule, part_line, reads_like, say_waiting
from handouts.importers.table import ImportedFiles, new_code, say_held_back, slug_of
from handouts.importers.write import PARTED_AT_SENTENCES, add_remarks, one_line, say_dose, write_exercise
from handouts.library.declare import EXERCISE
from handouts.problems import Grade, Place, Problem

HEADINGS: tuple[tuple[str, str], ...] = (
    ("before", r"before you (?:start|begin)|start(?:ing)? position|set ?up|preparation|get ready"),
    ("steps", r"how to (?:do it|do this|perform)(?: .*)?|instructions?|steps?|what to do|the (?:exercise|movement)"),
    ("position", r"position"),
    ("regions", r"body parts?|regions?|area|works on"),
    ("also called", r"also called|also known as|other names?"),
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
_LISTS = ("before", "steps", "cues", "sources", "mistakes", "equipment", "regions", "also called", "stop")
_SENTENCES = ("why", "feel", "ready when", "position")
_KEYS = {"stop": "cautions"}
"""Places whose key has another name."""
_LABEL = re.compile(r"([A-Z][A-Za-z'’ ]{1,38}?)\s*:\s+(\S.*)")
"""A label in its line: ``Starting position: lie on your back``."""
_COUNT = re.compile(r"(?:exercise\s+)?\d{1,2}\s*[.):–-]\s*(?=\S)", re.I)
"""What counts the titles of a document."""
_MOST = {"cues": 5, "sources": 12}
"""Longest lists of the file; what goes past them stays a remark."""
_MOST_TITLE = 70


@dataclass
class _Part:
    """What a document says of one exercise: its title, lines by place, and lines without one."""

    title: str = ""
    placed: dict[str, list[str]] = field(default_factory=dict)
    rest: list[str] = field(default_factory=list)
    waiting: list[str] = field(default_factory=list)
    """Sentences after the list of steps that read like a stop rule, a caution or a dose."""
    place: str = ""
    pictures: list[SourceLine] = field(default_factory=list)
    listed: int = 0
    """How many steps stand in the list that is open; 0 where steps are no list, -1 where it has ended."""

    def take(self, line: SourceLine, title: str, may_name: bool) -> None:
        """One line; ``may_name``: the first short line may be the title."""
        if line.kind is LineKind.PICTURE:
            self.pictures.append(line)
            return
        is_heading, label = line.kind is LineKind.HEADING, _LABEL.fullmatch(line.text)
        named = place_of(line.text) if is_heading or _looks_like_heading(line) else ""
        labelled = place_of(label[1]) if label and not is_heading else ""
        if named:
            self.place, self.listed = named, 0
        elif labelled == "stop" or (not is_heading and self.title and self.place not in ("stop", *STEPS) and is_rule(line.text)):
            self.waiting.append(f"{CAUTION}: {line.text}")
        elif labelled and label and (labelled != "mistakes" or not self.place):
            self._place(labelled, label[2])
            self.place, self.listed = "", -1 if "steps" in self.placed else 0
        elif is_heading:
            is_title = not self.title
            self.title, self.place = self.title or title, self.place if is_title else ""
            self.rest += [] if is_title else [line.text]
        elif not self.title and not self.place and may_name and len(line.text) <= _MOST_TITLE:
            self.title = title
        elif line.kind is LineKind.ITEM and not self.place and "steps" not in self.placed and self.listed == 0:
            self.place = "steps"
            self._take_step(line)
        elif self.place == "steps":
            self._take_step(line)
        elif self.place:
            self._place(self.place, line.text)
        else:
            self._leave(line.text)

    def _take_step(self, line: SourceLine) -> None:
        """A step; once a list of them has begun, only its next item is one, and a paragraph ends it."""
        if line.kind is LineKind.ITEM and (self.listed >= 0 or line.number == len(self.placed["steps"]) + 1):
            self.listed = max(0, self.listed) + 1
            self._place("steps", line.text)
        elif line.kind is not LineKind.ITEM and (self.listed == 0 or _COUNT.match(line.text)):
            self._place("steps", line.text)
        else:
            self.listed = -1
            self._leave(line.text)

    def _place(self, name: str, text: str) -> None:
        self.placed.setdefault(name, []).append(text)

    def _leave(self, text: str) -> None:
        """A line without a place: a remark, or where it reads like a caution or a dose, something that waits."""
        if "steps" in self.placed and reads_like(text):
            left, waiting = part_line(text)
            self.waiting += waiting
            self.rest += [left] if left else []
        else:
            self.rest.append(text)


def take_in_document(
    lines: Sequence[SourceLine], file: str, known: Known | None = None, answers: Answers | None = None, pictures: Mapping[str, bytes] | None = None
) -> ImportedFiles:
    """Every exercise of a document as a draft; one whose name is taken is refused.

    ``pictures`` are those of the document by their place in it: one is taken where a person says what it shows, who made
    it and why it may be printed.
    """
    known, answers = known or Known(), answers or Answers()
    files: dict[str, bytes] = {}
    problems: list[Problem] = []
    codes: set[str] = set()
    read: list[tuple[Row, list[str]]] = []
    for part in _split(find_headings(lines)):
        slug = slug_of(part.title)
        path = f"exercises/{slug}.md"
        if not slug or path in files or slug in known.slugs:
            what = f"there is an exercise '{slug}' already" if slug else f"'{part.title}' is no title to name a file by"
            problems.append(
                Problem(Place(file), "document-title", f"{what}, so it is left out", "Give it a title of its own.")
            )
            continue
        files[path] = b""
        code = new_code(slug, known.codes, codes, known.first)
        codes.add(code)
        row, over = _row(part, code, Place(path), known)
        read.append((resolve_row(row, known, answers), over))
    for row, over in zip(fill_gaps([row for row, _ in read], file, known, answers), (over for _, over in read), strict=True):
        unpaired = [f"mistakes: {row.cells['unpaired mistakes']}"] if "unpaired mistakes" in row.cells and "mistakes" not in row.cells else []
        with_picture, taken = take_picture(row, pictures or {})
        files |= taken
        files[row.place.file] = _write(with_picture, [*over, *unpaired], file).encode()
        problems += _say(row)
        problems += say_held_back(row.title, [each for each in row.waiting if not each.startswith(LEFT_OUT)], row.place)
    if not files and not problems:
        problems.append(Problem(Place(file), "document-empty", "it holds no text", "Export it again, with its text."))
    return ImportedFiles(files, tuple(problems), frozenset(codes))


def place_of(heading: str) -> str:
    """The place that a heading names; empty where it names none."""
    text = heading.strip().rstrip(":?.").strip()
    return next((place for place, pattern in HEADINGS if re.fullmatch(pattern, text, re.I)), "")


def _split(lines: Sequence[SourceLine]) -> Iterator[_Part]:
    """One part for each exercise: by headings of the highest level that has two which name no place, else one."""
    titles = [line for line in lines if line.kind is LineKind.HEADING and not place_of(line.text)]
    levels = sorted({line.level for line in titles})
    level = next((each for each in levels if sum(line.level == each for line in titles) > 1), None)
    parts = [_Part()]
    for line in lines:
        title = _COUNT.sub("", line.text, count=1)[:_MOST_TITLE].rstrip(" :")
        if line.kind is LineKind.HEADING and not place_of(line.text) and line.level == level:
            parts.append(_Part(title))
        else:
            parts[-1].take(line, title, may_name=level is None)
    lead, *others = parts
    if not others:
        yield from [lead] if lead.title or lead.placed or lead.rest else []
        return
    others[0].rest[:0] = [*([lead.title] if lead.title else []), *lead.rest, *(text for each in lead.placed.values() for text in each)]
    yield from others


def _looks_like_heading(line: SourceLine) -> bool:
    """Plain text and PDFs have no headings: a short line that is no sentence and no item may be one."""
    return line.kind is LineKind.PARAGRAPH and len(line.text) <= 40 and not line.text.endswith((".", "!", ",", ";"))


def _row(part: _Part, code: str, place: Place, known: Known) -> tuple[Row, list[str]]:
    """What a part says as cells, and what found no place."""
    cells, over = {"code": code, "title": part.title}, list[str]()
    if part.pictures and known.terms:
        cells |= {"picture": part.pictures[0].member, "picture guess": part.pictures[0].text}
    for name, texts in part.placed.items():
        key = _KEYS.get(name, name)
        if (key == "cautions" and not known.cautions) or name == "dose" or (key in ("equipment", "regions", "position") and not known.terms):
            over += [f"{name}: {text}" for text in texts]
        elif name in _LISTS:
            most = _MOST.get(name, 100)
            cells[key] = "\n".join(text.replace(";", ",") for text in texts[:most])
            over += [f"{name}: {text}" for text in texts[most:]]
        elif name in _SENTENCES:
            cells[key] = " ".join(texts)
        else:
            over += [f"{name}: {text}" for text in texts]
    cells, waiting = hold_back(cells)
    # a document has its lists parted already
    cells |= {key: f"{cells[key]}\n" for key in PARTED_AT_SENTENCES if key in cells}
    waiting = list(dict.fromkeys([*waiting, *part.waiting]))
    doses = part.placed.get("dose", []) or [each.partition(": ")[2] for each in waiting if each.startswith(f"{DOSE}: ")]
    said = find_dose((*part.rest, *(text for name in ("dose", "steps", "before") for text in part.placed.get(name, ())), *doses))
    words = " ".join(doses)
    read = read_dose(words) if words else NO_DOSE
    if known.terms and len(read.values) > len(said.values) and not said.disputed:
        said = read
    return Row(cells, place, tuple(waiting), said, words or "; ".join(said.words.values()), asks_for_equipment=True), [*part.rest, *over]


def _write(row: Row, rest: Sequence[str], file: str) -> str:
    """The draft: the keys that were found, a remark for each gap, the dose behind a mark, what waits for a person, what found no place."""
    text = write_exercise(row.cells)
    if "equipment" not in row.cells:  # that nothing is needed is not said by a document that does not speak of it
        text = text.replace("\nequipment: []\n", "\n", 1)
    remarks = say_dose(row.said, file)
    remarks += [f"# {key}:   (a gap: {EXERCISE.fields[key].says})" for key in _gaps(row.cells) if key != "dose" or not row.said.values]
    remarks += say_waiting(list(row.waiting))
    if rest:
        remarks += [f"# What found no place in {one_line(file)}:", *(f"#   {one_line(text)}" for text in rest)]
    return add_remarks(text, remarks)


def _gaps(cells: Mapping[str, str]) -> tuple[str, ...]:
    """The keys that an exercise needs and the document does not give."""
    given = {*cells} | ({"dose"} if {"reps", "time", "hold", "distance"} & set(cells) else set())
    given |= {"review"} if {"reviewed on", "reviewed by"} <= set(cells) else set()
    return tuple(key for key, item in EXERCISE.fields.items() if item.required and key not in given)


def _say(row: Row) -> Iterator[Problem]:
    title, said, place = row.title, row.said, row.place
    gaps = _gaps(row.cells)
    lacks = [key for key in gaps if key != "dose"] + ([] if "steps" in row.cells else ["steps"])
    if lacks:
        mend = "Fill the gaps that the draft names, from its remarks where they say it."
        yield Problem(place, "document-gaps", f"'{title}' has no {'; no '.join(lacks)}", mend)
    if "dose" not in gaps:
        return
    if said.values:
        inside = ", ".join(f"{name} {value}" for name, value in said.values.items())
        mend = "Compare it with the document, then take away the sign before 'dose'."
        yield Problem(place, "document-dose", f"the dose of '{title}' is not confirmed: {inside}", mend)
    else:
        yield Problem(place, "document-dose", f"no dose is said in '{title}'", "Write the dose that the clinic gives.")
    if said.disputed:
        what = f"more than one number is said for {', '.join(said.disputed)} in '{title}'"
        yield Problem(place, "document-dose", what, "Write the one that holds.", Grade.NOTICE)

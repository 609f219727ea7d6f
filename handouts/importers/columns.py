"""Which key each column of a table gives: by its name, by what a clinic calls it, else asked once and kept."""

from __future__ import annotations

from collections.abc import Sequence

from handouts.importers.answers import LEAVE, Answers, ImportQuestion
from handouts.library.declare import EXERCISE
from handouts.library.dose_shapes import DOSE, DOSE_RANGE
from handouts.problems import Grade, Place, Problem, names_like

BODY = ("steps", "before")
"""Columns that become the text below the keys."""
REVIEW = ("reviewed on", "reviewed by")
RANGE = "range "
"""What a column of the dose range begins with: ``range sets``, ``range reps``."""
NOT_COLUMNS = ("dose range", "review", "figure", "picture")
"""Keys of a file that a table gives by other columns, or not at all."""
JOINED = {"dose": ", ", "cautions": "; ", "sources": "; "}
"""Columns that a table may have twice, and what stands between their cells."""
MOST_HEAD = 10
"""How many rows may stand above the row of names."""
ALIASES = {
    "name": "title", "exercise": "title", "exercise name": "title", "name of exercise": "title", "exercise title": "title",
    "level": "tier", "stage": "tier", "phase": "tier", "difficulty": "tier",
    "region": "regions", "body part": "regions", "body parts": "regions", "area": "regions", "body area": "regions", "body region": "regions",
    "joint": "regions",
    "goal": "purpose", "aim": "purpose", "type": "purpose", "type of exercise": "purpose",
    "start position": "position", "starting position": "position",
    "what you need": "equipment", "you need": "equipment", "needs": "equipment", "materials": "equipment", "kit": "equipment",
    "instructions": "steps", "how to do it": "steps", "what to do": "steps", "description": "steps", "how to": "steps",
    "before you start": "before", "set up": "before", "setup": "before", "preparation": "before",
    "synonyms": "also called", "other names": "also called", "also known as": "also called",
    "repetitions": "reps", "source": "sources", "reference": "sources", "references": "sources",
    "dosage": "dose", "how many": "dose", "how often": "dose", "how much": "dose", "sets and reps": "dose", "sets x reps": "dose",
    "sets/reps": "dose",
    "prescription": "dose", "frequency": "dose",
    "caution": "cautions", "stop if": "cautions", "warnings": "cautions", "warning": "cautions", "precautions": "cautions", "red flags": "cautions",
    "days a week": "days", "days per week": "days", "times a day": "times", "times per day": "times",
    "intensity": "effort", "hint": "cues", "hints": "cues", "tips": "cues", "tip": "cues", "key points": "cues", "remember": "cues",
    "mistake": "mistakes", "common mistakes": "mistakes", "common errors": "mistakes", "avoid": "mistakes", "watch out for": "mistakes",
    "benefit": "why", "benefits": "why", "reason": "why", "why it helps": "why", "good for": "why",
    "what you should feel": "feel", "you should feel": "feel", "where you feel it": "feel",
    "progress when": "ready when", "progression": "ready when", "move on when": "ready when", "when to progress": "ready when",
    "last checked": "reviewed on", "date checked": "reviewed on", "last review": "reviewed on", "review date": "reviewed on",
    "checked on": "reviewed on",
    "checked by": "reviewed by", "reviewer": "reviewed by",
}  # fmt: skip
"""What columns are called elsewhere (common practice, no source)."""
NAME_IT = "name it like a key ('handouts import --columns')"
OTHERS = (
    "no", "no.", "nr", "number", "id", "#", "comment", "comments", "note", "notes", "remark", "remarks", "picture", "photo", "image", "video", "link",
)  # fmt: skip
"""Columns that are usually for the clinic alone; a person says so to each."""


def known_columns() -> tuple[str, ...]:
    """Every column that is understood."""
    keys = [key for key in EXERCISE.fields if key not in NOT_COLUMNS]
    return (*keys, *DOSE.fields, *(RANGE + key for key in DOSE_RANGE.fields), *BODY, *REVIEW)


def find_header(rows: Sequence[Sequence[str]]) -> int:
    """Where the row of names stands: the first with two names that are understood, else the first."""
    known = known_columns()
    for at, row in enumerate(rows[:MOST_HEAD]):
        if len({_key_of(cell) for cell in row} & set(known)) > 1:
            return at
    return 0


def map_columns(header: Sequence[str], row: int, file: str, answers: Answers) -> tuple[dict[int, str], list[Problem]]:
    """The columns that are understood or answered, by position; a notice for each that is left out."""
    known, found, problems = known_columns(), dict[int, str](), list[Problem]()
    choices = dict.fromkeys(known, "")
    for at, cell in enumerate(header):
        shown, key, place = " ".join(cell.split()), _key_of(cell), Place(file, row, at + 1)
        if not shown:
            continue
        if key not in known:
            close = names_like(key, (*known, *ALIASES), 0.7)
            guess = LEAVE if key in OTHERS else ALIASES.get(close[0], close[0]) if close else ""
            text = f"The column '{shown}' of '{file}': which key does it give?"
            answer = answers.ask(ImportQuestion("columns", shown, text, guess, choices))
            if answer == LEAVE:
                continue
            if answer is None:
                mend = f"Did you mean '{guess}'?" if guess in known else f"Answer import's question, or {NAME_IT}."
                problems.append(_leave_out(place, f"the column '{shown}' is not understood", mend))
                continue
            key = answer
        if key in found.values() and key not in JOINED:
            mend = f"Keep one of the columns that give '{key}'."
            problems.append(_leave_out(place, f"the column '{shown}' gives '{key}' a second time", mend))
            continue
        found[at] = key
    if "title" not in found.values():
        problems.append(Problem(Place(file), "table-column", "there is no column 'title'", "Name the column of titles 'title'."))
    return found, problems


def _leave_out(place: Place, what: str, mend: str) -> Problem:
    return Problem(place, "table-column", f"{what}, so it is left out", mend, Grade.NOTICE)


def _key_of(cell: str) -> str:
    """The key that a name of a column stands for; the name in small letters where it stands for none."""
    name = " ".join(cell.casefold().replace("*", " ").split()).rstrip(":?")
    return ALIASES.get(name, name)

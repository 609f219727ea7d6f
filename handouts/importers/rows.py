"""Rows of words as rows of a library's own values: words, sentences and doses settled, gaps asked about.

Pure: what is not answered yet is asked through ``Answers`` and stays as it was; nothing clinical is made up.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace

from handouts.importers.answers import LEAVE, Answers, ImportQuestion
from handouts.importers.dose_words import NO_DOSE, SaidDose, read_dose
from handouts.importers.known import Known
from handouts.importers.safety_words import CAUTION, DOSE
from handouts.importers.terms import COLUMNS, SEVERAL, add_brought, guess_caution, resolve_terms
from handouts.library.dose_shapes import DOSE as DOSE_SHAPE
from handouts.library.scalars import Day
from handouts.problems import Place, Problem, show_problem
from handouts.source.nodes import Mapping as MappingNode
from handouts.source.nodes import Scalar, compose

OF_DOSE = ("days", "tempo", "rest")
"""Numbers that a dose needs beside its repetitions, hold or time, and that leaflets leave out."""
OF_PICTURE = ("picture source", "picture licence")
"""What is asked of the pictures of a file once."""
FOR_ALL = ("tier", "sources", "reviewed on", "reviewed by", "cautions", *OF_DOSE, *OF_PICTURE)
"""Keys that are asked about once for all exercises of a file that have none."""
FOR_EACH = ("regions", "purpose", "position", "equipment", "why", "cues", "feel", "mistakes", "picture words")
"""Keys that are asked about for each exercise."""
MOST_TEXTS = 12
"""For how many exercises of a file a text is asked about; past that the sheet wants a column."""
LEFT_OUT = "left out by a person"
"""What stands before a sentence that a person said is no caution of the library; it stays as a remark."""
_SAYS = {
    "why": "what it is good for in the patient's day", "cues": "what to think of, short sentences with ';' between",
    "feel": "what it should feel like, where, how strong",
    "mistakes": "what goes wrong and what to do instead, as 'Your knee falls in. -> Push it out.'",
    "sources": "where exercise and dose come from, ';' between several", "reviewed on": "a day such as 2026-09-14", "reviewed by": "a role, no name",
    "cautions": "cautions and stop rules", "tier": "its tier", "regions": "parts of the body", "purpose": "what it trains",
    "picture words": "what its picture shows, for people who cannot see it; '-' leaves the picture out", "picture source": "who made its picture",
    "picture licence": "why you may print its picture",
    "days": "days a week", "tempo": "seconds to go, hold and return, such as 2-1-3", "rest": "between sets, such as 60 s",
    "position": "starting position", "equipment": "things to fetch first; '-' for none",
}  # fmt: skip
_SENTENCES = re.compile(r"(?<=[.!?])\s+(?=[A-Z0-9])|[;\n]")


@dataclass(frozen=True, slots=True)
class Row:
    """One exercise on its way: its cells by key, and what waits for a person."""

    cells: Mapping[str, str]
    place: Place
    waiting: tuple[str, ...] = ()
    """Sentences that are no steps, each behind what it reads like."""
    said: SaidDose = NO_DOSE
    """The dose that the file says in words, until it is confirmed."""
    dose_words: str = ""
    """The words themselves; empty where there are none."""
    asks_for_equipment: bool = False
    """Whether a file of this kind would not say that nothing is needed."""

    @property
    def title(self) -> str:
        """What the movement is called."""
        return self.cells.get("title", "")


def resolve_row(row: Row, known: Known, answers: Answers) -> Row:
    """A row with its words, cautions and dose settled as far as they are answered."""
    cells = resolve_terms(row.cells, row.title, known, answers)
    cells, waiting = _resolve_cautions(cells, row.waiting, row.title, known, answers)
    row = _resolve_dose(replace(row, cells=cells, waiting=waiting), answers)
    return replace(row, cells=_part_mistakes(row.cells))


def fill_gaps(rows: Sequence[Row], file: str, known: Known, answers: Answers) -> list[Row]:
    """Rows with what was answered for their gaps, and the cautions that the library's words bring."""
    if not known.terms:
        return list(rows)
    counts = {key: sum(lacks(key, row.cells) for row in rows) for key in FOR_EACH}
    found = []
    for row in rows:
        cells = dict(row.cells)
        for key in (*FOR_ALL, *FOR_EACH):
            is_text = key not in COLUMNS and key in FOR_EACH
            if not lacks(key, cells) or (is_text and counts[key] > MOST_TEXTS) or (key == "equipment" and not row.asks_for_equipment):
                continue
            answer = answers.ask(_gap(key, row, file, known, answers))
            if answer is not None and (answer != LEAVE or key == "equipment"):
                cells[key] = "" if answer == LEAVE else "; ".join(part.strip() for part in answer.split(",")) if _choices(key, known) else answer
        found.append(replace(row, cells=add_brought(_part_mistakes(cells), known)))
    return found


def lacks(key: str, cells: Mapping[str, str]) -> bool:
    """Whether a key is missing, a number of the dose only where the dose needs it (``rules.doses.check_dose_whole``)."""
    if key.startswith("picture "):
        return key not in cells and "picture" in cells
    if key in cells or key not in OF_DOSE:
        return key not in cells
    if not any(name in cells for name in ("reps", "hold", "time", "distance")):
        return False
    if key == "tempo":
        return "reps" in cells and "hold" not in cells
    return key == "days" or cells.get("sets", "1") != "1"


def _choices(key: str, known: Known) -> Mapping[str, str]:
    return known.cautions if key == "cautions" else known.terms.get(COLUMNS.get(key, ""), {})


def _gap(key: str, row: Row, file: str, known: Known, answers: Answers) -> ImportQuestion:
    several = key in SEVERAL or key == "cautions"
    guess = row.cells.get("picture guess", "") if key == "picture words" else ""
    if key in FOR_ALL:
        # what was answered for another file is likely, and a person says so again
        guess = next((answer for name, answer in reversed(answers.given["gaps"].items()) if name.endswith(f": {key}")), "")
        about, text = f"{file}: {key}", f"Where an exercise of '{file}' has no '{key}' ({_SAYS[key]}), what holds for it?"
    else:
        about, text = f"{row.title}: {key}", f"'{row.title}' has no '{key}' ({_SAYS[key]}). What is it?"
    return ImportQuestion("gaps", about, text, guess, _choices(key, known), several, bool(guess) and key in FOR_ALL, _check_of(key))


def _check_of(key: str) -> Callable[[str], str]:
    """What says whether an answer for a key is wrong."""
    if key in OF_DOSE:
        return lambda text: _wrong_dose(f"reps: 1, {key}: {text}")
    return {"reviewed on": _wrong_day, "mistakes": _wrong_mistakes}.get(key, lambda _: "")


def _wrong_day(text: str) -> str:
    problems: list[Problem] = []
    Day().read(Scalar(text, Place("answer")), problems)
    return problems[0].what if problems else ""


def _wrong_mistakes(text: str) -> str:
    bare = [each for each in _sentences(text) if "->" not in _with_arrow(each)]
    return f"'{bare[0]}' does not say what to do instead, after '->'" if bare else ""


def _resolve_cautions(
    cells: Mapping[str, str], waiting: Sequence[str], title: str, known: Known, answers: Answers
) -> tuple[dict[str, str], tuple[str, ...]]:
    """Sentences as the library's own cautions; one that is none of them stays a remark, and is no step."""
    given = [sentence for sentence in _caution_sentences(cells.get("cautions", "")) if sentence]
    held = [each.partition(": ")[2] for each in waiting if each.startswith(f"{CAUTION}: ")]
    kept = [each for each in waiting if not each.startswith(f"{CAUTION}: ")]
    slugs: list[str] = []
    for sentence in [*given, *held]:
        if sentence in known.cautions or (not known.cautions and sentence in given):
            slugs.append(sentence)
            continue
        text = f"'{sentence}' ('{title}') reads like a stop rule or a caution. Which of the library's says it?"
        question = ImportQuestion("cautions", sentence, text, guess_caution(sentence, known.cautions), known.cautions, several=True)
        answer = answers.ask(question) if known.cautions else None
        if answer is None or answer == LEAVE:
            kept.append(f"{CAUTION}: {sentence}" if answer is None else f"{LEFT_OUT}: {sentence}")
        else:
            slugs += [each.strip() for each in answer.split(",")]
    found = {key: text for key, text in cells.items() if key != "cautions"}
    if slugs:
        found["cautions"] = "; ".join(dict.fromkeys(slugs))
    return found, tuple(dict.fromkeys(kept))


def _caution_sentences(cell: str) -> list[str]:
    """Names with commas or semicolons between, or sentences."""
    names = [part.strip() for part in re.split(r"[;,\n]", cell)]
    if all(re.fullmatch(r"[a-z0-9-]*", name) for name in names):
        return names
    return _sentences(cell)


def _sentences(cell: str) -> list[str]:
    return [" ".join(part.split()) for part in _SENTENCES.split(cell) if part and part.strip()]


def _resolve_dose(row: Row, answers: Answers) -> Row:
    """A row whose dose was confirmed has its numbers as cells; numbers that have columns of their own stay."""
    words = " ".join(row.cells.get("dose", row.dose_words).split())
    cells = {key: text for key, text in row.cells.items() if key != "dose"}
    if not words or any(name in cells for name in ("reps", "time", "hold", "distance")):
        return replace(row, cells=cells)
    said = row.said if row.said.values else read_dose(words)
    guess = show_dose(said.values)
    is_plain = not said.unread and not said.disputed and not _wrong_dose(guess)
    unread = f" Not understood: '{said.unread}'." if said.unread else ""
    text = f"Dose of '{row.title}': '{words}'.{unread} Which numbers are meant?"
    answer = answers.ask(ImportQuestion("doses", words, text, guess, is_plain=is_plain, is_wrong=_wrong_dose))
    if answer is None:
        return replace(row, cells=cells, said=said, dose_words=words)
    given = {} if answer == LEAVE else parse_dose(answer)
    waiting = tuple(each for each in row.waiting if not each.startswith(f"{DOSE}: "))
    return replace(row, cells={**given, **cells}, waiting=waiting, said=NO_DOSE, dose_words="")


def show_dose(values: Mapping[str, str]) -> str:
    """The numbers of a dose as an exercise has them, without braces."""
    return ", ".join(f"{name}: {value}" for name, value in values.items())


def parse_dose(text: str) -> dict[str, str]:
    """The numbers of a dose that a person wrote or confirmed, by field."""
    node, _ = compose(f"dose: {{{text}}}\n", "answer")
    inner = node.get("dose") if node else None
    entries = inner.entries if isinstance(inner, MappingNode) else ()
    return {entry.key: entry.value.text for entry in entries if isinstance(entry.value, Scalar)}


def _wrong_dose(text: str) -> str:
    node, problems = compose(f"dose: {{{text}}}\n", "answer")
    inner = node.get("dose") if node else None
    if inner is not None:
        DOSE_SHAPE.read(inner, problems)
    if not problems and not {"reps", "time", "hold", "distance"} & set(parse_dose(text)):
        return "it says no reps, hold, time or distance"
    return show_problem(problems[0]).partition("error: ")[2] if problems else ""


def _part_mistakes(cells: Mapping[str, str]) -> dict[str, str]:
    """Mistakes with the arrow between what is seen and what to do; a cell without it is no pair yet and stays away."""
    if "mistakes" not in cells:
        return dict(cells)
    pairs = [_with_arrow(each) for each in _mistake_parts(cells["mistakes"])]
    if all("->" in each for each in pairs):
        return {**cells, "mistakes": "\n".join(pairs)}
    return {key: text for key, text in cells.items() if key != "mistakes"} | {"unpaired mistakes": cells["mistakes"]}


def _mistake_parts(cell: str) -> list[str]:
    """Lines; in one line parted at semicolons, else where a sentence ends after an arrow."""
    parts = [" ".join(part.split()) for part in re.split(r"[;\n]", cell) if part.strip()]
    if len(parts) > 1:
        return parts
    found: list[str] = []
    for sentence in _sentences(cell):
        if found and ("->" not in _with_arrow(sentence)) and "->" not in _with_arrow(found[-1]):
            found[-1] = f"{found[-1]} -> {sentence}" if found[-1].endswith(".") else f"{found[-1]} {sentence}"
        else:
            found.append(sentence)
    return found


def _with_arrow(text: str) -> str:
    return re.sub(r"\s*(?:->|→|=>|–>|➔|: | – | — )\s*", " -> ", text, count=1)

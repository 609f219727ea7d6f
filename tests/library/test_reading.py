"""What the reader says of files that it cannot take, word for word."""

from __future__ import annotations

import pytest

from handouts.library.prose import read_sections
from handouts.model import DoseKind, Side, Span, Tempo
from handouts.problems import show_problem
from tests.small_library import TEXTS, messages, small_library, texts_with

FOOT = "exercises/foot-lift.md"

BROKEN = [
    ("unknown key", FOOT, [("sets: 2,", "set: 2,")],
     "content/exercises/foot-lift.md:10:8: error: unknown key 'set' in a dose. Did you mean 'sets'? [unknown-key]"),
    ("a comma in a sentence in braces", FOOT, [("do: Sit up tall.}", "do: Sit up tall, then rest.}")],
     "content/exercises/foot-lift.md:14:51: error: unknown key 'then rest.' in a mistake. A sentence with a comma in it needs quotes here: \"like, this\". [unknown-key]"),
    ("missing key", FOOT, [("purpose: strength\n", "")],
     "content/exercises/foot-lift.md:2:1: error: an exercise has no 'purpose'. Add the line 'purpose: …' (what it trains, from vocabulary.yaml). [missing-key]"),
    ("list wanted", FOOT, [("regions: [knee]", "regions: knee")],
     "content/exercises/foot-lift.md:5:10: error: one value stands where a list is wanted. Write a list: [first, second], or lines that begin with '- '. [wrong-value]"),
    ("value wanted", FOOT, [("purpose: strength", "purpose: [strength]")],
     "content/exercises/foot-lift.md:6:10: error: a list stands where a name such as 'heel-raise' is wanted. Write a name such as 'heel-raise'. [wrong-value]"),
    ("empty", FOOT, [("purpose: strength", "purpose:")],
     "content/exercises/foot-lift.md:6:9: error: the value is empty where a name such as 'heel-raise' is wanted. Write a name such as 'heel-raise'. [wrong-value]"),
    ("whole number", FOOT, [("reps: 10,", "reps: 010,")],
     "content/exercises/foot-lift.md:10:23: error: '010' is not a whole number from 1 to 100. Write a whole number from 1 to 100, in digits. [wrong-value]"),
    ("out of bounds", FOOT, [("reps: 10,", "reps: 101,")],
     "content/exercises/foot-lift.md:10:23: error: 101 is outside 1 to 100. Write a whole number from 1 to 100. [wrong-value]"),
    ("unit", FOOT, [("rest: 60 s", "rest: 1:30")],
     "content/exercises/foot-lift.md:10:47: error: '1:30' is not a value with its unit, from 0 s to 600 s, such as '30 s'. Write a value with its unit, from 0 s to 600 s, such as '30 s'. [wrong-value]"),
    ("tempo", FOOT, [("tempo: 2-1-2", "tempo: slow")],
     "content/exercises/foot-lift.md:10:34: error: 'slow' is not a tempo. Write seconds to go, hold and return, such as 2-1-3 (a fourth number is a pause at the start). [wrong-value]"),
    ("tempo that no code holds", FOOT, [("reps: 5-15}", "reps: 5-15, tempo: [2-1-2, 2-20-2]}")],
     "content/exercises/foot-lift.md:11:52: error: the tempo 2-20-2 is too slow to be offered. Write at most 15 seconds to go, hold and return, and at most 7 of pause. [wrong-value]"),
    ("one tempo to choose from", FOOT, [("reps: 5-15}", "reps: 5-15, tempo: [2-1-2]}")],
     "content/exercises/foot-lift.md:11:44: error: this list has 1 entries, 2 to 12 are wanted. Add entries. [wrong-value]"),
    ("range backwards", FOOT, [("sets: 1-3", "sets: 3-1")],
     "content/exercises/foot-lift.md:11:20: error: the range '3-1' runs backwards. Write the lower number first. [wrong-value]"),
    ("date", FOOT, [("2026-09-14", "2026-02-30")],
     "content/exercises/foot-lift.md:17:14: error: '2026-02-30' is not a date. Write year, month and day as 2026-09-14. [wrong-value]"),
    ("choice", "cautions.yaml", [("kind: care", "kind: carre")],
     "content/cautions.yaml:3:27: error: 'carre' is not known here. Did you mean 'care'? [wrong-value]"),
    ("flag", "clinic.yaml", [("invented: yes", "invented: maybe")],
     "content/clinic.yaml:2:11: error: 'maybe' is neither yes nor no. Write yes or no. [wrong-value]"),
    ("code", FOOT, [("code: A222", "code: A1O2")],
     "content/exercises/foot-lift.md:2:7: error: 'A1O2' is not four characters from 2-9 and A-Z without I and O, one a letter at least. Write four characters from 2-9 and A-Z without I and O, one a letter at least. [wrong-value]"),
    ("no fence", FOOT, [("---\ncode: A222", "code: A222")],
     "content/exercises/foot-lift.md:1:1: error: the file does not begin with a line '---'. Put '---' above the keys and '---' below them. [front-matter]"),
    ("open fence", FOOT, [("---\n## How", "## How")],
     "content/exercises/foot-lift.md:1:1: error: the keys are not closed by a line '---'. Put '---' below the last key. [front-matter]"),
    ("table", FOOT, [("2. Lift your foot.", "| a | b |")],
     "content/exercises/foot-lift.md:25:1: error: a table is not used in a handout. Write it as a list. [markdown-not-allowed]"),
    ("a number that a reader would lose", FOOT, [("1. Sit on a chair.", "1. Sit tall, and count slowly to\n10. Then sit down.")],
     "content/exercises/foot-lift.md:25:1: error: the number 10 stands where 2 is next, and readers would see 2. Number the list 1, 2, 3. If 10 belongs to the sentence above, put it at the end of that line. [list-number]"),
    ("numbers that do not begin with 1", FOOT, [("1. Sit on a chair.", "3. Sit on a chair.")],
     "content/exercises/foot-lift.md:24:1: error: the number 3 stands where 1 is next, and readers would see 1. Number the list 1, 2, 3. If 3 belongs to the sentence above, put it at the end of that line. [list-number]"),
    ("numbers that stay the same", FOOT, [("2. Lift your foot.", "1. Lift your foot.")],
     "content/exercises/foot-lift.md:25:1: error: the number 1 stands where 2 is next, and readers would see 2. Number the list 1, 2, 3. If 1 belongs to the sentence above, put it at the end of that line. [list-number]"),
    ("a sentence broken before the next number", FOOT, [("2. Lift your foot.", "2. Lift your foot and count to\n3. Then lower it.")],
     "content/exercises/foot-lift.md:25:4: error: step 2 does not end with a full stop, and others of its list do. End it with one. If the number 3 belongs to its sentence, put it at the end of the line. [list-number]"),
    ("a dash before a number", FOOT, [("2. Lift your foot.", "2. Lift your foot and hold it\n- 5 seconds at most.")],
     "content/exercises/foot-lift.md:26:1: error: this line would be an item of a list, and the sign before 5 would be lost. Put it on the line above; where it begins a list, leave an empty line before it. [markdown-not-allowed]"),
    ("no heading", FOOT, [("## How to do it\n\n", "")],
     "content/exercises/foot-lift.md:22:4: error: text stands before the first '## ' heading. Put a heading such as '## How to do it' above it. [text-before-heading]"),
]


@pytest.mark.parametrize(("case", "path", "edits", "message"), BROKEN, ids=[row[0] for row in BROKEN])
def test_whole_message(case: str, path: str, edits: list[tuple[str, str]], message: str) -> None:
    """The message, word for word."""
    assert message in messages(texts_with(path, *edits))


@pytest.mark.parametrize(
    ("path", "message"),
    [
        ("exercises/Foot.md", "content/exercises/Foot.md:1:1: error: the file name 'Foot.md' cannot be used. Name it with small letters, digits and hyphens, ending in .md, directly in exercises/. [file-name]"),
        ("exercises/con.md", "content/exercises/con.md:1:1: error: the file name 'con.md' cannot be used. Name it with small letters, digits and hyphens, ending in .md, directly in exercises/. [file-name]"),
        ("exercise/foot.md", "content/exercise/foot.md:1:1: error: 'exercise/foot.md' is not part of a library. Did you mean 'exercises'? [unknown-file]"),
    ],
)
def test_file_names(path: str, message: str) -> None:
    """A file that cannot be published under its name is refused by name."""
    assert message in messages({**TEXTS, path: "---\n---\n"})


def test_missing_file() -> None:
    """A library without its clinic is told so."""
    texts = {path: text for path, text in TEXTS.items() if path != "clinic.yaml"}
    assert messages(texts) == [
        "content/clinic.yaml:1:1: error: the library has no clinic.yaml. Write clinic.yaml; 'handouts start' shows one. [missing-file]"
    ]


def test_all_problems_at_once() -> None:
    """Two faults in one file and one in another are all said, sorted by place."""
    texts = texts_with(FOOT, ("reps: 10,", "reps: x,"), ("purpose: strength\n", ""))
    texts["tiers.yaml"] = texts["tiers.yaml"].replace("means: More load.", "meens: More load.")
    found = [message.split(": ")[0] for message in messages(texts)]
    assert found == [
        "content/exercises/foot-lift.md:2:1",
        "content/exercises/foot-lift.md:9:23",
        "content/tiers.yaml:3:5",
        "content/tiers.yaml:3:32",
    ]


def test_typed_values() -> None:
    """The dose of the small library, typed."""
    dose = small_library().exercise["foot-lift"].dose
    assert (dose.sets, dose.reps, dose.rest_seconds, dose.days, dose.side) == (2, 10, 60, 3, Side.TOGETHER)
    assert (dose.tempo, dose.effort, dose.kind) == (Tempo(2, 1, 2), Span(3, 5), DoseKind.REPS)


def test_equality_is_about_meaning() -> None:
    """The same words on another line are the same exercise."""
    moved = texts_with(FOOT, ("code: A222\n", "\n\ncode: A222\n"))
    first, second = small_library().exercise["foot-lift"], small_library(moved).exercise["foot-lift"]
    assert first == second
    assert first.title.place != second.title.place


@pytest.mark.parametrize("gap", ["\n", "\n\n", "\n\n\n"])
def test_a_numbered_list_goes_on_over_empty_lines(gap: str) -> None:
    """Its items are one list, so that readers see the numbers that the author wrote."""
    sections, problems = read_sections(f"## How\n\n1. Sit.{gap}2. Lift.{gap}3. Lower.\n", "x.md", 1)
    assert [(block.kind, len(block.items)) for block in sections[0].blocks] == [("steps", 3)]
    assert problems == []


def test_two_lists_begin_with_1_each() -> None:
    """After other text a list begins anew."""
    sections, problems = read_sections("## How\n\n1. Sit.\n\nThen:\n\n1. Lift.\n2. Lower.\n", "x.md", 1)
    assert [(block.kind, len(block.items)) for block in sections[0].blocks] == [("steps", 1), ("paragraph", 1), ("steps", 2)]
    assert problems == []


def list_problems(body: str) -> list[str]:
    """What is said of a numbered list."""
    _, problems = read_sections("## How\n\n" + body, "x.md", 1)
    return [show_problem(problem) for problem in problems]


def test_only_the_first_break_of_a_list_is_told() -> None:
    """A number that was wrapped puts every number below it out of step: the one to mend is named, and no other."""
    said = list_problems("1. Sit tall.\n2. Count slowly to\n10. Then sit down.\n3. Stand up.\n4. Rest.\n\nA line.\n\n2. Again.\n")
    assert said == [
        "x.md:5:1: error: the number 10 stands where 3 is next, and readers would see 3. Number the list 1, 2, 3. "
        "If 10 belongs to the sentence above, put it at the end of that line. [list-number]",
        "x.md:11:1: error: the number 2 stands where 1 is next, and readers would see 1. Number the list 1, 2, 3. "
        "If 2 belongs to the sentence above, put it at the end of that line. [list-number]",
    ]


def test_a_wrapped_number_that_fits() -> None:
    """A step that breaks off, and a number below that happens to be the next one, is refused where others end whole."""
    assert list_problems("1. Sit tall.\n2. Count slowly to\n3. Then sit down.\n") == [
        "x.md:4:4: error: step 2 does not end with a full stop, and others of its list do. "
        "End it with one. If the number 3 belongs to its sentence, put it at the end of the line. [list-number]"
    ]
    assert list_problems("1. sit tall\n2. lift a foot\n3. rest\n") == []
    assert list_problems("1. Say \u2018stop.\u2019\n2. Rest.\n") == []

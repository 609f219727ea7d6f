"""A clinic's own workbook and leaflets become its library: a person's answers are replayed, from a wheel, outside the checkout.

Takes some seconds, since a wheel is built and every command is a process of its own: that is what it tries.
"""

from __future__ import annotations

import os
import re
import subprocess
import sys
import zipfile
from pathlib import Path
from typing import Any

import pytest

from tests.intake.clinic_files import HEAD, leaflets, picture, rows, workbook
from tests.test_wheel import build

READ_SECONDS, LINE_SECONDS, ENTER_SECONDS, KEY_SECONDS = 5.0, 2.5, 1.0, 0.5
"""A person reads a question, a line of a list to confirm, presses Enter, types a sign: slower than practised typing, 0.28 s a key at 40 words a minute
(keystroke-level model, 1980, value from memory); the seconds of reading are common practice, no source."""
MOST_MINUTES = 15
TODAY = "2026-11-30"
ANSWERS: tuple[tuple[str, tuple[str, ...]], ...] = (
    (r"'(?:lower leg|hip|ankle|back|shoulder|upper back|arm)' .* no word of 'regions'", ("+",)),
    (r"no word of 'purposes'.*", ("+",)),
    (r"no word of 'equipment'", ("+",)),
    (r"'lying on (?:back|side)' .* no word of 'positions'", ("+", "floor")),
    (r"'Your calf swells or hurts\.'", ("+", "stop", "Stop. Do not rub it. Call us now.", "clinic", "Common practice, no source")),
    (r"'You feel dizzy\.'", ("+", "stop", "Stop. Sit down until it has passed. Call us.", "clinic", "Common practice, no source")),
    (r"'You are out of breath\.'", ("+", "stop", "Stop. Sit down. Call us if it does not ease.", "clinic", "Common practice, no source")),
    (r"'Your back hurts more\.'", ("+", "stop", "Stop. Rest. Call us before you try it again.", "clinic", "Common practice, no source")),
    (r"'Your hand goes numb\.'", ("+", "stop", "Stop. Call us before you try it again.", "clinic", "Common practice, no source")),
    (r"'Stop if your calf swells or hurts\.'", ("your-calf",)),
    (r"'Do not do it in the first 6 weeks", ("+", "care", "Ask your surgeon first.", "Common practice, no source")),
    (r"'Pain above 3 out of 10\.'", ("1",)),
    (r"'Seated slide' has no 'picture words'", ("-",)),
    (r"'Head turn' has no 'picture words'", ("A person sits and turns the head to one side.",)),
    (r"no 'picture source'", ("drawn by the clinic, 2026",)),
    (r"no 'picture licence'", ("own work",)),
    (r"no 'tempo'", ("2-1-2",)),
    (r"no 'rest'", ("60 s",)),
    (r"no 'tier'", ("begin",)),
    (r"no 'sources'", ("Our own leaflets",)),
    (r"no 'reviewed on'", ("2026-09-14",)),
    (r"no 'reviewed by'", ("lead physiotherapist",)),
    (r"no 'cautions'", ("sharp-pain",)),
    (r"'(?:Towel squeeze|Seated slide|Wall slide)' has no 'regions'", ("knee",)),
    (r"'Head turn' has no 'regions'", ("back",)),
    (r"'Calf stretch' has no 'regions'", ("lower-leg",)),
    (r"'Grip squeeze' has no 'regions'", ("arm",)),
    (r"'(?:Towel squeeze|Grip squeeze|Wall slide)' has no 'purpose'", ("strength",)),
    (r"'(?:Seated slide|Head turn|Calf stretch)' has no 'purpose'", ("mobility",)),
    (r"'(?:Towel squeeze|Seated slide|Head turn|Grip squeeze)' has no 'position'", ("seated",)),
    (r"'(?:Calf stretch|Wall slide)' has no 'position'", ("standing",)),
)
"""What the person answers where Enter does not do."""


class Person:
    """Sits at the terminal: reads each question, answers, and counts the time that takes."""

    def __init__(self) -> None:
        self.questions: list[str] = []
        self.keys = 0
        self.enters = 0
        self.waiting: list[str] = []

    @property
    def minutes(self) -> float:
        """What the answers take."""
        lines = sum(len(re.findall(r"^ +\d+  .*  ->  ", shown, re.M)) for shown in self.questions)
        return (lines * LINE_SECONDS + len(self.questions) * READ_SECONDS + self.enters * ENTER_SECONDS + self.keys * KEY_SECONDS) / 60

    def answer(self, shown: str) -> str:
        """The answer to what was shown last."""
        if self.waiting:
            typed = self.waiting.pop(0)
        else:
            self.questions.append(shown)
            guess = re.findall(r"\[(.*)\] > $", shown)[-1]
            first, *self.waiting = next((answers for pattern, answers in ANSWERS if re.search(pattern, shown)), ("",)) if not guess else ("",)
            typed = first
            assert guess or typed, f"nobody knows what to answer to: {shown}"
        self.keys += len(typed)
        self.enters += 1
        return typed


def run(where: Path, environment: dict[str, str], person: Person | None, *words: str) -> tuple[int, str]:
    """A command of the wheel, its questions answered; its exit status and all that it said."""
    return run_answered([sys.executable, "-m", "handouts", *words], where, environment, person)


def run_answered(command: list[str], where: Path, environment: dict[str, str], person: Person | None, **user: Any) -> tuple[int, str]:
    """A command, its questions answered, perhaps as another user; its exit status and all that it said."""
    with subprocess.Popen(command, cwd=where, env=environment, stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, **user) as process:
        assert process.stdin and process.stdout
        said, last = b"", b""
        while piece := os.read(process.stdout.fileno(), 65536):
            said, last = said + piece, last + piece
            if person is not None and last.endswith(b"> "):
                process.stdin.write(f"{person.answer(last.decode())}\n".encode())
                process.stdin.flush()
                last = b""
    return process.returncode, said.decode()


@pytest.fixture(scope="module")
def outside(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, dict[str, str]]:
    """A folder with the clinic's files, and the surroundings in which the wheel is all there is."""
    folder = tmp_path_factory.mktemp("clinic")
    zipfile.ZipFile(build(folder)).extractall(folder / "site")
    (folder / "exercises.xlsx").write_bytes(workbook())
    for name, data in leaflets().items():
        (folder / name).write_bytes(data)
    return folder, {**os.environ, "PYTHONPATH": str(folder / "site"), "PYTHONUNBUFFERED": "1"}


def test_from_a_workbook_and_leaflets_to_a_green_check(outside: tuple[Path, dict[str, str]]) -> None:
    """25 rows and six exercises in five leaflets pass the check after less than 15 minutes of answers; nothing is asked twice."""
    where, environment = outside
    assert run(where, environment, None, "start", "lib")[0] == 0
    person = Person()
    status, said = run(where, environment, person, "import", "exercises.xlsx", *leaflets(), "lib", "--ask", "--quiet")
    assert "31 exercises written" in said
    assert not re.findall(r"error: .*", said)
    assert status == 0
    assert re.findall(r"(\d+) pictures? of this file", said) == ["1", "1", "1"]
    status, said = run(where, environment, None, "check", "lib", f"--today={TODAY}")
    assert (status, re.findall(r": error: .*", said)) == (0, [])
    assert person.minutes < MOST_MINUTES, person.minutes
    print(f"{len(person.questions)} questions, {person.keys} keys, {person.minutes:.1f} minutes")  # shown with pytest -s

    texts = {path.stem: path.read_text() for path in (where / "lib/exercises").glob("*.md")}
    assert "dose: {sets: 3, reps: 10, side: both, tempo: 2-1-2, rest: 60 s, days: 2}" in texts["knee-straightening"]
    assert "review: {on: 2026-09-14, by: lead physiotherapist}" in texts["knee-straightening"]
    assert "cautions: [your-calf-swells-or-hurts]" in texts["heel-raise"]
    assert texts["chair-stand"].endswith("1. Sit near the front.\n2. Lean forward.\n3. Stand up.\n4. Sit down slowly.\n")
    assert sorted(path.name for path in (where / "lib/pictures").iterdir()) == ["head-turn.png", "towel-squeeze.png"]
    assert (where / "lib/pictures/head-turn.png").read_bytes() == picture()
    said_of_it = '"A person on a chair presses one knee down on a rolled towel.", source: "drawn by the clinic, 2026", licence: own work}'
    assert f"picture: {{file: towel-squeeze.png, words: {said_of_it}" in texts["towel-squeeze"].replace("words: A person on a chair presses one knee down on a rolled towel.,", 'words: "A person on a chair presses one knee down on a rolled towel.",')
    assert "picture" not in texts["seated-slide"]
    # the stop sentences of the leaflets are cautions, none is a step, a mistake or lost
    assert "cautions: [sharp-pain, do-not-do-it-in-the-first-6-weeks-after]" in texts["wall-slide"]
    assert "cautions: [sharp-pain, your-calf-swells-or-hurts]" in texts["calf-stretch"]
    for text in texts.values():
        assert not re.search(r"^\d+\. .*(?:[Ss]top|pain|[Dd]ose|thighs work|Knees over)", text, re.M), text
    # the same files again: everything is there already, and nobody is asked
    again = Person()
    status, said = run(where, environment, again, "import", "exercises.xlsx", *leaflets(), "lib", "--ask", "--quiet")
    assert (status, again.questions) == (1, [])
    assert said.count("already") == 31


def test_a_corrected_sheet_changes_what_is_there(outside: tuple[Path, dict[str, str]]) -> None:
    """With --update rows are found by code, else by title; only what they give changes, and what changed is said."""
    where, environment = outside
    library = where / "lib"
    if not library.exists():
        pytest.skip("the library is made by the test above")
    code = (library / "exercises/heel-slide.md").read_text().split("code: ")[1][:4]
    (library / "exercises/bridge-up.md").write_text((library / "exercises/bridge-up.md").read_text().replace("why:", "# kept by hand\nwhy:"))
    before = {path.name: path.read_text() for path in (library / "exercises").glob("*.md")}
    head = (*HEAD, "Code", "Rest")
    slide, bridge = (next(row for row in rows() if row[1] == title) for title in ("Heel slide", "Bridge up"))
    changed = [(*slide[:1], "Heel slide on the bed", *slide[2:6], "Lie down. Slide one heel to you. Wait. Slide it back.", *slide[7:], code, ""), (*bridge, "", "45 s")]
    (where / "corrected.xlsx").write_bytes(workbook(head, changed))
    status, said = run(where, environment, Person(), "import", "corrected.xlsx", "lib", "--ask", "--update", "--quiet")
    assert "0 exercises written to lib/exercises, 2 changed" in said
    assert "'Heel slide on the bed' changes: title, steps" in said
    assert "'Bridge up' changes: dose" in said
    assert status == 0
    after = {path.name: path.read_text() for path in (library / "exercises").glob("*.md")}
    assert {name for name in before if before[name] != after[name]} == {"heel-slide.md", "bridge-up.md"}
    assert f"code: {code}" in after["heel-slide.md"]
    assert "3. Wait.\n4. Slide it back." in after["heel-slide.md"]
    assert after["bridge-up.md"] == before["bridge-up.md"].replace("rest: 60 s", "rest: 45 s")
    assert run(where, environment, None, "check", "lib", f"--today={TODAY}")[0] == 0

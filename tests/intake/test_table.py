"""A spreadsheet as exercise files: what is kept, what is named as missing, what is refused."""

from __future__ import annotations

from pathlib import Path

import pytest

from handouts.cli import main
from handouts.importers.table import known_columns, new_code, slug_of, take_in
from handouts.library.declare import EXERCISE
from handouts.library.dose_shapes import DOSE
from handouts.library.read import read_exercise
from handouts.problems import Place, Problem, show_problem
from handouts.source.nodes import Scalar
from tests.small_library import TEXTS, messages
from tests.test_cli import TODAY, write

WHOLE = '''\
Name,Tier,Regions,Purpose,Position,Equipment,Why,Sets,Reps,Tempo,Rest,Days,Effort,Range sets,Cues,Feel,Mistakes,Cautions,Ready when,Reviewed on,Reviewed by,Sources,Steps,After,Easier
Toe wave,wake,knee,strength,sitting,chair,You use your toes to balance.,2,10,2-1-2,60 s,3,4-6,1-3,"Sit tall; Spread your toes",You feel your foot work.,"Your knee moves. -> Hold it still.
You curl your toes. -> Spread them.",stop-pain,You can do 2 sets of 15.,2026-09-14,lead physiotherapist,"common practice, no source","1. Sit on a chair.
2) Lift your toes: one by one.
- Lower them.",,"Lift fewer toes at a time.; foot-lift"
'''  # fmt: skip


def said(problems: tuple[Problem, ...]) -> list[str]:
    return [show_problem(problem) for problem in problems]


def test_a_whole_row_is_a_whole_exercise() -> None:
    """A row with everything gives a file that the library takes without a problem but for its rhythm, figure and programme."""
    taken = take_in(WHOLE.encode(), "sheet.csv")
    assert said(taken.problems) == []
    text = taken.files["exercises/toe-wave.md"].decode()
    found = messages({**TEXTS, "exercises/toe-wave.md": text})
    assert [line.rpartition("[")[2] for line in found if "choppy-text" not in line] == ["in-no-programme]", "no-figure]"]
    exercise, problems = read_exercise(text.encode(), "f", "toe-wave")
    assert exercise is not None, problems
    assert [step.text for step in exercise.steps] == ["Sit on a chair.", "Lift your toes: one by one.", "Lower them."]
    assert [(each.see.text, each.do.text) for each in exercise.mistakes] == [("Your knee moves.", "Hold it still."), ("You curl your toes.", "Spread them.")]
    assert [str(way.change or way.exercise) for way in exercise.easier] == ["Lift fewer toes at a time.", "foot-lift"]
    assert [cue.text for cue in exercise.cues] == ["Sit tall", "Spread your toes"]
    assert (exercise.dose.sets, exercise.dose.reps, exercise.dose.rest_seconds, exercise.sources) == (2, 10, 60, ("common practice, no source",))


def test_missing_cells_are_named_and_nothing_is_made_up() -> None:
    """A thin row is written as far as it goes; what it lacks is one problem with its row."""
    taken = take_in(b"title;tier;steps;reps\nToe wave;wake;Sit. Lift your toes.;10\n", "sheet.csv")
    assert said(taken.problems) == [
        "sheet.csv:2:1: error: 'Toe wave' has no regions; no purpose; no position; no why; no cues; no feel; no mistakes; no cautions; no sources; "
        "no reviewed on; no reviewed by. Add it to the file that was written. [table-missing]"
    ]
    text = taken.files["exercises/toe-wave.md"].decode()
    code = text.split("code: ")[1][:4]
    assert text == f"---\ncode: {code}\ntitle: Toe wave\ntier: wake\nequipment: []\ndose: {{reps: 10}}\n---\n## How to do it\n\n1. Sit. Lift your toes.\n"


def test_wrong_values_stand_with_their_file() -> None:
    """A cell that cannot be read is said where the author will mend it."""
    taken = take_in(WHOLE.replace(",60 s,", ",a minute,").encode(), "sheet.csv")
    assert any(line.startswith("exercises/toe-wave.md:10:") and "'a minute' is not a value with its unit" in line for line in said(taken.problems))


def test_unknown_and_repeated_columns() -> None:
    """A column that is not understood is left out with a notice and a suggestion."""
    taken = take_in(b"title,pupose,Name\nToe wave,strength,Other\n", "sheet.csv")
    assert said(taken.problems)[:2] == [
        "sheet.csv:1:2: notice: the column 'pupose' is not understood, so it is left out. Did you mean 'purpose'? [table-column]",
        "sheet.csv:1:3: notice: the column 'Name' stands twice. Did you mean 'title'? [table-column]",
    ]


def test_nothing_is_replaced() -> None:
    """A title that is there already, in the library or the table, and a code that is taken, leave their rows out."""
    table = b"title,code\nToe wave,\ntoe  WAVE!,\nFoot lift,\nHeel,A222\n"
    taken = take_in(table, "sheet.csv", used_codes={"A222"}, used_slugs={"foot-lift"})
    assert list(taken.files) == ["exercises/toe-wave.md"]
    assert [(problem.place.line, problem.rule) for problem in taken.problems if problem.rule != "table-missing"] == [
        (3, "table-repeated"), (4, "table-repeated"), (5, "repeated-code"),
    ]  # fmt: skip


def test_codes_are_new_readable_and_lasting() -> None:
    """The same name gives the same code, another where that is taken; each has a letter and no sign that is misread."""
    codes: set[str] = set()
    for number in range(2000):
        code = new_code(f"exercise-{number}", (), codes)
        assert code not in codes
        codes.add(code)
    problems: list[Problem] = []
    assert all(EXERCISE.fields["code"].shape.read(scalar(code), problems) == code for code in codes)
    assert new_code("step-up", (), ()) == new_code("step-up", (), ())
    assert new_code("step-up", {new_code("step-up", (), ())}, ()) != new_code("step-up", (), ())


def scalar(text: str) -> Scalar:
    return Scalar(text, Place("f"))


@pytest.mark.parametrize(("title", "slug"), [("Élévation à genoux", "elevation-a-genoux"), ("  Step-up!! (low) ", "step-up-low"), ("抬腿", ""), ("a" * 80, "a" * 64)])
def test_file_names(title: str, slug: str) -> None:
    """Small letters, digits and hyphens; a title without such letters has none."""
    assert slug_of(title) == slug


def test_columns_cover_the_front_matter() -> None:
    """Every key of an exercise and every field of a dose can be given by a column, but for the figure."""
    assert set(EXERCISE.fields) - set(known_columns()) == {"dose", "dose range", "review", "figure"}
    assert set(DOSE.fields) <= set(known_columns())


@pytest.mark.parametrize("data", [b"", b"title\n", b"\xff\xfe title", b"tier\nwake\n"])
def test_what_is_no_table(data: bytes) -> None:
    """Empty, without rows, not UTF-8, without titles: an error and no file."""
    taken = take_in(data, "sheet.csv")
    assert taken.files == {}
    assert taken.problems


def test_command(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """From a spreadsheet to a library that builds: files are added, and a second run replaces nothing."""
    library, table = write(tmp_path / "lib"), tmp_path / "sheet.csv"
    table.write_text(WHOLE, encoding="utf-8")
    assert main(["import", str(table), str(library)]) == 0
    assert "1 exercise written to" in capsys.readouterr().out
    before = (library / "exercises/toe-wave.md").read_bytes()
    assert main(["check", str(library), TODAY]) == 0
    assert main(["import", str(table), str(library)]) == 1
    assert (library / "exercises/toe-wave.md").read_bytes() == before
    assert main(["import", str(tmp_path / "none.csv"), str(library)]) == 2


def test_a_number_that_does_not_count_stays() -> None:
    """In a cell the numbers 1, 2, 3 count its values; any other is part of the text."""
    taken = take_in(b"title,steps\nWall slide,1. Count to; 10. Then stand up; 3. Rest\n", "t.csv")
    assert b"1. Count to\n2. 10. Then stand up\n3. Rest\n" in taken.files["exercises/wall-slide.md"]

"""A spreadsheet as exercise files: what is kept, what is named as missing, what is refused."""

from __future__ import annotations

from pathlib import Path

import pytest

from handouts.cli import main
from handouts.importers.answers import Answers, ImportQuestion, read_answers, write_answers
from handouts.importers.columns import known_columns
from handouts.importers.dose_words import read_dose
from handouts.importers.known import Known
from handouts.importers.lines import DocumentError
from handouts.importers.sheet import read_csv, read_sheet
from handouts.importers.table import ImportedFiles, new_code, slug_of, take_in_table
from handouts.importers.terms import guess_caution, guess_term
from handouts.library.declare import EXERCISE
from handouts.library.dose_shapes import DOSE
from handouts.library.read import read_exercise
from handouts.problems import Place, Problem, show_problem
from handouts.source.nodes import Scalar
from tests.intake.clinic_files import workbook
from tests.intake.test_documents import archive
from tests.small_library import TEXTS, messages
from tests.test_cli import TODAY, write

WHOLE = '''\
Name,Tier,Regions,Purpose,Position,Equipment,Why,Sets,Reps,Tempo,Rest,Days,Effort,Range sets,Cues,Feel,Mistakes,Cautions,Ready when,Reviewed on,Reviewed by,Sources,Steps,After,Easier
Toe wave,wake,knee,strength,sitting,chair,You use your toes to balance.,2,10,2-1-2,60 s,3,4-6,1-3,"Sit tall; Spread your toes",You feel your foot work.,"Your knee moves. -> Hold it still.
You curl your toes. -> Spread them.",stop-pain,You can do 2 sets of 15.,2026-09-14,lead physiotherapist,"common practice, no source","1. Sit on a chair.
2) Lift your toes: one by one.
- Lower them.",,"Lift fewer toes at a time.; foot-lift"
'''  # fmt: skip


def take_in(data: bytes, file: str, known: Known | None = None) -> ImportedFiles:
    """A CSV file, nobody being asked."""
    return take_in_table(read_csv(data, file), file, known)


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
    keys = ("regions", "purpose", "position", "why", "cues", "feel", "mistakes", "cautions", "sources", "reviewed on", "reviewed by", "days", "tempo")
    mend = "Add a column and import again, answer import's questions, or write it into the files."
    assert said(taken.problems) == [f"sheet.csv:2:1: error: no '{key}' in 1 of 1 rows (2). {mend} [table-missing]" for key in keys]
    text = taken.files["exercises/toe-wave.md"].decode()
    code = text.split("code: ")[1][:4]
    assert text == f"---\ncode: {code}\ntitle: Toe wave\ntier: wake\nequipment: []\ndose: {{reps: 10}}\n---\n## How to do it\n\n1. Sit.\n2. Lift your toes.\n"


def test_wrong_values_stand_with_their_file() -> None:
    """A cell that cannot be read is said where the author will mend it."""
    taken = take_in(WHOLE.replace(",60 s,", ",a minute,").encode(), "sheet.csv")
    assert any(line.startswith("exercises/toe-wave.md:10:") and "'a minute' is not a value with its unit" in line for line in said(taken.problems))


def test_unknown_and_repeated_columns() -> None:
    """A column that is not understood is left out with a notice and a suggestion."""
    taken = take_in(b"title,pupose,Name\nToe wave,strength,Other\n", "sheet.csv")
    assert said(taken.problems)[:2] == [
        "sheet.csv:1:2: notice: the column 'pupose' is not understood, so it is left out. Did you mean 'purpose'? [table-column]",
        "sheet.csv:1:3: notice: the column 'Name' gives 'title' a second time, so it is left out. Keep one of the columns that give 'title'. [table-column]",
    ]


def test_nothing_is_replaced() -> None:
    """A title that is there already, in the library or the table, and a code that is taken, leave their rows out."""
    table = b"title,code\nToe wave,\ntoe  WAVE!,\nFoot lift,\nHeel,A222\n"
    taken = take_in(table, "sheet.csv", Known(codes=frozenset({"A222"}), slugs=frozenset({"foot-lift"})))
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
    """Every key of an exercise and every field of a dose can be given by a column, but for figure and picture."""
    assert set(EXERCISE.fields) - set(known_columns()) == {"dose range", "review", "figure", "picture"}
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


@pytest.mark.parametrize(("cell", "dose", "unread"), [
    ("3x10 each side, 2x/week", {"sets": "3", "reps": "10", "side": "both", "days": "2"}, ""),
    ("10 reps x 3 sets, daily", {"sets": "3", "reps": "10", "days": "7"}, ""),
    ("hold 5 sec, 10x, twice a day", {"reps": "10", "hold": "5 s", "days": "7", "times": "2"}, ""),
    ("2 x 30s hold each leg, 3x/wk", {"sets": "2", "hold": "30 s", "side": "both", "days": "3"}, ""),
    ("3 x 8-12, 3 times a week", {"sets": "3", "days": "3"}, "8-12"),
    ("walk 10 min, 5 days/week", {"time": "10 min", "days": "5"}, "walk"),
    ("5s hold x 10", {"reps": "10", "hold": "5 s"}, ""),
    ("2 sets 12 reps, every day, rest 1 min", {"sets": "2", "reps": "12", "rest": "1 min", "days": "7"}, ""),
    ("2x12, RPE 4-6, rest 60 s, 3x/week", {"sets": "2", "reps": "12", "rest": "60 s", "days": "3", "effort": "4-6"}, ""),
    ("3x10, 2kg", {"sets": "3", "reps": "10", "weight": "2 kg"}, ""),
    ("30 sec x 3, once daily", {"sets": "3", "time": "30 s", "days": "7", "times": "1"}, ""),
    ("as tolerated", {}, "as tolerated"),
])  # fmt: skip
def test_a_dose_as_a_clinician_writes_it(cell: str, dose: dict[str, str], unread: str) -> None:
    """Numbers by field; what was not understood is kept, and a range is left to a person."""
    found = read_dose(cell)
    assert (found.values, found.unread) == (dose, unread)


def test_a_caution_is_never_guessed_by_its_letters() -> None:
    """A wrong guess is one Enter away from the patient: only the caution that has the words that matter is guessed."""
    cautions = {"sharp-pain": "You feel a sharp pain, or pain above 5 out of 10.", "chest-pain": "You feel pain or pressure in your chest.", "dizzy": "You feel dizzy or faint."}
    guesses = {"You feel dizzy.": "dizzy", "You feel sick.": "", "Stop if you feel a sharp pain.": "sharp-pain", "You feel pain.": "", "Your calf swells.": "", "You feel pressure in the chest": "chest-pain"}
    assert {sentence: guess_caution(sentence, cautions) for sentence in guesses} == guesses
    assert [guess_term(word, {"knee": "knee", "thigh": "thigh", "calf": "calf"}) for word in ("hip", "Knees", "ankle", "the thigh")] == ["", "knee", "", "thigh"]


def test_a_sheet_in_another_encoding_is_read_and_said() -> None:
    """Windows-1252, as Excel saves CSV, and UTF-16; the first says which letter was guessed."""
    table = "title,why\nCafé step,You’re steady.\n"
    old = take_in(table.encode("cp1252"), "sheet.csv")
    assert "why: \"You’re steady.\"" in old.files["exercises/cafe-step.md"].decode()
    assert said(old.problems)[0] == (
        "sheet.csv:2:1: notice: this is not UTF-8, so it is read as Windows-1252, as spreadsheets save it; here it has 'é'. "
        "Look at the accents of the files that are written; save the sheet as UTF-8 if they are wrong. [table-encoding]"
    )
    assert take_in(table.encode("utf-16"), "sheet.csv").files == take_in(table.encode(), "sheet.csv").files


def test_answers_are_kept_and_read_again() -> None:
    """What is written is what is read; a topic that is none is a problem; an answer that no longer fits is asked again."""
    answers = Answers({"doses": {"3x10: \"slow\"": "sets: 3, reps: 10"}, "columns": {"How many?": "dose"}})
    again, problems = read_answers(write_answers(answers), "import.yaml")
    assert (again.given, problems) == (answers.given, [])
    _, problems = read_answers(b"colums:\n  a: b\n", "import.yaml")
    assert said(tuple(problems)) == [
        "import.yaml:1:1: error: 'colums' is no topic of answers. Write one of columns, terms, doses, cautions, gaps with lines 'what is asked: answer' below it. [import-answers]"
    ]
    question = ImportQuestion("terms", "regions: leg", "?", choices={"knee": "knee"})
    answers.add(question, "thigh")
    assert answers.ask(question) is None
    answers.add(question, "knee")
    assert answers.ask(question) == "knee"


@pytest.mark.parametrize("data", [b"PK", workbook()[:-40], archive("xl/workbook.xml", "<!DOCTYPE a [<!ENTITY b 'c'>]><a>&b;</a>"), archive("xl/workbook.xml", "<a/>")])
def test_hostile_workbooks_are_refused(data: bytes) -> None:
    """No zip, cut off, with entities, without a sheet."""
    with pytest.raises(DocumentError):
        read_sheet(data, "a.xlsx", ".xlsx")


def test_a_workbook_is_the_table_that_a_person_sees() -> None:
    """Days as days, numbers without a tail, the sheet that is not hidden, cells where they stand."""
    sheet = read_sheet(workbook(), "a.xlsx", ".xlsx")
    assert sheet.rows[0][:2] == ("Our exercises, spring", "")
    assert sheet.rows[8][:3] == ("7", "Leg lift to the side", "hip")
    assert sheet.rows[8][14:] == ("2026-09-14", "ask Dana")
    assert len(sheet.rows) == 27

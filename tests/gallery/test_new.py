"""``handouts new``: an exercise file with a free code and the figure of a movement, whose gaps ``check`` names."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from handouts.cli import main
from handouts.gallery.draft import gaps_of
from handouts.gallery.movements import find_movement
from handouts.library.declare import EXERCISE
from handouts.source.nodes import Mapping, compose


@pytest.fixture
def library(tmp_path: Path) -> Path:
    """A library that was just started."""
    assert main(["start", str(tmp_path / "lib")]) == 0
    return tmp_path / "lib"


def test_new_writes_the_figure_and_marks_each_gap(library: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """The figure is the gallery's to the letter, the code is nobody's, and what is left open is what an exercise needs."""
    capsys.readouterr()
    assert main(["new", "heel-slides", "--like", "Heel slide, lying on the back", "--library", str(library)]) == 0
    text = (library / "exercises/heel-slides.md").read_text()
    front, problems = compose(text.split("---\n")[1], "heel-slides.md")
    assert front is not None and not problems
    movement = find_movement("heel-slide-supine")
    assert movement is not None
    figure = front.get("figure")
    assert isinstance(figure, Mapping) and [entry.key for entry in figure.entries] == [entry.key for entry in movement.written.entries]
    assert "figure:\n" + "".join(f"  {line}\n" for line in movement.figure.splitlines()) in text
    written = {entry.key for entry in front.entries}
    needed = {key for key, field in EXERCISE.fields.items() if field.required}
    assert needed - written == set(gaps_of(text)) - {"the steps"}
    assert "dose" not in written and "cautions" not in written and "cues" not in written
    assert ", ".join(gaps_of(text)) in capsys.readouterr().out


def test_check_names_the_gaps_and_nothing_of_the_figure(library: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Until it is filled in, the library has errors of missing keys alone."""
    main(["new", "knee-bends", "--like", "mini-squat", "--library", str(library)])
    capsys.readouterr()
    assert main(["check", str(library)]) == 1
    said = capsys.readouterr()
    rules = set(re.findall(r"\[([a-z-]+)\]$", said.out + said.err, re.MULTILINE))
    assert rules == {"missing-key"}


def test_codes_are_free_and_nothing_is_written_over(library: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Two exercises from one movement have two codes; a name that is taken is refused and its file stays."""
    for name in ("first", "second"):
        assert main(["new", name, "--like", "squat", "--library", str(library)]) == 0
    texts = [(library / f"exercises/{name}.md").read_text() for name in ("first", "second")]
    codes = re.findall(r"^code: (\w{4})$", "".join(path.read_text() for path in (library / "exercises").glob("*.md")), re.MULTILINE)
    assert len(codes) == len(set(codes)) == 4
    capsys.readouterr()
    assert main(["new", "first", "--like", "bridge", "--library", str(library)]) == 2
    assert capsys.readouterr().err == "handouts: there is an exercise 'first' already. Choose another name.\n"
    assert (library / "exercises/first.md").read_text() == texts[0]


def test_words_of_the_vocabulary_alone_are_written(library: Path) -> None:
    """What the library declares is filled in; what it does not is named in a remark with what there is."""
    main(["new", "leg-lift", "--like", "knee-extension-ankle-weight", "--library", str(library)])
    text = (library / "exercises/leg-lift.md").read_text()
    assert "\nregions: [knee, thigh]\n" in text and "\nposition: seated\n" in text and "\nequipment: [chair]\n" in text
    assert "# equipment: the gallery says ankle-weight, which vocabulary.yaml does not declare; it has chair.\n" in text


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["x", "--like", "hamstring strap"], "handouts: the gallery has no movement 'hamstring strap'. The nearest are:\n  hamstring-stretch-strap: "),
        (["Knee Bend", "--like", "squat"], "handouts: 'Knee Bend' names no exercise file. Write small letters, digits and hyphens, as knee-bend.\n"),
        (["../x", "--like", "squat"], "handouts: '../x' names no exercise file. Write small letters, digits and hyphens, as x.\n"),
    ],
)
def test_what_is_refused(library: Path, words: list[str], said: str, capsys: pytest.CaptureFixture[str]) -> None:
    """A movement that is not there, and a name that is none: nothing is written."""
    before = sorted(library.rglob("*.md"))
    capsys.readouterr()
    assert main(["new", *words, "--library", str(library)]) == 2
    assert capsys.readouterr().err.startswith(said)
    assert sorted(library.rglob("*.md")) == before


def test_no_library_no_file(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A folder that is no library is left as it is."""
    assert main(["new", "x", "--like", "squat", "--library", str(tmp_path)]) == 2
    assert f"'{tmp_path}' is no library. Make one with 'handouts start" in capsys.readouterr().err
    assert list(tmp_path.iterdir()) == []


def test_demands_that_the_figure_tells_are_not_declared(library: Path) -> None:
    """Only what no picture shows is written: bending over, but not that legs carry weight or hands hold a load."""
    vocabulary = library / "vocabulary.yaml"
    demands = ("weight-on-leg", "load-in-hands", "bending-over", "active-shoulder", "resisted-shoulder")
    vocabulary.write_text(vocabulary.read_text() + "demands:\n" + "".join(f"  - {{slug: {slug}, name: {slug}}}\n" for slug in demands))
    main(["new", "pick-up", "--like", "deadlift-weights", "--library", str(library)])
    assert "\ndemands: [bending-over]\n" in (library / "exercises/pick-up.md").read_text()

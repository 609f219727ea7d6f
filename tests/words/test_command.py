"""``handouts words`` as a user runs it: what it writes, what it refuses, how it exits."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from handouts.cli import main
from handouts.library.texts import looks_like_a_name
from handouts.words.catalogue import write_catalogue
from tests.small_library import small_library, texts_with
from tests.test_cli import write
from tests.words.sample import change_one, translated

ALSO = ("languages: {source: en}", "languages: {source: en, also: [es]}")
BROKEN = ("code: A222\n", "code: A222\ncode: A223\n")


def a_desk(folder: Path, missing: str = "") -> Path:
    """The small library in Spanish too; ``missing`` is the context of a text that is not translated."""
    texts = texts_with("clinic.yaml", ALSO)
    catalogue = translated(small_library(texts))
    if missing:
        catalogue = change_one(catalogue, missing, "")
    texts["words/es.po"] = write_catalogue(catalogue).decode()
    return write(folder / "lib", texts)


def words(library: Path, *arguments: str) -> int:
    """The command's exit status."""
    return main(["words", *arguments, "--library", str(library)])


def collect(library: Path) -> int:
    """Collecting, with drawings kept beside the library."""
    return words(library, "collect", "--to", str(library.parent / "out"), "--jobs", "1")


def test_collect_tells_translators_what_the_figure_shows(tmp_path: Path) -> None:
    """Every text of an exercise with a figure has its description in the note."""
    library = a_desk(tmp_path)
    assert collect(library) == 0
    text = (library / "words/es.po").read_text(encoding="utf-8")
    assert "#. Exercise: Foot lift\n#. Figure: " in text
    assert text.count("#. Figure: ") > 10


@pytest.mark.parametrize("name", ["Maria Gonzalez", "Dr. Lee", "M. Gonzalez", "Anna de la Cruz", "Lead Physiotherapist"])
def test_a_role_is_no_name(tmp_path: Path, name: str, capsys: pytest.CaptureFixture[str]) -> None:
    """Roles are written in small letters; a form of address, an initial or two capitals are refused."""
    library = a_desk(tmp_path)
    with pytest.raises(SystemExit):
        words(library, "review", "es", "exercise/A222", "--by", name)
    said = "reads like the name of a person. Write the role in small letters, such as 'lead physiotherapist'; never a person's name."
    assert f"'{name}' {said}" in capsys.readouterr().err
    assert main(["score", str(library), "--answer", "P1=yes", "--code", "A222", "--by", name]) == 2
    assert f"'{name}' {said}" in capsys.readouterr().err
    assert not (library / "score.yaml").exists()


@pytest.mark.parametrize("role", ["certified translator", "lead PT", "Physiotherapeutin", "infirmière DE", "hip and knee physiotherapist", "理学疗法士"])
def test_a_role(role: str) -> None:
    """Abbreviations, one capital, other scripts."""
    assert not looks_like_a_name(role)


def test_collect_refuses_a_library_with_errors(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """An exercise that cannot be read would lose its translations: nothing is written, the fault is named."""
    library = a_desk(tmp_path)
    path = library / "exercises/foot-lift.md"
    path.write_text(path.read_text(encoding="utf-8").replace(*BROKEN), encoding="utf-8")
    before = (library / "words/es.po").read_bytes()
    assert collect(library) == 1
    assert (library / "words/es.po").read_bytes() == before
    said = capsys.readouterr()
    assert "lib/exercises/foot-lift.md:3:1: error:" in said.err
    assert "Nothing was written" in said.out


def test_collect_refuses_a_broken_catalogue(tmp_path: Path) -> None:
    """A catalogue that cannot be read is not replaced by an empty one."""
    library = a_desk(tmp_path)
    path = library / "words/es.po"
    path.write_bytes(path.read_bytes() + b'msgid "no end\n')
    before = path.read_bytes()
    assert collect(library) == 1
    assert path.read_bytes() == before


def state_of(library: Path, capsys: pytest.CaptureFixture[str]) -> dict[str, bool]:
    """Each owner and whether it is reviewed."""
    capsys.readouterr()
    assert words(library, "state", "--json") == 0
    return {owner["owner"]: owner["reviewed"] for owner in json.loads(capsys.readouterr().out)["languages"]["es"]}


def test_review_is_recorded(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """By role and day, for the owners named and for those of a pattern; a later one keeps the first."""
    library = a_desk(tmp_path)
    assert words(library, "review", "es", "exercise/A222", "caution/*", "--by", "medical translator", "--on", "2026-10-01") == 0
    first = {owner for owner, reviewed in state_of(library, capsys).items() if reviewed}
    assert first == {"exercise/A222", "caution/stop-pain", "caution/go-slow"}
    assert words(library, "review", "es", "clinic", "--by", "lead physiotherapist", "--on", "2026-10-02") == 0
    assert {owner for owner, reviewed in state_of(library, capsys).items() if reviewed} == {*first, "clinic"}
    text = (library / "words/es.reviews.yaml").read_text(encoding="utf-8")
    assert (text.count('by: "medical translator"'), text.count('by: "lead physiotherapist"')) == (3, 1)
    assert "on: 2026-10-02" in text


@pytest.mark.parametrize(
    ("missing", "owners", "said"),
    [
        ("exercise/A222/feel", ["exercise/B222", "exercise/A222"], "exercise/A222: 1 missing"),
        ("", ["exercise/A223"], "there is no 'exercise/A223'. Did you mean 'exercise/A222'?"),
    ],
    ids=["text missing", "no such owner"],
)
def test_review_of_what_is_not_whole(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], missing: str, owners: list[str], said: str
) -> None:
    """Nothing is recorded, not even for the owners that are whole."""
    library = a_desk(tmp_path, missing)
    assert words(library, "review", "es", *owners, "--by", "medical translator") == 1
    assert said in capsys.readouterr().err
    assert not (library / "words/es.reviews.yaml").exists()


def test_review_needs_a_role(tmp_path: Path) -> None:
    """Without a role there is no review."""
    with pytest.raises(SystemExit):
        words(a_desk(tmp_path), "review", "es", "clinic", "--by", "  ")


def test_same_says_that_a_text_is_unknown(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A code that the library does not have is no changed text."""
    library = a_desk(tmp_path)
    assert words(library, "same", "exercise/A223") == 2
    assert "handouts: 'exercise/A223' names no text of the library. Did you mean 'exercise/A222'?" in capsys.readouterr().err
    assert words(library, "same", "exercise/A222") == 1
    assert "0 changed texts wait for a translation." in capsys.readouterr().out

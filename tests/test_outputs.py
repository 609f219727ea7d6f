"""What commands write for a person: never over a file of someone, never in the library, from wherever they are run."""

from __future__ import annotations

import errno
import os
from pathlib import Path

import pytest

from handouts.cli import main
from handouts.commands.output import Output
from handouts.publishing import author_files
from handouts.publishing.disk import PublishError
from tests.small_library import texts_with
from tests.test_cli import TODAY, write
from tests.words.sample import translated
from tests.words.test_command import ALSO

FORM, XLIFF, PICTURE, SHEET = "form", "xliff", "picture", "figures"


@pytest.fixture
def library(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The small library, with a person standing beside it."""
    monkeypatch.chdir(tmp_path)
    return write(tmp_path / "lib", texts_with("clinic.yaml", ALSO))


def words_of(kind: str, target: str, library: str = "lib") -> list[str]:
    """The command that writes such a file."""
    return {
        FORM: ["score", library, "--form", target, TODAY],
        XLIFF: ["words", "export", "es", target, "--library", library],
        PICTURE: ["figure", "foot-lift", "--library", library, "--to", target],
        SHEET: ["figure", "--library", library, "--to", target],
    }[kind]


ENDS = {FORM: "csv", XLIFF: "xlf", PICTURE: "svg", SHEET: "html"}
KINDS = pytest.mark.parametrize("kind", [FORM, XLIFF, PICTURE, SHEET])


@KINDS
def test_a_file_of_someone_is_not_replaced(kind: str, library: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """It stays, the command says so in one line; with ``--replace`` it is replaced."""
    target = Path(f"mine.{ENDS[kind]}")
    target.write_text("my work")
    assert main(words_of(kind, str(target))) == 2
    said = "there is a file of this name, which handouts did not write or which was changed since. Choose another name, or add --replace. [not-replaced]"
    assert f"{target}:1:1: error: {said}\n1 error\n" == capsys.readouterr().err
    assert target.read_text() == "my work"
    assert main([*words_of(kind, str(target)), "--replace"]) == 0
    assert target.read_text() != "my work"


@KINDS
def test_its_own_file_is_replaced_until_someone_changes_it(kind: str, library: Path) -> None:
    """What this program wrote, and nobody changed, may be written anew; a form that is being filled in may not."""
    target = Path(f"ours.{ENDS[kind]}")
    assert main(words_of(kind, str(target))) == 0
    before = target.read_text()
    write(library, texts_with("exercises/foot-lift.md", ("title: Foot lift", "title: Foot raise")) | {"clinic.yaml": (library / "clinic.yaml").read_text()})
    assert main(words_of(kind, str(target))) == 0
    assert kind == XLIFF or target.read_text() != before
    target.write_text(target.read_text() + "\nmine")
    assert main(words_of(kind, str(target))) == 2
    assert target.read_text().endswith("\nmine")


@KINDS
@pytest.mark.parametrize("place", ["lib/clinic.yaml", "lib/new.END", "lib/exercises/new.END", "lib/words/new.END"])
def test_nothing_is_written_into_the_library(kind: str, place: str, library: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """There every file has its meaning; ``--replace`` changes nothing about that."""
    place = place.replace("END", ENDS[kind])
    before = {path: path.read_bytes() for path in library.rglob("*") if path.is_file()}
    if kind in (PICTURE, SHEET) and place.endswith(".yaml"):
        assert main([*words_of(kind, place), "--replace"]) == 2
        return
    assert main([*words_of(kind, place), "--replace"]) == 2
    assert "it would lie in the library, which holds only its own files. Name a place beside it" in capsys.readouterr().err
    assert {path: path.read_bytes() for path in library.rglob("*") if path.is_file()} == before


@KINDS
def test_what_cannot_be_written_is_one_line(kind: str, library: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A folder, a link, a file in place of a folder."""
    end = ENDS[kind]
    Path(f"folder.{end}").mkdir()
    Path(f"link.{end}").symlink_to("elsewhere")
    Path("file").touch()
    for place in (f"folder.{end}", f"link.{end}", f"file/a.{end}", f"{'x' * 300}.{end}"):
        assert main([*words_of(kind, place), "--replace"]) == 2
        err = capsys.readouterr().err
        assert err.count("\n") == 2 and "[cannot-write]" in err, err
    assert Path(f"link.{end}").is_symlink() and not Path("elsewhere").exists()
    assert main(words_of(kind, f"new/folder/a.{end}")) == 0


@pytest.mark.parametrize("name", ["a.bogus", "a", "a.pdf"])
def test_kind_of_picture(name: str, library: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """An ending that is none is refused, and nothing is drawn."""
    assert main(words_of(PICTURE, name)) == 2
    assert capsys.readouterr().err == f"handouts: '{name}' is no kind of picture: name a file that ends with .svg or .png.\n"
    assert main(words_of(SHEET, name)) == 2
    assert capsys.readouterr().err == f"handouts: '{name}' is no page: all figures go into a file that ends with .html.\n"


def test_bundle_is_not_put_over_a_file_of_someone(library: Path) -> None:
    """The PDF of a bundle may be made anew; one that somebody put in its place stays."""
    words = ["bundle", "first-days", "--library", "lib", "--to", "sheets"]
    assert main(words) == 0
    (pdf,) = Path("sheets").glob("*.pdf")
    assert main(words) == 0
    pdf.write_bytes(b"mine")
    assert main(words) == 2
    assert pdf.read_bytes() == b"mine"
    assert main([*words, "--replace"]) == 0


def test_bundle_to_fold(library: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Its PDF says by its name that it is folded; it has one size of type."""
    words = ["bundle", "first-days", "--library", "lib", "--to", "sheets", "--folded"]
    assert main(words) == 0
    (pdf,) = Path("sheets").glob("bundle-*-letter-folded.pdf")
    assert pdf.read_bytes().startswith(b"%PDF-1.7")
    capsys.readouterr()
    assert main([*words, "--size", "large"]) == 2
    assert capsys.readouterr().err == "handouts: --folded prints one language in standard type; leave out --beside and --size large.\n"


def test_a_bundle_before_the_first_build(library: Path) -> None:
    """Its PDF lies in the folder of the build, which is ours from then on."""
    assert main(["bundle", "first-days", "--library", "lib"]) == 0
    assert main(["build", "lib", "--no-paper", TODAY]) == 0
    assert len(list(Path("build").glob("*.pdf"))) == 1


def test_a_file_that_appears_meanwhile_stays(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Between the look at the place and the writing."""
    target = tmp_path / "new.csv"
    real = author_files.write_beside

    def other(path: Path, data: bytes) -> Path:
        target.write_bytes(b"mine")
        return real(path, data)

    monkeypatch.setattr(author_files, "write_beside", other)
    with pytest.raises(PublishError):
        Output(tmp_path / "lib", tmp_path / "build").write(target, b"ours")
    assert target.read_bytes() == b"mine"
    assert [path.name for path in tmp_path.iterdir()] == ["new.csv"]


INSIDE = [
    ["check", TODAY],
    ["build", "--no-paper", TODAY],
    ["score", TODAY],
    ["score", "--form", "build/form.csv", TODAY],
    ["words", "collect"],
    ["words", "state"],
    ["words", "export", "es", "build/es.xlf"],
    ["words", "review", "es", "tier/wake", "--by", "translator"],
    ["ledger", "update", "--unbuilt", TODAY],
    ["figure", "foot-lift"],
    ["figure"],
    ["bundle", "first-days"],
    ["import", "../leaflet.txt", "."],
]


@pytest.mark.parametrize("where", [".", "exercises", "words"])
def test_every_command_works_inside_a_library(where: str, library: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    """Each in turn, in the library or a folder of it; then the library is as green as before, and no output lies loose."""
    Path("leaflet.txt").write_text("Leg swing\n\n1. Stand.\n2. Swing your leg.\n")

    write_words(library)
    monkeypatch.chdir(library / where)
    for each in INSIDE[:-1]:
        words = [word if where == "." else word.replace("build/", "../build/") for word in each]
        assert main(words) == 0, (words, capsys.readouterr().err)
        assert main(["check", TODAY]) == 0, (words, capsys.readouterr().err)
    allowed = {"bundles", "exercises", "programmes", "words", "build", "clinic.yaml", "tiers.yaml", "vocabulary.yaml", "cautions.yaml", "ledger.yaml", "published.yaml", "score.yaml"}
    assert {path.name for path in library.iterdir()} <= allowed
    if where == ".":
        assert main(INSIDE[-1]) == 1  # a draft has gaps


def write_words(library: Path) -> None:
    """A catalogue in which all is translated."""
    from handouts.library.read import read_library
    from handouts.source.files import read_folder
    from handouts.words.catalogue import write_catalogue

    found, _ = read_library(read_folder(library, "lib")[0], "lib")
    assert found is not None
    (library / "words").mkdir()
    text = write_catalogue(translated(found)).decode().replace("sTOP AND", "Pare aND")
    (library / "words/es.po").write_text(text)


def test_build_by_a_dot(library: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    """``cd library; handouts build .`` once, twice, and a check."""
    monkeypatch.chdir(library)
    for words in (["build", ".", "--no-paper", TODAY], ["check", ".", TODAY], ["build", ".", "--no-paper", TODAY], ["check", TODAY]):
        assert main(words) == 0, capsys.readouterr().err
    assert "Nothing has changed" in capsys.readouterr().out


def test_problems_name_the_library_also_from_inside(library: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    """The name of its folder stands before the file, as from outside."""
    write(library, texts_with("exercises/foot-lift.md", ("tier: wake", "tier: woke")))
    monkeypatch.chdir(library)
    assert main(["check", ".", TODAY]) == 1
    assert capsys.readouterr().err.startswith("lib/exercises/foot-lift.md:4:7: error: 'woke' is not declared")


def test_output_in_the_library_under_any_name(library: Path) -> None:
    """A build into another folder of the library is known by its mark."""
    assert main(["build", "lib", "--to", "lib/site", "--no-paper", TODAY]) == 0
    assert main(["check", "lib", TODAY]) == 0


def test_an_output_is_no_library(library: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Neither the library nor a folder that has its meaning there becomes an output, also where there is none yet."""
    for place in ("lib", "lib/exercises", "lib/words", "lib/schema/site"):
        assert main(["build", "lib", "--to", place, "--no-paper", TODAY]) == 2
        said = "it would lie in the library, which holds only its own files. Name a place beside it, or a folder for output in it, such as build."
        assert capsys.readouterr().err == f"{place}:1:1: error: {said} [in-library]\n1 error\n"
    assert not (library / "words").exists() and not (library / ".lock").exists()


def test_full_disk_at_an_output(library: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    """One line, and no half file."""

    def full(_: int) -> None:
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

    monkeypatch.setattr(os, "fsync", full)
    assert main(words_of(XLIFF, "a.xlf")) == 2
    said = "a.xlf:1:1: error: 'a.xlf' cannot be written: No space left on device. Free some space; the file is as it was. [cannot-write]\n1 error\n"
    assert capsys.readouterr().err == said
    assert not list(Path().glob("*a.xlf*")) and not list(Path().glob(".handouts*"))

"""Each command as a new user runs it: what it prints, what it writes, how it exits."""

from __future__ import annotations

import json
import re
import subprocess
import sys
from collections.abc import Mapping
from pathlib import Path

import pytest

from handouts.cli import COMMANDS, main, make_parser
from tests.kept import shared_results
from tests.small_library import TEXTS, texts_with

ROOT = Path(__file__).parents[1]
TODAY = "--today=2026-11-25"


def write(folder: Path, texts: Mapping[str, str] = TEXTS) -> Path:
    """A library on disk."""
    for path, text in texts.items():
        target = folder / path
        target.parent.mkdir(parents=True, exist_ok=True)
        target.write_text(text, encoding="utf-8")
    return folder


def test_check_without_problems(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A whole library gives one line and status 0."""
    assert main(["check", str(write(tmp_path / "lib")), TODAY]) == 0
    assert capsys.readouterr().out == "2 exercises, 1 programme, 1 bundle: no problems\n"


def test_check_with_problems(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Problems go to standard error with a count, and the status is 1."""
    library = write(tmp_path / "lib", texts_with("exercises/foot-lift.md", ("tier: wake", "tier: woke")))
    assert main(["check", str(library), TODAY]) == 1
    lines = capsys.readouterr().err.splitlines()
    assert lines[0].startswith("lib/exercises/foot-lift.md:4:7: error: 'woke' is not declared in tiers.yaml.")
    assert lines[-1] == "1 error"


def test_check_as_json(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """The same for tools."""
    library = write(tmp_path / "lib", texts_with("exercises/foot-lift.md", ("tier: wake", "tier: woke")))
    assert main(["check", str(library), "--json", TODAY]) == 1
    (problem,) = json.loads(capsys.readouterr().out)["problems"]
    assert (problem["file"], problem["line"], problem["column"], problem["rule"]) == ("lib/exercises/foot-lift.md", 4, 7, "unknown-name")


@pytest.mark.parametrize("words", [["check", "LIB"], ["build", "LIB"], ["score", "LIB"], ["words", "state", "LIB"]], ids=" ".join)
@pytest.mark.parametrize("is_there", [True, False], ids=["faulty", "missing"])
def test_json_also_where_nothing_can_be_done(words: list[str], is_there: bool, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A faulty library and a missing one are told as JSON too, with kind and format."""
    library = tmp_path / "lib"
    if is_there:
        write(library)
        (library / "clinic.yaml").write_text("name: [")
    done = main([*(str(library) if word == "LIB" else word for word in words), "--json"])
    told = json.loads(capsys.readouterr().out)
    assert done == (1 if is_there and words[0] != "words" else 2)
    assert (told["kind"], told["format"]) == (" ".join(words[:-1]), 1)
    assert told["problems"][0]["rule"] == ("yaml-syntax" if is_there else "no-folder")


def test_missing_library(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """No such folder is status 2."""
    assert main(["check", str(tmp_path / "nowhere")]) == 2
    assert "there is no folder" in capsys.readouterr().err


def test_demo_has_no_problems(capsys: pytest.CaptureFixture[str]) -> None:
    """The demo library is without any problem on the day it was last worked on."""
    with shared_results():
        assert main(["check", str(ROOT / "content"), TODAY]) == 0, capsys.readouterr().err
    assert capsys.readouterr().out.endswith("no problems\n")


def test_build(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A build writes the site, a manifest and a report, and names the address of the site."""
    out = tmp_path / "out"
    assert main(["build", str(write(tmp_path / "lib")), "--to", str(out), "--no-paper", TODAY]) == 0
    said = capsys.readouterr().out
    assert re.search(r"^\d+ pages and 0 PDFs", said)
    assert f"Open {(out / 'site' / 'index.html').as_uri()}" in said
    report = json.loads((out / "report.json").read_text(encoding="utf-8"))
    pages = list((out / "site").rglob("*.html"))
    assert report["pages"] == len(pages) > 8
    assert (out / "site/en/exercises/foot-lift/index.html").exists()


def test_failed_build_keeps_the_site(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A library with an error changes nothing of what is published."""
    out = tmp_path / "out"
    arguments = ["build", str(write(tmp_path / "lib")), "--to", str(out), "--no-paper", TODAY]
    assert main(arguments) == 0
    before = {path: path.read_bytes() for path in sorted((out / "site").rglob("*")) if path.is_file()}
    write(tmp_path / "lib", texts_with("exercises/foot-lift.md", ("tier: wake", "tier: woke")))
    assert main(arguments) == 1
    assert capsys.readouterr().out.endswith("Nothing was published; the last good site stays.\n")
    assert {path: path.read_bytes() for path in sorted((out / "site").rglob("*")) if path.is_file()} == before


def test_back(tmp_path: Path) -> None:
    """The previous site comes back with one command."""
    out, library = tmp_path / "out", tmp_path / "lib"
    arguments = ["build", str(write(library)), "--to", str(out), "--no-paper", TODAY]
    assert main(["build", str(library), "--to", str(out), "--back"]) == 2
    assert main(arguments) == 0
    write(library, texts_with("exercises/foot-lift.md", ("Sit tall.", "Sit very tall.")))
    assert main(arguments) == 0
    assert main([*arguments, "--back"]) == 0
    assert "Sit very tall." not in (out / "site/en/exercises/foot-lift/index.html").read_text(encoding="utf-8")


def test_start(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A new library has no problems, and is not written over an old one."""
    folder = tmp_path / "ours"
    assert main(["start", str(folder)]) == 0
    assert main(["check", str(folder), TODAY]) == 0, capsys.readouterr().err
    assert main(["start", str(folder)]) == 2


@pytest.mark.parametrize("command", COMMANDS)
def test_help_has_examples(command: str, capsys: pytest.CaptureFixture[str]) -> None:
    """Each command's help says what it does and shows examples."""
    with pytest.raises(SystemExit) as caught:
        make_parser().parse_args([command, "--help"])
    assert caught.value.code == 0
    assert f"handouts {command}" in capsys.readouterr().out.split("examples:")[1]


def test_module_runs() -> None:
    """``python -m handouts`` is the same command; a misuse is status 2."""
    done = subprocess.run([sys.executable, "-m", "handouts", "bake"], cwd=ROOT, capture_output=True, text=True, check=False)
    assert done.returncode == 2
    assert "invalid choice: 'bake'" in done.stderr


@pytest.mark.parametrize("words", [["words", "collect"], ["words", "state"], ["ledger", "update"]])
def test_library_is_named_with_or_without_the_option(words: list[str]) -> None:
    """``ledger update our-library`` is ``ledger update --library our-library``; neither name is ``content``."""
    parser = make_parser(words[0])
    given = [parser.parse_args([*words, *more]).library for more in ([], ["ours"], ["--library", "ours"])]
    assert given == [Path("content"), Path("ours"), Path("ours")]


def test_each_new_library_has_codes_of_its_own(tmp_path: Path) -> None:
    """Two clinics that begin the same way share no code: a sheet of one opens nothing at the other."""
    codes = []
    for name in ("one", "other"):
        assert main(["start", str(tmp_path / name)]) == 0
        assert main(["check", str(tmp_path / name)]) == 0
        found = {re.findall(r"^code: (\w{4})$", path.read_text(), re.MULTILINE)[0] for path in (tmp_path / name).rglob("*.md")}
        assert len(found) == 3
        codes.append(found)
    assert not codes[0] & codes[1]


DAYS = ["0001-01-01", "9999-12-31", "2026-02-28"]


@pytest.mark.parametrize("today", DAYS)
@pytest.mark.parametrize("on", DAYS)
def test_any_day(today: str, on: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Reviews and days at the ends of the calendar: problems perhaps, never a traceback."""
    old = re.search(r"on: (\d{4}-\d\d-\d\d)", TEXTS["exercises/foot-lift.md"])
    assert old
    library = str(write(tmp_path / "lib", texts_with("exercises/foot-lift.md", (old[0], f"on: {on}"))))
    out = ["--to", str(tmp_path / "out")]
    for words in (["check", library], ["build", library, "--no-paper", *out], ["ledger", "update", library, "--unbuilt", *out], ["score", library, *out]):
        assert main([*words, f"--today={today}"]) in (0, 1)
    assert main(["words", "state", library]) == 0
    capsys.readouterr()


@pytest.mark.parametrize("word", ["X", "", "2026-13-01", "2026-02-29", "20260914", "2026-W38-1", "10000-01-01", "-1", "२०२६-09-14"])
def test_what_is_no_day(word: str, capsys: pytest.CaptureFixture[str]) -> None:
    """It is said in words, also where the machine would take it for another way to write a day."""
    with pytest.raises(SystemExit) as caught:
        main(["check", f"--today={word}"])
    assert caught.value.code == 2
    said = f"handouts check: error: argument --today: '{word}' is no day; write year, month and day, as 2026-09-14"
    assert capsys.readouterr().err.splitlines()[-1] == said


@pytest.mark.parametrize("epoch", ["99999999999999999999", "-1", "x", "0", ""])
def test_any_epoch(epoch: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    """SOURCE_DATE_EPOCH of any kind: a moment that no calendar has is a problem."""
    monkeypatch.setenv("SOURCE_DATE_EPOCH", epoch)
    status = main(["check", str(write(tmp_path / "lib"))])
    assert status == (2 if len(epoch) > 9 else 1 if epoch == "0" else 0)
    said = "SOURCE_DATE_EPOCH:1:1: error: '99999999999999999999' is no moment of the calendar. Unset it, or set it to seconds since 1970-01-01. [no-day]"
    assert (said in capsys.readouterr().err) == (status == 2)


@pytest.mark.parametrize(("words", "said"), [
    (["preview", "--port=99999"], "argument --port: '99999' is no port; write a number from 0 to 65535"),
    (["preview", "--port=-1"], "argument --port: '-1' is no port; write a number from 0 to 65535"),
    (["build", "--jobs=0"], "argument --jobs: '0' is no number of processes; write one from 1 to 256"),
    (["build", "--jobs=-3"], "argument --jobs: '-3' is no number of processes; write one from 1 to 256"),
    (["score", "--jobs=99999"], "argument --jobs: '99999' is no number of processes; write one from 1 to 256"),
    (["words", "collect", "--jobs=x"], "argument --jobs: 'x' is no number of processes; write one from 1 to 256"),
])  # fmt: skip
def test_numbers_that_are_none(words: list[str], said: str, capsys: pytest.CaptureFixture[str]) -> None:
    """A number out of bounds is refused where it is read."""
    with pytest.raises(SystemExit):
        main(words)
    assert capsys.readouterr().err.splitlines()[-1].endswith(f"error: {said}")

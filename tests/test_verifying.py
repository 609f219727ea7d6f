"""``build --verify``: two builds in different ways, compared; a difference is told by file and line."""

from __future__ import annotations

import json
import subprocess
from collections.abc import Iterable, Mapping
from pathlib import Path

import pytest

from handouts.cli import main
from handouts.commands import verifying
from handouts.commands.verifying import compare_sites, say_difference
from handouts.publishing.disk import write_files
from handouts.publishing.publish import hold_lock, stage, swap_in
from tests.small_library import TEXTS, texts_with
from tests.test_cli import TODAY, write


def site(out: Path, pages: Mapping[str, bytes]) -> Path:
    """A published site."""
    with hold_lock(out), stage(out) as staging:
        for path, data in pages.items():
            staging.write(path, data)
        swap_in(out, staging, b"{}\n")
    return out / "site"


def told(folder: Path, one: Mapping[str, bytes], other: Mapping[str, bytes]) -> str:
    """What is said of two sites."""
    sites = site(folder / "one", one), site(folder / "other", other)
    return say_difference(*sites, *compare_sites(*sites))


def test_a_library_builds_the_same_twice(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Both builds run whole, in processes of their own; nothing is published."""
    library, out = write(tmp_path / "lib"), tmp_path / "out"
    assert main(["build", str(library), "--to", str(out), "--no-paper", "--verify", "--quiet", TODAY]) == 0
    said = capsys.readouterr().out
    assert said.startswith("Two builds gave the same ") and said.endswith("Nothing was published.\n")
    assert int(said.split()[5]) > 40
    assert not out.exists()


def test_builds_differ_in_all_that_may_differ(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    """The second build has another library folder, order of files, hash seed, zone, language and number of workers."""
    seen = []

    def build(command: list[str], **more: object) -> subprocess.CompletedProcess[str]:
        given = more["env"]
        assert isinstance(given, dict)
        seen.append((command[4], command[command.index("--jobs") + 1], given["PYTHONHASHSEED"], given["TZ"], given["LC_ALL"]))
        site(Path(command[6]), {"index.html": command[-1].encode()})
        assert command[-2:] == ["--no-paper", "--review"]
        return subprocess.CompletedProcess(command, 0, "", "")

    def write_copy(folder: Path, files: Iterable[tuple[str, bytes]]) -> None:
        orders.append([path for path, _ in files])
        write_files(folder, files)

    orders = list[list[str]]()
    monkeypatch.setattr(verifying.subprocess, "run", build)
    monkeypatch.setattr(verifying, "write_files", write_copy)
    library = write(tmp_path / "lib")
    assert main(["build", str(library), "--no-paper", "--review", "--verify", "--json", TODAY]) == 0
    assert json.loads(capsys.readouterr().out) == {"kind": "build --verify", "format": 1, "files": 1, "differing": []}
    for first, second in zip(*seen, strict=True):
        assert first != second
    assert orders[0] != sorted(orders[0]) == sorted(TEXTS)


def test_faults_of_the_library_are_shown(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Where the first build finds an error, that is what is told."""
    library = write(tmp_path / "lib", texts_with("exercises/foot-lift.md", ("tier: wake", "tier: woke")))
    assert main(["build", str(library), "--verify", "--quiet", TODAY]) == 1
    assert "lib/exercises/foot-lift.md:4:7: error: 'woke' is not declared in tiers.yaml." in capsys.readouterr().err
    (library / "link.md").symlink_to("clinic.yaml")
    assert main(["build", str(library), "--verify", TODAY]) == 1
    assert "'link.md' is a link to another place" in capsys.readouterr().err
    assert main(["build", str(tmp_path / "nowhere"), "--verify", TODAY]) == 2
    assert "there is no folder" in capsys.readouterr().err


def test_a_difference_is_an_error(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    """Status 1, and the first file by name."""

    def build(command: list[str], **more: object) -> subprocess.CompletedProcess[str]:
        site(Path(command[6]), {"index.html": command[command.index("--jobs") + 1].encode()})
        return subprocess.CompletedProcess(command, 0, "", "")

    monkeypatch.setattr(verifying.subprocess, "run", build)
    assert main(["build", str(write(tmp_path / "lib")), "--verify", "--quiet", TODAY]) == 1
    assert capsys.readouterr().out == (
        "Two builds differ in 1 of 1 files. The first is 'index.html', line 1:\n"
        "  first build:  1\n  second build: 2\nNothing was published.\n"
    )


def test_line_that_differs(tmp_path: Path) -> None:
    """A text is told by line; one that is cut short by its end."""
    one, other = {"a": b"x", "b": b"one\ntwo\nthree\n"}, {"a": b"x", "b": b"one\ntwo\n"}
    assert told(tmp_path, one, other) == (
        "Two builds differ in 1 of 2 files. The first is 'b', line 3:\n"
        "  first build:  three\n  second build: (the file has ended)\nNothing was published."
    )


def test_byte_that_differs(tmp_path: Path) -> None:
    """What is no text is told by its byte."""
    assert told(tmp_path, {"a.pdf": b"%PDF\xff\x00"}, {"a.pdf": b"%PDF\xff\x01"}) == (
        "Two builds differ in 1 of 1 files. The first is 'a.pdf', from byte 6 on. Nothing was published."
    )


@pytest.mark.parametrize("name", ["first", "second"])
def test_file_of_one_build_only(tmp_path: Path, name: str) -> None:
    """A file that only one build made."""
    sites = {"a": b"x", "b": b"y"}, {"b": b"y"}
    one, other = sites if name == "first" else sites[::-1]
    assert told(tmp_path, one, other) == (
        f"Two builds differ in 1 of 2 files. The first is 'a', which only the {name} build made. Nothing was published."
    )

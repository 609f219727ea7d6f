"""The reading edge: only ordinary files of the library are opened, and what is too much is said."""

from __future__ import annotations

import errno
import os
from pathlib import Path

import pytest

from handouts.library.read import read_library
from handouts.problems import show_problem
from handouts.source import files
from handouts.source.files import read_file, read_folder
from handouts.words.folder import read_words
from tests.small_library import TEXTS


def said(root: Path) -> list[str]:
    """The problems of a folder, with the place of the test taken out."""
    return [show_problem(problem) for problem in read_folder(root, "lib")[1]]


def test_ordinary_files_are_read(tmp_path: Path) -> None:
    """Bytes by path; hidden files and copies of editors are passed over; a hard link is the file that it is."""
    (tmp_path / "a").mkdir()
    (tmp_path / "a/x.md").write_bytes(b"x")
    (tmp_path / "a/.x.swp").write_bytes(b"no")
    (tmp_path / "a/x.md~").write_bytes(b"no")
    os.link(tmp_path / "a/x.md", tmp_path / "y.md")
    assert read_folder(tmp_path, "lib") == ({"a/x.md": b"x", "y.md": b"x"}, [])


def test_what_systems_leave_behind_is_passed_over(tmp_path: Path) -> None:
    """Windows makes these by itself in folders that it shows; they kept a library from being published."""
    for name in ("Thumbs.db", "desktop.ini", "Desktop.ini", "ehthumbs.db", ".DS_Store"):
        (tmp_path / name).write_bytes(b"x")
    assert read_folder(tmp_path, "lib") == ({}, [])


def test_output_in_a_library_is_no_part_of_it(tmp_path: Path) -> None:
    """A folder with our mark is passed over with all that is in it; the mark in the library itself means nothing."""
    (tmp_path / "build/site").mkdir(parents=True)
    (tmp_path / "build/site/index.html").write_bytes(b"x")
    (tmp_path / ".handouts").touch()
    assert read_folder(tmp_path, "lib")[0] == {"build/site/index.html": b"x"}
    (tmp_path / "build/.handouts").touch()
    assert read_folder(tmp_path, "lib") == ({}, [])


def test_an_empty_folder_is_told(tmp_path: Path) -> None:
    """It may be a file that was to stand there; a folder with hidden files only is none of ours to judge."""
    (tmp_path / "exercises/dir.md").mkdir(parents=True)
    (tmp_path / "build/.cache").mkdir(parents=True)
    assert said(tmp_path) == [
        "lib/exercises/dir.md:1:1: notice: there is nothing in this folder. Delete it, or put into it what belongs there. [empty-folder]"
    ]


def test_links_are_not_followed(tmp_path: Path) -> None:
    """To a file, to a folder, to itself, to nothing."""
    secret = tmp_path / "secret"
    secret.mkdir()
    (secret / "s.md").write_text("secret")
    root = tmp_path / "lib"
    root.mkdir()
    (root / "a.md").symlink_to(secret / "s.md")
    (root / "b").symlink_to(secret)
    (root / "c").symlink_to(root)
    (root / "d").symlink_to("nothing")
    assert read_folder(root, "lib")[0] == {}
    assert said(root) == [f"lib/{name}:1:1: error: '{name}' is a link to another place. Put the file itself into the library. [link]" for name in ("a.md", "b", "c", "d")]


def test_a_pipe_is_not_opened(tmp_path: Path) -> None:
    """Opening one would wait for ever."""
    os.mkfifo(tmp_path / "pipe.md")
    assert said(tmp_path) == ["lib/pipe.md:1:1: error: 'pipe.md' is not an ordinary file. Take it out of the library. [not-a-file]"]


def test_a_file_that_turns_into_a_pipe_is_not_read(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Between looking and opening it was exchanged: it is refused, and nothing waits."""
    path = tmp_path / "x.md"
    path.write_text("x")
    opened = os.open

    def exchange(name: str, flags: int) -> int:
        path.unlink()
        os.mkfifo(path)
        return opened(name, flags)

    monkeypatch.setattr(files.os, "open", exchange)
    assert said(tmp_path) == ["lib/x.md:1:1: error: 'x.md' cannot be read: it is no ordinary file. Check its permissions. [unreadable]"]


def test_a_file_that_turns_into_a_link_is_not_read(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The system refuses to follow it."""
    path = tmp_path / "x.md"
    path.write_text("x")
    opened = os.open

    def exchange(name: str, flags: int) -> int:
        path.unlink()
        path.symlink_to("/etc/passwd")
        return opened(name, flags)

    monkeypatch.setattr(files.os, "open", exchange)
    assert said(tmp_path) == [f"lib/x.md:1:1: error: 'x.md' cannot be read: {os.strerror(errno.ELOOP)}. Check its permissions. [unreadable]"]


def test_a_large_file_is_not_read(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """By its size, and by its bytes where it grows meanwhile."""
    monkeypatch.setattr(files, "MAX_FILE_BYTES", 1024 * 1024)
    with (tmp_path / "x.md").open("wb") as stream:
        stream.truncate(1024 * 1024 + 1)
    assert said(tmp_path) == ["lib/x.md:1:1: error: 'x.md' is larger than 1 MiB. Split it, or take it out. [too-long]"]
    (tmp_path / "x.md").write_text("small")
    opened = os.open

    def grow(name: str, flags: int) -> int:
        with Path(name).open("wb") as stream:
            stream.truncate(1024 * 1024 + 1)
        return opened(name, flags)

    monkeypatch.setattr(files.os, "open", grow)
    assert said(tmp_path) == ["lib/x.md:1:1: error: 'x.md' cannot be read: it grows while it is read. Check its permissions. [unreadable]"]


def test_too_many_files_and_bytes(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Reading stops, and one problem says so."""
    for number in range(30):
        (tmp_path / f"{number:02}.md").write_bytes(b"x" * 100)
    message = "lib:1:1: error: this folder holds more than {} files or {} MiB. Name the library's own folder, and take out what is not part of it. [too-many]"
    monkeypatch.setattr(files, "MAX_FILES", 10)
    assert said(tmp_path) == [message.format(10, 256)]
    assert len(read_folder(tmp_path, "lib")[0]) == 10
    monkeypatch.setattr(files, "MAX_FILES", 20_000)
    monkeypatch.setattr(files, "MAX_ALL_BYTES", 1000)
    assert said(tmp_path) == [message.format(20_000, 0)]
    assert len(read_folder(tmp_path, "lib")[0]) == 11


def test_deep_folders(tmp_path: Path) -> None:
    """A thousand folders in one another end at the eighth."""
    path = tmp_path
    for _ in range(20):
        path /= "a"
        path.mkdir()
    assert said(tmp_path) == ["lib/a/a/a/a/a/a/a/a:1:1: error: folders are nested more than 7 deep. Take this folder out. [too-deep]"]


def test_a_name_that_is_no_text(tmp_path: Path) -> None:
    """Bytes that are not UTF-8 are shown as codes; nothing of it reaches a terminal or a report as it is."""
    (tmp_path / os.fsdecode(b"caf\xe9.md")).write_text("x")
    assert said(tmp_path) == ["lib/caf<U+DCE9>.md:1:1: error: the name 'caf<U+DCE9>.md' is not UTF-8 text. Give it a name of plain letters. [file-name]"]


def test_a_folder_that_cannot_be_read(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """And a file that vanishes while it is looked at."""
    (tmp_path / "a").mkdir()
    scan = os.scandir

    def refuse(folder: Path) -> object:
        if Path(folder).name == "a":
            raise PermissionError(errno.EACCES, os.strerror(errno.EACCES))
        return scan(folder)

    monkeypatch.setattr(files.os, "scandir", refuse)
    assert said(tmp_path) == ["lib/a:1:1: error: the folder cannot be read: Permission denied. Check its permissions. [unreadable]"]

    class Gone:
        name, path = "x.md", "x.md"

        def stat(self, follow_symlinks: bool) -> os.stat_result:
            raise FileNotFoundError(errno.ENOENT, os.strerror(errno.ENOENT))

    monkeypatch.setattr(files.os, "scandir", lambda folder: [Gone()])
    assert said(tmp_path) == ["lib/x.md:1:1: error: 'x.md' cannot be read: No such file or directory. Check its permissions. [unreadable]"]


def test_one_file(tmp_path: Path) -> None:
    """A file that a person names: read, or a problem."""
    path = tmp_path / "a.xlf"
    path.write_bytes(b"abc")
    assert read_file(path) == (b"abc", [])

    def message(path: Path, most: int = 1024) -> str:
        data, problems = read_file(path, most)
        assert data == b""
        return show_problem(problems[0]).replace(str(tmp_path), "")

    assert message(tmp_path / "b") == "/b:1:1: error: '/b' cannot be read: No such file or directory. Check its name and its permissions. [unreadable]"
    assert message(tmp_path) == ":1:1: error: '' is not an ordinary file. Name a file. [not-a-file]"
    assert message(path, 2) == "/a.xlf:1:1: error: '/a.xlf' is larger than 0 MiB. Split it. [too-long]"


@pytest.mark.parametrize("path", ["exercises/x.svg", "assets/x.svg", "x.png", "typefaces/x.woff2", "exercises/x.zip", "words/x.svg"])
def test_pictures_are_no_part_of_a_library(path: str) -> None:
    """No picture, font or archive is read from a place that is not for it: each is refused by name, whatever is in it."""
    texts = {**TEXTS, path: '<svg xmlns="http://www.w3.org/2000/svg"><script>1</script></svg>'}
    files = {name: text.encode() for name, text in texts.items()}
    library, problems = read_library(files)
    if library is not None:
        problems += read_words(files, library.clinic.languages)[1]
    assert [(problem.place.file, problem.rule in ("unknown-file", "file-name")) for problem in problems] == [(f"content/{path}", True)]


def test_no_folder(tmp_path: Path) -> None:
    """Nothing there, or a file: said with the name that was given."""
    (tmp_path / "file").touch()
    for name in ("nothing", "file"):
        assert said(tmp_path / name) == [f"lib:1:1: error: there is no folder '{tmp_path / name}'. Name the library's folder. [no-folder]"]

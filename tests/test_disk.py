"""Single writes: each whole or not at all, never over a file that is not ours, faults told with a mend."""

from __future__ import annotations

import errno
import os
from pathlib import Path

import pytest

from handouts.problems import Problem
from handouts.publishing.disk import PublishError, as_problem, exchange, replace, write_files
from tests.faults.layer import Layer, Step


def told(number: int, **more: str) -> Problem:
    """The problem of an error."""
    with pytest.raises(PublishError) as caught, as_problem(Path("out"), **more):
        raise OSError(number, os.strerror(number))
    return caught.value.problem


@pytest.mark.parametrize(
    ("number", "what", "mend"),
    [
        (errno.ENOSPC, "No space left on device", "Free some space: a build needs room for another copy of the site."),
        (errno.EDQUOT, "Disk quota exceeded", "Free some space: a build needs room for another copy of the site."),
        (errno.EROFS, "Read-only file system", "Choose a folder that can be written."),
        (errno.EACCES, "Permission denied", "Choose a folder that you may write, or change its permissions."),
        (errno.EPERM, "Operation not permitted", "Choose a folder that you may write, or change its permissions."),
        (errno.EEXIST, "File exists", "Choose another folder: nothing is written over a file."),
        (errno.ENAMETOOLONG, "File name too long", "Choose a folder with a shorter path."),
        (errno.EXDEV, "Invalid cross-device link", "Keep 'site' on the disk of the folder around it, or choose another folder."),
        (errno.EBUSY, "Device or resource busy", "Keep 'site' on the disk of the folder around it, or choose another folder."),
        (errno.EIO, "Input/output error", "Mend the disk or choose another folder."),
    ],
)
def test_each_fault_has_its_mend(number: int, what: str, mend: str) -> None:
    """What the system says, and what to do."""
    problem = told(number)
    assert (problem.place.file, problem.rule) == ("out", "cannot-write")
    assert (problem.what, problem.mend) == (f"the folder cannot be written: {what}", mend)


def test_fault_after_the_swap() -> None:
    """Says what is published, where the fault came after it."""
    assert told(errno.EIO, after="the new site is published").what == (
        "the new site is published, but the folder could not be tidied: Input/output error"
    )


def test_replace_keeps_the_old_file(tmp_path: Path) -> None:
    """Whatever step fails, the file has its old bytes or its new ones, and nothing lies beside it."""
    target = tmp_path / "file"

    def watch(index: int, step: Step) -> None:
        if index == at:
            raise OSError(errno.ENOSPC, "full")

    for at in range(6):
        target.write_bytes(b"old")
        with Layer(tmp_path, watch).over(), pytest.raises(OSError):
            replace(target, b"new content")
        assert target.read_bytes() == (b"old" if at < 6 else b"new content")
        assert [path.name for path in tmp_path.iterdir()] == ["file"]


def test_write_files_never_overwrites(tmp_path: Path) -> None:
    """All or none: what was written before the fault is removed again, what was there before stays."""
    (tmp_path / "there").write_bytes(b"mine")
    with pytest.raises(PublishError) as caught:
        write_files(tmp_path, [("a/one", b"1"), ("there", b"2"), ("b/three", b"3")])
    assert caught.value.problem.mend == "Choose another folder: nothing is written over a file."
    assert [path.name for path in tmp_path.iterdir()] == ["there"]
    assert (tmp_path / "there").read_bytes() == b"mine"


def test_write_files_leaves_no_folder(tmp_path: Path) -> None:
    """A new folder goes with its files."""
    with pytest.raises(PublishError):
        write_files(tmp_path / "new", [("one", b"1"), ("one", b"2")])
    assert list(tmp_path.iterdir()) == []


def test_exchange_that_is_refused(tmp_path: Path) -> None:
    """A folder that cannot be swapped raises, and both stay as they are."""
    (tmp_path / "one").mkdir()
    with pytest.raises(FileNotFoundError):
        exchange(tmp_path / "one", tmp_path / "two")
    assert [path.name for path in tmp_path.iterdir()] == ["one"]


@pytest.mark.parametrize("number", [errno.ENOSYS, errno.EINVAL])
def test_exchange_on_a_disk_that_cannot(tmp_path: Path, number: int) -> None:
    """Where one disk of a system cannot swap in one step (a network disk, say), three renames do it."""

    def watch(_: int, step: Step) -> None:
        if step.kind == "exchange":
            raise OSError(number, os.strerror(number))

    for name in ("one", "two"):
        (tmp_path / name).mkdir()
        (tmp_path / name / name).touch()
    with Layer(tmp_path, watch).over():
        exchange(tmp_path / "one", tmp_path / "two")
    assert sorted(path.relative_to(tmp_path).as_posix() for path in tmp_path.rglob("*")) == ["one", "one/two", "two", "two/one"]


def test_first_write_that_fails(tmp_path: Path) -> None:
    """Nothing was made, so there is nothing to remove."""
    (tmp_path / "file").touch()
    with pytest.raises(PublishError):
        write_files(tmp_path / "file", [("a", b"")])
    assert [path.name for path in tmp_path.iterdir()] == ["file"]


def test_write_files(tmp_path: Path) -> None:
    """Files stand with their folders."""
    write_files(tmp_path / "new", [("a/one", b"1"), ("two", b"2")])
    assert [(tmp_path / "new" / path).read_bytes() for path in ("a/one", "two")] == [b"1", b"2"]

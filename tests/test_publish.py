"""Publishing: whole or not at all, and never on top of what is not ours."""

from __future__ import annotations

import ctypes
import errno
import json
import os
import re
from pathlib import Path

import pytest

from handouts import publish
from handouts.disk import PublishError
from handouts.manifest import MANIFEST, find_damage
from handouts.publish import go_back, hold_lock, recover, stage, swap_in


def put(out: Path, pages: dict[str, bytes]) -> None:
    """Publish pages."""
    with hold_lock(out), stage(out) as staging:
        for path, data in pages.items():
            staging.write(path, data)
        swap_in(out, staging, b"{}\n")


def shown(out: Path) -> dict[str, bytes]:
    """What stands in the published site."""
    site = out / "site"
    assert find_damage(site) is None
    files = {str(path.relative_to(site)): path.read_bytes() for path in sorted(site.rglob("*")) if path.is_file()}
    return {path: data for path, data in files.items() if path != MANIFEST}


def test_site_and_manifest(tmp_path: Path) -> None:
    """What was written is what stands there, and the manifest lists it."""
    put(tmp_path, {"index.html": b"one", "en/a/index.html": b"two"})
    assert shown(tmp_path) == {"en/a/index.html": b"two", "index.html": b"one"}
    assert json.loads((tmp_path / "site" / MANIFEST).read_text())["index.html"]["bytes"] == 3


def test_failure_leaves_the_site(tmp_path: Path) -> None:
    """A build that fails half-way changes nothing and leaves nothing behind."""
    put(tmp_path, {"index.html": b"one"})
    with pytest.raises(RuntimeError), stage(tmp_path) as staging:
        staging.write("index.html", b"half")
        raise RuntimeError
    assert shown(tmp_path) == {"index.html": b"one"}
    assert not (tmp_path / publish.STAGING).exists()


def test_back_and_forth(tmp_path: Path) -> None:
    """The previous site comes back with one call, and the newer one with another."""
    put(tmp_path, {"index.html": b"one"})
    assert not go_back(tmp_path)
    put(tmp_path, {"index.html": b"two"})
    assert go_back(tmp_path) and shown(tmp_path) == {"index.html": b"one"}
    assert go_back(tmp_path) and shown(tmp_path) == {"index.html": b"two"}


def test_recovery(tmp_path: Path) -> None:
    """A kill between two renames leaves no site; the next build finds the previous one."""
    put(tmp_path, {"index.html": b"one"})
    (tmp_path / "site").rename(tmp_path / publish.PREVIOUS)
    recover(tmp_path)
    assert shown(tmp_path) == {"index.html": b"one"}


def test_second_build_is_told(tmp_path: Path) -> None:
    """A second build learns which process holds the lock."""
    with hold_lock(tmp_path), pytest.raises(PublishError) as caught, hold_lock(tmp_path):
        pass
    assert caught.value.problem.what == f"another build (process {os.getpid()}) is writing here"


def test_foreign_folder_is_left_alone(tmp_path: Path) -> None:
    """A folder with files that no build wrote is refused, and nothing in it is touched."""
    (tmp_path / "thesis.txt").write_text("mine")
    with pytest.raises(PublishError) as caught, hold_lock(tmp_path):
        pass
    assert caught.value.problem.what == "the folder holds files that no build wrote, such as 'thesis.txt'"
    assert [path.name for path in tmp_path.iterdir()] == ["thesis.txt"]


def test_kept_drawings_are_ours(tmp_path: Path) -> None:
    """Checking before the first build leaves its cache in the folder; the build takes it."""
    (tmp_path / ".cache").mkdir()
    with hold_lock(tmp_path):
        assert (tmp_path / publish.MARK).exists()


@pytest.mark.parametrize("path", ["/etc/passwd", "../x", "a/../../x", "a//b", "./a"])
def test_paths_stay_inside(tmp_path: Path, path: str) -> None:
    """No path leads out of the site."""
    with stage(tmp_path) as staging, pytest.raises(ValueError, match="outside the site"):
        staging.write(path, b"")


def test_same_path_twice(tmp_path: Path) -> None:
    """Two pages cannot have one path."""
    with stage(tmp_path) as staging:
        staging.write("a", b"")
        with pytest.raises(ValueError, match="written twice"):
            staging.write("a", b"")


def test_without_exchange(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Where the system cannot swap two folders in one step, two renames give the same result."""
    monkeypatch.setattr(ctypes, "CDLL", lambda *_, **__: object())
    put(tmp_path, {"index.html": b"one"})
    put(tmp_path, {"index.html": b"two"})
    assert shown(tmp_path) == {"index.html": b"two"}
    assert go_back(tmp_path) and shown(tmp_path) == {"index.html": b"one"}


def test_full_disk(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A full disk is a problem with a mend, and the site stays."""
    put(tmp_path, {"index.html": b"one"})

    def full(_: int) -> None:
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

    monkeypatch.setattr(publish.os, "fsync", full)
    with pytest.raises(PublishError) as caught:
        put(tmp_path, {"index.html": b"two"})
    assert caught.value.problem.mend == "Free some space: a build needs room for another copy of the site."
    assert re.fullmatch(
        r"the folder cannot be written: No space left on device "
        r"\(0\.0 MB of the new site were written, the published one has 0\.0 MB, [0-9.]+ MB are free\)",
        caught.value.problem.what,
    )
    assert shown(tmp_path) == {"index.html": b"one"}


def test_damage_is_seen(tmp_path: Path) -> None:
    """A file that changed between writing and swapping is never published."""
    put(tmp_path, {"index.html": b"one"})
    with pytest.raises(PublishError), stage(tmp_path) as staging:
        staging.write("index.html", b"two")
        (staging.root / "index.html").write_bytes(b"twO")
        swap_in(tmp_path, staging, b"{}\n")
    assert shown(tmp_path) == {"index.html": b"one"}

"""Publishing: whole or not at all, and never on top of what is not ours."""

from __future__ import annotations

import ctypes
import errno
import fcntl
import json
import os
import re
import stat
import threading
from pathlib import Path

import pytest

from handouts.publishing import publish
from handouts.publishing.disk import PublishError
from handouts.publishing.manifest import MANIFEST, find_damage
from handouts.publishing.publish import go_back, hold_lock, recover, stage, swap_in


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


def test_what_is_staged_can_be_read(tmp_path: Path) -> None:
    """Each file by its path, in the order written, as many as were written."""
    with stage(tmp_path) as staging:
        staging.write("b", b"1")
        staging.write("a/c", b"23")
        assert list(staging.files.items()) == [("b", b"1"), ("a/c", b"23")]
        assert len(staging.files) == 2
        assert "a/c" in staging.files and "a" not in staging.files


def read_in_a_loop(path: Path, seen: list[bytes], ends: threading.Event) -> None:
    """What someone gets who asks for a file again and again."""
    while not ends.is_set():
        seen.append(path.read_bytes() if path.is_file() else b"gone")


def test_a_reader_while_a_site_is_published(tmp_path: Path) -> None:
    """Whoever asks for a PDF in an old tab while sites are published gets one version or the other, whole, and never none."""
    versions = [bytes([number]) * 300_000 for number in range(20)]
    put(tmp_path, {"en/sheet.pdf": versions[0]})
    seen: list[bytes] = []
    ends = threading.Event()
    reader = threading.Thread(target=read_in_a_loop, args=(tmp_path / "site/en/sheet.pdf", seen, ends))
    reader.start()
    for data in versions[1:]:
        put(tmp_path, {"en/sheet.pdf": data})
    ends.set()
    reader.join()
    assert set(seen) <= set(versions) and len(set(seen)) > 2


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


def test_unchanged_site_stays(tmp_path: Path) -> None:
    """The same bytes once more leave site and previous site as they are; the report is new."""
    put(tmp_path, {"index.html": b"one"})
    put(tmp_path, {"index.html": b"two"})
    inode = (tmp_path / "site").stat().st_ino
    with hold_lock(tmp_path), stage(tmp_path) as staging:
        staging.write("index.html", b"two")
        assert not swap_in(tmp_path, staging, b"another report")
    assert (tmp_path / "site").stat().st_ino == inode
    assert (tmp_path / "report.json").read_bytes() == b"another report"
    assert go_back(tmp_path) and shown(tmp_path) == {"index.html": b"one"}


def test_damaged_site_is_made_whole(tmp_path: Path) -> None:
    """A published site that somebody changed is replaced by the same build; it does not become the previous one."""
    put(tmp_path, {"index.html": b"one"})
    put(tmp_path, {"index.html": b"two"})
    (tmp_path / "site" / "index.html").write_bytes(b"twO")
    put(tmp_path, {"index.html": b"two"})
    assert shown(tmp_path) == {"index.html": b"two"}
    assert go_back(tmp_path) and shown(tmp_path) == {"index.html": b"one"}


def test_damaged_previous_site_is_refused(tmp_path: Path) -> None:
    """A previous site that is not whole never comes back; one to which files were added does."""
    put(tmp_path, {"index.html": b"one", "a": b""})
    put(tmp_path, {"index.html": b"two"})
    (tmp_path / publish.PREVIOUS / "a").unlink()
    with pytest.raises(PublishError) as caught:
        go_back(tmp_path)
    assert caught.value.problem.what == "the previous site is not whole: 'a' is missing"
    assert shown(tmp_path) == {"index.html": b"two"}
    (tmp_path / publish.PREVIOUS / "a").touch()
    (tmp_path / publish.PREVIOUS / "CNAME").touch()
    assert go_back(tmp_path)


@pytest.mark.parametrize("name", ["site", ".previous", ".staging", ".aside"])
def test_links_and_files_in_our_places(tmp_path: Path, name: str) -> None:
    """A link or a file where a site should stand is refused and left alone, wherever it leads."""
    out, elsewhere = tmp_path / "out", tmp_path / "elsewhere"
    put(out, {"index.html": b"one"})
    elsewhere.mkdir()
    (elsewhere / "mine").touch()
    if (out / name).exists():
        (out / name).rename(tmp_path / "kept")
    for target in (elsewhere, elsewhere / "mine", tmp_path / "nowhere"):
        (out / name).symlink_to(target)
        with pytest.raises(PublishError) as caught, hold_lock(out):
            pass
        assert caught.value.problem.what == f"'{name}' in it is a link or a file, and no build made it"
        (out / name).unlink()
    (out / name).write_text("mine")
    with pytest.raises(PublishError), hold_lock(out):
        pass
    assert (out / name).read_text() == "mine"
    assert [path.name for path in elsewhere.iterdir()] == ["mine"]


def test_target_that_is_a_file_or_a_link(tmp_path: Path) -> None:
    """A file is refused; a link to a folder is that folder; a link to nothing is refused."""
    (tmp_path / "file").write_text("mine")
    with pytest.raises(PublishError) as caught, hold_lock(tmp_path / "file"):
        pass
    assert caught.value.problem.what == "there is a file of this name"
    (tmp_path / "real").mkdir()
    (tmp_path / "link").symlink_to("real")
    put(tmp_path / "link", {"index.html": b"one"})
    put(tmp_path / "link", {"index.html": b"two"})
    assert shown(tmp_path / "real") == {"index.html": b"two"}
    (tmp_path / "loose").symlink_to("nowhere")
    with pytest.raises(PublishError) as caught, hold_lock(tmp_path / "loose"):
        pass
    assert caught.value.problem.mend == "Choose another folder: nothing is written over a file."


def test_names_that_differ_by_capitals(tmp_path: Path) -> None:
    """Two files that are one on a disk that does not tell capitals or composed letters apart are a fault of ours."""
    with stage(tmp_path) as staging:
        staging.write("en/Caf\u00e9", b"")
        for path in ("en/caf\u00e9", "EN/CAFE\u0301", "en/cafe\u0301", "Manifest.JSON"):
            with pytest.raises(ValueError, match="written twice"):
                staging.write(path, b"")


def test_name_that_is_too_long(tmp_path: Path) -> None:
    """A name that the disk cannot hold is a problem with a mend."""
    with stage(tmp_path) as staging, pytest.raises(PublishError) as caught:
        staging.write("x" * 300, b"")
    assert caught.value.problem.mend == "Choose a folder with a shorter path."


def test_lock_on_a_disk_without_locks(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Where the lock itself fails, that is told, and not that another build is at work."""

    def fail(*_: object) -> None:
        raise OSError(errno.ENOLCK, os.strerror(errno.ENOLCK))

    monkeypatch.setattr(fcntl, "flock", fail)
    with pytest.raises(PublishError) as caught, hold_lock(tmp_path):
        pass
    assert caught.value.problem.what == "this folder is on a disk without file locks, so two commands could write at once"


def test_lock_of_a_dead_build_is_no_trap(tmp_path: Path) -> None:
    """The number of a process that is gone does not keep the next build out."""
    (tmp_path / publish.LOCK).write_text("1\n")
    put(tmp_path, {"index.html": b"one"})
    assert (tmp_path / publish.LOCK).read_text() == f"process {os.getpid()}"


@pytest.mark.parametrize("builds", [8])
def test_many_builds_at_once(tmp_path: Path, builds: int) -> None:
    """Of eight builds that begin together each is done or told to wait, and the site is whole."""
    barrier, ends = threading.Barrier(builds), list[str]()

    def build(number: int) -> None:
        barrier.wait()
        try:
            put(tmp_path / "out", {"index.html": str(number).encode(), f"{number}": b""})
            ends.append(str(number))
        except PublishError as refusal:
            ends.append(refusal.problem.rule)

    threads = [threading.Thread(target=build, args=(number,)) for number in range(builds)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    done = [end for end in ends if end != "locked"]
    assert len(ends) == builds and done
    site = shown(tmp_path / "out")
    assert set(site) == {"index.html", site["index.html"].decode()}
    assert site["index.html"].decode() in done


def test_damage_that_is_no_former_site(tmp_path: Path) -> None:
    """Folders of a killed build that hold nothing whole are removed."""
    put(tmp_path, {"index.html": b"one"})
    for name in (publish.STAGING, publish.ASIDE, publish.PREVIOUS):
        (tmp_path / name).mkdir()
    with hold_lock(tmp_path):
        assert not (tmp_path / publish.STAGING).exists()
        assert not (tmp_path / publish.ASIDE).exists()
    assert shown(tmp_path) == {"index.html": b"one"}


def test_mark_that_was_lost(tmp_path: Path) -> None:
    """The mark is written anew from the site that stands there, which counts as not verified."""
    put(tmp_path, {"index.html": b"one"})
    before = (tmp_path / publish.MARK).read_bytes()
    (tmp_path / publish.MARK).unlink()
    recover(tmp_path)
    assert (tmp_path / publish.MARK).read_bytes() == before.replace(b"\n", b" to be read\n")
    put(tmp_path, {"index.html": b"one"})
    assert (tmp_path / publish.MARK).read_bytes() == before


def rights_in(folder: Path) -> set[tuple[bool, int]]:
    """The rights of every file and folder of a site, with whether it is a folder."""
    return {(path.is_dir(), stat.S_IMODE(path.lstat().st_mode)) for path in (folder, *folder.rglob("*"))}


PUBLIC = {(True, 0o755), (False, 0o644)}


@pytest.mark.parametrize("umask", [0o077, 0o027, 0o777, 0o000])
def test_a_web_server_reads_what_is_published(tmp_path: Path, umask: int) -> None:
    """Whatever the umask: files and folders, of the first site, of one that takes over, of one made from the spare."""
    before = os.umask(umask if umask != 0o777 else 0o277)
    out = tmp_path / "out"
    try:
        for turn in range(4):
            put(out, {"index.html": b"%d" % turn, "en/a/index.html": b"same", "en/b.html": b"same"})
            assert rights_in(out / "site") == PUBLIC
    finally:
        os.umask(before)
    assert stat.S_IMODE(out.stat().st_mode) == 0o755


def test_rights_that_were_taken_away_are_given_again(tmp_path: Path) -> None:
    """A site of a former version, or one that somebody closed, is opened by the next build, of the same bytes or others."""
    files = {"index.html": b"one", "en/a.html": b"same"}
    for after in (files, files | {"index.html": b"two"}):
        put(tmp_path, files)
        for path in (tmp_path / "site").rglob("*"):
            path.chmod(0o700 if path.is_dir() else 0o600)
        put(tmp_path, after)
        assert shown(tmp_path) == after
        assert rights_in(tmp_path / "site") == PUBLIC

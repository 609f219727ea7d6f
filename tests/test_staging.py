"""What is taken over from the published site: the file itself where nobody touched it, and never anything else."""

from __future__ import annotations

import errno
import os
import shutil
from collections.abc import Callable, Mapping
from pathlib import Path

import pytest

from handouts.publishing.disk import PublishError
from handouts.publishing.manifest import MANIFEST, find_damage
from handouts.publishing.publish import MARK, go_back, hold_lock, published_objects, recover, stage, swap_in
from handouts.publishing.staging import TURNS
from handouts.store.objects import NOTHING_KEPT, Objects
from tests.faults.publishing import trust

Pages = Mapping[str, bytes]
BEFORE: Pages = {"index.html": b"one", "en/a/index.html": b"same", "en/b/index.html": b"same too", "style.css": b"p{}"}
AFTER: Pages = {**BEFORE, "index.html": b"two"}
SAME = ("en/a/index.html", "en/b/index.html", "style.css")


def put(out: Path, pages: Pages, taken: tuple[str, ...] = SAME, kept: Objects = NOTHING_KEPT) -> set[str]:
    """Publish pages, and take over some of them if that can be; tells which were."""
    with hold_lock(out), stage(out, kept) as staging:
        found = {path for path in taken if path in pages and staging.take_over(path)}
        for path, data in pages.items():
            if path not in found:
                staging.write(path, data)
        swap_in(out, staging, b"{}\n")
    return found


def shown(site: Path) -> dict[str, bytes]:
    """What stands in a site, which must be whole."""
    assert find_damage(site) is None
    files = {str(path.relative_to(site)): path.read_bytes() for path in sorted(site.rglob("*")) if path.is_file()}
    return {path: data for path, data in files.items() if path != MANIFEST}


def inodes(site: Path, paths: tuple[str, ...] = SAME) -> list[int]:
    """Which files stand under some paths."""
    return [(site / path).stat().st_ino for path in paths]


def test_the_file_itself_is_taken_over(tmp_path: Path) -> None:
    """With or without its bytes given, an untouched file gets a further name; the changed one is another file."""
    put(tmp_path, BEFORE)
    assert put(tmp_path, AFTER, SAME[:1]) == {SAME[0]}
    assert inodes(tmp_path / "site") == inodes(tmp_path / ".previous")
    assert inodes(tmp_path / "site", ("index.html",)) != inodes(tmp_path / ".previous", ("index.html",))
    assert (shown(tmp_path / "site"), shown(tmp_path / ".previous")) == (AFTER, BEFORE)


def test_the_spare_becomes_the_next_site(tmp_path: Path) -> None:
    """From the fourth site on the folder of the oldest is used again, and no site of the three loses a byte by it."""
    sites: list[Pages] = [{**BEFORE, "index.html": f"{number}".encode(), f"{number}/x": b"x"} for number in range(7)]
    for number, pages in enumerate(sites):
        trust(tmp_path)
        spare = (tmp_path / ".spare").stat().st_ino if number > 2 else 0
        put(tmp_path, pages)
        assert (tmp_path / "site").stat().st_ino == spare or number < 3
        assert shown(tmp_path / "site") == pages
        assert number == 0 or shown(tmp_path / ".previous") == sites[number - 1]
        assert not list(tmp_path.glob(f"site/{number - 3}"))
    assert len({tuple(inodes(tmp_path / name)) for name in ("site", ".previous", ".spare")}) == 1
    assert go_back(tmp_path) and shown(tmp_path / "site") == sites[-2]


def in_place(path: Path, damaged: bytes = b"sAme") -> None:
    """Other bytes, as many, in the file itself."""
    with path.open("r+b") as stream:
        stream.write(damaged)


def with_its_times(path: Path) -> None:
    """Other bytes, and the times set back to what they were."""
    status = path.stat()
    in_place(path)
    os.utime(path, ns=(status.st_atime_ns, status.st_mtime_ns))


def by_another_file(path: Path) -> None:
    """Another file of this name, with the same times."""
    status = path.stat()
    path.unlink()
    path.write_bytes(b"sAme")
    os.utime(path, ns=(status.st_atime_ns, status.st_mtime_ns))


def by_a_link(path: Path) -> None:
    """A link to the same bytes."""
    path.rename(path.with_name("other"))
    path.symlink_to("other")


def under_its_other_name(path: Path) -> None:
    """The file of the previous site, which is the same one."""
    in_place(path.parents[3] / ".previous" / SAME[0])


@pytest.mark.parametrize("spares", [1, 2])
@pytest.mark.parametrize("damage", [in_place, with_its_times, by_another_file, by_a_link, under_its_other_name, Path.unlink])
def test_no_damage_is_carried_on(tmp_path: Path, damage: Callable[[Path], None], spares: int) -> None:
    """Whoever touched a published page, and however: the next site does not have it."""
    for number in range(spares):
        put(tmp_path, {**BEFORE, "index.html": str(number).encode()})
    put(tmp_path, AFTER)
    damage(tmp_path / "site" / SAME[0])
    assert put(tmp_path, BEFORE) == set(SAME[1:])
    assert shown(tmp_path / "site") == BEFORE


def test_touched_and_whole(tmp_path: Path) -> None:
    """A file that was touched and has its bytes is read, and taken over."""
    put(tmp_path, BEFORE)
    os.utime(tmp_path / "site" / SAME[0])
    before = inodes(tmp_path / "site")
    assert put(tmp_path, AFTER) == set(SAME)
    assert inodes(tmp_path / "site") == before


def test_rot_is_found(tmp_path: Path) -> None:
    """Bytes that change and leave no trace are taken for whole, but one file in so many is read at each build, and made again."""
    found = []
    for number in range(TURNS):
        put(tmp_path, BEFORE, ())
        in_place(tmp_path / "site" / SAME[0])
        os.utime(tmp_path / MARK, ns=(0, 4_000_000_000_000_000_000 + number * 1_000_000))
        found += [] if SAME[0] in put(tmp_path, {**BEFORE, "index.html": f"{number}".encode()}) else [number]
        shutil.rmtree(tmp_path / ".spare", ignore_errors=True)
    assert len(found) == 1


@pytest.mark.parametrize("number", [errno.EXDEV, errno.EMLINK, errno.EPERM, errno.ENOTSUP, errno.ENOSYS])
def test_where_files_have_one_name_only(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, number: int) -> None:
    """On disks that know no further names, or know no more of them, files are copied."""

    def fail(*_: object, **__: object) -> None:
        raise OSError(number, os.strerror(number))

    put(tmp_path, BEFORE)
    monkeypatch.setattr(os, "link", fail)
    assert put(tmp_path, AFTER, SAME[:1]) == {SAME[0]}
    assert shown(tmp_path / "site") == AFTER
    assert not set(inodes(tmp_path / "site")) & set(inodes(tmp_path / ".previous"))


def test_other_errors_are_told(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A disk that has no room for another name is full."""

    def fail(*_: object, **__: object) -> None:
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

    put(tmp_path, BEFORE)
    monkeypatch.setattr(os, "link", fail)
    with pytest.raises(PublishError) as caught:
        put(tmp_path, AFTER)
    assert caught.value.problem.mend == "Free some space: a build needs room for another copy of the site."
    assert shown(tmp_path / "site") == BEFORE


def test_lost_on_the_way(tmp_path: Path) -> None:
    """A file that goes between the look at it and the taking is made."""
    put(tmp_path, BEFORE)
    with hold_lock(tmp_path), stage(tmp_path) as staging:
        shutil.rmtree(tmp_path / "site/en")
        assert not staging.take_over(SAME[0])
        assert not staging._link(staging.standing.site / SAME[0], SAME[0])
        staging.write(SAME[0], b"same")
        assert not staging.take_over("en/never-there")


def test_mark_that_says_nothing(tmp_path: Path) -> None:
    """After ``--back`` files are known; where the mark is lost, damaged or of a killed build, every file is read before it is taken over."""
    put(tmp_path, BEFORE)
    put(tmp_path, AFTER)
    go_back(tmp_path)
    with_its_times(tmp_path / "site" / SAME[0])
    assert put(tmp_path, AFTER) == set(SAME[1:])
    for spoil in ("", "0" * 64, "nonsense\n"):
        (tmp_path / MARK).write_text(spoil)
        recover(tmp_path)
        in_place(tmp_path / "site" / SAME[0])
        trust(tmp_path)
        assert put(tmp_path, BEFORE) == set(SAME[1:])
    assert shown(tmp_path / "site") == BEFORE


SPOILED: dict[str, Callable[[Path], object]] = {
    "a file more": lambda spare: (spare / "en/stray").write_bytes(b"x"),
    "another file": lambda spare: ((spare / "style.css").unlink(), (spare / "style.css").write_bytes(b"q{}")),
    "a file less": lambda spare: (spare / "style.css").unlink(),
    "a link to a folder": lambda spare: (shutil.rmtree(spare / "en"), (spare / "en").symlink_to("/tmp")),
    "an empty folder": lambda spare: (spare / "en/c/d").mkdir(parents=True),
    "a pipe": lambda spare: os.mkfifo(spare / "pipe"),
    "a folder for a file": lambda spare: ((spare / "style.css").unlink(), (spare / "style.css").mkdir()),
}


@pytest.mark.parametrize("name", SPOILED)
def test_spoiled_spare(tmp_path: Path, name: str) -> None:
    """Only what is a file of the published site stays in a spare."""
    for number in range(3):
        put(tmp_path, {**BEFORE, "index.html": str(number).encode()})
    SPOILED[name](tmp_path / ".spare")
    put(tmp_path, AFTER)
    assert shown(tmp_path / "site") == AFTER


@pytest.mark.parametrize(("old", "new"), [("a", "a/b/c"), ("a/b/c", "a"), ("a/b", "a/b/c")])
def test_a_file_becomes_a_folder(tmp_path: Path, old: str, new: str) -> None:
    """What stands in the spare is never in the way."""
    for number in range(4):
        put(tmp_path, {**BEFORE, "index.html": str(number).encode(), old: b"x"})
    for number in range(4):
        after = {**BEFORE, "index.html": str(number).encode(), new: b"x"}
        put(tmp_path, after)
        assert shown(tmp_path / "site") == after


def test_the_same_site_once_more(tmp_path: Path) -> None:
    """A site that stays is looked at too, and what is changed in it after that is seen."""
    put(tmp_path, BEFORE)
    put(tmp_path, BEFORE)
    with_its_times(tmp_path / "site/index.html")
    put(tmp_path, BEFORE)
    assert shown(tmp_path / "site") == BEFORE


def test_kept_and_published_are_one_file(tmp_path: Path) -> None:
    """What is kept is a file of the site; of three sites nothing is kept that neither the last nor the one before has."""
    kept = Objects(tmp_path / "kept")
    for number in range(3):
        put(tmp_path / "out", {**BEFORE, "index.html": b"%d" % number}, kept=kept)
        kept.drop_others(set(published_objects(tmp_path / "out")))
    found = {path.stat().st_ino: path.read_bytes() for path in (tmp_path / "kept/objects").rglob("*") if path.is_file()}
    site = {path.stat().st_ino for path in (tmp_path / "out/site").rglob("*") if path.is_file() and path.name != MANIFEST}
    assert sorted(found.values()) == [b"1", b"2", b"p{}", b"same", b"same too"]
    assert site <= found.keys()


@pytest.mark.parametrize("damage", [in_place, with_its_times, by_another_file, by_a_link, under_its_other_name, Path.unlink])
def test_who_edits_a_published_file_edits_what_is_kept(tmp_path: Path, damage: Callable[[Path], None]) -> None:
    """Both are one file: neither is believed, and the next build mends both."""
    out, kept = tmp_path / "out", Objects(tmp_path / "kept")
    for pages in (AFTER, BEFORE):
        put(out, pages, kept=kept)
    damage(out / "site" / SAME[0])
    put(out, AFTER, kept=kept)
    assert shown(out / "site") == AFTER
    name = next(digest for digest in published_objects(out) if kept.path(digest).samefile(out / "site" / SAME[0]))
    assert kept.get(name) == b"same"


def test_a_lost_output_is_made_of_what_is_kept(tmp_path: Path) -> None:
    """A file is taken over by its digest where no site stands, in another output too; a damaged one is not."""
    kept = Objects(tmp_path / "kept")
    put(tmp_path / "out", BEFORE, kept=kept)
    names = {kept.put(data): data for data in BEFORE.values()}
    in_place(kept.path(kept.put(b"same")))
    with hold_lock(tmp_path / "other"), stage(tmp_path / "other", kept) as staging:
        taken = {data for name, data in names.items() if staging.take_over(f"x/{name}", name)}
    assert taken == set(BEFORE.values()) - {b"same"}


def test_what_cannot_be_kept_is_published(tmp_path: Path) -> None:
    """A store that cannot be written is passed over."""
    (tmp_path / "file").touch()
    put(tmp_path / "out", BEFORE, kept=Objects(tmp_path / "file"))
    assert shown(tmp_path / "out/site") == BEFORE

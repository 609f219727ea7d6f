"""Files that people own: two commands at once, an edit meanwhile, links, rights, kills; and commands that run at once."""

from __future__ import annotations

import errno
import fcntl
import os
import signal
import stat
import time
from collections.abc import Callable
from multiprocessing import forkserver
from pathlib import Path

import pytest

from handouts.cli import main
from handouts.commands import score, words
from handouts.commands.start import GIT_FILES
from handouts.ledger.read import read_ledger
from handouts.problems import show_problem
from handouts.publishing import author_files, locks
from handouts.publishing.author_files import ChangedError, as_file_problem, hold_library
from handouts.publishing.disk import PublishError
from handouts.score.answers import read_answers
from handouts.words.reviews import read_reviews
from tests.faults.layer import Layer, Step
from tests.small_library import texts_with
from tests.test_cli import TODAY, write
from tests.words.test_command import a_desk

CODES = ("A222", "B222")
ITEMS = ("P2", "P4", "P16", "P18", "C6")


def at_once(*acts: Callable[[], object]) -> list[int]:
    """Each act in a process of its own, all at one time; their exit statuses (70: an exception)."""
    children = []
    for act in acts:
        child = os.fork()
        if child == 0:
            status = 70
            forkserver._forkserver.__init__()  # type: ignore[misc,attr-defined]  # the parent's server is no child of this process
            try:
                status = int(act() or 0)  # type: ignore[call-overload]
            finally:
                os._exit(status)
        children.append(child)
    return [os.waitstatus_to_exitcode(os.waitpid(child, 0)[1]) for child in children]


def answer(library: Path, item: str, code: str) -> Callable[[], int]:
    """One ``score --answer``."""
    words = ["score", str(library), "--to", str(library.parent / "out"), "--answer", f"{item}=yes", "--code", code]
    return lambda: main([*words, "--language", "en", "--by", "health literacy reviewer", TODAY])


def a_whole_desk(folder: Path) -> Path:
    """The small library in Spanish too, without a problem."""
    library = a_desk(folder)
    catalogue = library / "words/es.po"
    catalogue.write_text(catalogue.read_text(encoding="utf-8").replace("sTOP AND", "Pare aND"), encoding="utf-8")
    return library


def left_in(folder: Path) -> list[str]:
    """Hidden files, which a command may leave behind."""
    return sorted(path.name for path in folder.rglob(".*"))


def test_ten_answers_at_once_are_all_kept(tmp_path: Path) -> None:
    """Ten ``score --answer`` at one time: each says done, and the file has ten answers."""
    library = write(tmp_path / "lib")
    acts = [answer(library, item, code) for item in ITEMS for code in CODES]
    assert at_once(*acts) == [0] * 10
    answers, problems = read_answers((library / "score.yaml").read_bytes(), "score.yaml")
    assert problems == []
    assert sorted((each.item, each.code) for each in answers) == sorted((item, code) for item in ITEMS for code in CODES)
    assert left_in(library) == []


def test_six_reviews_at_once_are_all_kept(tmp_path: Path) -> None:
    """Six ``words review`` at one time: what said done is kept."""
    library = a_whole_desk(tmp_path)
    owners = ["exercise/A222", "exercise/B222", "caution/go-slow", "tier/live", "tier/build", "tier/wake"]
    words = ["words", "review", "es"]
    acts = [
        (lambda owner=owner: main([*words, owner, "--by", "translator", "--on", "2026-11-25", "--library", str(library)]))
        for owner in owners
    ]
    assert at_once(*acts) == [0] * 6
    reviews, problems = read_reviews((library / "words/es.reviews.yaml").read_bytes(), "es.reviews.yaml")
    assert (sorted(reviews), problems) == (sorted(owners), [])


def test_collect_and_ledger_at_once(tmp_path: Path) -> None:
    """Each file is whole, and both commands did what they said."""
    library, out = a_whole_desk(tmp_path), str(tmp_path / "out")
    update = lambda: main(["ledger", "update", str(library), "--to", out, "--unbuilt", TODAY])  # noqa: E731
    collect = lambda: main(["words", "collect", str(library), "--to", out])  # noqa: E731
    assert at_once(update, collect, update, collect) == [0] * 4
    ledger, problems = read_ledger((library / "ledger.yaml").read_bytes(), "ledger.yaml")
    assert ledger and problems == []
    assert main(["check", str(library), TODAY]) == 0


def test_second_command_says_who_holds_the_library(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    """It waits a while, writes nothing, and names command and process."""
    library = write(tmp_path / "lib")
    monkeypatch.setattr(author_files, "WAIT_SECONDS", 0.2)
    with hold_library(library, "words collect"):
        began = time.monotonic()
        assert answer(library, "P2", "A222")() == 2
        assert time.monotonic() - began > 0.2
    said = f"another command is writing here: 'handouts words collect' (process {os.getpid()})"
    assert capsys.readouterr().err == f"{library}:1:1: error: {said}. Run it again when that has ended. [locked]\n1 error\n"
    assert not (library / "score.yaml").exists() and left_in(library) == []


def test_lock_of_a_killed_command_is_no_trap(tmp_path: Path) -> None:
    """It goes with its process; what it leaves is taken away by the next."""

    def die() -> None:
        with hold_library(tmp_path, "score") as held:
            (tmp_path / ".handouts-0123456789abcdef.new").write_text("half")
            os.kill(os.getpid(), signal.SIGKILL)
            held.revise("a", lambda _: b"")

    assert at_once(die) == [-signal.SIGKILL]
    assert left_in(tmp_path) == [".handouts-0123456789abcdef.new", ".lock"]
    with hold_library(tmp_path, "score") as held:
        held.revise("a", lambda _: b"new")
    assert [path.name for path in tmp_path.iterdir()] == ["a"]


def test_lock_passes_from_hand_to_hand(tmp_path: Path) -> None:
    """Twenty at once, each adds a line to what is there: no line is lost."""

    def add(number: int) -> Callable[[], None]:
        def act() -> None:
            for turn in range(5):
                with hold_library(tmp_path, "test") as held:
                    held.revise("lines", lambda found, line=b"%d-%d\n" % (number, turn): (found or b"") + line)

        return act

    assert at_once(*(add(number) for number in range(20))) == [0] * 20
    assert sorted((tmp_path / "lines").read_text().split()) == sorted(f"{number}-{turn}" for number in range(20) for turn in range(5))
    assert [path.name for path in tmp_path.iterdir()] == ["lines"]


def test_a_lock_whose_file_was_taken_away(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Who opened the file just before its holder removed it holds nothing: the file that stands there now counts."""
    real = locks.open_lock

    def open_what_goes(path: Path, holder: str) -> int:
        monkeypatch.setattr(locks, "open_lock", real)
        handle = real(path, holder)
        path.unlink()
        others.append(real(path, "another"))
        return handle

    others: list[int] = []
    monkeypatch.setattr(locks, "open_lock", open_what_goes)
    with pytest.raises(PublishError) as caught, locks.hold_folder(tmp_path, "this", 0.1):
        pass
    assert caught.value.problem.what == "another command is writing here: another"
    os.close(others[0])


def test_folder_without_locks(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A network disk without locks is told as such."""

    def fail(*_: object) -> None:
        raise OSError(errno.EOPNOTSUPP, os.strerror(errno.EOPNOTSUPP))

    monkeypatch.setattr(fcntl, "flock", fail)
    with pytest.raises(PublishError) as caught, hold_library(tmp_path, "score"):
        pass
    assert show_problem(caught.value.problem) == (
        f"{tmp_path}:1:1: error: this folder is on a disk without file locks, so two commands could write at once. "
        "Keep it on a disk that has them, such as one of this machine. [no-locks]"
    )


def test_planted_links_are_not_followed(tmp_path: Path) -> None:
    """Neither in place of the file, nor of its lock, nor of what a former version used as a temporary name."""
    library, other = write(tmp_path / "lib"), tmp_path / "other"
    other.write_text("mine")
    for name, status in (("score.yaml", 1), (".lock", 2), (".score.yaml.new", 0)):
        (library / name).symlink_to(other)
        assert answer(library, "P2", "A222")() == status
        assert other.read_text() == "mine"
        (library / name).unlink(missing_ok=True)


def test_link_in_place_of_a_file_is_told(tmp_path: Path) -> None:
    """A file that is a link is neither read nor replaced."""
    (tmp_path / "file").symlink_to(tmp_path / "other")
    with hold_library(tmp_path, "score") as held, pytest.raises(PublishError) as caught:
        held.revise("file", lambda _: b"new")
    assert caught.value.problem.mend == "Delete the link that stands in its place."
    assert (tmp_path / "file").is_symlink()


def test_rights_owner_and_group_stay(tmp_path: Path) -> None:
    """A file that colleagues share by a group stays theirs; a new one has the rights of any new file."""
    target = tmp_path / "ledger.yaml"
    target.write_bytes(b"old")
    target.chmod(0o660)
    wanted = target.stat()
    if os.geteuid() == 0:
        os.chown(target, 65534, 60)
        wanted = target.stat()
    with hold_library(tmp_path, "ledger") as held:
        held.revise("ledger.yaml", lambda _: b"new")
        held.revise("another", lambda _: b"new")
    found = target.stat()
    assert target.read_bytes() == b"new"
    assert (stat.S_IMODE(found.st_mode), found.st_uid, found.st_gid) == (0o660, wanted.st_uid, wanted.st_gid)
    (tmp_path / "plain").touch()
    assert (tmp_path / "another").stat().st_mode == (tmp_path / "plain").stat().st_mode


def test_group_that_cannot_be_kept_gets_no_rights(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Where the group cannot be given, the new file gives another group no more than everybody has."""

    def refuse(*_: object) -> None:
        raise PermissionError(errno.EPERM, "no")

    target = tmp_path / "file"
    target.write_bytes(b"old")
    target.chmod(0o664)
    former = os.stat_result([*target.stat()[:5], os.getgid() + 1, *target.stat()[6:]])
    monkeypatch.setattr(os, "fchown", refuse)
    monkeypatch.setattr(Path, "lstat", lambda _: former)
    fresh = author_files.write_beside(target, b"new")
    monkeypatch.undo()
    assert stat.S_IMODE(fresh.stat().st_mode) == 0o644


def test_edit_while_a_command_runs(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    """What the author saves while ``ledger update`` works stays; the command says so, with status 1."""
    library = write(tmp_path / "lib")
    update = ["ledger", "update", str(library), "--to", str(tmp_path / "out"), "--unbuilt", TODAY]
    assert main(update) == 0
    edited = (library / "ledger.yaml").read_bytes() + b"# a remark of the author\n"
    write(library, texts_with("exercises/foot-lift.md", ("Sit tall.", "Sit very tall.")))
    real = author_files.write_beside

    def edit_then_write(target: Path, data: bytes) -> Path:
        (library / "ledger.yaml").write_bytes(edited)
        return real(target, data)

    monkeypatch.setattr(author_files, "write_beside", edit_then_write)
    capsys.readouterr()
    assert main(update) == 1
    said = "the file was changed while this command ran, so nothing was written. Run it again. [changed-meanwhile]"
    assert capsys.readouterr().err == f"lib/ledger.yaml:1:1: error: {said}\n1 error\n"
    assert (library / "ledger.yaml").read_bytes() == edited
    assert left_in(library) == []


def test_edit_of_a_catalogue_while_texts_are_collected(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The same for ``words collect``, which draws figures between reading and writing."""
    library = a_whole_desk(tmp_path)
    catalogue = library / "words/es.po"
    write(library, texts_with("exercises/foot-lift.md", ("Sit tall.", "Sit very tall.")) | {"clinic.yaml": (library / "clinic.yaml").read_text()})
    before, edited = catalogue.read_bytes(), catalogue.read_bytes() + b"\n# a remark of the translator\n"
    real = words.draw

    def draw_while_edited(*given: object) -> object:
        catalogue.write_bytes(edited)
        return real(*given)  # type: ignore[arg-type]

    monkeypatch.setattr(words, "draw", draw_while_edited)
    assert main(["words", "collect", str(library), "--to", str(tmp_path / "out")]) == 1
    assert catalogue.read_bytes() == edited != before


def test_answers_that_another_added_meanwhile_are_kept(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """An answer is added to what the file has when it is written, not when the command began."""
    library = write(tmp_path / "lib")
    real = score.load

    def load_then_other(*given: object) -> object:
        loaded = real(*given)  # type: ignore[arg-type]
        monkeypatch.setattr(score, "load", real)
        assert answer(library, "P4", "B222")() == 0
        return loaded

    monkeypatch.setattr(score, "load", load_then_other)
    assert answer(library, "P2", "A222")() == 0
    answers, _ = read_answers((library / "score.yaml").read_bytes(), "score.yaml")
    assert sorted((each.item, each.code) for each in answers) == [("P2", "A222"), ("P4", "B222")]


@pytest.mark.parametrize(("item", "code"), [("P2", "A222")])
def test_answers_that_were_broken_meanwhile(item: str, code: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    """A file that can no longer be read is not written over."""
    library = write(tmp_path / "lib")
    real = score.load

    def load_then_break(*given: object) -> object:
        (library / "score.yaml").write_text("answers: [\n")
        return real(*given)  # type: ignore[arg-type]

    monkeypatch.setattr(score, "read_folder", lambda *_: ({}, []), raising=False)
    monkeypatch.setattr(score, "load", load_then_break)
    assert answer(library, item, code)() == 1
    assert "lib/score.yaml:" in capsys.readouterr().err
    assert (library / "score.yaml").read_text() == "answers: [\n"


def test_several_files_are_replaced_all_or_none(tmp_path: Path) -> None:
    """One of them changed: none is written."""
    (tmp_path / "a").write_bytes(b"1")
    (tmp_path / "b").write_bytes(b"other")
    with hold_library(tmp_path, "words collect") as held, pytest.raises(ChangedError):
        held.replace({"a": b"new", "b": b"new"}, {"a": b"1", "b": b"2"})
    assert [(tmp_path / name).read_bytes() for name in "ab"] == [b"1", b"other"]
    assert [path.name for path in sorted(tmp_path.iterdir())] == ["a", "b"]


def test_several_files_of_one_folder_are_replaced(tmp_path: Path) -> None:
    """The new content of one waits beside it until that of the others is made, and what a killed command left is gone."""
    files = {f"words/{name}.po": name.encode() for name in ("ar", "es", "fr")}
    with hold_library(tmp_path, "words collect") as held:
        held.replace(dict.fromkeys(files, b"before"), {})
        left = tmp_path / "words" / f".handouts-{16 * 'a'}.new"
        left.write_bytes(b"left")
        held.replace(files, dict.fromkeys(files, b"before"))
    assert {f"words/{path.name}": path.read_bytes() for path in (tmp_path / "words").iterdir()} == files


def test_a_file_that_appeared_or_went_meanwhile(tmp_path: Path) -> None:
    """Both are changes."""
    (tmp_path / "new").write_bytes(b"there")
    with hold_library(tmp_path, "words collect") as held:
        for files, read in (({"new": b"x"}, {}), ({"gone": b"x"}, {"gone": b"y"})):
            with pytest.raises(ChangedError):
                held.replace(files, read)
    assert [path.name for path in tmp_path.iterdir()] == ["new"]


@pytest.mark.parametrize("number", [errno.ENOSPC, errno.EXDEV, errno.EROFS, errno.EACCES, errno.EIO])
def test_whatever_step_fails_the_file_is_whole(tmp_path: Path, number: int) -> None:
    """An error in place of each step: old bytes, nothing beside it, one line with a mend."""
    target = tmp_path / "file"
    failed = 0
    for at in range(60):
        target.write_bytes(b"old bytes of the author")

        def watch(index: int, step: Step, at: int = at) -> None:
            if index == at:
                raise OSError(number, os.strerror(number))

        try:
            with Layer(tmp_path, watch).over(), hold_library(tmp_path, "score") as held:
                held.revise("file", lambda _: b"new bytes of the author")
        except PublishError as refusal:
            failed += 1
            assert refusal.problem.rule == "cannot-write" and refusal.problem.mend
        done = target.read_bytes() == b"new bytes of the author"
        assert done or target.read_bytes() == b"old bytes of the author"
    assert failed > 5


def test_killed_before_each_step(tmp_path: Path) -> None:
    """Old bytes or new ones, whole; the next command leaves nothing behind."""
    killed = 0
    for at in range(40):
        folder = tmp_path / str(at)
        folder.mkdir()
        (folder / "file").write_bytes(b"old bytes of the author")

        def watch(index: int, step: Step, at: int = at) -> None:
            if index == at:
                os.kill(os.getpid(), signal.SIGKILL)

        def act(folder: Path = folder, watch: Callable[[int, Step], None] = watch) -> None:
            with Layer(folder, watch).over(), hold_library(folder, "score") as held:
                held.revise("file", lambda _: b"new bytes of the author")

        killed += at_once(act) == [-signal.SIGKILL]
        assert (folder / "file").read_bytes() in (b"old bytes of the author", b"new bytes of the author")
        with hold_library(folder, "score") as held:
            held.revise("file", lambda _: b"again")
        assert [path.name for path in folder.iterdir()] == ["file"]
    assert killed > 5


@pytest.mark.parametrize(
    ("number", "mend"),
    [
        (errno.ENOSPC, "Free some space; the file is as it was."),
        (errno.EXDEV, "Keep the file on the disk of the folder around it."),
        (errno.EROFS, "Copy it to a disk that can be written."),
        (errno.EACCES, "Ask who owns it for the right to write there; the folder counts too."),
        (errno.EISDIR, "Name a file; there is a folder of this name."),
        (errno.EIO, "Mend the disk, or name another place."),
    ],
)
def test_fault_of_the_disk(number: int, mend: str) -> None:
    """Each with its mend: no word of a build, since none was asked for."""
    with pytest.raises(PublishError) as caught, as_file_problem(Path("lib/ledger.yaml")):
        raise OSError(number, os.strerror(number))
    said = f"'ledger.yaml' cannot be written: {os.strerror(number)}. {mend}"
    assert show_problem(caught.value.problem) == f"lib/ledger.yaml:1:1: error: {said} [cannot-write]"


def test_new_files_whatever_step_fails(tmp_path: Path) -> None:
    """All or none, never over another; what is there stays."""
    for at in range(60):
        folder = tmp_path / str(at)
        folder.mkdir()
        (folder / "there").write_bytes(b"mine")

        def watch(index: int, step: Step, at: int = at) -> None:
            if index == at:
                raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

        try:
            with Layer(folder, watch).over(), hold_library(folder, "import") as held:
                held.add({"exercises/a.md": b"draft one", "exercises/b.md": b"draft two"}.items())
        except PublishError:
            pass
        found = {path.relative_to(folder).as_posix(): path.read_bytes() for path in folder.rglob("*") if path.is_file() and not path.name.startswith(".")}
        both = {"exercises/a.md": b"draft one", "exercises/b.md": b"draft two"}
        assert found in ({"there": b"mine"}, {"there": b"mine"} | both), at


def test_new_files_never_take_the_place_of_others(tmp_path: Path) -> None:
    """The first one is taken away again where the second cannot stand."""
    (tmp_path / "there").write_bytes(b"mine")
    with hold_library(tmp_path, "import") as held, pytest.raises(PublishError) as caught:
        held.add([("new/one", b"1"), ("there", b"2")])
    assert show_problem(caught.value.problem) == (
        f"{tmp_path}/there:1:1: error: 'there' cannot be written: File exists. "
        "Choose another name: nothing is written over what is there. [cannot-write]"
    )
    assert {path.name: path.read_bytes() for path in tmp_path.iterdir()} == {"there": b"mine"}


def test_new_files_on_a_disk_without_links(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A memory stick: the same files."""

    def refuse(*_: object, **__: object) -> None:
        raise OSError(errno.EPERM, os.strerror(errno.EPERM))

    monkeypatch.setattr(os, "link", refuse)
    with hold_library(tmp_path, "import") as held:
        held.add([("new", b"1")])
        with pytest.raises(PublishError):
            held.add([("new", b"2")])
    assert {path.name: path.read_bytes() for path in tmp_path.iterdir()} == {"new": b"1"}


def test_start_and_import_at_once(tmp_path: Path) -> None:
    """Two ``start`` in one folder: one library, the other is told; two imports: different codes."""
    folder = tmp_path / "new"
    assert sorted(at_once(*[lambda: main(["start", str(folder)])] * 3)) == [0, 2, 2]
    assert main(["check", str(folder), TODAY]) == 0
    for name in ("one", "two"):
        (tmp_path / f"{name}.txt").write_text(f"Leg swing {name}\n\n1. Stand.\n2. Swing your leg.\n")
    forkserver.ensure_running()  # as a test before this one may have left it
    acts = [lambda name=name: main(["import", str(tmp_path / f"{name}.txt"), str(folder)]) for name in ("one", "two")]
    at_once(*acts)
    drafts = [path.read_text() for path in sorted((folder / "exercises").glob("leg-swing*.md"))]
    assert len({line for draft in drafts for line in draft.splitlines() if line.startswith("code: ")}) == len(drafts) == 2
    assert sorted(left_in(folder)) == sorted(GIT_FILES)


def test_two_files_of_one_folder_are_replaced(tmp_path: Path) -> None:
    """What is made for the first is not taken for what a killed command left."""
    for name in ("es", "ar"):
        (tmp_path / f"{name}.po").write_bytes(b"old")
    with hold_library(tmp_path, "words collect") as held:
        held.replace({"es.po": b"new", "ar.po": b"new"}, {"es.po": b"old", "ar.po": b"old"})
    assert {path.name: path.read_bytes() for path in tmp_path.iterdir()} == {"es.po": b"new", "ar.po": b"new"}

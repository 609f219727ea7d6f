"""What was made once is not made again, whatever is asked; what is damaged, moved or of other code is made anew."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial
from pathlib import Path

import pytest
from markupsafe import Markup

from handouts.problems import Place, Problem
from handouts.store.code_digest import Code
from handouts.store.digest import digest
from handouts.store.memo import Memo
from handouts.tasks.calling import Later
from handouts.workers import Workers
from tests.store import tasks
from tests.store.tasks import Sheet, Text, bold, find_fault, print_page, print_text, read_angle, repeat, shout

HERE, THERE = Place("a.md", 3), Place("a.md", 9)


class SomeCode(Code):
    """The code of the tests' tasks, in one state or another."""

    def __init__(self, state: str = "one") -> None:
        self.state = state

    def digest(self, module: str) -> bytes:
        """By the state alone."""
        return f"{module} {self.state}".encode()

    def recall(self, file: Path) -> None:
        """Nothing is kept of it."""

    def write(self, file: Path) -> None:
        """Nothing is kept of it."""


@pytest.fixture(autouse=True)
def calls() -> list[str]:
    """What was called."""
    tasks.CALLS.clear()
    return tasks.CALLS


def open_memo(folder: Path | None, state: str = "one") -> Memo:
    """The memo of a build."""
    return Memo(folder, SomeCode(state))


def test_made_once(tmp_path: Path, calls: list[str]) -> None:
    """In one build and in the next; large and small results, markup, and without a folder."""
    for folder in (tmp_path, None):
        calls.clear()
        for _ in range(2):
            memo = open_memo(folder)
            for _ in range(2):
                assert memo(shout, Text("hello", HERE)) == "HELLO"
                assert memo(repeat, b"ab", 5000) == b"ab" * 5000
                marked = memo(bold, "a<b")
                assert marked == "<b>a&lt;b</b>" and type(marked) is Markup
            memo.flush()
        assert calls == ["hello", "2 5000", "a<b"] * (1 if folder else 2)


def test_a_task_by_its_name(tmp_path: Path, calls: list[str]) -> None:
    """It is the same task, imported only where its result is not known; also for many values in any process."""
    later: Later[str] = Later("tests.store.tasks", "shout", str)
    memo = open_memo(tmp_path)
    assert memo(later, Text("hello", HERE)) == memo(shout, Text("hello", HERE)) == "HELLO"
    assert [result for _, result, _ in memo.spread(Workers().map, later, [Text("hello", HERE), Text("more", HERE)])] == ["HELLO", "MORE"]
    assert calls == ["hello", "more"]
    memo.flush()
    assert open_memo(tmp_path)(later, Text("more", HERE)) == "MORE" and calls == ["hello", "more"]


def test_other_arguments(tmp_path: Path, calls: list[str]) -> None:
    """Another text, another task, another code: asked anew; another place is not another text."""
    memo = open_memo(tmp_path)
    memo(shout, Text("a", HERE))
    memo(shout, Text("b", HERE))
    memo(shout, Text("a", THERE))
    memo(find_fault, Text("a", HERE))
    assert calls == ["a", "b", "a"]
    memo.flush()
    open_memo(tmp_path, "two")(shout, Text("a", HERE))
    assert calls == ["a", "b", "a", "a"]


def test_places_of_results(tmp_path: Path, calls: list[str]) -> None:
    """A problem is told at the place of now; where nothing was found the place does not matter."""
    for place in (HERE, HERE, THERE):
        memo = open_memo(tmp_path)
        assert memo(find_fault, Text("bad", place)) == (Problem(place, "bad", "it is bad", "Mend it."),)
        assert memo(find_fault, Text("good", place)) == ()
        memo.flush()
    assert calls == ["bad", "good", "bad"]


def test_made_now_as_from_before(tmp_path: Path) -> None:
    """A result is the same value when it is made and when it was kept: what follows from it is not made again in the next build."""
    for folder in (tmp_path, None):
        memo = open_memo(folder)
        made = memo(read_angle, "20")
        (_, spread, _), = memo.spread(Workers().map, read_angle, ["30"])  # fmt: skip
        again = open_memo(folder) if folder else memo
        assert digest(made) == digest(again(read_angle, "20")) and digest(spread) == digest(again(read_angle, "30"))
        assert [type(each.degrees) for each in (*made, *spread)] == [float, float]


def test_spread(tmp_path: Path, calls: list[str]) -> None:
    """Known ones first, equal ones once, each at its own place; a task may have arguments already."""
    texts = [Text("a", HERE), Text("bad", HERE), Text("bad", THERE), Text("a", THERE)]
    memo = open_memo(tmp_path)
    memo(find_fault, texts[0])
    found = list(memo.spread(Workers().map, find_fault, texts))
    assert [(text.text, made) for text, _, made in found] == [("a", False), ("a", False), ("bad", True), ("bad", True)]
    assert [problem.place for _, problems, _ in found for problem in problems] == [HERE, THERE]
    assert calls == ["a", "bad", "bad"]
    for count in (2, 2, 3):
        assert [result for _, result, _ in memo.spread(Workers().map, partial(repeat, count=count), [b"x"])] == [b"x" * count]
    assert calls[3:] == ["1 2", "1 3"]


def test_lost_is_not_kept(tmp_path: Path, calls: list[str]) -> None:
    """What a task could not make is tried again, but not at once for an equal value, without the bounds of workers."""

    def lose(_task: object, values: Iterator[Text], lost: object, _what: str) -> Iterator[tuple[Text, str]]:
        for value in values:
            yield value, lost(value, "too long")  # type: ignore[operator]

    memo = open_memo(tmp_path)
    texts = [Text("a", HERE), Text("a", THERE)]
    assert [made for _, *made in memo.spread(lose, shout, texts, lambda _, why: why)] == [["too long", True]] * 2  # type: ignore[arg-type]
    assert calls == []
    assert memo(shout, Text("a", HERE)) == "A"


def test_every_damage_is_a_miss(tmp_path: Path, calls: list[str]) -> None:
    """Some bits of what is kept turned, files cut anywhere (``tests/long/cache_bits.py`` turns each bit): the result is made again and is the same."""
    memo = open_memo(tmp_path)
    assert memo(repeat, b"ab", 2500) and memo(shout, Text("a", HERE))
    memo.flush()
    for path in [each for each in tmp_path.rglob("*") if each.is_file()]:
        whole = path.read_bytes()
        damages = [whole[:length] for length in range(0, len(whole), 193)]
        damages += [whole[:at] + bytes([whole[at] ^ 1 << bit]) + whole[at + 1 :] for at in range(0, len(whole), 3 if len(whole) < 500 else 127) for bit in range(8)]
        for damaged in damages:
            path.write_bytes(damaged)
            calls.clear()
            again = open_memo(tmp_path)
            assert (again(repeat, b"ab", 2500), again(shout, Text("a", HERE))) == (b"ab" * 2500, "A")
            assert calls, path
            path.write_bytes(whole)


def test_collect(tmp_path: Path, calls: list[str]) -> None:
    """What two builds did not ask for goes; what one asked for stays; tasks that were not asked at all stay as they are."""
    def build(*texts: str, count: int = 0) -> list[str]:
        calls.clear()
        memo = open_memo(tmp_path)
        for text in texts:
            memo(shout, Text(text, HERE))
        if count:
            memo(repeat, b"ab", count)
        memo.collect()
        return list(calls)

    assert build("a", "b", count=4000) == ["a", "b", "2 4000"]
    assert build("a") == []
    assert build("a", "b") == []  # the build before did not ask for it, the one before that did
    assert build("a") == build("a") == []
    assert build("b") == ["b"]
    assert build("a", count=4000) == []
    assert build("a", count=4001) == ["2 4001"]
    assert build("a", count=4002) == ["2 4002"]
    assert len(list(tmp_path.glob("objects/*/*"))) == 2


def test_collect_forgets_other_code(tmp_path: Path) -> None:
    """What tasks gave that are not there any more, or are written anew, does not stay for ever."""
    memo = open_memo(tmp_path)
    memo(shout, Text("a", HERE))
    memo(repeat, b"ab", 5000)
    memo.collect()
    for _ in range(2):
        later = open_memo(tmp_path, "two")
        later(shout, Text("a", HERE))
        later.collect()
    assert [batch.task.partition(":")[2] for batch in open_memo(tmp_path, "two")._batches] == ["shout"]
    assert list(tmp_path.glob("objects/*/*")) == []


def test_fifty_changes(tmp_path: Path) -> None:
    """However often something changes, the store holds no more than twice what two builds need."""
    sizes = []
    for number in range(50):
        memo = open_memo(tmp_path)
        memo(repeat, b"x" * (number + 1), 5000)
        for item in range(20):
            memo(shout, Text(f"{item if item else number}", HERE))
        memo.collect()
        sizes.append(sum(path.stat().st_size for path in tmp_path.rglob("*") if path.is_file()))
    assert sizes[-1] <= 2 * sum(5000 * size for size in (49, 50)) and sizes[-1] < sum(sizes[:20])


def test_a_disk_that_takes_nothing(tmp_path: Path) -> None:
    """Results are made; nothing is kept, and nothing is said."""
    (tmp_path / "file").write_text("")
    memo = open_memo(tmp_path / "file")
    assert memo(repeat, b"ab", 5000) == b"ab" * 5000 and memo(shout, Text("a", HERE)) == "A"
    memo.collect()


def test_only_functions_of_modules(tmp_path: Path) -> None:
    """What has no name by which another build finds it is no task."""
    with pytest.raises(TypeError, match="no function of a module"):
        open_memo(tmp_path)(lambda: 1)


def test_a_file_is_kept_as_one(tmp_path: Path, calls: list[str]) -> None:
    """Its bytes and nothing else are an object, which goes with its result; damaged, lost or without a folder it is made again."""
    for folder in (None, tmp_path):
        for _ in range(2):
            memo = open_memo(folder)
            assert [memo(print_text, "hello").pdf for _ in range(2)] == [b"hello"] * 2
    assert calls == ["hello"] * 3
    (kept,) = (path for path in (tmp_path / "objects").rglob("*") if path.is_file())
    assert kept.read_bytes() == b"hello"
    for spoil in (lambda: kept.write_bytes(b"hellO"), kept.unlink):
        spoil()
        assert open_memo(tmp_path)(print_text, "hello").pdf == kept.read_bytes() == b"hello"
    assert calls == ["hello"] * 5
    for word in ("a", "b", "c"):
        memo = open_memo(tmp_path)
        memo(print_text, word)
        memo.collect()
    assert sorted(path.read_bytes() for path in (tmp_path / "objects").rglob("*") if path.is_file()) == [b"b", b"c"]


def test_why_it_was_made_again(tmp_path: Path) -> None:
    """Which argument changed against the result that is most alike, with the code where that is another; nothing is said of what is the same."""
    memo = open_memo(tmp_path)
    for text in ("hello", "other"):
        memo(print_page, Sheet("a", text, {"size": 1}))
        memo(print_page, Sheet("b", text, {"size": 1}))
    memo.flush()
    for state, code in (("one", list[str]()), ("two", ["the program or a template"])):
        memo = open_memo(tmp_path, state)
        assert memo.why(print_page, Sheet("a", "hello", {"size": 1})) == (code or None)
        memo(print_page, Sheet("a", f"hello {state}", {"size": 1}))
        assert memo.why(print_page, Sheet("a", f"hello {state}", {"size": 1})) == [*code, "text"]
        assert memo.why(print_page, Sheet("b", "hello", {"size": 2, "colour": 3})) == [*code, "more size", "more colour"]
    assert open_memo(None).why(print_page, Sheet("a", "hello", {})) == []

"""A task that is given a world is made again where what it read of it has changed, and not otherwise."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from functools import cached_property
from pathlib import Path
from typing import Any

import pytest

from handouts.store.objects import Objects
from handouts.store.reads import LARGE, WatchedReads
from tests.store.test_memo import SomeCode


@dataclass(frozen=True)
class Book:
    """One that knows others."""

    title: str
    pages: Mapping[str, str] = field(default_factory=dict)
    marks: frozenset[str] = frozenset()
    more: Book | None = None
    numbers: tuple[int, ...] = ()
    reads: Any = None
    """How tasks are called."""

    @cached_property
    def longest(self) -> str:
        """The longest page."""
        return max(self.pages.values(), key=len, default="")

    def page(self, name: str) -> str:
        """A page, or the title."""
        return self.pages.get(name, self.title)

    @property
    def kept(self) -> Callable[[str], str]:
        """Something to call."""
        return str.upper


BOOK = Book("T", {"a": "one", "b": "three", "c": "two"}, frozenset({"x", "y"}), Book("inner"), (1, 2))


def read_title(book: Book) -> bytes:
    """An attribute, through something that can only be called."""
    return book.kept(book.title).encode()


def read_page(book: Book, name: str) -> bytes:
    """What a method reads."""
    return book.page(name).encode()


def read_longest(book: Book) -> bytes:
    """What the book works out by itself."""
    return book.longest.encode()


def read_mark(book: Book) -> bytes:
    """Whether there is one."""
    return str(("x" in book.marks, "a" in book.pages, "z" in book.pages)).encode()


def read_all(book: Book) -> bytes:
    """Every page by its name."""
    return str([*book.pages.items(), len(book.marks), sorted(book.marks)]).encode()


def read_inner(book: Book) -> bytes:
    """A book inside, where there is one."""
    return (book.more.title if book.more else "none").encode()


def read_numbers(books: tuple[Book, ...]) -> bytes:
    """Of several."""
    return str([isinstance(book, Book) and sum(book.numbers) for book in books]).encode()


def read_a_copy(book: Book) -> bytes:
    """Of a book with another title."""
    copy = replace(book, title="copy")
    return f"{copy.title} {copy.numbers} {copy.page('a')} {copy.more and copy.more.title}".encode()


def read_both(book: Book) -> bytes:
    """Another task inside."""
    return read_title(book) + bytes(book.reads(read_page, book, "a"))


def ask(file: Path | None, book: Book, task: Any, *more: Any, code: str = "one") -> tuple[bytes, bool]:
    """The result of a task, and whether it was made now."""
    reads, made = WatchedReads(file, (Book,), SomeCode(code)), []
    reads.watch("book", book)
    plain = reads.make
    reads.make = lambda *given, **named: made.append(1) or plain(*given, **named)  # type: ignore[method-assign,assignment,func-returns-value]
    result = reads(task, (book, book) if task is read_numbers else book, *more)
    reads.write()
    return result, bool(made)


CHANGES: dict[str, Book] = {
    "title": replace(BOOK, title="U"),
    "page a": replace(BOOK, pages={**BOOK.pages, "a": "on"}),
    "page b": replace(BOOK, pages={**BOOK.pages, "b": "fourteen"}),
    "longer c": replace(BOOK, pages={**BOOK.pages, "c": "longest"}),
    "page more": replace(BOOK, pages={**BOOK.pages, "z": ""}),
    "page less": replace(BOOK, pages={"b": "three", "c": "two"}),
    "other order": replace(BOOK, pages=dict(reversed(BOOK.pages.items()))),
    "mark less": replace(BOOK, marks=frozenset({"y"})),
    "mark more": replace(BOOK, marks=BOOK.marks | {"w"}),
    "inner": replace(BOOK, more=Book("other")),
    "inner page": replace(BOOK, more=Book("inner", {"a": "a"})),
    "no inner": replace(BOOK, more=None),
    "numbers": replace(BOOK, numbers=(3,)),
}
TASKS: list[tuple[Any, tuple[Any, ...], set[str]]] = [
    (read_title, (), {"title"}),
    (read_page, ("a",), {"page a", "page less", "title"}),
    (read_page, ("z",), {"title", "page more"}),
    (read_longest, (), {"page b", "longer c"}),
    (read_mark, (), {"mark less", "page less", "page more"}),
    (read_all, (), {"page a", "page b", "longer c", "page more", "page less", "other order", "mark less", "mark more"}),
    (read_inner, (), {"inner", "no inner"}),
    (read_numbers, (), {"numbers"}),
    (read_a_copy, (), {"page a", "page less", "inner", "no inner", "numbers"}),
]


@pytest.mark.parametrize(("task", "more", "reached"), TASKS)
def test_what_was_read_counts_and_nothing_else(tmp_path: Path, task: Any, more: tuple[Any, ...], reached: set[str]) -> None:
    """Each change reaches the tasks that read it; what is kept is what would be made."""
    assert ask(tmp_path / "reads", BOOK, task, *more)[1]
    whole = (tmp_path / "reads").read_bytes()
    assert not ask(tmp_path / "reads", replace(BOOK), task, *more)[1]
    made = set()
    for name, book in CHANGES.items():
        (tmp_path / "reads").write_bytes(whole)
        result, is_made = ask(tmp_path / "reads", book, task, *more)
        assert result == ask(None, book, task, *more)[0], name
        made |= {name} if is_made else set()
    assert made == reached


def test_what_was_before_the_last_change_is_not_served(tmp_path: Path) -> None:
    """A value that changes and comes back counts each time; what stays is kept."""
    file, other = tmp_path / "reads", replace(BOOK, title="U")
    assert [ask(file, book, read_title) for book in (BOOK, other, other, BOOK, BOOK)] == [(b"T", True), (b"U", True), (b"U", False), (b"T", True), (b"T", False)]


def test_code_and_other_arguments_count(tmp_path: Path) -> None:
    """Of other code, or for another argument, nothing is known; what was not asked for is forgotten."""
    file = tmp_path / "reads"
    assert [ask(file, BOOK, read_page, "a")[1], ask(file, BOOK, read_page, "a", code="two")[1]] == [True, True]
    assert [ask(file, BOOK, read_page, "b", code="two"), ask(file, BOOK, read_page, "a", code="two")] == [(b"three", True), (b"one", True)]


def test_damage_is_not_served(tmp_path: Path) -> None:
    """A damaged file is as if it were not there; where nothing can be written the result is made."""
    file = tmp_path / "reads"
    ask(file, BOOK, read_title)
    data = file.read_bytes()
    for damaged in (data[:-1], data[:40] + b"?" + data[41:], b""):
        file.write_bytes(damaged)
        assert ask(file, BOOK, read_title)[1]
    (tmp_path / "no folder").touch()
    assert ask(tmp_path / "no folder" / "reads", BOOK, read_title) == (b"T", True)


def test_a_task_inside_another(tmp_path: Path) -> None:
    """What the inner one read counts for the outer one too, also where the inner one was known."""

    def asked(book: Book, before: WatchedReads | None) -> tuple[WatchedReads, bool]:
        reads = WatchedReads(None, (Book,), SomeCode(), before)
        book = replace(book, reads=reads)
        reads.watch("book", book)
        known = reads.find(b"key", read_both, book) is not None
        assert reads(read_page, book, "a") == book.pages["a"].encode()
        assert reads.make(b"key", read_both, book) == f"{book.title}{book.pages['a']}".encode()
        return reads, known

    first, _ = asked(BOOK, None)
    second, known = asked(BOOK, first)
    assert known
    assert not asked(CHANGES["page a"], second)[1]
    assert not asked(CHANGES["title"], second)[1]
    assert asked(CHANGES["page b"], second)[1]


def test_why() -> None:
    """What changed is told by its way into the world."""
    first = WatchedReads(None, (Book,), SomeCode())
    first.watch("book", BOOK)
    first.make(b"key", read_inner, BOOK)
    then = WatchedReads(None, (Book,), SomeCode("two"), first)
    then.watch("book", CHANGES["inner"])
    assert then.why(b"key", read_inner, CHANGES["inner"]) == ["the program, a template, or what the page is given", "book: more title"]
    assert then.why(b"other", read_inner, BOOK) is None


def test_a_known_result_keeps_what_is_inside(tmp_path: Path) -> None:
    """Where the outer task is not made again, the inner one's result stays kept for the day when it is."""
    file, made = tmp_path / "reads", list[str]()

    def ask_for(book: Book, task: Any, *more: Any) -> None:
        reads = WatchedReads(file, (Book,), SomeCode())
        known, plain = replace(book, reads=reads), reads.note
        reads.watch("book", known)
        reads.note = lambda key, task, *given: made.append(task.__name__) or plain(key, task, *given)  # type: ignore[method-assign,assignment,func-returns-value]
        reads(task, known, *more)
        reads.write()

    for _ in range(3):
        ask_for(BOOK, read_both)
    ask_for(BOOK, read_page, "a")
    assert made == ["read_both", "read_page"]


def read_much(book: Book) -> bytes:
    """More than stands in the file."""
    return book.title.encode() * LARGE


def test_a_large_value_is_an_object(tmp_path: Path) -> None:
    """It is read where it is asked for, and made again where it is damaged; its name is known to who collects."""
    file, objects = tmp_path / "reads", Objects(tmp_path)

    def ask_for(book: Book) -> tuple[bytes, list[str], bool]:
        reads, made = WatchedReads(file, (Book,), SomeCode(), objects=objects), list[int]()
        plain = reads.note
        reads.note = lambda *given: made.append(1) or plain(*given)  # type: ignore[method-assign,assignment,func-returns-value]
        reads.watch("book", book)
        value = reads(read_much, book)
        reads.write()
        return value, reads.names(), bool(made)

    first, (name,), made = ask_for(BOOK)
    assert made and objects.get(name) == first and file.stat().st_size < LARGE
    assert ask_for(BOOK) == (first, [name], False)
    objects.path(name).unlink()
    objects.put(b"other")
    objects.path(name).write_bytes(first[:-1])
    assert ask_for(BOOK) == (first, [name], True) == (objects.get(name), [name], True)

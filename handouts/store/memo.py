"""Results of pure tasks, kept by a digest of their arguments and of the code that makes them: asked for again, not made again.

A task is a function of a module whose return type is declared; all that its result depends on is in its arguments, in the
code behind its module, and in the templates that this code names (``TEMPLATES``).  Places are left out of the key; a result
that names some counts only for arguments with the same places.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from contextlib import contextmanager, suppress
from dataclasses import dataclass, field
from functools import cache, partial
from pathlib import Path
from typing import Any, TypeVar, cast, get_type_hints

import msgspec
from markupsafe import Markup

from handouts.problems import Place
from handouts.store.code_digest import Code
from handouts.store.digest import digest, digest_parts, digest_places, places_in
from handouts.store.journal import Batch, JournalRow, add_batches, read_batches, replace_batches
from handouts.store.objects import Objects
from handouts.tasks.calling import File, Later

LARGE = 4096
"""Bytes from which an encoded result is an object of its own, which is kept at once."""
JOURNAL, CODE = "journal", "code"
"""Files of the folder: small results, and digests of the program's code."""
PROGRAM = "the program or a template"
"""What is said where the code behind a task changed."""
NO_PLACES = b"-"
"""In place of their digest where a result names some and its arguments none."""
MOST_KNOWN = 2_000
"""Arguments whose digests are remembered in a process."""
Value = TypeVar("Value")
Result = TypeVar("Result")


Run = Callable[[Callable[[Any], Any], Iterable[Any], Callable[[Any, str], Any] | None, str], Iterator[tuple[Any, Any]]]
"""Runs a task for many values, as ``Workers.map`` does."""


@cache
def own_code() -> Code:
    """The sources of this package."""
    return Code(Path(__file__).parents[1])


@dataclass(slots=True)
class _Group:
    """What is known of one task with its present code."""

    name: str
    code: bytes
    decode: Callable[[bytes], Any]
    rows: dict[bytes, JournalRow] = field(default_factory=dict)
    asked: set[bytes] = field(default_factory=set)
    fresh: dict[bytes, JournalRow] = field(default_factory=dict)
    """Not on the disk yet."""


class Memo:
    """Calls tasks, and remembers; without a folder it remembers for itself only."""

    def __init__(self, folder: Path | None = None, code: Code | None = None) -> None:
        self._journal = folder / JOURNAL if folder else None
        self._objects = Objects(folder)
        self._files: list[str] = []
        """Names of the files in the result that is being kept."""
        self._code = code or own_code()
        self._code_file = folder / CODE if folder else None
        if self._code_file:
            self._code.recall(self._code_file)
        self._batches = list(read_batches(self._journal)) if self._journal else []
        self._groups: dict[str, _Group] = {}
        """By the name of the task."""
        self._known: dict[int, tuple[object, bytes]] = {}
        self._held: dict[str, set[bytes]] = {}
        """By the name of a task the keys of results that something stands on which was not made again."""
        self._encoder = msgspec.msgpack.Encoder(enc_hook=self._write)
        self.made: dict[str, int] = {}
        """How often each task was called in earnest, by its name."""

    def __call__(self, task: Callable[..., Result], /, *arguments: Any) -> Result:
        """The result of a task."""
        group, more = self._group(task)
        key = self._key((*more, *arguments))
        found, value = self._find(group, key, (*more, *arguments))
        if not found:
            value = self._keep(group, key, (*more, *arguments), task(*arguments))
        return value  # type: ignore[no-any-return]

    def spread(
        self,
        run: Run,
        task: Callable[[Value], Result],
        values: Iterable[Value],
        lost: Callable[[Value, str], Result] | None = None,
        what: str = "working",
    ) -> Iterator[tuple[Value, Result, bool]]:
        """Each value with its result and whether it was made now: known ones first, the others as ``run`` makes them.

        Values with equal keys are made once; what ``lost`` gives is not kept.
        """
        group, more = self._group(task)
        missing: dict[bytes, list[Value]] = {}
        for value in values:
            key = self._key((*more, value))
            found, result = (False, None) if key in missing else self._find(group, key, (*more, value))
            if found:
                yield value, cast(Result, result), False
            else:
                missing.setdefault(key, []).append(value)
        firsts = [same[0] for same in missing.values()]
        keys = {id(value): key for key, (value, *_) in missing.items()}
        gone: dict[int, str] = {}

        def give_up(value: Value, why: str) -> Result:
            assert lost is not None
            gone[id(value)] = why
            return lost(value, why)

        for value, result in run(_find_task(task) if firsts else task, firsts, give_up if lost else None, what):
            key = keys[id(value)]
            if id(value) not in gone:
                result = self._keep(group, key, (*more, value), result)  # noqa: PLW2901 - as it comes from now on
            yield value, result, True
            for other in missing[key][1:]:
                if lost and id(value) in gone:  # what cannot be made once is not tried here, without bounds
                    yield other, lost(other, gone[id(value)]), True
                    continue
                found, again = self._find(group, key, (*more, other))
                yield other, again if found else task(other), not found

    def keys_of(self, calls: Iterable[tuple[Callable[..., Any], Any]]) -> dict[str, list[bytes]]:
        """The keys of the results of tasks, each with its argument, by the name of the task."""
        found: dict[str, list[bytes]] = {}
        for task, value in calls:
            group, more = self._group(task)
            found.setdefault(group.name, []).append(self._key((*more, value)))
        return found

    def hold(self, keys: Mapping[str, Iterable[bytes]]) -> None:
        """Keep results as if they had been asked for: something stands on them that was not made again."""
        for name, each in keys.items():
            self._held.setdefault(name, set()).update(each)

    def why(self, task: Callable[..., Any], /, *arguments: Any) -> list[str] | None:
        """Which arguments of a large result changed since an earlier build made the one that is most like it; None where that one had the same.

        The code is named first, as ``PROGRAM``; empty where nothing like it is known.  To be asked before ``collect``.
        """
        group, more = self._group(task)
        key, parts = self._key((*more, *arguments)), _parts_of((*more, *arguments))
        batches = [batch for batch in self._batches if batch.task == group.name]
        same = [batch for batch in batches if key in batch.rows]
        if same:
            return None if any(batch.code == group.code for batch in same) else [PROGRAM]
        changed = [
            [*([] if batch.code == group.code else [PROGRAM]), *(name for name in {**row.parts, **parts} if row.parts.get(name) != parts.get(name))]
            for batch in batches
            for row in batch.rows.values()
            if row.parts
        ]
        return min(changed, key=len, default=[])

    def flush(self) -> None:
        """Bring what is new to the disk; where that cannot be, it is made again next time."""
        batches = [Batch(group.name, group.code, 0, group.fresh) for group in self._groups.values() if group.fresh]
        if self._journal is not None and batches:
            with suppress(OSError):
                add_batches(self._journal, batches)
        for group in self._groups.values():
            group.fresh = {}
        if self._code_file is not None:
            with suppress(OSError):
                self._code.write(self._code_file)

    def collect(self, published: Iterable[str] = ()) -> None:
        """After a build: keep what it or the one before asked for, and drop the rest, but for objects that are published.

        Of a task that was not asked at all (sheets, where none were wanted) what its present code gave stays.
        """
        if self._journal is None:
            return
        groups = {(group.name, group.code): group for group in self._groups.values()}
        for name, keys in self._held.items():
            if name in self._groups:
                self._groups[name].asked |= keys
        wanted = [Batch(group.name, group.code, 0, {key: group.rows[key] for key in group.asked if key in group.rows}) for group in groups.values()]
        asked = {group.name for group in groups.values() if group.asked}
        for batch in self._batches:
            group = groups.get((batch.task, batch.code))
            if batch.task in asked:
                rest = {key: row for key, row in batch.rows.items() if batch.age == 0 and not (group and key in group.asked)}
                wanted.append(Batch(batch.task, batch.code, 1, rest))
            elif self._is_present(batch):
                wanted.append(batch)
        wanted = [batch for batch in wanted if batch.rows]
        with suppress(OSError):
            replace_batches(self._journal, wanted)
            self._objects.drop_others({name for batch in wanted for row in batch.rows.values() for name in (row.name, *row.files)}.union(published))
        self._batches, self._groups = wanted, {}

    def _is_present(self, batch: Batch) -> bool:
        try:
            return self._code.digest(batch.task.partition(":")[0]) == batch.code
        except KeyError:
            return False

    def _group(self, task: Callable[..., Any]) -> tuple[_Group, tuple[object, ...]]:
        """What is known of a task, and the arguments that it has already."""
        more: tuple[object, ...] = ()
        if isinstance(task, partial):
            more, task = (task.args, task.keywords), task.func
        module, function = (task.module, task.name) if isinstance(task, Later) else (task.__module__, task.__qualname__)
        name = f"{module}:{function}"
        group = self._groups.get(name)
        if group is None:
            if "<" in function:
                raise TypeError(f"{function} is no function of a module")
            kind = task.kind if isinstance(task, Later) else get_type_hints(task)["return"]
            decoder = msgspec.msgpack.Decoder(kind, dec_hook=self._read)
            code = self._code.digest(module)
            group = self._groups[name] = _Group(name, code, decoder.decode)
            for batch in self._batches:
                if (batch.task, batch.code) == (name, code):
                    group.rows |= batch.rows
        return group, more

    def _key(self, arguments: tuple[Any, ...]) -> bytes:
        return digest(tuple(map(self._digest, arguments)))

    def _digest(self, value: Any) -> Any:
        """The value itself; the digest of what is the same in all calls of a task, remembered as long as it lives here."""
        if not hasattr(value, "__dataclass_fields__"):
            return value
        known = self._known.get(id(value))
        if known is None:
            if len(self._known) >= MOST_KNOWN:
                self._known.clear()
            known = self._known[id(value)] = value, digest(value)
        return known[1]

    def _find(self, group: _Group, key: bytes, arguments: tuple[Any, ...]) -> tuple[bool, Any]:
        row = group.rows.get(key)
        if row is None or (row.places and row.places != (digest_places(arguments) or NO_PLACES)):
            return False, None
        data = row.value
        if row.name:
            found = self._objects.get(row.name)
            if found is None:
                return False, None
            data = found
        try:
            value = group.decode(data)
        except msgspec.MsgspecError:
            return False, None
        group.asked.add(key)
        return True, value

    def _keep(self, group: _Group, key: bytes, arguments: tuple[Any, ...], value: Any) -> Any:
        """The value as it comes when it is asked for again: a whole number where its type says float is another value for a digest."""
        self.made[group.name] = self.made.get(group.name, 0) + 1
        group.asked.add(key)
        self._files = []
        try:
            data, name = self._encoder.encode(value), ""
            value = group.decode(data)
            if len(data) >= LARGE and self._journal is not None:
                data, name = b"", self._objects.put(data)
        except (OSError, msgspec.MsgspecError):  # the disk takes nothing, or what it took is gone already
            return value
        places = digest_places(arguments) or NO_PLACES if next(places_in(value), None) else b""
        large = bool(name or self._files)
        parts = _parts_of(arguments) if large else {}
        group.rows[key] = group.fresh[key] = JournalRow(data, name, places, tuple(self._files), parts)
        if large:
            self.flush()
        return value

    def _write(self, value: Any) -> str | bytes | tuple[str, int, int]:
        """What msgspec does not write by itself: markup as text, a file as its name, a place as a row."""
        if isinstance(value, File):
            if self._journal is None:
                return bytes(value)
            self._files.append(self._objects.put(value))
            return self._files[-1]
        if isinstance(value, str):
            return str.__str__(value)
        if isinstance(value, Place):
            return value.file, value.line, value.column
        raise TypeError(f"a value of the type {type(value).__qualname__} cannot be kept")

    def _read(self, kind: type, value: Any) -> Any:
        """What was written so; raises ``ValueError`` where a file is gone."""
        if kind is Markup and isinstance(value, str):
            return Markup(value)  # it was one when it was kept
        if kind is Place:
            return Place(*value)
        if kind is not File:
            raise NotImplementedError(kind)
        data = value if isinstance(value, bytes) else self._objects.get(value)
        if data is None:
            raise ValueError("a file is gone")
        return File(data)


@contextmanager
def using(memo: Memo | None, folder: Path | None) -> Iterator[Memo]:
    """A memo that is given, or one of a folder; what was made is on the disk afterwards."""
    memo = memo or Memo(folder)
    try:
        yield memo
    finally:
        memo.flush()


def _parts_of(arguments: tuple[Any, ...]) -> dict[str, bytes]:
    """What each argument is made of, by names for people."""
    return {name or f"argument {number}": part for number, each in enumerate(arguments, 1) for name, part in digest_parts(each)}


def _find_task(task: Callable[..., Any]) -> Callable[..., Any]:
    """A task as any process can call it."""
    if isinstance(task, partial) and isinstance(task.func, Later):
        return partial(task.func.find(), *task.args, **task.keywords)
    return task.find() if isinstance(task, Later) else task

"""Results of tasks that are given more than they read: each is known by what it read, and made again where that has changed.

A task gets a world (everything of one language) as a stand-in that gives the same values and notes each: an attribute, an
entry, whether there is one.  What it noted is kept with its result, as paths into the world with the digest of each value, so
nobody lists what a page depends on.  A place is known by a number, which stands for the place before it and the step.
A value that the world works out by itself (a property) counts as it comes out; what a method reads counts by itself.
Arguments that are no worlds, and the code, count whole.
"""

from __future__ import annotations

import hashlib
from array import array
from collections.abc import Callable, Mapping, Set
from contextlib import suppress
from pathlib import Path
from types import FunctionType
from typing import Any, TypeVar

import msgspec

from handouts.store.code_digest import Code
from handouts.store.digest import DIGEST_BYTES, digest
from handouts.store.memo import own_code
from handouts.store.objects import NOTHING_KEPT, Objects
from handouts.store.whole_file import write_whole
from handouts.store.world import WORLD, Entries, Fields, Members, Nothing, Places, WorldPlace, in_words
from handouts.tasks.calling import Reads

LARGE = 1024
"""Bytes from which a value is an object of its own: it is read only where it is asked for."""
Result = TypeVar("Result")
_GONE, _OPEN = bytes(DIGEST_BYTES), b"?" * DIGEST_BYTES
"""In place of a digest where there is nothing, and where a value is looked into."""


class ReadsRow(msgspec.Struct, frozen=True, array_like=True):
    """A result, and what it follows from."""

    given: bytes
    """Digest of the code and of the arguments that are no worlds."""
    reads: bytes
    """What was read: numbers of places, 4 bytes each."""
    value: bytes
    """Empty where it is an object of its own."""
    inner: tuple[bytes, ...] = ()
    """Keys of the results that were asked for on the way."""
    name: str = ""
    """Of the object that holds the value."""


class _KeptReads(msgspec.Struct, frozen=True, array_like=True):
    names: list[str]
    """Of steps."""
    parents: bytes
    """Of each place the number of the place before it, 4 bytes each."""
    steps: bytes
    """Of each place the number of its step's name, 4 bytes each."""
    digests: bytes
    """Of the value at each place, when the results were last known to hold."""
    rows: dict[bytes, ReadsRow]
    wholes: dict[int, tuple[bytes, bytes]] = {}
    """By the number of a place with a small value its digest as a whole, and the numbers of places one step on: where it is the same, so are they."""


_NOTHING_KEPT = _KeptReads([], b"", b"", b"", {})


class WatchedReads(Reads):
    """Calls tasks, and remembers what they read; without a file it remembers for itself only.

    ``kinds`` are the classes whose values are looked into; of every other the whole value counts.
    """

    def __init__(
        self, file: Path | None, kinds: tuple[type, ...], code: Code | None = None, before: WatchedReads | None = None,
        objects: Objects = NOTHING_KEPT,
    ) -> None:  # fmt: skip
        self._objects = objects
        self._file, self._kinds, self._code = file, kinds, code or own_code()
        self._before = before.kept() if before else _read(file) if file else _NOTHING_KEPT
        self._places = Places(self._before.names, self._before.parents, self._before.steps)
        self._known = len(self._places.parents)
        """How many places were known before."""
        self._other: set[int] = set()
        """Numbers of places at which there is something else than before."""
        self._fine: set[int] = set()
        """Numbers of those at which there is what was there before."""
        self._wholes = dict(self._before.wholes)
        """Those that were not looked at yet."""
        self._same_wholes: dict[int, bytes] = {}
        """The digests of those that are as before."""
        self._worlds: dict[int, Any] = {}
        self._digests: dict[int, tuple[object, bytes]] = {}
        self._rows: dict[bytes, ReadsRow] = {}
        self._noted: list[dict[int, None]] = []
        """The numbers of places that the tasks that are going on have read, the innermost last."""
        self._asked: list[list[bytes]] = []
        """The keys of the results that they asked for."""

    def beside(self, file: Path | None) -> WatchedReads:
        """One that remembers in another file, for worlds that share values with those known here."""
        other = WatchedReads(file, self._kinds, self._code, objects=self._objects)
        other._digests = self._digests
        return other

    def watch(self, name: str, world: object) -> None:
        """Say by which name a world is known from build to build."""
        place = WorldPlace(world, name)
        self._places.worlds[name] = place
        self._worlds[id(world)] = self._stand_in(place)

    def __call__(self, task: Callable[..., bytes], /, *arguments: Any) -> bytes:
        """The result of a task; kept with its value."""
        key = digest((f"{task.__module__}:{task.__qualname__}", *map(self._name, arguments)))
        if self._asked:
            self._asked[-1].append(key)
        found = self.find(key, task, *arguments)
        return self.make(key, task, *arguments) if found is None else found

    def find(self, key: bytes, task: Callable[..., Any], /, *arguments: Any) -> bytes | None:
        """What was kept under a key; None where that would be another today."""
        row = self._rows.get(key) or self._before.rows.get(key)
        if row is None or row.given != self._given(task, arguments) or not (key in self._rows or self._holds(row)):
            return None
        value = self._objects.get(row.name) if row.name else row.value
        if value is None:
            return None
        self._hold(key, row)
        if self._noted:
            self._noted[-1] |= dict.fromkeys(array("I", row.reads))
        return value

    def _hold(self, key: bytes, row: ReadsRow) -> None:
        """Keep a result that was not made again, and those that were asked for when it was made."""
        self._rows[key] = row
        for each in row.inner:
            if each not in self._rows and each in self._before.rows:
                self._hold(each, self._before.rows[each])

    def make(self, key: bytes, task: Callable[..., bytes], /, *arguments: Any, keep: Callable[[bytes], bytes] = bytes) -> bytes:
        """The result of a task, made now; of it ``keep`` is kept under the key."""
        made, settle = self.note(key, task, *arguments)
        settle(keep(made))
        return made

    def note(self, key: bytes, task: Callable[..., Result], /, *arguments: Any) -> tuple[Result, Callable[[bytes], None]]:
        """The result of a task, made now, and what keeps a value for it under the key."""
        self._noted.append({})
        self._asked.append([])
        try:
            made = task(*map(self._shown, arguments))
        finally:
            noted, asked = self._noted.pop(), tuple(self._asked.pop())
        if self._noted:
            self._noted[-1] |= noted
        given, numbers = self._given(task, arguments), array("I", noted)

        def settle(value: bytes) -> None:
            name = ""
            if len(value) >= LARGE and self._objects.folder:
                with suppress(OSError):
                    name = self._objects.put(value)
            self._rows[key] = ReadsRow(given, numbers.tobytes(), b"" if name else value, asked, name)

        return made, settle

    def why(self, key: bytes, task: Callable[..., Any], /, *arguments: Any) -> list[str] | None:
        """What changed of what a kept result follows from; None where none was kept."""
        row = self._before.rows.get(key)
        if row is None:
            return None
        given = ["the program, a template, or what the page is given"] if row.given != self._given(task, arguments) else []
        return [*given, *(in_words(self._places.place(each)) for each in array("I", row.reads) if not self._is_same(each))]

    def values(self) -> list[bytes]:
        """All that is kept: what was asked for, or, where nothing was yet, what was kept before."""
        return [row.value for row in (self._rows or self._before.rows).values()]

    def names(self) -> list[str]:
        """The names of the objects that hold values."""
        return [row.name for row in (self._rows or self._before.rows).values() if row.name]

    def write(self) -> None:
        """Keep what was asked for, and forget the rest; where it cannot be kept, it is made again next time."""
        if self._file is None:
            return
        body = msgspec.msgpack.encode(self.kept())
        with suppress(OSError):
            write_whole(self._file.parent, self._file, hashlib.sha256(body).digest() + body)

    def kept(self) -> _KeptReads:
        """What was asked for, with the digests of what it read."""
        places, read = self._places, set[int]().union(*(array("I", row.reads) for row in self._rows.values()))
        used = places.with_parents(read)
        renumbered = {number: at for at, number in enumerate(used)} | {WORLD: WORLD}
        rows = {
            key: ReadsRow(row.given, array("I", map(renumbered.__getitem__, array("I", row.reads))).tobytes(), row.value, row.inner, row.name)
            for key, row in self._rows.items()
        }
        below: dict[int, array[int]] = {}
        for number in read:
            if places.step(number) != "#":  # their order counts
                below.setdefault(places.parents[number], array("I")).append(renumbered[number])
        wholes = {renumbered[above]: (whole, below[above].tobytes()) for above in below if len(below[above]) > 1 and (whole := self._whole_at(above))}
        names = {name: at for at, name in enumerate(dict.fromkeys(map(places.step, used)))}
        return _KeptReads(
            [*names],
            array("I", [renumbered[places.parents[number]] for number in used]).tobytes(),
            array("I", [names[places.step(number)] for number in used]).tobytes(),
            b"".join(self._digest_now(number) if number in read else _GONE for number in used),
            rows,
            wholes,
        )

    def _digest_now(self, number: int) -> bytes:
        """The digest of the value at a place, as it is now."""
        if number in self._fine:
            return self._before.digests[number * DIGEST_BYTES : (number + 1) * DIGEST_BYTES]
        return self._digest(self._places.place(number))

    def _whole_at(self, number: int) -> bytes:
        """The digest of the small value at a place; empty where there is none."""
        if number == WORLD:
            return b""
        known = self._same_wholes.get(number)
        if known is None:
            place = self._places.place(number)
            known = self._whole(place.value) if self._is_small(place) else b""
        return known

    def _is_small(self, place: WorldPlace) -> bool:
        """Whether a value that is looked into is soon compared as a whole: an entry, names, or texts by name."""
        value = place.value
        if isinstance(value, Mapping):
            return all(type(each) is str for each in value.values())
        return isinstance(value, Set) or (place.step.startswith("[") and value is not Nothing)

    def _given(self, task: Callable[..., Any], arguments: tuple[Any, ...]) -> bytes:
        functions = [task, *(each for each in arguments if isinstance(each, FunctionType))]
        return digest((*(self._code.digest(each.__module__) for each in functions), *map(self._name, arguments)))

    def _name(self, value: Any) -> Any:
        """What of an argument counts, whatever it reads: the name of a world or of a function, the digest of anything else."""
        value = self._worlds.get(id(value), value)
        if type(value) in (Fields, Members, Entries):
            return "a world", *value._node.steps
        if isinstance(value, FunctionType):
            return f"{value.__module__}:{value.__qualname__}"
        if type(value) is tuple:
            return tuple(map(self._name, value))
        return self._whole(value) if hasattr(value, "__dataclass_fields__") else value

    def _whole(self, value: Any) -> bytes:
        """The digest of a value, which many tasks and the worlds of several languages may share."""
        known = self._digests.get(id(value))
        if known is None:
            parts = tuple(map(self._whole, value)) if type(value) is tuple and all(hasattr(each, "__dataclass_fields__") for each in value) else value
            known = self._digests[id(value)] = value, digest(parts)
        return known[1]

    def _shown(self, value: Any) -> Any:
        """An argument as a task gets it."""
        if type(value) is tuple:
            return tuple(map(self._shown, value))
        return self._worlds.get(id(value), value)

    def _holds(self, row: ReadsRow) -> bool:
        return all(map(self._is_same, {*array("I", row.reads)}.difference(self._fine)))

    def _is_same(self, number: int) -> bool:
        """Whether at a place there is what was there before."""
        if number in self._fine or number >= self._known:
            return True
        if number in self._other:
            return False
        above = self._places.parents[number]
        if above in self._wholes:
            whole, numbers = self._wholes.pop(above)
            place = self._places.place(above)
            if self._is_small(place) and self._whole(place.value) == whole:
                self._same_wholes[above] = whole
                self._fine.update(array("I", numbers))
                if number in self._fine:
                    return True
        same = self._digest(self._places.place(number)) == self._before.digests[number * DIGEST_BYTES : (number + 1) * DIGEST_BYTES]
        (self._fine if same else self._other).add(number)
        return same

    def _digest(self, place: WorldPlace) -> bytes:
        if place.digest is None:
            place.digest = _GONE if place.value is Nothing else _OPEN if self._is_open(place) else self._whole(place.value)
        return place.digest

    def _is_open(self, place: WorldPlace) -> bool:
        """Whether a value is looked into; what it holds counts by itself, and here only that it is there."""
        value = place.value
        return place.step != "#" and (
            isinstance(value, self._kinds) or (isinstance(value, Mapping | Set) and all(type(each) is str for each in value))
        )

    def _stand_in(self, place: WorldPlace) -> Any:
        kind = Entries if isinstance(place.value, Mapping) else Members if isinstance(place.value, Set) else Fields
        return kind(self._get, place)

    def _get(self, place: WorldPlace, step: str) -> Any:
        """What a task gets where it takes a step; noted, but for what can only be called."""
        child = place.children.get(step) or place.child(step)
        if child.shown is WorldPlace:
            value = child.value
            child.counts = not callable(value) or value is Nothing
            if child.counts:
                self._places.number(child)
            child.shown = self._stand_in(child) if child.counts and self._is_open(child) else value
        if self._noted and child.counts:
            self._noted[-1][child.number] = None
        return child.shown


def _read(path: Path) -> _KeptReads:
    with suppress(OSError, msgspec.MsgspecError):
        data = path.read_bytes()
        if hashlib.sha256(data[32:]).digest() == data[:32]:
            return msgspec.msgpack.decode(data[32:], type=_KeptReads)
    return _NOTHING_KEPT

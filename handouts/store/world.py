"""Which parts of a large value a function reads: stand-ins for objects, mappings and sets that note each attribute and entry."""

from __future__ import annotations

from array import array
from collections.abc import Callable, Iterable, Iterator, Mapping, Set
from types import FunctionType, MethodType
from typing import Any

WORLD = 2**32 - 1
"""In place of the number of the place before it, for a world itself."""


class Nothing:
    """What is not there."""


class WorldPlace:
    """A place in a world, one step on from another one.

    A step is its kind and a name: ``.attribute``, ``[entry``, ``?entry`` (is it there), ``#`` (which there are); that of a world is its name.
    """

    __slots__ = ("children", "counts", "digest", "number", "parent", "shown", "step", "value")

    def __init__(self, value: Any, step: str, parent: WorldPlace | None = None) -> None:
        self.value, self.step, self.parent = value, step, parent
        self.children: dict[str, WorldPlace] = {}
        self.digest: bytes | None = None
        self.number = -1
        """By which what was read is known; less than 0 where nobody has one."""
        self.counts = False
        """Whether it is noted that a task came here."""
        self.shown: Any = WorldPlace
        """What a task gets here; this class where nobody has asked."""

    def child(self, step: str) -> WorldPlace:
        """The place one step on."""
        found = self.children.get(step)
        if found is None:
            found = self.children[step] = WorldPlace(take_step(self.value, step), step, self)
        return found

    @property
    def steps(self) -> tuple[str, ...]:
        """The steps to here, the world first."""
        return (*self.parent.steps, self.step) if self.parent else (self.step,)


class Places:
    """Places by number: each is known by that of the place before it, and by the number of its step's name."""

    def __init__(self, names: Iterable[str], parents: bytes, steps: bytes) -> None:
        self.names = list(names)
        self.parents, self.steps = array("I", parents), array("I", steps)
        self.worlds: dict[str, WorldPlace] = {}
        self._name_numbers = {name: number for number, name in enumerate(self.names)}
        self._places: dict[int, WorldPlace] = {}

    def step(self, number: int) -> str:
        """The step to a place."""
        return self.names[self.steps[number]]

    def number(self, place: WorldPlace) -> int:
        """The number of a place; given now where it has none."""
        if place.number < 0:
            above = self.number(place.parent) if place.parent else WORLD
            step = self._name_numbers.setdefault(place.step, len(self.names))
            if step == len(self.names):
                self.names.append(place.step)
            place.number = len(self.parents)
            self.parents.append(above)
            self.steps.append(step)
            self._places[place.number] = place
        return place.number

    def place(self, number: int) -> WorldPlace:
        """The place with a number."""
        found = self._places.get(number)
        if found is None:
            above, step = self.parents[number], self.step(number)
            if above == WORLD and step not in self.worlds:
                return WorldPlace(Nothing, step)  # a world that is not there, or not yet
            found = self._places[number] = self.worlds[step] if above == WORLD else self.place(above).child(step)
            if found.number < 0:
                found.number = number
        return found

    def with_parents(self, numbers: Set[int]) -> list[int]:
        """The numbers of places, and of those on the way to them, in their order."""
        found, waiting = set(numbers), numbers
        while waiting:
            waiting = {self.parents[number] for number in waiting} - found - {WORLD}
            found |= waiting
        return sorted(found)


class Fields:
    """Stands in for a value with attributes; ``get`` notes each step that is taken."""

    def __init__(self, get: Callable[[WorldPlace, str], Any], node: WorldPlace) -> None:
        self._get, self._node = get, node

    @property  # type: ignore[misc]
    def __class__(self) -> type:
        return type(self._node.value)

    @property
    def __dataclass_fields__(self) -> Any:
        """For ``dataclasses.replace``, which looks for it on the type: each field that stays is read, and noted."""
        return type(self._node.value).__dataclass_fields__

    def __getattr__(self, name: str) -> Any:
        node, step = self._node, f".{name}"
        if step not in node.children:
            method = getattr(type(node.value), name, None)
            if isinstance(method, FunctionType):
                return MethodType(method, self)
        value = self._get(node, step)
        if value is Nothing:
            raise AttributeError(name)
        return value


class Members(Set[Any]):
    """Stands in for a set."""

    def __init__(self, get: Callable[[WorldPlace, str], Any], node: WorldPlace) -> None:
        self._get, self._node = get, node

    def __contains__(self, item: object) -> bool:
        return bool(self._get(self._node, f"?{item}"))

    def __iter__(self) -> Iterator[Any]:
        return iter(self._get(self._node, "#"))

    def __len__(self) -> int:
        return len(self._get(self._node, "#"))


class Entries(Mapping[str, Any]):
    """Stands in for a mapping by names."""

    def __init__(self, get: Callable[[WorldPlace, str], Any], node: WorldPlace) -> None:
        self._get, self._node = get, node

    def __getitem__(self, name: str) -> Any:
        value = self._get(self._node, f"[{name}")
        if value is Nothing:
            raise KeyError(name)
        return value

    def __contains__(self, name: object) -> bool:
        return bool(self._get(self._node, f"?{name}"))

    def __iter__(self) -> Iterator[str]:
        return iter(self._get(self._node, "#"))

    def __len__(self) -> int:
        return len(self._get(self._node, "#"))


def has_entries(value: Any) -> bool:
    """Whether a value is a mapping or a set; the kinds that are met most are told apart without asking for what they can do."""
    return isinstance(value, dict | frozenset) or (not isinstance(value, str | tuple | float) and isinstance(value, Mapping | Set))


def take_step(value: Any, step: str) -> Any:
    """What is one step on; ``Nothing`` where there is none."""
    kind, name = step[0], step[1:]
    if value is Nothing:
        return Nothing
    if kind == ".":
        return getattr(value, name, Nothing)
    if not has_entries(value):
        return Nothing
    if kind == "?":
        return name in value
    if kind == "[":
        return value.get(name, Nothing) if isinstance(value, Mapping) else Nothing
    return tuple(value) if isinstance(value, Mapping) else frozenset(value)


def in_words(place: WorldPlace) -> str:
    """A place for people: ``es: library exercise step-up``."""
    world, *steps = place.steps
    return f"{world}: {' '.join(step[1:] or 'all' for step in steps)}"

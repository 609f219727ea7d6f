"""Which parts of a large value a function reads: stand-ins for objects, mappings and sets that note each attribute and entry."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Set
from types import FunctionType, MethodType
from typing import Any

STEP = "\x1f"
"""Between the steps of a path.  A step is its kind and a name: ``.attribute``, ``[entry``, ``?entry`` (is it there), ``#`` (which there are)."""


class WorldPlace:
    """A place in a world."""

    __slots__ = ("children", "digest", "open", "path", "stand_in", "value")

    def __init__(self, value: Any, path: str) -> None:
        self.value, self.path = value, path
        self.children: dict[str, WorldPlace] = {}
        self.digest: bytes | None = None
        self.open: bool | None = None
        self.stand_in: Any = None

    def child(self, step: str) -> WorldPlace:
        """The place one step on."""
        found = self.children.get(step)
        if found is None:
            found = self.children[step] = WorldPlace(take_step(self.value, step), f"{self.path}{STEP}{step}")
        return found


class Nothing:
    """What is not there."""


class Fields:
    """Stands in for a value with attributes; ``get`` notes each step that is taken."""

    def __init__(self, get: Callable[[WorldPlace, str], Any], node: WorldPlace) -> None:
        self._get, self._node = get, node

    @property  # type: ignore[misc]
    def __class__(self) -> type:
        return type(self._node.value)

    def __getattr__(self, name: str) -> Any:
        method = getattr(type(self._node.value), name, None)
        if isinstance(method, FunctionType):
            return MethodType(method, self)
        value = self._get(self._node, f".{name}")
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


def take_step(value: Any, step: str) -> Any:
    """What is one step on; ``Nothing`` where there is none."""
    kind, name = step[0], step[1:]
    if value is Nothing:
        return Nothing
    if kind == ".":
        return getattr(value, name, Nothing)
    if not isinstance(value, Mapping | Set):
        return Nothing
    if kind == "?":
        return name in value
    if kind == "[":
        return value.get(name, Nothing) if isinstance(value, Mapping) else Nothing
    return tuple(value) if isinstance(value, Mapping) else frozenset(value)


def in_words(path: str) -> str:
    """A path for people: ``es: library exercise step-up``."""
    world, *steps = path.split(STEP)
    return f"{world}: {' '.join(step[1:] or 'all' for step in steps)}"

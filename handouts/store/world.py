"""Places in a world, a large value of which parts are read: an attribute, an entry, whether there is one, which there are."""

from __future__ import annotations

from collections.abc import Mapping, Set
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

"""How a pure task is called: at once, or by whoever knows its result from before.  Imports nothing of the project."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from importlib import import_module
from typing import Any, Generic, Protocol, TypeVar

Value = TypeVar("Value")
Result = TypeVar("Result")


class File(bytes):
    """Bytes that are a file of their own (a PDF, a picture): what keeps results keeps them as one."""

    __slots__ = ()


@dataclass(frozen=True, slots=True)
class Later(Generic[Result]):
    """A task by its name.  Its module, and what that needs, is imported only where the result is not known yet.

    Names stand here as they are written, since the digest of code finds what a module needs by its text.
    """

    module: str
    name: str
    kind: Any
    """The type of its result, which the task itself declares too."""

    def __call__(self, /, *arguments: Any, **named: Any) -> Result:
        """The result, made at once."""
        return self.find()(*arguments, **named)

    def find(self) -> Callable[..., Result]:
        """The task itself."""
        return getattr(import_module(self.module), self.name)  # type: ignore[no-any-return]


class Caller(Protocol):
    """Gives the result of a task, a function of a module, for its arguments, which are frozen values."""

    def __call__(self, task: Callable[..., Result], /, *arguments: Any) -> Result: ...


class CallEach(Protocol):
    """Gives for each value the result of a task and whether it was made now, in the order in which they are done.

    ``lost`` gives the result of one that could not be made, from why; ``what`` is said of it while it goes on.
    """

    def __call__(
        self,
        task: Callable[[Value], Result],
        values: Iterable[Value],
        lost: Callable[[Value, str], Result] | None = None,
        what: str = "working",
    ) -> Iterator[tuple[Value, Result, bool]]: ...


def call_now(task: Callable[..., Result], /, *arguments: Any) -> Result:
    """The result, made at once."""
    return task(*arguments)


class Reads:
    """Calls tasks whose arguments may be worlds: large values of which only what a task reads counts.

    This one makes all that it is asked for; ``handouts.store.reads`` knows what was made before.
    """

    def watch(self, name: str, world: object) -> None:
        """Say by which name a world is known from build to build."""

    def __call__(self, task: Callable[..., bytes], /, *arguments: Any) -> bytes:
        """The result of a task."""
        return task(*arguments)

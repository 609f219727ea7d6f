"""The work plan: small pure tasks, each known by what it depends on, so that only what changed is made again.

A task gives the bytes of one page.  What it depends on is a digest by name; a name tells the files of the
library or the parts of the program behind it in words, joined by commas.  Knows no page and no disk.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field
from hashlib import blake2b

Parts = Mapping[str, str]
"""What something depends on: a digest by the name of the inputs behind it."""
DIGEST_BYTES = 12
"""Length of a digest of one part: two of 1e7 parts are alike by chance once in 1e15."""
PROGRAM = "the program, the installed packages, templates/"
"""Name of the part that every page depends on."""
SHOWN = "what the page shows"
"""Name of the part of a page whose view was made and digested: any input may stand behind it."""


def digest_of(*values: object) -> str:
    """A digest of values of the model or of views; where a value stands in its file does not count."""
    return blake2b("\x1f".join(map(repr, values)).encode(), digest_size=DIGEST_BYTES).hexdigest()


@dataclass(frozen=True, slots=True)
class Task:
    """One page: what it depends on, and what makes its bytes."""

    parts: Callable[[], Parts]
    make: Callable[[], bytes]


@dataclass(frozen=True)
class Pages(Mapping[str, bytes]):
    """The files of a site by path, each made when it is asked for and not kept."""

    files: Mapping[str, bytes] = field(default_factory=dict)
    """What is ready: styles, scripts, pictures, indexes."""
    tasks: Mapping[str, Task] = field(default_factory=dict)

    def __getitem__(self, path: str) -> bytes:
        return self.tasks[path].make() if path in self.tasks else self.files[path]

    def __iter__(self) -> Iterator[str]:
        yield from self.files
        yield from (path for path in self.tasks if path not in self.files)

    def __len__(self) -> int:
        return len(self.files.keys() | self.tasks.keys())

    def __contains__(self, path: object) -> bool:
        return path in self.tasks or path in self.files

    def with_files(self, files: Mapping[str, bytes]) -> Pages:
        """The same with more files."""
        return Pages({**self.files, **files}, self.tasks)


@dataclass(frozen=True, slots=True)
class WorkRecord:
    """What the published site was made from: every input by name, and the parts of every page."""

    site: str = ""
    """Digest of the manifest of that site."""
    inputs: Parts = field(default_factory=dict)
    pages: Mapping[str, Parts] = field(default_factory=dict)


def is_same(before: Parts | None, now: Parts) -> bool:
    """Whether something that depended on ``before`` need not be made again."""
    return before is not None and dict(before) == dict(now)


def explain(path: str, before: WorkRecord, inputs: Parts, parts: Parts | None) -> str:
    """Why a page was made again, or was not, in one sentence; ``parts`` None where there is no such page."""
    if parts is None:
        return f"There is no page '{path}' in this site."
    known = before.pages.get(path)
    if known is None:
        why = "it is new" if before.pages else "nothing that can be used again is published here"
        return f"{path} was made: {why}."
    if is_same(known, parts):
        return f"{path} was not made again: nothing that it depends on has changed."
    names = [name for name in {**known, **parts} if known.get(name) != parts.get(name)]
    changed = [each for each in sorted({*before.inputs, *inputs}) if before.inputs.get(each) != inputs.get(each)]
    found = [each for each in changed if any(_stands_behind(each, name) for name in names)]
    return f"{path} was made again: {', '.join(found or names)} changed."


def _stands_behind(given: str, name: str) -> bool:
    """Whether an input (``content/exercises/step-up.md``) is a file or in a folder of a part's name."""
    return name == SHOWN or any(
        f"/{wanted}" in f"/{given}" if wanted.endswith("/") else f"/{given}".endswith(f"/{wanted}")
        for wanted in name.split(", ")
    )

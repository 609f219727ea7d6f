"""Two built sites as readers see them: which pages read differently, are new or gone, and which pictures are others.

For an upgrade of the program, where the library is the same and nothing should read differently.  Reads only.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from difflib import SequenceMatcher
from html.parser import HTMLParser
from pathlib import Path
from typing import Any

SILENT = frozenset({"script", "style", "template"})
"""Elements whose content nobody reads."""
SPOKEN = ("alt", "aria-label", "title", "placeholder")
"""Attributes that are read, or read aloud."""
SHOWN = 8
"""How many differing pages are shown with their lines."""


@dataclass(frozen=True, slots=True)
class PageDifference:
    """A page that reads differently: the lines that went, and those that came."""

    path: str
    then: tuple[str, ...]
    now: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class SiteDifference:
    """What is different between two sites."""

    pages: int
    """How many both have."""
    differing: tuple[PageDifference, ...]
    new: tuple[str, ...]
    gone: tuple[str, ...]
    silent: int
    """Other files that differ: styles, scripts, pictures, sheets."""


class _WordsReader(HTMLParser):
    """The words of a page in their order."""

    def __init__(self) -> None:
        super().__init__()
        self.lines: list[str] = []
        self.silent = 0

    def handle_starttag(self, tag: str, attributes: list[tuple[str, str | None]]) -> None:
        """Counts what is not read, and takes what is read aloud."""
        self.silent += tag in SILENT
        self.lines += [" ".join(value.split()) for name, value in attributes if name in SPOKEN and value]

    def handle_endtag(self, tag: str) -> None:
        """The end of what is not read."""
        self.silent -= tag in SILENT

    def handle_data(self, data: str) -> None:
        """Words."""
        if not self.silent and data.strip():
            self.lines.append(" ".join(data.split()))


def words_of(page: str) -> tuple[str, ...]:
    """What a reader of a page sees or hears, line by line."""
    reader = _WordsReader()
    reader.feed(page)
    reader.close()
    return tuple(reader.lines)


def compare_pages(before: Path, after: Path) -> SiteDifference:
    """The difference between two folders with a site each."""
    old, new = ({str(path.relative_to(root).as_posix()): path for path in sorted(root.rglob("*")) if path.is_file()} for root in (before, after))
    both = [path for path in new if path in old]
    changed = [path for path in both if old[path].read_bytes() != new[path].read_bytes()]
    differing = tuple(_differing(changed, old, new))
    pages = [path for path in both if path.endswith(".html")]
    return SiteDifference(
        len(pages),
        differing,
        tuple(path for path in new if path.endswith(".html") and path not in old),
        tuple(path for path in old if path.endswith(".html") and path not in new),
        len({*old, *new}) - sum(path not in changed for path in both) - len(differing)
        - sum(path.endswith(".html") for path in set(old) ^ set(new)),
    )  # fmt: skip


def _differing(changed: list[str], old: Mapping[str, Path], new: Mapping[str, Path]) -> Iterator[PageDifference]:
    for path in changed:
        if path.endswith(".html"):
            then, now = words_of(old[path].read_text("utf-8")), words_of(new[path].read_text("utf-8"))
            if then != now:
                codes = [each for each in SequenceMatcher(None, then, now, autojunk=False).get_opcodes() if each[0] != "equal"]
                went = tuple(line for _, first, last, _, _ in codes for line in then[first:last])
                yield PageDifference(path, went, tuple(line for _, _, _, first, last in codes for line in now[first:last]))


def say_pages(found: SiteDifference) -> str:
    """The difference in lines."""
    lines = [f"{found.pages} pages stand in both sites; {found.silent} other files differ: styles, scripts, pictures, sheets."]
    lines += [f"new: {path}" for path in found.new] + [f"gone: {path}" for path in found.gone]
    if not (found.differing or found.new or found.gone):
        return "\n".join(["Nothing that readers see in words is different.", *lines])
    for page in found.differing[:SHOWN]:
        lines += ["", page.path, *(f"  - {line}" for line in page.then), *(f"  + {line}" for line in page.now)]
    if len(found.differing) > SHOWN:
        lines += ["", f"and {len(found.differing) - SHOWN} more pages: " + ", ".join(page.path for page in found.differing[SHOWN:])]
    return "\n".join(lines)


def record_pages(found: SiteDifference) -> dict[str, Any]:
    """The difference for tools."""
    return {
        "pages": found.pages,
        "differing": [{"path": page.path, "then": list(page.then), "now": list(page.now)} for page in found.differing],
        "new": list(found.new),
        "gone": list(found.gone),
        "other files": found.silent,
    }

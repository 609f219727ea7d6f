"""What a build does not publish, in lines for a person: what is held back, untranslated, or lacks something."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from itertools import groupby
from typing import Any

SHOWN = 5
"""How many names a line shows."""


def print_left_out(record: Mapping[str, Any]) -> None:
    """Prints what the report of a build says was not published."""
    for line in left_out_lines(record):
        print(line)


def left_out_lines(record: Mapping[str, Any]) -> Iterator[str]:
    """A line for each reason, from the report of a build; nothing where all is published."""
    held = record.get("held back", ())
    if held:
        yield f"Not published, as the review has ended: {_names([_ended(item) for item in held])}"
    gaps = [item for item in record.get("not published", ()) if not item["because"][0].startswith("left out")]
    for language, items in groupby(gaps, lambda item: str(item["language"])):
        names = [str(item["title"]) for item in items]
        yield f"Not published in '{language}': {_names(names)} (why: handouts words state)"
    for item in record.get("not whole", ()):
        lacks = _names(list(item["lacks"]))
        yield f"Published in '{item['language']}' without all of its exercises: {item['item']} lacks {lacks}"


def _ended(item: Mapping[str, Any]) -> str:
    return f"{item['title']} ({item['review ended']})"


def _names(names: Sequence[str]) -> str:
    more = f" and {len(names) - SHOWN} more" if len(names) > SHOWN else ""
    return "; ".join(names[:SHOWN]) + more

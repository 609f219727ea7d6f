"""Markup of a template as plain lists that a script makes element by element, without markup in strings.

``["p", {"class": "note"}, ["text", ["a", {"href": "#call"}, ["call"]]]]``; a list of such.  The markup comes from our own templates.
"""

from __future__ import annotations

import re
from html.parser import HTMLParser
from typing import Any

_VOID = frozenset({"br", "img", "input"})


def markup_trees(markup: str) -> list[Any]:
    """The elements of a text of HTML; the space between them that breaks a line is left out, any other stays.

    ValueError where an element is not closed, or another one is.
    """
    reader = _TreeReader()
    reader.feed(markup)
    reader.close()
    if len(reader.open) > 1:
        raise ValueError(f"<{reader.open[-1][0]}> is not closed")
    found: list[Any] = reader.open[0][2]
    return found


class _TreeReader(HTMLParser):
    """Gathers elements; the first of those that are open is no element and holds all."""

    def __init__(self) -> None:
        super().__init__(convert_charrefs=True)
        self.open: list[list[Any]] = [["", {}, []]]

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        element: list[Any] = [tag, {name: value or "" for name, value in attrs}]
        self.open[-1][2].append(element)
        if tag not in _VOID:
            element.append([])
            self.open.append(element)

    def handle_endtag(self, tag: str) -> None:
        if self.open[-1][0] != tag:
            raise ValueError(f"</{tag}> closes <{self.open[-1][0]}>")
        element = self.open.pop()
        if not element[2]:
            element.pop()

    def handle_data(self, data: str) -> None:
        if data.strip() or "\n" not in data:
            self.open[-1][2].append(re.sub(r"\s+", " ", data))

"""Inline drawings of a document, taken out of its HTML: they are most of its bytes, and no layout looks inside them.

What stays is the opening tag, with the box that is laid out, and the title, which a reader hears.  Knows nothing of
what is drawn, and never draws.
"""

from __future__ import annotations

import re
from xml.etree import ElementTree

MARK = "data-drawing"
"""Attribute of what stays: the number of its drawing."""
_DRAWING = re.compile(r"<svg\b([^>]*)>((?:(?!<svg\b).)*?)</svg>", re.DOTALL)
_TITLE = re.compile(r"\s*<title\b[^>]*>[^<]*</title>")


def take_drawings(html: str) -> tuple[str, tuple[ElementTree.Element, ...]]:
    """The HTML with each drawing's opening tag and title alone, and the drawings in the order of their numbers.

    A drawing that is not well-formed XML stays where it is.
    """
    taken: list[ElementTree.Element] = []

    def take(found: re.Match[str]) -> str:
        try:
            tree = ElementTree.fromstring(found[0])
        except ElementTree.ParseError:
            return found[0]
        taken.append(tree)
        title = _TITLE.match(found[2])
        return f'<svg{found[1]} {MARK}="{len(taken) - 1}">{title[0] if title else ""}</svg>'

    return _DRAWING.sub(take, html), tuple(taken)

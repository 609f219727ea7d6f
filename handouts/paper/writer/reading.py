"""A document's HTML as elements: ours is well-formed but for its metadata, and is read as XML, several times faster than as HTML.

What is not well-formed is left to the writer, which reads it as a browser does; both give the same elements.
"""

from __future__ import annotations

import re
from xml.etree import ElementTree

_DOCTYPE = re.compile(r"^\s*<!doctype html>\s*", re.IGNORECASE)
_OPEN = re.compile(r"<(meta|br)\b([^<>]*[^<>/])?>")
"""Elements that have no end."""
_OTHER = re.compile(r"<[!?]|</?[A-Z]|<svg\b(?![^>]*\sxmlns=)")
"""Comments and the like, names that HTML would read as others, and drawings that HTML alone knows for what they are."""


def read_elements(html: str) -> ElementTree.Element | None:
    """The root element; None where the text is not well-formed."""
    text, found = _DOCTYPE.subn("", html, count=1)
    if not found or _OTHER.search(text):
        return None
    text = _OPEN.sub(r"<\1\2/>", text).replace("&nbsp;", "\u00a0")
    try:
        root = ElementTree.fromstring(text)
    except ElementTree.ParseError:
        return None
    return root if root.tag == "html" and [child.tag for child in root] == ["head", "body"] else None

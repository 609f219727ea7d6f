"""Languages inside a document: an element that says its own is read aloud in it.

The writer gives the language of the whole document alone.  Knows the writer's function by what it does, never its modules.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Any

_WHOLE = ("html", "body")
"""Their structure element is the document's own, which has the language of the whole."""


def tag_languages(build: Callable[..., Iterator[Any]], as_text: Callable[[str], Any]) -> Callable[..., Iterator[Any]]:
    """The writer's function that tags a box, with the ``lang`` of its element (BCP 47) as Lang (ISO 32000-1, 14.9.2).

    ``as_text`` makes a text of the PDF from a string.
    """

    def build_tagged(box: Any, *given: Any) -> Iterator[Any]:
        language = _language_of(getattr(box, "_box", box))
        for tag in build(box, *given):
            if language:
                tag["Lang"] = as_text(language)
            yield tag

    return build_tagged


def _language_of(box: Any) -> str:
    """What the element of a box says; empty where it says none, or the box is none of the element itself."""
    element = getattr(box, "element", None)
    if element is None or box.element_tag != element.tag or element.tag in _WHOLE:
        return ""
    return str(element.get("lang") or "")

"""Figures as plain lists that a script draws element by element, without markup in strings.

``["svg", {"viewBox": "0 0 9 9"}, [children]]``.  Only the elements and attributes that figures have are let through.
"""

from __future__ import annotations

import re
from typing import Any
from xml.etree import ElementTree

_ELEMENTS = frozenset({"svg", "g", "path", "circle", "rect", "line", "text", "title", "desc", "image"})
_ATTRIBUTES = frozenset({"viewBox", "class", "d", "transform", "r", "cx", "cy", "x", "y", "width", "height", "role"})
_WRITTEN_ANEW = re.compile("data:image/(?:png|jpeg);base64,[A-Za-z0-9+/=]+")
"""The only address that a picture may have: its own bytes, as ``handouts.build.own_pictures`` writes them."""
_PREFIX = "{http://www.w3.org/2000/svg}"


class NotAFigureError(ValueError):
    """An element that no figure has."""


def picture_tree(svg: str) -> list[Any]:
    """An SVG figure as lists; titles and descriptions stay, since they are its words."""
    # The text comes from the figure engine, never from a library's file.
    return _tree(ElementTree.fromstring(svg))


def _tree(element: ElementTree.Element) -> list[Any]:
    name = element.tag.removeprefix(_PREFIX)
    if name not in _ELEMENTS:
        raise NotAFigureError(f"a figure has no element '{name}'")
    attributes = {key: value for key, value in element.attrib.items() if key in _ATTRIBUTES}
    if name == "image" and _WRITTEN_ANEW.fullmatch(element.get("href", "")):
        attributes["href"] = element.attrib["href"]
    children: list[Any] = [_tree(child) for child in element]
    if element.text and element.text.strip():
        children = [element.text, *children]
    return [name, attributes, children] if children else [name, attributes]


def description_of(tree: list[Any]) -> str:
    """What a figure shows, in words; empty where it does not say."""
    return next((str(child[2][0]) for child in tree[2] if child[0] == "desc" and len(child) > 2), "")

"""Texts of the library as HTML: inline Markdown, rendered for pages and sheets."""

from __future__ import annotations

from collections.abc import Iterable

from markupsafe import Markup

from handouts.model import Words
from handouts.text.markup import render_inline


def rich(words: Words) -> Markup:
    """A text with its inline Markdown as safe HTML."""
    return render_inline(words.text)


def rich_all(items: Iterable[Words]) -> tuple[Markup, ...]:
    """Several texts."""
    return tuple(map(rich, items))


def begin(text: str) -> str:
    """A word from a closed list as the beginning of a line."""
    return text[:1].upper() + text[1:]

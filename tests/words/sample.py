"""A small library with a whole catalogue, for tests that break one thing in either."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import date

from handouts.model import Library
from handouts.words.catalogue import Catalogue, CatalogueMessage
from handouts.words.merge import merge_catalogue, new_catalogue, template_entries
from handouts.words.messages import collect_messages, unique_messages
from handouts.words.reviews import Reviews, add_review
from handouts.words.state import find_state

FILE = "content/words/es.po"


STOP = {"es": "Pare", "ar": "توقف", "fr": "Arrêtez", "vi": "Dừng", "zh-Hans": "停止"}
"""A word for "Stop" by language: a translated stop rule begins with one."""


OWN_LETTER = {"ar": "ن", "zh-Hans": "字"}


def turn(text: str, language: str = "es") -> str:
    """A made-up translation: other letters, the same numbers and marks; letters of its own behind it where the language has some."""
    return text.swapcase() + OWN_LETTER.get(language, "") * (1 + len(text) // 2)


def untranslated(library: Library, language: str = "es") -> Catalogue:
    """A fresh catalogue of a library."""
    template = template_entries(unique_messages(collect_messages(library)))
    return merge_catalogue(new_catalogue(language, f"content/words/{language}.po"), template)


def translated(library: Library, language: str = "es") -> Catalogue:
    """A catalogue in which every text is translated."""
    stop = STOP.get(language, "sTOP")
    return change(
        untranslated(library, language), lambda entry: replace(entry, forms=(turn(entry.source, language).replace("sTOP", stop),))
    )


def change(catalogue: Catalogue, with_entry: Callable[[CatalogueMessage], CatalogueMessage]) -> Catalogue:
    """A catalogue with every entry changed."""
    return replace(catalogue, entries=tuple(with_entry(entry) for entry in catalogue.entries))


def change_one(catalogue: Catalogue, context: str, text: str | None = None, **changes: object) -> Catalogue:
    """A catalogue with the first entry of a context changed."""
    entry = next(entry for entry in catalogue.entries if entry.context == context)
    forms = entry.forms if text is None else (text,)
    new = replace(entry, forms=forms, **changes)  # type: ignore[arg-type]
    return replace(catalogue, entries=tuple(new if item is entry else item for item in catalogue.entries))


def reviewed(library: Library, catalogue: Catalogue) -> Reviews:
    """A review of every owner's texts as they stand."""
    state = find_state(collect_messages(library), catalogue)
    versions = {owner: item.version for owner, item in state.owners.items()}
    return add_review({}, versions, "medical translator", date(2026, 10, 1))

"""A small library with a whole catalogue, for tests that break one thing in either."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import date

from handouts.model import Library
from handouts.words.catalogue import Catalogue, Entry
from handouts.words.merge import merge_catalogue, new_catalogue, template_entries
from handouts.words.messages import collect_messages, unique_messages
from handouts.words.reviews import Reviews, add_review
from handouts.words.state import find_state
from handouts.words.stopping import STOP_WORDS

FILE = "content/words/es.po"


def turn(text: str, language: str = "es") -> str:
    """A made-up translation: other letters, the same numbers and marks; what opens with stop opens so in the language."""
    turned = text.swapcase()
    return turned.replace("sTOP", STOP_WORDS.get(language.partition("-")[0], ("stop",))[0], 1) if turned.startswith("sTOP") else turned


def untranslated(library: Library, language: str = "es") -> Catalogue:
    """A fresh catalogue of a library."""
    template = template_entries(unique_messages(collect_messages(library)))
    return merge_catalogue(new_catalogue(language, f"content/words/{language}.po"), template)


def translated(library: Library, language: str = "es") -> Catalogue:
    """A catalogue in which every text is translated."""
    return change(untranslated(library, language), lambda entry: replace(entry, forms=(turn(entry.source, language),)))


def change(catalogue: Catalogue, with_entry: Callable[[Entry], Entry]) -> Catalogue:
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

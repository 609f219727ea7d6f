"""Every text for readers in a value of the model, found by walking its fields in the order of declaration."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import fields, is_dataclass
from typing import Any

from handouts.model import Exercise, Words


def walk_words(value: Any) -> Iterator[Words]:
    """Each ``Words`` in a record, a tuple or a record's field, however deep."""
    if isinstance(value, Words):
        yield value
    elif isinstance(value, tuple):
        for item in value:
            yield from walk_words(item)
    elif is_dataclass(value) and not isinstance(value, type):
        for item in fields(value):
            if item.name not in ("place", "places", "figure"):
                yield from walk_words(getattr(value, item.name))


NAMES = ("title", "name", "also_called", "suits", "by", "hours")
"""Fields whose text stands in titles, lists, sentences of the interface and text for the chart: without bold, italic and links."""


def walk_names(value: Any, is_name: bool = False) -> Iterator[Words]:
    """Each ``Words`` that is a name, in a record, a tuple or a record's field, however deep."""
    if isinstance(value, Words):
        yield from [value] if is_name else []
    elif isinstance(value, tuple):
        for item in value:
            yield from walk_names(item, is_name)
    elif is_dataclass(value) and not isinstance(value, type):
        for item in fields(value):
            if item.name not in ("place", "places", "figure"):
                yield from walk_names(getattr(value, item.name), item.name in NAMES)


def patient_sentences(exercise: Exercise) -> tuple[Words, ...]:
    """The running text that a patient reads in one exercise: not its title, headings or search words."""
    mistakes = tuple(words for mistake in exercise.mistakes for words in (mistake.see, mistake.do))
    blocks = tuple(item for section in exercise.sections for block in section.blocks for item in block.items)
    ready = (exercise.ready_when,) if exercise.ready_when else ()
    changes = tuple(way.change for way in (*exercise.easier, *exercise.harder) if way.change)
    return (exercise.why, *blocks, *exercise.cues, exercise.feel, *mistakes, *ready, *changes)

"""Every text for readers in a value of the model, found by walking its fields in the order of declaration."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import fields, is_dataclass
from typing import Any

from handouts.model import ClassPlan, Exercise, FunctionTest, Leaflet, Lesson, Standalone, Words

_FIELDS: dict[type, tuple[str, ...]] = {}
"""By class what ``_read_fields`` gives."""


def _read_fields(kind: type) -> tuple[str, ...]:
    """The fields of a record in which texts for readers may stand; none of what is no record."""
    if kind not in _FIELDS:
        _FIELDS[kind] = tuple(each.name for each in fields(kind) if each.name not in ("place", "places", "figure")) if is_dataclass(kind) else ()
    return _FIELDS[kind]


def walk_words(value: Any) -> Iterator[Words]:
    """Each ``Words`` in a record, a tuple or a record's field, however deep."""
    if isinstance(value, Words):
        yield value
    elif isinstance(value, tuple):
        for item in value:
            yield from walk_words(item)
    else:
        for name in _read_fields(type(value)):
            yield from walk_words(getattr(value, name))


NAMES = ("title", "name", "also_called", "suits", "by", "hours")
"""Fields whose text stands in titles, lists, sentences of the interface and text for the chart: without bold, italic and links."""


def walk_names(value: Any, is_name: bool = False) -> Iterator[Words]:
    """Each ``Words`` that is a name, in a record, a tuple or a record's field, however deep."""
    if isinstance(value, Words):
        yield from [value] if is_name else []
    elif isinstance(value, tuple):
        for item in value:
            yield from walk_names(item, is_name)
    else:
        for name in _read_fields(type(value)):
            yield from walk_names(getattr(value, name), name in NAMES)


_CAPITAL = r"[A-ZÀ-ÖØ-Þ][a-zß-öø-ÿ'’-]+"
_NAMED = re.compile(
    r"\b(?:Dr|Mr|Mrs|Ms|Miss|Prof|Sr|Sra|Mme|Herr|Frau)\b\.?\s+\w"
    r"|\b[^\W\d_]\.\s*[A-ZÀ-ÖØ-Þ]"
    rf"|\b{_CAPITAL}\s+(?:(?:de|da|van|von|der|la|el)\s+)*{_CAPITAL}"
)


def looks_like_a_name(role: str) -> bool:
    """Whether what should be a role reads like a person: a form of address, an initial, or two words with capitals."""
    return _NAMED.search(role) is not None


ROLE_MEND = "Write the role in small letters, such as 'lead physiotherapist'; never a person's name."
"""What to do about a name in place of a role."""


def patient_sentences(exercise: Exercise) -> tuple[Words, ...]:
    """All text that a patient reads in one exercise, but for its title, headings and search words."""
    changes = tuple(way.change for way in (*exercise.easier, *exercise.harder) if way.change)
    return (*running_sentences(exercise), *changes)


def running_sentences(exercise: Exercise) -> tuple[Words, ...]:
    """What a patient reads on end: without what is easier or harder, which are single sentences beside it."""
    mistakes = tuple(words for mistake in exercise.mistakes for words in (mistake.see, mistake.do))
    blocks = tuple(item for section in exercise.sections for block in section.blocks for item in block.items)
    ready = (exercise.ready_when,) if exercise.ready_when else ()
    return (exercise.why, *blocks, *exercise.cues, exercise.feel, *mistakes, *ready)


def standalone_sentences(item: Standalone) -> tuple[Words, ...]:
    """What a patient reads on end, or is told, of something without exercises; what only clinicians read is not among it."""
    if isinstance(item, Lesson):
        return item.questions
    if isinstance(item, ClassPlan):
        return tuple(words for part in (item.warm_up, item.cool_down) if part for words in part.do)
    own = (item.measures,) if isinstance(item, FunctionTest) else (item.why, *item.points, *item.come_back) if isinstance(item, Leaflet) else ()
    blocks = tuple(words for section in item.sections for block in section.blocks for words in block.items)
    return (*own, item.suits, *blocks)

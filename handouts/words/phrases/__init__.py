"""All phrases of the interface by id: one module for each room, no id twice, each id begins with its room's name."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from handouts.words.phrase import AnyPhrase, Phrase, Plural, find_placeholders, has_stray_brace
from handouts.words.phrases import classes, clinician, course, dose, figure, limits, paper, phone, site, steps, upkeep

ROOMS: dict[str, Mapping[str, AnyPhrase]] = {
    "dose": dose.PHRASES,
    "figure": figure.PHRASES,
    "limits": limits.PHRASES,
    "steps": steps.PHRASES,
    "course": course.PHRASES,
    "classes": classes.PHRASES,
    "site": site.PHRASES,
    "paper": paper.PHRASES,
    "clinician": clinician.PHRASES,
    "phone": phone.PHRASES,
    "upkeep": upkeep.PHRASES,
}


def join_rooms(rooms: Mapping[str, Mapping[str, AnyPhrase]]) -> dict[str, AnyPhrase]:
    """The phrases of all rooms; ValueError for an id outside its room, a missing note or a stray brace."""
    found: dict[str, AnyPhrase] = {}
    for room, phrases in rooms.items():
        for name, phrase in phrases.items():
            if not name.startswith(f"{room}."):
                raise ValueError(f"phrase {name!r} stands in the room {room!r} and must begin with '{room}.'")
            _check_phrase(name, phrase)
            found[name] = phrase
    return found


def _check_phrase(name: str, phrase: AnyPhrase) -> None:
    texts = (phrase.english,) if isinstance(phrase, Phrase) else (phrase.one, phrase.other)
    if not phrase.note or not all(texts):
        raise ValueError(f"phrase {name!r} has no English text or no note for the translator")
    if any(has_stray_brace(text) for text in texts):
        raise ValueError(f"phrase {name!r} has a brace that is not a placeholder such as {{name}}")
    if isinstance(phrase, Plural) and find_placeholders(phrase.one) - {"n"} != find_placeholders(phrase.other) - {"n"}:
        raise ValueError(f"the two forms of phrase {name!r} have different placeholders")


PHRASES: dict[str, AnyPhrase] = join_rooms(ROOMS)


def phrase_ids(rooms: Iterable[str]) -> tuple[str, ...]:
    """The ids of some rooms, in the order declared."""
    return tuple(name for room in rooms for name in ROOMS[room])

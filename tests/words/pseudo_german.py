"""A catalogue filled by a program, so that a language can be brought from nothing to published: no German, but all checks pass it."""

from __future__ import annotations

import re
from pathlib import Path

import polib

_KEEP = re.compile(r"(\{[a-z_]+\}|\]\([^)]*\)|https?://\S+|\d+(?:[.,]\d+)?)")
_DIRECTIONS = {
    "up": "hoch", "down": "unten", "forward": "vorn", "back": "zurück", "out": "auswärts", "in": "innen", "left": "links", "right": "rechts", "across": "quer",
}  # fmt: skip
"""So that steps name the directions of the source."""
_WORD = re.compile(r"[^\W\d_]+(?:['’][^\W\d_]+)*")


def in_pseudo_german(text: str) -> str:
    """A text with an ending at each word, and 'Stopp' for 'Stop'; numbers, placeholders, links and marks stay."""
    directed = re.sub(rf"\b(?:{'|'.join(_DIRECTIONS)})\b", lambda match: _DIRECTIONS[match[0]], text)
    parts = _KEEP.split(directed)
    made = "".join(part if at % 2 else _WORD.sub(lambda match: match[0] if match[0] in _DIRECTIONS.values() else f"{match[0]}ßen", part) for at, part in enumerate(parts))
    return re.sub(r"\bStopßen\b", "Stopp", made)


def fill(path: Path) -> int:
    """Fill each empty text of a catalogue; how many there were."""
    catalogue = polib.pofile(str(path), wrapwidth=0)
    count = 0
    for entry in catalogue:
        if entry.msgid_plural and not any(entry.msgstr_plural.values()):
            last = max(entry.msgstr_plural)
            entry.msgstr_plural = {at: in_pseudo_german(entry.msgid_plural if at == last else entry.msgid) for at in entry.msgstr_plural}
            count += 1
        elif not entry.msgid_plural and not entry.msgstr:
            entry.msgstr = in_pseudo_german(entry.msgid)
            count += 1
    catalogue.save(str(path))
    return count

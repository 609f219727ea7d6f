"""What the phone needs of one exercise, as two small scripts: its words in one language, its figure in none.

Words are plain: bold and italic are left out, since a script never writes markup.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

from handouts.dose.phrase import effort_scale_line, tempo_line
from handouts.model import CautionKind, Exercise, Library, Words
from handouts.publication.scales import own_scale
from handouts.site.old_sheets import older_line
from handouts.templating.templates import safe_json
from handouts.text.markup import plain_text
from handouts.words.wording import Wording


def plain(words: Words) -> str:
    """A text without its inline Markdown."""
    return plain_text(words.text)


def exercise_words(exercise: Exercise, library: Library, wording: Wording) -> dict[str, Any]:
    """How to do an exercise, in the order of its page."""
    tempo = tempo_line(exercise.dose.tempo, wording)
    manner = (wording.say("dose.tempo", parts=tempo) if tempo else "", effort_scale_line(exercise.dose.effort, wording, own_scale(library.clinic)))
    older = {"older": older_line(wording, exercise.older)} if exercise.older else {}
    return older | {
        "why": plain(exercise.why),
        "manner": [line[:1].upper() + line[1:] for line in manner if line],
        "sections": [
            {
                "heading": plain(section.heading),
                "blocks": [{"kind": block.kind, "items": _all(block.items)} for block in section.blocks],
            }
            for section in exercise.sections
        ],
        "cues": _all(exercise.cues),
        "feel": plain(exercise.feel),
        "mistakes": [[plain(mistake.see), plain(mistake.do)] for mistake in exercise.mistakes],
        "ask": _cautions(exercise, library, CautionKind.ASK),
        "care": _cautions(exercise, library, CautionKind.CARE),
    }


def _all(items: Iterable[Words]) -> list[str]:
    return [plain(item) for item in items]


def _cautions(exercise: Exercise, library: Library, kind: CautionKind) -> list[list[str]]:
    found = (library.caution[ref.slug] for ref in exercise.cautions)
    return [[plain(item.when), plain(item.do)] for item in found if item.kind is kind]


def exercise_figure(tree: list[Any], motion: Mapping[str, Any] | None) -> dict[str, Any]:
    """The whole figure as lists, without words, and its movement where one was computed."""
    name, attributes, children = tree
    drawn = [child for child in children if child[0] not in ("title", "desc")]
    return {"picture": [name, attributes, drawn], "motion": motion if motion and motion["p"] else None}


def write_script(name: str, code: str, value: Mapping[str, Any] | list[Any]) -> str:
    """A classic script that hands a value to the page: works from a folder on disk, unlike a request."""
    return f'(globalThis.{name} ??= {{}})["{code}"] = {safe_json(value)};\n'

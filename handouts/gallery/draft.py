"""A new exercise file from a movement of the gallery: its figure and its words, and a remark for each gap.

Nothing clinical is made up: no dose, no cue, no caution.  A word that the library's vocabulary does not declare is not
written, it is named in a remark.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Sequence

from handouts.figure import compute_figure
from handouts.gallery.movements import GalleryMovement, spec_of
from handouts.library.declare import EXERCISE
from handouts.limits.demands import told_by_figure
from handouts.model import Library

MOST_LISTED = 12
"""Names that a remark lists; more would hide the gap."""
_LISTS = ("regions", "equipment", "demands")
_SCHEMA = "# yaml-language-server: $schema=../schema/exercise.schema.json"


def write_draft(movement: GalleryMovement, code: str, library: Library, has_schema: bool = False) -> str:
    """The text of an exercise file: what the gallery says, as keys; what only the clinic can say, as remarks.

    Demands that the figure tells by itself are not declared once more.
    """
    lines = ["---", *([_SCHEMA] if has_schema else [])]
    for key, field in EXERCISE.fields.items():
        if key == "code":
            lines.append(f"code: {code}")
        elif key == "title":
            lines += ["# The title is the trade's name so far: write it in the patient's words.", f"title: {_quoted(movement.name)}"]
        elif key == "also called":
            lines.append(f"also called: [{', '.join(map(_quoted, movement.also_called))}]")
        elif key == "position":
            lines += _named(key, [movement.position], list(library.term["positions"]), field.says, single=True)
        elif key in _LISTS:
            lines += _named(key, _words_of(movement, key), list(library.term[key]), field.says)
        elif key == "figure":
            lines += ["figure:", *(f"  {line}" for line in movement.figure.splitlines())]
        elif field.required:
            lines.append(_gap(key, field.says, _offered(key, library)))
    lines += ["---", "## How to do it", "", "<!-- a gap: the steps, one short sentence each, as '1. Sit tall.' -->"]
    return "\n".join(lines) + "\n"


def _words_of(movement: GalleryMovement, key: str) -> Sequence[str]:
    if key == "regions":
        return movement.regions
    if key == "equipment":
        return movement.equipment
    told = told_by_figure(compute_figure(spec_of(movement)).facts, frozenset(movement.demands))
    return tuple(demand for demand in movement.demands if demand not in told)


def _named(key: str, words: Sequence[str], declared: Sequence[str], says: str, *, single: bool = False) -> list[str]:
    """A key with those of its words that are declared, and a remark on the others."""
    known = [word for word in words if word in declared]
    unknown = [word for word in words if word not in declared]
    lines = []
    if unknown:
        lines.append(f"# {key}: the gallery says {', '.join(unknown)}, which vocabulary.yaml does not declare{_list(declared)}.")
    if single:
        return [*lines, f"{key}: {known[0]}" if known else _gap(key, says, declared)]
    if not known and key == "regions":
        return [*lines, _gap(key, says, declared)]
    if not known and key == "demands":
        return lines
    return [*lines, f"{key}: [{', '.join(known)}]"]


def _offered(key: str, library: Library) -> Sequence[str]:
    """What the library offers for a key that names something of its own."""
    names: dict[str, Iterable[str]] = {
        "tier": (item.slug for item in library.tiers),
        "purpose": library.term["purposes"],
        "cautions": (item.slug for item in library.cautions),
    }
    return list(names.get(key, ()))


def _gap(key: str, says: str, offered: Sequence[str] = ()) -> str:
    return f"# {key}:   (a gap: {says}{_list(offered)})"


def _list(offered: Sequence[str]) -> str:
    more = f" and {len(offered) - MOST_LISTED} more" if len(offered) > MOST_LISTED else ""
    return f"; it has {', '.join(offered[:MOST_LISTED])}{more}" if offered else ""


def _quoted(text: str) -> str:
    return text if text.replace(" ", "").replace("-", "").isalnum() else json.dumps(text, ensure_ascii=False)


def gaps_of(text: str) -> tuple[str, ...]:
    """The keys that a draft leaves open."""
    marked = [line.removeprefix("# ").split(":")[0] for line in text.splitlines() if line.startswith("# ") and "(a gap: " in line]
    return (*marked, "the steps")

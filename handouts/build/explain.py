"""Why something of a site was made again or not, in one sentence: pages by what they read, PDFs and figures by what they were given."""

from __future__ import annotations

from functools import partial

from handouts.build.figures import DRAW_ONE, STYLE_SHEET, drawing_choices, person_in
from handouts.build.pdfs import Sheets
from handouts.model import Library
from handouts.store.memo import Memo
from handouts.templating.assets import read_templates

FIGURES = "figures/"
"""Before the slug of an exercise: its figure."""


def say_why(path: str, changed: list[str] | None, is_new: bool) -> str:
    """The sentence; ``changed`` is what differs from before, None where nothing is known of that."""
    if not is_new:
        return f"{path} was not made again: nothing that it shows has changed."
    if changed is None:
        return f"{path} was made: nothing is known of how it was made before."
    return f"{path} was made again: {', '.join(changed)} changed." if changed else f"{path} was made again: what is published here is another one."


def explain_large(name: str, memo: Memo, sheets: Sheets, library: Library | None) -> str:
    """Of a PDF by its path, or the figure of an exercise by ``figures/SLUG``; empty where there is neither.

    To be asked before the memo is collected.
    """
    if name in sheets.documents.makers:
        changed = sheets.why(name)
        return say_why(name, changed, name in sheets.made)
    slug = name.removeprefix(FIGURES)
    exercise = library.exercise.get(slug) if library and slug != name else None
    if library is None or exercise is None or exercise.figure is None or not exercise.figure.entries:
        return ""
    choices = drawing_choices(read_templates()[STYLE_SHEET].decode(), person_in(exercise, library.clinic.people))
    changed = memo.why(partial(DRAW_ONE, **choices), exercise.figure)
    return say_why(name, changed or None, changed is not None)

"""The figures of a library: one drawing for equal poses, each exercise told of its own problems."""

from __future__ import annotations

from dataclasses import replace
from functools import partial
from pathlib import Path

from handouts.build import figures as library_figures
from handouts.library.read import read_library
from handouts.source.files import read_folder
from handouts.store.memo import Memo
from handouts.templating.assets import read_templates
from handouts.workers import Workers

CONTENT = Path(__file__).parents[1] / "content"


def test_equal_poses_are_drawn_once() -> None:
    """Two exercises with the same pose: the engine draws once, both have the drawing."""
    library, _ = read_library(read_folder(CONTENT, "content")[0], "content")
    assert library is not None
    first = library.exercise["ankle-pump"]
    twin = replace(first, slug="twin")
    css = read_templates()[library_figures.STYLE_SHEET].decode()
    memo = Memo()
    levels = {"ankle-pump": "floor", "twin": "floor"}
    made, problems = library_figures.draw_figures([first, twin], levels, css, partial(memo.spread, Workers().map))
    assert memo.made == {"handouts.build.drawing:draw_one": 1, "handouts.build.drawing:draw_mistake": 1} and problems == ()
    assert made.drawings["twin"] == made.drawings["ankle-pump"]
    again, _ = library_figures.draw_figures([first], levels, css, partial(memo.spread, Workers().map))
    assert again.drawings["ankle-pump"] == made.drawings["ankle-pump"]
    assert memo.made == {"handouts.build.drawing:draw_one": 1, "handouts.build.drawing:draw_mistake": 1}
    library_figures.draw_figures([first], levels, f"{css} ", partial(memo.spread, Workers().map))
    assert memo.made == {"handouts.build.drawing:draw_one": 2, "handouts.build.drawing:draw_mistake": 2}

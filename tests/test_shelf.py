"""The shelf of figures: one drawing for equal poses, each exercise told of its own problems."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from handouts import shelf
from handouts.assets import read_templates
from handouts.cache import Cache
from handouts.files import read_folder
from handouts.library.read import read_library
from handouts.workers import Workers

CONTENT = Path(__file__).parents[1] / "content"


def test_equal_poses_are_drawn_once(monkeypatch: pytest.MonkeyPatch) -> None:
    """Two exercises with the same pose: the engine draws once, both have the drawing."""
    library, _ = read_library(read_folder(CONTENT, "content")[0], "content")
    assert library is not None
    first = library.exercise["ankle-pump"]
    twin = replace(first, slug="twin")
    css = read_templates()[shelf.STYLE_SHEET].decode()
    drawn: list[shelf.FigureSpec] = []
    engine = shelf.draw_one

    def count(spec: shelf.FigureSpec, css: str) -> object:
        drawn.append(spec)
        return engine(spec, css)

    monkeypatch.setattr(shelf, "draw_one", count)
    made, problems = shelf.draw_figures([first, twin], {"ankle-pump": "floor", "twin": "floor"}, css, Workers(), Cache(None))
    assert len(drawn) == 1 and problems == ()
    assert made.drawings["twin"] == made.drawings["ankle-pump"]

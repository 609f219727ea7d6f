"""From nothing to a checked exercise with a figure: one of the ten movements of the long run, and what holds of all ten without a run."""

from __future__ import annotations

import re
from html import unescape
from pathlib import Path

import pytest

from handouts.figure import FigureSpec, read_figure
from handouts.gallery.chapter import chapter_page
from handouts.gallery.movements import find_movement, spec_of
from handouts.library.read import read_library
from handouts.source.files import read_folder
from tests.long.replay import MOST, WANTED, replay

CONTENT = Path(__file__).parents[2] / "content"


def test_one_is_done_in_three_minutes(tmp_path: Path) -> None:
    """Typed as a person would, command by command; ``check`` ends with 0.  ``python tests/long/replay.py`` does all ten."""
    took = replay(next(one for one in WANTED if one.like == "squat-jump"), tmp_path)
    assert took.status == 0, took.said
    assert took.seconds <= MOST and took.typed > 400


def test_the_demo_has_none_of_the_ten() -> None:
    """No exercise of the demo has a figure like one of them."""
    files, _ = read_folder(CONTENT, "content")
    library, _ = read_library(files, "content")
    assert library is not None and len(WANTED) == 10
    demo: list[FigureSpec] = []
    for exercise in library.exercises:
        spec = read_figure(exercise.figure)[0] if exercise.figure else None
        assert spec is not None
        demo.append(spec)
    for wanted in WANTED:
        movement = find_movement(wanted.like)
        assert movement is not None
        spec = spec_of(movement)
        assert not any(_alike(spec, other) for other in demo), wanted.like


def _alike(one: FigureSpec, other: FigureSpec) -> bool:
    """The same base, and the same joints at the end within 15 degrees."""
    ends = [{angle.variable: angle.degrees for angle in spec.end} for spec in (one, other)]
    return one.base == other.base and ends[0].keys() == ends[1].keys() and all(abs(ends[0][name] - ends[1][name]) < 15 for name in ends[0])


@pytest.mark.parametrize("wanted", WANTED, ids=lambda wanted: wanted.like)
def test_every_word_that_is_needed_stands_in_the_chapter(wanted: object) -> None:
    """Keys, joints, contacts, props, points and regions of the ten figures."""
    movement = find_movement(wanted.like)  # type: ignore[attr-defined]
    assert movement is not None
    words = set(re.findall(r"[a-z][a-z-]*[a-z]", re.sub(r"\.[rl]\b", "", movement.figure)))
    chapter = set(re.findall(r"[a-z][a-z-]*[a-z]", unescape(re.sub(r"<[^>]+>|\.[rl]\b", " ", chapter_page()))))
    assert words - chapter == set()

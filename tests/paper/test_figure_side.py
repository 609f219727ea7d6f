"""What stands beside the figure of an exercise: as much as has room below the steps, in the browser as in the PDF."""

from __future__ import annotations

import re

import pytest

from handouts.paper.figure_side import count_beside, move_below, shape_of
from handouts.publication.rich_text import rich
from handouts.publication.views import BlockView, SectionView
from tests.builders import words

WIDTH = 189.0
CUE, FEEL, FAULTS = [rich(words("Think of this")), rich(words("Sit tall."))], [rich(words("You feel your thigh work."))], [rich(words("x" * 800))]


def steps(count: int, letters: int = 30) -> list[SectionView]:
    """A section with so many steps of so many letters."""
    return [SectionView(rich(words("How to do it")), (BlockView("steps", tuple(rich(words("x" * letters)) for _ in range(count))),))]


@pytest.mark.parametrize(("count", "shape", "beside"), [
    (2, 1.3, 2),  # a column of 77 mm holds 33 letters a line: 3 lines beside 80 mm; 25 lines of faults have no room
    (13, 1.3, 1),  # 71 mm: the cue ends little below the figure, what to feel does not begin there
    (17, 1.3, 0),
    (8, 2.3, 0),  # a low figure: 46 mm beside 45
    (6, 2.3, 1),
])
def test_as_much_as_has_room(count: int, shape: float, beside: int) -> None:
    """A block may stand below the end of the figure by two fifths of its height, since it takes half of that in the columns."""
    assert count_beside(steps(count), [CUE, FEEL, FAULTS], shape, WIDTH, "en") == beside


def test_wide_letters_need_more_room() -> None:
    """Arabic in Noto Sans runs wider: steps that take a line each in English take two."""
    assert [count_beside(steps(8, 31), [CUE, FEEL, FAULTS], 1.3, WIDTH, language) for language in ("en", "ar")] == [2, 0]


def test_the_shape_of_a_picture() -> None:
    """Of a drawing, of a picture that a browser loads, of one that says nothing."""
    assert shape_of('<svg viewBox="0 0 300 200">') == shape_of('<img src="x" data-width="1.5" data-height="1">') == 1.5
    assert shape_of("<img>") == 4 / 3


def test_moved_below_in_their_order() -> None:
    """Steps stay; what stood below them comes first in the columns; nothing is lost; what has nothing there stays as it is."""
    page = (
        '<div class="right">\n<div class="steps"><section class="prose "></section></div>\n<section class="cues">c</section>\n'
        '<section class="feel run-in">f</section>\n</div>\n</div>\n<section class="dose">d</section>\n<div class="columns">\n'
        '<section class="mistakes">m</section>\n</div>'
    )
    moved = move_below(page)
    assert re.findall('class="(steps|dose|columns|cues|feel|mistakes)', moved) == ["steps", "dose", "columns", "cues", "feel", "mistakes"]
    assert sorted(moved) == sorted(page) and move_below(moved) == moved


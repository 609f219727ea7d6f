"""The picture of a mistake from the library to page and sheet: words in the language, the other side mirrored, problems told."""

from __future__ import annotations

import re
from functools import cache

from handouts.build.figures import STYLE_SHEET, LibraryFigures, draw_figures
from handouts.model import Exercise, Library, Side
from handouts.problems import Problem, show_problem
from handouts.tasks.calling import call_now
from handouts.templating.assets import read_templates
from tests.small_library import small_library, texts_with

FIGURE = "figure: {base: sitting}"
LIFT = "figure: {base: sitting, contacts: [foot.l floor, seat seat], end: {knee.r: 10}, arrow: ankle.r}"
FAULT = "do: Sit up tall., figure: {end: {trunk: ext 14, hip: flex 70}, mark: chest}}"


def each(task, values, lost=None, what=""):  # type: ignore[no-untyped-def]
    return ((value, call_now(task, value), True) for value in values)


@cache
def drawn(figure: str = LIFT, fault: str = FAULT) -> tuple[Library, LibraryFigures, tuple[Problem, ...]]:
    library = small_library(texts_with("exercises/foot-lift.md", (FIGURE, figure), ("do: Sit up tall.}", fault)))
    one = library.exercise["foot-lift"]
    figures, problems = draw_figures([one], {one.slug: "chair"}, read_templates()[STYLE_SHEET].decode(), each)
    return library, figures, problems


def the_exercise() -> Exercise:
    return drawn()[0].exercise["foot-lift"]


def test_the_words_say_that_it_is_wrong() -> None:
    """Title and description in the language of the page, with the mistake in the author's words."""
    _, figures, problems = drawn()
    assert problems == ()
    svg = figures.fault_svg(the_exercise(), 0, "en")
    assert re.search(r'role="img" aria-labelledby="figure-foot-lift-fault-0t figure-foot-lift-fault-0d"', svg)
    assert ">Not like this: You lean back.</title>" in svg and ">A small picture with a cross on what goes wrong.</desc>" in svg
    assert "Así no: You lean back." in figures.fault_svg(the_exercise(), 0, "es")
    assert 'class="z3"' in svg and "style" not in svg


def test_on_paper_it_is_coloured_by_attributes() -> None:
    svg = drawn()[1].for_paper().fault_svg(the_exercise(), 0, "en")
    assert "class=" not in svg and "id=" not in svg and "Not like this: You lean back." in svg


def test_the_other_side_is_mirrored_as_the_figure_is() -> None:
    """The figure shows the right leg; for the left one both pictures are mirrored."""
    figures = drawn()[1]
    assert figures.shown_side(the_exercise()) is Side.RIGHT
    plain, same, other = (figures.fault_svg(the_exercise(), 0, "en", side) for side in (Side.TOGETHER, Side.RIGHT, Side.LEFT))
    assert plain == same and "scale(-1 1)" not in plain and other.count("scale(-1 1)") == 1


def test_without_a_figure_of_its_own_nothing_can_differ() -> None:
    _, figures, problems = drawn("figure: none")
    assert [show_problem(one) for one in problems] == [
        "content/exercises/foot-lift.md:14:60: error: a mistake has a figure, but the exercise has none that it could differ from. "
        "Describe the exercise in 'figure:', or take the mistake's figure out. [mistake-figure]"
    ]
    assert figures.fault_svg(the_exercise(), 0, "en") == ""

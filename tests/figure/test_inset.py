"""A part of the picture once more, larger: where it is, what it shows, and the hint for a movement that is too small."""

from __future__ import annotations

import numpy as np
from shapely.geometry import Point
from shapely.ops import unary_union

from handouts.figure import panel_svg
from handouts.figure.draw.camera import camera
from handouts.figure.half import halve_picture
from handouts.figure.inset import LARGER
from handouts.figure.pose.motion import point_places
from handouts.problems import show_problem
from handouts.words.figure import describe_figure
from handouts.words.wording import Wording
from tests.figure.conftest import figure_of, spec_of
from tests.figure.drawn_paths import area_of

RAISE = "base: sitting\nview: side\nprops: {chair: seat}\ncontacts: [foot floor, seat seat]\nend: {ankle: pf 26}\nend-contacts: [toes floor, seat seat]\narrow: heel.r\n"


def test_the_circle_lies_beside_the_body_and_shows_its_part_larger() -> None:
    """The large circle stands apart from the small one, over nearly nothing that is drawn; the contour of before is in it."""
    figure = figure_of(spec_of(RAISE + "inset: foot.r"))
    plain = figure_of(spec_of(RAISE + "inset: none"))
    assert figure.problems == plain.problems == () and plain.panels[-1].inset is None and figure.panels[0].inset is None
    assert figure.panels[-1].inset is not None
    x, y, radius = figure.panels[-1].inset
    spec, motion = figure.spec, figure.motion
    assert spec.inset is not None
    at = (point_places(figure.style.body, (motion.frames[0], motion.frames[-1]), spec.inset).mean(axis=0) @ camera(spec.view).T)[:2]
    assert np.hypot(*(at - (x, y))) > radius + radius / LARGER
    disc = Point(x, y).buffer(radius)
    assert disc.intersection(plain.panels[-1].covered).area < 0.12 * disc.area
    roles = [mark.role for mark in figure.panels[-1].marks]
    assert "was" in roles and roles[-1] == "line"
    left, top, right, bottom = figure.panels[-1].bounds
    assert left <= x - radius and top <= y - radius and x + radius <= right and y + radius <= bottom


def test_what_is_in_the_circle_is_twice_as_large() -> None:
    """Both circles cut the shoe alike: the large one shows four times its area, in lines as wide as elsewhere."""
    figure = figure_of(spec_of(RAISE + "inset: foot.r"))
    panel = figure.panels[-1]
    assert panel.inset is not None
    x, y, radius = panel.inset
    last = max(piece.past for piece in panel.pieces)
    large = unary_union([area_of(mark.path) for mark in panel.marks[last:] if mark.role.split()[0] == "shoe"])
    small = unary_union([area_of(mark.path) for mark in panel.marks[:last] if mark.role.split()[0] == "shoe"])
    (ring,) = (area_of(mark.path) for mark in panel.marks[last:] if mark.role == "thin" and "z" in mark.path)
    ratio = large.area / small.intersection(ring).area
    assert abs(ratio / LARGER**2 - 1) < 0.1
    assert Point(x, y).buffer(radius + 1).contains(large)


def test_the_movement_on_the_phone_counts_marks_as_before() -> None:
    """The circle's marks stand behind all pieces, so that no number of a moving piece changes."""
    figure, plain = (figure_of(spec_of(RAISE + word)) for word in ("inset: foot.r", "inset: none"))
    assert [(piece.first, piece.past) for piece in figure.panels[-1].pieces] == [(piece.first, piece.past) for piece in plain.panels[-1].pieces]
    assert halve_picture(panel_svg(figure, -1, "title", "words", "id")).startswith("<svg")


def test_a_small_movement_is_pointed_out() -> None:
    """Under 10 cm in the picture; what moves most is proposed, and 'none' is an answer."""
    assert [show_problem(one) for one in figure_of(spec_of(RAISE)).problems] == [
        "figure.yaml:5:1: notice: the movement is hard to see: nothing moves more than 7 cm in this view. Write 'inset: heel.l' to show that part larger, "
        "or 'inset: none' where it is plain enough. [figure-small]"
    ]


def test_the_words_say_that_a_part_is_larger() -> None:
    assert describe_figure(figure_of(spec_of(RAISE + "inset: foot.r")).facts, Wording("en")).endswith("A circle shows what moves, larger.")

"""Pictures of mistakes: what differs is drawn and nothing else, with a ring and a cross that need no colour."""

from __future__ import annotations

import re
from functools import cache
from pathlib import Path

import numpy as np
import pytest
from shapely.geometry import Point

from handouts.figure import FigureStyle, read_figure
from handouts.figure.faults import FaultPicture, draw_fault
from handouts.figure.pose.facts import joint_angles
from handouts.figure.pose.faults import FAULT_HELP, fault_json_schema, read_fault
from handouts.figure.pose.names import KEY_HELP
from handouts.figure.svg import one_panel_svg, paint_attributes
from handouts.problems import show_problem
from handouts.source.nodes import Mapping, compose

ROOT = Path(__file__).parents[2]
STYLES = (ROOT / "templates/styles/figure.css").read_text("utf-8")
OWN = """
base: standing
view: front
contacts: [foot floor]
end: {hip: flex 60, knee: 70, ankle: df 12, trunk: flex 10}
arrow: hip
active: [quads]
shows: {knee: bent}
"""
FAULT = "{start: {hip: abd 10}, end: {hip: flex 56 add 2 ir 24, ankle: ev 14}, slide: [foot], mark: [knee.r, knee.l], shows: {knee: inside ankle}}"


def node_of(text: str, file: str = "figure.yaml") -> Mapping:
    root, problems = compose(text, file)
    assert root is not None and not problems
    return root


@cache
def fault_of(text: str = FAULT, own: str = OWN) -> tuple[FaultPicture | None, tuple[str, ...]]:
    picture, problems = draw_fault(node_of(own), node_of(text, "mistake.yaml"), FigureStyle())
    return picture, tuple(map(show_problem, problems))


def test_what_is_not_written_is_as_in_the_exercise() -> None:
    """Angles of the exercise's end stay but for those that the mistake writes; muscles, arrow and what it must show do not."""
    spec, marks, problems = read_fault(node_of(OWN), node_of(FAULT))
    own, _ = read_figure(node_of(OWN))
    assert spec is not None and own is not None and not problems
    written = {angle.variable: angle.degrees for angle in spec.end}
    assert written["knee.r.flex"] == 70 and written["trunk.flex"] == 10 and written["hip.l.flex"] == 56
    assert written["hip.r.abd"] == -2 and written["ankle.r.inv"] == -14 and len(written) == len(spec.end)
    assert spec.active == spec.arrow == () and [claim.text for claim in spec.shows] == ["inside ankle", "inside ankle"]
    assert [str(mark) for mark in marks] == ["knee.r", "knee.l"]
    assert spec.contacts == own.contacts and spec.view == own.view


def test_a_mistake_at_the_start_shows_the_start() -> None:
    """Where only 'start' is written there is one pose, and no end."""
    spec, _, _ = read_fault(node_of(OWN), node_of("{start: {trunk: flex 40}}"))
    assert spec is not None and not spec.moves and {angle.variable for angle in spec.start} == {"trunk.flex"}


def test_the_pose_that_is_drawn_is_the_mistake() -> None:
    """Knees inside ankles, as the claim measures; the picture is one panel without number, arrow or muscle."""
    picture, problems = fault_of()
    assert picture is not None and problems == ()
    angles = joint_angles(picture.motion)[-1]
    assert angles["hip.r.ir"] > 15 and angles["hip.l.ir"] > 15
    roles = [mark.role for mark in picture.panel.marks]
    assert not {"active", "hatch", "arrow", "ghost"} & set(roles)
    assert roles[-4:] == ["ring-halo", "ring", "sign", "cross"]


def test_a_picture_that_does_not_show_the_mistake_is_refused() -> None:
    """A claim of the mistake is measured, and its message says where it belongs."""
    _, problems = fault_of("{end: {hip: flex 30}, shows: {hip: ir at least 15}}")
    said = "mistake.yaml:1:36: error: in the picture of this mistake, the picture must show 'hip.r: ir at least 15', but"
    assert any(problem.startswith(said) for problem in problems), problems


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("{arrow: hip}", "mistake.yaml:1:2: error: 'arrow' is not a key of a mistake's figure."),
        ("{mark: knees}", "mistake.yaml:1:8: error: in the picture of this mistake, 'knees' is not a point of the body."),
        ("{end: {knee: bend 4}}", "mistake.yaml:1:14: error: in the picture of this mistake, the knee has no motion 'bend'."),
        ("{mark: knee.r}", "mistake.yaml:1:1: error: in the picture of this mistake, the mistake's figure differs in nothing from the exercise's own."),
        ("{end: {knee: 70}}", "mistake.yaml:1:1: error: in the picture of this mistake, the picture looks like the right one: no part lies 2 cm elsewhere"),
    ],
)
def test_what_is_wrong_is_said_at_the_mistake(text: str, said: str) -> None:
    _, problems = fault_of(text)
    assert any(problem.startswith(said) for problem in problems), problems


def test_where_the_exercise_has_no_figure_to_differ_from_nothing_is_drawn() -> None:
    """The exercise's own problems are said once, with the exercise."""
    assert draw_fault(node_of("base: nowhere"), node_of(FAULT), FigureStyle()) == (None, [])


def test_the_cross_is_a_shape_in_grey_too() -> None:
    """In grey the sign is dark, the cross and the halo are white: black on white survives a photocopier."""
    picture, _ = fault_of()
    assert picture is not None
    grey = paint_attributes(STYLES, grey=True)
    assert grey["z3"]["fill"] == "#282828" and grey["z4"]["stroke"] == grey["z2"]["stroke"] == "#ffffff" and grey["z"]["stroke"] == "#000000"


def test_the_ring_is_where_it_goes_wrong_and_the_sign_beside_it() -> None:
    """One ring round both knees, which are near each other; the sign touches the ring and hides neither knee."""
    picture, _ = fault_of()
    assert picture is not None
    ring, sign = (next(mark for mark in picture.panel.marks if mark.role == role) for role in ("ring", "sign"))
    (x, y, r), (u, v, s) = (circle_of(mark.path) for mark in (ring, sign))
    assert r > 60 and abs(np.hypot(u - x, v - y) - r - s) < s
    left, top, right, bottom = picture.panel.bounds
    assert left <= x - r and x + r <= right and top <= v - s and v + s <= bottom
    assert Point(x, y).distance(Point(u, v)) > s


def circle_of(path: str) -> tuple[float, float, float]:
    found = re.match(r"M(-?\d+) (-?\d+)a(\d+) ", path)
    assert found is not None
    return int(found[1]) + int(found[3]), int(found[2]), int(found[3])


def test_the_schema_has_the_keys_that_are_read() -> None:
    """Every key of a figure that says something of one moment, and 'mark'."""
    assert set(fault_json_schema()["properties"]) == set(FAULT_HELP)
    assert set(KEY_HELP) - set(FAULT_HELP) == {"base", "arrow", "active", "stretched", "side", "person", "without", "via"}


@cache
def demo() -> dict[str, FaultPicture]:
    """The first picture of a mistake of each exercise of the demo that shows most of the body's positions."""
    found = {}
    for slug in ("bridge", "sit-to-stand", "opposite-arm-and-leg-reach", "forward-lunge", "towel-calf-stretch", "wall-calf-stretch"):
        front = (ROOT / f"content/exercises/{slug}.md").read_text("utf-8")[4:].split("\n---", 1)[0]
        root = node_of(front, slug)
        mistakes = root.get("mistakes")
        faults = [item.get("figure") for item in mistakes.items]  # type: ignore[union-attr]
        picture, problems = draw_fault(root.get("figure"), next(filter(None, faults)), FigureStyle())  # type: ignore[arg-type]
        assert picture is not None and not problems, (slug, problems)
        found[slug] = picture
    return found


def test_pictures_are_small() -> None:
    """At most 6,000 bytes: they stand inline in a page."""
    for slug, picture in demo().items():
        assert len(one_panel_svg(picture.panel, "title", "description", "id")) < 6000, slug


def test_every_exercise_of_the_demo_has_one() -> None:
    """At its first mistake that can be seen: at most the second."""
    for path in sorted((ROOT / "content/exercises").glob("*.md")):
        root = node_of(path.read_text("utf-8")[4:].split("\n---", 1)[0], path.name)
        mistakes = root.get("mistakes")
        drawn = [item.get("figure") is not None for item in mistakes.items]  # type: ignore[union-attr]
        assert sum(drawn) == 1 and drawn.index(True) < 2, path.name
        fault = mistakes.items[drawn.index(True)].get("figure")  # type: ignore[union-attr]
        assert fault.get("mark") is not None and fault.get("shows") is not None, path.name

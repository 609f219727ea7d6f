"""What is drawn touches what it should and covers nothing it should not: measured in the picture, on the demo's figures.

Drawing units unless said.  The bounds are ours: 2 px is what a reader of a figure 400 px wide does not see.
"""

from __future__ import annotations

from functools import cache
from pathlib import Path

import numpy as np
import pytest
from shapely.geometry import Point
from shapely.ops import unary_union

from handouts.figure import Figure, read_figure
from handouts.figure.animation import outlines_at
from handouts.figure.body.body import make_body
from handouts.figure.body.sites import BODY_TARGETS
from handouts.figure.contact_sheet import figure_nodes
from handouts.figure.draw.camera import UNITS_PER_METRE
from handouts.figure.draw.hand import see_hand
from handouts.figure.props.scene import PropScene
from handouts.figure.scene import Scene, make_scene

from .conftest import figure_of, spec_of
from .contact_gaps import contact_gaps
from .drawn_paths import area_drawn, area_of

CONTENT = Path(__file__).parents[2] / "content/exercises"
BODY = make_body()
MOST_GAP = 2.0
"""The largest gap in a figure 400 px wide, pixels."""
MOST_COVERED = 0.01
"""Share of an arrow's area that may lie over the body or over what works."""


@cache
def demo() -> dict[str, Figure]:
    """The figures of the demo's exercises."""
    found = {}
    for file in sorted(CONTENT.glob("*.md")):
        for name, node in figure_nodes(file.read_text("utf-8"), file.name):
            spec, problems = read_figure(node)
            assert spec is not None, (name, problems)
            found[name] = figure_of(spec)
    assert len(found) > 40
    return found


def scene_of(figure: Figure) -> Scene:
    """The settled frames of a figure."""
    return make_scene(figure.spec, BODY, figure.motion, figure.style)


def ends_of(figure: Figure) -> list[int]:
    """The numbers of the frames that are drawn."""
    return [0, len(figure.motion.frames) - 1] if figure.spec.moves else [0]


def test_areas_are_read_back_as_they_were_written() -> None:
    """The area of a path is that of the piece it shows, within what a fitted curve may miss."""
    panel = demo()["bridge"].panels[-1]
    piece = next(piece for piece in panel.pieces if "shirt" in piece.names)
    assert area_of(panel.marks[piece.first].path).symmetric_difference(piece.shape).area < 0.02 * piece.shape.area


def test_arrows_stand_in_free_space() -> None:
    """At most 1 % of an arrow lies over the body, its hands and shoes, or a hatched or dotted region."""
    covered = {}
    for name, figure in demo().items():
        arrow = area_drawn(figure, "arrow")
        body = unary_union([piece.shape for piece in figure.panels[-1].pieces if not piece.names[0].startswith("prop")])
        if arrow.area:
            covered[name] = round(arrow.intersection(body.union(area_drawn(figure, "active"))).area / arrow.area, 3)
        assert (arrow.area > 0) == (bool(figure.spec.arrow) and figure.spec.moves), name
    over = {name: share for name, share in covered.items() if share > MOST_COVERED}
    assert over == {}, over
    assert len(covered) > 35


def test_what_touches_meets_in_the_picture() -> None:
    """A hand lies on its surface, a fist is closed round its bar, a foot, a knee or the head is on its ground: no gap or overlap of 2 px."""
    gaps = [(name, *found) for name, figure in demo().items() for found in contact_gaps(figure)]
    assert [one for one in gaps if one[3] > MOST_GAP] == []
    assert len(gaps) > 300


def test_fists_are_closed_round_their_bars() -> None:
    """The middle of what a fist holds lies inside the hand as drawn, and the row of knuckles goes along it."""
    fists = 0
    for name, figure in demo().items():
        scene = scene_of(figure)
        for number in ends_of(figure):
            props = PropScene(figure.spec, BODY, scene.motion, scene.frames[number].frame, scene.view)
            for side, grasp in scene.frames[number].grasps.items():
                if grasp.grip != "fist":
                    continue
                fists += 1
                hand = see_hand(grasp, scene.view, BODY.stature)
                middle = Point(*(scene.view @ props.grip(side))[:2])
                assert hand.outline.contains(middle.buffer(grasp.radius * UNITS_PER_METRE)), (name, number, side)
                if figure.spec.prop("stick"):
                    bar = props.grip("r") - props.grip("l")
                    assert abs(bar @ grasp.frame[:, 0]) / np.linalg.norm(bar) > np.cos(np.radians(8)), (name, number, side)
    assert fists > 10


def test_hands_reach_what_they_hold_on_the_body() -> None:
    """A hand that holds a limb is drawn at it: their outlines meet."""
    held = 0
    for name, figure in demo().items():
        for number, parts in zip(ends_of(figure), outlines_at(figure, tuple(ends_of(figure))), strict=True):
            for grip in figure.motion.tasks[number].grips:
                site, target = grip.label.split()
                limb = BODY.segments[grip.target_segment].name if target in BODY_TARGETS else ""
                if limb in parts:
                    held += 1
                    hand = parts[f"hand.{site.partition('.')[2]}"].polygon
                    assert hand.intersects(parts[limb].polygon), (name, number, grip.label)
    assert held > 5


@pytest.mark.parametrize("number", [0, -1])
def test_movement_begins_and_ends_as_the_still_pictures(number: int) -> None:
    """The outlines from which a phone moves a figure are those of the two still pictures: no jump as it starts or stops."""
    for name, figure in demo().items():
        if not figure.spec.moves:
            continue
        parts = outlines_at(figure, (figure.motion.pictures[number],))[0]
        for piece in figure.panels[number].pieces:
            if piece.names[0].startswith("prop"):  # legs of a chair and of a table have one name
                continue
            moved = unary_union([parts[part].polygon for part in piece.names])
            assert moved.symmetric_difference(piece.shape).area < 0.08 * piece.shape.area + 60, (name, piece.names)


def test_settling_is_steady() -> None:
    """From frame to frame a hand that keeps its contact is set by nearly the same way: within 55 mm."""
    for name, figure in demo().items():
        scene = scene_of(figure)
        for side in "rl":
            hand = BODY.numbers[f"hand.{side}"]
            shifts = [settled.frame.placed.origins[hand] - solved.placed.origins[hand]
                      for settled, solved in zip(scene.frames, figure.motion.frames, strict=True)]  # fmt: skip
            for number, (one, two) in enumerate(zip(shifts, shifts[1:], strict=False)):
                grips = {settled.grasps[side].grip for settled in scene.frames[number : number + 2]}
                assert len(grips) > 1 or np.linalg.norm(two - one) < 0.055, (name, side, number)


def test_checks_keep_the_solved_frames() -> None:
    """What is settled for drawing is not what is measured: the figure keeps the solver's frames."""
    figure = demo()["wall-push-up"]
    hand = BODY.numbers["hand.r"]
    drawn, solved = scene_of(figure).frames[0].frame.placed, figure.motion.frames[0].placed
    assert 0.001 < np.linalg.norm(drawn.origins[hand] - solved.origins[hand]) < 0.09
    assert figure.motion.misses(BODY)[0]


def test_a_moving_neck_is_not_turned_to_the_viewer() -> None:
    """Where the exercise turns the head, the picture shows that turn; elsewhere a face that looks away is turned a little."""
    turns = []
    for end in ("neck: turn-r 60", "shoulder.r: flex 90"):
        figure = figure_of(spec_of(f"base: standing\nview: [-30, 8]\nend: {{{end}}}\narrow: hand.r"))
        head = BODY.numbers["head"]
        drawn, solved = scene_of(figure).frames[0].frame.placed, figure.motion.frames[0].placed
        turns.append(float(np.degrees(np.arccos(np.clip(drawn.rotations[head][:, 0] @ solved.rotations[head][:, 0], -1, 1)))))
    assert turns[0] < 0.01
    assert 5 < turns[1] <= 32.1


def test_a_hand_that_rests_palm_up_stays_so() -> None:
    """Lying with the arms turned out, the hands rest on their backs: drawing does not turn them over."""
    figure = figure_of(spec_of("base: supine\nview: above\ncontacts: [back mat, heel mat, hand mat]\nstart: {shoulder: abd 35 er 60, elbow: 5, forearm: sup 80}"))
    scene = scene_of(figure)
    for side, grasp in scene.frames[0].grasps.items():
        z = 1 if side == "r" else -1
        up = figure.motion.frames[0].placed.rotations[BODY.numbers[f"hand.{side}"]][:, 2] * -z
        assert up[1] > 0.3 and grasp.frame[1, 2] > 0.99

"""Pictures between the first and the last: each pose as it is written, and the movement through all of them."""

from __future__ import annotations

import re

import numpy as np

from handouts.figure import Figure, compute_figure, motion_data, read_figure, svg_of
from handouts.figure.body.joints import INDEX
from handouts.figure.pose.fact_values import Facts
from handouts.figure.pose.motion import BETWEEN
from handouts.limits.demands import told_by_figure
from handouts.problems import show_problem
from handouts.source.nodes import compose
from handouts.words.figure import describe_figure
from handouts.words.wording import Wording
from tests.figure.conftest import figure_of, spec_of

SQUAT = """
base: standing
contacts: [foot floor]
via: {hip: flex 58, knee: 60, ankle: df 14, trunk: flex 12}
end: {}
arrow: hip
active: [quads]
"""
RISE = """
base: sitting
props: {chair: seat}
contacts: [foot floor, seat seat]
start: {trunk: flex 4, hip: flex 86, knee: 98, shoulder: flex 34 abd 4, elbow: 30}
via: {trunk: flex 20, hip: flex 106, knee: 96}
end: {hip: flex 2, knee: 4, trunk: 0}
end-contacts: [foot floor]
arrow: [nose, hip]
shows: {nose: past knee.r on the way, knee: straight}
"""


def angle(figure: Figure, frame: int, name: str) -> float:
    return float(figure.motion.frames[frame].state.angles[INDEX[name]])


def test_down_and_up_again() -> None:
    """Three pictures: the second is low, the third is the first again; each way has its arrow, in opposite directions."""
    figure = figure_of(spec_of(SQUAT))
    assert figure.problems == () and len(figure.panels) == 3
    first, middle, last = figure.motion.pictures
    assert (first, middle, last) == (0, BETWEEN + 1, 2 * BETWEEN + 2)
    assert abs(angle(figure, middle, "knee.r.flex") - 60) < 6
    assert abs(angle(figure, last, "knee.r.flex") - angle(figure, first, "knee.r.flex")) < 4
    arrows = [[mark for mark in panel.marks if mark.role.startswith("arrow")] for panel in figure.panels]
    assert [bool(each) for each in arrows] == [False, True, True]
    heights = [figure.motion.frames[number].state.position[1] for number in figure.motion.pictures]
    assert heights[1] < heights[0] - 0.1 and abs(heights[2] - heights[0]) < 0.02


def test_contacts_stay_until_they_are_written_anew() -> None:
    """Leaning forward the seat still carries; each way shows the point that moves most, and none that stays."""
    figure = figure_of(spec_of(RISE))
    assert figure.problems == ()
    middle = figure.motion.pictures[1]
    touching = {touch.label for touch in figure.motion.tasks[middle].touches}
    assert any(label.startswith("seat") for label in touching)
    assert not any(label.startswith("seat") for label in {touch.label for touch in figure.motion.tasks[-1].touches})
    arrows = [sum(mark.role.startswith("arrow") for mark in panel.marks) for panel in figure.panels]
    assert arrows == [0, 1, 1]


def test_numbers_and_keys_of_the_movement() -> None:
    """The badges are 1, 2 and 3; the movement has a key at every second frame, the pictures among them."""
    figure = figure_of(spec_of(SQUAT))
    text = svg_of(figure, "title", "words", "id")
    assert len(re.findall(r'<circle class="r"', text)) == 3
    data = motion_data(figure)
    assert data["k"] == BETWEEN + 2
    assert all(len(piece[2]) == data["k"] - 1 for piece in data["p"] if isinstance(piece[2], list))


def test_the_words_tell_each_picture() -> None:
    """The alternative text names each picture; one that is the first again says so."""
    figure = figure_of(spec_of(SQUAT))
    assert describe_figure(figure.facts, Wording("en")) == (
        "Picture 1 shows the start, picture 3 the end. Standing. Picture 2: Both knees: bent, to 59 degrees. "
        "Both legs: up in front, to 58 degrees. Upper body: leaning or bent forward, to 12 degrees. Picture 3: as in picture 1."
    )


def test_up_to_six_pictures() -> None:
    """A list has up to four pictures between; a fifth is refused."""
    some = "via: [{knee: 20, hip: 20}, {knee: 40, hip: 40}, {knee: 20, hip: 20}, {knee: 50, hip: 44}]"
    figure = compute_figure(spec_of(SQUAT.replace("via: {hip: flex 58, knee: 60, ankle: df 14, trunk: flex 12}", some)))
    assert len(figure.panels) == 6
    knees = [angle(figure, number, "knee.r.flex") for number in figure.motion.pictures]
    assert np.allclose(knees, [0, 20, 40, 20, 50, 0], atol=6)
    root, _ = compose(SQUAT.replace("via: {hip: flex 58, knee: 60, ankle: df 14, trunk: flex 12}", some.replace("[", "[{knee: 9}, ", 1)), "figure.yaml")
    assert root is not None
    assert [show_problem(one) for one in read_figure(root)[1]] == [
        "figure.yaml:4:81: error: these are 5 pictures between the first and the last. Write at most 4. [figure-word]"
    ]


def test_a_picture_between_needs_a_last_one() -> None:
    root, _ = compose(SQUAT.replace("end: {}\n", ""), "figure.yaml")
    assert root is not None
    assert [show_problem(one) for one in read_figure(root)[1]] == [
        "figure.yaml:2:1: error: there are pictures between, but no last one. Write 'end' too: the angles of the last picture, or {} for the "
        "first once more. [figure-word]"
    ]


def test_a_picture_between_is_held_to_what_it_must_show() -> None:
    """A claim 'on the way' is measured in the pictures between, and in no other."""
    figure = compute_figure(spec_of(RISE.replace("via: {trunk: flex 20, hip: flex 106, knee: 96}", "via: {hip: flex 70, trunk: flex 0}")))
    assert [one.what.partition(", but")[0] for one in figure.problems if "picture 2" in one.what] == [
        "the picture must show 'nose: past knee.r on the way'"
    ]


FLOOR = """
base: side-lying
view: side-high
via: [{base: all-fours}, {base: half-kneeling, trunk: flex 10}, {trunk: flex 40}]
end: {base: standing}
end-contacts: [foot mat]
arrow: nose
"""


def test_each_picture_stands_on_its_own_base() -> None:
    """Angles are those of the picture's base and what is written; the pictures after it differ from it; all are one size."""
    figure = figure_of(spec_of(FLOOR))
    assert figure.problems == () and len(figure.panels) == 5
    at = figure.motion.pictures
    assert np.allclose([angle(figure, number, "knee.r.flex") for number in at], [0, 88, 92, 92, 0], atol=12)
    assert np.allclose([angle(figure, number, "trunk.flex") for number in at], [0, 0, 10, 40, 0], atol=5)
    upright = [float(figure.motion.frames[number].state.turn[1, 1]) for number in at]
    assert np.allclose(upright[:2], 0, atol=0.3) and min(upright[2:]) > 0.9
    heights = [panel.bounds[3] - panel.bounds[1] for panel in figure.panels]
    assert heights[4] > 2 * heights[0], "a standing body is as tall as it lies long"
    assert figure.layout.height < sum(heights), "two rows"


def test_facts_limits_and_words_read_each_base() -> None:
    """What a later base asks is asked of the exercise: arms carry on all fours, legs when standing."""
    facts = figure_of(spec_of(FLOOR)).facts
    assert [one.base for one in facts.each_base] == ["side-lying", "all-fours", "half-kneeling", "standing"]
    assert [one.pictures for one in facts.each_base] == [1, 1, 2, 1]
    assert {"weight-on-arms", "weight-on-leg", "lie-to-sit"} <= told_by_figure(facts)
    first = facts.each_base[0]
    assert "weight-on-arms" not in told_by_figure(Facts(**{name: getattr(first, name) for name in Facts.__slots__ if name != "later"}))
    assert describe_figure(facts, Wording("en")) == (
        "Picture 1 shows the start, picture 5 the end. Lying on the left side. Picture 2: On hands and knees. Picture 3: Kneeling on one knee. "
        "Picture 4: Upper body: leaning or bent forward, to 40 degrees. Picture 5: Standing."
    )
    assert "Lying on the right side" in describe_figure(facts, Wording("en"), mirrored=True)


def test_checks_read_each_base() -> None:
    """An angle that its contacts do not allow, and a joint that goes too far in a later picture are said with its number."""
    kept = compute_figure(spec_of(FLOOR.replace("end: {base: standing}", "end: {base: standing, hip: 0, knee: 110, ankle: 0}")))
    assert any("picture 5" in one.what for one in kept.problems)
    far = compute_figure(spec_of(FLOOR.replace("trunk: flex 10", "trunk: flex 10, knee.l: 170")))
    assert any("left knee flexion" in one.what for one in far.problems)


def test_a_body_is_not_turned_end_for_end() -> None:
    """From the back to the left side the head would change its end of the mat."""
    root, _ = compose("base: supine\nend: {base: side-lying}\n", "figure.yaml")
    assert root is not None
    assert [show_problem(one) for one in read_figure(root)[1]] == [
        "figure.yaml:1:1: error: between 'supine' and 'side-lying' the body is turned end for end: the head lies left in the one and right in the "
        "other. Write side-lying-right beside supine, side-lying beside prone or all-fours; 'mirror: both' shows the other side. [figure-word]"
    ]


def test_the_mirror_image_has_the_bases_of_the_other_side() -> None:
    """All pictures with left and right exchanged; the picture of one for the other alone is refused."""
    both = spec_of(FLOOR + "mirror: both\n")
    assert [one.base for one in both.sections] == ["side-lying-right", "all-fours", "half-kneeling", "standing"]
    figure = figure_of(both)
    assert figure.problems == ()
    assert np.allclose([angle(figure, number, "trunk.flex") for number in figure.motion.pictures], [0, 0, 10, 40, 0], atol=5)
    root, _ = compose(FLOOR + "mirror: end\n", "figure.yaml")
    assert root is not None
    assert any("stand on bases of their own" in one.what for one in read_figure(root)[1])

"""Things are used where they are used: on the face that is seen, within their edges, on the side of the trunk, and turned as far as the feet."""

from __future__ import annotations

import numpy as np
import pytest

from handouts.figure import Figure
from handouts.figure.body.body import make_body
from handouts.figure.body.sites import Plane
from handouts.figure.checks.claim_checks import past_edge
from handouts.figure.pose.names import VIEWS
from handouts.figure.props.scene import PropScene
from handouts.figure.scene import make_scene, see
from handouts.problems import show_problem

from .conftest import figure_of, spec_of

BODY = make_body()
AT_WALL = "base: standing\nview: {view}\nprops: {{wall: front}}\ncontacts: [foot floor, palm wall]\nstart: {{shoulder: flex 84, elbow: 6, wrist: ext 68}}"
TIED = "base: standing\nview: {view}\nprops: {{door: {door}, band: hand.r}}\ncontacts: [foot floor]\nend: {{shoulder.r: flex 40}}"
POST = "base: standing\nview: {view}\nprops: {{post: mid, band: hand.r post}}\ncontacts: [foot floor]\nend: {{shoulder.r: flex 40}}"
BESIDE = "base: standing\nprops: {counter: left 0.24}\ncontacts: [foot floor%s]\nstart: {shoulder.l: flex 24 abd 22 ir 10, elbow.l: 62, forearm.l: pro 70}%s"


def said(text: str, rule: str) -> list[str]:
    """The messages of a rule about a figure."""
    return [show_problem(one) for one in figure_of(spec_of(text)).problems if one.rule == rule]


@pytest.mark.parametrize(("text", "view", "seen"), [
    (AT_WALL, "side", False), (AT_WALL, "other-side", True), (AT_WALL, "flat-side", True), (AT_WALL, "front", False),
    (TIED.replace("{door}", "front high"), "side", False), (TIED.replace("{door}", "front high"), "other-side", True),
    (TIED.replace("{door}", "left"), "front", True), (TIED.replace("{door}", "right"), "front", False),
    (TIED.replace("{door}", "right"), "[122, 9]", True), (TIED.replace("{door}", "back"), "side", True),
    (POST, "side", False), (POST, "other-side", True),
])  # fmt: skip
def test_a_face_that_is_used_is_seen(text: str, view: str, seen: bool) -> None:
    """A wall with hands on it, a door and a post with a band: not from behind, and the view that is named shows them."""
    found = said(text.format(view=view), "figure-from-behind")
    assert (found == []) == seen, found
    if found:
        better = found[0].partition("view: ")[2].partition("].")[0] + "]"
        assert said(text.format(view=better), "figure-from-behind") == []


def test_the_message_of_a_wall_from_behind() -> None:
    """What is wrong, where, and how to mend it."""
    assert said(AT_WALL.format(view="side"), "figure-from-behind") == [
        "figure.yaml:3:9: error: the wall is seen from behind: what touches it is behind it. "
        "Turn the view to the other side: view: [-20, 8]. [figure-from-behind]"
    ]
    yaw, rise = VIEWS["side"]
    assert (yaw, rise) == (20, 8)


def test_a_hand_just_above_a_top_touches_it_or_is_meant_to_be_there() -> None:
    """A contact or a claim ends the notice; a hand that is far from it has none."""
    found = said(BESIDE % ("", ""), "figure-hovers")
    assert len(found) == 1 and found[0].endswith(
        "above the counter in picture 1 and does not touch it. Write the contact 'hand.l counter' for a hand that rests there, "
        "or shows: {hand.l: above counter} where it is meant. [figure-hovers]"
    )
    assert ": notice: the left hand is " in found[0]
    assert said(BESIDE % (", hand.l counter", ""), "figure-hovers") == []
    assert said(BESIDE % ("", "\nshows: {hand.l: above counter}"), "figure-hovers") == []
    assert said("base: standing\nprops: {counter: left}\ncontacts: [foot floor]", "figure-hovers") == []


def test_a_hand_on_a_top_stays_within_its_edges() -> None:
    """A slide that would end past the far edge of a table is drawn back over it."""
    figure = figure_of(spec_of(
        "base: sitting\nprops: {chair: seat, table: 0.1}\ncontacts: [foot floor, seat seat, palm.r table]\n"
        "end: {trunk: flex 40, shoulder.r: flex 130, elbow.r: 0}\nslide: [palm.r]"
    ))  # fmt: skip
    edges = figure.motion.world.edges["table"]
    for frame in figure.motion.frames:
        assert max(past_edge(frame.centres[BODY.lumps[f"{name}.r"]], edges) for name in ("palm", "fi1")) < -0.04
    assert said("base: standing\nprops: {counter: front}\ncontacts: [foot floor, palm counter]", "figure-past-edge") == []


def test_a_hand_at_one_side_steadies_and_does_not_carry() -> None:
    """With a hand on a counter beside them, people stand over their feet as they do without it."""
    leans = []
    for contact in ("", ", hand.l counter"):
        frame = figure_of(spec_of(f"base: standing\nprops: {{counter: left}}\ncontacts: [foot floor{contact}]")).motion.frames[0]
        feet = np.mean([frame.centres[BODY.lumps[f"mid.{side}"]] for side in "rl"], axis=0)
        leans.append((frame.centres[BODY.lumps["skull"]] - feet)[[0, 2]])
    assert np.linalg.norm(leans[0] - leans[1]) < 0.06, leans


def test_a_towel_at_the_elbow_lies_between_arm_and_trunk() -> None:
    """However the upper arm is turned about itself: the towel is nearer to the trunk than the elbow."""
    for turn in ("ir 50", "er 40", "ir 0"):
        figure = figure_of(spec_of(f"base: standing\nview: front\nprops: {{towel: elbow.r}}\nstart: {{shoulder.r: abd 12 {turn}, elbow.r: 90}}"))
        scene = make_scene(figure.spec, BODY, figure.motion, figure.style)
        towel = next(part for part in see(scene, scene.frames[0], {}).ordered if part.use == "towel")
        props = PropScene(figure.spec, BODY, scene.motion, scene.frames[0].frame, scene.view)
        elbow, trunk = (scene.view @ place for place in (props.point("elbow", "r"), props.lump("sec3")))
        towel_x = (towel.polygon.bounds[0] + towel.polygon.bounds[2]) / 2
        assert abs(towel_x - trunk[0]) < abs(elbow[0] - trunk[0]) - 10, turn


def test_a_wall_is_as_wide_as_the_arms_on_it() -> None:
    """Arms spread along a wall behind the back end on it."""
    figure = figure_of(spec_of("base: standing\nview: front\nprops: {wall: back}\ncontacts: [foot floor, trunk-back wall]\n"
                               "start: {hip: flex 10, knee: 10, shoulder: abd 90 er 85, elbow: 20}"))  # fmt: skip
    scene = make_scene(figure.spec, BODY, figure.motion, figure.style)
    room = next(part.room for part in see(scene, scene.frames[0], {}).ordered if part.use == "wall")
    assert room is not None and isinstance(figure.motion.world.surfaces["wall"], Plane)
    for side in "rl":
        tips = scene.frames[0].frame.centres[BODY.lumps[f"fi2.{side}"]]
        assert 0.5 < abs(tips[2]) < room[1][2] - 0.03, side


def _bike() -> Figure:
    return figure_of(spec_of(
        "base: sitting\nview: side\nprops: {exercise-bike: yes}\n"
        "contacts: [seat saddle, foot.r pedal-high, foot.l pedal-low, grip handlebar]\n"
        "end-contacts: [seat saddle, foot.l pedal-high, foot.r pedal-low, grip handlebar]\n"
        "start: {hip.r: flex 75, knee.r: 95, hip.l: flex 30, knee.l: 35, trunk: 25}\nend: {hip.l: flex 75, knee.l: 95, hip.r: flex 30, knee.r: 35}"
    ))  # fmt: skip


def test_pedals_turn_with_the_feet() -> None:
    """In both pictures a pedal is under each foot."""
    figure = _bike()
    scene = make_scene(figure.spec, BODY, figure.motion, figure.style)
    for number in figure.motion.pictures:
        parts = see(scene, scene.frames[number], {}).ordered
        boxes = [part.room for part in parts if part.room and part.use == "exercise-bike"]
        assert len(boxes) == 2
        for side in "rl":
            foot = scene.frames[number].frame.centres[BODY.lumps[f"soleb.{side}"]]
            under = [abs(room[0][0] - foot[0]) < 0.08 and 0 <= foot[1] - room[0][1] < 0.06 and abs(room[0][2] - foot[2]) < 0.06 for room in boxes]
            assert under.count(True) == 1, (number, side)


def test_a_band_begins_at_the_ring_round_the_knee() -> None:
    """What is tied to a limb ends in the ring that is drawn there."""
    figure = figure_of(spec_of("base: standing\nview: other-side\nprops: {door: front low, band: knee.r}\nstart: {hip.r: flex 26, knee.r: 42}"))
    scene = make_scene(figure.spec, BODY, figure.motion, figure.style)
    parts = {part.name: part.polygon for part in see(scene, scene.frames[0], {}).ordered if part.use == "band"}
    assert parts["prop band"].intersects(parts["prop cuff th3r"].centroid.buffer(12))


def test_above_a_top_is_over_it() -> None:
    """A hand that is higher than a counter and past its edge is not above it."""
    over = said(BESIDE % ("", "\nshows: {hand.l: above counter}"), "figure-shows")
    past = said(BESIDE.replace("counter: left 0.24", "counter: left 0.9") % ("", "\nshows: {hand.l: above counter}"), "figure-shows")
    assert over == []
    assert len(past) == 1 and "past the edge of the counter in picture 1" in past[0]

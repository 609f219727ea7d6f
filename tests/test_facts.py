"""Facts and largest angles of solved figures: what limits and alternative texts are made from."""

from __future__ import annotations

from functools import cache

import pytest

from handouts.figure import Extreme, Figure, compute_figure, extremes, facts, joint_angles, read_figure
from handouts.figure.body.joints import VARIABLES
from handouts.source.nodes import Mapping, compose
from handouts.words.figure import describe_figure
from handouts.words.wording import Wording

RAISE = "base: supine\nprops: {mat: yes}\ncontacts: [back mat]\nstart: {hip.r: 0}\nend: {hip.r: flex 91, knee.r: 90}\n"
KICK = "base: sitting\nprops: {chair: seat}\ncontacts: [foot.l floor, seat seat]\nstart: {knee.r: 90}\nend: {knee.r: 4}\nactive: [quads.r]\n"
HELD = "base: standing\ncontacts: [foot.r floor]\nbalance: no\nstart: {hip.l: flex 40, knee.l: 60}\n"


@cache
def figure(text: str) -> Figure:
    """A figure described in YAML."""
    node, problems = compose(text, "figure.yaml")
    assert isinstance(node, Mapping), problems
    spec, problems = read_figure(node)
    assert spec is not None, problems
    return compute_figure(spec)


def test_largest_angles_with_side_and_phase() -> None:
    """A typed angle is reached to the tenth of a degree (91 is what the author typed), on its side, at the end."""
    found = extremes(figure(RAISE))
    assert found["hip flexion"] == Extreme(91.0, "r", "end")
    assert found["knee flexion"] == Extreme(90.0, "r", "end")
    assert extremes(figure(KICK))["knee flexion"].phase == "start"


def test_largest_angles_are_the_largest_of_all_frames() -> None:
    """No frame goes farther than what is told of the whole motion, and what is told is reached."""
    for text in (RAISE, KICK):
        frames = joint_angles(figure(text).motion)
        assert all(set(frame) == set(VARIABLES) for frame in frames)
        largest = max(max(frame["hip.r.flex"], frame["hip.l.flex"]) for frame in frames)
        assert extremes(figure(text))["hip flexion"].degrees == largest


def test_a_held_position_has_one_frame() -> None:
    """Without an end nothing moves."""
    held = facts(figure(HELD))
    assert (len(joint_angles(figure(HELD).motion)), held.moves, held.movements) == (1, False, ())


@pytest.mark.parametrize(("text", "lying_on"), [(RAISE, "back"), (KICK, ""), (HELD, "")])
def test_lying(text: str, lying_on: str) -> None:
    """Only who lies down lies on something."""
    assert facts(figure(text)).lying_on == lying_on


def test_open_chain_is_told_of_joints_that_move_with_a_free_foot() -> None:
    """The knee that straightens in the air, not the one whose foot stands."""
    assert {name for name in facts(figure(KICK)).open_chain if name.startswith("knee")} == {"knee.r"}
    squat = figure("base: standing\ncontacts: [foot floor]\nend: {hip: flex 58, knee: 60, ankle: df 14, trunk: flex 12}\n")
    assert not {name for name in facts(squat).open_chain if name.startswith(("knee", "hip"))}
    assert {move.joint for move in facts(squat).movements} >= {"hip", "knee"}


def test_typed_movements_come_first_with_their_angles() -> None:
    """Start and end of a movement are those of the first and the last frame."""
    first = facts(figure(KICK)).movements[0]
    assert (first.joint, first.side, first.start, first.end, first.typed) == ("knee", "r", 90.0, 4.0, True)


def test_muscles() -> None:
    """Muscles as the author marked them."""
    assert facts(figure(KICK)).active == ("quads.r",)


def test_a_mirrored_figure_is_described_mirrored() -> None:
    """Left and right change places in the alternative text; the rest of it stays."""
    found, wording = facts(figure(KICK)), Wording("en")
    plain, other = describe_figure(found, wording), describe_figure(found, wording, mirrored=True)
    assert "Right knee" in plain and "Left" not in plain
    assert other == plain.replace("Right", "Left")

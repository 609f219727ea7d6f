"""Goals instead of angles: what is reached is touched, what stays together touches all the way, and a mirror is one to the degree."""

from __future__ import annotations

import re

import pytest

from handouts.figure import Figure, read_figure
from handouts.figure.body.joints import INDEX, VARIABLES
from handouts.figure.body.sites import POINTS
from handouts.figure.pose.goals import MEETING, freed, lumps_of
from handouts.figure.pose.motion import point_places
from handouts.figure.pose.names import TOGETHER
from handouts.figure.pose.spec import Named
from handouts.problems import show_problem
from handouts.source.nodes import compose

from .conftest import figure_of, spec_of

MOST_GAP = 0.003
"""Metres between parts that meet: a third of what 'check' lets a contact miss."""


def made(text: str) -> Figure:
    """A figure that is without a problem."""
    figure = figure_of(spec_of(text))
    assert [problem.what for problem in figure.problems] == []
    return figure


def angle(figure: Figure, name: str, frame: int = -1) -> float:
    """An angle of a frame, degrees."""
    return float(figure.motion.frames[frame].state.angles[INDEX[name]])


def misses(figure: Figure, label: str) -> list[float]:
    """By how many metres something misses, frame by frame; frames that do not ask for it are left out."""
    return [miss for found in figure.motion.misses(figure.style.body) for name, miss in found if name == label]


def test_hands_reach_the_toes_of_one_who_stands() -> None:
    """Hips and trunk bend forward, the knees stay straight, the feet on the floor; both fingertips are at the toes."""
    figure = made("base: standing\nview: flat-side\nreach: {hand: toes}")
    for side in "rl":
        assert max(misses(figure, f"hand.{side} toes.{side}")) < MOST_GAP
        assert angle(figure, f"hip.{side}.flex") > 50 and abs(angle(figure, f"knee.{side}.flex")) < 12
        hand, toes = (point_places(figure.style.body, figure.motion.frames, Named(name, side))[-1] for name in ("hand", "toes"))
        assert abs(hand - toes).max() < 0.16
    assert angle(figure, "trunk.flex") > 25 and abs(angle(figure, "trunk.side")) < 2
    assert max(misses(figure, "foot.r floor")) < 0.01
    moved = {move.joint for move in figure.facts.movements if move.typed}
    assert {"hip", "trunk", "shoulder"} <= moved


def test_what_is_written_stays() -> None:
    """A written trunk keeps its angle, and the joints that were not written do the rest; the way there is even."""
    figure = made("base: long-sitting\nreach: {hand.r: toes.l}\nend: {trunk: 30}")
    assert abs(angle(figure, "trunk.flex") - 30) < 4
    assert max(misses(figure, "hand.r toes.l")) < MOST_GAP
    way = [angle(figure, "shoulder.r.flex", frame) for frame in range(len(figure.motion.frames))]
    steps = [after - before for before, after in zip(way, way[1:], strict=False)]
    assert min(steps) > -4 and max(steps) < 0.5 * (way[-1] - way[0])
    assert abs(angle(figure, "shoulder.l.flex") - angle(figure, "shoulder.l.flex", 0)) < 3


@pytest.mark.parametrize(("text", "label"), [
    ("base: standing\nview: other-side\nprops: {wall: front}\nreach: {hand.r: wall}", "hand.r wall"),
    ("base: supine\nreach: {hand.r: belly}", "grip.r belly"),
    ("base: standing\nprops: {rail: front}\nreach: {hand: rail}", "grip.l rail"),
    ("base: sitting\nreach: {hand.l: own-shin}", "grip.l own-shin"),
])  # fmt: skip
def test_a_thing_that_is_reached_is_a_contact_of_picture_2(text: str, label: str) -> None:
    """The hand comes to it from where it was, within the gap of a contact."""
    figure = made(text)
    assert max(misses(figure, label)) < 0.01
    assert label.split()[1] not in {contact.target for contact in figure.spec.contacts}


def test_the_chin_comes_to_the_chest() -> None:
    """The neck alone bends, straight ahead."""
    figure = made("base: sitting\nreach: {chin: chest}")
    assert angle(figure, "neck.flex") > 45 and abs(angle(figure, "neck.side")) < 3 and abs(angle(figure, "trunk.flex")) < 5
    assert misses(figure, "chin chest")[0] < MOST_GAP


def test_feet_and_hands_stay_together_all_the_way() -> None:
    """In every frame, also between the pictures."""
    figure = made("base: standing\nview: front\ntogether: [feet, hands]\nend: {shoulder: flex 90}")
    for part in ("feet", "hands"):
        found = misses(figure, f"{part} together")
        assert len(found) == len(figure.motion.frames) and max(found) < MOST_GAP
    apart = made("base: standing\nview: front\nend: {shoulder: flex 90}")
    assert point_places(apart.style.body, apart.motion.frames, Named("foot", "r"))[-1][2] > 0.08
    assert point_places(figure.style.body, figure.motion.frames, Named("foot", "r"))[-1][2] < 0.07


def test_picture_2_is_the_mirror_of_picture_1() -> None:
    """Every angle has changed its side; so has the foot that stands."""
    figure = made("base: standing\nstart: {hip.r: flex 60, knee.r: 80, shoulder.l: flex 40, trunk: turn-r 10}\ncontacts: [foot.l floor]\nbalance: no\nmirror: end")
    for name in VARIABLES:
        joint, _, axis = name.rpartition(".")
        other = joint.replace(".r", ".x").replace(".l", ".r").replace(".x", ".l") + f".{axis}"
        sign = -1 if joint in ("trunk", "neck") and axis in ("side", "turn") else 1
        assert abs(angle(figure, name) - sign * angle(figure, other, 0)) < 6, name
    assert [str(contact.site) for contact in figure.spec.end_contacts] == ["foot.r"]


def test_an_end_that_is_written_stands_before_the_mirror() -> None:
    """Only the written joint differs."""
    spec = spec_of("base: standing\nstart: {hip.r: flex 60, knee.r: 80}\ncontacts: [foot.l floor]\nend: {knee.l: 50}\nmirror: end")
    assert {one.variable: one.degrees for one in spec.end} == {"hip.r.flex": 0, "knee.r.flex": 0, "hip.l.flex": 60, "knee.l.flex": 50}


def test_picture_1_is_the_mirror_of_picture_2() -> None:
    """What is written for the end is turned round for the start."""
    spec = spec_of("base: sitting\nend: {trunk: turn-r 30, hip.r: flex 100}\nmirror: start")
    assert {one.variable: one.degrees for one in spec.start} == {"trunk.turn": -30, "hip.l.flex": 100}
    assert {one.variable: one.degrees for one in spec.end} == {"trunk.turn": 30, "hip.r.flex": 100, "hip.l.flex": 86}


def test_a_whole_figure_for_the_other_side() -> None:
    """Angles, contacts, props, arrow, regions and side change sides, and the camera with them; twice is as written."""
    text = (
        "base: half-kneeling\nprops: {wall: left}\nend: {hip.l: flex 100, trunk: side-r 5}\narrow: knee.l\nactive: [quads.l]\n"
        "side: l\nslide: [foot.l]\nshows: {knee.l: past toes.l}\ncontacts: [foot.l mat, knee.r mat, foot-top.r mat]"
    )
    plain, turned = spec_of(text), spec_of(f"{text}\nmirror: both")
    assert [str(contact.site) for contact in turned.contacts] == ["foot.r", "knee.l", "foot-top.l"]
    assert (turned.props[0].words, str(turned.arrow[0]), str(turned.active[0]), turned.side) == (("right",), "knee.r", "quads.r", "r")
    assert (str(turned.slide[0]), str(turned.shows[0].subject), turned.shows[0].others[0].side) == ("foot.r", "knee.r", "r")
    assert {one.variable: one.degrees for one in turned.end} == {"hip.r.flex": 100, "trunk.side": -5}
    assert turned.view == (180 - plain.view[0], plain.view[1])
    one, two = figure_of(plain), figure_of(turned)
    for name in ("hip.l.flex", "knee.l.flex", "hip.r.flex", "shoulder.r.abd"):
        swapped = name.replace(".l.", ".x.").replace(".r.", ".l.").replace(".x.", ".r.")
        assert abs(angle(one, name) - angle(two, swapped)) < 1.5, name
    width = [[panel.bounds[2] - panel.bounds[0] for panel in figure.panels] for figure in (one, two)]
    assert all(abs(a - b) < 25 for a, b in zip(*width, strict=True))


def test_side_lying_turns_over() -> None:
    """Lying on the left becomes lying on the right."""
    spec = spec_of("base: side-lying\nend: {hip.r: abd 30}\nmirror: both")
    assert (spec.base, [str(one.site) for one in spec.contacts]) == ("side-lying-right", ["side.r", "heel.r"])
    assert [(one.variable, one.degrees) for one in spec.end] == [("hip.l.abd", 30)] and spec.start == ()


@pytest.mark.parametrize(("text", "message"), [
    ("base: standing\nreach: hand", "f.yaml:2:8: error: what is reached is written as a part and its goal. Write for example {hand.l: toes.r}. [figure-word]"),
    ("base: standing\nreach: {hnd.l: toes.r}", "f.yaml:2:9: error: 'hnd.l' is no part of the body that reaches. Did you mean 'hand'? [figure-word]"),
    ("base: standing\nreach: {hand.l: tose.r}", "f.yaml:2:17: error: 'tose.r' is nothing that can be reached. Did you mean 'toes'? [figure-word]"),
    ("base: standing\nreach: {hand.l: hand.l}", "f.yaml:2:17: error: 'hand.l' cannot reach itself. Name another part of the body, or a thing. [figure-word]"),
    ("base: standing\nreach: {chin: knee}", "f.yaml:2:15: error: 'knee' does not say which side. Write knee.r or knee.l. [figure-word]"),
    ("base: standing\nreach: {hand: chest.r}", "f.yaml:2:15: error: 'chest.r' has no right and left. Write 'chest'. [figure-word]"),
    ("base: standing\nreach: {hand.r: [belly]}", "f.yaml:2:17: error: one goal is wanted here. Write a part of the body or a thing, for example toes.r or wall. [figure-word]"),
    ("base: standing\nreach: {hand.r: wall}", "f.yaml:2:9: error: the contact 'hand.r wall' touches a wall, and there is none in the picture. Write props: {wall: front}, or take the contact out. [figure-not-drawn]"),
    ("base: standing\nreach: {nose: wall}", "f.yaml:2:15: error: 'nose' cannot reach a thing. Name a part of a limb: hand, elbow, knee, ankle, heel, toes or foot. [figure-word]"),
    ("base: sitting\nreach: {hand.r: toes.r}\nwithout: [shank.r]", "f.yaml:2:17: error: 'toes.r' is not there. Name a part that is there, or take the limb out of 'without'. [figure-word]"),
    ("base: standing\ntogether: ears", "f.yaml:2:11: error: 'ears' are no parts that can stay together. Use one of: feet, hands, knees. [figure-word]"),
    ("base: sitting\ntogether: feet\nwithout: [shank.r]", "f.yaml:2:11: error: the feet cannot stay together: one of them is not there. Take the word out, or the limb out of 'without'. [figure-word]"),
    ("base: standing\nmirror: left", "f.yaml:2:9: error: 'left' does not say what is mirrored. Write one of: end, start, both. [figure-word]"),
    ("base: standing\nmirror: start", "f.yaml:2:9: error: there is no picture 2 to mirror. Write the angles of picture 2 under 'end', from the base position; or write mirror: end. [figure-word]"),
    ("base: standing\nstart: {knee: 10}\nend: {knee: 40}\nmirror: start",
     "f.yaml:4:9: error: picture 1 is the mirror of picture 2, so 'start' cannot be written too. Write the angles of picture 2 under 'end', from the base position; or write mirror: end. [figure-word]"),
    ("base: standing\nstart: {knee: 10}\nmirror: end",
     "f.yaml:3:9: error: picture 1 is the same with left and right exchanged, so nothing would move. Write one side of picture 1 differently, for example start: {hip.r: flex 40}. [figure-word]"),
])  # fmt: skip
def test_whole_message(text: str, message: str) -> None:
    """What is wrong with a goal: place, what, and how to mend it."""
    root, _ = compose(text, "f.yaml")
    assert root is not None
    assert [show_problem(problem) for problem in read_figure(root)[1]] == [message]


def test_a_goal_out_of_reach_is_said_with_its_distance() -> None:
    """Like a contact that misses, at the place of the goal."""
    figure = figure_of(spec_of("base: standing\nend: {hip: 0, trunk: 0}\nreach: {hand.r: toes.r}"))
    found = [problem for problem in figure.problems if re.fullmatch(r"the contact 'hand.r toes.r' misses by \d{3} mm in picture 2", problem.what)]
    assert [(problem.place.line, problem.place.column) for problem in found] == [(3, 9)]


def test_every_point_can_be_met() -> None:
    """Each point of the body has its ellipsoids, on both sides, and each part that stays together too."""
    body = figure_of(spec_of("base: standing")).style.body
    for name, (segment, _) in POINTS.items():
        for side in ("r", "l") if segment.endswith(".") else ("",):
            numbers = lumps_of(body, Named(name, side))
            assert numbers and (not side or all(body.names[number].endswith(f".{side}") for number in numbers)), name
    assert set(MEETING) == set(TOGETHER)


def test_only_what_was_not_written_is_freed() -> None:
    """An arm goal frees its own arm, trunk and hips; a written joint and the other arm stay firm; nothing is freed for the start."""
    spec = spec_of("base: standing\nend: {hip.r: 30}\nreach: {hand.r: toes.r}")
    names = set(freed(spec, at_end=True))
    assert {"shoulder.r.flex", "elbow.r.flex", "trunk.flex", "hip.l.flex"} <= names
    assert not names & {"hip.r.flex", "shoulder.l.flex", "knee.r.flex"}
    assert freed(spec, at_end=False) == {}

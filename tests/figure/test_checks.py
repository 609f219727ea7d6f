"""Each rule of the engine fires on what it is for, at its place, and only then."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from handouts.figure.body.angles import HIGH, LOW, angles_of
from handouts.figure.body.body import make_body
from handouts.figure.body.joints import INDEX, VARIABLES, typed_angle
from handouts.figure.checks.check_input import CheckInput
from handouts.figure.checks.pose_checks import check_overlap, check_range, check_sink
from handouts.figure.pose.bases import BASES
from handouts.figure.pose.motion import SolvedMotion
from handouts.figure.pose.residuals import State
from handouts.figure.pose.solver import solve
from handouts.figure.pose.spec import PoseAngle
from handouts.figure.pose.unwritten_joints import strays_of
from handouts.problems import Place, show_problem

from .conftest import figure_of, spec_of


def rules_of(text: str) -> dict[str, tuple[int, int, str]]:
    """Rule -> line, column and mend of a figure's problems."""
    return {problem.rule: (problem.place.line, problem.place.column, problem.mend)
            for problem in figure_of(spec_of(text)).problems}  # fmt: skip


@pytest.fixture(scope="module")
def standing() -> SolvedMotion:
    """A standing body, solved once."""
    from handouts.figure.pose.motion import solve_motion

    return solve_motion(spec_of("base: standing"), make_body())


AAOS = "American Academy of Orthopaedic Surgeons, as tabulated by Norkin and White, Measurement of Joint SolvedMotion, appendix A"
MEMORY = f"{AAOS}; from memory"
ANKLE = "normal range of the ankle: World Journal of Orthopedics 2017;8(1):21-29, table 5"
NECK = "design ceilings of the cervical spine, from measurements of healthy young men"
CARDS = "AAOS, as a collection of teaching cards gives it: read at second hand"
PRACTICE = "common practice, no source"
CLAVICLE = "motion of the clavicle at the breastbone: from memory"
FREE = "from memory"
PUBLISHED = (
    # joint and axis, then degrees and source of the motion that counts as positive and of the one that counts as negative
    ("trunk.flex", (80, MEMORY), (25, MEMORY)),
    ("trunk.side", (35, MEMORY), (35, MEMORY)),
    ("trunk.turn", (45, MEMORY), (45, MEMORY)),
    ("neck.flex", (64, NECK), (63, NECK)),
    ("neck.side", (49, NECK), (49, NECK)),
    ("neck.turn", (80, f"{NECK}, 60 to 80"), (80, f"{NECK}, 60 to 80")),
    ("neck.glide", (25, FREE), (20, FREE)),
    ("pelvis.tilt", (20, FREE), (20, FREE)),
    ("hip.r.flex", (120, MEMORY), (30, MEMORY)),
    ("hip.r.abd", (45, MEMORY), (30, MEMORY)),
    ("hip.r.ir", (45, MEMORY), (45, MEMORY)),
    ("knee.r.flex", (135, MEMORY), (0, MEMORY)),
    ("ankle.r.df", (20, ANKLE), (50, ANKLE)),
    ("ankle.r.inv", (35, ANKLE), (15, ANKLE)),
    ("toes.r.ext", (70, CARDS), (45, CARDS)),
    ("blade.r.up", (40, CLAVICLE), (10, CLAVICLE)),
    ("blade.r.fwd", (25, CLAVICLE), (25, CLAVICLE)),
    ("shoulder.r.flex", (180, AAOS), (60, AAOS)),
    ("shoulder.r.abd", (180, AAOS), (45, PRACTICE)),
    ("shoulder.r.ir", (70, AAOS), (90, AAOS)),
    ("shoulder.r.had", (135, MEMORY), (45, MEMORY)),
    ("elbow.r.flex", (150, AAOS), (0, CARDS)),
    ("forearm.r.pro", (80, AAOS), (80, AAOS)),
    ("wrist.r.flex", (80, AAOS), (70, AAOS)),
    ("wrist.r.dev", (20, CARDS), (30, CARDS)),
    ("fingers.r.curl", (100, f"{CARDS}; the middle joint stands for the finger"), (10, PRACTICE)),
)  # fmt: skip
"""The normal range of every joint of the figure, in degrees without weight, by source."""


@pytest.mark.parametrize(("variable", "positive", "negative"), PUBLISHED, ids=[row[0] for row in PUBLISHED])
def test_range_edges(variable: str, positive: tuple[float, str], negative: tuple[float, str], standing: SolvedMotion) -> None:
    """Each published edge, without weight, is accepted and refused one degree past it."""
    place = Place("figure.yaml", 3, 9)
    for edge, out in ((positive[0], 1.0), (-negative[0], -1.0)):
        for degrees, refused in ((edge, False), (edge + out, True)):
            spec = replace(spec_of("base: supine"), start=(PoseAngle(variable, float(degrees), place),))
            found = check_range(CheckInput(spec, make_body(), standing, frozenset()))
            assert [(problem.rule, problem.place) for problem in found] == [("figure-range-of-motion", place)] * refused


def test_every_range_is_a_published_one() -> None:
    """No joint lacks its row, and the left has the range of the right."""
    rows = {variable: (-negative[0], positive[0]) for variable, positive, negative in PUBLISHED}
    assert {name: (LOW[INDEX[name]], HIGH[INDEX[name]]) for name in VARIABLES} == {
        name: rows[name.replace(".l.", ".r.")] for name in VARIABLES
    }  # fmt: skip


def test_elbow_bent_backwards() -> None:
    """A negative elbow angle is refused where it was typed."""
    line, column, mend = rules_of("base: standing\nend: {elbow.r: -20}\narrow: hand.r")["figure-range-of-motion"]
    assert (line, column) == (2, 16)
    assert "sign" in mend


def test_a_reason_excuses_a_range() -> None:
    """'beyond' with a reason lets a motion leave its normal range."""
    text = "base: supine\nend: {knee.r: 150, hip.r: flex 118}\nend-contacts: [back mat, heel.l mat]"
    assert "figure-range-of-motion" in rules_of(text)
    assert "figure-range-of-motion" not in rules_of(f"{text}\nbeyond: {{knee flexion: a very supple knee}}")


def test_a_contact_out_of_reach() -> None:
    """One hand on a chair and the other on a counter two metres away: the contact misses where it was typed."""
    text = "base: standing\nprops: {chair: support, counter: 2.6}\ncontacts: [foot floor, grip.r chair, grip.l counter]"
    assert rules_of(text)["figure-contact"][0] == 3


def test_an_angle_that_contacts_forbid() -> None:
    """One hip cannot flex 60 degrees with a straight knee, the other 0, while both feet stay where they stand."""
    text = "base: standing\ncontacts: [foot floor]\nend: {hip.r: flex 60, knee.r: 0, hip.l: flex 0, knee.l: 0}"
    line, _, mend = rules_of(text)["figure-contact"]
    assert line == 3 and "contact" in mend


def test_a_foot_through_the_floor() -> None:
    """A leg typed through the mat is refused, with a mend."""
    line, _, mend = rules_of("base: supine\ncontacts: [back mat, heel.l mat]\nend: {hip.r: ext 28, knee.r: 0}")["figure-collision"]
    assert line == 3 and mend


def test_off_balance() -> None:
    """A body that leans 30 degrees falls over, unless the author says that balance does not count."""
    spec = spec_of("base: standing\nbalance: no\nlean: 30")
    assert figure_of(spec).problems == ()
    leaning = replace(spec, balance="")
    rules = {problem.rule for problem in figure_of(leaning).problems}
    assert "figure-balance" in rules


def test_same_pose() -> None:
    """An end that moves nothing is refused."""
    assert rules_of("base: standing\nend: {knee.r: 0}")["figure-same-pose"][0] == 2


def test_edge_on_proposes_a_view() -> None:
    """A leg lifted to the side is edge-on in a side view; a view from the front is proposed."""
    text = "base: standing\nview: flat-side\nend: {hip.r: abd 35}\nend-contacts: [foot.l floor]\narrow: ankle.r"
    line, _, mend = rules_of(text)["figure-edge-on"]
    assert line == 2
    assert "front" in mend or "back" in mend


def test_hidden_muscle() -> None:
    """The buttocks cannot be seen from the front."""
    assert rules_of("base: standing\nview: straight-front\nend: {shoulder.r: abd 90}\nactive: [glutes]\narrow: hand.r")["figure-view"][:2] == (4, 10)


def test_wrong_side() -> None:
    """A figure for the left whose right leg moves is refused."""
    text = "base: standing\nside: left\nend: {hip.r: flex 40, knee.r: 60}\nend-contacts: [foot.l floor]\narrow: knee.r"
    assert rules_of(text)["figure-side"][0] == 2


def test_limbs_that_pass_through_each_other(standing: SolvedMotion) -> None:
    """A forearm inside the trunk is found."""
    base, body = BASES["standing"], make_body()
    pose = angles_of(base.pose)
    pose[INDEX["shoulder.r.ir"]], pose[INDEX["elbow.r.flex"]], pose[INDEX["shoulder.r.abd"]] = 90, 95, -25
    task = replace(standing.tasks[0], angles=pose, apart=(), softness=np.full(len(VARIABLES), 0.01))
    frame = solve(body, task, State(task.turn, task.position, pose))
    motion = replace(standing, frames=(frame,), tasks=(task,))
    found = check_overlap(CheckInput(spec_of("base: standing"), body, motion, frozenset()))
    assert any("trunk" in problem.what for problem in found)


def messages(text: str) -> list[str]:
    """The whole messages of a figure's problems."""
    return [show_problem(problem) for problem in figure_of(spec_of(text)).problems]


HEEL_SLIDE = """base: supine
props: {mat: yes}
contacts: [back mat, heel.r mat, foot.l mat]
start: {hip.l: flex 46, knee.l: 92}
end: {hip.r: flex 45, knee.r: 90}
end-contacts: [back mat, foot mat]
slide: [heel.r, foot.r]
arrow: knee.r"""


def test_a_joint_that_nobody_wrote() -> None:
    """An ankle that cannot be flat with the leg as written pushes the leg outwards: joint, angle, and what to write."""
    assert messages(HEEL_SLIDE) == []
    assert messages(HEEL_SLIDE.replace("knee.r: 90", "knee.r: 90, ankle.r: 0")) == [
        "figure.yaml:5:1: error: right hip abduction is not written and comes out at 45 degrees in picture 2; the base "
        "position has 3. Write 'hip.r: flex 45 abd 3' to keep it and change what pushes it there, an angle or a contact "
        "of the same limb; or write 'hip.r: flex 45 abd 45' if it is meant. [figure-unwritten]"
    ]


def test_a_joint_that_was_written_is_meant() -> None:
    """What is typed is no stray; an angle the other way than the base's is told as such."""
    text = "base: supine\nprops: {mat: yes, exercise-ball: 0.62}\ncontacts: [back mat, calf ball]\nstart: {hip: flex 0, knee: 5}"
    assert messages(text) == [
        "figure.yaml:4:1: error: left hip adduction is not written and comes out at 20 degrees in picture 1; the base "
        "position has 3 the other way. Write 'hip.l: flex 0 abd 3' to keep it and change what pushes it there, an angle or "
        "a contact of the same limb; or write 'hip.l: flex 0 add 20' if it is meant. [figure-unwritten]"
    ]
    assert messages(text + "\nend: {hip.l: add 20}")[0].startswith("figure.yaml:4:1: error: left hip adduction is not written")
    assert messages(text.replace("hip: flex 0,", "hip.r: flex 0, hip.l: flex 0 add 20,")) == []


def test_an_angle_written_for_the_end_leaves_the_start_alone() -> None:
    """Naming the ankle only in the end bent the leg of the start outwards by 29 degrees more."""
    text = HEEL_SLIDE.replace("heel.r mat, foot.l mat", "foot mat").replace("knee.l: 92}", "knee.l: 92, hip.r: flex 5, knee.r: 10}")
    without = figure_of(spec_of(text)).motion.frames[0].state.angles
    named = figure_of(spec_of(text.replace("knee.r: 90", "knee.r: 90, ankle.r: 0"))).motion.frames[0].state.angles
    assert np.abs(named - without).max() < 1.0


@pytest.mark.parametrize(("joint", "degrees", "written"), [
    ("hip.r.abd", 45.2, "hip.r: abd 45"), ("hip.l.abd", -20.4, "hip.l: add 20"), ("toes.r.ext", 12, "toes.r: ext 12"),
    ("toes.r.ext", -12, "toes.r: flex 12"), ("trunk.side", 9, "trunk: side-r 9"), ("wrist.l.dev", -3, "wrist.l: uln 3"),
])  # fmt: skip
def test_an_angle_as_it_is_typed(joint: str, degrees: float, written: str) -> None:
    """What a message proposes can be typed, and reads back as the same angle."""
    assert typed_angle(INDEX[joint], degrees) == written
    angle = spec_of(f"base: standing\nstart: {{{written}}}").start[0]
    assert (angle.variable, angle.degrees) == (joint, round(degrees))


BALL = "base: supine\nprops: {mat: yes, exercise-ball: calves}\ncontacts: [back mat]\nstart: {hip: flex 0, knee: 5}"


def test_legs_round_the_ball() -> None:
    """Calves that should lie on the ball, with the legs flat on the mat on both sides of it."""
    assert messages(BALL) == [
        *(
            f"figure.yaml:2:19: error: the {side} calf does not lie on the ball in picture 1. Lift the legs with more hip "
            "flexion, and add the contact, for example 'calf ball'; or set where the ball is. [figure-ball]"
            for side in ("right", "left")
        ),
        "figure.yaml:2:19: error: the legs go round the ball, one on each side of it, in picture 1. Lift the legs onto it "
        "with more hip flexion, or set the ball further away with a distance in metres. [figure-ball]",
    ]


def test_calves_on_the_ball() -> None:
    """Legs that are lifted enough lie on it."""
    assert messages(BALL.replace("[back mat]", "[back mat, calf ball]").replace("hip: flex 0, knee: 5", "hip: flex 62, knee: 70")) == []


def test_a_hand_in_the_counter() -> None:
    """An arm spread to the side goes into the counter there; further away it stands free."""
    text = "base: standing\nview: front\nprops: {counter: left}\nend: {shoulder: abd 26}\narrow: hand.r"
    assert messages(text) == [
        "figure.yaml:3:1: error: the left hand goes 93 mm into the counter in picture 2. Change the angles of that limb, or "
        "set the counter further away with a distance in metres. [figure-collision]"
    ]
    assert messages(text.replace("left", "left 0.5")) == []


@pytest.mark.parametrize(("text", "shift", "message"), [
    ("base: standing", (0, -0.03, 0), "the right foot goes 30 mm into the floor in picture 1"),
    ("base: supine", (0, -0.03, 0), "the trunk goes 30 mm into the mat in picture 1"),
    ("base: standing\nprops: {wall: 0.3}", (0.2, 0, 0), "the head goes 60 mm into the wall in picture 1"),
    ("base: kneeling\nprops: {mat: yes, exercise-ball: 0.6}", (0.3, 0, 0), "the right thigh goes 61 mm into the ball in picture 1"),
])  # fmt: skip
def test_what_a_limb_goes_into_is_named(text: str, shift: tuple[float, float, float], message: str) -> None:
    """Floor, mat, wall or ball, each by its name: a solved body is pushed into each."""
    from handouts.figure.pose.motion import solve_motion

    spec, body = spec_of(text), make_body()
    motion = solve_motion(spec, body)
    pushed = replace(motion.frames[0], centres=motion.frames[0].centres + np.array(shift))
    found = check_sink(CheckInput(spec, body, replace(motion, frames=(pushed,)), frozenset()))
    what = message.split(" into the ")[1].split(maxsplit=1)[0]
    assert [problem.what for problem in found] == [message]
    assert found[0].mend == f"Change the angles of that limb, or let it rest on the {what} with a contact."


def test_a_reason_that_excuses_nothing() -> None:
    """A word of 'beyond' that matches no angle out of range is a notice, not silence."""
    text = "base: supine\nend: {knee.r: 150, hip.r: flex 118}\nend-contacts: [back mat, heel.l mat]\nbeyond: {knee flexion: a supple knee, hip flexion: no reason}"
    assert messages(text) == [
        "figure.yaml:4:39: notice: 'hip flexion' stays within its normal range in this figure; the reason for it excuses "
        "nothing. Take it out of 'beyond', or name one of: knee flexion. [figure-beyond]"
    ]
    assert messages("base: standing\nbeyond: {kneeflexion: deep}") == [
        "figure.yaml:2:10: notice: 'kneeflexion' stays within its normal range in this figure; the reason for it excuses "
        "nothing. Take it out of 'beyond'; no angle of this figure leaves its normal range. [figure-beyond]"
    ]


@pytest.mark.parametrize(("variable", "most"), [
    ("hip.r.flex", 25), ("hip.l.abd", 18), ("hip.r.ir", 18), ("knee.l.flex", 25), ("ankle.r.df", 45), ("ankle.l.inv", 25),
    ("trunk.flex", 15), ("trunk.side", 15), ("trunk.turn", 15), ("neck.flex", 15), ("neck.side", 15), ("neck.turn", 15),
    ("shoulder.r.abd", 20), ("elbow.l.flex", 20), ("wrist.r.flex", 20),
])  # fmt: skip
def test_how_far_a_joint_may_follow(variable: str, most: float) -> None:
    """Each bound, set by eye: a degree within is no stray, a degree past it is one, either way, unless it was written."""
    spec = spec_of("base: standing\nend: {knee.r: 0}")
    for sign in (1, -1):
        for past, expected in ((-1, []), (1, [variable])):
            angles = angles_of(BASES["standing"].pose)
            angles[INDEX[variable]] += sign * (most + past)
            assert [VARIABLES[stray.index] for stray in strays_of(spec, angles, at_end=False)] == expected
            written = replace(spec, start=(PoseAngle(variable, 0.0),))
            assert strays_of(written, angles, at_end=False) == ()


def test_arms_that_hold_follow() -> None:
    """An arm that holds or rests goes where its hand is; toes follow what they touch."""
    angles = angles_of(BASES["standing"].pose)
    angles[[INDEX["shoulder.r.had"], INDEX["elbow.r.flex"], INDEX["toes.l.ext"]]] += 60
    holding = spec_of("base: standing\ncontacts: [foot floor, grip.r chair]\nprops: {chair: support}")
    assert strays_of(holding, angles, at_end=False) == ()
    assert len(strays_of(spec_of("base: standing"), angles, at_end=False)) == 2

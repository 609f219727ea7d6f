"""Each rule of the engine fires on what it is for, at its place, and only then."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from handouts.figure import compute_figure
from handouts.figure.bases import BASES
from handouts.figure.body import make_body
from handouts.figure.case import Case
from handouts.figure.checks import check_overlap, check_range
from handouts.figure.joints import AXES, HIGH, INDEX, LOW, VARIABLES
from handouts.figure.motion import Motion
from handouts.figure.residuals import State
from handouts.figure.solver import solve
from handouts.figure.spec import PoseAngle
from handouts.problems import Place

from .conftest import spec_of


def rules_of(text: str) -> dict[str, tuple[int, int, str]]:
    """Rule -> line, column and mend of a figure's problems."""
    return {problem.rule: (problem.place.line, problem.place.column, problem.mend)
            for problem in compute_figure(spec_of(text)).problems}  # fmt: skip


@pytest.fixture(scope="module")
def standing() -> Motion:
    """A standing body, solved once."""
    from handouts.figure.motion import solve_motion

    return solve_motion(spec_of("base: standing"), make_body())


@pytest.mark.parametrize("variable", [name for name in VARIABLES if ".l." not in name])
def test_range_edges(variable: str, standing: Motion) -> None:
    """Each published edge is accepted and refused one degree past it (ranges: sources in handouts.figure.joints)."""
    place = Place("figure.yaml", 3, 9)
    for edge, out in ((HIGH[INDEX[variable]], 1.0), (LOW[INDEX[variable]], -1.0)):
        for degrees, refused in ((edge, False), (edge + out, True)):
            spec = replace(spec_of("base: standing"), start=(PoseAngle(variable, float(degrees), place),))
            found = check_range(Case(spec, make_body(), standing, frozenset()))
            assert [(problem.rule, problem.place) for problem in found] == [("figure-range-of-motion", place)] * refused


@pytest.mark.parametrize(("motion", "degrees"), [
    ("shoulder flexion", 180), ("shoulder extension", 60), ("shoulder abduction", 180),
    ("shoulder internal rotation", 70), ("shoulder external rotation", 90), ("elbow flexion", 150),
    ("forearm pronation", 80), ("forearm supination", 80), ("wrist flexion", 80), ("wrist extension", 70),
    ("hip flexion", 120), ("hip extension", 30), ("hip abduction", 45), ("hip adduction", 30),
    ("hip internal rotation", 45), ("hip external rotation", 45), ("knee flexion", 135),
    ("ankle dorsiflexion", 20), ("ankle plantarflexion", 50),
])  # fmt: skip
def test_ranges_are_the_published_ones(motion: str, degrees: float) -> None:
    """AAOS values as tabulated by Norkin and White, Measurement of Joint Motion, appendix A."""
    ranges = {axis.positive: axis.most_positive for axis in AXES} | {axis.negative: axis.most_negative for axis in AXES}
    assert ranges[motion] == degrees


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
    assert compute_figure(spec).problems == ()
    leaning = replace(spec, balance="")
    rules = {problem.rule for problem in compute_figure(leaning).problems}
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


def test_limbs_that_pass_through_each_other(standing: Motion) -> None:
    """A forearm inside the trunk is found."""
    base, body = BASES["standing"], make_body()
    pose = base.pose()
    pose[INDEX["shoulder.r.ir"]], pose[INDEX["elbow.r.flex"]], pose[INDEX["shoulder.r.abd"]] = 90, 95, -25
    task = replace(standing.tasks[0], angles=pose, apart=(), softness=np.full(len(VARIABLES), 0.01))
    frame = solve(body, task, State(task.turn, task.position, pose))
    motion = replace(standing, frames=(frame,), tasks=(task,))
    found = check_overlap(Case(spec_of("base: standing"), body, motion, frozenset()))
    assert any("trunk" in problem.what for problem in found)

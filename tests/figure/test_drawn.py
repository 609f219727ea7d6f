"""What is written of a figure is in its picture, and what is not in its picture cannot be touched."""

from __future__ import annotations

import re
from dataclasses import replace
from itertools import combinations

import numpy as np
import pytest

from handouts.figure import read_figure
from handouts.figure.body.body import make_body
from handouts.figure.body.joints import JOINTS, joint_tokens
from handouts.figure.body.sites import POINTS
from handouts.figure.draw.camera import camera
from handouts.figure.pose.bases import BASES
from handouts.figure.pose.claims import BETWEEN_POINTS
from handouts.figure.pose.motion import SolvedMotion, solve_motion
from handouts.figure.pose.names import KEYS, PROP_ALIASES, PROPS, VIEWS, muscle_names, nearest, site_names, target_names
from handouts.figure.pose.spec import FigureSpec, PropUse
from handouts.figure.pose.surroundings import make_world
from handouts.figure.pose.things import ANCHORS
from handouts.figure.props.props import BUILDERS
from handouts.figure.props.scene import PropScene
from handouts.figure.reference import figure_words
from handouts.problems import show_problem
from handouts.source.nodes import compose

from .conftest import figure_of, spec_of

BODY = make_body()
ROPES = ("band", "strap", "towel")
"""Props with two ends."""
ALIKE = {
    "chair": [{"seat"}, {"support", "front"}, {"beside", "beside-left"}],
    "exercise-ball": [{"feet", "calves"}],
    "pillow": [{"head"}, {"foot"}, {"heel"}],
    "doorway": [{"yes", "front"}],
    "step": [{"front"}],
    "weight": [{"hands", "hand"}],
    "ankle-weight": [{"ankles", "ankle"}, {"wrists", "wrist"}],
    "roll": [{"knees", "knee"}, {"hip", "pelvis"}],
    "band": [{"hip", "pelvis"}, {"hand"}, {"door"}],
    "strap": [{"hip", "pelvis"}],
    "towel": [{"hip", "pelvis"}, {"hand", "hands"}],
    "door": [{"left", "mid"}],
}
"""Words of one prop that give the same picture: two names of one thing, or what is meant without a word."""


@pytest.fixture(scope="module")
def scenes() -> dict[str, tuple[FigureSpec, SolvedMotion]]:
    """A person who lies and one who stands, solved once."""
    texts = {"crook-lying": "base: crook-lying", "standing": "base: standing\nstart: {hip: abd 8}"}
    specs = {name: spec_of(text) for name, text in texts.items()}
    return {name: (spec, solve_motion(spec, BODY)) for name, spec in specs.items()}


def outlines(spec: FigureSpec, motion: SolvedMotion, *uses: PropUse) -> tuple[bytes, ...]:
    """The outlines that the last prop adds to a picture."""
    spec = replace(spec, props=(*spec.props, *uses))
    motion = replace(motion, worlds=(make_world(spec),))
    scene = PropScene(spec, BODY, motion, motion.frames[0], camera(spec.view))
    found = [part.polygon for part in BUILDERS[uses[-1].name](scene, uses[-1])]
    return tuple(np.round(np.array(one.exterior.coords), 2).tobytes() for one in found if not one.is_empty)


@pytest.mark.parametrize("name", PROPS)
def test_every_word_of_a_prop_is_drawn(name: str, scenes: dict[str, tuple[FigureSpec, SolvedMotion]]) -> None:
    """Each word and each point that a prop takes gives a picture, and another one than every other word."""
    spec, motion = scenes["crook-lying" if name in ("pillow", "roll") else "standing"]
    pictures: dict[str, tuple[bytes, ...]] = {}
    for word in PROPS[name].names:
        words = (word, "elbow.l") if name in ROPES and word != "elbow" and not word.startswith("loop") else (word,)
        words = (word, "chest") if name in ROPES and word == "elbow" else words
        others = (PropUse(word, ("left",) if word == "door" else ("low",)),) if name == "band" and word in ("door", *ANCHORS) else ()
        pictures[word] = outlines(spec, motion, *others, PropUse(name, words))
        assert pictures[word], f"{name}: {word} is not drawn"
    alike = ALIKE.get(name, [])
    for (one, first), (two, second) in combinations(pictures.items(), 2):
        if not any({one, two} <= group for group in alike):
            assert first != second, f"{name}: {one} and {two} give the same picture"


@pytest.mark.parametrize(("text", "said"), [
    ("base: standing\ncontacts: [foot floor, grip.r rail]",
     "figure.yaml:2:24: error: the contact 'grip.r rail' touches a rail, and there is none in the picture. "
     "Write props: {rail: front}, or take the contact out. [figure-not-drawn]"),
    ("base: standing\ncontacts: [foot floor, palm.r table]\nprops: {counter: front}",
     "figure.yaml:2:24: error: the contact 'palm.r table' touches a table, and there is none in the picture. "
     "Write props: {table: front}, or take the contact out. [figure-not-drawn]"),
    ("base: standing\nend: {hip.r: 40}\nend-contacts: [foot.l floor, foot.r step]",
     "figure.yaml:3:30: error: the contact 'foot.r step' touches a step, and there is none in the picture. "
     "Write props: {step: front}, or take the contact out. [figure-not-drawn]"),
    ("base: sitting\ncontacts: [foot floor, seat seat, grip chair]",
     "figure.yaml:2:35: error: the contact 'grip chair' needs a chair that stands by the body, and this one is sat on. "
     "Write props: {chair: support}, or take the contact out. [figure-not-drawn]"),
    ("base: standing\nprops: {chair: support}\ncontacts: [foot floor, seat seat]",
     "figure.yaml:3:24: error: the contact 'seat seat' needs a chair that is sat on. "
     "Write props: {chair: seat}, or take the contact out. [figure-not-drawn]"),
    ("base: sitting\nprops: {exercise-ball: sit}\ncontacts: [foot floor, seat seat]",
     "figure.yaml:3:24: error: the contact 'seat seat' touches a chair, and there is none in the picture. "
     "Write props: {chair: seat}, or take the contact out. [figure-not-drawn]"),
    ("base: standing\nprops: {wall: front}\ncontacts: [foot floor, grip wall]",
     "figure.yaml:3:24: error: the contact 'grip wall' takes hold of a wall, which has no place for a hand. "
     "Write for example 'palm wall', or grip one of: armrest, back-of-thigh, belly, cane, chair, chest, chin, counter, front-thigh, handlebar, head, "
     "hips, low-back, other-ankle, other-elbow, other-foot, other-hand, other-knee, other-shin, other-shoulder, other-thigh, other-toes, "
     "other-wrist, own-ankle, own-foot, own-knee, own-shin, own-shoulder, own-thigh, own-toes, rail, table, walking-frame. [figure-not-drawn]"),
    ("base: supine\nprops: {pillow: thigh.r}",
     "figure.yaml:2:17: error: 'thigh.r' does not say how the pillow is used. Use one of: ankle, foot, head, heel, knee, knees. [figure-word]"),
    ("base: standing\nprops: {stick: hand.r}",
     "figure.yaml:2:16: error: 'hand.r' does not say how the stick is used. Did you mean 'hands'? [figure-word]"),
    ("base: standing\nprops: {exercise-ball: back}",
     "figure.yaml:2:24: error: 'back' does not say how the exercise-ball is used. Use one of: calves, feet, sit. [figure-word]"),
])  # fmt: skip
def test_what_is_not_drawn_is_refused(text: str, said: str) -> None:
    """A contact with a thing that is not in the picture, and a word that draws nothing, are refused at their place."""
    root, _ = compose(text, "figure.yaml")
    assert root is not None
    spec, problems = read_figure(root)
    assert spec is None
    assert [show_problem(problem) for problem in problems] == [said]


@pytest.mark.parametrize(("props", "mend"), [
    ("{band: floor}", "Write both of its ends, for example {band: hand.r, door: left} or {band: hand.r foot.r}; or a loop, as loop-knees."),
    ("{strap: foot.r}", "Write both of its ends, for example {strap: foot.r hands}."),
    ("{towel: knee.r}", "Write where it is: under the head or a hand, at an elbow, or its two ends, as {towel: foot.r hands}."),
    ("{weight: yes}", "Write one of: hands, hand; or take the weight out."),
])  # fmt: skip
def test_a_prop_that_draws_nothing_is_refused(props: str, mend: str) -> None:
    """Words that are known, and do not say where the prop is."""
    figure = figure_of(spec_of(f"base: standing\nprops: {props}"))
    name = props[1:].partition(":")[0]
    assert [(problem.place.line, problem.what, problem.mend) for problem in figure.problems] == [
        (2, f"the {name} is not drawn: its words do not say where it is", mend)
    ]


@pytest.mark.parametrize(("prop", "seat"), [("exercise-ball", "ball"), ("stool", "stool")])
def test_what_is_sat_on_takes_the_place_of_the_chair(prop: str, seat: str) -> None:
    """Who sits on a ball or a stool does not sit on a chair as well."""
    figure = figure_of(spec_of(f"base: sitting\nprops: {{{prop}: sit}}"))
    assert [use.name for use in figure.spec.props] == [prop]
    assert [str(contact.target) for contact in figure.spec.contacts if contact.site.name == "seat"] == [seat]
    assert not figure.problems


def test_an_angle_of_one_side_stands_before_that_of_both() -> None:
    """In either order: one weak side is written beside what holds for both."""
    for text in ("{elbow: 14, elbow.l: 60}", "{elbow.l: 60, elbow: 14}"):
        angles = {angle.variable: angle.degrees for angle in spec_of(f"base: sitting\nstart: {text}").start}
        assert angles == {"elbow.r.flex": 14.0, "elbow.l.flex": 60.0}
        assert len(spec_of(f"base: sitting\nstart: {text}").start) == 2


def test_two_pillows_are_two() -> None:
    """A pillow under the head stays where one lies between the knees too."""
    spec = spec_of("base: side-lying\nprops: {pillow: head knees}")
    motion = solve_motion(spec, BODY)
    both = outlines(spec, motion, PropUse("pillow", ("head", "knees")))
    assert set(both) == {*outlines(spec, motion, PropUse("pillow", ("head",))), *outlines(spec, motion, PropUse("pillow", ("knees",)))}


def test_all_words_are_listed() -> None:
    """``handouts figure --words`` has every word that may be typed, and says of a contact which prop it needs."""
    text = " ".join(figure_words().split())
    words = {*KEYS, *BASES, *JOINTS, *(token for joint in JOINTS for token in joint_tokens(joint)), *site_names(), *target_names(), *VIEWS,
             *muscle_names(), *POINTS, *PROPS, *PROP_ALIASES, *(word for kind in PROPS.values() for word in kind.words), *BETWEEN_POINTS}  # fmt: skip
    missing = {word for word in words if not re.search(rf"(?<![a-z-]){re.escape(word)}(?![a-z-])", text)}
    assert not missing
    assert "ball (props: exercise-ball)" in text


@pytest.mark.parametrize(("word", "known", "mend"), [
    ("medicine ball", tuple(PROPS), "Did you mean 'weighted-ball'?"),
    ("rot", joint_tokens("neck"), "Did you mean 'turn-r' or 'turn-l'?"),
    ("treadmill", tuple(PROPS), "The nearest are rail, wall, roll; 'handouts figure --words' lists all."),
    ("transversus", muscle_names(), "Did you mean 'abs'?"),
    ("chiar", tuple(PROPS), "Did you mean 'chair'?"),
])  # fmt: skip
def test_a_word_that_is_not_known_leads_to_those_that_are(word: str, known: tuple[str, ...], mend: str) -> None:
    """A word of the trade leads to ours; a thing that is not drawn is not taken for another that sounds like it."""
    assert nearest(word, known) == mend

"""Declared things: each stands, is worn or is held as its declaration says, and hands and feet are where they take hold.

What each word of a thing draws is tried with all props in ``test_drawn``.  Pixels are those of a figure 400 px wide.
"""

from __future__ import annotations

import numpy as np
import pytest
from shapely.geometry import Point

from handouts.figure import Figure
from handouts.figure.body.body import make_body
from handouts.figure.body.joints import SIDES
from handouts.figure.draw.camera import camera
from handouts.figure.draw.grips import IN_FIST, LENGTH, PALM_HALF
from handouts.figure.pose.names import PROPS
from handouts.figure.pose.surroundings import ABOVE_BAR, HELD, PROP_OF, make_world
from handouts.figure.pose.thing import Box, Hold, Stand, Thing
from handouts.figure.pose.things import SEAT_HEIGHT, THINGS
from handouts.figure.props.scene import PropScene
from handouts.figure.scene import make_scene, see
from handouts.limits.demands import DERIVED, ExerciseFacts

from .conftest import figure_of, spec_of

BODY = make_body()
SHOWN_AT, MOST_GAP = 400, 2.0
SAT_IN = {
    "wheelchair": "base: sitting\ncontacts: [foot footplate, seat wheelchair, {grip}]",
    "exercise-bike": "base: sitting\nview: side\ncontacts: [seat saddle, foot.r pedal-high, foot.l pedal-low, {grip}]\n"
                     "start: {{hip.r: flex 75, knee.r: 95, hip.l: flex 30, knee.l: 35, trunk: 25}}",
}  # fmt: skip
"""How who holds something sits in it; everything else is held standing."""


def _holds() -> list[tuple[str, str, str]]:
    """Thing, the word of its stand, and what is held."""
    found = [(name, word, hold) for name, thing in THINGS.items() for word, stand in thing.stands.items() for hold in stand.holds]
    return [(name, word, hold) for name, word, hold in found if (name, word) not in (("chair", "front"), ("chair", "beside"))]


def _figure(name: str, word: str, hold: str) -> tuple[Figure, tuple[str, ...]]:
    """A figure that takes hold, and the sides of the hands that do."""
    side = "r" if "right" in word else "l" if "left" in word else ""
    grip = f"grip.{side} {hold}" if side else f"grip {hold}"
    text = SAT_IN.get(name, "base: standing\ncontacts: [foot floor, {grip}]").format(grip=grip)
    return figure_of(spec_of(f"{text}\nprops: {{{name}: {word}}}")), (side,) if side else SIDES


@pytest.mark.parametrize(("name", "word", "hold"), _holds())
def test_each_hold_is_in_the_hand_that_takes_it(name: str, word: str, hold: str) -> None:
    """A fist closes round the bar at its place; a flat hand lies over it."""
    figure, sides = _figure(name, word, hold)
    assert not [one for one in figure.problems if one.rule in ("figure-contact", "figure-not-drawn")]
    scene = make_scene(figure.spec, BODY, figure.motion, figure.style)
    hands = see(scene, scene.frames[0], {}).outlines
    to_pixels = SHOWN_AT / figure.layout.width
    for side in sides:
        place = np.array(figure.motion.world.handholds[hold][side])
        if hold in figure.motion.world.bars:
            place = place - [0.0, ABOVE_BAR, 0.0]
            grasp, long = scene.frames[0].grasps[side], LENGTH * BODY.stature
            inside = np.array([0.0, IN_FIST[0] * long, max(IN_FIST[1] * long, grasp.radius + PALM_HALF * long)])
            apart = float(np.linalg.norm((scene.view @ (grasp.wrist + grasp.frame @ inside - place))[:2]))
        else:
            x, y, _ = scene.view @ place
            apart = hands[f"hand.{side}"].distance(Point(float(x), float(y)))
        assert apart * to_pixels <= MOST_GAP, f"{side}: {apart * to_pixels:.1f} px"


def test_feet_stand_on_their_pedals() -> None:
    """The ball of each foot is over its pedal, and the sole on it, in both pictures."""
    figure = figure_of(spec_of("""base: sitting
view: side
props: {exercise-bike: yes}
contacts: [seat saddle, foot.r pedal-high, foot.l pedal-low, grip handlebar]
end-contacts: [seat saddle, foot.l pedal-high, foot.r pedal-low, grip handlebar]
start: {hip.r: flex 75, knee.r: 95, hip.l: flex 30, knee.l: 35, trunk: 25}
end: {hip.l: flex 75, knee.l: 95, hip.r: flex 30, knee.r: 35}"""))
    assert not figure.problems
    scene = make_scene(figure.spec, BODY, figure.motion, figure.style)
    to_pixels = SHOWN_AT / figure.layout.width
    for number, pedals in ((0, {"r": "pedal-high", "l": "pedal-low"}), (-1, {"l": "pedal-high", "r": "pedal-low"})):
        frame = scene.frames[number].frame
        for side, pedal in pedals.items():
            lump = BODY.lumps[f"soleb.{side}"]
            sole = frame.centres[lump] - [0.0, float(np.linalg.norm(frame.axes[lump][1])), 0.0]
            apart = scene.view @ (sole - np.array(figure.motion.world.footholds[pedal][side]))
            assert float(np.hypot(*apart[:2])) * to_pixels <= MOST_GAP, (number, side)


@pytest.mark.parametrize(("base", "prop", "top"), [
    ("supine", "bed", "bed"), ("prone", "plinth", "plinth"), ("side-lying", "bed", "bed"), ("crook-lying", "bench", "bench"),
    ("sitting", "bed", "bed"), ("sitting", "bench", "bench"), ("sitting", "wheelchair", "wheelchair"), ("reclined", "bed", "bed"),
])  # fmt: skip
def test_what_carries_the_body_takes_the_place_of_mat_and_chair(base: str, prop: str, top: str) -> None:
    """Who lies or sits on it has no mat or chair as well, rests on its top, and nothing is wrong."""
    contacts = "\ncontacts: [back bench, foot floor]\nstart: {hip: flex 5, knee: 75}" if (base, prop) == ("crook-lying", "bench") else ""
    figure = figure_of(spec_of(f"base: {base}\nprops: {{{prop}: yes}}{contacts}"))
    assert [use.name for use in figure.spec.props] == [prop]
    assert top in {contact.target for contact in figure.spec.contacts}
    assert not figure.problems, figure.problems
    high = next(iter(THINGS[prop].stands.values())).tops[top].height
    lowest = float((figure.motion.frames[0].centres[:, 1]).min())
    pelvis = float(figure.motion.frames[0].placed.origins[BODY.numbers["sp1"]][1])
    assert pelvis > high
    assert lowest > (high - 0.02 if base != "sitting" and prop != "bench" else 0.0)


def test_a_limb_hangs_beside_what_one_lies_on_and_not_through_it() -> None:
    """The top ends at its rim: beside it an arm hangs down; one that would go through is turned aside, and the author is told."""
    text = "base: prone\nprops: {{plinth: {edge}}}\nstart: {{shoulder.r: flex 90 abd 0 ir 0, elbow.r: 2}}"
    figures = {edge: figure_of(spec_of(text.format(edge=edge))) for edge in ("edge-right", "lie")}
    palms = {edge: figure.motion.frames[0].centres[BODY.lumps["palm.r"]] for edge, figure in figures.items()}
    top = THINGS["plinth"].stands["lie"].tops["plinth"].height
    assert palms["edge-right"][1] < top - 0.3 and not figures["edge-right"].problems
    rim = THINGS["plinth"].stands["lie"].rim
    assert rim is not None and palms["lie"][2] > rim[3]
    assert "figure-collision" in {one.rule for one in figures["lie"].problems}


def test_a_new_thing_is_an_entry_of_the_table_only(monkeypatch: pytest.MonkeyPatch) -> None:
    """A thing that was never thought of is placed, held and drawn without a change of the engine."""
    bar = Thing({"front": Stand((Box((0.05, 0.5, 0.0), (0.1, 1.0, 0.6)),), "front", 0.5, holds={"parapet": Hold((0.0, 1.0, 0.2))})})
    monkeypatch.setitem(THINGS, "parapet", bar)  # type: ignore[arg-type]
    spec = spec_of("base: standing")
    from dataclasses import replace

    from handouts.figure.pose.spec import PropUse
    from handouts.figure.props.declared import builder_of

    placed = replace(spec, props=(PropUse("parapet", ("front", "0.7")),))
    world = make_world(placed)
    assert world.handholds["parapet"]["r"] == pytest.approx((0.7, 1.0, 0.2))
    motion = figure_of(spec).motion
    parts = builder_of(bar)(PropScene(placed, BODY, replace(motion, worlds=(world,)), motion.frames[0], camera((20, 8))), placed.props[0])
    assert [part.room for part in parts] == [((0.75, 0.5, 0.0), (0.05, 0.5, 0.3))]


def test_distances_move_a_thing_with_the_movement() -> None:
    """Two numbers are where it stands in picture 1 and in picture 2."""
    spec = spec_of("base: standing\nprops: {walking-frame: 0.2 0.4}\ncontacts: [foot floor, grip walking-frame]")
    first, last = (make_world(spec, share).handholds["walking-frame"]["r"][0] for share in (0.0, 1.0))
    assert last - first == pytest.approx(0.2)


def test_every_word_of_a_declaration_is_known() -> None:
    """What is declared can be typed, and is said to be a part of its prop."""
    assert set(THINGS) <= set(PROPS)
    for name, thing in THINGS.items():
        assert set(thing.words) <= set(PROPS[name].words)
        for stand in thing.stands.values():
            assert {PROP_OF[word] for word in (*stand.tops, *stand.holds, *stand.footholds)} <= {name}
            assert set(stand.holds) <= HELD
    assert THINGS["chair"].stands["seat"].tops["seat"].height == SEAT_HEIGHT


@pytest.mark.parametrize(("text", "demand", "sides"), [
    ("base: standing\nprops: {kettlebell: hand.r}\nend: {shoulder.r: abd 60}", "load-in-hands", {"r"}),
    ("base: standing\nprops: {ankle-weight: wrists}\nend: {shoulder: abd 60}", "resisted-shoulder", {"r", "l"}),
    ("base: standing\nprops: {walking-frame: front}\ncontacts: [foot floor, grip walking-frame]\nend: {hip.r: 30}", "weight-on-arms", {"r", "l"}),
    ("base: standing\nprops: {cane: right}\ncontacts: [foot floor, grip.r cane]\nend: {hip.l: 30}", "weight-on-arms", {"r"}),
    ("base: sitting\nprops: {wheelchair: yes}\ncontacts: [foot footplate, seat wheelchair, grip armrest]\nend: {hip.r: 100}", "weight-on-arms", {"r", "l"}),
])  # fmt: skip
def test_what_new_things_ask_of_the_body_is_seen(text: str, demand: str, sides: set[str]) -> None:
    """A load in the hand or at the wrist, and what is leaned on, count for movement limits."""
    facts = figure_of(spec_of(text)).facts
    found = DERIVED[demand](ExerciseFacts(None, facts))  # type: ignore[arg-type]
    assert sides <= found or found == {""}


def test_each_hand_takes_its_own_hold() -> None:
    """Where a thing stands before the body, the right hand holds it on the right and the left hand on the left: as declared, mirrored."""
    tried = 0
    for name, thing in THINGS.items():
        for word, stand in thing.stands.items():
            for hold, declared in stand.holds.items():
                if stand.way not in ("front", "here") or abs(declared.place[2]) < 0.02:
                    continue
                world = make_world(spec_of(f"base: standing\nprops: {{{name}: {word}}}"))
                right, left = (world.handholds[hold][side] for side in ("r", "l"))
                if stand.aside or hold not in world.handholds:
                    continue
                assert right[2] == pytest.approx(-left[2]) and right[2] > 0.01 and right[:2] == pytest.approx(left[:2]), (name, word, hold)
                tried += 1
    assert tried >= 5


@pytest.mark.parametrize("target", ["rail", "walking-frame"])
def test_solved_hands_are_at_their_own_holds(target: str) -> None:
    """Both hands grip: the left is at the left hold, a shoulder's width from the right, and neither crosses the middle."""
    figure = figure_of(spec_of(f"base: standing\nprops: {{{target}: front}}\ncontacts: [foot floor, grip {target}]\nbalance: no"))
    frame, numbers = figure.motion.frames[0], figure.style.body.numbers
    right, left = (frame.placed.origins[numbers[f"hand.{side}"]] for side in SIDES)
    assert right[2] > 0.05 and left[2] < -0.05
    for side, hand in (("r", right), ("l", left)):
        hold = np.array(figure.motion.world.handholds[target][side])
        assert np.linalg.norm(hand - hold) < 0.16

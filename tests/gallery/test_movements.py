"""The gallery's movements: each without a problem, and each what its name says, by a definition from outside."""

from __future__ import annotations

import re
from functools import cache

import numpy as np
import pytest

from handouts.figure import Facts, read_figure
from handouts.figure.body.joints import INDEX, VARIABLES, token_value, variable
from handouts.figure.body.sites import ARM_SITES
from handouts.gallery.movements import KEYS, GalleryMovement, find_movement, nearest_movements, read_movements
from handouts.limits.demands import told_by_figure
from tests.gallery.definitions import DEFINITIONS
from tests.gallery.judge import judge_movement
from tests.kept import kept

LEAST = 8.0
"""Degrees that each joint of a definition must move."""
SHARE = 0.8
"""Least share of the largest change that one of the joints of a definition must have: heels and hands that follow do not define a movement."""
FOLLOW = frozenset({"fingers", "toes", "wrist", "forearm"})
"""Joints that follow what hands and feet do: they count where a definition names them."""
MOST_GAP = 2.0
"""Pixels of a figure 400 px wide: what its reader does not see."""
GROUPS = {"hip": "leg", "knee": "leg", "ankle": "leg", "toes": "leg", "trunk": "trunk", "neck": "trunk", "pelvis": "trunk"}
"""The part of the body of a joint; all others are of the arm."""
MOVEMENTS = {movement.slug: movement for movement in read_movements()}


def _definitions() -> dict[str, tuple[str, list[tuple[int, float]]]]:
    found: dict[str, tuple[str, list[tuple[int, float]]]] = {}
    for line in DEFINITIONS.strip().splitlines():
        slug, source, motions = re.fullmatch(r"(\S+) +([JM]) (.+)", line).groups()  # type: ignore[union-attr]
        assert slug not in found, slug
        found[slug] = (source, [] if motions == "held" else [_motion(one) for one in motions.split(", ")])
    return found


def _motion(text: str) -> tuple[int, float]:
    """Number of the variable and the sign of its change."""
    place, token = text.split()
    joint, _, side = place.partition(".")
    axis, sign = token_value(joint, token, 1.0)
    return INDEX[variable(joint, side, axis)], sign


def _group(number: int) -> str:
    return GROUPS.get(VARIABLES[number].split(".")[0], "arm")


@cache
def _holding(slug: str) -> frozenset[str]:
    """The sides whose arm holds or leans on something: its joints follow that."""
    spec, _ = read_figure(MOVEMENTS[slug].written)
    assert spec is not None
    return frozenset(side for one in (*spec.contacts, *spec.end_contacts) if one.site.name in ARM_SITES for side in (one.site.side or "rl"))


def _changes(slug: str) -> tuple[float, ...]:
    """The change of each variable from picture 1 to picture 2, degrees."""
    return _judged(slug)[1]


def _judged(slug: str) -> tuple[tuple[str, ...], tuple[float, ...], Facts | None, tuple[tuple[int, str, float], ...]]:
    return kept(judge_movement, MOVEMENTS[slug].written, room="handouts.figure.compute")


def judge_definition(changes: tuple[float, ...], motions: list[tuple[int, float]], whole: bool = True, holding: frozenset[str] = frozenset()) -> str:
    """'' where the changes are those of the definition, else what is wrong.

    ``whole``: no joint of the body may move more, but those of arms that hold; else none of the same part of the body.
    """
    change, named = np.array(changes), {number for number, _ in motions}
    for number, name in enumerate(VARIABLES):
        joint, side = name.split(".")[:2]
        follows = joint in FOLLOW or (_group(number) == "arm" and side in holding)
        other = bool(motions) and not whole and _group(number) != _group(motions[0][0])
        if number not in named and (follows or other):
            change[number] = 0
    if not motions:
        return "" if np.abs(change).max() < 1 else f"{VARIABLES[int(np.abs(change).argmax())]} moves"
    for number, sign in motions:
        if change[number] * sign < LEAST:
            return f"{VARIABLES[number]} changes by {change[number]:.0f}, not by {sign * LEAST:.0f} at least"
    most = int(np.abs(change).argmax())
    if max(abs(change[number]) for number, _ in motions) < SHARE * abs(change[most]):
        return f"{VARIABLES[most]} changes most, by {change[most]:.0f}"
    return ""


def test_every_movement_has_a_definition() -> None:
    """The table and the gallery name the same movements, and there are at least 120."""
    assert set(_definitions()) == set(MOVEMENTS)
    assert len(MOVEMENTS) >= 120


@pytest.mark.parametrize("slug", sorted(MOVEMENTS))
def test_the_joints_of_the_definition_move(slug: str) -> None:
    """The joints that a movement is named after move, in its direction, and none moves much more."""
    source, motions = _definitions()[slug]
    assert judge_definition(_changes(slug), motions, source == "J", _holding(slug)) == ""


def test_a_wrong_direction_is_found() -> None:
    """The judge: the other direction, another joint, and a movement of what should be held are refused."""
    lift = _changes("straight-leg-raise")
    assert judge_definition(lift, [_motion("hip.r flex")]) == ""
    assert "hip.r.flex changes by" in judge_definition(lift, [_motion("hip.r ext")])
    assert "hip.l.flex changes by" in judge_definition(lift, [_motion("hip.l flex")])
    assert "moves" in judge_definition(lift, [])
    assert "changes most" in judge_definition(_changes("knee-to-chest-single"), [_motion("shoulder.r flex")])


@pytest.mark.parametrize("slug", sorted(MOVEMENTS))
def test_every_figure_is_without_a_problem(slug: str) -> None:
    """The checks of a library's figures find nothing."""
    assert _judged(slug)[0] == ()


@pytest.mark.parametrize("slug", sorted(MOVEMENTS))
def test_what_touches_meets_in_the_picture(slug: str) -> None:
    """A hand lies on its surface, a fist is closed round its bar, a foot, a knee or the head is on its ground: no gap and no overlap is seen."""
    far = [(number + 1, label, gap) for number, label, gap in _judged(slug)[3] if gap > MOST_GAP]
    assert far == []


def test_gaps_are_measured() -> None:
    """Many contacts of many kinds are measured, and most to a part of a pixel."""
    found = [(label, gap) for slug in MOVEMENTS for _, label, gap in _judged(slug)[3]]
    assert len(found) > 1500
    assert {"palm", "hand", "foot", "toes", "grip", "back", "head", "seat", "shin"} <= {label.split()[0].partition(".")[0] for label, _ in found}
    assert np.median([gap for _, gap in found]) < 0.3


@pytest.mark.parametrize("slug", sorted(MOVEMENTS))
def test_demands_are_those_that_the_figure_tells_and_more(slug: str) -> None:
    """What limits would find in the picture is listed; what is listed beside that is declared in a new exercise."""
    facts = _judged(slug)[2]
    assert facts is not None
    listed = frozenset(MOVEMENTS[slug].demands)
    assert told_by_figure(facts, listed) - listed == set()


def test_legs_carry_nothing_while_the_pelvis_lies() -> None:
    """A curl-up rests on pelvis and feet: no leg bears weight, as in a bridge."""
    facts = {slug: _judged(slug)[2] for slug in ("curl-up", "bridge")}
    told = {slug: told_by_figure(one) for slug, one in facts.items() if one is not None}
    assert "weight-on-leg" not in told["curl-up"] and "weight-on-leg" in told["bridge"]


def test_data_names_what_a_vocabulary_can_name() -> None:
    """Names fit into a title, words are slugs of the vocabulary's kind, and no movement says a dose or a promise."""
    slug = re.compile("[a-z]+(?:-[a-z]+)*")
    for one in MOVEMENTS.values():
        assert len(one.name) <= 70 and all(len(name) <= 40 for name in one.also_called), one.slug
        for word in (one.slug, one.position, *one.regions, *one.demands, *one.equipment):
            assert slug.fullmatch(word) or word == "pnf-d2-flexion", (one.slug, word)
        said = f"{one.name} {' '.join(one.also_called)}".lower()
        assert not re.search(r"\b(safe|treat|heal|cure|relie|pain|prevent|sets?|reps?|times)\w*\b", said), one.slug
    assert KEYS == ("name", "also called", "position", "regions", "demands", "figure")


def test_names_lead_to_one_movement() -> None:
    """No name stands for two movements, and each movement is found by each of its names."""
    named: dict[str, GalleryMovement] = {}
    for one in MOVEMENTS.values():
        for name in (one.slug.replace("-", " "), one.name.lower(), *(name.lower() for name in one.also_called)):
            assert named.setdefault(name, one) == one, (name, one.slug, named[name].slug)
            assert find_movement(name) == one, (name, one.slug)


@pytest.mark.parametrize(
    ("typed", "meant"),
    [("hamstring strech strap", "hamstring-stretch-strap"), ("heel raise one leg", "heel-raise-single-leg"), ("clamshel", "clam"),
     ("seated row", "row-band-long-sitting"), ("forearm planks", "front-plank")],
)  # fmt: skip
def test_the_nearest_are_named(typed: str, meant: str) -> None:
    """What is typed wrongly, or in other words, leads to what was meant."""
    assert meant in [one.slug for one in nearest_movements(typed)] or find_movement(typed) == MOVEMENTS[meant]

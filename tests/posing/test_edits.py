"""Edits of a figure's text: as short as a person would write them, and every other letter as it was."""

from __future__ import annotations

import random

import pytest

from handouts.figure import FigureSpec, read_figure
from handouts.figure.body.joints import VARIABLE_AXES, VARIABLES
from handouts.gallery.movements import read_movements
from handouts.posing.edits import EditError, apply_edit, base_pose, contacts_of, read_text, written_pose
from handouts.posing.yaml_edits import set_items, set_key

LINES = """\
base: standing   # on both feet
# why we stand so
contacts:
  - foot.l floor   # the standing leg
start: {hip.r: flex 10, # keep
        knee: 20}
end:
  hip.r: flex 45 abd 5
  # the knee follows
  knee.r: 80   # as far as it goes
active: [quads.r]
"""


def edited(text: str, *edits: dict[str, object]) -> str:
    """A text after some edits."""
    for edit in edits:
        text = apply_edit(text, edit)
    return text


def angle(picture: int, variable: str, degrees: float | None) -> dict[str, object]:
    """An edit of an angle."""
    return {"edit": "angle", "picture": picture, "variable": variable, "degrees": degrees}


def contact(picture: int, said: str, on: bool) -> dict[str, object]:
    """An edit of a contact."""
    return {"edit": "contact", "picture": picture, "said": said, "on": on}


def word(key: str, words: str | None) -> dict[str, object]:
    """An edit of a word."""
    return {"edit": "word", "key": key, "words": words}


@pytest.mark.parametrize(("edit", "before", "after"), [
    (angle(2, "knee.r.flex", 60), "knee.r: 80 ", "knee.r: 60 "),
    (angle(2, "knee.r.flex", 20), "  knee.r: 80   # as far as it goes\n", ""),
    (angle(2, "hip.r.abd", None), "hip.r: flex 45 abd 5", "hip.r: 45"),
    (angle(2, "hip.l.abd", 7), "  knee.r: 80   # as far as it goes\n", "  knee.r: 80   # as far as it goes\n  hip.l: abd 7\n"),
    (angle(1, "hip.r.flex", 0), "{hip.r: flex 10, # keep", "{# keep"),
    (angle(1, "knee.l.flex", 25), "knee: 20}", "knee.r: 20, knee.l: 25}"),
    (word("view", "front"), "base: standing   # on both feet\n", "base: standing   # on both feet\nview: front\n"),
    (word("base", "kneeling"), "base: standing ", "base: kneeling "),
    (word("view", "20, 8"), "base: standing   # on both feet\n", "base: standing   # on both feet\nview: [20, 8]\n"),
    (word("active", "quads.r, calf"), "active: [quads.r]", "active: [quads.r, calf]"),
    (word("arrow", "knee.r"), "active: [quads.r]", "arrow: knee.r\nactive: [quads.r]"),
    (word("active", None), "active: [quads.r]\n", ""),
    (contact(1, "toes.r floor", True), "  - foot.l floor   # the standing leg\n",
     "  - foot.l floor   # the standing leg\n  - toes.r floor\nend-contacts: [foot.l floor]\n"),
    (contact(2, "toes.r floor", True), "  - foot.l floor   # the standing leg\n",
     "  - foot.l floor   # the standing leg\nend-contacts: [foot.l floor, toes.r floor]\n"),
    ({"edit": "prop", "name": "chair", "words": "support"}, "# why we stand so", "props: {chair: support}\n# why we stand so"),
])  # fmt: skip
def test_one_edit_changes_its_place_alone(edit: dict[str, object], before: str, after: str) -> None:
    """The comment on another line, the order of keys, the style of the list and the blanks stay."""
    assert LINES.count(before) == 1
    assert apply_edit(LINES, edit) == LINES.replace(before, after)


@pytest.mark.parametrize(("text", "edits", "after"), [
    ("base: standing\n", [angle(1, "knee.r.flex", 30), angle(1, "knee.l.flex", 30)], "base: standing\nstart: {knee: 30}\n"),
    ("base: standing\n", [angle(1, "knee.r.flex", 30), angle(1, "knee.r.flex", 0)], "base: standing\n"),
    ("base: sitting\n", [angle(1, "hip.r.flex", 86)], "base: sitting\n"),
    ("base: standing\nend: {knee: 40}\n", [angle(1, "knee.r.flex", 40)], "base: standing\nstart: {knee.r: 40}\nend: {knee.l: 40}\n"),
    ("base: standing\nstart: {knee: 40}\n", [angle(2, "knee.r.flex", 40)], "base: standing\nstart: {knee: 40}\n"),
    ("base: standing\nend: {knee.right: 40}\n", [angle(2, "knee.l.flex", 40)], "base: standing\nend: {knee: 40}\n"),
    ("base: standing\n", [angle(2, "toes.r.ext", -20), angle(2, "trunk.turn", -15)], "base: standing\nend: {toes.r: -20, trunk: turn-l 15}\n"),
    ("base: standing\n", [angle(2, "hip.r.flex", 40), angle(2, "hip.r.ir", -20)], "base: standing\nend: {hip.r: flex 40 er 20}\n"),
    ("base: standing\n", [contact(1, "foot.r floor", False)], "base: standing\ncontacts: [foot.l floor]\n"),
    ("base: standing\n", [contact(1, "foot.r floor", False), contact(1, "foot.r floor", True)], "base: standing\n"),
    ("base: standing\nend: {hip.r: 40}\n", [contact(2, "foot.r floor", False)], "base: standing\nend-contacts: [foot.l floor]\nend: {hip.r: 40}\n"),
    ("base: standing\nend: {hip.r: 40}\n", [contact(1, "foot.r floor", False)],
     "base: standing\ncontacts: [foot.l floor]\nend-contacts: [foot floor]\nend: {hip.r: 40}\n"),
    ("base: supine\n", [contact(1, "back mat", False), contact(1, "heel mat", False)], "base: supine\ncontacts: [none]\n"),
    ("base: standing\nprops: {chair: support}\n", [{"edit": "prop", "name": "chair", "words": None}], "base: standing\n"),
    ("base: standing\n", [{"edit": "second", "on": True}], "base: standing\nend: {}\n"),
    ("base: standing\nend: {knee: 9}\nend-contacts: [foot.l floor]\narrow: knee.r\n", [{"edit": "second", "on": False}], "base: standing\n"),
    ("{base: standing, end: {knee: 9}}", [angle(2, "knee.r.flex", 12), word("view", "side")], "{base: standing, view: side, end: {knee.r: 12, knee.l: 9}}"),
    ("base: standing", [angle(1, "knee.r.flex", 12)], "base: standing\nstart: {knee.r: 12}"),
])  # fmt: skip
def test_as_short_as_a_person_writes(text: str, edits: list[dict[str, object]], after: str) -> None:
    """Defaults are left out, both sides are one entry, a bare number is the joint's first motion."""
    assert edited(text, *edits) == after


def _spec(text: str) -> FigureSpec:
    spec, problems = read_figure(read_text(text))
    assert spec is not None, (text, [problem.what for problem in problems])
    return spec


@pytest.mark.parametrize("number", range(0, 205, 9))
def test_random_edits_of_the_gallery(number: int) -> None:
    """After each of 25 edits exactly the wanted angle has changed, in both pictures; remarks and other lines stand; undoing them all gives the pose again."""
    movement, chance = read_movements()[number], random.Random(number)
    text = "# ours\n" + movement.figure.rstrip() + "  # last\n"
    for _ in range(25):
        node = read_text(text)
        now = [base_pose(node) | written_pose(node, 1)]
        now.append(now[0] | written_pose(node, 2))
        picture, index = chance.choice((1, 2)), chance.randrange(len(VARIABLES))
        name, axis = VARIABLES[index], VARIABLE_AXES[index]
        degrees = float(chance.randint(-round(axis.most_negative), round(axis.most_positive)))
        text = apply_edit(text, angle(picture, name, degrees))
        node = read_text(text)
        start, end = written_pose(node, 1), written_pose(node, 2)
        after = [base_pose(node) | start, base_pose(node) | start | end]
        wanted = [pose | ({name: degrees} if number == picture - 1 else {}) for number, pose in enumerate(now)]
        if picture == 1 and name not in end:
            wanted[1][name] = degrees  # what is not written for the end stays as at the start
        assert after == wanted, (text, name, degrees)
        assert text.startswith("# ours\nbase:") and text.count("#") >= 1
    _spec(text)


@pytest.mark.parametrize("edit", [
    {}, {"edit": "angle"}, {"edit": "fly", "on": True}, angle(3, "knee.r.flex", 3), angle(1, "knee.x.flex", 3), {**angle(1, "knee.r.flex", 3), "more": 1},
    word("title", "x"), word("view", "front\nbase: x"), word("view", "{a: b}"), word("view", "a # b"), contact(1, "foot floor: x", True), contact(1, "foo floor", True),
    {"edit": "prop", "name": "chair", "words": "'"}, {"edit": "angle", "picture": True, "variable": "knee.r.flex", "degrees": "3"},
])  # fmt: skip
def test_what_is_no_edit_is_refused(edit: dict[str, object]) -> None:
    """Nothing that is not of the bench changes the text, and no value brings a line or a key of its own."""
    with pytest.raises(EditError):
        apply_edit(LINES, edit)


def test_contacts_of_both_pictures() -> None:
    """Side by side, from the text or from the base position."""
    assert contacts_of("base: standing\nend: {}\nend-contacts: [toes floor]\n", 2) == [("toes.r", "floor"), ("toes.l", "floor")]
    assert contacts_of("base: sitting\n", 1) == [("foot.r", "floor"), ("foot.l", "floor"), ("seat.r", "seat"), ("seat.l", "seat")]


def test_lists_in_both_styles() -> None:
    """An item is added and taken out; the others keep their place and their remarks."""
    block = "a:\n  - one  # first\n  - two\nb: 1\n"
    assert set_items(block, "a", ("one", "three")) == "a:\n  - one  # first\n  - three\nb: 1\n"
    assert set_items("a: [one, two]\n", "a", ("two",)) == "a: [two]\n"
    assert set_items("a: [one]\n", "a", ("two",)) == "a: [two]\n"
    assert set_items("b: 1\n", "a", ("x", "y"), ("a", "b")) == "a: [x, y]\nb: 1\n"
    assert set_key("a:\n  b: 1\nc: 2\n", ("a",), "5") == "a: 5\nc: 2\n"
    assert set_key("a:\nc: 2\n", ("a",), "5") == "a: 5\nc: 2\n"

"""What the bench answers: drags reach their place with few angles, a limb lets go or slides, a quick picture shows the whole one's pose."""

from __future__ import annotations

from typing import Any

import pytest

from handouts.figure.body.joints import VARIABLES
from handouts.figure.draw.camera import UNITS_PER_METRE
from handouts.posing.answer import answer
from handouts.posing.page import bench_page
from tests.posing.test_edits import LINES

MOST_AWAY = 0.07 * UNITS_PER_METRE
"""Drawing units between a pointer and what was dragged there, where it can be reached: 7 cm, 2 mm of a picture 60 mm high."""


def told(text: str, **asked: object) -> dict[str, Any]:
    """The answer to a request."""
    return answer({"text": text, **asked})


def drag(text: str, picture: int, point: str, dx: float, dy: float, quick: int = 0) -> tuple[dict[str, Any], float]:
    """The answer to a drag by some drawing units, and how far from there the point came out."""
    places = told(text)["handles"][picture - 1]
    x, y = places[point][0] + dx, places[point][1] + dy
    found = told(text, drag={"picture": picture, "point": point, "x": x, "y": y}, quick=quick)
    there = found["handles"][-1 if quick else picture - 1][point]
    return found, ((there[0] - x) ** 2 + (there[1] - y) ** 2) ** 0.5


STANDING = "base: standing\ncontacts: [foot.l floor]\nend: {hip.r: 30}\nbalance: no\n"


@pytest.mark.parametrize(("text", "picture", "point", "way", "written"), [
    (STANDING, 2, "foot.r", (60, -120), {"hip.r.flex", "knee.r.flex"}),
    (STANDING + "view: straight-front\n", 2, "foot.r", (-120, -20), {"hip.r.flex", "hip.r.abd"}),
    ("base: sitting\n", 1, "hand.r", (50, -250), {"shoulder.r.flex", "elbow.r.flex"}),
    ("base: standing\nview: front\n", 1, "hand.l", (150, -230), {"shoulder.l.abd", "elbow.l.flex"}),
    (STANDING, 2, "knee.r", (40, -60), {"hip.r.flex"}),
    ("base: standing\n", 1, "elbow.r", (120, -60), {"shoulder.r.flex"}),
    ("base: sitting\n", 1, "head", (60, 15), {"neck.flex"}),
])  # fmt: skip
def test_a_drag_turns_few_joints(text: str, picture: int, point: str, way: tuple[float, float], written: set[str]) -> None:
    """The point comes where it was dragged, by the joints that a person would write, in whole degrees; the text tells only them."""
    found, away = drag(text, picture, point, *way)
    assert away < MOST_AWAY
    angles = found["written"][picture - 1]
    assert set(angles) == written
    assert all(degrees == round(degrees) for degrees in angles.values())


def test_a_foot_that_is_lifted_lets_go() -> None:
    """In its picture alone; the other foot stands."""
    found, _ = drag("base: standing\nend: {}\n", 2, "foot.r", 40, -100)
    assert found["contacts"] == [["foot floor"], ["foot.l floor"]]
    assert "end-contacts: [foot.l floor]\n" in found["text"]
    found, _ = drag("base: standing\nend: {knee: 20}\nbalance: no\n", 1, "foot.r", 40, -100)
    assert found["contacts"] == [["foot.l floor"], ["foot floor"]]


def test_a_heel_that_is_drawn_up_slides() -> None:
    """It keeps its contact, and the text says that it slides; nothing is wrong."""
    found, away = drag("base: supine\nend: {}\n", 2, "foot.r", -140, -6)
    assert found["contacts"][1] == ["back mat", "heel mat"]
    assert "slide: [heel.r]\n" in found["text"] and found["problems"] == []
    assert found["written"][1].keys() == {"hip.r.flex", "knee.r.flex"} and away < MOST_AWAY


def test_a_place_out_of_reach() -> None:
    """The limb goes as far as its joints go: no angle leaves the normal range."""
    found, away = drag(STANDING, 2, "foot.r", 0, -900)
    assert away > 100 and found["written"][1]["hip.r.flex"] <= 120 and found["written"][1].get("knee.r.flex", 0) <= 135
    assert not [one for one in found["problems"] if "normal range" in one["text"]]


def test_a_quick_picture_shows_the_pose_of_the_whole_one() -> None:
    """While it is dragged the point is where it will be, and the text what it will be."""
    whole, _ = drag(STANDING, 2, "foot.r", 60, -120)
    quick, _ = drag(STANDING, 2, "foot.r", 60, -120, quick=2)
    assert quick["text"] == whole["text"] and "svg" not in quick
    assert quick["panel"].startswith("<path") and quick["picture"] == 2
    for point, (x, y, _) in quick["handles"][0].items():
        assert abs(x - whole["handles"][1][point][0]) < 6 and abs(y - whole["handles"][1][point][1]) < 6, point
    first, _ = drag(STANDING, 1, "hand.r", 60, -60, quick=1)
    assert first["picture"] == 1 and len(first["came"]) == 1


def test_what_came_out_and_what_is_wrong() -> None:
    """The solved angle beside the written one, and each problem with its line."""
    found = told("base: standing\nend: {knee.r: 150}\n")
    assert found["written"][1] == {"knee.r.flex": 150} and found["angles"][1]["knee.r.flex"] == 150
    assert found["came"][1]["knee.r.flex"] != 150
    assert found["problems"][0]["text"].startswith("line 2, column 15: ") and found["problems"][0]["grade"] == "error"
    assert found["alt"].startswith("Picture 1 shows the start") and found["svg"].startswith("<svg")


@pytest.mark.parametrize(("asked", "said"), [
    ({"text": 3}, "This is no figure."),
    ({"text": "base: standing\n" * 3000}, "This is no figure."),
    ({"text": "base: standing", "quick": 7}, "This is no figure."),
    ({"text": "base: standing", "drag": {"picture": 1, "point": "foot.r", "x": 1}}, "This is no drag."),
    ({"text": "base: standing", "drag": {"picture": 1, "point": "nose", "x": 1, "y": 1}}, "This is no drag."),
    ({"text": "base: standing", "drag": {"picture": 1, "point": "foot", "x": 1, "y": 1}}, "This is no drag."),
    ({"text": "base: standing", "drag": {"picture": 1, "point": "foot.r", "x": 1e9, "y": 1}}, "This is no drag."),
    ({"text": "base: standing", "drag": {"picture": 2, "point": "foot.r", "x": 1, "y": 1}}, "There is no picture 2."),
    ({"text": "base: standin", "drag": {"picture": 1, "point": "foot.r", "x": 1, "y": 1}}, "Nothing can be dragged before the problems of the text are mended."),
    ({"text": "base: [", "edit": {"edit": "second", "on": True}}, "line 2: this is not valid YAML: did not find expected node content. Check the punctuation of this line."),
])  # fmt: skip
def test_what_cannot_be_done_is_said(asked: dict[str, object], said: str) -> None:
    """In words, and nothing is drawn; a text that can be read comes back with its fields."""
    found = answer(asked)
    assert found["refused"] == said
    assert "svg" not in found


def test_a_text_with_a_fault_keeps_its_fields() -> None:
    """What can be read of it is shown, with its problems; there is no drawing."""
    found = told(LINES.replace("80", "flx 80"))
    assert found["written"][0]["hip.r.flex"] == 10 and "svg" not in found
    assert [one["text"] for one in found["problems"]] == ["line 10, column 11: the knee has no motion 'flx'. Did you mean 'flex'?"]


def test_the_page_has_every_joint_and_no_other_host() -> None:
    """Each angle for both pictures, each with a name; nothing in the answer ends the script that holds it."""
    page = bench_page("A </script> title", told("# </script>\nbase: standing\n"), (("x", "/"),), "a-b", "exercises/a-b.md", "00")
    assert page.count("<fieldset data-variable=") == len(VARIABLES) and page.count('type="range"') == 2 * len(VARIABLES)
    assert page.count("</script>") == 2 and "A &lt;/script&gt; title" in page
    assert "http" not in page.replace("http-equiv", "").replace("http://www.w3.org/2000/svg", "") and "Save into exercises/a-b.md" in page
    assert "Save into" not in bench_page("x", told("base: standing\n"), ())


def test_the_other_hand_keeps_its_hold() -> None:
    """Only the limb that is dragged lets go: the left hand still holds the chair while the right one is lifted, and lets go when it is dragged itself."""
    text = "base: standing\nprops: {chair: beside}\ncontacts: [foot floor, grip.l chair]\n"
    assert drag(text, 1, "hand.r", 40, -150)[0]["contacts"][0] == ["foot floor", "grip.l chair"]
    assert drag(text, 1, "hand.l", 40, -150)[0]["contacts"][0] == ["foot floor"]

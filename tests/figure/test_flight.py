"""A jump: picture 2 is in the air, and a flight that lifts nothing is refused."""

from __future__ import annotations

import pytest

from handouts.figure import compute_figure, read_figure
from handouts.figure.body.body import make_body
from handouts.figure.draw.style import FigureStyle
from handouts.figure.pose.motion import point_places
from handouts.figure.pose.spec import Named
from handouts.source.nodes import compose
from handouts.words.figure import describe_figure
from handouts.words.wording import Wording

JUMP = """
base: standing
contacts: [foot floor]
start: {hip: flex 60, knee: 70, ankle: df 16}
end: {hip: 0, knee: 0, ankle: pf 30}
end-contacts: [toes floor]
"""


def _toes(text: str) -> tuple[float, float]:
    """Height of the right toes in both pictures, metres."""
    root, _ = compose(text, "jump.yaml")
    assert root is not None
    spec, problems = read_figure(root)
    assert spec is not None, problems
    figure = compute_figure(spec)
    assert [problem.what for problem in figure.problems] == []
    places = point_places(make_body(FigureStyle().stature, FigureStyle().build), figure.motion.frames, Named("toes", "r"))
    return float(places[0][1]), float(places[-1][1])


@pytest.mark.parametrize("flight", [0.1, 0.25])
def test_the_feet_leave_the_floor_by_what_is_written(flight: float) -> None:
    """Without it the toes stay on the floor; with it they are so many metres higher in picture 2 and not in picture 1."""
    grounded, lifted = _toes(JUMP), _toes(f"{JUMP}flight: {flight}\n")
    assert lifted[0] == pytest.approx(grounded[0], abs=0.01)
    assert lifted[1] - grounded[1] == pytest.approx(flight, abs=0.015)


@pytest.mark.parametrize(
    "text", ["base: standing\nend: {knee.r: 60}\nend-contacts: []\nflight: 0.2\n", "base: standing\nflight: 0.2\n", "base: supine\nend: {knee.r: 60}\nflight: 0.2\n"]
)
def test_a_flight_of_nothing_is_refused(text: str) -> None:
    """Where nothing touches the floor at the end, or nothing moves, no picture would show it."""
    root, _ = compose(text, "jump.yaml")
    assert root is not None
    spec, problems = read_figure(root)
    assert spec is None
    assert [problem.what for problem in problems] == ["'flight' lifts nothing: no part touches the floor at the end"]


def test_words_say_that_the_feet_are_off_the_floor() -> None:
    """Who cannot see the picture hears of the jump, and of no rising besides."""
    root, _ = compose(f"{JUMP}flight: 0.2\n", "jump.yaml")
    assert root is not None
    spec, _ = read_figure(root)
    assert spec is not None
    said = describe_figure(compute_figure(spec).facts, Wording("en"))
    assert "In picture 2 the feet are off the floor." in said and "stand up" not in said.lower()

"""A picture in half as many units, held against another reader of paths (fontTools.svgLib)."""

from __future__ import annotations

import re
from random import Random

import pytest
from fontTools.pens.recordingPen import RecordingPen
from fontTools.svgLib.path import parse_path

from handouts.figure import panel_svg
from handouts.figure.half import halve_path, halve_picture
from tests.site.test_movement import the_figure


def points_of(path: str) -> list[tuple[str, list[tuple[float, float]]]]:
    """Each part of a path with its points; what closes it is left out, since each part begins anew."""
    pen = RecordingPen()
    parse_path(path.replace("z", ""), pen)
    return [(name, [tuple(point) for point in points]) for name, points in pen.value]


def held(whole: str, half: str) -> None:
    """The same parts; where each ends is half of what it was, to half a unit.  A control point may be one that a path leaves out:
    the mirror of the one before it, to a unit and a half."""
    before, after = points_of(whole), points_of(half)
    assert whole.count("z") == half.count("z")
    assert [name for name, _ in before] == [name for name, _ in after]
    for (_, wanted), (_, found) in zip(before, after, strict=True):
        off = [abs(one / 2 - two) for a, b in zip(wanted, found, strict=True) for one, two in zip(a, b, strict=True)]
        assert max(off, default=0) <= 1.5
        assert max(off[-2:], default=0) <= 0.5


def test_every_path_of_a_figure_is_where_it_was() -> None:
    """A drawn figure, and the frame of its picture."""
    svg = panel_svg(the_figure(), -1, "", "", "p")
    half = halve_picture(svg)
    paths = [re.findall(r' d="([^"]*)"', text) for text in (svg, half)]
    assert len(paths[0]) > 10
    for whole, small in zip(*paths, strict=True):
        held(whole, small)
    boxes = [[int(each) for each in re.findall(r'viewBox="0 0 (\d+) (\d+)"', text)[0]] for text in (svg, half)]
    assert all(abs(one / 2 - two) <= 0.5 for one, two in zip(*boxes, strict=True))
    assert len(half) < len(svg)


def test_long_random_paths_do_not_drift() -> None:
    """A thousand commands after one another: the last point is no further off than the first."""
    random = Random(3)
    for _ in range(20):
        parts = ["M5 7"]
        for _ in range(1000):
            command = random.choice("clshvz")
            count = {"c": 6, "s": 4, "l": 2, "h": 1, "v": 1, "z": 0}[command]
            parts.append(command + " ".join(str(random.randint(-9, 9)) for _ in range(count)))
            if command == "z":
                parts.append(f"M{random.randint(0, 400)} {random.randint(0, 400)}")
        held("".join(parts), halve_path("".join(parts)))


@pytest.mark.parametrize("path", ["M1 2Q3 4 5 6", "M1 2L3", "M1 2c1 2 3", "m1 2l1 1"])
def test_another_path_is_refused(path: str) -> None:
    """Commands that ours do not have, and numbers that are missing."""
    with pytest.raises(ValueError, match="path"):
        halve_path(path)

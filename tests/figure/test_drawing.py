"""Outlines, order, layout and SVG."""

from __future__ import annotations

import gzip
import json
import os
import re
import subprocess
import sys
import xml.etree.ElementTree as ET
from pathlib import Path
from statistics import median

import numpy as np
import pytest
from shapely.geometry import Point, Polygon

from handouts.figure import (
    HAIR_STYLES,
    Figure,
    FigureStyle,
    mirror_svg,
    motion_data,
    panel_sums,
    panel_svg,
    presentation_svg,
    standalone_svg,
    svg_of,
)
from handouts.figure.draw.curves import curves, path_of
from handouts.figure.draw.style import TONES
from tests.kept import kept

from .conftest import figure_of, spec_nodes, spec_of

CSS = (Path(__file__).parents[2] / "templates/styles/figure.css").read_text("utf-8")
SVG = "{http://www.w3.org/2000/svg}"


def test_a_circle_takes_few_curves() -> None:
    """A circle of 100 units is fitted within the tolerance by at most eight curves."""
    ring = np.asarray(Point(0, 0).buffer(100, quad_segs=32).exterior.coords)[:-1]
    found = curves(ring, True, 1.0)
    assert len(found) <= 8
    for curve in found:
        t = np.linspace(0, 1, 9)[:, None]
        p = (1 - t) ** 3 * curve[0] + 3 * (1 - t) ** 2 * t * curve[1] + 3 * (1 - t) * t * t * curve[2] + t**3 * curve[3]
        assert np.abs(np.hypot(*p.T) - 100).max() < 1.5


def test_corners_stay_corners() -> None:
    """A square keeps its four straight sides."""
    path = path_of(curves(np.array([[0.0, 0], [50, 0], [50, 50], [0, 50]]), True), True)
    assert "c" not in path
    assert path.endswith("z")


def test_bytes_are_the_same_in_another_process() -> None:
    """The same spec gives the same SVG and motion under another hash seed."""
    text = "base: all-fours\nend: {hip.r: ext 2, knee.r: 4}\nend-contacts: [shin.l mat, palm mat]\narrow: ankle.r\nactive: [glutes.r]"
    code = (
        "import sys,json;from handouts.source.nodes import compose;from handouts.figure import *;"
        "f=compute_figure(read_figure(compose(sys.argv[1],'f')[0])[0]);"
        "print(svg_of(f,'t','d','x')+json.dumps(motion_data(f)))"
    )
    found = [
        subprocess.run([sys.executable, "-c", code, text], env={**os.environ, "PYTHONHASHSEED": seed}, check=True,
                       capture_output=True, text=True).stdout
        for seed in ("1", "4242")
    ]  # fmt: skip
    assert found[0] == found[1]
    assert len(found[0]) > 4000


@pytest.mark.parametrize("name", sorted(spec_nodes()))
def test_svg_is_strict(name: str, figures: dict[str, Figure]) -> None:
    """Well-formed, with title and description, ids under the given name, known classes, no style of its own."""
    text = svg_of(figures[name], "A & B", "C < D", "q7")
    root = ET.fromstring(text)
    assert [root[0].tag, root[0].text, root[1].tag, root[1].text] == [f"{SVG}title", "A & B", f"{SVG}desc", "C < D"]
    assert all(value.startswith("q7") for value in re.findall(r' id="([^"]*)"', text))
    assert "style" not in text
    used = {word for value in re.findall(r'class="([^"]*)"', text) for word in value.split()} - {"fig"}
    assert used <= set(TONES.values())
    for path in re.findall(r' d="([^"]*)"', text):
        assert re.fullmatch(r"[MVHvhlcsCz0-9 .-]+", path) and path.startswith("M")


def test_every_class_is_styled() -> None:
    """The style sheet has a rule for every class that the engine writes."""
    assert {name for name in TONES.values() if f".fig .{name} " not in CSS and f".fig .{name}," not in CSS} <= {"l"}


@pytest.mark.parametrize("name", sorted(spec_nodes()))
def test_everything_lies_in_the_view_box(name: str, figures: dict[str, Figure]) -> None:
    """What is drawn fits the layout's width and height."""
    figure = figures[name]
    for panel, (x, y) in zip(figure.panels, figure.layout.origins, strict=True):
        x0, y0, x1, y1 = panel.bounds
        assert x0 + x >= 0 and x1 + x <= figure.layout.width
        assert y0 + y >= 0 and y1 + y <= figure.layout.height


def test_mirrored_is_the_mirror_image(figures: dict[str, Figure]) -> None:
    """The other side is each panel turned over about its own middle, paths untouched."""
    figure = figures["single-leg-stance"]
    plain, other = svg_of(figure, "t", "d", "x"), svg_of(figure, "t", "d", "x", mirrored=True)
    assert re.findall(r' d="([^"]*)"', plain) == re.findall(r' d="([^"]*)"', other)
    places = [re.findall(r"translate\((-?\d+) (-?\d+)\)(?: scale\(-1 1\))?", text) for text in (plain, other)]
    for panel, before, after in zip(figure.panels, places[0][::2], places[1][::2], strict=True):
        x0, _, x1, _ = panel.bounds
        assert int(before[0]) + x0 == pytest.approx(int(after[0]) - x1, abs=1)


def test_a_drawing_is_mirrored_afterwards(figures: dict[str, Figure]) -> None:
    """What was drawn is mirrored without its figure, on screen and on paper, from either direction: the bytes are those of the mirrored drawing."""
    for figure in figures.values():
        for from_right in (False, True):
            wanted = svg_of(figure, "t", "d", "x", mirrored=True, from_right=from_right)
            assert mirror_svg(svg_of(figure, "t", "d", "x", from_right=from_right), panel_sums(figure)) == wanted
            wanted = presentation_svg(figure, "t", "d", "x", CSS, mirrored=True, from_right=from_right)
            assert mirror_svg(presentation_svg(figure, "t", "d", "x", CSS, from_right=from_right), panel_sums(figure)) == wanted


def test_panel_alone(figures: dict[str, Figure]) -> None:
    """One panel stands alone without a number; a held position has one panel."""
    assert panel_svg(figures["bridge"], -1, "t", "d", "x").count("<circle") == 0
    assert len(figures["tandem-stance"].panels) == 1
    assert svg_of(figures["tandem-stance"], "t", "d", "x").count("<circle") == 0


def test_paper_form_needs_no_style_sheet(figures: dict[str, Figure]) -> None:
    """Presentation attributes carry every colour; in grey no colour is left."""
    text = presentation_svg(figures["bridge"], "t", "d", "x", CSS, grey=True)
    ET.fromstring(text)
    assert "class=" not in text and "var(" not in text
    colours = set(re.findall(r'"(#[0-9a-f]{6})"', text))
    assert colours and all(value[1:3] == value[3:5] == value[5:7] for value in colours)
    assert "#7f9fac" in presentation_svg(figures["bridge"], "t", "d", "x", CSS)


def test_standalone_file_carries_its_style(figures: dict[str, Figure]) -> None:
    """A file of its own has the style sheet inside."""
    root = ET.fromstring(standalone_svg(figures["bridge"], "t", "d", "x", CSS))
    assert root[0].tag == f"{SVG}style" and "#1d2b36" in (root[0].text or "")


def test_figures_are_small(figures: dict[str, Figure]) -> None:
    """Median below 9 kB and 3.6 kB compressed; every figure with its motion below 6 kB compressed."""
    sizes, packed = [], []
    for name, figure in figures.items():
        text = svg_of(figure, name, name, name)
        motion = json.dumps(kept(motion_data, figure, follows=(figure.spec,)), separators=(",", ":"))
        sizes.append(len(text))
        packed.append(len(gzip.compress(text.encode())))
        assert len(gzip.compress((text + motion).encode())) < 6000, name
    assert median(sizes) < 9000
    assert median(packed) < 3600


def test_motion_begins_at_the_start(figures: dict[str, Figure]) -> None:
    """The first key of every bending piece is its outline in picture 1."""
    figure = figures["heel-slide"]
    data = motion_data(figure)
    start = {piece.names: piece.shape for piece in figure.panels[0].pieces}
    checked = 0
    for piece in data["p"]:
        drawn = next(one for one in figure.panels[-1].pieces if one.first == piece[0])
        if isinstance(piece[2], str) and drawn.names in start:
            ring = np.array(piece[3][0]).reshape(-1, 2) + np.array(piece[3][1]).reshape(-1, 2)
            assert Polygon(ring).symmetric_difference(start[drawn.names]).area < 0.12 * start[drawn.names].area
            checked += 1
    assert data["k"] == 4 and (checked or all(not isinstance(piece[2], str) for piece in data["p"]))


def test_held_position_has_no_motion(figures: dict[str, Figure]) -> None:
    """A position that is only held gives no moving piece."""
    assert motion_data(figures["tandem-stance"]) == {"k": 0, "p": []}


@pytest.mark.parametrize("hair", HAIR_STYLES)
def test_hair_styles_and_builds(hair: str) -> None:
    """Each hair style and a heavier build draw a head with hair."""
    figure = figure_of(spec_of("base: standing\nview: front"), FigureStyle(build=1.2, hair=hair))
    assert any(mark.role == "hair" for mark in figure.panels[0].marks)


@pytest.mark.parametrize("view", [(yaw, rise) for yaw in range(-180, 180, 45) for rise in (5, 40)])
def test_hair_never_covers_the_face_from_any_side(view: tuple[int, int]) -> None:
    """From the front most of the head is face, from behind most is hair."""
    figure = figure_of(spec_of(f"base: standing\nview: [{view[0]}, {view[1]}]"))
    head = next(piece.shape for piece in figure.panels[0].pieces if "head" in piece.names)
    hair = next(piece.shape for piece in figure.panels[0].pieces if "hair" in piece.names)
    share = hair.area / head.union(hair).area
    assert share < 0.62 if view[0] == 90 else share > 0.5 if view[0] == -90 else 0.1 < share < 0.95


def test_panels_in_the_order_of_a_text_read_from_the_right(figures: dict[str, Figure]) -> None:
    """The first panel stands at the right, each picture is the same, and nothing leaves the view box."""
    figure = figures["sit-to-stand"]
    left, right = (svg_of(figure, "t", "d", "x", from_right=way) for way in (False, True))
    moved = re.compile(r"translate\((-?\d+) (-?\d+)\)")
    assert moved.sub("", left) == moved.sub("", right)
    ((x0, _), (x1, _)), ((y0, _), (y1, _)) = ([(int(x), int(y)) for x, y in moved.findall(text)[::2]] for text in (left, right))
    first, second = figure.panels
    assert x0 + first.bounds[0] < x1 + second.bounds[0]
    assert y0 + first.bounds[0] > y1 + second.bounds[0]
    assert y0 + first.bounds[2] == pytest.approx(figure.layout.width - x0 - first.bounds[0], abs=1)
    assert y1 + second.bounds[0] == pytest.approx(figure.layout.width - x1 - second.bounds[2], abs=1)


def test_a_stretch_has_another_sign_than_work() -> None:
    """Muscles at work are striped, what is stretched is dotted, on the same region; a grey print keeps both apart."""
    text = "base: standing\nview: side\nend: {ankle: pf 30}\nend-contacts: [toes floor]\narrow: heel.r\n"
    work, stretch, none = (figure_of(spec_of(text + line)) for line in ("active: [calf.r]", "stretched: [calf.r]", ""))
    roles = [{mark.role for mark in figure.panels[-1].marks} & {"active", "hatch", "dots"} for figure in (work, stretch, none)]
    assert roles == [{"active", "hatch"}, {"active", "dots"}, set()]
    assert all("a" in mark.path or mark.path.count("h.1") > 5 for mark in stretch.panels[-1].marks if mark.role == "dots")
    assert (work.facts.active, work.facts.stretched) == (("calf.r",), ())
    assert (stretch.facts.active, stretch.facts.stretched) == ((), ("calf.r",))


def test_a_stretched_region_that_is_hidden() -> None:
    """It must be seen like a muscle at work."""
    text = "base: standing\nview: straight-front\nend: {shoulder.r: abd 90}\nstretched: [glutes]\narrow: hand.r"
    assert [problem.rule for problem in figure_of(spec_of(text)).problems] == ["figure-view"]

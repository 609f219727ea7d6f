"""What stands where an exercise has no figure: coloured by attributes alone, so that it is never a black shape."""

from __future__ import annotations

from xml.etree import ElementTree

import pytest

from handouts.phone.picture import description_of, picture_tree
from handouts.publication.placeholder import placeholder_svg

SVG = "{http://www.w3.org/2000/svg}"


@pytest.mark.parametrize("level", ["floor", "chair", "standing"])
def test_every_shape_says_its_own_colours(level: str) -> None:
    """A PDF, a small picture and a page all show lines: SVG fills a shape black that says nothing (SVG 2, 13.3)."""
    root = ElementTree.fromstring(str(placeholder_svg(level, "Foot lift", "No picture yet.", "f")))
    shapes = [element for element in root.iter() if element.tag in (f"{SVG}path", f"{SVG}circle", f"{SVG}rect")]
    assert len(shapes) == 2
    for shape in shapes:
        assert shape.get("fill") == "none" and shape.get("stroke") == "#6f7d86" and float(shape.get("stroke-width", 0)) > 3
    assert root.get("class") == "fig", "the style sheet of figures colours it on a page"


def test_each_position_has_its_sign() -> None:
    """Lying, sitting and standing are told apart."""
    assert len({str(placeholder_svg(level, "", "", "f")) for level in ("floor", "chair", "standing")}) == 3


def test_the_phone_draws_it() -> None:
    """Its lists keep the classes by which the phone colours it, and the words."""
    tree = picture_tree(str(placeholder_svg("chair", "Foot lift", "No picture yet.", "f")))
    assert tree[1]["class"] == "fig"
    assert [child[1]["class"] for child in tree[2] if child[0] == "path"] == ["y1", "y2"]
    assert description_of(tree) == "No picture yet."

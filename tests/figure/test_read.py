"""What an author types, and what is said where it is wrong."""

from __future__ import annotations

import pytest

from handouts.figure import figure_json_schema, read_figure
from handouts.figure.pose.names import KEYS, PROPS
from handouts.figure.props.props import BUILDERS
from handouts.source.nodes import compose

from .conftest import spec_of


def problems_of(text: str) -> list[tuple[int, int, str, str]]:
    """Line, column, what and mend of each problem of a figure text."""
    root, _ = compose(text, "figure.yaml")
    assert root is not None
    spec, problems = read_figure(root)
    assert (spec is None) == bool(problems)
    return [(problem.place.line, problem.place.column, problem.what, problem.mend) for problem in problems]


@pytest.mark.parametrize(("text", "line", "column", "suggestion"), [
    ("base: standin", 1, 7, "standing"),
    ("base: standing\nviewy: side", 2, 1, "view"),
    ("base: standing\nview: sid", 2, 7, "side"),
    ("base: standing\nend: {kne.r: 40}", 2, 7, "knee"),
    ("base: standing\nend: {knee.r: flx 40}", 2, 15, "flex"),
    ("base: standing\nprops: {chiar: seat}", 2, 9, "chair"),
    ("base: standing\nprops: {chair: seet}", 2, 16, "seat"),
    ("base: standing\ncontacts: [fot floor]", 2, 12, "foot"),
    ("base: standing\ncontacts: [foot flor]", 2, 12, "floor"),
    ("base: standing\narrow: ankel.r", 2, 8, "ankle"),
    ("base: standing\nactive: [hamstring, qads]", 2, 21, "quads"),
])  # fmt: skip
def test_misspelt_words_are_placed_and_mended(text: str, line: int, column: int, suggestion: str) -> None:
    """Every misspelt word is one problem at its place, with the word that was meant."""
    found = problems_of(text)
    assert [(place[0], place[1]) for place in found] == [(line, column)]
    assert suggestion in found[0][3]


def test_all_faults_are_found_at_once() -> None:
    """Reading does not stop at the first fault."""
    assert len(problems_of("base: x\nview: y\nend: {z: 1}\narrow: w")) == 4


@pytest.mark.parametrize("text", ["end: {hip.r: 300}", "end: {hip.r: soft}", "end: [hip]", "lean: 95", "view: [1]",
                                  "contacts: [foot]", "contacts: {foot: floor}", "end: {trunk.r: 10}"])  # fmt: skip
def test_values_that_do_not_fit_are_refused(text: str) -> None:
    """A value of the wrong kind or size is a problem."""
    assert problems_of(f"base: standing\n{text}")


def test_angles_take_sides_and_signs() -> None:
    """'flex 45 abd 10' is two angles; a joint without a side means both; extension is negative flexion."""
    spec = spec_of("base: standing\nend: {hip.r: flex 45 abd 10, knee: 30, shoulder.l: ext 20, toes.l: ext 40}")
    assert {angle.variable: angle.degrees for angle in spec.end} == {
        "hip.r.flex": 45, "hip.r.abd": 10, "knee.r.flex": 30, "knee.l.flex": 30, "shoulder.l.flex": -20, "toes.l.ext": 40,
    }  # fmt: skip


def test_a_base_brings_its_contacts_and_props() -> None:
    """A base alone is a whole figure: lying has a mat, sitting a chair."""
    assert [use.name for use in spec_of("base: supine").props] == ["mat"]
    assert [use.name for use in spec_of("base: sitting").props] == ["chair"]
    assert [str(contact.site) for contact in spec_of("base: standing").contacts] == ["foot"]


def test_lying_on_the_right_follows_from_the_contact() -> None:
    """'side.r mat' lays the body on its right side."""
    assert spec_of("base: side-lying\ncontacts: [side.r mat]").base == "side-lying-right"


def test_a_figure_without_an_end_is_held() -> None:
    """Without 'end' there is one picture."""
    assert not spec_of("base: standing").moves
    assert spec_of("base: standing\nend: {knee.r: 40}").moves


def test_every_prop_has_a_builder() -> None:
    """The props that can be typed are the props that can be drawn."""
    assert set(BUILDERS) == set(PROPS)


def test_schema_names_the_keys_that_are_read() -> None:
    """The editor's schema and the reader know the same keys and bases."""
    schema = figure_json_schema()
    assert set(schema["properties"]) == set(KEYS)
    assert "standing" in schema["properties"]["base"]["enum"]
    assert "side-lying-right" not in schema["properties"]["base"]["enum"]


@pytest.mark.parametrize(("text", "line", "column", "what"), [
    ("base: standing\nend: {knee: [1]}", 2, 13, "an angle is wanted here"),
    ("base: standing\nview: {a: b}", 2, 7, "a view is one word or two angles"),
    ("base: standing\nprops: [chair]", 2, 8, "a group of keys is wanted here"),
    ("base: standing\nbeyond: knee", 2, 9, "a group of keys is wanted here"),
    ("base: standing\nbeyond: {knee: {a: b}}", 2, 16, "a word or a list of words is wanted here"),
    ("base: standing\nside: up", 2, 7, "this is not a side"),
    ("base: standing\nbalance: [yes]", 2, 10, "one word is wanted here"),
    ("base: standing\nbalance: maybe", 2, 10, "'maybe' does not say when the balance counts"),
    ("base: standing\nend: {knee: 300}", 2, 13, "300 degrees is no angle of a joint"),
    ("base: standing\nlean: 1_0", 2, 7, "this is not a number that fits here"),
    ("base: standing\nlean: inf", 2, 7, "this is not a number that fits here"),
    ("base: standing\nlean: ٣", 2, 7, "this is not a number that fits here"),
    ("base: standing\nend: {knee: flex ٣٠}", 2, 13, "'flex ٣٠' is not an angle of the knee"),
])  # fmt: skip
def test_values_of_the_wrong_form(text: str, line: int, column: int, what: str) -> None:
    """What else can be typed wrongly, at its place; numbers are digits of ASCII."""
    found = problems_of(text)
    assert [(at, col, said) for at, col, said, _ in found] == [(line, column, what)]


def test_words_for_no_and_yes() -> None:
    """'no' takes a prop, an arrow or the check of the balance away; 'yes' keeps it."""
    assert spec_of("base: standing\nprops: {chair: yes, band: no}\nbalance: no\narrow: no").props[0].name == "chair"
    assert spec_of("base: standing\nbalance: no").balance == "no"

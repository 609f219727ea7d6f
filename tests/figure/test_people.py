"""Bodies that a clinic or an exercise may choose: each solves, touches and draws as the usual one, and a limb may end early."""

from __future__ import annotations

import pytest

from handouts.build.drawing import draw_one
from handouts.build.figures import STYLE_SHEET, person_in
from handouts.figure import FigureStyle, compute_figure, read_figure
from handouts.figure.body.people import ENDS, PEOPLE, without_parts
from handouts.model import Exercise
from handouts.problems import show_problem
from handouts.source.nodes import Mapping, compose
from handouts.templating.assets import read_templates
from handouts.words.figure import describe_figure
from handouts.words.wording import Wording

from .conftest import figure_of, spec_of
from .test_settled import demo

STYLES = read_templates()[STYLE_SHEET].decode()


class Coded:
    """All that is asked of an exercise here."""

    def __init__(self, code: str) -> None:
        self.code = code


def exercise_with(code: str) -> Exercise:
    """An exercise of which only the code counts."""
    return Coded(code)  # type: ignore[return-value]


SAMPLE = ("bridge", "counter-push-up", "sit-to-stand", "one-leg-stand", "wall-push-up", "shelf-lift", "side-lying-leg-lift", "cross-body-stretch")
"""Of the demo; ``python -m tests.figure.test_people`` tries all with everyone."""


def _problems(name: str, person: str) -> list[str]:
    spec = demo()[name].spec
    return [f"{name}, {person}: {show_problem(one)}" for one in compute_figure(spec, FigureStyle(person=person)).problems]


@pytest.mark.parametrize("person", PEOPLE)
def test_contacts_and_checks_hold_for_everyone(person: str) -> None:
    """What is right for the usual body is right for each: contacts within 10 mm, nothing through anything, regions seen."""
    assert [problem for name in SAMPLE[:: 2 if person != "large" else 1] for problem in _problems(name, person)] == []


def test_everyone_looks_different() -> None:
    """Two people never give the same picture of one pose."""
    spec = spec_of("base: standing\nview: front")
    pictures = {person: tuple(mark.path for mark in figure_of(spec, FigureStyle(person=person)).panels[0].marks) for person in ("", *PEOPLE)}
    assert len(set(pictures.values())) == len(PEOPLE) + 1


def test_the_exercise_stands_before_the_clinic() -> None:
    """``person`` of a figure is drawn, whoever the clinic draws else."""
    spec = spec_of("base: standing\nperson: child")
    assert figure_of(spec, FigureStyle(person="man")).style.person == "child"
    assert figure_of(spec_of("base: standing"), FigureStyle(person="man")).style.person == "man"


BEYOND = {"shank": {"shoe", "sole"}, "thigh": {"shoe", "sole", "shank"}, "forearm": {"hand"}, "upper-arm": {"hand", "farm"}}
"""The drawn parts beyond the end of a limb, written down apart from the program: a foot is a shoe and its sole."""


@pytest.mark.parametrize("end", [f"{end}.{side}" for end in ENDS for side in "rl"])
def test_a_limb_that_ends_early(end: str) -> None:
    """What is beyond its end is not drawn and carries nothing; the other side is whole, and nothing else is wrong."""
    figure = figure_of(spec_of(f"base: sitting\nwithout: [{end}]"))
    drawn = {name for piece in figure.panels[0].pieces for name in piece.names}
    gone = {f"{part}.{end[-1]}" for part in BEYOND[end[:-2]]}
    assert not gone & drawn and without_parts((end,)) == gone
    assert {f"{part[:-1]}{'l' if end[-1] == 'r' else 'r'}" for part in gone} <= drawn
    assert figure.problems == ()
    if end in ("shank.r", "thigh.r"):
        assert {str(contact.site) for contact in figure.spec.contacts} == {"foot.l", "seat"}


@pytest.mark.parametrize(("text", "said"), [
    ("base: standing\nperson: giant",
     "figure.yaml:2:9: error: this is nobody who can be drawn. Write one of: child, large, man, older, woman. [figure-word]"),
    ("base: standing\nwithout: [shin.r]",
     "figure.yaml:2:11: error: 'shin.r' does not say where a limb ends. Write one of: forearm, shank, thigh, upper-arm, with .r or .l: "
     "shank.r ends below the right knee. [figure-word]"),
    ("base: standing\nwithout: [shank.r]\ncontacts: [foot.r floor]",
     "figure.yaml:3:12: error: the contact 'foot.r floor' is one of a part that is not there. "
     "Take the contact out, or the limb out of 'without'. [figure-not-drawn]"),
    ("base: standing\nwithout: [shank.r]\nend: {hip.r: 40}\narrow: toes.r",
     "figure.yaml:4:8: error: the arrow follows 'toes.r', which is not there. Name a point that is there, or 'none'. [figure-word]"),
])  # fmt: skip
def test_what_cannot_be_drawn_is_said(text: str, said: str) -> None:
    """At its place, with the words that can be written."""
    root, _ = compose(text, "figure.yaml")
    assert root is not None
    spec, problems = read_figure(root)  # type: ignore[arg-type]
    assert spec is None
    assert [show_problem(problem) for problem in problems] == [said]


def test_a_clinic_chooses_people_by_turns() -> None:
    """Each exercise shows one of them, the same one whatever else is in the library; the picture is that person's."""
    exercises = [exercise_with(code) for code in ("A1B2", "C3D4", "E5F6", "G7H8", "J9K1")]
    chosen = [person_in(exercise, ("woman", "man")) for exercise in exercises]
    assert set(chosen) == {"woman", "man"}
    assert person_in(exercises[0], ()) == ""
    assert [person_in(exercise, ("woman", "man")) for exercise in reversed(exercises)] == chosen[::-1]
    root, _ = compose("base: standing\nview: front", "figure.yaml")
    assert isinstance(root, Mapping)
    usual, child = (draw_one(root, STYLES, *who)[0] for who in ((), ("child",)))
    assert usual is not None and child is not None and usual.screen != child.screen


SAID = {
    "shank.r": "Right leg: ends below the knee.", "thigh.l": "Left leg: ends above the knee.",
    "forearm.l": "Left arm: ends below the elbow.", "upper-arm.r": "Right arm: ends above the elbow.",
}  # fmt: skip


@pytest.mark.parametrize("end", SAID)
def test_a_limb_that_ends_early_is_said(end: str) -> None:
    """Who hears the picture hears it too, of the right side, also where the picture is mirrored, in every language; else nothing is said of it."""
    facts = figure_of(spec_of(f"base: sitting\nwithout: [{end}]")).facts
    assert SAID[end] in describe_figure(facts, Wording("en"))
    swapped = SAID[end].replace("Right", "x").replace("Left", "Right").replace("x", "Left")
    assert swapped in describe_figure(facts, Wording("en"), mirrored=True)
    whole = figure_of(spec_of("base: sitting")).facts
    for language in ("es", "ar", "fr", "vi", "zh-Hans"):
        assert len(describe_figure(facts, Wording(language))) > len(describe_figure(whole, Wording(language))) + 8
    assert "ends" not in describe_figure(whole, Wording("en"))


if __name__ == "__main__":
    found = [problem for who in PEOPLE for exercise in demo() for problem in _problems(exercise, who)]
    print("\n".join(found))
    raise SystemExit(bool(found))

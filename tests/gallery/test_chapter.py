"""The chapter on figures: every declared word stands in it, every picture it names is made, and each joint's picture moves that joint."""

from __future__ import annotations

import re
from html import unescape

import pytest

from handouts.figure import compute_figure, read_figure
from handouts.figure.body.joints import JOINTS, SIDED, joint_tokens
from handouts.figure.body.muscles import MUSCLE_ALIASES, MUSCLES
from handouts.figure.body.sites import ALIASES, BODY_SITES, BODY_TARGETS, LIMB_SITES, POINTS
from handouts.figure.pose.bases import BASES
from handouts.figure.pose.claims import MOVES, SHAPES
from handouts.figure.pose.names import KEY_HELP, PROP_ALIASES, PROPS, VIEWS
from handouts.figure.pose.surroundings import PROP_OF
from handouts.gallery.chapter import chapter_figures, chapter_page, chapter_texts
from handouts.gallery.files import file_names
from handouts.source.nodes import compose
from tests.gallery.definitions import DEFINITIONS

PAGE = unescape(chapter_page())


def test_every_word_of_a_figure_stands_in_the_chapter() -> None:
    """Keys, bases, joints with their words, contacts, things, places, props with their words, points, views, regions, claims."""
    words = {*KEY_HELP, *BASES, *LIMB_SITES, *BODY_SITES, *ALIASES, *BODY_TARGETS, *PROP_OF, *PROPS, *PROP_ALIASES, *POINTS, *VIEWS}
    words |= {*MUSCLES, *MUSCLE_ALIASES, *SHAPES, *MOVES, *(word for kind in PROPS.values() for word in kind.words)}
    words |= {f"{joint}: {token}" if joint not in SIDED else f"{joint}.r, {joint}.l: {token}" for joint in JOINTS for token in joint_tokens(joint)}
    assert [word for word in sorted(words) if not re.search(rf"(?<![a-z-]){re.escape(word)}(?![a-z-])", PAGE)] == []


def test_every_picture_is_a_file_of_the_gallery() -> None:
    """No picture is named that is not made, each of the chapter's own pictures is shown, and all bases, props and most joints have one."""
    named = set(re.findall(r'<img src="([^"]+)"', PAGE))
    assert named <= set(file_names())
    assert {f"{name}.svg" for name in chapter_figures()} <= named
    assert set(chapter_texts()["keys"]) <= set(KEY_HELP)
    shown = {name for name in PROPS if re.search(rf"<dt>{name}</dt>\s*<dd>(?:(?!</dd>).)*<img", PAGE, re.DOTALL)}
    assert set(PROPS) - shown == set()


@pytest.mark.parametrize("word", sorted(word for word in chapter_texts()["shown"] if " " in word))
def test_the_picture_of_a_joint_moves_that_joint(word: str) -> None:
    """By the table of definitions, which the gallery's figures are held to."""
    line = next(line for line in DEFINITIONS.splitlines() if line.split(" ")[0] == chapter_texts()["shown"][word])
    joint, token = word.split()
    assert re.search(rf"\b{joint}(?:\.[rl])? {token}\b", line), line


@pytest.mark.parametrize("name", sorted(chapter_figures()))
def test_the_chapter_s_own_pictures_are_without_a_problem(name: str) -> None:
    """They pass the checks of a library's figures."""
    root, _ = compose(chapter_figures()[name][1], name)
    assert root is not None
    spec, problems = read_figure(root)
    assert spec is not None
    assert [problem.what for problem in (*problems, *compute_figure(spec).problems)] == []

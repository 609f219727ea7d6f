"""Problems are one visible line each, sorted by place, said once."""

from __future__ import annotations

import pytest

from handouts.commands.report import problem_record
from handouts.problems import (
    MOST_SHOWN,
    Grade,
    Place,
    Problem,
    has_errors,
    show_problem,
    show_text,
    sort_problems,
    suggest,
)


def test_no_problem_without_a_mend() -> None:
    """It cannot be made."""
    with pytest.raises(ValueError, match="problem 'x' has no mend"):
        Problem(Place("a"), "x", "y", "")


def test_what_cannot_be_seen_is_shown_as_its_code() -> None:
    """Line ends, controls that colour a terminal, marks of direction, lone surrogates; letters of any script stay."""
    assert show_text("a\nb\tc\rd") == "a\\nb\\tc\\rd"
    assert show_text("\x1b[31m\u202e\u200b\ud800") == "<U+001B>[31m<U+202E><U+200B><U+D800>"
    assert show_text("café ركبة 膝盖 🦵") == "café ركبة 膝盖 🦵"


def test_long_texts_are_cut_in_the_middle() -> None:
    """A message of a megabyte helps nobody."""
    shown = show_text("a" * 300 + "b" * 300)
    assert shown == "a" * 200 + " … " + "b" * 200
    assert show_text("a" * MOST_SHOWN) == "a" * MOST_SHOWN


def test_line_and_record() -> None:
    """The printed line and the record for tools show the same."""
    problem = Problem(Place("a\n.md", 2, 3), "rule", "the word 'x\u202e' is odd", "Mend it.", Grade.NOTICE)
    assert show_problem(problem) == "a\\n.md:2:3: notice: the word 'x<U+202E>' is odd. Mend it. [rule]"
    record = problem_record(problem)
    assert (record["file"], record["what"]) == ("a\\n.md", "the word 'x<U+202E>' is odd")


def test_order_and_repetition() -> None:
    """By place, each once; only errors keep a library from being built."""
    first, second = Problem(Place("a", 1), "r", "w", "M."), Problem(Place("a", 2), "r", "w", "M.", Grade.NOTICE)
    assert sort_problems([second, first, second]) == (first, second)
    assert has_errors([second, first]) and not has_errors([second])


def test_suggestions() -> None:
    """The nearest word, a short list, one of many, or none."""
    assert suggest("kne", ["knee", "hip"]) == "Did you mean 'knee'?"
    assert suggest("x", ["knee", "hip"]) == "Use one of: hip, knee."
    assert suggest("x", [f"name-{number:02}" for number in range(13)]) == "Use one of the 13 names declared for it, for example 'name-00'."
    assert suggest("x", []) == "Declare it first."

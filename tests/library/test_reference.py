"""The reference in the README is the declarations' own, and complete."""

from __future__ import annotations

import pytest

from handouts.library.declare import EXERCISE, FILES
from handouts.library.dose_shapes import DOSE
from tests.write_reference import README, WHERE, describe, replace_reference, write_reference


def test_readme_is_current() -> None:
    """After a change of a declaration run 'python -m tests.write_reference'."""
    text = README.read_text(encoding="utf-8")
    assert replace_reference(text) == text


def test_every_key_is_in_it() -> None:
    """Each file kind has its heading, each key its row, inner groups once."""
    made = write_reference()
    assert set(WHERE) == set(FILES)
    assert all(made.count(f"### {where}\n") == 1 for where in WHERE.values())
    for record in (EXERCISE, DOSE):
        for key, item in record.fields.items():
            assert f"| `{key}` | {item.says}" in made
    assert made.count("#### A dose\n") == made.count("#### Review\n") == 1


def test_how_values_are_written() -> None:
    """A few shapes in words."""
    fields = EXERCISE.fields
    assert describe(fields["cues"].shape) == "list, 1 to 5: a sentence, at most 140 characters"
    assert describe(fields["figure"].shape) == "keys of the figure"
    assert describe(DOSE.fields["days"].shape) == "whole number, 1 to 7"
    assert describe(DOSE.fields["effort"].shape) == "a range from 0 to 10, such as '0-10'"
    assert describe(DOSE.fields["tempo"].shape).startswith("seconds to go, hold and return")
    assert describe(DOSE.fields["weight"].shape) == "a weight such as 0.5 kg or 5 lb, at most 100 kg"


def test_a_document_without_its_lines_is_refused() -> None:
    """The reference is never lost without a word."""
    with pytest.raises(ValueError, match="no lines for the reference"):
        replace_reference("# handouts\n")

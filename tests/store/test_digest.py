"""One digest of values: equal for equal ones, in every process, and different for different ones."""

from __future__ import annotations

import subprocess
import sys
from dataclasses import dataclass, replace
from datetime import date
from enum import Enum
from itertools import combinations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from markupsafe import Markup

from handouts.problems import Grade, Place, Problem
from handouts.store.digest import digest, digest_places
from handouts.tasks.calling import File
from tests.store.tasks import Text


class Colour(Enum):
    """Has a member that is written as one of another kind."""

    ERROR = "error"


@dataclass(frozen=True)
class Other:
    """The fields of ``Text``, by another name."""

    text: str
    place: Place


HERE = Place("a.md", 3, 4)
DIFFERENT = [
    "", "a", b"a", b"", 1, 1.0, True, "1", None, (), ("a",), ("a", "b"), ("ab",), (("a",), "b"), ("a", ("b",)), frozenset({"a"}), {"a": "b"}, {"ab": ""},
    {"a": {"b": "c"}}, Markup("a"), Grade.ERROR, Colour.ERROR, date(2026, 1, 2), "2026-01-02", Text("a", HERE), Other("a", HERE), 0.0, 0, False, (1, 2), (12,),
    ("1:a", ""), ("1:", "a"), (None,), ("n",),
]


def test_different_values() -> None:
    """However alike they are."""
    for first, second in combinations(DIFFERENT, 2):
        assert digest(first) != digest(second), (first, second)


VALUES = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats(allow_nan=False) | st.text(max_size=4) | st.binary(max_size=4),
    lambda inside: st.lists(inside, max_size=3).map(tuple) | st.dictionaries(st.text(max_size=3), inside, max_size=3),
    max_leaves=8,
)


@given(VALUES, VALUES)
def test_digest_tells_values_apart(first: object, second: object) -> None:
    """Two values have one digest where they have one form; a whole number and a fraction have two."""
    assert (digest(first) == digest(second)) == (repr_sorted(first) == repr_sorted(second))


def repr_sorted(value: object) -> str:
    """Another form of a value that does not know the order of a mapping."""
    if isinstance(value, dict):
        return "{" + ", ".join(sorted(f"{key!r}: {repr_sorted(item)}" for key, item in value.items())) + "}"
    return f"({', '.join(map(repr_sorted, value))},)" if isinstance(value, tuple) else repr(value)


def test_order_of_sets_and_mappings() -> None:
    """It does not count, in this process nor in one with another seed of its hashes."""
    words = [f"word {number}" for number in range(50)]
    assert digest(dict.fromkeys(words, 1)) == digest(dict.fromkeys(reversed(words), 1))
    code = "from handouts.store.digest import digest; print(digest(frozenset(f'word {n}' for n in range(50))).hex())"
    found = {
        subprocess.run([sys.executable, "-c", code], env={"PYTHONHASHSEED": seed}, capture_output=True, text=True, check=True).stdout.strip()
        for seed in ("1", "2")
    }
    assert found == {digest(frozenset(words)).hex()}


def test_places_are_left_out() -> None:
    """They have a digest of their own."""
    text, moved = Text("a", HERE), Text("a", replace(HERE, line=9))
    assert digest((text,)) == digest((moved,))
    assert digest_places(text) != digest_places(moved) and digest_places("a", (1, None)) == b""
    assert digest_places(Problem(HERE, "a", "b", "C.")) == digest_places({"x": (HERE,)})


def test_a_list_is_a_row() -> None:
    """Data that was kept comes back with lists in place of tuples, and is the same data."""
    assert digest({"a": [1, (2,)]}) == digest({"a": (1, [2])}) != digest({"a": (1, 2)})


@pytest.mark.parametrize("value", [object(), lambda: None, {1}, bytearray(b"a"), Other])
def test_unknown_types_are_refused(value: object) -> None:
    """And those that may change."""
    for whole in (value, (value,), {"a": value}):
        with pytest.raises(TypeError, match="has no digest"):
            digest(whole)


def test_a_file_is_its_bytes() -> None:
    """What a task gives as a file of its own may be an argument of the next one."""
    assert digest(File(b"%PDF")) == digest(b"%PDF") != digest(File(b"%PDG"))

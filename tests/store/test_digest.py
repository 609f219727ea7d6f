"""One digest of values: equal for equal ones, in every process, and different for different ones."""

from __future__ import annotations

import pkgutil
import subprocess
import sys
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, fields, is_dataclass
from datetime import date
from enum import Enum
from importlib import import_module
from itertools import combinations
from types import NoneType, UnionType
from typing import Any, Union, get_args, get_origin, get_type_hints

import pytest
from hypothesis import given
from hypothesis import strategies as st
from markupsafe import Markup

import handouts
from handouts.problems import Grade, Place, Problem
from handouts.store.digest import digest, digest_places
from handouts.tasks.calling import File
from tests.store.tasks import Text


@dataclass(frozen=True)
class Other:
    """Like ``Text``, with another field."""

    words: str
    place: Place


HERE = Place("a.md", 3, 4)
DIFFERENT = [
    "", "a", b"a", b"", 1, 1.0, True, "1", None, (), ("a",), ("a", "b"), ("ab",), (("a",), "b"), ("a", ("b",)), frozenset({"b"}), {"a": "b"}, {"ab": ""},
    {"a": {"b": "c"}}, Markup("a"), Grade.ERROR, Grade.NOTICE, date(2026, 1, 2), date(2026, 1, 3), Text("a", HERE), Other("a", HERE), 0.0, 0, False, (1, 2), (12,),
    ("1:a", ""), ("1:", "a"), (None,), ("n",), {1: "a"}, {2: "a"},
]


def test_different_values() -> None:
    """However alike they are."""
    for first, second in combinations(DIFFERENT, 2):
        assert digest(first) != digest(second), (first, second)


VALUES = st.recursive(
    st.none() | st.booleans() | st.integers(-(2**63), 2**64 - 1) | st.floats(allow_nan=False) | st.text(max_size=4) | st.binary(max_size=4),
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


def test_numbers_of_any_size() -> None:
    """What an author may write is no fault of the program."""
    assert digest((2**70, "a")) == digest((2**70, "a")) != digest((2**70 + 1, "a"))


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


@dataclass(frozen=True)
class Pages:
    """A record as the sheets have it: pages by number."""

    by_number: Mapping[int, tuple[str, ...]]


def test_mappings_by_numbers_within_a_record() -> None:
    one, other = {1: ("a",), 20: ("b",)}, {20: ("b",), 1: ("a",)}
    assert digest((Pages(one), "x")) == digest((Pages(other), "x"))
    assert digest(Pages(one)) != digest(Pages({1: ("b",), 20: ("a",)}))
    assert digest(Pages(one)) != digest(Pages({1: ("a",), 2: ("b",)}))
    assert digest({(1, "a"): Pages(one)}) == digest({(1, "a"): Pages(other)})
    with pytest.raises(TypeError):
        digest((Pages(one), object()))


def test_places_are_left_out() -> None:
    """They have a digest of their own."""
    text, moved = Text("a", HERE), Text("a", Place("a.md", 9, 4))
    assert digest((text,)) == digest((moved,))
    assert digest_places(text) != digest_places(moved) and digest_places("a", (1, None)) == b""
    assert digest_places(Problem(HERE, "a", "b", "C.")) == digest_places({"x": (HERE,)})


def test_a_list_is_a_row() -> None:
    """Data that was kept comes back with lists in place of tuples, and is the same data."""
    assert digest({"a": [1, (2,)]}) == digest({"a": (1, [2])}) != digest({"a": (1, 2)})


@pytest.mark.parametrize("value", [object(), lambda: None, Other, 1j])
def test_unknown_types_are_refused(value: object) -> None:
    """Nothing is compared by its address."""
    for whole in (value, (value,), {"a": value}):
        with pytest.raises(TypeError, match="has no digest"):
            digest(whole)


def test_no_field_holds_two_kinds_that_are_written_alike() -> None:
    """The name of a class is no part of a digest, so records that may stand in one place have other fields, and texts stand beside no day or choice.

    A class that a module keeps to itself is no argument of a task.
    """
    found = [kind for name in modules() for kind in vars(import_module(name)).values() if isinstance(kind, type) and kind.__module__ == name]
    kinds = [kind for kind in found if is_dataclass(kind) and not kind.__name__.startswith("_")]
    assert len(kinds) > 300
    for kind in kinds:
        for name, hint in get_type_hints(kind, localns={"Cluster": object}).items():
            for among in unions_in(hint):
                records = [shape_of(each) for each in among]
                assert len({*records}) == len(records), f"{kind.__module__}.{kind.__name__}.{name}: {records}"
    assert [each for each in unions_in(Mapping[str, tuple[str | date, ...]] | None) if len(each) == 2] == [(str, date)]
    assert shape_of(str) == shape_of(date) == shape_of(Grade) != shape_of(Text) != shape_of(Other)


def modules() -> list[str]:
    """Every module of the package that can be imported anywhere."""
    return [each.name for each in pkgutil.walk_packages(handouts.__path__, "handouts.") if not each.name.endswith((".cluster", "__main__"))]


def unions_in(hint: Any) -> Iterator[tuple[Any, ...]]:
    """The types that may stand in one place, for each such place in a type; a class with those below it."""
    parts = [each for each in get_args(hint) if each is not NoneType]
    if get_origin(hint) in (Union, UnionType):
        yield tuple(below for each in parts for below in with_subclasses(each))
    elif is_dataclass(hint) and isinstance(hint, type):
        yield tuple(with_subclasses(hint))
    for each in parts if get_origin(hint) not in (type, Callable) else ():
        if not isinstance(each, str | list):
            yield from unions_in(each)


def with_subclasses(kind: Any) -> Iterator[Any]:
    """A record's class and those below it."""
    yield kind
    if isinstance(kind, type) and is_dataclass(kind):
        for below in kind.__subclasses__():
            yield from with_subclasses(below)


def shape_of(kind: Any) -> object:
    """What tells a value of a type from others in a digest."""
    if isinstance(kind, type) and is_dataclass(kind):
        return tuple(sorted(field.name for field in fields(kind)))
    kind = get_origin(kind) or kind
    if isinstance(kind, type) and (kind in (str, date) or issubclass(kind, Enum)):
        return "text"
    return "row" if kind in (tuple, list, frozenset) else kind


def test_a_file_is_its_bytes() -> None:
    """What a task gives as a file of its own may be an argument of the next one."""
    assert digest(File(b"%PDF")) == digest(b"%PDF") != digest(File(b"%PDG"))

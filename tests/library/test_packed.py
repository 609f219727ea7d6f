"""Files of a library as they are kept: the same values again, and nothing that runs."""

from __future__ import annotations

import pickle
from collections.abc import Callable
from functools import partial
from pathlib import Path
from typing import Any

import pytest

from handouts.library.packed import pack, unpack
from handouts.library.read import read_library
from handouts.problems import Place
from handouts.source.nodes import compose
from tests.small_library import TEXTS

FILES = {path: text.encode() for path, text in TEXTS.items()}


def test_the_same_library() -> None:
    """With its places, and with the problems of a file that has some."""
    files = {**FILES, "tiers.yaml": FILES["tiers.yaml"] + b"- what: is this\n"}
    packed = list[bytes]()

    def call(task: Callable[..., bytes], *arguments: Any) -> bytes:
        packed.append(task(*arguments))
        return packed[-1]

    for given in (FILES, files):
        assert repr(read_library(given, "content", call)) == repr(read_library(given, "content"))
    assert len(packed) > len(FILES) and all(unpack(each) is not None for each in packed)


class Hostile:
    """Calls something when it is read."""

    def __init__(self, call: Any, *arguments: Any) -> None:
        self._way = call, arguments

    def __reduce__(self) -> Any:
        return self._way


@pytest.mark.parametrize("way", [
    lambda path: Hostile(Path.touch, path),
    lambda path: Hostile(partial, Path.touch, path),
    lambda path: Hostile(compose, "a: b", str(path)),
    lambda path: Hostile(eval, f"open({str(path)!r}, 'w')"),
])  # fmt: skip
def test_nothing_runs(tmp_path: Path, way: Callable[[Path], Hostile]) -> None:
    """Bytes that call anything but a class of the model are as if nothing had been kept; the file is read."""
    hostile = pickle.dumps(((Place("a"), way(tmp_path / "made")), []))
    assert unpack(hostile) is None and not (tmp_path / "made").exists()
    assert repr(read_library(FILES, "content", lambda *_: hostile)) == repr(read_library(FILES, "content"))  # type: ignore[arg-type]
    assert not (tmp_path / "made").exists()


def test_damage_is_no_value() -> None:
    """Bytes that are cut, or none."""
    assert unpack(pack((Place("a"), []))[:-3]) is unpack(b"") is None

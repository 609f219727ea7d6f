"""Small results kept between builds: only for the same key and the same program, and only while they are asked for."""

from __future__ import annotations

from pathlib import Path

import pytest

from handouts.store import program
from handouts.store.cache import Cache
from handouts.store.recall import Recall


def ask(cache: Cache, *keys: str, name: str = "a") -> list[str]:
    """Ask for some keys; tells which results were made."""
    made: list[str] = []
    known = Recall(cache, name)
    for key in keys:

        def make(key: str = key) -> bytes:
            made.append(key)
            return f"<{key}>\n".encode()

        assert known.ask(key, make) == f"<{key}>\n".encode()
    known.write()
    return made


def test_asked_again(tmp_path: Path) -> None:
    """What was made is not made again, in this build or the next; other names and new keys are."""
    cache = Cache(tmp_path)
    assert ask(cache, "x", "y", "x", "") == ["x", "y", ""]
    assert ask(cache, "y", "z", "x") == ["z"]
    assert ask(cache, "x", name="b") == ["x"]


def test_what_is_not_asked_for_is_forgotten(tmp_path: Path) -> None:
    """So that nothing grows."""
    cache = Cache(tmp_path)
    ask(cache, "x", "y")
    size = sum(path.stat().st_size for path in tmp_path.rglob("*") if path.is_file())
    assert ask(cache, "x") == []
    assert sum(path.stat().st_size for path in tmp_path.rglob("*") if path.is_file()) < size
    assert ask(cache, "x", "y") == ["y"]


def test_nothing_of_another_program(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Another program, or other packages, may answer otherwise."""
    cache = Cache(tmp_path)
    ask(cache, "x")
    for part in ("program_digest", "packages_digest"):
        monkeypatch.setattr(program, part, lambda part=part: part)
        assert ask(cache, "x") == ["x"]
        assert ask(cache, "x") == []


def test_damage_is_not_served(tmp_path: Path) -> None:
    """A damaged entry is no entry."""
    cache = Cache(tmp_path)
    ask(cache, "x")
    (entry,) = (path for path in tmp_path.rglob("*") if path.is_file())
    data = entry.read_bytes()
    entry.write_bytes(data[:-2] + b"?\n")
    assert ask(cache, "x") == ["x"]


def test_where_nothing_is_kept() -> None:
    """Without a folder each result is made once in a build."""
    known = Recall()
    assert [known.ask("x", lambda: b"1"), known.ask("x", lambda: b"2")] == [b"1", b"1"]
    known.write()
    assert Recall().ask("x", lambda: b"3") == b"3"

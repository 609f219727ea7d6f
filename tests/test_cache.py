"""Kept results: verified on every read, never wrong."""

from __future__ import annotations

from pathlib import Path

from handouts.cache import Cache, key_of


def test_round_trip(tmp_path: Path) -> None:
    """What was put under a key comes back under it, and under no other."""
    cache = Cache(tmp_path / "cache")
    cache.put(key_of("a"), b"body")
    assert cache.get(key_of("a")) == b"body"
    assert cache.get(key_of("b")) is None


def test_keys_tell_parts_apart() -> None:
    """The same letters in other parts give another key."""
    assert len({key_of("ab", "c"), key_of("a", "bc"), key_of("abc"), key_of("ab", "c", "")}) == 4


def test_every_flipped_bit_is_a_miss(tmp_path: Path) -> None:
    """No entry with one bit changed, cut short, or moved to another key is served."""
    cache, key = Cache(tmp_path), key_of("a")
    cache.put(key, b"a small body")
    (entry,) = (path for path in tmp_path.rglob("*") if path.is_file())
    whole = entry.read_bytes()
    for bit in range(len(whole) * 8):
        damaged = bytearray(whole)
        damaged[bit // 8] ^= 1 << bit % 8
        entry.write_bytes(damaged)
        assert cache.get(key) is None
    for length in range(len(whole)):
        entry.write_bytes(whole[:length])
        assert cache.get(key) is None
    other = key_of("b")
    moved = tmp_path / other[:2] / other[2:]
    moved.parent.mkdir(exist_ok=True)
    moved.write_bytes(whole)
    assert cache.get(other) is None


def test_no_folder_keeps_nothing() -> None:
    """Without a folder every read is a miss."""
    cache = Cache(None)
    cache.put("00ff", b"x")
    assert cache.get("00ff") is None


def test_unwritable_folder_is_no_fault(tmp_path: Path) -> None:
    """A cache that cannot be written is passed over."""
    (tmp_path / "file").write_text("")
    cache = Cache(tmp_path / "file")
    cache.put(key_of("a"), b"x")
    assert cache.get(key_of("a")) is None

"""Kept results: verified on every read, never wrong."""

from __future__ import annotations

from pathlib import Path

from handouts.store.cache import Cache, key_of, sweep
from handouts.store.whole_file import FRESH
from tests.faults.layer import Layer
from tests.long.cache_bits import count_served
from tests.long.disk_full import failing


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


def test_half_written_entries_are_swept(tmp_path: Path) -> None:
    """What a killed build was writing is removed; entries stay."""
    cache = Cache(tmp_path / "figures")
    cache.put(key_of("a"), b"x")
    (tmp_path / "figures" / FRESH / "half").write_bytes(b"")
    sweep(tmp_path)
    sweep(tmp_path / "nowhere")
    assert not (tmp_path / "figures" / FRESH).exists()
    assert cache.get(key_of("a")) == b"x"


def test_every_key_is_of_its_own(tmp_path: Path) -> None:
    """Keys with one beginning stand in one folder, each with its own body."""
    cache, keys = Cache(tmp_path), ["00" + key_of(str(number))[2:] for number in range(20)]
    for key in keys:
        cache.put(key, key.encode())
    assert [cache.get(key) for key in keys] == [key.encode() for key in keys]
    assert list((tmp_path / FRESH).iterdir()) == []


def test_full_disk_is_no_fault(tmp_path: Path) -> None:
    """Whatever step fails, nothing is raised, nothing half is served, and the next build keeps the result."""
    for number in range(8):
        cache, key = Cache(tmp_path / str(number)), key_of("a")
        with Layer(tmp_path, failing(number, "no room once")).over():
            cache.put(key, b"a body of some length")
        assert cache.get(key) in (None, b"a body of some length")
        cache.put(key, b"a body of some length")
        assert cache.get(key) == b"a body of some length"


def test_random_damages() -> None:
    """Three entries, 500 random damages; ``tests/long/cache_bits.py`` tries ten and 100,000."""
    tally = count_served(3, 500, seed=5)
    assert {kind: served for kind, (_, served) in tally.items()} == dict.fromkeys(("one bit", "cut", "moved", "random bits"), 0)
    assert tally["one bit"][0] == 8 * (32 + 33 + 39)

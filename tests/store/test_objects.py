"""Kept files: verified on every read, never wrong, with the rights of what is published."""

from __future__ import annotations

import os
import stat
from pathlib import Path

import pytest

from handouts.store.objects import Objects
from handouts.store.whole_file import FRESH, sweep
from tests.faults.layer import Layer
from tests.long.cache_bits import count_served
from tests.long.disk_full import failing


def test_round_trip(tmp_path: Path) -> None:
    """What was put comes back under its name, and under no other; without a folder nothing does."""
    kept = Objects(tmp_path / "kept")
    name = kept.put(b"body")
    assert (kept.get(name), kept.get(name[::-1]), kept.get("")) == (b"body", None, None)
    assert Objects(None).get(Objects(None).put(b"body")) is None


def test_nothing_is_written_into_an_object(tmp_path: Path) -> None:
    """Bytes that are kept already stay as they are; where they are damaged or closed another file takes their place."""
    kept = Objects(tmp_path)
    name = kept.put(b"body")
    path, before = kept.path(name), kept.path(name).stat().st_ino
    assert (kept.put(b"body"), path.stat().st_ino) == (name, before)
    os.link(path, tmp_path / "published")
    (tmp_path / "published").write_bytes(b"BODY")
    assert (kept.get(name), kept.put(b"body"), kept.get(name)) == (None, name, b"body")
    path.chmod(0o600)
    kept.put(b"body")
    assert (tmp_path / "published").read_bytes() == b"BODY"
    assert stat.S_IMODE(path.stat().st_mode) == 0o644


@pytest.mark.parametrize("umask", [0o077, 0o000])
def test_a_web_server_reads_it(tmp_path: Path, umask: int) -> None:
    """Whatever the umask."""
    before = os.umask(umask)
    try:
        kept = Objects(tmp_path / "kept")
        assert stat.S_IMODE(kept.path(kept.put(b"body")).stat().st_mode) == 0o644
    finally:
        os.umask(before)


def test_what_is_half_written_is_swept(tmp_path: Path) -> None:
    """What a killed build was writing is removed; objects stay."""
    kept = Objects(tmp_path)
    name = kept.put(b"x")
    (tmp_path / FRESH / "half").write_bytes(b"")
    sweep(tmp_path, tmp_path / "nowhere")
    assert not (tmp_path / FRESH).exists()
    assert kept.get(name) == b"x"


def test_full_disk(tmp_path: Path) -> None:
    """Whatever step fails, nothing half is served or left, and the next build keeps the bytes."""
    for number in range(9):
        kept = Objects(tmp_path / str(number))
        with Layer(tmp_path, failing(number, "no room once")).over():
            try:
                name = kept.put(b"a body of some length")
            except OSError:
                name = ""
        assert name == "" or kept.get(name) == b"a body of some length"
        assert not list((tmp_path / str(number)).glob(f"{FRESH}/*"))
        assert kept.get(kept.put(b"a body of some length")) == b"a body of some length"


def test_random_damages() -> None:
    """Three results and a journal, 500 random damages; ``tests/long/cache_bits.py`` tries ten and 100,000."""
    tally = count_served(3, 500, seed=5)
    assert {kind: served for kind, (_, served) in tally.items()} == dict.fromkeys(("one bit", "cut", "moved", "random bits"), 0)
    assert tally["one bit"][0] > 8 * (1 + 7)

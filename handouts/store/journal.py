"""The journal of a store: one file of sealed batches, each with results of one task as one state of the code gave them.

A batch is its length, the SHA-256 of its body, and the body.  What is added goes to the end in one write; after a build the
file is written anew with what is still wanted.  A batch that is damaged or cut is as if it were not there.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Iterator
from contextlib import suppress
from pathlib import Path

import msgspec

from handouts.store.whole_file import write_whole

_HEAD = 8 + 32
"""Bytes before the body: its length, big end first, and its SHA-256."""
ROWS = 4096
"""Results in one batch at most: what one fault of the disk can cost."""


class JournalRow(msgspec.Struct, frozen=True, array_like=True):
    """A result."""

    value: bytes
    """As it was encoded; empty where it is an object of its own."""
    name: str = ""
    """Of the object that holds it."""
    places: bytes = b""
    """Digest of the places in what it was made from, where it names any itself."""
    files: tuple[str, ...] = ()
    """Names of the objects that hold files in it."""
    parts: dict[str, bytes] = {}
    """Of a large one: short digests of what it was made from, by name."""


class Batch(msgspec.Struct, frozen=True, array_like=True):
    """Results of one task."""

    task: str
    code: bytes
    age: int
    """0 where the last build asked for them, 1 where only the one before did."""
    rows: dict[bytes, JournalRow]


def read_batches(path: Path) -> Iterator[Batch]:
    """The batches that are whole, in their order."""
    try:
        data = memoryview(path.read_bytes())
    except OSError:
        return
    decoder, at = msgspec.msgpack.Decoder(Batch), 0
    while at + _HEAD <= len(data):
        start, length = at + _HEAD, int.from_bytes(data[at : at + 8], "big")
        body = data[start : start + length]
        if len(body) == length and hashlib.sha256(body).digest() == data[at + 8 : start]:
            with suppress(msgspec.MsgspecError):  # of a release that kept them in another way
                yield decoder.decode(body)
        at = start + length


def add_batches(path: Path, batches: Iterable[Batch]) -> None:
    """Add batches to the end.  Raises ``OSError``."""
    data = _write(batches)
    if data:
        path.parent.mkdir(parents=True, exist_ok=True)
        with path.open("ab", buffering=0) as stream:
            stream.write(data)


def replace_batches(path: Path, batches: Iterable[Batch]) -> None:
    """Write the journal anew.  Raises ``OSError``; then it is as it was."""
    write_whole(path.parent, path, _write(batches))


def _write(batches: Iterable[Batch]) -> bytes:
    encoder, parts = msgspec.msgpack.Encoder(), list[bytes]()
    for batch in batches:
        pairs = list(batch.rows.items())
        for start in range(0, len(pairs), ROWS):
            body = encoder.encode(Batch(batch.task, batch.code, batch.age, dict(pairs[start : start + ROWS])))
            parts += (len(body).to_bytes(8, "big"), hashlib.sha256(body).digest(), body)
    return b"".join(parts)

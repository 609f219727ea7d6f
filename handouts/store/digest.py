"""One digest of frozen values, by their structure: equal values have equal digests in every process.

A class may say by what its values are known (``known_by``).
Sets and mappings are sorted, and where a value stands in its file (``Place``) is left out: it can be asked for apart.
A type that is not known here is refused, so that nothing is compared by its address.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import fields, is_dataclass
from datetime import date
from enum import Enum
from hashlib import blake2b
from operator import itemgetter
from typing import Any

from handouts.problems import Place

DIGEST_BYTES = 16
"""Length of a digest: two of 1e9 values are alike by chance once in 1e20."""
PART_BYTES, PART_DEPTH = 4, 3
"""Length of the digest of a part, which only says what changed; how deep a value is looked into for that."""
Write = Callable[[Any, list[bytes]], None]


def digest(value: object) -> bytes:
    """The digest of a value; raises ``TypeError`` for one that holds an unknown type."""
    out: list[bytes] = []
    _write(value, out)
    return blake2b(b"".join(out), digest_size=DIGEST_BYTES).digest()


def digest_places(*values: object) -> bytes:
    """The digest of every place in values, in their order; empty where they hold none."""
    found = [f"{place}" for place in places_in(values)]
    return blake2b("\n".join(found).encode(), digest_size=DIGEST_BYTES).digest() if found else b""


def places_in(value: object) -> Iterator[Place]:
    """Every place in a value, in its order."""
    if isinstance(value, Place):
        yield value
    elif is_dataclass(value):
        for field in fields(value):
            yield from places_in(getattr(value, field.name))
    elif isinstance(value, Mapping):
        for item in value.values():
            yield from places_in(item)
    elif isinstance(value, tuple | list | frozenset | set):
        for item in value:
            yield from places_in(item)


def digest_parts(value: object, name: str = "", depth: int = PART_DEPTH) -> Iterator[tuple[str, bytes]]:
    """What a value is made of, each part with a name for people and a short digest."""
    parts: list[tuple[str, object]] = []
    if depth and is_dataclass(value):
        parts = [(field.name, getattr(value, field.name)) for field in fields(value)]
    elif depth and isinstance(value, Mapping):
        parts = [(str(key), item) for key, item in value.items()]
    elif depth and isinstance(value, tuple):
        parts = [(str(getattr(item, "key", number)), item) for number, item in enumerate(value, 1)]
    for each, item in parts:
        yield from digest_parts(item, f"{name} {each}".strip(), depth - 1)
    if not parts:
        yield name, digest(value)[:PART_BYTES]


def _write(value: object, out: list[bytes]) -> None:
    kind = type(value)
    (_WRITERS.get(kind) or _writer_for(kind))(value, out)


def _write_text(value: str, out: list[bytes]) -> None:
    data = value.encode("utf-8", "surrogatepass")
    out.append(b"s%d:" % len(data))
    out.append(data)


def _write_bytes(value: bytes, out: list[bytes]) -> None:
    out.append(b"b%d:" % len(value))
    out.append(value)


def _write_number(value: float, out: list[bytes]) -> None:
    out.append(f"{type(value).__name__[0]}{value!r};".encode())


def _write_nothing(_value: None, out: list[bytes]) -> None:
    out.append(b"n")


def _write_place(_value: Place, out: list[bytes]) -> None:
    out.append(b"p")


def _write_day(value: date, out: list[bytes]) -> None:
    out.append(f"D{type(value).__name__}{value.isoformat()};".encode())


def _write_row(value: Any, out: list[bytes]) -> None:
    out.append(b"t%d:" % len(value))
    for item in value:
        _write(item, out)


def _write_set(value: Any, out: list[bytes]) -> None:
    out.append(b"S%d:" % len(value))
    out += sorted(map(_whole, value))


def _write_mapping(value: Mapping[Any, Any], out: list[bytes]) -> None:
    out.append(b"m%d:" % len(value))
    for key, item in sorted(((_whole(key), item) for key, item in value.items()), key=itemgetter(0)):
        out.append(key)
        _write(item, out)


def _whole(value: object) -> bytes:
    out: list[bytes] = []
    _write(value, out)
    return b"".join(out)


_WRITERS: dict[type, Write] = {
    str: _write_text, bytes: _write_bytes, bool: _write_number, int: _write_number, float: _write_number,
    type(None): _write_nothing, Place: _write_place, tuple: _write_row, list: _write_row, frozenset: _write_set, dict: _write_mapping,
}  # fmt: skip
"""How a value of each type is written; further types are added when they are met first."""


def _writer_for(kind: type) -> Write:
    """How values of a type are written that was not met before."""
    name = f"{kind.__module__}.{kind.__qualname__}".encode()
    writer: Write
    if issubclass(kind, Enum):

        def writer(value: Any, out: list[bytes]) -> None:
            out.append(b"e%s.%s;" % (name, value.name.encode()))

    elif is_dataclass(kind):
        writer = _writer_of_fields(name, tuple(field.name for field in fields(kind)))
    elif issubclass(kind, str):

        def writer(value: Any, out: list[bytes]) -> None:
            out.append(b"x%s" % name)
            _write_text(str(value), out)

    elif issubclass(kind, bytes):
        writer = _write_bytes  # a file of its own is its bytes
    elif hasattr(kind, "known_by"):

        def writer(value: Any, out: list[bytes]) -> None:
            out.append(b"k%s" % name)
            _write(value.known_by(), out)

    elif issubclass(kind, date):
        writer = _write_day
    elif issubclass(kind, tuple):

        def writer(value: Any, out: list[bytes]) -> None:
            out.append(b"x%s" % name)
            _write_row(value, out)

    elif issubclass(kind, Mapping):
        writer = _write_mapping
    else:
        raise TypeError(f"a value of the type {kind.__module__}.{kind.__qualname__} has no digest")
    _WRITERS[kind] = writer
    return writer


def _writer_of_fields(name: bytes, names: tuple[str, ...]) -> Write:
    def write(value: Any, out: list[bytes]) -> None:
        out.append(b"o%s%d:" % (name, len(names)))
        for each in names:
            item = getattr(value, each)
            kind = type(item)
            (_WRITERS.get(kind) or _writer_for(kind))(item, out)

    return write

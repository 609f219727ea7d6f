"""One digest of frozen values, by what their fields hold: equal values have equal digests in every process.

A class may say by what its values are known (``known_by``).
Sets and mappings are sorted, and where a value stands in its file (``Place``) is left out: it can be asked for apart.
A type that is not known here is refused, so that nothing is compared by its address.  The name of a class is no part of a digest:
one field never holds values of two classes with the same fields (``tests/store/test_digest.py`` looks at every class).
"""

from __future__ import annotations

import pickle
from collections.abc import Iterator, Mapping
from dataclasses import fields, is_dataclass
from hashlib import blake2b
from operator import itemgetter
from typing import Any

import msgspec

from handouts.problems import Place

DIGEST_BYTES = 16
"""Length of a digest: two of 1e9 values are alike by chance once in 1e20."""
PART_BYTES, PART_DEPTH = 4, 3
"""Length of the digest of a part, which only says what changed; how deep a value is looked into for that."""


def digest(value: object) -> bytes:
    """The digest of a value; raises ``TypeError`` for one that holds an unknown type."""
    try:
        data = _ENCODER.encode(value)
    except TypeError:  # msgspec orders no mapping by keys that are not texts; an unknown type is refused again
        data = _ENCODER.encode(_in_pairs(value))
    except OverflowError:  # a number of more than 64 bits: two that are equal may be told apart then, never the other way round
        data = pickle.dumps(value)
    return blake2b(data, digest_size=DIGEST_BYTES).digest()


def _in_pairs(value: Any) -> Any:
    """A value with each mapping in it as pairs, in the order of their keys as msgspec writes them."""
    if isinstance(value, Mapping):
        return sorted(((_ENCODER.encode(_in_pairs(key)), _in_pairs(item)) for key, item in value.items()), key=itemgetter(0))
    if hasattr(value, "__dataclass_fields__") and not isinstance(value, type):
        return {name: _in_pairs(getattr(value, name)) for name in value.__dataclass_fields__}
    if type(value) in (tuple, list):
        return [_in_pairs(each) for each in value]
    return value


def _known(value: Any) -> Any:
    """What stands for a value of a class that msgspec does not know."""
    kind = type(value)
    if kind is Place:
        return None
    if isinstance(value, str):
        return f"{kind.__module__}.{kind.__qualname__}", str.__str__(value)  # markup is another value than a text
    if isinstance(value, bytes):
        return bytes(value)  # a file of its own is its bytes
    if hasattr(kind, "known_by"):
        return value.known_by()
    if isinstance(value, Mapping):
        return dict(value)
    raise TypeError(f"a value of the type {kind.__module__}.{kind.__qualname__} has no digest")


_ENCODER = msgspec.msgpack.Encoder(enc_hook=_known, order="deterministic")


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

"""Values of a library as bytes and back, for what is kept: only classes of the model are ever called, so no code of others can run."""

from __future__ import annotations

import pickle
from dataclasses import fields, is_dataclass
from functools import cache
from io import BytesIO
from typing import Any

ROOMS = ("handouts.model.", "handouts.source.nodes.", "handouts.problems.", "datetime.")
"""Where the classes of values stand."""


def pack(value: object) -> bytes:
    """A value as bytes."""
    out = BytesIO()
    _Packer(out, pickle.HIGHEST_PROTOCOL).dump(value)
    return out.getvalue()


def unpack(packed: bytes) -> Any:
    """The value; None where the bytes are anything but what ``pack`` gives."""
    try:
        return _Unpacker(BytesIO(packed)).load()
    except Exception:  # whatever a text that somebody else wrote makes of it
        return None


class _Packer(pickle.Pickler):
    """Takes a frozen value as its class and what that is called with, which is read again twice as fast as field by field."""

    def reducer_override(self, value: object) -> Any:
        """Class and arguments."""
        names = _arguments_of(type(value))  # type: ignore[arg-type]
        return (type(value), tuple(getattr(value, name) for name in names)) if names else NotImplemented


class _Unpacker(pickle.Unpickler):
    def find_class(self, module: str, name: str) -> Any:
        """A class of the model by its name."""
        found = super().find_class(module, name) if f"{module}.".startswith(ROOMS) else None
        if not isinstance(found, type) or found.__module__ != module:
            raise pickle.UnpicklingError(f"{module}.{name} is no value of a library")
        return found


@cache
def _arguments_of(kind: type) -> tuple[str, ...]:
    """The fields of a class that is called with all of them in their order; none for any other."""
    own = fields(kind) if is_dataclass(kind) else ()
    return tuple(field.name for field in own) if all(field.init and not field.kw_only for field in own) else ()

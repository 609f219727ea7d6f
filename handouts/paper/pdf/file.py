"""A PDF file written object by object (ISO 32000-1): streams as they come, all else in one object stream.

Knows the syntax of the file only; the same calls give the same bytes.
"""

from __future__ import annotations

import zlib
from hashlib import sha256

BEST, QUICK, LEAST = 9, 5, 1
"""How hard zlib tries: streams that are kept and used again; what is packed for each document anew (2 % larger, a quarter of the time);
rows of numbers that count up, which are a quarter shorter so, in a hundredth of the time."""
DEFLATED = b"/Filter/FlateDecode"
_HEAD = b"%PDF-1.7\n%\xf0\x9f\x96\xa4\n"


def deflate(data: bytes, effort: int = BEST) -> bytes:
    """Data as the filter FlateDecode reads it."""
    return zlib.compress(data, effort)


def write_number(value: float) -> bytes:
    """A number with at most four decimals: 1/10,000 point is far below what is seen."""
    text = f"{value:.4f}".rstrip("0").rstrip(".")
    return b"0" if text in ("-0", "") else text.encode()


def write_text(text: str) -> bytes:
    """A text string: ASCII as it is, all else as UTF-16 with its mark (ISO 32000-1, 7.9.2.2)."""
    if text.isascii() and text.isprintable():
        return b"(" + text.replace("\\", "\\\\").replace("(", "\\(").replace(")", "\\)").encode() + b")"
    return b"<" + (b"\xfe\xff" + text.encode("utf-16-be")).hex().encode() + b">"


class PdfFile:
    """A file in the making: numbers are taken first, objects put under them in any order."""

    def __init__(self) -> None:
        self._parts, self._length = [_HEAD], len(_HEAD)
        self._where: dict[int, int] = {}
        self._packed: list[tuple[int, bytes]] = []
        self._next = 1
        self._once: dict[bytes, int] = {}

    def take(self, count: int = 1) -> int:
        """The first of so many new numbers."""
        self._next += count
        return self._next - count

    def put(self, number: int, data: bytes) -> None:
        """An object that is no stream."""
        self._packed.append((number, data))

    def put_stream(self, number: int, data: bytes, entries: bytes = b"", read: bytes = DEFLATED) -> None:
        """A stream whose data is deflated already, or is ``read`` in another way."""
        self.put_whole(number, b"<<%b/Length %d%b>>\nstream\n%b\nendstream" % (read, len(data), entries, data))

    def put_whole(self, number: int, data: bytes) -> None:
        """An object that stands in the file by itself, as streams must."""
        self._where[number] = self._length
        data = b"%d 0 obj\n%b\nendobj\n" % (number, data)
        self._parts.append(data)
        self._length += len(data)

    def put_once(self, data: bytes, read: bytes = b"") -> int:
        """The number of a stream without entries of its own; the same data stands once."""
        if data not in self._once:
            self._once[data] = self.take()
            self.put_stream(self._once[data], data, read=read)
        return self._once[data]

    def finish(self, catalog: int, info: int) -> bytes:
        """The bytes of the file; its identifier is a hash of its content."""
        container, at = self.take(), 0
        heads, bodies = [], []
        for number, data in self._packed:
            heads.append(b"%d %d" % (number, at))
            bodies.append(data)
            at += len(data) + 1
        head = b" ".join(heads) + b"\n"
        packed = deflate(head + b"\n".join(bodies), QUICK)
        self.put_stream(container, packed, b"/Type/ObjStm/N %d/First %d" % (len(heads), len(head)))
        inside = {number: place for place, (number, _) in enumerate(self._packed)}
        own = self.take()
        self._where[own] = start = self._length
        rows = [b"\0\0\0\0\0\xff\xff"]
        for number in range(1, self._next):
            if number in inside:
                rows.append(b"\2" + container.to_bytes(4, "big") + inside[number].to_bytes(2, "big"))
            else:
                rows.append(b"\1" + self._where[number].to_bytes(4, "big") + b"\0\0")
        name = sha256(b"".join(self._parts)).hexdigest()[:32].encode()
        entries = b"/Type/XRef/W[1 4 2]/Size %d/Root %d 0 R/Info %d 0 R/ID[<%b><%b>]" % (self._next, catalog, info, name, name)
        self.put_stream(own, deflate(b"".join(rows), LEAST), entries)
        return b"".join((*self._parts, b"startxref\n%d\n%%%%EOF\n" % start))

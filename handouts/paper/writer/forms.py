"""Drawings as forms: drawn once at the size of their view box, and used by name wherever they stand.

A form's name is a hash of the drawing, so that pages that were drawn apart can share it.  What a document fills in, as a
QR code, is a slot: an empty drawing with ``SLOT_MARK``, whose form comes with the document.  Knows the writer's objects by
what they have, never its modules.
"""

from __future__ import annotations

import re
from base64 import b64decode
from collections.abc import Callable
from hashlib import blake2b
from typing import Any
from xml.etree import ElementTree

import pydyf

from handouts.paper.pdf.drawn import PIXELS, SLOT, DrawnForm, DrawnPixels
from handouts.paper.pdf.file import deflate

SLOT_MARK = "data-slot"
"""Attribute of a drawing that a document fills in: the name of its slot."""
_INSIDE = re.compile("data:image/(png|jpeg);base64,([A-Za-z0-9+/=]+)")
"""A picture that stands in its drawing; ``handouts.build.own_pictures`` writes it so: RGB, 8 bits, no interlacing."""
MOST = 256
"""Forms that are kept in a process, of about 10 kB; at more all are dropped."""
_KEPT: dict[str, DrawnForm] = {}


def form_name(tree: ElementTree.Element) -> str:
    """The name of a drawing's form: the same drawing in another language, with another title, has the same."""
    slot = tree.get(SLOT_MARK)
    if slot:
        return SLOT + slot
    bare = ElementTree.Element(tree.tag, tree.attrib)
    bare.extend(child for child in tree if child.tag.rpartition("}")[2] != "title")
    return "D" + blake2b(ElementTree.tostring(bare), digest_size=8).hexdigest()


def use_form(
    tree: ElementTree.Element, stream: Any, width: float, height: float, draw: Callable[[Any], tuple[float, ...] | None]
) -> bool:
    """Uses a drawing's form on a stream that gathers ``forms``; False where it must be drawn at its place.

    ``draw`` draws it on a stream of its own at the size of its view box, which it gives back, or None where it has none.
    """
    forms = getattr(stream, "forms", None)
    if forms is None:
        return False
    name = form_name(tree)
    inner_width = inner_height = 1.0
    if name.startswith(SLOT):
        forms[name] = None
    else:
        form = _KEPT.get(name) or _paint(tree) or _draw_form(stream, draw)
        if form is None:
            return False
        if len(_KEPT) >= MOST:
            _KEPT.clear()
        forms[name] = _KEPT[name] = form
        inner_width, inner_height = form.box[2] / 2, form.box[3] / 2
    scale = min(width / inner_width, height / inner_height)
    with stream.stacked():
        stream.rectangle(0, 0, width, height)
        stream.clip()
        stream.end()
        stream.transform(scale, 0, 0, scale, (width - inner_width * scale) / 2, (height - inner_height * scale) / 2)
        stream.stream.append(f"/{name} Do")
    return True


def _paint(tree: ElementTree.Element) -> DrawnForm | None:
    """The form of a drawing that is one picture; its bytes go into the file as they are."""
    images = [child for child in tree if child.tag.rpartition("}")[2] == "image"]
    found = _INSIDE.fullmatch(images[0].get("href", "")) if len(images) == 1 else None
    if found is None:
        return None
    data, wide, high = b64decode(found[2]), int(images[0].get("width", "0")), int(images[0].get("height", "0"))
    if [float(part) for part in tree.get("viewBox", "").split()] != [0.0, 0.0, wide, high]:
        return None
    if found[1] == "jpeg":
        pixels = DrawnPixels(wide, high, data, b"/Filter/DCTDecode")
    else:
        pixels = DrawnPixels(wide, high, _rows_of(data), b"/Filter/FlateDecode/DecodeParms<</Predictor 15/Colors 3/Columns %d>>" % wide)
    operators = b"q %d 0 0 -%d 0 %d cm /%b Do Q" % (wide, high, high, PIXELS)
    return DrawnForm(deflate(operators), (-wide, -high, 2 * wide, 2 * high), pixels=pixels)


def _rows_of(png: bytes) -> bytes:
    """The deflated rows of a PNG without interlacing, of 8 bits a colour, as a PDF reads them too."""
    at, rows = 8, b""
    while at < len(png):
        length, kind = int.from_bytes(png[at : at + 4], "big"), png[at + 4 : at + 8]
        rows += png[at + 8 : at + 8 + length] if kind == b"IDAT" else b""
        at += length + 12
    return rows


def _draw_form(stream: Any, draw: Callable[[Any], tuple[float, ...] | None]) -> DrawnForm | None:
    """The form; its box is twice as wide and high as the view box and about its origin, as some of a drawing may stand outside."""
    resources = pydyf.Dictionary({name: pydyf.Dictionary() for name in ("ExtGState", "XObject", "Pattern", "Shading")})
    resources["ColorSpace"] = None
    form = stream.clone(resources=resources, tags=None, fonts={})
    box = draw(form)
    if box is None or box[:2] != (0.0, 0.0) or form._fonts or any(resources[name] for name in ("XObject", "Pattern", "Shading")):
        return None
    states = {name: state.data for name, state in resources["ExtGState"].items()}
    if any(name[0] not in "aA" for name in states):
        return None
    data = deflate(b"\n".join(map(pydyf._to_bytes, form.stream)))
    return DrawnForm(data, (-box[2], -box[3], 2 * box[2], 2 * box[3]), states)

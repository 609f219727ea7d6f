"""The pictures of a document: which may be taken as the clinic's own, and how many there are, so that what is left out is said."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import replace

import pypdfium2
import pypdfium2.raw as pdfium_c

from handouts.importers.archive import names_of, read_member
from handouts.importers.lines import LineKind, SourceLine
from handouts.importers.rows import Row

ENDINGS = ((b"\x89PNG\r\n\x1a\n", ".png"), (b"\xff\xd8\xff", ".jpg"), (b"RIFF", ".webp"))
"""How each kind of picture that a library may hold begins, and its ending."""
MOST_TAKEN = 40
"""Most pictures taken of one document."""
FOLDERS = {".docx": "word/media/", ".odt": "Pictures/", ".xlsx": "xl/media/"}
"""Where each kind of archive keeps them."""
MOST_DEPTH = 8
"""Deepest nesting of forms in a page of a PDF that is looked into."""


def count_pictures(data: bytes, kind: str) -> int:
    """The pictures of a file of a kind."""
    if kind in FOLDERS:
        return sum(name.startswith(FOLDERS[kind]) and not name.endswith("/") for name in names_of(data))
    if kind in (".html", ".htm"):
        return len(re.findall(rb"<(?:img|svg)\b", data, re.I))
    if kind == ".pdf":
        document = pypdfium2.PdfDocument(data)
        try:
            kinds = (pdfium_c.FPDF_PAGEOBJ_IMAGE,)
            return sum(1 for page in document for _ in page.get_objects(filter=kinds, max_depth=MOST_DEPTH))
        finally:
            document.close()
    return len(re.findall(rb"!\[[^\]\n]*\]\(", data)) if kind == ".md" else 0


def read_pictures(data: bytes, lines: Iterable[SourceLine]) -> dict[str, bytes]:
    """The pictures of a packed document that its lines name and a library may hold, by their place in it."""
    there = set(names_of(data))
    named = [line.member for line in lines if line.kind is LineKind.PICTURE and line.member in there]
    found = {member: read_member(data, member) for member in list(dict.fromkeys(named))[:MOST_TAKEN]}
    return {member: picture for member, picture in found.items() if _ending(picture)}


def take_picture(row: Row, pictures: Mapping[str, bytes]) -> tuple[Row, dict[str, bytes]]:
    """A row with its picture as a file of the library; without it where something is not said of it."""
    cells = {key: text for key, text in row.cells.items() if not key.startswith("picture")}
    data = pictures.get(row.cells.get("picture", ""), b"")
    said = {key: row.cells.get(f"picture {key}", "") for key in ("words", "source", "licence")}
    if not data or not all(said.values()):
        return replace(row, cells=cells), {}
    name = f"{row.place.file.rpartition('/')[2].removesuffix('.md')}{_ending(data)}"
    given = {"picture": name, **{f"picture {key}": text for key, text in said.items()}}
    return replace(row, cells={**cells, **given}), {f"pictures/{name}": data}


def _ending(picture: bytes) -> str:
    """The ending of a picture's name; empty where it is of no kind that a library may hold."""
    found = next((ending for start, ending in ENDINGS if picture.startswith(start)), "")
    return found if found != ".webp" or picture[8:12] == b"WEBP" else ""

"""How many pictures a document or a workbook holds: they are not taken, and that is said."""

from __future__ import annotations

import re

import pypdfium2
import pypdfium2.raw as pdfium_c

from handouts.importers.archive import names_of

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

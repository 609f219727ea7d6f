"""Pictures of paper: a page of a PDF as a PNG, with pypdfium2, which needs no system library."""

from __future__ import annotations

import io

import pypdfium2

POINTS_AN_INCH = 72
"""PDF points in an inch (ISO 32000-1, 8.3.2.3)."""


def page_png(pdf: bytes, page: int = 0, dots_an_inch: float = 96) -> bytes:
    """One page, counted from 0, as a PNG."""
    document = pypdfium2.PdfDocument(pdf)
    try:
        picture = document[page].render(scale=dots_an_inch / POINTS_AN_INCH).to_pil()
        out = io.BytesIO()
        picture.save(out, "PNG")
        return out.getvalue()
    finally:
        document.close()

"""Writes the reference of the files into README.md: ``python -m tests.write_reference``."""

from __future__ import annotations

from pathlib import Path

from handouts.library.reference import write_reference

README = Path(__file__).parents[1] / "README.md"
BEGIN, END = "<!-- reference: made from handouts/library/declare.py -->", "<!-- end of reference -->"
"""Lines between which the reference stands in the document."""


def replace_reference(document: str) -> str:
    """A document with the reference as it is now between its two lines; ValueError where they are missing."""
    before, found, rest = document.partition(BEGIN)
    _, ended, after = rest.partition(END)
    if not found or not ended:
        raise ValueError("the document has no lines for the reference")
    return f"{before}{BEGIN}\n\n{write_reference()}\n{END}{after}"


if __name__ == "__main__":
    README.write_text(replace_reference(README.read_text(encoding="utf-8")), encoding="utf-8")

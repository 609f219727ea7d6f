"""Writes the reference of the files into README.md: ``python -m tests.write_reference``."""

from __future__ import annotations

from pathlib import Path

from handouts.library.reference import replace_reference

README = Path(__file__).parents[1] / "README.md"

if __name__ == "__main__":
    README.write_text(replace_reference(README.read_text(encoding="utf-8")), encoding="utf-8")

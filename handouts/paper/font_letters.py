"""Every letter that some font of the sheets has, read from the fonts themselves."""

from __future__ import annotations

from io import BytesIO

from fontTools.ttLib import TTFont

from handouts.paper.assets import load_paper_assets


def read_letters() -> str:
    """The letters, each once, in the order of their code points."""
    found: set[int] = set()
    for data in load_paper_assets().fonts.values():
        with TTFont(BytesIO(data), lazy=True) as font:
            found |= font.getBestCmap().keys()
    return "".join(map(chr, sorted(found)))

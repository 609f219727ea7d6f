"""A drawing alone on a page of its own size, under the same bounds as the sheets: the way to a PNG."""

from __future__ import annotations

import re
from dataclasses import replace

from handouts.paper.assets import load_paper_assets
from handouts.paper.contained_writer import render_pdf
from handouts.paper.raster import page_png
from handouts.problems import Place, Problem

_BOX = re.compile(r'viewBox="0 0 ([0-9.]+) ([0-9.]+)"')
CSS_DOTS_AN_INCH = 96
"""CSS pixels in an inch (CSS Values and Units 4, 'absolute lengths')."""


def svg_png(svg: str, width: int) -> tuple[bytes, tuple[Problem, ...]]:
    """An inline SVG with presentation attributes as a PNG of ``width`` pixels; empty bytes where it cannot be drawn."""
    box = _BOX.search(svg)
    if box is None:
        raise ValueError("the drawing has no view box that begins at 0 0")
    height = round(float(box[2]) * width / float(box[1]))
    paper_assets = replace(load_paper_assets(), style=f"@page{{size:{width}px {height}px;margin:0}}svg{{display:block;width:{width}px}}")
    html = (
        f'<!doctype html><html lang="en"><head><title>picture</title></head><body style="margin:0">{svg}</body></html>'
    )
    laid = render_pdf(html, {}, Place("picture"), paper_assets)
    return (page_png(laid.pdf, dots_an_inch=CSS_DOTS_AN_INCH) if laid.pdf else b""), laid.problems

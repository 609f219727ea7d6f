"""Drawings taken out of a document: the page is the same to the byte, and what a reader hears stays."""

from __future__ import annotations

import pytest

from handouts.paper import contained_writer
from handouts.paper.writer.drawings import take_drawings
from handouts.problems import Place

SVG = '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 9 9" width="90"><title>A &amp; B</title><path d="M1 1h5v5z"/></svg>'
HTML = f'<!doctype html><html lang="en"><head><title>t</title></head><body><h1>t</h1><p>{SVG} and {SVG}</p></body></html>'


def test_taken_out() -> None:
    """The opening tag and the title stay; the drawing holds all of it; a broken one stays where it is."""
    text, drawings = take_drawings(f"<p>{SVG}</p><svg><path></svg>")
    assert text == (
        '<p><svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 9 9" width="90" data-drawing="0">'
        "<title>A &amp; B</title></svg></p><svg><path></svg>"
    )
    assert [len(drawing) for drawing in drawings] == [2]


@pytest.mark.paper
def test_same_bytes(monkeypatch: pytest.MonkeyPatch) -> None:
    """The PDF is the one that the writer makes of the whole HTML."""
    taken = contained_writer.render_pdf(HTML, {}, Place("t.md"))
    monkeypatch.setattr(contained_writer, "take_drawings", lambda html: (html, ()))
    assert taken.problems == () and taken.pdf == contained_writer.render_pdf(HTML, {}, Place("t.md")).pdf

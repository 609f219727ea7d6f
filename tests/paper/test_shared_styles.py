"""Styles and outlines shared between documents: the same bytes as without, whatever was laid out before; and they are shared."""

from __future__ import annotations

import re
from collections import deque
from collections.abc import Callable
from types import SimpleNamespace
from typing import Any

import pytest

from handouts.paper import contained_writer
from handouts.paper.assets import load_paper_assets
from handouts.paper.laying import lay_out_document
from handouts.paper.writer import outlines, styles
from handouts.paper.writer.load import load_writer
from tests.paper.making import BOOKLET, SHEET, documents
from tests.paper.test_document import document_with

pytestmark = pytest.mark.paper


def worked_out(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """The properties that the writer works out from here on."""
    load_writer()
    from weasyprint import css

    found, missing = list[str](), css.ComputedStyle.__missing__

    def note(style: object, key: str) -> object:
        found.append(key)
        return missing(style, key)

    monkeypatch.setattr(css.ComputedStyle, "__missing__", note)
    return found


def test_same_bytes_as_without(monkeypatch: pytest.MonkeyPatch) -> None:
    """A sheet after a booklet, and another sheet of the same kind, as if each were the only one."""
    load_writer()
    from weasyprint import css, svg
    from weasyprint.svg.path import path

    wanted = [documents()[BOOKLET.format("a4", "large")], document_with(5), document_with(6)]
    shared = [lay_out_document(document).pdf for document in wanted]
    monkeypatch.setattr(css, "StyleFor", css.StyleFor.__base__)
    monkeypatch.setitem(svg.TAGS, "path", path)
    monkeypatch.setattr(contained_writer, "_take_styles", lambda html, *_: (html, []))
    assert shared == [lay_out_document(document).pdf for document in wanted]


def test_styles_are_shared(monkeypatch: pytest.MonkeyPatch) -> None:
    """Another exercise on the same paper needs few of its own; the same one again only those of its pages."""
    lay_out_document(document_with(2))
    found = worked_out(monkeypatch)
    other = documents()[SHEET.replace("foot-lift", "leg-lift").format("letter", "standard")]
    lay_out_document(other)
    once = len(found)
    lay_out_document(other)
    again = len(found) - once
    monkeypatch.setattr(contained_writer.load_writer().fetcher, "__init__", _unshared(contained_writer.load_writer().fetcher.__init__))
    lay_out_document(other)
    alone = len(found) - once - again
    assert again <= once < alone / 2, (once, again, alone)


def _unshared(begin: object) -> object:
    def without(self: object, *given: object, shares: bool = False) -> None:
        begin(self, *given)  # type: ignore[operator]

    return without


def test_too_many_are_dropped(monkeypatch: pytest.MonkeyPatch) -> None:
    """Where more styles come than are kept, the pages are the same."""
    document = documents()[SHEET.format("letter", "large")]
    before = lay_out_document(document).pdf
    monkeypatch.setattr(styles, "MOST", 20)
    monkeypatch.setattr(contained_writer, "MOST_OWN", 1)
    assert lay_out_document(document).pdf == before


def test_no_style_depends_on_the_page() -> None:
    """Shared styles must not: no length of a sheet is measured by its page."""
    assert not re.search(r"\d(v[whib]|vmin|vmax|p[whib]|pmin|pmax)\b", load_paper_assets().style)


class Lines:
    """What a path is drawn into."""

    def __init__(self) -> None:
        self.stream: list[bytes] = []


def drawn(draw: Callable[[Any, Any, float], None], path: str, *, shares: bool) -> tuple[bytes, list[int]]:
    """What a function that draws paths writes and leaves at the node."""
    node = SimpleNamespace(get={"d": path}.get, vertices=deque[int]())
    svg = SimpleNamespace(stream=Lines(), url_fetcher=SimpleNamespace(shares=shares))
    draw(svg, node, 12)
    return b"\n".join(svg.stream.stream), list(node.vertices)


def test_outlines_are_written_once(monkeypatch: pytest.MonkeyPatch) -> None:
    """Where drawings share, each path is worked out once, with its corners; too many are dropped."""
    asked = list[str]()

    def draw(svg: Any, node: Any, _: float) -> None:
        asked.append(node.get("d"))
        svg.stream.stream += [node.get("d").encode(), b"l"]
        node.vertices.append(len(asked))

    keep = outlines.keep_outlines(draw)
    assert [drawn(keep, "M0", shares=True) for _ in range(2)] == [(b"M0\nl", [1])] * 2
    assert drawn(keep, "M0", shares=False) == (b"M0\nl", [2]) and asked == ["M0", "M0"]
    monkeypatch.setattr(outlines, "MOST", 1)
    assert [drawn(keep, path, shares=True)[1] for path in ("M1", "M0")] == [[3], [4]]

"""What is taken from the writer since it does it slowly: elements read as XML, lengths kept by style, no boxes in margins.  All give what the writer gives."""

from __future__ import annotations

from io import BytesIO
from types import SimpleNamespace
from typing import Any
from xml.etree.ElementTree import Element

import pytest

from handouts.paper.contained_writer import bad_links_in, find_bad_links, render_pdf
from handouts.paper.document import sources_of
from handouts.paper.laying import lay_out_document
from handouts.paper.writer.load import load_writer
from handouts.paper.writer.reading import read_elements
from handouts.paper.writer.shortcuts import keep_lengths
from handouts.problems import Place
from tests.paper.making import BOOKLET, KINDS, ROWS, documents, text_of
from tests.paper.test_beside import sheet

pytestmark = pytest.mark.paper


def as_told(element: Element) -> tuple[Any, ...]:
    """An element by what a layout sees of it; text of the head is not shown."""
    children = [as_told(child) for child in element]
    text = "" if element.tag in ("html", "head") else element.text or ""
    return element.tag, {name: value for name, value in element.attrib.items() if "xmlns" not in name}, text, children, (element.tail or "").strip()


@pytest.mark.parametrize("kind", KINDS)
def test_elements_are_those_of_the_writer(kind: str) -> None:
    """Read as XML, each article has the elements that a reader of HTML finds, in order, with their texts."""
    import tinyhtml5

    load_writer()
    for source in sources_of(documents()[kind.format("letter", "large")]):
        root = read_elements(source.html)
        assert root is not None
        other = tinyhtml5.parse(BytesIO(source.html.encode()), namespace_html_elements=False, override_encoding="utf-8")
        assert as_told(root) == as_told(other)


@pytest.mark.parametrize("text", [
    "<p>one<p>two", "<P>capital</P>", "<!-- a remark --><p>x</p>", "<p>half", "<?xml?><p>x</p>", "<p>&hellip;</p>", "<p a=b>x</p>",
])
def test_what_is_not_well_formed_is_left_to_the_writer(text: str) -> None:
    """Nothing is guessed."""
    page = "<!doctype html><html><head><meta charset=\"utf-8\"></head><body>{}</body></html>"
    assert read_elements(page.format(text)) is None
    assert read_elements(page.format("<p>a&nbsp;b<br>c</p>")) is not None
    assert read_elements(f"<p>{text}</p>") is None


@pytest.mark.parametrize("link", [
    '<a href="javascript:x">x</a>', '<a href="https://clinic.example">x</a>', '<area href="file:///x"/>', '<p rel="attachment" href="x">x</p>',
    '<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink"><a xlink:href="data:x">x</a></svg>',
])
def test_links_are_found_in_elements_too(link: str) -> None:
    """The same as in the text."""
    page = f'<!doctype html><html><head><meta charset="utf-8"></head><body>{link}</body></html>'
    root = read_elements(page)
    assert root is not None and bad_links_in([root]) == find_bad_links(page)


@pytest.mark.parametrize("document", [documents()[BOOKLET.format("letter", "large")], documents()[ROWS.format("letter", "standard")], sheet("ar")])
def test_same_bytes_as_without(document: Any, monkeypatch: pytest.MonkeyPatch) -> None:
    """Lengths that are kept and margins without boxes change nothing."""
    load_writer()
    from weasyprint import layout
    from weasyprint.layout import absolute, block, column, float, grid, inline, page, percent, table

    wanted = lay_out_document(document).pdf
    for module in (absolute, block, column, float, grid, inline, page, table):
        assert module.resolve_percentages is not percent.resolve_percentages
        monkeypatch.setattr(module, "resolve_percentages", percent.resolve_percentages)
    monkeypatch.setattr(layout, "make_margin_boxes", page.make_margin_boxes)
    assert lay_out_document(document).pdf == wanted


def test_margins_that_a_rule_fills_are_made() -> None:
    """A page whose rule says so has its head."""
    page = '<!doctype html><html lang="en"><head><title>t</title><style>@page { margin: 20mm; @top-right-corner { content: "head" } }</style></head><body><p>x</p></body></html>'
    assert "head" in text_of(render_pdf(page, {}, Place("test.md")).pdf)


class Style(dict[str, Any]):
    """A style whose lengths are all the same."""


def test_a_part_of_the_box_around_is_not_kept() -> None:
    """A length in per cent is worked out for each box; others once for a style."""
    asked = list[Any]()

    def resolve(box: Any, containing_block: Any) -> None:
        asked.append(containing_block)
        box.__dict__.update(dict.fromkeys(box.style, 0))

    lengths = [f"{kind}_{side}" for kind in ("margin", "padding") for side in ("left", "right", "top", "bottom")]
    lengths += [f"{bound}{side}" for bound in ("", "min_", "max_") for side in ("width", "height")]
    borders = {f"border_{side}_width": 0 for side in ("left", "right", "top", "bottom")}
    for unit, count in (("px", 1), ("%", 2)):
        asked.clear()
        style = Style({**dict.fromkeys(lengths, SimpleNamespace(unit=unit)), **borders, "border_collapse": "separate"})
        keep = keep_lengths(resolve)
        for _ in range(2):
            keep(SimpleNamespace(style=style), (1, 2))
        assert len(asked) == count

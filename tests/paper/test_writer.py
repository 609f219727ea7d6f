"""What is relied on of WeasyPrint where it is taken in hand: each test names the behaviour, and fails where a new version has another."""

from __future__ import annotations

import io
import zlib
from typing import Any

import pytest
from fontTools.ttLib import TTFont

from handouts.paper.assets import FACES, load_paper_assets
from handouts.paper.contained_writer import Layout, lay_out
from handouts.paper.document import CODE
from handouts.paper.fonts import _faces, cut_font, merge_fonts
from handouts.paper.objects import SLOT_WORDS, draw_pages
from handouts.paper.pdf.drawn import NAMED, SLOT, DrawnPages, FontUse
from handouts.paper.writer.forms import SLOT_MARK
from handouts.paper.writer.load import load_writer
from handouts.problems import Place

pytestmark = pytest.mark.paper

DRAWING = '<svg viewBox="0 0 40 30" width="40" height="30"><title>{}</title><path d="M0 0h40v30z" fill="#123456"/></svg>'


def layout_of(body: str) -> Layout:
    """A text, laid out."""
    layout = lay_out(f'<!doctype html><html lang="en"><head><title>t</title></head><body>{body}</body></html>', {}, Place("test"))
    assert layout.problems == ()
    return layout


def drawn(body: str, *, tagged: bool = True) -> DrawnPages:
    """A text, drawn."""
    made, _ = draw_pages(layout_of(body), tagged=tagged)
    assert made.problems == ()
    return made


def content(made: DrawnPages) -> bytes:
    """The operators of the first page."""
    return zlib.decompress(made.pages[0].data)


def test_objects_are_given_without_fonts() -> None:
    """``generate_pdf`` looks up ``build_fonts_dictionary``, ``resolve_links`` and ``Stream`` when it is called; they are back afterwards."""
    from weasyprint import pdf

    load_writer()
    before = pdf.build_fonts_dictionary, pdf.resolve_links, pdf.Stream
    document, made = load_writer().generate(layout_of("<p>word</p>").made, True)
    assert before == (pdf.build_fonts_dictionary, pdf.resolve_links, pdf.Stream)
    assert document.fonts and not any(b"/FontFile" in each.data for each in made.objects[1:] if each.compressible)


def test_a_link_to_another_article_is_kept() -> None:
    """The writer drops links whose target is not in its document; an article's targets are in others."""
    made = drawn('<p><a href="#elsewhere">word</a></p>')
    assert b"/Dest (elsewhere)" in made.objects and len(made.keys) == len(made.pages[0].notes) == 1


def test_a_page_leaves_no_state_behind() -> None:
    """The writer turns the page round and does not turn it back: what is drawn after it would stand on its head."""
    assert content(drawn("<p>word</p>")).startswith(b"q\n") and content(drawn("<p>word</p>")).endswith(b"\nQ")


def test_a_drawing_is_a_form_whatever_its_title() -> None:
    """``SVGImage.draw`` is called with the page's stream: the same drawing in two languages has one name."""
    one, other = drawn(DRAWING.format("one")), drawn(DRAWING.format("two"))
    assert one.pages[0].forms == other.pages[0].forms and one.forms == other.forms and len(one.forms) == 1
    assert b"/" + one.pages[0].forms[0].encode() + b" Do" in content(one)
    assert b"(one)" in one.objects and b"(two)" in other.objects


def test_a_slot_has_neither_form_nor_words() -> None:
    """What a document fills in: its name stands in the page, and a place for its words in the structure."""
    made = drawn(f'<svg viewBox="0 0 1 1" width="40" height="40" {SLOT_MARK}="{CODE}"><title>{SLOT_WORDS}{CODE}</title></svg>')
    assert made.pages[0].forms == (SLOT + CODE,) and made.forms == {} and made.slots == (CODE,)
    assert made.numbers.count(NAMED) == 1 and b"/Alt %b" in made.objects


def test_text_that_looks_like_a_number_is_no_number() -> None:
    """References are told by their place, never by what they look like; a per cent sign survives."""
    made = drawn('<svg viewBox="0 0 1 1" width="9" height="9"><title>12 0 R is 50 % of 24 0 R</title></svg>')
    assert b"(12 0 R is 50 %% of 24 0 R)" in made.objects
    assert len(made.numbers) == made.objects.replace(b"%%", b"").count(b"%d")


def test_figure_boxes_are_in_points_from_below() -> None:
    """The writer gives the box of a figure in pixels from the top."""
    made = drawn('<svg viewBox="0 0 1 1" width="96" height="96" style="display: block"><title>t</title></svg>')
    box = made.objects.partition(b"/BBox [")[2].partition(b"]")[0].split()
    left, bottom, right, top = map(float, box)
    assert (right - left, top - bottom) == pytest.approx((72, 72)) and top == pytest.approx(made.pages[0].height, abs=80)


def test_every_face_is_known() -> None:
    """A face is known by the hash of its description; each weight of each face is met in the text that is set for it."""
    assert len(_faces()) == 2 * len(FACES)
    names = {font.family for font in _faces().values()}
    assert names == {"Atkinson Hyperlegible Next", "Noto Sans", "Noto Sans Arabic", "Noto Sans SC"}


def test_a_cut_font_keeps_the_numbers_of_its_glyphs() -> None:
    """What was drawn with a whole font is right with one that is cut, and the same glyphs give the same bytes."""
    (use,) = drawn("<p>az</p>").fonts
    whole = TTFont(io.BytesIO(next(data for name, data in load_paper_assets().fonts.items() if name.endswith("atkinson-400.ttf"))))
    letters = whole.getBestCmap()
    assert {whole.getGlyphID(letters[ord(letter)]): letter for letter in "az"} == dict(use.letters)
    parts = cut_font(use).parts
    data = next(_inflated(data) for data, stream in parts if stream and b"glyf" in _inflated(data)[:400])
    cut = TTFont(io.BytesIO(data))
    for glyph in use.letters:
        assert len(cut["glyf"][cut.getGlyphName(glyph)].getCoordinates(cut["glyf"])[0]) > 3
    assert cut_font(FontUse(use.name, dict(reversed(list(use.letters.items()))), use.widths, use.missing)).parts == parts


def _inflated(stream: bytes) -> bytes:
    data = stream.partition(b"stream\n")[2].rpartition(b"\nendstream")[0]
    return zlib.decompress(data)


def test_what_is_said_of_a_glyph_first_holds() -> None:
    """Uses of a face come in the order of a document."""
    one, other = FontUse("A", {1: "a"}, {1: 500}, {}), FontUse("A", {1: "b", 2: "c"}, {1: 600, 2: 400}, {})
    (merged,) = merge_fonts([one, other])
    assert (merged.letters, merged.widths) == ({1: "a", 2: "c"}, {1: 500, 2: 400})


def test_states_are_known_by_their_value() -> None:
    """Transparency of the same strength has the same name on every page; what is named by its place is refused."""
    one, other = (drawn(f'<p style="color: rgba(0, 0, 0, {alpha})">word</p>') for alpha in (0.5, 0.25))
    shared: dict[str, Any] = {}
    for made in (one, other):
        for name, state in made.states.items():
            assert shared.setdefault(name, state) == state and name[0] in "aA"
    assert len(shared) > 1
    faulty, _ = draw_pages(layout_of('<div style="opacity: 0.5">word</div>'), tagged=True)
    assert not faulty.pages and "known by their place" in faulty.problems[0].what

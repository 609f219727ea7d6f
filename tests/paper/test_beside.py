"""Two languages beside one another: every paragraph twice, in its own language and direction, on two pages, or three where it must be."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from html.parser import HTMLParser
from io import BytesIO

import pdfua
import pikepdf
import pytest
from markupsafe import Markup

from handouts.model import Words
from handouts.paper.articles import Document
from handouts.paper.binding import _too_long
from handouts.paper.contained_writer import lay_out
from handouts.paper.context import PaperSetting, make_setting
from handouts.paper.document import sources_of
from handouts.paper.laying import lay_out_document
from handouts.paper.settle import settle
from handouts.paper.two_languages import _seen, beside_paths, beside_sheet, plan_beside
from handouts.problems import Place, show_problem
from handouts.site.context import Edition
from handouts.words.translate import translate_library
from handouts.words.wording import Wording
from tests.kept import kept
from tests.paper.making import EDITION, Pictures, a_setting, pages_of, text_of
from tests.paper.test_pdf import FALSE_ALARM, elements
from tests.site.making import Drawings
from tests.small_library import small_library, texts_with
from tests.words.demo import libraries
from tests.words.sample import STOP, translated, turn

SHOW = ("grace days: 90}", "grace days: 90, unreviewed translations: show}")


@cache
def settings(language: str) -> tuple[PaperSetting, PaperSetting]:
    """The small library in a made-up translation, and in English."""
    source = small_library(texts_with("clinic.yaml", SHOW))
    library = translate_library(source, translated(source, language)).library
    assert library is not None
    return make_setting(library, Wording(language), Pictures(), EDITION), a_setting(source)


@cache
def sheet(language: str) -> Document:
    """The sheet of one exercise."""
    own, source = settings(language)
    return beside_sheet(own, source, own.library.exercise["foot-lift"])


class Halves(HTMLParser):
    """The halves of every pair: language, direction and text, a mark behind each heading."""

    def __init__(self) -> None:
        super().__init__()
        self.found: list[tuple[str, str, str]] = []
        self.depth = 0

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        values = dict(attrs)
        if values.get("class") == "half":
            self.found.append((values["lang"] or "", values["dir"] or "", ""))
            self.depth = 1
        elif self.depth and tag == "div":
            self.depth += 1

    def handle_endtag(self, tag: str) -> None:
        if self.depth and tag == "h2":
            self.handle_data("|")
        if self.depth and tag == "div":
            self.depth -= 1

    def handle_data(self, data: str) -> None:
        if self.depth:
            language, direction, text = self.found[-1]
            self.found[-1] = (language, direction, text + data)


def halves(document: Document) -> list[tuple[str, str, str]]:
    """What the halves of a document say."""
    parser = Halves()
    parser.feed(document.html)
    return [(language, direction, " ".join(text.split())) for language, direction, text in parser.found]


@pytest.mark.parametrize(("language", "direction"), [("es", "ltr"), ("ar", "rtl")])
def test_each_half_says_its_language(language: str, direction: str) -> None:
    """First the patient's language, then the clinic's, in turn; both name language and direction."""
    found = halves(sheet(language))
    assert {half[:2] for half in found[::2]} == {(language, direction)}
    assert {half[:2] for half in found[1::2]} == {("en", "ltr")}
    assert len(found) > 30


@pytest.mark.parametrize("language", ["es", "ar"])
def test_every_text_of_the_exercise_stands_in_both(language: str) -> None:
    """Paragraph beside paragraph: what the made-up translation turned round is the source in the other half."""
    found = halves(sheet(language))
    pairs = {own[2].rpartition("| ")[2].removeprefix("1 "): other[2].rpartition("| ")[2].removeprefix("1 ") for own, other in zip(found[::2], found[1::2], strict=True)}
    exercise = settings(language)[1].library.exercise["foot-lift"]
    texts = [exercise.title, exercise.feel, *exercise.cues, exercise.ready_when, *(item for section in exercise.sections for block in section.blocks for item in block.items[:1])]
    for words in texts:
        assert words is not None
        assert pairs[turn(words.text, language)] == words.text
    rule = "You have sharp pain. Stop and call us."
    (turned,) = (own for own, other in pairs.items() if other == rule)
    assert turned.startswith("yOU HAVE SHARP PAIN.") and STOP[language] in turned


@pytest.mark.parametrize("language", ["es", "ar"])
def test_two_pages_without_a_problem(language: str) -> None:
    """It keeps to two pages, is tagged, and its text comes pair by pair."""
    laid = kept(lay_out_document, sheet(language))
    assert (laid.problems, laid.pages in (1, 2)) == ((), True)
    with pikepdf.open(BytesIO(laid.pdf)) as pdf:
        assert str(pdf.Root.Lang) == language
    text = " ".join(text_of(laid.pdf, "-raw").split())
    places = [text.index(words) for words in ("fOOT LIFT", "Foot lift", "sIT TALL", "Sit tall", "yOU FEEL YOUR THIGH", "You feel your thigh")]
    assert places == sorted(places)


@pytest.mark.parametrize("language", ["es", "ar"])
def test_each_half_is_read_aloud_in_its_language(language: str) -> None:
    """In the structure tree, too, each half carries its language, in the order of the HTML; nothing else carries any."""
    document = sheet(language)
    with pikepdf.open(BytesIO(kept(lay_out_document, document).pdf)) as pdf:
        said = [(str(tag.S), str(tag.Lang)) for tag in elements(pdf.Root.StructTreeRoot) if "/Lang" in tag]
    assert said == [("/Div", half[0]) for half in halves(document)]
    report = pdfua.validate(BytesIO(kept(lay_out_document, document).pdf))
    assert {finding.rule_id for finding in report.findings} <= {FALSE_ALARM}


@pytest.mark.parametrize("language", ["es", "ar"])
def test_figure_is_not_drawn_over_the_code(language: str) -> None:
    """However wide a figure is, it keeps clear of the QR code and its caption."""
    part = settle(sources_of(sheet(language))[0])
    edges = {}
    for box in part.layout.made.pages[0]._page_box.descendants():
        name = box.element.get("class") if box.element is not None and box.element_tag == "div" else None
        if name in ("figure", "code"):
            edges[name] = (box.border_box_x(), box.border_box_x() + box.border_width())
    first, last = sorted(edges.values())
    assert len(edges) == 2 and first[1] < last[0] and (edges["code"] == last) == (language == "es"), edges


def test_one_paper_and_one_size() -> None:
    """The plan and its paths agree; a build is not made four times as long."""
    own, source = settings("es")
    assert tuple(plan_beside(own, source)) == tuple(each().path for each in plan_beside(own, source).values()) == beside_paths(own.library, "en")
    assert beside_paths(own.library, "en")[0] == "es/exercises/foot-lift/foot-lift-letter-standard-with-en.pdf"


DEMO = Edition(version="K7QX2M")
TICKS = {"es": "Marque una casilla", "fr": "Cochez une case"}
STOPS = {"es": "Pare si", "fr": "Arrêtez si"}


@pytest.mark.parametrize(("language", "slug", "pages"), [("es", "sit-to-stand", 2), ("fr", "step-up", 3)])
def test_boxes_to_tick_stand_on_the_second_page(language: str, slug: str, pages: int) -> None:
    """Many words are set more tightly; where that is not enough, the cautions have the third page, whole and to themselves."""
    own, source = (make_setting(libraries()[each], Wording(each), Drawings(), DEMO) for each in (language, "en"))
    laid = kept(lay_out_document, beside_sheet(own, source, own.library.exercise[slug]))
    assert (laid.problems, laid.pages) == ((), pages)
    texts = pages_of(text_of(laid.pdf))
    assert [TICKS[language] in text for text in texts] == [False, True, False][:pages]
    assert [STOPS[language] in text and "911" in text for text in texts] == [number == pages - 1 for number in range(pages)]
    # the whole block stands there, to the rule about pain
    assert "Stop. Call us today." in " ".join(texts[-1].split())


def test_notice_leads_to_the_catalogue() -> None:
    """Where even three pages are not enough, the notice stands at the translation, which is what can be shortened."""
    own, source = settings("es")
    entry = Place("content/words/es.po", 17)
    exercise = replace(own.library.exercise["foot-lift"], title=Words("Sube el pie", entry))
    document = beside_sheet(own, source, exercise)
    (article,) = document.articles
    assert show_problem(_too_long(article, document)) == (
        "content/words/es.po:17:1: notice: 'Sube el pie' takes more than three pages in 'foot-lift-letter-standard-with-en.pdf' "
        "(language es, paper letter, type size standard). "
        "Shorten the translation of its steps, its mistakes or its cautions. [paper-too-long]"
    )


def test_no_line_ends_early_before_bold_words() -> None:
    """What to do stands behind what is seen; where it does not fit there, the line before it stays whole."""
    said = _seen(Markup("You had hip surgery in the last 6 months."), Markup("Ask us first."))
    for width in range(284, 316):
        page = lay_out(f'<html lang="en"><body><p style="width: {width}px">{said}</p></body></html>', {}, Place("x.md")).made.pages[0]
        lines = [
            "".join(each.text for each in box.descendants() if hasattr(each, "text"))
            for box in page._page_box.descendants() if type(box).__name__ == "LineBox"
        ]
        assert all(" " in line.strip() for line in lines[:-1]), (width, lines)

"""Bundles with several exercises on a page: nothing of an exercise is lost, rows stand on few pages, in the browser as in the PDF."""

from __future__ import annotations

import io
from dataclasses import replace
from functools import cache

import pikepdf
import pytest

from handouts.bundle.values import CODE_PLACE, PickedBundle
from handouts.clinician.document import picked_document, picked_setting
from handouts.model import Library, Pick, Ref
from handouts.paper.assembly import MM_TO_PT
from handouts.paper.compact import fault_beside, join_alike
from handouts.paper.document import sources_of
from handouts.paper.geometry import PX_IN_MM, ROW_FIGURE_LEAST, ROW_GAP_MM, ROW_GAP_MOST_MM, ROW_MOST
from handouts.paper.laid import Laid
from handouts.paper.laying import lay_out_document
from handouts.paper.packing import fill_pages, spread
from handouts.paper.pdf.drawn import DrawnPage, DrawnPages
from handouts.paper.places import place_articles
from handouts.paper.settle import settle
from handouts.paper.views import PairView
from handouts.publication.rich_text import rich
from handouts.site.context import Edition
from handouts.words.wording import Wording
from tests.builders import words
from tests.kept import kept
from tests.paper.making import ROWS, documents, pages_of, pdf_of, text_of
from tests.paper.test_pdf import elements
from tests.scripts.node import ask_script
from tests.site.making import Drawings
from tests.small_library import small_library
from tests.words.demo import libraries

pytestmark = pytest.mark.paper

FOUR = ("bridge", "sit-to-stand", "mini-squat", "heel-to-toe-stand")
BLANK = DrawnPage(b"", 0.0)
CASES: tuple[tuple[list[float], list[float], float, tuple[tuple[int, ...], tuple[int, ...]]], ...] = (
    ([70, 75, 75, 75], [80], 240, ((1,), (3,))),
    ([70, 75, 75, 75], [71.9], 240, ((0,), (2, 2))),
    ([70, 75, 75, 75, 75, 75], [80], 240, ((1,), (3, 2))),
    ([60, 60], [124.1], 240, ((2,), ())),
    ([60, 60], [123.9], 240, ((1,), (1,))),
    ([110, 110, 110, 110], [0, 115], 230, ((0, 1), (2, 1))),
    ([300, 50], [10], 240, ((0,), (1, 1))),
    ([200, 30, 30, 30, 30], [0], 240, ((0,), (2, 3))),
)
"""Heights of rows, rooms of the front, height of a page: rows in each room, rows on each further page."""


@pytest.mark.parametrize("case", CASES)
def test_rows_on_pages(case: tuple[list[float], list[float], float, object]) -> None:
    """As many as have room with a gap between them; further pages hold about as many as one another.  In the browser too."""
    rows, front, page, wanted = case
    assert fill_pages(rows, front, page) == wanted
    asked = ask_script("rowsOnPages", [rows, front, page, ROW_GAP_MM])
    assert (tuple(asked["first"]), tuple(asked["further"])) == wanted


def test_rows_share_what_is_left() -> None:
    """The gaps are alike and no larger than a reader takes for one list; rows that are too high stand close."""
    assert spread([50, 50], 112, above=True) == (4, 58)
    assert spread([50, 50], 112, above=False) == (0, 56)
    assert spread([50, 50], 300, above=False) == (0, 50 + ROW_GAP_MOST_MM)
    assert spread([50, 50], 90, above=True) == (0, 50)


def test_a_rule_stands_above_each_row_but_the_first_of_a_page() -> None:
    """The head of a page has one already; on the front a rule parts the first row from what stands above it."""
    def drawn(height: float, **anchors: float) -> DrawnPages:
        at = {name.replace("_", "--"): (0.0, (height - down) * MM_TO_PT) for name, down in anchors.items()}
        return DrawnPages((replace(BLANK, height=height * MM_TO_PT, anchors=at),))

    document = documents()[ROWS.format("letter", "standard")]
    rows = [drawn(70.0) for _ in range(5)]
    front = drawn(240.0, rows=40.0, rows_end=120.0, cover_end=200.0)
    placed = place_articles(document, [front, *rows])
    assert [page for page, _ in placed.places] == [0, 0, 1, 1, 2, 2] or [page for page, _ in placed.places] == [0, 0, 1, 1, 1, 2]
    assert placed.ruled == frozenset(number for number in range(1, 6) if number == 1 or placed.places[number][0] == placed.places[number - 1][0])


def test_nothing_of_an_exercise_is_lost() -> None:
    """Title, whole dose, each step, its fault and its boxes, all cautions once, phone, code in letters: on one page for two."""
    said = " ".join(text_of(pdf_of(ROWS.format("letter", "standard"))).split())
    library = small_library()
    for exercise in library.exercises:
        assert said.count(exercise.title.text) >= 1
        assert exercise.mistakes[0].see.text in said and exercise.mistakes[0].do.text in said
    steps = [item.text for section in library.exercises[0].sections for block in section.blocks for item in block.items]
    assert steps and all(said.count(step) == 2 for step in steps)
    for slug in {ref.slug for exercise in library.exercises for ref in exercise.cautions}:
        assert said.count(library.caution[slug].do.text) == 1
    assert len(pages_of(text_of(pdf_of(ROWS.format("letter", "standard"))))) == 1
    assert "Code of this sheet:" in said and "effort out of 10" in said


@pytest.mark.parametrize("size", ["standard", "large"])
def test_a_mistake_has_its_heading(size: str) -> None:
    """Without it the mistake below a picture reads as what to do."""
    said = " ".join(text_of(pdf_of(ROWS.format("letter", size))).split())
    for exercise in small_library().exercises:
        mistake = exercise.mistakes[0]
        assert f"What goes wrong, and what to do {mistake.see.text} {mistake.do.text}" in said


def test_rows_are_headings_below_the_title() -> None:
    """Read in order: the title, the rules, then each exercise under a heading of its own."""
    with pikepdf.open(io.BytesIO(pdf_of(ROWS.format("letter", "standard")))) as pdf:
        tags = [str(tag.S) for tag in elements(pdf.Root.StructTreeRoot) if str(tag.S) in ("/H1", "/H2")]
    assert tags[0] == "/H1" and tags[-2:] == ["/H2", "/H2"]


def test_a_row_knows_no_paper() -> None:
    """The same rows stand on Letter and on A4."""
    letter, a4 = (sources_of(documents()[ROWS.format(paper, "standard")])[1:] for paper in ("letter", "a4"))
    assert letter == a4 and len(letter) == 2


def test_conditions_with_one_answer_stand_together() -> None:
    """The exercises stand before each condition where they differ, else before the row; what goes for all comes before them."""
    def pair(see: str, do: str, numbers: str) -> PairView:
        return PairView(rich(words(see)), rich(words(do)), numbers)

    joined = join_alike([pair("New hip.", "Ask.", "Exercise 1:"), pair("New knee.", "Ask.", "Exercises 2 and 3:"), pair("Dizzy.", "Sit.", "Exercise 2:")])
    assert [str(row.see) for row in joined] == [
        '<span class="at">Exercise 1:</span> New hip. <span class="at">Exercises 2 and 3:</span> New knee.', "Dizzy.",
    ]
    assert [row.numbers for row in joined] == ["", "Exercise 2:"]
    assert join_alike([pair("New hip.", "Ask.", "Exercise 1:"), pair("New knee.", "Ask.", "Exercise 1:")])[0].numbers == "Exercise 1:"
    mixed = join_alike([pair("New hip.", "Ask.", "Exercise 1:"), pair("Dizzy.", "Ask.", "")])
    assert [(str(row.see), row.numbers) for row in mixed] == [("Dizzy.", ""), ("New hip.", "Exercise 1:")]


def test_a_fault_moves_where_boxes_take_many_lines() -> None:
    """Two weeks of five days stand in a line below the figure; of seven days one."""
    assert [fault_beside(days, weeks) for days, weeks in ((5, 4), (5, 5), (7, 2), (7, 3))] == [False, True, False, True]


@cache
def four(language: str, paper: str, size: str) -> Laid:
    """Four exercises of the demo that were picked by someone, on paper."""
    library: Library = libraries()[language]
    picks = tuple(Pick(place=CODE_PLACE, exercise=Ref(slug, CODE_PLACE)) for slug in FOUR)
    picked = PickedBundle(language, library.clinic.locations[0].slug, 2, picks)
    setting = picked_setting(picked, library, Wording(language), Drawings(), Edition(version="A2A2A2")).on(paper, size)
    return kept(lay_out_document, picked_document(setting, picked, "K7QX2M" * 9))


@pytest.mark.parametrize("paper", ["letter", "a4"])
def test_four_take_two_pages(paper: str) -> None:
    """In standard type the front holds the first, the page after it three; in large type at most five pages, each of which leads to the stop rules."""
    for size, most in (("standard", 2), ("large", 5)):
        laid = four("en", paper, size)
        assert laid.problems == () and laid.pages <= most, size


def test_rows_keep_to_their_part() -> None:
    """Rows of the demo are no higher than a third of a page, and no figure is lower than is said."""
    size, picks = "standard", FOUR
    library = libraries()["en"]
    picked = PickedBundle("en", library.clinic.locations[0].slug, 2, tuple(Pick(place=CODE_PLACE, exercise=Ref(slug, CODE_PLACE)) for slug in picks))
    setting = picked_setting(picked, library, Wording("en"), Drawings(), Edition(version="A2A2A2")).on("letter", size)
    for source in sources_of(picked_document(setting, picked, "K7QX2M"))[1:]:
        settled = settle(source)
        (page,) = settled.layout.made.pages
        assert settled.settled.stacking and settled.layouts == 1
        assert page.height / PX_IN_MM <= ROW_MOST[size] + 0.01, source.article.anchor
        assert settled.settled.stacking.spacings[0].figure / PX_IN_MM >= ROW_FIGURE_LEAST - 0.01

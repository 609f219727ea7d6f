"""Documents: keys, fits, figures that grow, what is told where a page is not enough; the plan of all of them."""

from __future__ import annotations

import pickle
import re
from dataclasses import replace

import pytest

from handouts.model import Words
from handouts.paper.articles import Document
from handouts.paper.document import ArticleSource, below, sources_of
from handouts.paper.geometry import FIGURE_LEAST, LITTLE, PX_IN_MM, figure_width
from handouts.paper.laying import lay_out_document
from handouts.paper.plan import papers_of, plan_paths, programme_document, sheet_document
from handouts.paper.settle import Settled, settle
from handouts.paper.stacking import GIVES_WAY, SetPage, choose_page
from handouts.problems import Grade, Place, show_problem
from handouts.store.digest import digest
from tests.builders import PLACE
from tests.kept import kept
from tests.paper.making import BOOKLET, SHEET, TIER, a_setting, documents, pages_of, text_of
from tests.scripts.node import ask_script
from tests.small_library import small_library, texts_with

pytestmark = pytest.mark.paper

PATH = SHEET.format("letter", "standard")


def test_paths_are_those_of_the_documents() -> None:
    """``plan_paths`` names every document, in order, without making one."""
    assert plan_paths(small_library()) == tuple(documents())
    on_each = 2 + 1 + 2 + 2  # exercises, the programme, its steps, the bundle: several exercises on a page, and one
    assert len(documents()) == 4 * on_each + 2 * 2  # in each type size on each paper; poster and pocket cards on each paper


def test_key_changes_with_everything_that_the_pdf_depends_on() -> None:
    """Text, paper, margins and articles are in the digest by which a PDF is kept; the place is not."""
    document = documents()[PATH]
    assert digest(replace(document, place=PLACE)) == digest(document)
    others = [
        replace(document, html=document.html + " "),
        replace(document, size="large"),
        replace(document, area=replace(document.area, height=200.0)),
        replace(document, standing=()),
        replace(document, articles=(replace(document.articles[0], share=0.4),)),
    ]
    assert len({digest(each) for each in (document, *others)}) == 6


def test_document_travels() -> None:
    """A document can be sent to another process and back."""
    document = documents()[PATH]
    assert pickle.loads(pickle.dumps(document)) == document


def test_every_article_is_in_the_text() -> None:
    """The opening tag that the layout changes stands once in the HTML, and articles come in their order there."""
    for document in documents().values():
        places = [document.html.index(article.opening) for article in document.articles]
        assert places == sorted(places)
        for article in document.articles:
            assert document.html.count(article.opening) == 1


def test_article_alone_has_the_same_pages() -> None:
    """An article by itself holds its own words, no other's, no head or foot, no address and no level of its document."""
    document = documents()[BOOKLET.format("letter", "standard")]
    part = next(each.html for each in sources_of(document) if each.article.anchor == "leg-lift")
    assert part.count("<article") == part.count("</article>") == 1
    assert "Leg lift" in part and "Start here when" not in part and "running-foot" not in part
    assert "clinic.example" not in part and "<h1>Leg lift</h1>" in part


def test_articles_are_the_same_wherever_they_stand() -> None:
    """On both papers, and in the booklets of a programme and of its step, whose cues it has: one article in each type size, on a page of its own."""
    for size in ("standard", "large"):
        for kinds in ((SHEET,), (BOOKLET, TIER)):
            held = [
                below(next(each for each in sources_of(documents()[kind.format(paper, size)]) if each.article.anchor == "foot-lift"), 0.0)
                for kind in kinds
                for paper in ("letter", "a4")
            ]
            assert len(held) == 2 * len(kinds) and len(set(held)) == 1


def test_long_exercise_is_set_tighter_and_stays_on_one_page() -> None:
    """An exercise with many words is made denser, not longer; nothing is said about it."""
    few, many = (settled_with(steps).stacking for steps in (2, 22))
    assert few and many and few.spacings[0].line > many.spacings[0].line
    laid = kept(lay_out_document, document_with(steps=22))
    assert (laid.pages, laid.problems) == (1, ())


FULL = 28
"""Steps for which a page has no room together with boxes and notes, but without them."""


def more_steps(steps: int) -> tuple[str, str]:
    """The edit that gives the exercise so many steps."""
    more = "".join(f"{number}. Push through the whole foot, and stand up.\n" for number in range(3, steps + 1))
    return "2. Lift your foot.\n", f"2. Lift your foot.\n{more}"


def document_with(steps: int, size: str = "standard") -> Document:
    """The sheet of an exercise with so many steps."""
    library = small_library(texts_with("exercises/foot-lift.md", more_steps(steps)))
    return sheet_document(a_setting(library, size=size), library.exercise["foot-lift"])


def test_exercise_that_is_too_long_is_told() -> None:
    """Where even two pages are not enough the PDF is made, and a notice names the sheet, its language, paper and size."""
    laid = kept(lay_out_document, document_with(steps=90))
    assert laid.pages == 3 and laid.pdf
    assert [problem.grade for problem in laid.problems] == [Grade.NOTICE]
    assert re.sub(r"^\S+ ", "", show_problem(laid.problems[0])) == (
        "notice: 'Foot lift' takes more than two pages in 'foot-lift-letter-standard.pdf' "
        "(language en, paper letter, type size standard). Shorten its steps, its mistakes or its cautions. [paper-too-long]"
    )


def test_notice_about_a_translation_leads_to_its_catalogue() -> None:
    """Who can shorten it is who translates."""
    library = small_library(texts_with("exercises/foot-lift.md", more_steps(90)))
    entry = Place("content/words/es.po", 17)
    exercises = tuple(replace(each, title=Words("Sube el pie", entry)) for each in library.exercises)
    spanish = replace(library, language="es", exercises=exercises)
    laid = kept(lay_out_document, sheet_document(a_setting(spanish), spanish.exercise["foot-lift"]))
    assert show_problem(laid.problems[0]) == (
        "content/words/es.po:17:1: notice: 'Sube el pie' takes more than two pages in 'foot-lift-letter-standard.pdf' "
        "(language es, paper letter, type size standard). "
        "Shorten the translation of its steps, its mistakes or its cautions. [paper-too-long]"
    )


@pytest.mark.parametrize(("steps", "on_front"), [(FULL, True), (34, False)])
def test_what_is_too_long_for_a_page_is_set_calmly_on_two(steps: int, on_front: bool) -> None:
    """Boxes to tick and notes go to the back; with more words the cautions too.  Nothing is lost or said twice."""
    laid = kept(lay_out_document, document_with(steps))
    front, back = pages_of(text_of(laid.pdf))
    assert (laid.pages, laid.problems) == (2, ())
    assert "Think of this" in front and "How to do it" in front
    assert ("Stop if" in front, "Stop if" in back) == (on_front, not on_front)
    for there in ("Tick a box", "This sheet does not replace"):
        assert there in back and there not in front, there


def test_exercise_of_a_booklet_leaves_out_what_its_front_says() -> None:
    """It keeps to one page without the notes, which stand beside the booklet's stop rules; its own cautions stay."""
    library = small_library(texts_with("exercises/foot-lift.md", more_steps(31), ("cautions: [stop-pain]", "cautions: [stop-pain, go-slow]")))
    document = programme_document(a_setting(library), library.programmes[0])
    laid = kept(lay_out_document, document)
    (page,) = (page for page in pages_of(text_of(laid.pdf)) if "How to do it" in page and "Foot lift" in page and "Push through" in page)
    assert "Go slower." in page and "This sheet does not replace" not in page
    assert laid.problems == ()


def test_figure_takes_the_room_that_is_left() -> None:
    """With few words it fills its column; it is lower the more words there are, never lower than it may be."""
    few, more, many = (settled_with(steps) for steps in (2, 20, 25))
    heights = [each.stacking.spacings[0].figure / PX_IN_MM for each in (few, more, many) if each.stacking]
    width = document_with(2).area.width
    assert abs(heights[0] * few.article.shape - figure_width(width, few.article.share)) < 0.01
    assert heights == sorted(heights, reverse=True) and heights[2] >= FIGURE_LEAST["standard"]


def test_what_gives_way_for_a_page() -> None:
    """In the stated order, but for what comes back since it gained the figure nothing; the first two cues and the first fault never."""
    order = ["kicker", "review", "mistakes 3", "mistakes 2", "why", "ways", "cues 6", "cues 5", "cues 4", "cues 3", "ready"]
    assert [name for group in GIVES_WAY for name in group] == order
    faults = ("mistakes: [", "mistakes: [" + "".join(f"{{see: You do it wrongly in way {n}., do: Do it right.}}, " for n in (2, 3)))
    cues = ("cues: [", "cues: [Look ahead as you lift your foot., Breathe on as you do it., ")
    seen = set()
    for steps in (*range(4, 16, 2), *range(22, FULL)):
        library = small_library(texts_with("exercises/foot-lift.md", more_steps(steps), faults, cues))
        settled = settle(sources_of(sheet_document(a_setting(library), library.exercise["foot-lift"]))[0]).settled
        seen |= {settled.stacking.left_out} if settled.stacking else set()
    assert len(seen) > 2
    assert all([name for name in order if name in left_out] == list(left_out) for left_out in seen)
    assert {"mistakes 3", "mistakes 2"} <= set().union(*seen)
    assert not {"cues 1", "cues 2", "mistakes 1"} & set().union(*seen)


@pytest.mark.parametrize(("wanted", "heights", "left_out", "step"), [
    (80, {"": 100, "a": 110, "a,b": 120}, [], 10),  # high enough with all text: the calmest that still is
    (80, {"": 70, "a": 85, "a,b": 120}, ["a"], 2),  # enough without the first: the rest stays
    (80, {"": 70, "a": 70, "a,b": 85, "b": 85}, ["b"], 2),  # the first gained nothing: it comes back
    (80, {"": 60, "a": 62, "a,b": 63}, [], 0),  # never enough, and what is left out would gain little
    (80, {"": 40, "a": 60, "a,b": 63}, ["a"], 0),
    (80, {"": 20, "a": 25, "a,b": 29}, None, 0),  # lower than it may be
    (80, {"": -1, "a": -1, "a,b": 31, "b": -1}, ["a", "b"], 0),
])
def test_what_stays_for_a_figure(wanted: float, heights: dict[str, float], left_out: list[str] | None, step: int) -> None:
    """The figure's height in millimetres without some texts in the tightest spacing, 2 mm less in each calmer one; in the browser too."""
    outs: list[tuple[str, ...]] = [(), ("a",), ("a", "b")]

    def lay(calm: float, out: tuple[str, ...]) -> SetPage | None:
        figure = heights[",".join(out)] - 2 * round(12 * calm)
        return SetPage(calm, figure * PX_IN_MM, (), out) if figure >= 0 else None

    page = choose_page(outs, 30 * PX_IN_MM, wanted * PX_IN_MM, lay)
    assert (list(page.left_out) if page else None, round(12 * page.calm) if page else 0) == (left_out, step)
    (answer,) = ask_script("chosenPages", [{"outs": outs, "low": 30, "wanted": wanted, "little": LITTLE, "steps": 2, "at": heights}])
    assert (answer["out"] if answer else None, answer["step"] if answer else 0) == (left_out, step)


def test_the_picture_of_a_mistake_costs_no_word_and_no_page() -> None:
    """With few words it stands beside the mistakes after one layout; where it would cost one, the sheet is the one without it."""
    told = "mistakes: [{see: You lean back., do: Sit up tall.}]"
    shown = told.replace("tall.}", "tall., figure: {end: {trunk: ext 20}}}")
    kept_in = []
    for steps in (2, FULL - 5, FULL - 3, FULL - 1):
        both = []
        for faults in (told, shown):
            library = small_library(texts_with("exercises/foot-lift.md", more_steps(steps), (told, faults)))
            (source,) = sources_of(sheet_document(a_setting(library), library.exercise["foot-lift"]))
            both.append((source, settle(source)))
        (plain, without), (pictured, found) = both
        assert "fault-figure" in pictured.html and "fault-figure" not in plain.html
        given_up = [
            (part.settled.long, [name for name in part.settled.stacking.left_out if "mistakes" in name] if part.settled.stacking else [])
            for part in (without, found)
        ]
        assert given_up[0] == given_up[1]
        kept_in.append(found.layouts == without.layouts)
    assert kept_in[0] and not all(kept_in)


def test_one_layout_does() -> None:
    """Few words or many: an exercise is laid out once, and again only where its columns need other widths, its steps more than a page,
    or where a page with room left may have each stop rule on a line of its own.
    """
    counts = [settle(source_with(steps, size)).layouts for size in ("standard", "large") for steps in (2, 6, 10, 14)]
    assert sum(counts) <= 1.5 * len(counts) and max(counts) <= 2, counts


def settled_with(steps: int) -> Settled:
    """How the sheet of an exercise with so many steps is set; it must keep to its page."""
    part = settle(source_with(steps))
    assert not part.settled.long
    return part.settled


def source_with(steps: int, size: str = "standard") -> ArticleSource:
    """The article of an exercise with so many steps."""
    (source,) = sources_of(document_with(steps, size))
    return source


@pytest.mark.parametrize("steps", [2, 6, 10])
def test_figure_of_large_print_is_as_large(steps: int) -> None:
    """The figure of large print is never smaller than in standard: ``tests/long/sheet_measures.py`` asks it of the demo."""
    standard, large = (settle(source_with(steps, size)).settled.stacking for size in ("standard", "large"))
    assert standard and large and large.spacings[0].figure >= standard.spacings[0].figure - 0.01
    assert standard.spacings[0].figure * source_with(steps).article.shape >= 0.55 * document_with(steps).area.width * PX_IN_MM


def test_figure_and_steps_are_never_apart() -> None:
    """In large print too the steps stand on the page of the figure, the cautions on the next."""
    library = small_library()
    setting = a_setting(library, size="large")
    pages = pages_of(text_of(kept(lay_out_document, sheet_document(setting, library.exercise["foot-lift"])).pdf))
    assert "How to do it" in pages[0] and "Stop if" in pages[1]


def test_large_print_that_needs_more_room_wastes_no_page() -> None:
    """Where the steps of large print run over to a second page, what follows begins below them, not on a third."""
    pages = pages_of(text_of(kept(lay_out_document, document_with(steps=20, size="large")).pdf))
    assert ["Think of this" in page for page in pages] == [False, True] and "20" in pages[1]


def test_translations_on_the_first_paper_only() -> None:
    """Where the clinic asks for it, the sheets of a translation are made on the first paper only."""
    library = small_library()
    languages = replace(library.clinic.languages, source="en", also=("es",), papers="first")
    asked = replace(library, clinic=replace(library.clinic, languages=languages))
    assert papers_of(replace(asked, language="en")) == asked.clinic.papers
    assert papers_of(replace(asked, language="es")) == asked.clinic.papers[:1]

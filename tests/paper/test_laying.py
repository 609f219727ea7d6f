"""What is laid out again after a change, and documents put together from the same articles: structure, outline, numbers of tables."""

from __future__ import annotations

import io
import pickle
import re
from collections.abc import Callable, Iterable, Iterator
from dataclasses import replace
from pathlib import Path
from typing import Any

import pikepdf
import pytest

from handouts.model import Library
from handouts.paper.articles import Document
from handouts.paper.binding import put_together
from handouts.paper.context import make_setting
from handouts.paper.document import sources_of
from handouts.paper.laying import lay_out_document, lay_out_documents
from handouts.paper.plan import plan_documents
from handouts.paper.strips import draw_strips, frame_of
from handouts.store.memo import Memo
from handouts.words.wording import Wording
from tests.paper.making import BOOKLET, BUNDLE, EDITION, SHEET, Pictures, documents, pdf_of, sheets_of
from tests.paper.test_pdf import elements
from tests.small_library import small_library, texts_with
from tests.words.demo import libraries

pytestmark = pytest.mark.paper

ARTICLES, STRIPS = "handouts.paper.settle:draw_article", "handouts.paper.strips:draw_strips"


def run(
    task: Callable[[Any], Any], values: Iterable[Any], lost: Callable[[Any, str], Any] | None, what: str
) -> Iterator[tuple[Any, Any]]:
    """Each task at once."""
    return ((value, task(value)) for value in values)


def planned(library: Library, version: str = EDITION.version) -> list[Document]:
    """The documents of a library in standard type, on both papers."""
    edition = replace(EDITION, version=version, versions={})
    makers = plan_documents(make_setting(library, Wording("en"), Pictures(), edition))
    return [each for make in makers.values() if (each := make()).size == "standard"]


def test_a_change_lays_out_what_it_changes(tmp_path: Path) -> None:
    """A word of one exercise: its one article for all documents.  A version: stamps and pocket cards alone.  A phone number: one line for all, and pocket cards.  Nothing: nothing."""
    memo, made = Memo(), list[tuple[int, int, int]]()
    word = texts_with("exercises/foot-lift.md", ("Lift your foot.", "Lift your whole foot."))
    phone = texts_with("clinic.yaml", ("555-0100", "555-0109"))
    for library, version in ((small_library(), "A2A2A2"), (small_library(), "A2A2A2"), (small_library(word), "A2A2A2"), (small_library(), "B3B3B3"), (small_library(phone), "A2A2A2")):
        before = [memo.made.get(name, 0) for name in (ARTICLES, STRIPS)]
        sheets = sheets_of(planned(library, version), memo, run, tmp_path / "reads")
        assert len(sheets) == 18 and all(bool(sheet.pdf) is sheet.made and not sheet.problems for sheet in sheets)
        articles, strips = (memo.made.get(name, 0) - count for name, count in zip((ARTICLES, STRIPS), before, strict=True))
        made.append((articles, strips, sum(sheet.made for sheet in sheets)))
    first, again, one_word, one_version, one_phone = made
    assert again == (0, 0, 0)
    plain, changed = ({source for each in planned(library) for source in sources_of(each)} for library in (small_library(), small_library(word)))
    assert first[0] == len(plain) and {source.article.anchor for source in changed - plain} == {"foot-lift", "row-foot-lift"}
    assert one_word[:2] == (len(changed - plain), 0) and 0 < one_word[2] < 18
    cards = {source for each in planned(small_library()) for source in sources_of(each) if EDITION.version in source.html}  # each pocket card has its own stamp and phone numbers
    assert one_version[0] == one_phone[0] == len(cards) == 1 and one_version[2] == one_phone[2] == 18
    assert one_version[1] > one_phone[1] == 4  # a line for the sheets, and for each paper of the wall


def test_all_of_a_foot_stands_in_one_face() -> None:
    """A line of the foot without a letter of its script is set in the faces of its document, as it was in one text with the others."""
    setting = make_setting(libraries()["ar"], Wording("ar"), Pictures(), EDITION)
    frame = frame_of(next(iter(plan_documents(setting).values()))(), 1, None)
    assert not re.search("[\u0600-\u06ff]", frame.phones.texts[0]) and re.search("[\u0600-\u06ff]", frame.stamps.texts[0])
    assert frame.phones.faces == frame.stamps.faces == frame.heads.faces and "arabic" in frame.phones.faces
    alone, together = (draw_strips(replace(frame.phones, faces=faces)).pages[0].data for faces in ((), frame.phones.faces))
    assert alone != together


def test_parts_travel() -> None:
    """What a document is put together from can be kept and sent: the same bytes afterwards."""
    bounds = list[Any]()

    def each(task: Callable[[Any], Any], values: Iterable[Any], lost: object = None, what: str = "") -> Iterator[tuple[Any, Any, bool]]:
        for value in values:
            if task is put_together:
                bounds.append(pickle.loads(pickle.dumps(value)))
            yield value, task(pickle.loads(pickle.dumps(value))), True

    document = documents()[BOOKLET.format("letter", "standard")]
    (made,) = lay_out_documents([document], each, each)
    assert made.laid.pdf == pdf_of(document.path) == put_together(bounds[0]).pdf


def test_headings_stand_below_those_of_the_document() -> None:
    """One article is heading 1 of its sheet, 2 in a bundle, 3 in a programme; so are its lines in the outline."""
    for path, level in ((SHEET, 1), (BUNDLE, 2), (BOOKLET, 3)):
        with pikepdf.open(io.BytesIO(pdf_of(path.format("letter", "standard")))) as pdf, pdf.open_outline() as outline:
            tags = [int(str(tag.S)[2:]) for tag in elements(pdf.Root.StructTreeRoot) if str(tag.S) in ("/H1", "/H2", "/H3", "/H4")]
            assert tags[0] == 1 and max(tags) == level + 1

            def depth_of(items: Any, title: str) -> int:
                for item in items:
                    if item.title == title:
                        return 1
                    if found := depth_of(item.children, title):
                        return 1 + found
                return 0

            assert depth_of(outline.root, "Foot lift") == level, path


def test_every_piece_of_content_has_its_element() -> None:
    """Numbers of marked content, of annotations and of table headers lead where they should, also where two parts share a page."""
    for path in (SHEET, BOOKLET):
        with pikepdf.open(io.BytesIO(pdf_of(path.format("letter", "standard")))) as pdf:
            nums = list(pdf.Root.StructTreeRoot.ParentTree.Nums)
            owners = {int(key): value for key, value in zip(nums[::2], nums[1::2], strict=True)}
            found = list(elements(pdf.Root.StructTreeRoot))
            for page in pdf.pages:
                marks = [
                    int(operands[1].MCID) for operands, operator in pikepdf.parse_content_stream(page)
                    if str(operator) == "BDC" and isinstance(operands[1], pikepdf.Dictionary) and "/MCID" in operands[1]
                ]
                row = owners[int(page.StructParents)]
                assert sorted(marks) == list(range(len(row)))
                assert all(mark in [int(kid) for kid in row[mark].K if not isinstance(kid, pikepdf.Object)] for mark in marks)
            names = [str(tag.ID) for tag in found if "/ID" in tag]
            assert len(names) == len(set(names))
            assert all(tag.P.objgen != (0, 0) for tag in found)


def test_one_paper_more_costs_no_article() -> None:
    """A sheet on A4 holds the article of the one on Letter, a little lower and further in."""
    letter, a4 = (documents()[SHEET.format(paper, "standard")] for paper in ("letter", "a4"))
    assert (letter.area.width, letter.area.height) == (a4.area.width, a4.area.height)
    assert a4.area.top > letter.area.top and a4.area.left < letter.area.left
    assert lay_out_document(a4).pages == lay_out_document(letter).pages == 1

"""PDFs kept between builds: the same bytes, pages and notices, and nothing kept of what failed."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from handouts.build.pdfs import FinishedPdf
from handouts.paper.articles import Document
from handouts.problems import Place, show_problem
from handouts.store.memo import Memo
from handouts.workers import Bounds, Workers
from tests.paper.making import sheets_of
from tests.paper.test_document import document_with


def laid_by(folder: Path, *documents: Document, workers: Workers | None = None, collect: bool = False) -> list[FinishedPdf]:
    """Documents as sheets, in a build of its own."""
    memo = Memo(folder)
    sheets = sheets_of(documents, memo, (workers or Workers()).map, folder / "reads")
    memo.flush()
    if collect:
        memo.collect()
    return sheets


def laid(folder: Path, steps: int) -> FinishedPdf:
    """The one sheet of an exercise with so many steps."""
    (sheet,) = laid_by(folder, document_with(steps=steps))
    return sheet


def without_end(document: Document) -> Document:
    """A document with what takes WeasyPrint exponential time."""
    flex = '<div style="display:flex">' * 14 + "x" + "</div>" * 14
    return replace(document, html=document.html.replace("</body>", f"{flex}</body>"))


def test_a_notice_is_told_again(tmp_path: Path) -> None:
    """A PDF that carries a notice has it in the next build too: it is put together from parts that are kept."""
    first, second = laid(tmp_path, 90), laid(tmp_path, 90)
    assert [problem.rule for problem in first.problems] == ["paper-too-long"]
    assert first.made and first == second


def test_taken_over_without_notices(tmp_path: Path) -> None:
    """One without is taken over."""
    first, second = laid(tmp_path, 3), laid(tmp_path, 3)
    assert first.pdf and replace(first, pdf=b"", made=False) == second


def test_parts_stay_while_their_document_does(tmp_path: Path) -> None:
    """After builds that asked for other parts, those of a document that was taken over are kept: its frame changes, its article does not."""
    other, still = document_with(steps=3), replace(document_with(steps=4), path="en/still.pdf")
    for steps in (5, 6, 7):
        laid_by(tmp_path, replace(document_with(steps), path=other.path), still, collect=True)
    again = replace(still, html=still.html.replace("555-0100", "555-0109"))
    memo = Memo(tmp_path)
    assert [sheet.made for sheet in sheets_of([again], memo, Workers().map, tmp_path / "reads")] == [True]
    assert memo.made.get("handouts.paper.settle:draw_article", 0) == 0


def test_failure_is_told_again(tmp_path: Path) -> None:
    """A document that could not be laid out has the same problem in the next build."""
    broken = document_with(steps=3)
    broken = replace(
        broken, html=broken.html.replace("<body", '<body><img src="https://other.example/x.png" alt=""', 1)
    )
    (first,), (second,) = (laid_by(tmp_path, broken) for _ in range(2))
    assert first.pdf == second.pdf == b"" and first.problems == second.problems != ()


def test_a_lost_sheet_is_named(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A sheet on which the writer exceeds its bounds is a problem at its place and is not kept; the other one is made."""
    bounds = Bounds(memory_bytes=4 * 1024**3, wall_seconds=600.0, processor_seconds=2)
    monkeypatch.setattr("handouts.workers.workers.Bounds", lambda: bounds)
    good, bad = document_with(steps=3), replace(document_with(steps=4), path="en/bad.pdf", place=Place("content/exercises/bad.md", 7))
    bad = without_end(bad)
    found = {sheet.path: sheet for sheet in laid_by(tmp_path, bad, good, workers=Workers(2))}
    assert found[good.path].pdf and found[good.path].problems == ()
    assert found[bad.path].pdf == b""
    assert [show_problem(problem) for problem in found[bad.path].problems] == [
        "content/exercises/bad.md:7:1: error: 'bad.pdf' could not be laid out: it took more than 2 seconds of processor time. "
        "Make its texts shorter, or its figure simpler. [paper-lost]"
    ]
    assert [sheet.path for sheet in laid_by(tmp_path, good) if sheet.made] == []


def test_a_lone_sheet_is_bounded_too(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """One changed sheet is laid out in a process of its own: what exceeds its bounds is named, and ends."""
    monkeypatch.setattr("handouts.workers.workers.Bounds", lambda: Bounds(memory_bytes=4 * 1024**3, wall_seconds=600.0, processor_seconds=2))
    (sheet,) = laid_by(tmp_path, without_end(document_with(steps=4)), workers=Workers(2))
    assert sheet.pdf == b"" and [problem.rule for problem in sheet.problems] == ["paper-lost"]

"""PDFs kept between builds: the same bytes, pages and notices, and nothing kept of what failed."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from handouts.cache import Cache
from handouts.press import Sheet, lay_out_sheets
from handouts.workers import Workers
from tests.paper.test_document import document_with


def laid(cache: Cache, steps: int) -> Sheet:
    """The one sheet of an exercise with so many steps."""
    (sheet,) = lay_out_sheets([document_with(steps=steps)], cache, Workers())
    return sheet


def test_kept_with_its_notices(tmp_path: Path) -> None:
    """A PDF that carries a notice comes back from the cache with it."""
    first, second = laid(Cache(tmp_path), 40), laid(Cache(tmp_path), 40)
    assert first.made and not second.made
    assert [problem.rule for problem in first.problems] == ["paper-too-long"]
    assert replace(first, made=False) == second


def test_kept_without_notices(tmp_path: Path) -> None:
    """So does one without."""
    first, second = laid(Cache(tmp_path), 3), laid(Cache(tmp_path), 3)
    assert first.problems == second.problems == ()
    assert (first.pdf, first.pages) == (second.pdf, second.pages)


def test_failure_is_not_kept(tmp_path: Path) -> None:
    """A document that could not be laid out is tried again."""
    broken = document_with(steps=3)
    broken = replace(
        broken, html=broken.html.replace("<body", '<body><img src="https://other.example/x.png" alt=""', 1)
    )
    for _ in range(2):
        (sheet,) = lay_out_sheets([broken], Cache(tmp_path), Workers())
        assert sheet.made and sheet.pdf == b"" and sheet.problems

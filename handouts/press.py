"""The PDFs of a build: kept ones first, the others laid out by several workers, each in the order it is done.

Knows documents and PDFs; never what is in them, and never where they go.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Any

from handouts.cache import Cache
from handouts.paper.cage import Laid
from handouts.paper.document import Document, lay_out_document
from handouts.problems import Grade, Place, Problem, has_errors
from handouts.workers import Workers


@dataclass(frozen=True, slots=True)
class Sheet:
    """A finished PDF."""

    path: str
    pdf: bytes
    pages: int
    problems: tuple[Problem, ...]
    made: bool
    """False where it was kept from an earlier build."""


def lay_out_sheets(documents: Iterable[Document], cache: Cache, workers: Workers) -> Iterator[Sheet]:
    """Every document as a PDF, in the order in which they are done; kept ones first, then those of one page together."""
    missing = []
    for document in documents:
        kept = cache.get(document.digest)
        if kept is None:
            missing.append(document)
        else:
            yield _kept_sheet(document, kept)
    # the sheets of one exercise have the same figure, which a process that is warm has written already
    missing.sort(key=lambda document: document.path)
    for document, laid in workers.map(lay_out_document, missing, _lost, "laying out sheets"):
        yield _keep(document, laid, cache)


def _lost(document: Document, why: str) -> Laid:
    name = document.path.rpartition("/")[2]
    what, mend = f"'{name}' could not be laid out: {why}", "Make its texts shorter, or its figure simpler."
    return Laid(b"", 0, (Problem(document.place, "paper-lost", what, mend),))


def _keep(document: Document, laid: Any, cache: Cache) -> Sheet:
    sheet = Sheet(document.path, laid.pdf, laid.pages, laid.problems, made=True)
    if laid.pdf and not has_errors(laid.problems):
        cache.put(document.digest, _packed(sheet))
    return sheet


def _packed(sheet: Sheet) -> bytes:
    """Length of the head in four bytes, the head (pages and notices) as JSON, the PDF."""
    notices = [
        [item.place.file, item.place.line, item.place.column, item.rule, item.what, item.mend]
        for item in sheet.problems
    ]
    head = json.dumps([sheet.pages, notices]).encode()
    return len(head).to_bytes(4, "big") + head + sheet.pdf


def _kept_sheet(document: Document, kept: bytes) -> Sheet:
    end = 4 + int.from_bytes(kept[:4], "big")
    pages, rows = json.loads(kept[4:end])
    notices = tuple(
        Problem(Place(file, line, column), rule, what, mend, Grade.NOTICE)
        for file, line, column, rule, what, mend in rows
    )
    return Sheet(document.path, kept[end:], pages, notices, made=False)

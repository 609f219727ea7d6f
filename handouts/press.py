"""The PDFs of a build: kept ones first, the others laid out in several processes, each in the order it is done.

Knows documents and PDFs; never what is in them, and never where they go.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator
from concurrent.futures import Executor, ProcessPoolExecutor, as_completed
from dataclasses import dataclass
from multiprocessing import get_context
from typing import Any

from handouts.cache import Cache
from handouts.paper.document import Document, lay_out_document
from handouts.problems import Grade, Place, Problem, has_errors


@dataclass(frozen=True, slots=True)
class Sheet:
    """A finished PDF."""

    path: str
    pdf: bytes
    pages: int
    problems: tuple[Problem, ...]
    made: bool
    """False where it was kept from an earlier build."""


def lay_out_sheets(documents: Iterable[Document], cache: Cache, jobs: int) -> Iterator[Sheet]:
    """Every document as a PDF, in the order in which they are done; kept ones first."""
    missing = []
    for document in documents:
        kept = cache.get(document.digest)
        if kept is None:
            missing.append(document)
        else:
            yield _kept_sheet(document, kept)
    if not missing:
        return
    if jobs == 1:
        for document in missing:
            yield _keep(document, lay_out_document(document), cache)
        return
    with workers(jobs) as pool:
        running = {pool.submit(lay_out_document, document): document for document in missing}
        for future in as_completed(running):
            yield _keep(running.pop(future), future.result(), cache)


def workers(jobs: int) -> Executor:
    """Warm processes; forked from a clean server so that no thread of the parent is copied."""
    return ProcessPoolExecutor(jobs, mp_context=get_context("forkserver"))


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

"""The PDFs of a build, each in the order it is done.  Knows documents and PDFs; never what is in them, and never where they go."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from handouts.paper.articles import Document
from handouts.paper.laid import Laid
from handouts.problems import Problem
from handouts.tasks.calling import CallEach, File, Later

_LAY_OUT: Later[Laid] = Later("handouts.paper.document", "lay_out_document", Laid)


@dataclass(frozen=True, slots=True)
class FinishedPdf:
    """A finished PDF."""

    path: str
    pdf: bytes
    pages: int
    problems: tuple[Problem, ...]
    made: bool
    """False where it was kept from an earlier build."""


def lay_out_sheets(documents: Iterable[Document], each: CallEach) -> Iterator[FinishedPdf]:
    """Every document as a PDF, in the order in which they are done.

    Those of one page should stand together: they have the same figure, which a process that is warm has written already.
    """
    for document, laid, made in each(_LAY_OUT, documents, _lost, "laying out sheets"):
        yield FinishedPdf(document.path, laid.pdf, laid.pages, laid.problems, made)


def _lost(document: Document, why: str) -> Laid:
    name = document.path.rpartition("/")[2]
    what, mend = f"'{name}' could not be laid out: {why}", "Make its texts shorter, or its figure simpler."
    return Laid(File(), 0, (Problem(document.place, "paper-lost", what, mend),))

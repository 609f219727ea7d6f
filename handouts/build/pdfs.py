"""The PDFs of a build, each in the order it is done.  Knows documents and PDFs; never what is in them, and never where they go."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from functools import partial
from typing import Any

from handouts.paper.articles import Document
from handouts.paper.laid import Laid
from handouts.problems import Problem
from handouts.tasks.calling import CallEach, File, Later, RunTasks, Spread

_Laid = tuple[Document, Laid | str]
LAY_OUT: Later[Laid] = Later("handouts.paper.laying", "lay_out_document", Laid)
_LAY_OUT_ALL: Later[Iterator[_Laid]] = Later("handouts.paper.laying", "lay_out_documents", Iterator[_Laid])


@dataclass(frozen=True, slots=True)
class FinishedPdf:
    """A finished PDF."""

    path: str
    pdf: bytes
    pages: int
    problems: tuple[Problem, ...]
    made: bool
    """False where it was kept from an earlier build."""


def lay_out_sheets(documents: Iterable[Document], spread: Spread, run: RunTasks) -> Iterator[FinishedPdf]:
    """Every document as a PDF, known ones first; ``spread`` and ``run`` as in ``handouts.tasks.calling``.

    Of those that are not known, articles are laid out once for all documents that hold them.  Those of one page should stand
    together: they have the same figure, which a process that is warm has written already.
    """
    parts: CallEach = partial(spread, run)

    def run_whole(
        _task: Callable[[Any], Any], missing: Iterable[Document], lost: Callable[[Document, str], Laid] | None, _what: str
    ) -> Iterator[tuple[Document, Laid]]:
        wanted = list(missing)
        for document, laid in _LAY_OUT_ALL(wanted, parts) if wanted else ():
            yield document, (lost or _lost)(document, laid) if isinstance(laid, str) else laid

    for document, laid, made in spread(run_whole, LAY_OUT, documents, _lost, "laying out sheets"):
        yield FinishedPdf(document.path, laid.pdf, laid.pages, laid.problems, made)


def _lost(document: Document, why: str) -> Laid:
    name = document.path.rpartition("/")[2]
    what, mend = f"'{name}' could not be laid out: {why}", "Make its texts shorter, or its figure simpler."
    return Laid(File(), 0, (Problem(document.place, "paper-lost", what, mend),))

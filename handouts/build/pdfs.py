"""The PDFs of a build, each in the order it is done: taken over where nothing that it was made from has changed, else laid out.

Knows documents and PDFs; never what is in them, and never where they go.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, field
from functools import partial
from typing import Any

import msgspec

from handouts.paper.articles import Document
from handouts.paper.laid import LaidDocument
from handouts.paper.plan import Documents
from handouts.problems import Problem
from handouts.publishing.manifest import digest_of
from handouts.store.digest import digest
from handouts.store.memo import Memo, Run
from handouts.store.reads import WatchedReads
from handouts.tasks.calling import Later

_LAY_OUT: Later[Iterator[LaidDocument]] = Later("handouts.paper.laying", "lay_out_documents", Iterator[LaidDocument])


@dataclass(frozen=True, slots=True)
class FinishedPdf:
    """A finished PDF."""

    path: str
    pdf: bytes
    """Empty where it was taken over, and where there is none."""
    pages: int
    problems: tuple[Problem, ...] = ()
    made: bool = True
    """False where it was taken over."""


class KeptPdf(msgspec.Struct, frozen=True, array_like=True):
    """What is kept of a PDF that has no problems."""

    name: str
    """SHA-256 of its bytes."""
    pages: int
    parts: dict[str, list[bytes]]
    """Keys of the results that it was put together from, by the name of their task."""


@dataclass(frozen=True, slots=True)
class Sheets:
    """The PDFs of a site: what they are made from, and what is known of them from before."""

    documents: Documents
    reads: WatchedReads
    memo: Memo
    run: Run
    """Runs a task for many values, as ``Workers.map`` does."""
    made: list[str] = field(default_factory=list)
    """Paths of those that were made now."""

    def lay_out(self, take_over: Callable[[str, str], bool] = lambda _path, _name: False) -> Iterator[FinishedPdf]:
        """Every PDF, known ones first.  Of the others each article is laid out once for all documents that hold it.

        ``take_over`` takes the PDF of a path with a SHA-256, and gives False where there is none any more.
        """
        missing = []
        for path in sorted(self.documents.makers):
            kept = self.reads.find(*self._asked(path))
            known = msgspec.msgpack.decode(kept, type=KeptPdf) if kept is not None else None
            if known and take_over(path, known.name):
                self.memo.hold(known.parts)
                yield FinishedPdf(path, b"", known.pages, made=False)
            else:
                missing.append(path)
        yield from self._make(missing) if missing else ()

    def why(self, path: str) -> list[str] | None:
        """What changed of what a PDF follows from; None where nothing is known of that."""
        return self.reads.why(*self._asked(path))

    def kept(self) -> list[str]:
        """The SHA-256 of every PDF that is kept."""
        return [msgspec.msgpack.decode(value, type=KeptPdf).name for value in self.reads.values()]

    def _asked(self, path: str) -> tuple[Any, ...]:
        make = self.documents.makers[path]
        return (digest(path), make_document, make.func, *make.args)

    def _make(self, paths: Iterable[str]) -> Iterator[FinishedPdf]:
        documents, keep = list[Document](), dict[str, Callable[[bytes], None]]()
        for path in paths:
            self.made.append(path)
            document, keep[path] = self.reads.note(*self._asked(path))
            documents.append(document)
        for made in _LAY_OUT(documents, partial(self.memo.spread, self.run), self._each_now):
            path, laid = made.document.path, made.laid
            problems = (_lost(made.document, made.lost),) if made.lost else laid.problems
            if laid.pdf and not problems:
                keep[path](msgspec.msgpack.encode(KeptPdf(digest_of(laid.pdf), laid.pages, self.memo.keys_of(made.parts))))
            yield FinishedPdf(path, laid.pdf, laid.pages, problems)

    def _each_now(self, task: Callable[[Any], Any], values: Iterable[Any], lost: Any = None, what: str = "") -> Iterator[tuple[Any, Any, bool]]:
        """Calls a task for each value whose result is not kept by itself."""
        return ((value, result, True) for value, result in self.run(task, values, lost, what))


def make_document(make: Callable[..., Document], *parts: object) -> Document:
    """A document, for its PDF: the code behind this module is all that makes one."""
    return make(*parts)


def _lost(document: Document, why: str) -> Problem:
    name = document.path.rpartition("/")[2]
    what, mend = f"'{name}' could not be laid out: {why}", "Make its texts shorter, or its figure simpler."
    return Problem(document.place, "paper-lost", what, mend)

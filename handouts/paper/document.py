"""A document: an HTML text that holds everything its PDF is made of, and the key of that PDF.

A PDF is a pure function of its document, so it can be kept by the digest and made in any process.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace

from handouts.cache import key_of
from handouts.paper.cage import Laid, render_pdf, writer_version
from handouts.paper.kit import load_kit
from handouts.problems import Grade, Place, Problem

FITS = ("fit-0", "fit-1", "fit-2")
"""How tightly a document may be set, the calmest first; a class of its root element."""


@dataclass(frozen=True, slots=True)
class Document:
    """A text to be laid out: where its PDF goes, its HTML, and how many pages it should have."""

    path: str
    """Path of the PDF in the site."""
    html: str
    pages: int
    """Pages that it should have at most; a problem says so where it has more.  0: as many as it takes."""
    place: Place
    """Where in the library it comes from."""
    digest: str = field(init=False)
    """Key of the PDF: hash of the HTML, styles, fonts and versions of the writer."""

    def __post_init__(self) -> None:
        object.__setattr__(self, "digest", key_of(self.html, str(self.pages), load_kit().digest, writer_version()))


def lay_out_document(document: Document) -> Laid:
    """The PDF of a document, set as calmly as its pages allow.  For any process: needs nothing but the document."""
    laid = Laid(b"", 0, ())
    for fit in FITS:
        laid = render_pdf(document.html.replace(FITS[0], fit, 1), {}, document.place)
        if laid.problems or not document.pages or laid.pages <= document.pages:
            return laid
    problem = Problem(
        document.place, "paper-too-long",
        f"'{document.path.rpartition('/')[2]}' takes {laid.pages} pages and should take {document.pages}",
        "Shorten its steps, its mistakes or its cautions.", Grade.NOTICE,
    )
    return replace(laid, problems=(problem,))

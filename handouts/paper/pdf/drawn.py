"""Pages that are drawn: what an article is on paper, apart from any document, page size or page number.

Points are 1/72 inch; a page's origin is its lower left corner, as in a PDF.  Values only: any process can make them,
keep them, and put them together.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from handouts.problems import Problem

PIXELS = b"P"
SLOT = "slot-"
"""What the name of a form begins with that a document fills in: a QR code, whose address the article does not know."""
NAMED = -1
"""In place of a number in ``DrawnPages.numbers``: the alternative text of a slot, in the order of ``DrawnPages.slots``."""
FIRST_MARK = -2
"""In ``DrawnPages.numbers``, marked content 0 of its page; -3 is 1, and so on: a page may have content before it."""


@dataclass(frozen=True, slots=True)
class DrawnPixels:
    """The pixels of a picture: width and height, their deflated bytes, and how those are read (a row of filters and their settings)."""

    width: int
    height: int
    data: bytes
    read: bytes


@dataclass(frozen=True, slots=True)
class DrawnForm:
    """A drawing of its own, used by name: deflated operators, the box around it, transparency states it names, pixels it paints."""

    data: bytes
    box: tuple[float, float, float, float]
    states: Mapping[str, bytes] = field(default_factory=dict)
    matrix: bytes = b""
    pixels: DrawnPixels | None = None
    """Painted by the name ``PIXELS``."""


@dataclass(frozen=True, slots=True)
class FontUse:
    """What pages use of a face: glyphs by number with their letters, their widths in 1/1000 em, and whether they are missing."""

    name: str
    letters: Mapping[int, str]
    widths: Mapping[int, int]
    missing: Mapping[int, str]


@dataclass(frozen=True, slots=True)
class Bookmark:
    """A line of the outline: level from 1, words, and where it leads to."""

    level: int
    label: str
    x: float
    y: float


@dataclass(frozen=True, slots=True)
class DrawnPage:
    """One page; the local number of a structure element is its place in ``DrawnPages``."""

    data: bytes
    """Deflated operators; they leave the state of the page as it was."""
    height: float
    forms: tuple[str, ...] = ()
    marked: tuple[int, ...] = ()
    """Local number of the structure element of each piece of marked content."""
    notes: tuple[int, ...] = ()
    """Local numbers of the link annotations."""
    anchors: Mapping[str, tuple[float, float]] = field(default_factory=dict)
    bookmarks: tuple[Bookmark, ...] = ()


@dataclass(frozen=True, slots=True)
class DrawnPages:
    """The pages of an article with its structure.

    Local numbers: 0 is the document's structure element, then the pages, the objects, and the keys of annotations.
    """

    pages: tuple[DrawnPage, ...]
    tops: tuple[int, ...] = ()
    """Local numbers of the elements below the document's."""
    objects: bytes = b""
    """Structure elements and annotations, one a line, with ``%d`` for each number in them and ``%b`` for a slot's words."""
    count: int = 0
    numbers: tuple[int, ...] = ()
    """Local number, or marked content, for each ``%d``, and ``NAMED`` for each ``%b``."""
    keys: tuple[int, ...] = ()
    """Local numbers of the elements that own an annotation."""
    slots: tuple[str, ...] = ()
    """Names of the slots whose words stand in ``objects``, in their order there."""
    fonts: tuple[FontUse, ...] = ()
    states: Mapping[str, bytes] = field(default_factory=dict)
    forms: Mapping[str, DrawnForm] = field(default_factory=dict)
    problems: tuple[Problem, ...] = ()
    """Where there are errors among them, there are no pages."""
    over: bool = False
    """Whether it takes more pages than it may even in the tightest fit."""
    below: bool = False
    """Whether its first page is the last of the article before it, which it leaves room for."""
    layouts: int = 0
    """How often it was laid out until it fitted."""

"""What a printed sheet shows, read back from its HTML: what stands before the reason, the scales, the table to tick.

What is decided of the form of a sheet is measured on the sheet itself, so that a changed template changes the score.
Reads HTML only, never a library.
"""

from __future__ import annotations

import re
import unicodedata
from dataclasses import dataclass
from html.parser import HTMLParser

_SKIPPED = re.compile(r"<(svg|style|script|head)\b.*?</\1>", re.S)
_VOID = frozenset({"br", "hr", "img", "input", "link", "meta", "wbr"})
_ENDS = re.compile(r"(?<!\d)0(?!\d)\s*([^\d\s][^\d,;،；，、]*)[,;،；，、]\s*\D{0,20}10(?!\d)\s*([^\d\s][^\d.;،]*)")
"""'0 rest, 10 the most you can do': both ends of a scale with a word each; '0 to 10' has no such words."""


@dataclass(frozen=True, slots=True)
class ScoredSheet:
    """What was found on one sheet; texts are plain, of one line."""

    before: str = ""
    """What is read before the reason for the exercise."""
    first: bool = False
    """Whether the reason stands before every section and picture."""
    dose: str = ""
    pain: str = ""
    heads: tuple[str, ...] = ()
    """Headings of the columns and rows of its tables."""
    boxes: int = 0
    """Empty boxes to tick."""
    notes: str = ""
    """What stands under the picture."""


def scale_ends(text: str) -> tuple[str, str] | None:
    """What 0 and 10 mean, where a text says both in words; digits of any script."""
    plain = "".join(str(unicodedata.decimal(sign)) if sign.isdecimal() else sign for sign in text)
    found = _ENDS.search(plain)
    return (found[1].strip(" .)。("), found[2].strip(" .)。(")) if found else None


def read_sheet(html: str, why: str) -> ScoredSheet:
    """What the HTML of a sheet shows; ``why`` is the plain text of the reason, as it should stand there."""
    reader = _Reader()
    reader.feed(_SKIPPED.sub("", html))
    before, found, _ = " ".join(reader.opening).partition(" ".join(why.split()))
    return ScoredSheet(
        before=before.strip() if found else "",
        first=bool(found),
        dose=" ".join(reader.dose),
        pain=" ".join(reader.pain),
        heads=tuple(reader.heads),
        boxes=reader.boxes,
        notes=" ".join(reader.notes),
    )


class _Reader(HTMLParser):
    """Walks the article once and collects the words of each part."""

    def __init__(self) -> None:
        super().__init__()
        self.open: list[str] = []
        self.opening: list[str] = []
        self.dose: list[str] = []
        self.pain: list[str] = []
        self.notes: list[str] = []
        self.heads: list[str] = []
        self.boxes = 0
        self.begun = False
        """Whether a section or a picture was met."""

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        classes = (dict(attrs).get("class") or "").split()
        self.begun |= tag == "section" or "figure" in classes
        self.boxes += "box" in classes
        if tag == "th":
            self.heads.append("")
        if tag not in _VOID:
            self.open.append(" ".join((tag, *classes)))

    def handle_endtag(self, tag: str) -> None:
        while self.open and self.open.pop().split()[0] != tag:
            pass

    def handle_data(self, data: str) -> None:
        words = " ".join(data.split())
        within = [set(each.split()) for each in self.open]
        if not words or not any("article" in each for each in within):
            return
        if not self.begun:
            self.opening.append(words)
        for name, kept in (("dose", self.dose), ("pain", self.pain), ("figure-note", self.notes)):
            if any(name in each for each in within):
                kept.append(words)
        if self.heads and any("th" in each for each in within):
            self.heads[-1] = f"{self.heads[-1]} {words}".strip()

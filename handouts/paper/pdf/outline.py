"""The outline of a document: its bookmarks as a tree; levels that are left out are closed up."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from handouts.paper.pdf.drawn import Bookmark
from handouts.paper.pdf.file import PdfFile, write_number, write_text


@dataclass(slots=True)
class _Item:
    number: int
    entries: bytes = b""
    kids: list[_Item] = field(default_factory=list)


def write_outline(file: PdfFile, bookmarks: Sequence[tuple[Bookmark, int]]) -> int:
    """Writes the bookmarks, each with the number of its page, and gives the number of the outline; 0 where there are none."""
    if not bookmarks:
        return 0
    root = _Item(file.take())
    path = [(0, root)]
    for mark, page in bookmarks:
        while path[-1][0] >= mark.level:
            path.pop()
        target = b"[%d 0 R/XYZ %b %b 0]" % (page, write_number(mark.x), write_number(mark.y))
        item = _Item(file.take(), b"/Title%b/Dest%b" % (write_text(mark.label), target))
        path[-1][1].kids.append(item)
        path.append((mark.level, item))
    _write(file, root)
    return root.number


def _write(file: PdfFile, item: _Item) -> int:
    """Writes an item and all below it, and gives how many there are below it."""
    count = 0
    for place, kid in enumerate(item.kids):
        kid.entries += b"/Parent %d 0 R" % item.number
        kid.entries += b"/Prev %d 0 R" % item.kids[place - 1].number if place else b""
        kid.entries += b"/Next %d 0 R" % item.kids[place + 1].number if place + 1 < len(item.kids) else b""
        count += 1 + _write(file, kid)
    ends = b"/First %d 0 R/Last %d 0 R" % (item.kids[0].number, item.kids[-1].number) if item.kids else b""
    file.put(item.number, b"<<%b%b/Count %d>>" % (item.entries, ends, count))
    return count

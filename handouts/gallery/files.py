"""The files of the gallery by their names, each made when it is asked for first."""

from __future__ import annotations

from functools import cache

from handouts.gallery.chapter import chapter_figures, chapter_page, chapter_picture
from handouts.gallery.movements import read_movements
from handouts.gallery.page import gallery_page, movement_svg


def file_names() -> tuple[str, ...]:
    """Every file, the pages last, so that none stands without its pictures."""
    return (*(f"{name}.svg" for name in (*chapter_figures(), *(one.slug for one in read_movements()))), "chapter.html", "index.html")


@cache
def gallery_file(name: str) -> bytes | None:
    """The bytes of a file; None where there is none of this name."""
    if name == "index.html":
        return gallery_page().encode()
    if name == "chapter.html":
        return chapter_page().encode()
    if name.removesuffix(".svg") in chapter_figures():
        return chapter_picture(name.removesuffix(".svg")).encode()
    movement = next((one for one in read_movements() if f"{one.slug}.svg" == name), None)
    return movement_svg(movement).encode() if movement else None

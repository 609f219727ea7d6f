"""What a library has for walls and pockets: posters and pocket cards of its programmes, station cards of its classes."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from functools import partial

from handouts.model import Library
from handouts.paper.articles import Document
from handouts.paper.class_sheets import STATIONS, stations_document
from handouts.paper.context import PaperSetting, papers_of
from handouts.paper.poster import POCKET, POSTER, pocket_document, poster_document
from handouts.site.paths import LARGER, item_page, wall_path

SIZE = "standard"
"""They come in one type size: their letters follow from what they are for."""
PAPERS_OF: Mapping[str, Mapping[str, str]] = {
    POSTER: LARGER, POCKET: {own: own for own in LARGER}, STATIONS: {own: own for own in LARGER},
}  # fmt: skip
"""The usual paper of each, by the clinic's own."""
_BASES: Mapping[str, str] = {**{own: own for own in LARGER}, **{large: own for own, large in LARGER.items()}, "a2": "a4"}
"""The paper of a clinic whose margins a paper has."""
_ON = {POSTER: ("tabloid", "a3", "a2"), POCKET: ("letter", "a4"), STATIONS: ("letter", "a4", "tabloid", "a3")}


def base_of(form: str, paper: str) -> str | None:
    """The clinic's paper whose margins a poster, pocket cards or station cards have on a paper; None where they do not come on it."""
    return _BASES[paper] if paper in _ON[form] else None


def _wall(library: Library) -> Iterator[tuple[str, str, str, str]]:
    """Folder and slug of the page of each that the site has, its form and its paper."""
    for own in papers_of(library):
        for programme in library.programmes:
            yield "programmes", programme.slug, POSTER, LARGER[own]
            yield "programmes", programme.slug, POCKET, own
        for plan in library.classes:
            yield from (("classes", plan.slug, STATIONS, paper) for paper in (own, LARGER[own]))


def wall_paths(library: Library) -> tuple[str, ...]:
    """The path of every PDF of a library for walls and pockets."""
    return tuple(wall_path(item_page(library.language, folder, slug), f"{slug}-{form}", paper) for folder, slug, form, paper in _wall(library))


def plan_wall(setting: PaperSetting) -> Mapping[str, partial[Document]]:
    """By its path what makes each document for walls and pockets."""
    return {
        wall_path(setting.page(folder, slug), f"{slug}-{form}", paper): partial(wall_document, setting, slug, form, paper)
        for folder, slug, form, paper in _wall(setting.library)
    }


def wall_document(setting: PaperSetting, slug: str, form: str, paper: str) -> Document:
    """A poster or pocket cards of a programme, or station cards of a class, on a paper that they come on."""
    own, library = setting.on(_BASES[paper], SIZE), setting.library
    if form == STATIONS:
        return stations_document(own, library.class_plan[slug], paper)
    if form == POCKET:
        return pocket_document(own, library.programme[slug])
    return poster_document(own, library.programme[slug], paper)

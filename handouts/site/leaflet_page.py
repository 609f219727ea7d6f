"""The view of the page of an advice sheet."""

from __future__ import annotations

from dataclasses import dataclass

from markupsafe import Markup

from handouts.model import Leaflet
from handouts.publication.rich_text import rich, rich_all
from handouts.publication.views import SectionView, view_sections
from handouts.site.context import LanguageSite
from handouts.site.page_frame import Link, PageFrame, make_frame
from handouts.site.parts import (
    Cautions,
    ExerciseRow,
    HintsView,
    Prints,
    make_cautions,
    make_prints,
    make_row,
    review_line,
)
from handouts.site.paths import item_page, relative


@dataclass(frozen=True, slots=True)
class LeafletPage:
    """Everything on the page of an advice sheet."""

    frame: PageFrame
    title: Markup
    why: Markup
    suits: Markup
    points: tuple[HintsView, ...]
    programme: tuple[Link, ...]
    """At whose end it is handed out."""
    keep: tuple[ExerciseRow, ...]
    sections: tuple[SectionView, ...]
    come_back: tuple[Markup, ...]
    cautions: Cautions
    prints: tuple[Prints, ...]
    review: str
    code: str
    sources: tuple[str, ...]
    sources_language: str


def make_leaflet_page(setting: LanguageSite, slug: str) -> LeafletPage:
    """The view of an advice sheet."""
    library, wording = setting.library, setting.wording
    leaflet, page = library.leaflet[slug], item_page(setting.language, "leaflets", slug)
    return LeafletPage(
        frame=make_frame(setting, page, leaflet.title.text, leaflet.why.text, item=f"leaflets/{slug}", stop="#stop"),
        title=rich(leaflet.title),
        why=rich(leaflet.why),
        suits=rich(leaflet.suits),
        points=(HintsView(wording.say("course.keep_in_mind"), rich_all(leaflet.points)),),
        programme=_programme(setting, page, leaflet),
        keep=tuple(make_row(setting, page, library.exercise[ref.slug]) for ref in leaflet.keep),
        sections=view_sections(leaflet.sections),
        come_back=rich_all(leaflet.come_back),
        cautions=make_cautions(setting, (library.caution[ref.slug] for ref in leaflet.cautions)),
        prints=make_prints(setting, page, slug, wording.say("site.print_leaflet")),
        review=review_line(setting, leaflet.review, f"leaflets/{slug}"),
        code=wording.say("site.code", code=leaflet.code),
        sources=leaflet.sources,
        sources_language=setting.source.language,
    )


def _programme(setting: LanguageSite, page: str, leaflet: Leaflet) -> tuple[Link, ...]:
    programme = setting.library.programme.get(leaflet.programme.slug) if leaflet.programme else None
    if programme is None:
        return ()
    return (Link(relative(page, item_page(setting.language, "programmes", programme.slug)), programme.title.text),)

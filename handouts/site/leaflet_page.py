"""The view of the page of an advice sheet."""

from __future__ import annotations

from dataclasses import dataclass

from markupsafe import Markup

from handouts.publication.rich_text import rich, rich_all
from handouts.publication.views import SectionView, view_sections
from handouts.site.context import LanguageSite
from handouts.site.page_frame import PageFrame, make_frame
from handouts.site.parts import Cautions, HintsView, Prints, make_cautions, make_prints, review_line
from handouts.site.paths import item_page


@dataclass(frozen=True, slots=True)
class LeafletPage:
    """Everything on the page of an advice sheet."""

    frame: PageFrame
    title: Markup
    why: Markup
    suits: Markup
    points: tuple[HintsView, ...]
    sections: tuple[SectionView, ...]
    cautions: Cautions
    prints: tuple[Prints, ...]
    review: str
    code: str
    sources: tuple[str, ...]
    sources_language: str


def make_leaflet_page(setting: LanguageSite, slug: str) -> LeafletPage:
    """The view of an advice sheet."""
    library, speech = setting.library, setting.speech
    leaflet, page = library.leaflet[slug], item_page(setting.language, "leaflets", slug)
    return LeafletPage(
        frame=make_frame(setting, page, leaflet.title.text, leaflet.why.text, item=f"leaflets/{slug}", stop="#stop"),
        title=rich(leaflet.title),
        why=rich(leaflet.why),
        suits=rich(leaflet.suits),
        points=(HintsView(speech.say("course.keep_in_mind"), rich_all(leaflet.points)),),
        sections=view_sections(leaflet.sections),
        cautions=make_cautions(setting, (library.caution[ref.slug] for ref in leaflet.cautions)),
        prints=make_prints(setting, page, slug, speech.say("site.print_leaflet")),
        review=review_line(setting, leaflet.review),
        code=speech.say("site.code", code=leaflet.code),
        sources=leaflet.sources,
        sources_language=setting.source.language,
    )

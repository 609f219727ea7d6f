"""The files of the translator's pages, by path.  Pure: the caller writes them."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from handouts.model import Library
from handouts.site.assets import build_assets, name_by_hash, read_asset_sources
from handouts.site.page_frame import POLICY
from handouts.templating.templates import template_environment
from handouts.translator.views import OTHER, Desk, Draw, review_page
from handouts.words.state import LanguageState


def lay_out_review(
    library: Library, states: Iterable[LanguageState], draw: Draw, templates: Mapping[str, bytes]
) -> dict[str, bytes]:
    """The pages of every language, published or not, and their styles.

    ``library`` is in the language it is written in; ``templates`` are the files of the folder.
    """
    sources = read_asset_sources(templates)
    environment = template_environment(sources.templates)
    css = templates["styles/review.css"]
    files = {name_by_hash("review", "css", css): css}
    for state in states:
        assets = build_assets(sources, library.clinic.accent, (library.language, state.language))
        files |= {path: data for path, data in assets.files.items() if path.endswith((".css", ".woff2"))}
        desk = Desk(library, state, draw, POLICY, (assets.style, name_by_hash("review", "css", css)))
        texts = {review_page(state.language, each.slug): desk.exercise(each) for each in library.exercises}
        texts[review_page(state.language, OTHER)] = desk.other()
        index = environment.get_template("review.html").render(view=desk.index())
        files[review_page(state.language)] = index.encode()
        for path, view in texts.items():
            files[path] = environment.get_template("review-texts.html").render(view=view).encode()
    return files

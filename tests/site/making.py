"""A small site in two languages, made as a build makes it, with plain drawings for figures."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from functools import cache
from pathlib import Path

from markupsafe import Markup

from handouts.model import Exercise, Library, Side
from handouts.site.assets import AssetSources, read_asset_sources
from handouts.site.context import Edition, SiteFigures
from handouts.site.lay_out import SitePart, plan_site
from handouts.site.paths import item_page, pdf_path
from handouts.source.files import read_folder
from handouts.words.wording import Wording
from tests.builders import a_library, pseudo_library

ROOT = Path(__file__).parents[2]
MIRRORED = "ar-XB"
"""The layout-test language that is read from the right."""


class Drawings:
    """A rectangle for each exercise."""

    def shown_side(self, exercise: Exercise) -> Side:
        """The right side."""
        return Side.RIGHT

    def figure_note(self, exercise: Exercise, language: str) -> str:
        return "Stripes: muscles that work."

    def fault_svg(self, exercise: Exercise, number: int, language: str, side: Side = Side.TOGETHER) -> Markup:
        return Markup("")

    def figure_svg(self, exercise: Exercise, language: str, side: Side = Side.TOGETHER) -> Markup:
        return Markup(
            '<svg class="fig" viewBox="0 0 300 200" role="img" aria-labelledby="{0}t"><title id="{0}t">{1}</title>'
            '<path class="k" d="M10 10h280v180h-280z"/></svg>'
        ).format(exercise.slug, exercise.title.text)

    def motion(self, exercise: Exercise) -> None:
        return None

    def panel_svg(self, exercise: Exercise) -> str:
        return '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 100 100"><path d="M10 10h80v80h-80z"/></svg>'


@cache
def asset_sources() -> AssetSources:
    """The project's own templates, styles, scripts and fonts."""
    files, problems = read_folder(ROOT / "templates", "templates")
    assert problems == []
    return read_asset_sources(files)


def pdfs_of(library: Library) -> frozenset[str]:
    """The paths of every PDF that a full build makes for a library."""
    names: list[tuple[str, str]] = []
    for kind, items in (("exercises", library.exercises), ("programmes", library.programmes), ("bundles", library.bundles)):
        names += [(item_page(library.language, kind, item.slug), item.slug) for item in items]
    names += [(item_page(library.language, "programmes", each.slug), f"{each.slug}-{tier.tier.slug}")
              for each in library.programmes for tier in each.tiers]
    clinic = library.clinic
    return frozenset(pdf_path(page, name, paper, size) for page, name in names
                     for paper in clinic.papers for size in clinic.type_sizes)


def lay_out_site(
    libraries: Sequence[Library],
    wordings: Mapping[str, Wording],
    figures: SiteFigures,
    sources: AssetSources,
    edition: Edition,
    *,
    site_parts: Sequence[SitePart] = (),
    wanted: Callable[[str], bool] = lambda _path: True,
) -> dict[str, bytes]:
    """The site's files by path, all of them made now; ``wanted`` may leave pages out, assets are always made."""
    pages = plan_site(libraries, wordings, figures, sources, edition, site_parts=site_parts)
    return {path: pages[path] for path in pages if path not in pages.tasks or wanted(path)}


def make_site(libraries: Sequence[Library], edition: Edition | None = None) -> dict[str, bytes]:
    """The files of a site; with all PDFs named, the second language not reviewed."""
    if edition is None:
        edition = Edition(version="2026-11-25.0a1b", pdfs=frozenset().union(*map(pdfs_of, libraries)),
                          unreviewed={library.language: frozenset({"everything"}) for library in libraries[1:]})
    wordings = {library.language: Wording(library.language) for library in libraries}
    return lay_out_site(libraries, wordings, Drawings(), asset_sources(), edition)


def two_languages() -> tuple[Library, Library]:
    """The small library and its mirror image."""
    library = a_library()
    mirrored = pseudo_library(library, MIRRORED)
    return library, mirrored


def write_site(files: Mapping[str, bytes], folder: Path) -> None:
    """The files on disk, and a small file in place of each PDF."""
    for path, data in files.items():
        target = folder / path
        target.parent.mkdir(parents=True, exist_ok=True)
        target.write_bytes(data)

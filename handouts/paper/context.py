"""What every document of one language, paper and type size is made from."""

from __future__ import annotations

from dataclasses import dataclass

from handouts.dose.progression import Progression, build_progression
from handouts.model import Library, Location
from handouts.paper.geometry import LARGE
from handouts.publication.figures import FigureSource
from handouts.site.context import EVERYTHING, Edition, missing_line
from handouts.site.old_sheets import sheet_address
from handouts.site.paths import item_page
from handouts.words.wording import Wording


@dataclass(frozen=True)
class PaperSetting:
    """One language on one paper in one type size."""

    library: Library
    wording: Wording
    figures: FigureSource
    edition: Edition
    stamped: bool
    """Whether a QR code opens its page at the version of the sheet."""
    paper: str
    """``letter`` or ``a4``."""
    size: str
    """``standard`` or ``large``."""
    locations: tuple[Location, ...]
    """The locations whose phone numbers stand on the sheet."""
    progression: Progression
    """The graph over all exercises."""
    has_unreviewed: bool
    """Whether any text of the language was translated and not read by a qualified person."""
    phones_apart: bool = True
    """Whether phone numbers stand in the foot of every page, and not among the cautions too."""
    codes_drawn: bool = True
    """Whether QR codes are drawn; else their addresses stand there, and the page's script draws those that are shown."""

    @property
    def language(self) -> str:
        """BCP 47 tag."""
        return self.library.language

    def on(self, paper: str, size: str) -> PaperSetting:
        """The same on another paper or in another type size."""
        return PaperSetting(
            self.library, self.wording, self.figures, self.edition, self.stamped, paper, size,
            self.locations, self.progression, self.has_unreviewed, self.phones_apart, self.codes_drawn,
        )  # fmt: skip

    def folded(self) -> PaperSetting:
        """The same for a booklet that is folded: halves of the paper, in large type, which is scaled to standard type there."""
        return self.on(f"{self.paper}-folded", LARGE)

    def address(self, page: str) -> str:
        """What a QR code opens: the page at a path in the site."""
        site = self.library.clinic.site
        site = site if site.endswith("/") else f"{site}/"
        return sheet_address(site, self.edition, page) if self.stamped else site + page

    def term(self, kind: str, slug: str) -> str:
        """The name of an entry of a closed list."""
        return self.library.term[kind][slug].name.text

    def page(self, kind: str, slug: str) -> str:
        """The path of the page that a document belongs to."""
        return item_page(self.language, kind, slug)

    def is_unreviewed(self, item: str) -> bool:
        """Whether a text of ``exercises/SLUG`` and the like was translated and not read by a qualified person.

        With no item, as for exercises that someone picked, whether any text of the language was.
        """
        unreviewed = self.edition.unreviewed.get(self.language, frozenset())
        return EVERYTHING in unreviewed or (item in unreviewed if item else self.has_unreviewed)

    def missing(self, item: str, tier: str = "") -> tuple[str, ...]:
        """What ``programmes/SLUG``, a step of it by its tier, or ``bundles/SLUG`` lacks in this language, and why; none where it is whole."""
        return tuple(filter(None, [missing_line(self.edition, self.wording, self.language, item, tier)]))


def locations_of(setting: PaperSetting) -> tuple[str, ...]:
    """Each location with its phone number."""
    return tuple(setting.wording.say("paper.location", name=each.name, phone=each.phone) for each in setting.locations)


def papers_of(library: Library) -> tuple[str, ...]:
    """The papers on which a library's sheets are made in its language."""
    clinic = library.clinic
    own = library.language == clinic.languages.source or clinic.languages.papers == "all"
    return clinic.papers if own else clinic.papers[:1]


def make_setting(
    library: Library,
    wording: Wording,
    figures: FigureSource,
    edition: Edition,
    *,
    stamped: bool = False,
    location: str = "",
    graph: Progression | None = None,
    has_unreviewed: bool | None = None,
) -> PaperSetting:
    """The setting of a library on the clinic's first paper and size; ``location`` keeps one location only.

    ``graph`` is the graph over all exercises, ``has_unreviewed`` as in a setting, where they are known.
    """
    clinic = library.clinic
    chosen = tuple(each for each in clinic.locations if each.slug == location)
    unreviewed = edition.unreviewed.get(library.language)
    return PaperSetting(
        library, wording, figures, edition.in_language(library.language), stamped,
        clinic.papers[0], clinic.type_sizes[0], chosen or clinic.locations, graph or build_progression(library),
        bool(unreviewed) if has_unreviewed is None else has_unreviewed,
    )  # fmt: skip

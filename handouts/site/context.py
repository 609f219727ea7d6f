"""What every page of one language is made from, and what is given from outside for a whole site."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from functools import cached_property
from typing import Any, Protocol

from handouts.dose.progression import Progression, build_progression
from handouts.ledger.entries import EXERCISE
from handouts.ledger.history import History
from handouts.limits import Finding
from handouts.model import Exercise, Library
from handouts.publication.figures import FigureSource
from handouts.site.assets import Assets
from handouts.tasks.calling import Caller, Reads, call_now
from handouts.words.wording import Wording

EVERYTHING = "everything"
"""In place of an item: the mark stands on every page of the language."""


class SiteFigures(FigureSource, Protocol):
    """Where figures come from, also as they move and as small pictures."""

    def motion(self, exercise: Exercise) -> Mapping[str, Any] | None:
        """How the end picture moves (``handouts.figure.motion_data``); None where nothing moves."""

    def panel_svg(self, exercise: Exercise) -> str:
        """One panel as an SVG document of its own, to be shown small beside the exercise's title."""


@dataclass(frozen=True, slots=True)
class OwnPast:
    """The versions of a language that keeps some things as they were."""

    versions: Mapping[str, str]
    history: History


@dataclass(frozen=True, slots=True, kw_only=True)
class Edition:
    """What a build knows beside the libraries."""

    version: str
    """Version stamp of the site as a whole."""
    versions: Mapping[str, str] = field(default_factory=dict)
    """Version stamps by item: ``exercises/SLUG``, ``programmes/SLUG``, ``bundles/SLUG``; else the site's."""
    pdfs: frozenset[str] = frozenset()
    """Paths of the PDFs that this build publishes, from the root of the site."""
    unreviewed: Mapping[str, frozenset[str]] = field(default_factory=dict)
    """By language the items (``exercises/SLUG`` …) with a text that no qualified person has reviewed.

    Their pages carry a mark, and so do the pages that list things; ``everything`` marks every page.
    """
    left_out: Mapping[str, Mapping[str, tuple[str, ...]]] = field(default_factory=dict)
    """By language and by ``programmes/SLUG`` or ``bundles/SLUG`` the exercises that are not in that language yet."""
    steps: Mapping[str, Mapping[str, tuple[str, ...]]] = field(default_factory=dict)
    """By ``programmes/SLUG`` and by exercise slug the tiers of the steps that it stands in, in the library's own language."""
    limits: Mapping[str, tuple[Finding, ...]] = field(default_factory=dict)
    """By exercise slug the movement limits that it may exceed."""
    previews: Mapping[str, str] = field(default_factory=dict)
    """By exercise slug the path of its picture for links that are shared."""
    call: Caller = field(default=call_now, repr=False, compare=False)
    """How small tasks are called: words of the search, codes."""
    reads: Reads = field(default_factory=Reads, repr=False, compare=False)
    """How tasks are called that are given a whole setting: parts of pages."""
    history: History = field(default_factory=History)
    """What was published before, what is overdue, what is held back."""
    older: Mapping[str, OwnPast] = field(default_factory=dict)
    """By language, where it keeps exercises in an older version."""
    apart: Mapping[str, Mapping[str, str]] = field(default_factory=dict)
    """By language and by slug the version of each exercise that is not the same version in all languages."""

    def in_language(self, language: str) -> Edition:
        """What holds in a language."""
        own = self.older.get(language)
        return replace(self, versions=own.versions, history=own.history, older={}) if own else self


def missing_line(edition: Edition, wording: Wording, language: str, item: str, tier: str = "") -> str:
    """What a programme or a bundle lacks in a language, and why; empty where it is whole.  For pages and for paper.

    With the ``tier`` of a step only what that step lacks, or what nobody knows the step of.
    """
    missing = edition.left_out.get(language, {}).get(item, ())
    if missing and tier:
        steps = edition.steps.get(item, {})
        missing = tuple(slug for slug in missing if tier in steps.get(slug, (tier,)))
    lapsed = {each.slug for each in edition.history.held_back if each.kind == EXERCISE}
    held_back = sum(slug in lapsed for slug in missing)
    counts = (("site.held_back", held_back), ("site.left_out", len(missing) - held_back))
    return " ".join(wording.count(phrase, count) for phrase, count in counts if count)


@dataclass(frozen=True)
class LanguageSite:
    """One language's site in the making."""

    library: Library
    source: Library
    """The library in the language it is written in."""
    wording: Wording
    edition: Edition
    assets: Assets
    panels: Mapping[str, str]
    """Path of each exercise's small figure, by slug."""
    figures: SiteFigures
    search_index: str
    """Path of the head of the language's search index, which names its slices."""
    names: Mapping[str, str]
    """Every language of the site with its name in itself, in order."""
    pages: frozenset[str]
    """Every page of the site, in all languages."""

    @cached_property
    def progression(self) -> Progression:
        """The graph over all exercises."""
        return build_progression(self.library)

    def is_unreviewed(self, item: str) -> bool:
        """Whether the page of an item, or with no item one that lists things, needs the mark."""
        unreviewed = self.edition.unreviewed.get(self.language, frozenset())
        return EVERYTHING in unreviewed or (item in unreviewed if item else self.has_unreviewed)

    @property
    def has_unreviewed(self) -> bool:
        """Whether any text of the language is without review."""
        return bool(self.edition.unreviewed.get(self.language))

    def missing_line(self, item: str) -> str:
        """What a programme or a bundle lacks in this language, and why; empty where it is whole."""
        return missing_line(self.edition, self.wording, self.language, item)

    @property
    def language(self) -> str:
        """BCP 47 tag."""
        return self.library.language

    def version_of(self, item: str) -> str:
        """The version stamp of ``exercises/SLUG`` and the like."""
        versions = self.edition.versions
        return versions[item] if item in versions else self.edition.version  # noqa: SIM401 - the version of all is read only where it is shown

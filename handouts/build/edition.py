"""What pages and sheets know of a build beside the libraries: stamps, PDFs, and what of each language is not as it should be."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from handouts.ledger.history import History
from handouts.ledger.stamp import stamps_of
from handouts.ledger.update import find_present
from handouts.model import Library
from handouts.paper.plan import plan_paths
from handouts.paper.two_languages import beside_paths
from handouts.site.context import Edition, OwnPast
from handouts.words.translate import Translation


def make_edition(translations: Sequence[Translation], stamps: Mapping[str, str], history: History, paper: bool) -> Edition:
    """What pages and sheets know of the build: stamps, PDFs, translations that are not reviewed or not whole."""
    published = {item.library.language: item for item in translations if item.library}
    older = {language: _own_past(item.older, history) for language, item in published.items() if item.older}
    kept = {each.slug for item in published.values() if item.library for each in item.library.exercises if each.older}
    libraries = [item.library for item in published.values() if item.library] if paper else []
    paths = [path for library in libraries for path in plan_paths(library)]
    for library in libraries[1:]:
        paths += beside_paths(library, libraries[0].language)
    return Edition(
        version=stamps[""],
        versions=stamps,
        pdfs=frozenset(paths),
        unreviewed={language: item.unreviewed for language, item in published.items()},
        left_out={language: _join(translations[0].left_out, item.left_out) for language, item in published.items()},
        steps=_steps_of(translations[0].library),
        history=history,
        older=older,
        apart={
            language: {slug: versions[f"exercises/{slug}"] for slug in sorted(kept)}
            for language in published
            if (versions := older[language].versions if language in older else stamps) and kept
        },
    )


def _steps_of(library: Library | None) -> dict[str, dict[str, tuple[str, ...]]]:
    """The tiers of each exercise, by programme."""
    found: dict[str, dict[str, tuple[str, ...]]] = {}
    for programme in library.programmes if library else ():
        steps = found[f"programmes/{programme.slug}"] = {}
        for tier in programme.tiers:
            steps.update({ref.slug: (*steps.get(ref.slug, ()), tier.tier.slug) for ref in tier.exercises})
    return found


def _own_past(library: Library, history: History) -> OwnPast:
    """Stamps and history as a language has them that keeps older versions."""
    stamps = stamps_of(library)
    return OwnPast(stamps, history.as_of(find_present(library, stamps, history.ledger)))


def _join(lapsed: Mapping[str, tuple[str, ...]], lacking: Mapping[str, tuple[str, ...]]) -> dict[str, tuple[str, ...]]:
    """What each programme and bundle lacks: what is held back in every language, and what is so in this one."""
    pages = dict.fromkeys((*lapsed, *lacking))
    return {page: tuple(dict.fromkeys((*lapsed.get(page, ()), *lacking.get(page, ())))) for page in pages}

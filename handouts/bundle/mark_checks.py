"""Problems of marks: names of a kind that share one, and doses of an exercise that look the same in old codes."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from handouts.bundle.catalogue import BUNDLE_MARK_DIGITS, NAME_MARK_DIGITS, make_catalogue, mark
from handouts.model import Dose, Library
from handouts.problems import Grade, Place, Problem


def check_marks(library: Library) -> tuple[Problem, ...]:
    """Problems for two names of a kind that share a mark, languages or bands for one: a code could not tell them apart."""
    clinic, found = library.clinic, []
    names: tuple[list[tuple[str, Place]], ...] = (
        [(tag, clinic.languages.at("also")) for tag in clinic.languages.all],
        [(place.slug, place.at("slug")) for place in clinic.locations],
        [(band.slug, band.at("slug")) for band in library.vocabulary.bands],
        [(cue.slug, cue.at("slug")) for cue in clinic.session_cues],
        [(pace.slug, pace.at("slug")) for pace in library.vocabulary.paces],
        [(occasion.slug, occasion.at("slug")) for occasion in library.vocabulary.occasions],
        [(item.slug, item.at("slug")) for item in library.vocabulary.substitutes],
    )
    bundles = [(bundle.slug, bundle.place) for bundle in library.bundles]
    for group, digits in (*((group, NAME_MARK_DIGITS) for group in names), (bundles, BUNDLE_MARK_DIGITS)):
        seen: dict[str, str] = {}
        for name, place in group:
            other = seen.setdefault(mark(name, digits), name)
            if other != name:
                what = f"'{name}' and '{other}' have the same mark in a bundle code"
                found.append(Problem(place, "same-mark", what, f"Give '{name}' another name."))
    return tuple(found)


def check_doses(library: Library, former: Mapping[str, Iterable[Dose]]) -> tuple[Problem, ...]:
    """Notices for an exercise two of whose doses, present and former, share a mark in codes of versions 1 and 2."""
    found = []
    for code, entry in make_catalogue(library, former).entries.items():
        if None in entry.marked.values():
            what = "two doses that this exercise has or had look the same in links and codes made before bundle code version 3"
            mend = "Those links are refused, so that none shows a wrong dose; another number in 'dose' opens them again."
            place = library.exercise[entry.slug].dose.place
            found.append(Problem(place, "same-dose-mark", f"{what} ({code})", mend, Grade.NOTICE))
    return tuple(found)

"""A library in another language: only what is whole in that language, and a list of what is not.

A programme or bundle shows only what is published and says what was left out.  Nothing ever falls
back to another language (``handouts.words.gates`` decides what passes).
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import Any

from handouts.dose.progression import keep_named
from handouts.model import Bundle, Exercise, Leaflet, Library, Programme, Vocabulary, Words
from handouts.problems import Grade, Problem
from handouts.tasks.calling import Caller, call_now
from handouts.words.catalogue import Catalogue
from handouts.words.directions import find_lost_directions
from handouts.words.gates import Gap, Gates, find_gaps, find_unreviewed
from handouts.words.glossary import Glossary
from handouts.words.messages import LISTS, Message, collect_messages, rewrite_library, search_words_owner
from handouts.words.older_versions import Published, find_older
from handouts.words.orders import find_other_orders
from handouts.words.own_interface import OwnInterface, own_path
from handouts.words.reviews import Reviews
from handouts.words.shipped import load_interface
from handouts.words.state import LanguageState, TextState, find_state


@dataclass(frozen=True)
class Translation:
    """A library in one language and what became of the rest."""

    library: Library | None
    """None where the language cannot be published at all."""
    gaps: tuple[Gap, ...] = ()
    left_out: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    """Exercises (slugs) missing from a published page, by ``programmes/SLUG`` or ``bundles/SLUG``."""
    unreviewed: frozenset[str] = frozenset()
    """Published pages with a text that no qualified person has reviewed: ``exercises/SLUG`` and so on."""
    problems: tuple[Problem, ...] = ()
    """Faults in translations, and a notice for each gap."""
    older: Library | None = None
    """The library in its own language as this translation has it, where exercises stand in an older version."""


def source_translation(library: Library) -> Translation:
    """The library in its own language: nothing is missing."""
    return Translation(library)


def find_unsaid(library: Library, language: str, own: OwnInterface | None = None, call: Caller = call_now) -> tuple[Problem, ...]:
    """The problems of a language in which the pages' own words are not whole; nothing is published in it.

    ``own`` are the phrases of a library with a catalogue of its own; its faults are named one by one, what is missing is counted.
    """
    found = load_interface(language, call).problems if own is None else own.problems
    count = sum(each.rule == "interface-missing" for each in found) or len(found)
    is_source = language == library.clinic.languages.source
    place = library.clinic.languages.at("source" if is_source else "also")
    what = f"the pages' own words are not whole in '{language}' ({count} are missing), so nothing is published in it"
    mend = f"Run 'handouts words interface {language}', translate {own_path(language)}, or take the language out."
    grade = Grade.ERROR if is_source else Grade.NOTICE
    faults = tuple(replace(each, grade=grade) for each in found if own is not None and each.rule not in ("interface-missing", "interface-language"))
    return (Problem(place, "interface-language", what, mend, grade), *faults) if count else ()


def translate_library(
    library: Library,
    catalogue: Catalogue,
    reviews: Reviews | None = None,
    glossary: Glossary | None = None,
    *,
    messages: Sequence[Message] = (),
    call: Caller = call_now,
) -> Translation:
    """The library in the language of a catalogue.

    ``messages`` are those of the library, where they are collected already; ``call`` asks about single texts.
    """
    state = find_state(messages or collect_messages(library), catalogue, reviews, glossary, call, library.language)
    gates = Gates(library, state)
    blocking = gates.reasons(("clinic", *(f"tier/{tier.slug}" for tier in library.tiers)))
    language = state.language
    if blocking:
        gap = Gap("language", language, language, blocking, library.clinic.place)
        return Translation(None, (gap,), problems=(*state.problems, _notice(gap, language)))
    kept = _Filter(gates, library).library_kept()
    left_out = _find_left_out(library, kept)
    gaps = (*find_gaps(gates), *_left_out_gaps(kept, left_out))
    made = replace(rewrite_library(kept, _Translate(state), notes=False), language=language, phrases={})
    lost = find_lost_directions(state, library.language, call)
    orders = find_other_orders(state)
    problems = (*state.problems, *lost, *orders, *(_notice(gap, language) for gap in gaps))
    return Translation(made, gaps, left_out, find_unreviewed(gates, kept), problems)


@dataclass(frozen=True, slots=True)
class _Translate:
    """Each message's translation."""

    state: LanguageState

    def __call__(self, message: Message) -> Words:
        report = self.state.by_key[message.key]
        if report.state is not TextState.USABLE or report.entry is None:
            raise LookupError(f"{message.context} passed a gate without a translation")
        return Words(report.entry.text, report.entry.place)


def keep_older(
    library: Library,
    catalogue: Catalogue,
    reviews: Reviews | None,
    glossary: Glossary | None,
    *,
    messages: Sequence[Message],
    published: Published,
    call: Caller = call_now,
) -> Translation | None:
    """The translation in which exercises stand in their last whole version; None where none has one."""
    older = find_older(library, messages, catalogue, published)
    if older is None:
        return None
    made = translate_library(older.library, older.catalogue, reviews, glossary, call=call)
    return replace(made, older=older.library)


def _find_left_out(library: Library, kept: Library) -> dict[str, tuple[str, ...]]:
    """The exercises that are missing from each published programme and bundle."""
    whole = {
        **{f"programmes/{item.slug}": item.exercise_slugs for item in library.programmes},
        **{f"bundles/{item.slug}": tuple(pick.exercise.slug for pick in item.picks) for item in library.bundles},
    }
    pages = [
        *(f"programmes/{item.slug}" for item in kept.programmes),
        *(f"bundles/{item.slug}" for item in kept.bundles),
    ]
    missing = {page: tuple(slug for slug in whole[page] if slug not in kept.exercise) for page in pages}
    return {page: slugs for page, slugs in missing.items() if slugs}


def _left_out_gaps(kept: Library, left_out: Mapping[str, tuple[str, ...]]) -> tuple[Gap, ...]:
    """A published programme or bundle that lacks exercises."""
    rows: list[tuple[str, Programme | Bundle]] = [
        *(("programme", item) for item in kept.programmes),
        *(("bundle", item) for item in kept.bundles),
    ]
    return tuple(
        Gap(kind, item.slug, str(item.title), (f"left out: {', '.join(slugs)}",), item.place)
        for kind, item in rows
        if (slugs := left_out.get(f"{kind}s/{item.slug}"))
    )


@dataclass(frozen=True)
class _Filter:
    """A library reduced to what passes the gates, still in its own language."""

    gates: Gates
    library: Library

    def library_kept(self) -> Library:
        """The reduced library."""
        gates, library = self.gates, self.library
        return replace(
            library,
            vocabulary=self._vocabulary(),
            cautions=tuple(item for item in library.cautions if gates.has(f"caution/{item.slug}")),
            limits=tuple(item for item in library.limits if gates.has(f"limit/{item.slug}")),
            conditions=tuple(item for item in library.conditions if gates.has(f"condition/{item.slug}")),
            exercises=tuple(self._exercise(item) for item in library.exercises if gates.has_exercise(item.slug)),
            programmes=tuple(self._programme(item) for item in library.programmes if not gates.programme_reasons(item)),
            bundles=tuple(self._bundle(item) for item in library.bundles if not gates.bundle_reasons(item)),
            tests=tuple(item for item in library.tests if not gates.standalone_reasons(item)),
            leaflets=tuple(map(self._leaflet, (item for item in library.leaflets if not gates.standalone_reasons(item)))),
            lessons=tuple(item for item in library.lessons if not gates.standalone_reasons(item)),
            classes=tuple(item for item in library.classes if not gates.standalone_reasons(item)),
        )

    def _vocabulary(self) -> Vocabulary:
        lists = self.library.vocabulary
        kept: dict[str, Any] = {
            name: tuple(term for term in getattr(lists, name) if self.gates.has(f"{name}/{term.slug}"))
            for name in LISTS
        }
        # search words are on no page: what a language lacks of them holds nothing back
        kept["search_words"] = tuple(each for each in lists.search_words if self.gates.has(search_words_owner(each)))
        # a part of them is offered too: each stands by itself
        kept["substitutes"] = tuple(each for each in lists.substitutes if self.gates.has(f"substitute/{each.slug}"))
        return replace(lists, **kept)

    def _exercise(self, exercise: Exercise) -> Exercise:
        return keep_named(exercise, self.gates.has_exercise)

    def _programme(self, programme: Programme) -> Programme:
        # a tier that has no exercise left stays, so that every step keeps its number and its condition
        tiers = (
            replace(tier, exercises=tuple(ref for ref in tier.exercises if self.gates.has_exercise(ref.slug)))
            for tier in programme.tiers
        )
        return replace(programme, tiers=tuple(tiers))

    def _leaflet(self, leaflet: Leaflet) -> Leaflet:
        """An advice sheet, without a programme that is not published."""
        programme = self.library.programme.get(leaflet.programme.slug) if leaflet.programme else None
        stays = programme is not None and not self.gates.programme_reasons(programme)
        return leaflet if stays else replace(leaflet, programme=None)

    def _bundle(self, bundle: Bundle) -> Bundle:
        """It with the exercises, tests and leaflets that are published."""
        gates, library = self.gates, self.library
        picks = tuple(pick for pick in bundle.picks if gates.has_exercise(pick.exercise.slug))
        tests, leaflets = (
            tuple(ref for ref in refs if ref.slug in {item.slug for item in items if not gates.standalone_reasons(item)})
            for refs, items in ((bundle.tests, library.tests), (bundle.leaflets, library.leaflets))
        )
        return replace(bundle, picks=picks, tests=tests, leaflets=leaflets)


def _notice(gap: Gap, language: str) -> Problem:
    subject = "the library" if gap.kind == "language" else f"the {gap.kind} '{gap.title}'"
    if gap.because[0].startswith("left out"):
        what = f"{subject} is not whole in '{language}' ({gap.because[0]})"
    else:
        what = f"{subject} is not published in '{language}' ({'; '.join(gap.because)})"
    mend = f"Collect, then translate and review it in words/{language}.po."
    return Problem(gap.place, "not-in-language", what, mend, Grade.NOTICE)

"""Names that refer to something, and names that must be unique."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping

from handouts.model import Bundle, Exercise, Programme, Record, Ref, Standalone, WholeStep, exercises_named
from handouts.problems import Place, Problem, suggest
from handouts.rules.question import Question


def check_vocabulary(question: Question) -> Iterator[Problem]:
    """Is every region, position, piece of equipment, purpose, band, pace and occasion declared in vocabulary.yaml?"""
    terms = question.library.term
    for exercise in question.library.exercises:
        asked = {
            "regions": exercise.regions,
            "positions": (exercise.position,),
            "equipment": exercise.equipment,
            "purposes": (exercise.purpose,),
            "bands": (exercise.dose.band,) if exercise.dose.band else (),
            "paces": (exercise.dose.pace_words,) if exercise.dose.pace_words else (),
            "occasions": (exercise.dose.occasion,) if exercise.dose.occasion else (),
        }
        for name, refs in asked.items():
            yield from _unknown(refs, terms[name], f"in '{name}' of vocabulary.yaml")
    for test in question.library.tests:
        yield from _unknown(test.equipment, terms["equipment"], "in 'equipment' of vocabulary.yaml")
    for plan in question.library.classes:
        yield from _unknown(plan.equipment, terms["equipment"], "in 'equipment' of vocabulary.yaml")
        yield from _unknown(plan.positions, terms["positions"], "in 'positions' of vocabulary.yaml")


def check_tiers(question: Question) -> Iterator[Problem]:
    """Is every tier declared in tiers.yaml?"""
    refs = [exercise.tier for exercise in question.library.exercises]
    refs += [tier.tier for programme in question.library.programmes for tier in programme.tiers]
    yield from _unknown(refs, question.library.tier, "in tiers.yaml")


def check_cautions(question: Question) -> Iterator[Problem]:
    """Is every caution that is named declared in cautions.yaml?"""
    library = question.library
    refs = [ref for exercise in library.exercises for ref in exercise.cautions]
    refs += [ref for programme in library.programmes for ref in programme.cautions]
    refs += [ref for bundle in library.bundles for ref in bundle.cautions]
    refs += [ref for item in library.all_standalones for ref in item.cautions]
    refs += [ref for terms in library.term.values() for term in terms.values() for ref in term.cautions]
    refs += [limit.caution for limit in library.limits if limit.caution]
    refs += [ref for item in library.conditions for rule in item.rules for ref in rule.cautions]
    yield from _unknown(refs, library.caution, "in cautions.yaml")


def check_exercises(question: Question) -> Iterator[Problem]:
    """Does every exercise that is named exist?"""
    library = question.library
    refs = [need for exercise in library.exercises for need in exercise.after if isinstance(need, Ref)]
    ways = (way for exercise in library.exercises for way in (*exercise.easier, *exercise.harder))
    refs += [way.exercise for way in ways if way.exercise]
    refs += [ref for programme in library.programmes for tier in programme.tiers for ref in tier.exercises]
    refs += [pick.exercise for bundle in library.bundles for pick in bundle.picks]
    refs += [ref for item in library.all_standalones for ref in exercises_named(item)]
    refs += [ref for words in library.vocabulary.search_words for ref in words.exercises]
    refs += [ref for item in library.conditions for rule in item.rules for ref in rule.exercises]
    readable = [ref for ref in refs if f"exercises/{ref.slug}" not in library.unread]
    under = library.base.library.exercise if library.base else {}
    left = [ref for ref in readable if ref.slug in under and ref.slug not in library.exercise]
    for ref in left:
        what = f"'{ref.slug}' is left out of this library, in clinic.yaml"
        yield Problem(ref.place, "unknown-name", what, "Take it out here, name another one, or take it out of 'left out'.")
    yield from _unknown((ref for ref in readable if ref not in left), library.exercise, "in exercises/")


def check_whole_steps(question: Question) -> Iterator[Problem]:
    """Does every step that must be mastered first exist in its programme?"""
    programmes = {programme.slug: programme for programme in question.library.programmes}
    for exercise in question.library.exercises:
        for need in exercise.after:
            if not isinstance(need, WholeStep):
                continue
            programme = programmes.get(need.programme.slug)
            yield from _unknown(_readable([need.programme], question), programmes, "in programmes/")
            if programme is not None:
                yield from _unknown([need.tier], {tier.tier.slug: tier for tier in programme.tiers}, f"in '{programme.slug}'")


def check_bundle_programmes(question: Question) -> Iterator[Problem]:
    """Does the programme that a bundle or an advice sheet names exist, and has it the tier that the bundle is for?"""
    library = question.library
    named = [item.programme for item in library.bundles if item.programme]
    named += [item.programme for item in library.leaflets if item.programme]
    yield from _unknown(_readable(named, question), library.programme, "in programmes/")
    for bundle in library.bundles:
        if bundle.tier is None:
            continue
        if bundle.programme is None:
            yield Problem(
                bundle.tier.place,
                "bundle-tier",
                f"the bundle is for the tier '{bundle.tier}', but names no programme",
                "Write the programme that the tier belongs to: 'programme: NAME'.",
            )
            continue
        programme = library.programme.get(bundle.programme.slug)
        known = {tier.tier.slug: tier for tier in programme.tiers} if programme else {}
        if programme and bundle.tier.slug not in known:
            yield Problem(
                bundle.tier.place,
                "bundle-tier",
                f"the programme '{programme.slug}' has no tier '{bundle.tier}'",
                suggest(bundle.tier.slug, known),
            )


def _readable(programmes: list[Ref], question: Question) -> list[Ref]:
    """The programmes but those whose file is there and could not be read."""
    return [ref for ref in programmes if f"programmes/{ref.slug}" not in question.library.unread]


def _unknown(refs: Iterable[Ref], known: Mapping[str, object], where: str) -> Iterator[Problem]:
    for ref in refs:
        if ref.slug not in known:
            yield Problem(ref.place, "unknown-name", f"'{ref.slug}' is not declared {where}", suggest(ref.slug, known))


def check_unique_codes(question: Question) -> Iterator[Problem]:
    """Is every code given once?"""
    library = question.library
    items: tuple[Exercise | Programme | Standalone, ...] = (*library.exercises, *library.programmes, *library.all_standalones)
    coded = [(item.code, item.at("code")) for item in items]
    yield from _repeated(
        coded, "repeated-code", "code", "Give one of them a code of its own; a printed code never moves."
    )


def check_unique_titles(question: Question) -> Iterator[Problem]:
    """Is every title of an exercise, a programme, a bundle and a test given once?"""
    library = question.library
    kinds: tuple[tuple[Exercise | Programme | Bundle | Standalone, ...], ...] = (
        library.exercises, library.programmes, library.bundles, *library.standalones.values(),
    )  # fmt: skip
    for items in kinds:
        titled = [(item.title.text.casefold(), item.at("title")) for item in items]
        yield from _repeated(titled, "repeated-title", "title", "Say in one of them how it differs.")


def check_unique_slugs(question: Question) -> Iterator[Problem]:
    """Is every name in tiers, cautions, limits, conditions, locations and the vocabulary declared once?"""
    library = question.library
    lists: list[tuple[Record, ...]] = [library.tiers, library.cautions, library.limits, library.conditions, library.clinic.locations]
    lists += [tuple(terms) for terms in vars(library.vocabulary).values() if isinstance(terms, tuple)]
    for items in lists:
        named = [(str(getattr(item, "slug", "")), item.at("slug")) for item in items]
        yield from _repeated(named, "repeated-name", "name", "Rename or delete one of them.")


def _repeated(named: list[tuple[str, Place]], rule: str, noun: str, mend: str) -> Iterator[Problem]:
    first: dict[str, Place] = {}
    for name, place in named:
        if name in first:
            yield Problem(place, rule, f"the {noun} '{name}' is given twice (first in {first[name]})", mend)
        first.setdefault(name, place)

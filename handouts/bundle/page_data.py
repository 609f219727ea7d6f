"""What the clinician's page knows of the library, as JSON; its shape: ``templates/scripts/src/bundle/book.js``.

Holds words in one language and addresses as seen from one page; computes nothing that the page computes itself.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from handouts.bundle.catalogue import BundleCatalogue, catalogue_json, cue_mark, given_codes, name_mark, pack_tempo
from handouts.bundle.condition_data import ConditionFound, condition_json
from handouts.bundle.fields import NAMES, changed_fields, show_span, sides_allowed
from handouts.bundle.origins import origins_json
from handouts.dose.arithmetic import COUNTED
from handouts.dose.progression import Progression
from handouts.dose.substitutes import has_numbers, name_substitute
from handouts.model import (
    Call,
    CautionKind,
    DoseChange,
    Exercise,
    Library,
    NextDose,
    Pick,
    Ref,
    Side,
    Span,
    Substitute,
    Tempo,
)
from handouts.publication.figures import FigureSource, mirrored_for
from handouts.publication.ready import criteria_json
from handouts.publication.reviews import say_review
from handouts.publication.scales import own_scale
from handouts.publication.steps import name_step_alone, name_step_in
from handouts.publication.views import cautions_by_kind
from handouts.text.markup import plain_text
from handouts.words.easier_harder import options_json
from handouts.words.phrases import phrase_ids
from handouts.words.wording import Wording

ROOMS = ("dose", "clinician", "paper", "steps")
"""Rooms whose phrases the page and its sheets say."""


@dataclass(frozen=True, slots=True)
class LimitPhaseFound:
    """A phase of a movement limit, and why each exercise reaches past it, by the exercise's slug."""

    name: str
    found: Mapping[str, str]
    named: Mapping[str, str] = field(default_factory=dict)
    """The same where the clinician names the side that is trained, as far as it is said in other words."""


@dataclass(frozen=True, slots=True)
class LimitFound:
    """A movement limit that can be ticked, with all that was computed for it in the reader's language."""

    slug: str
    name: str
    says: str
    source: str
    phases: tuple[LimitPhaseFound, ...]


@dataclass(frozen=True, slots=True)
class BookInputs:
    """What the book takes from the build beside the library."""

    stamps: Mapping[str, str]
    """Version stamps as from ``handouts.ledger.stamp.stamps_of``."""
    pictures: Mapping[str, str]
    """Address of each exercise's small figure, by slug."""
    pages: Mapping[str, str]
    """Address of each exercise's page, by slug."""
    unreviewed: frozenset[str] = frozenset()
    """Languages in which some text was not reviewed by a qualified person."""
    lacking: Mapping[str, frozenset[str]] = field(default_factory=dict)
    """By language the exercises, by slug, that are not published in it."""
    lost: Mapping[str, frozenset[str]] = field(default_factory=dict)
    """By language the programmes and ready-made bundles, as ``programme/SLUG`` or ``bundle/SLUG``, that are not published in it."""
    overdue: Mapping[str, str] = field(default_factory=dict)
    """By slug a line for each exercise whose review is over."""
    apart: Mapping[str, Mapping[str, str]] = field(default_factory=dict)
    """By language and by slug the version of each exercise that is not the same version in all languages."""
    mirrors: Mapping[str, str] = field(default_factory=dict)
    """By slug the side that an exercise's figure shows only when it is mirrored, where that side can be picked."""
    limits: tuple[LimitFound, ...] = ()
    """Only limits whose findings were computed: an unchecked limit is not offered."""
    conditions: tuple[ConditionFound, ...] = ()
    """What can be ticked to be asked about, with all that it touches."""
    handed: Mapping[str, tuple[str, str]] = field(default_factory=dict)
    """By code title and address of the tests and leaflets that can be handed over."""


def side_mirrored(exercise: Exercise, figures: FigureSource) -> Side | None:
    """The side that the figure shows only when it is mirrored; None where no side can be picked, or the figure tells none."""
    sides = sides_allowed(exercise.dose, exercise.dose_range)
    return mirrored_for(figures.shown_side(exercise)) if Side.ONE in sides else None


def caution_order(library: Library, kind: CautionKind) -> tuple[str, ...]:
    """Every caution of a kind in the order in which sheets show them: those with the emergency number first."""
    return tuple(caution.slug for caution in cautions_by_kind(library.cautions)[kind])


def next_json(rule: NextDose) -> dict[str, Any]:
    """The rule for the next dose: after how many sessions, and what is added by the field's name in a file."""
    steps = {NAMES[name]: value for name in (*COUNTED, "sets") if (value := getattr(rule, name)) is not None}
    return {"after": rule.sessions, "steps": steps}


def words_json(wording: Wording, rooms: Sequence[str], languages: Iterable[str]) -> dict[str, Any]:
    """The phrases of some rooms as they stand in a language, and the names of languages in it."""
    forms = wording.forms
    return {
        "language": wording.language,
        "forms": {name: dict(forms[name]) for name in phrase_ids(rooms)},
        **({"pounds": True} if wording.in_pounds else {}),
        "names": {tag: wording.name_of(tag) for tag in languages},
    }


def make_book(
    library: Library, catalogue: BundleCatalogue, progression: Progression, wording: Wording, around: BookInputs
) -> dict[str, Any]:
    """The book of one language."""
    clinic, term = library.clinic, library.term
    known = catalogue_json(catalogue)
    entries: Any = known["exercises"]
    code_of = {exercise.slug: exercise.code for exercise in library.exercises}
    shown = {
        exercise.code: entries[exercise.code]
        | _entry(exercise, library, progression, wording, code_of, around)
        | {"reviewed": _reviewed(exercise, wording), "step": name_step_alone(wording, library, exercise)}
        for exercise in library.exercises
    }
    asked = {ref.slug for exercise in library.exercises for ref in exercise.cautions}
    return known | {
        "exercises": shown,
        "language": library.language,
        "terms": {
            kind: {slug: item.name.text for slug, item in term[kind].items()} for kind in ("equipment", "bands", "positions", "paces", "occasions")
        },
        "cautions": {
            item.slug: {"when": plain_text(item.when.text), "do": plain_text(item.do.text)}
            for item in library.cautions
            if item.kind is CautionKind.ASK and item.slug in asked
        },
        "sourced": clinic.languages.source,
        "clinic": {
            "name": clinic.name,
            "site": clinic.site,
            "invented": clinic.invented,
            "locations": [{"slug": place.slug, "name": place.name} for place in clinic.locations],
            "bounds": [clinic.pain_bounds.fine, clinic.pain_bounds.less] if clinic.pain_bounds else [],
            "pain": plain_text(clinic.pain_rule.text),
            **({"effort": scale} if (scale := own_scale(clinic)) else {}),
            **({"next": next_json(clinic.next_dose)} if clinic.next_dose else {}),
        },
        "policy": {
            "exercises": clinic.session.exercises,
            "minutes": clinic.session.minutes,
            "change": clinic.session.change_seconds,
            "between": clinic.session.between_seconds,
        },
        "version": around.stamps.get("", ""),
        "tongues": [
            {
                "tag": tag,
                "name": wording.name_of(tag),
                "unreviewed": tag in around.unreviewed,
                "stamps": {code_of[slug]: stamp for slug, stamp in around.apart.get(tag, {}).items() if slug in code_of},
                "lacks": [code_of[slug] for slug in sorted(around.lacking.get(tag, ())) if slug in code_of],
                "lost": sorted(around.lost.get(tag, ())),
            }
            for tag in catalogue.languages.values()
        ],
        **({"growth": clinic.growth.percent} if clinic.growth else {}),
        "papers": list(clinic.papers),
        "sizes": list(clinic.type_sizes),
        "origins": origins_json(library, wording),
        "starts": [*_bundle_starts(library, code_of), *_tier_starts(library, code_of, wording)],
        "limits": [_limit(item, code_of) for item in around.limits],
        "floor": [item.slug for item in library.vocabulary.positions if item.level == "floor"],
        "substitutes": [
            substitute_json(item, library, wording)
            | ({"codes": [code_of[ref.slug] for ref in item.exercises if ref.slug in code_of]} if item.exercises else {})
            for item in library.vocabulary.substitutes
        ],
        "conditions": [condition_json(item, code_of) for item in around.conditions],
        "handed": {code: list(each) for code, each in around.handed.items()},
        "order": {kind.value: list(caution_order(library, kind)) for kind in CautionKind},
        "urgent": [item.slug for item in library.cautions if item.call is Call.EMERGENCY],
        "words": words_json(wording, ROOMS, catalogue.languages.values()),
    }


def _entry(
    exercise: Exercise,
    library: Library,
    progression: Progression,
    wording: Wording,
    code_of: Mapping[str, str],
    around: BookInputs,
) -> dict[str, Any]:
    slug = exercise.slug
    return {
        "title": plain_text(exercise.title.text),
        "picture": around.pictures.get(slug, ""),
        "page": around.pages.get(slug, ""),
        "stamp": around.stamps.get(f"exercises/{slug}", ""),
        "overdue": around.overdue.get(slug, ""),
        **({"mirror": around.mirrors[slug]} if slug in around.mirrors else {}),
        "criteria": criteria_json(exercise, library, wording),
        "whole": exercise.ready_when is None,
        "position": exercise.position.slug,
        "equipment": [ref.slug for ref in exercise.equipment],
        "easier": options_json(progression.easier[slug], exercise, library, wording),
        "harder": options_json(progression.harder[slug], exercise, library, wording),
        "after": [code_of[name] for name in progression.needs[slug]],
        "before": [code_of[name] for name in progression.before(slug)],
        **{
            kind.value: [ref.slug for ref in exercise.cautions if library.caution[ref.slug].kind is kind]
            for kind in CautionKind
        },
    }


def _reviewed(exercise: Exercise, wording: Wording) -> list[str]:
    """The day of the review, to compare, and the line that says it."""
    review, older = exercise.review, exercise.older
    if older:
        return [older.on.isoformat(), wording.say("upkeep.older", date=wording.date(older.on))]
    return [review.on.isoformat(), say_review(wording, review, "paper")]


def change_json(change: DoseChange | None) -> dict[str, Any]:
    """A change of a dose as the browser holds it."""
    return {field.name: _plain(getattr(change, field.attribute)) for field in changed_fields(change)}


def _plain(value: Any) -> Any:
    if isinstance(value, Span):
        return show_span(value)
    if isinstance(value, Side):
        return value.value
    if isinstance(value, Tempo):
        return pack_tempo(value)
    return value.slug if isinstance(value, Ref) else value


def _picks(picks: Iterable[Pick], code_of: Mapping[str, str]) -> list[dict[str, Any]]:
    return [
        {"code": code_of[pick.exercise.slug], "change": change_json(pick.change)}
        | ({"stages": [{"week": stage.week, "change": change_json(stage.change)} for stage in pick.stages]} if pick.stages else {})
        | ({"part": pick.part.value} if pick.part else {})
        | ({"substitutes": [name_mark(ref.slug) for ref in pick.substitutes]} if pick.substitutes else {})
        for pick in picks
        if pick.exercise.slug in code_of
    ]


def substitute_json(item: Substitute, library: Library, wording: Wording) -> dict[str, Any]:
    """What is taken in place of a thing, as pages have it: its mark in codes, its line, and whether it may differ from a dose."""
    return {
        "mark": name_mark(item.slug),
        "thing": item.thing.slug,
        "take": item.take.slug,
        "line": name_substitute(item, library, wording),
        **({"counts": True} if has_numbers(item) else {}),
    }


def _bundle_starts(library: Library, code_of: Mapping[str, str]) -> list[dict[str, Any]]:
    return [
        {"title": item.title.text, "group": "bundle", "weeks": item.weeks, "picks": _picks(item.picks, code_of),
         "origin": {"kind": "bundle", "slug": item.slug, "step": 0}} | ({"cue": cue_mark(item.cue)} if item.cue else {})
        | ({"roundRest": item.round_rest_seconds} if item.round_rest_seconds else {})
        | ({"given": list(given)} if (given := given_codes(item, library)) else {})
        for item in library.bundles
    ]


def _tier_starts(library: Library, code_of: Mapping[str, str], wording: Wording) -> list[dict[str, Any]]:
    return [
        {
            "title": name_step_in(wording, library, programme, rank, plain_text(programme.title.text)),
            "group": "tier",
            "weeks": 0,
            "picks": [{"code": code_of[ref.slug], "change": {}} for ref in tier.exercises if ref.slug in code_of],
            "origin": {"kind": "programme", "slug": programme.slug, "step": rank + 1},
        }
        for programme in library.programmes
        for rank, tier in enumerate(programme.tiers)
    ]


def _limit(limit: LimitFound, code_of: Mapping[str, str]) -> dict[str, Any]:
    return {
        "slug": limit.slug,
        "name": limit.name,
        "says": limit.says,
        "source": limit.source,
        "phases": [
            {
                "name": phase.name,
                "found": {code_of[slug]: text for slug, text in phase.found.items() if slug in code_of},
                "named": {code_of[slug]: text for slug, text in phase.named.items() if slug in code_of},
            }
            for phase in limit.phases
        ],
    }

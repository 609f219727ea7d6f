"""What the patient's page knows of the library before any exercise is opened; its shape: ``phone/book.js``.

Small on purpose: codes, doses, titles and addresses.  What only one exercise needs is in ``details``.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from typing import Any

from handouts.bundle.catalogue import catalogue_json, make_catalogue
from handouts.bundle.origins import origins_json
from handouts.bundle.page_data import side_mirrored, substitute_json
from handouts.bundle.past import catalogue_with_past
from handouts.model import CautionKind, Clinic, Exercise, Library
from handouts.phone.details import plain
from handouts.publication.ready import criteria_json, ready_words
from handouts.publication.scales import own_scale
from handouts.publication.views import cautions_by_kind
from handouts.rules.lapsed import last_day
from handouts.site.context import LanguageSite
from handouts.site.handed import handed_out
from handouts.site.page_frame import phone_link
from handouts.words.easier_harder import options_json
from handouts.words.phrases import phrase_ids
from handouts.words.wording import Wording

_ID = re.compile(r'"((?:phone|dose|site|steps)\.[a-z0-9_]+)"')
_BUILT = re.compile(r"`(dose\.[^`]*)`")
_GAP = re.compile(r"\$\{[^}]*\}")


def phrases_used(script: str) -> tuple[str, ...]:
    """The phrases that a bundled script may say: those it names, and those of the doses whose names it builds."""
    named = set(_ID.findall(script))
    built = [re.compile(".*".join(re.escape(part) for part in _GAP.split(each))) for each in _BUILT.findall(script)]
    return tuple(
        name
        for name in phrase_ids(("phone", "site", "dose", "steps"))
        if name in named or (any(each.fullmatch(name) for each in built) and not name.startswith(("dose.span_", "dose.word_")))
    )


def words_for(wording: Wording, names: Iterable[str]) -> dict[str, Any]:
    """Phrases as the browser's voice takes them."""
    forms = wording.forms
    unit = {"pounds": True} if wording.in_pounds else {}
    return {"language": wording.language, **unit, "forms": {name: dict(forms[name]) for name in names}, "names": {}}


def make_book(setting: LanguageSite, places: Mapping[str, Mapping[str, str]]) -> dict[str, Any]:
    """The book of one language, as far as the list needs it at once; ``places`` holds by slug the address ``picture``."""
    library, clinic = setting.library, setting.library.clinic
    known = catalogue_json(catalogue_with_past(library, setting.edition.history))
    for name in ("cues", "serving", "given"):
        del known[name]  # read with what waits for a tap
    entries: Any = known["exercises"]
    shown = {
        exercise.code: {key: value for key, value in entries[exercise.code].items() if key not in ("slug", "marked")}
        | _entry(exercise, setting)
        | {"picture": places[exercise.slug]["picture"]}
        for exercise in library.exercises
    }
    return known | {
        "exercises": shown,
        "language": setting.language,
        "terms": {
            kind: {slug: term.name.text for slug, term in library.term[kind].items()}
            for kind in ("equipment", "bands", "positions", "paces", "occasions")
        },
        "stops": {
            item.slug: {"when": plain(item.when), "do": plain(item.do), "call": item.call.value}
            for item in cautions_by_kind(library.cautions)[CautionKind.STOP]
        },
        "signs": _signs(library),
        "origins": origins_json(library, setting.wording),
        "clinic": _clinic(clinic),
        "policy": {"change": clinic.session.change_seconds, "between": clinic.session.between_seconds},
    }


def _entry(exercise: Exercise, setting: LanguageSite) -> dict[str, Any]:
    library, mirror = setting.library, side_mirrored(exercise, setting.figures)
    return ({"mirror": mirror.value} if mirror else {}) | {
        "title": plain(exercise.title),
        "position": exercise.position.slug,
        "equipment": [ref.slug for ref in exercise.equipment],
        "stop": [ref.slug for ref in exercise.cautions if library.caution[ref.slug].kind is CautionKind.STOP],
        "until": str(last_day(library, f"exercises/{exercise.slug}")),
    }


def make_later(setting: LanguageSite, places: Mapping[str, Mapping[str, str]]) -> dict[str, Any]:
    """By code what the book lacks of each exercise: what waits for a tap or reads an old code, with the addresses ``words`` and ``figure``."""
    entries: Any = catalogue_json(catalogue_with_past(setting.library, setting.edition.history))["exercises"]
    return {
        exercise.code: _later(exercise, setting)
        | {"marked": entries[exercise.code]["marked"]}
        | {name: places[exercise.slug][name] for name in ("words", "figure")}
        for exercise in setting.library.exercises
    }


def make_plan_words(setting: LanguageSite, page: str) -> dict[str, Any]:
    """What only codes of later versions need: after how many sessions a stage is easy, and what goes into the book.

    There, by mark or code: what the session can hang on, what is taken in place of things, and what is handed over beside, as seen from ``page``.
    """
    library = setting.library
    known = catalogue_json(make_catalogue(library))
    book = {name: known[name] for name in ("cues", "serving", "given")}
    substitutes = [substitute_json(item, library, setting.wording) for item in library.vocabulary.substitutes]
    return {"after": library.clinic.sessions_easy, "book": {**book, "substitutes": substitutes, "handed": handed_out(setting, page)}}


def _later(exercise: Exercise, setting: LanguageSite) -> dict[str, Any]:
    library = setting.library
    return {
        "after": [library.exercise[slug].code for slug in setting.progression.needs[exercise.slug]],
        "step": "",
        "easier": options_json(setting.progression.easier[exercise.slug], exercise, library, setting.wording),
        "ready": plain(ready) if (ready := ready_words(exercise, library, setting.wording)) else "",
        "criteria": criteria_json(exercise, library, setting.wording),
        "whole": exercise.ready_when is None,
    }


def easier_exercises(setting: LanguageSite, slug: str) -> tuple[str, ...]:
    """The other exercises that are easier ways to do one."""
    return tuple(option.slug for option in setting.progression.easier[slug] if option.slug)


def _signs(library: Library) -> dict[str, list[str]]:
    """The conditions of programmes and bundles under which to ask first or to take care; stop rules stand among the stops."""
    refs = [ref for item in library.programmes for ref in item.cautions]
    refs += [ref for item in library.bundles for ref in item.cautions]
    cautions = (library.caution[ref.slug] for ref in refs)
    return {item.slug: [plain(item.when), plain(item.do)] for item in cautions if item.kind is not CautionKind.STOP}


def _clinic(clinic: Clinic) -> dict[str, Any]:
    return {
        "name": clinic.name,
        "pain": plain(clinic.pain_rule),
        **({"effort": scale} if (scale := own_scale(clinic)) else {}),
        "bounds": [clinic.pain_bounds.fine, clinic.pain_bounds.less] if clinic.pain_bounds else [],
        "emergency": {"number": clinic.emergency.number, "call": phone_link(clinic.emergency.number)},
        "locations": {
            place.slug: {"name": place.name, "phone": place.phone, "call": phone_link(place.phone)}
            for place in clinic.locations
        },
    }

"""What a search engine may read of a page: schema.org's MedicalWebPage with an ExercisePlan in it.

JSON-LD in a ``script`` element of the type ``application/ld+json``: data, which no browser runs, so that
the page's policy stays as it is.  Says nothing that the page does not say.
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from typing import Any

from markupsafe import Markup

from handouts.dose.arithmetic import add_up
from handouts.dose.phrase import dose_names, effort_line, frequency_line, rest_line
from handouts.model import Exercise, Programme, Review
from handouts.site.context import LanguageSite
from handouts.site.parts import dose_of, term_names
from handouts.site.paths import item_page
from handouts.text.markup import plain_text

CONTEXT = "https://schema.org"


def exercise_data(setting: LanguageSite, exercise: Exercise) -> Markup:
    """The data of an exercise's page."""
    wording, dose = setting.wording, exercise.dose
    page = item_page(setting.language, "exercises", exercise.slug)
    seconds = add_up(dose).seconds
    plan = {
        "@type": "ExercisePlan",
        "name": plain_text(exercise.title.text),
        "description": plain_text(exercise.why.text),
        "exerciseType": term_names(setting, "purposes", [exercise.purpose])[0],
        "repetitions": dose.reps,
        "activityFrequency": frequency_line(dose, wording, dose_names(dose, setting.library)),
        "activityDuration": f"PT{round(seconds)}S" if seconds is not None else None,
        "intensity": effort_line(dose.effort, wording),
        "restPeriods": rest_line(dose, wording),
        "additionalVariable": dose_of(setting, dose),
        "identifier": exercise.code,
    }
    return _write(_page(setting, page, exercise.title.text, exercise.why.text, None if exercise.older else exercise.review, plan))


def programme_data(setting: LanguageSite, programme: Programme) -> Markup:
    """The data of a programme's page."""
    page = item_page(setting.language, "programmes", programme.slug)
    plan = {
        "@type": "ExercisePlan",
        "name": plain_text(programme.title.text),
        "description": plain_text(programme.goal.text),
        "activityDuration": f"P{programme.weeks}W",
        "identifier": programme.code,
    }
    return _write(_page(setting, page, programme.title.text, programme.goal.text, programme.review, plan))


def _page(
    setting: LanguageSite, page: str, title: str, description: str, review: Review | None, plan: Mapping[str, Any]
) -> dict[str, Any]:
    clinic = setting.library.clinic
    publisher = {"@type": "Organization", "name": clinic.name, "url": clinic.site}
    return {
        "@context": CONTEXT,
        "@type": "MedicalWebPage",
        "url": clinic.site + page,
        "name": plain_text(title),
        "description": plain_text(description),
        "inLanguage": setting.language,
        "lastReviewed": review.on.isoformat() if review else "",
        "reviewedBy": {"@type": "Organization", "name": review.of} if review and review.of else publisher,
        "publisher": publisher,
        "audience": {"@type": "MedicalAudience", "audienceType": "Patient"},
        "version": setting.version_of(f"{page.split('/')[1]}/{page.split('/')[2]}"),
        "disambiguatingDescription": setting.wording.say("site.mark_invented") if clinic.invented else "",
        "mainEntity": {name: value for name, value in plan.items() if value not in (None, "")},
    }


def _write(data: Mapping[str, Any]) -> Markup:
    """JSON that cannot end its element: no ``<`` stands in it."""
    kept = {name: value for name, value in data.items() if value != ""}
    text = json.dumps(kept, ensure_ascii=False, separators=(",", ":"))
    return Markup(text.replace("<", "\\u003c"))
